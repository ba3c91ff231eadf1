#include "axes.h"

#include <stdlib.h>

#include "diag.h"
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

dw_status dw_axes_read(const dw_case *kiln, const dw_vary *vary, size_t count,
                       dw_diag_list *diag, dw_axes *axes)
{
    *axes = (dw_axes){.count = count, .total = 1};
    if (vary == NULL || count < 1 || count > DW_AXES_MAX) return DW_ERR_ARG;
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
    return DW_OK;
}

void dw_axes_free(dw_axes *axes)
{
    for (size_t i = 0; i < DW_AXES_MAX; ++i) {
        free(axes->value[i]);
        axes->value[i] = NULL;
    }
}

void dw_axes_put(const dw_axes *axes, size_t index, dw_kiln *kiln, double *value)
{
    for (size_t i = axes->count; i-- > 0; index /= axes->length[i]) {
        value[i] = axes->value[i][index % axes->length[i]];
        dw_kiln_field_put(&axes->field[i], kiln, value[i]);
    }
}
