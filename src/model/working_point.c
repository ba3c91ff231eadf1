#include "working_point.h"

#include <math.h>
#include <stdlib.h>

#include "working_steps.h"

const dw_flow *dw_work_flow(const dw_work_point *p, dw_flow_kind kind, int index)
{
    for (int i = 0; i < p->result->flow_count; i++) {
        const dw_flow *f = &p->result->flow[i];
        if (f->kind == kind && f->index == index) return f;
    }
    return NULL;
}

const char *dw_work_flow_key(const dw_work_point *p, dw_flow_kind kind, int index,
                             const char *field)
{
    const dw_flow *f = dw_work_flow(p, kind, index);
    if (f == NULL) return "";
    return dw_work_keepf(p->w, "flows.%d.%s", (int)(f - p->result->flow), field);
}

double dw_work_enthalpy_j_mol(const dw_work_point *p, int species, double temperature_k)
{
    double h;
    if (species < 0 ||
        dw_species_standard_state(&p->model->data->species.species[species], temperature_k, NULL,
                                  &h, NULL) != DW_OK) {
        return NAN;
    }
    return h;
}

dw_status dw_working_point(const dw_model *model, const dw_kiln *kiln, dw_working *w,
                           dw_result *result)
{
    dw_solved *solved = malloc(sizeof *solved);
    if (solved == NULL) return DW_ERR_NOMEM;
    dw_status status = dw_operating_point_solved(model, kiln, solved, result);
    if (status == DW_OK) {
        const dw_work_point p = {w, model, kiln, solved, result};
        dw_work_air(&p);
        dw_work_fuel(&p);
        dw_work_chamber(&p);
        dw_work_burners(&p);
        dw_work_openings(&p);
        dw_work_flues(&p);
        dw_work_stack(&p);
        dw_work_flows(&p);
        dw_work_gas(&p);
        dw_work_oxygen(&p);
        dw_work_oxides(&p);
        dw_work_heat(&p);
        dw_work_slopes(&p);
        status = dw_working_status(w);
    }
    free(solved);
    return status;
}
