#include "axes.h"

#include <stdlib.h>

#include "diag.h"
#include "kiln_typed.h"
#include "vary_range.h"

static dw_status read_axis(dw_axes *axes, size_t i, const dw_case *kiln, const dw_vary *vary,
                           dw_diag_list *diag)
{
    dw_kiln_field *field = &axes->field[i];
    if (vary->path == NULL || vary->range == NULL) return DW_ERR_ARG;
    dw_status status = dw_kiln_field_find(&kiln->file.kiln, vary->path, diag, field);
    if (status != DW_OK) return status;
    char message[DW_VARY_MESSAGE_SIZE];
    status = dw_vary_range_parse(vary->range, field->dim, field->low, field->high,
                                 &axes->value[i], &axes->length[i], message);
    if (status == DW_ERR_INPUT) {
        dw_diag_add(diag, DW_ERROR, "bad-range", (dw_place){"--vary", 0, 0}, "'%.100s=%.100s': %s",
                    vary->path, vary->range, message);
    }
    if (status != DW_OK) return status;
    field->unit = dw_vary_range_unit(vary->range, field->dim);
    axes->shown[i] = (dw_sweep_axis){field, axes->value[i], axes->length[i]};
    if (axes->length[i] > DW_VARY_POINT_MAX / axes->total) {
        dw_diag_add(diag, DW_ERROR, "too-many-points", (dw_place){"--vary", 0, 0},
                    "%zu times %zu points are too many; allowed: at most %d in all",
                    axes->total, axes->length[i], DW_VARY_POINT_MAX);
        return DW_ERR_INPUT;
    }
    axes->total *= axes->length[i];
    return DW_OK;
}

/* The kilns at the ends of every axis. */
enum { CORNER_MAX = 1 << DW_SWEEP_AXIS_MAX };

typedef struct corners {
    size_t count;
    dw_kiln *kiln; /* owned */
    const dw_kiln *list[CORNER_MAX];
} corners;

static dw_status make_corners(const dw_axes *axes, const dw_kiln *as_read, corners *out)
{
    out->count = (size_t)1 << axes->count;
    out->kiln = malloc(out->count * sizeof *out->kiln);
    if (out->kiln == NULL) return DW_ERR_NOMEM;
    for (size_t c = 0; c < out->count; ++c) {
        out->kiln[c] = *as_read;
        for (size_t i = 0; i < axes->count; ++i) {
            const size_t at = (c >> i & 1U) != 0 ? axes->length[i] - 1 : 0;
            dw_kiln_field_put(&axes->field[i], &out->kiln[c], axes->value[i][at]);
        }
        out->list[c] = &out->kiln[c];
    }
    return DW_OK;
}

static dw_status axes_reach(const dw_axes *axes, const dw_case *kiln, dw_diag_list *diag)
{
    corners at;
    dw_status status = make_corners(axes, &kiln->file.kiln, &at);
    for (size_t i = 0; i < axes->count && status == DW_OK; ++i) {
        status = dw_kiln_field_reaches(&axes->field[i], at.list, at.count, diag);
    }
    free(at.kiln);
    return status;
}

dw_status dw_case_overrides(const dw_case *kiln, const dw_vary *vary, size_t vary_count,
                            dw_diag_list *diag)
{
    if (kiln == NULL || (vary == NULL && vary_count > 0)) return DW_ERR_ARG;
    const dw_kiln *as_read = &kiln->file.kiln;
    if (vary_count == 0) return dw_kiln_overrides(&kiln->file, &as_read, 1, diag);
    /* What is wrong with a range is said by the question that uses it. */
    dw_axes axes;
    dw_status status = dw_axes_read(kiln, vary, vary_count, NULL, &axes);
    if (status == DW_OK) {
        corners at;
        status = make_corners(&axes, as_read, &at);
        if (status == DW_OK) status = dw_kiln_overrides(&kiln->file, at.list, at.count, diag);
        free(at.kiln);
    } else if (status == DW_ERR_INPUT) {
        status = DW_OK;
    }
    dw_axes_free(&axes);
    return status;
}

dw_status dw_axes_read(const dw_case *kiln, const dw_vary *vary, size_t count,
                       dw_diag_list *diag, dw_axes *axes)
{
    *axes = (dw_axes){.count = count, .total = 1};
    if (vary == NULL || count < 1 || count > DW_SWEEP_AXIS_MAX) return DW_ERR_ARG;
    for (size_t i = 0; i < count; ++i) {
        const dw_status status = read_axis(axes, i, kiln, &vary[i], diag);
        if (status != DW_OK) return status;
    }
    if (count == 2 && axes->field[0].place_count > 0 && axes->field[1].place_count > 0 &&
        axes->field[0].offset[0] == axes->field[1].offset[0]) {
        dw_diag_add(diag, DW_ERROR, "same-quantity", (dw_place){"--vary", 0, 0},
                    "'%.100s' and '%.100s' are the same quantity; the two --vary need different "
                    "ones",
                    vary[0].path, vary[1].path);
        return DW_ERR_INPUT;
    }
    return axes_reach(axes, kiln, diag);
}

void dw_axes_free(dw_axes *axes)
{
    for (size_t i = 0; i < DW_SWEEP_AXIS_MAX; ++i) {
        free(axes->value[i]);
        axes->value[i] = NULL;
    }
}

void dw_axes_put(const dw_axes *axes, const double *values, dw_kiln *kiln)
{
    for (size_t i = 0; i < axes->count; ++i) dw_kiln_field_put(&axes->field[i], kiln, values[i]);
}

dw_sweep dw_axes_sweep(const dw_axes *axes)
{
    dw_sweep sweep = {.axis_count = axes->count};
    for (size_t i = 0; i < axes->count; ++i) {
        sweep.axis[i] = axes->value[i];
        sweep.length[i] = axes->length[i];
    }
    return sweep;
}

dw_status dw_axes_case(const dw_axes *axes, const double *values, const dw_case *kiln, dw_case **at)
{
    dw_case *copy = malloc(sizeof *copy);
    *at = copy;
    if (copy == NULL) return DW_ERR_NOMEM;
    *copy = *kiln;
    dw_axes_put(axes, values, &copy->file.kiln);
    for (size_t i = 0; i < axes->count; ++i) dw_typed_put(&copy->file, &axes->field[i]);
    copy->resolved = copy->file.kiln;
    dw_kiln_resolve(&copy->resolved);
    return DW_OK;
}
