#include "working_steps.h"

#include <math.h>

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
