#include "working_point.h"

#include <math.h>
#include <stdlib.h>

#include "working_steps.h"

dw_status dw_working_point_solved(const dw_model *model, const dw_kiln *kiln, dw_work_extent extent,
                                  dw_working *w, dw_solved *solved, dw_result *result)
{
    const dw_status status = dw_operating_point_solved(model, kiln, solved, result);
    if (status != DW_OK) return status;
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
    if (extent >= DW_WORK_TO_OXYGEN) dw_work_oxygen(&p);
    if (extent >= DW_WORK_TO_THE_END) {
        dw_work_oxides(&p);
        dw_work_heat(&p);
        dw_work_slopes(&p);
    }
    return dw_working_status(w);
}

dw_status dw_working_point(const dw_model *model, const dw_kiln *kiln, dw_working *w,
                           dw_result *result)
{
    dw_solved *solved = malloc(sizeof *solved);
    if (solved == NULL) return DW_ERR_NOMEM;
    const dw_status status =
        dw_working_point_solved(model, kiln, DW_WORK_TO_THE_END, w, solved, result);
    free(solved);
    return status;
}

dw_status dw_working_before_flows(const dw_model *model, const dw_kiln *kiln, dw_working *w,
                                  dw_solved *solved)
{
    char reason[DW_REASON_SIZE];
    solved->kiln = *kiln;
    dw_kiln_resolve(&solved->kiln);
    if (dw_network_init(&solved->net, model, &solved->kiln, reason) != DW_OK ||
        dw_reactants_init(&solved->reactants, &solved->net) != DW_OK) {
        return DW_ERR_DOMAIN;
    }
    dw_result *result = calloc(1, sizeof *result);
    if (result == NULL) return DW_ERR_NOMEM;
    result->stoichiometric_air_kg_kg = solved->reactants.stoichiometric_kg_kg;
    const dw_work_point p = {w, model, kiln, solved, result};
    dw_work_drop_keys(w);
    dw_work_air(&p);
    dw_work_fuel(&p);
    dw_work_rename_keys(w, NULL, 0);
    free(result);
    dw_work_section(w, "The temperature of the gas");
    dw_work_put(w, DW_WORK_INPUT, "T_tc", "thermocouple reading", "K",
                solved->kiln.operating.chamber_temperature_k);
    dw_work_put(w, DW_WORK_INPUT, "dT", "how much hotter the gas is than the reading", "K",
                solved->kiln.settings.gas_minus_reading_dk);
    dw_work_step_is(w, "temperature_k", "T_gas", "temperature of the gas at the ware", "K",
                    "T_tc + dT", solved->net.gas_temperature_k, "definition");
    const dw_quench quench = dw_quench_of(&solved->kiln.settings);
    (void)dw_frozen_both(solved->net.gas_temperature_k, quench, "composition_temperature_k",
                         "composition_temperature_rich_k", w);
    return dw_working_status(w);
}
