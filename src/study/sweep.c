#include "sweep.h"

#include <stdbool.h>
#include <stdlib.h>

size_t dw_sweep_count(const dw_sweep *sweep)
{
    size_t count = 1;
    for (size_t i = 0; i < sweep->axis_count; ++i) count *= sweep->length[i];
    return count;
}

void dw_sweep_values(const dw_sweep *sweep, size_t index, double values[DW_SWEEP_AXIS_MAX])
{
    for (size_t i = sweep->axis_count; i-- > 0; index /= sweep->length[i]) {
        values[i] = sweep->axis[i][index % sweep->length[i]];
    }
}

static bool is_sweep(const dw_sweep *s)
{
    if (s->point == NULL || (s->kiln == NULL) != (s->put == NULL)) return false;
    if (s->axis_count < 1 || s->axis_count > DW_SWEEP_AXIS_MAX) return false;
    for (size_t i = 0; i < s->axis_count; ++i) {
        if (s->axis[i] == NULL || s->length[i] == 0) return false;
    }
    return true;
}

dw_status dw_sweep_run(const dw_sweep *sweep, size_t *done)
{
    if (sweep == NULL || done == NULL || !is_sweep(sweep)) return DW_ERR_ARG;
    *done = 0;
    /* A kiln is some ten kilobytes: not for the stack of a caller's thread. */
    dw_kiln *kiln = sweep->kiln != NULL ? malloc(sizeof *kiln) : NULL;
    if (sweep->kiln != NULL && kiln == NULL) return DW_ERR_NOMEM;

    const size_t total = dw_sweep_count(sweep);
    dw_status status = DW_OK;
    bool stop = false;
    while (*done < total && !stop) {
        double values[DW_SWEEP_AXIS_MAX];
        dw_sweep_values(sweep, *done, values);
        if (kiln != NULL) {
            *kiln = *sweep->kiln;
            sweep->put(sweep->user, values, kiln);
        }
        status = sweep->point(sweep->user, values, kiln);
        if (status != DW_OK) break;
        ++*done;
        stop = sweep->progress != NULL &&
               sweep->progress(sweep->progress_user, *done, total) != 0;
    }
    free(kiln);
    return status;
}
