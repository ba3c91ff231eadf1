#include "sweep.h"

#include <stdlib.h>

dw_status dw_sweep_run(const dw_model *model, const dw_kiln *kiln, const dw_sweep *sweep)
{
    if (model == NULL || kiln == NULL || sweep == NULL || sweep->put == NULL ||
        sweep->take == NULL || sweep->axis_count < 1 || sweep->axis_count > 2) {
        return DW_ERR_ARG;
    }
    const size_t rows = sweep->length[0];
    const size_t columns = sweep->axis_count == 2 ? sweep->length[1] : 1;
    for (size_t a = 0; a < sweep->axis_count; a++) {
        if (sweep->axis[a] == NULL || sweep->length[a] == 0) return DW_ERR_ARG;
    }
    /* A result is some ten kilobytes and a kiln too: not for the stack of a caller's thread. */
    struct work {
        dw_kiln kiln;
        dw_result result;
    } *work = malloc(sizeof *work);
    if (work == NULL) return DW_ERR_NOMEM;

    dw_status status = DW_OK;
    int stop = 0;
    for (size_t i = 0; i < rows && !stop && status == DW_OK; i++) {
        for (size_t j = 0; j < columns && !stop; j++) {
            const double values[2] = {sweep->axis[0][i],
                                      sweep->axis_count == 2 ? sweep->axis[1][j] : 0.0};
            work->kiln = *kiln;
            sweep->put(sweep->user, values, &work->kiln);
            /* Not solved is an answer too: it is in the result, with the reason. */
            status = dw_operating_point(model, &work->kiln, &work->result);
            if (status == DW_ERR_NO_CONVERGE || status == DW_ERR_DOMAIN) status = DW_OK;
            if (status != DW_OK) break;
            stop = sweep->take(sweep->user, i * columns + j, values, &work->result);
        }
    }
    free(work);
    return status;
}
