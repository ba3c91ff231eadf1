#include "smoke.h"

#include <math.h>

DW_LAW(smoky_below, "aer_s", "primary aeration below which a rich flame is called smoky", "", "judgement",
       (double weighted, double carbon), weighted / carbon)

double dw_smoke_limit(const dw_data *data, const dw_fuel *fuel, const char *keys, dw_working *w)
{
    const dw_species_table *table = &data->species;
    const dw_sooting *rule = &data->sooting;
    double share[DW_SPECIES_MAX], carbon[DW_SPECIES_MAX], limit[DW_SPECIES_MAX], sum = 0.0, all = 0.0;
    const char *name[DW_SPECIES_MAX];
    size_t rows = 0;
    for (size_t i = 0; i < table->count; i++) {
        const double *atoms = table->species[i].atoms;
        if (!(fuel->x[i] > 0.0 && atoms[DW_C] > 0.0 && atoms[DW_H] > 0.0)) continue;
        name[rows] = table->species[i].name;
        share[rows] = fuel->x[i];
        carbon[rows] = atoms[DW_C];
        limit[rows] = isnan(rule->primary_aeration_of[i]) ? rule->primary_aeration_below : rule->primary_aeration_of[i];
        sum += share[rows] * carbon[rows] * limit[rows];
        all += share[rows] * carbon[rows];
        rows++;
    }
    const double value = rows > 0 ? smoky_below(sum, all) : rule->primary_aeration_below;
    if (w == NULL) return value;
    if (rows == 0) {
        dw_work_put(w, DW_WORK_DATA, "aer_any", "general limit of primary aeration", "", value);
        dw_work_step_is(w, keys, "aer_s", "the same of this fuel, which holds no carbon with hydrogen", "", "aer_any",
                        value, "judgement");
        return value;
    }
    dw_work_table_begin(w, "When a rich flame smokes", "gas of the fuel", rows);
    for (size_t i = 0; i < rows; i++) dw_work_row(w, i, "%s", name[i]);
    dw_work_column(w, DW_WORK_INPUT, "y_f", "share of the fuel, by moles", "", share);
    dw_work_column(w, DW_WORK_DATA, "n_C", "atoms of carbon", "", carbon);
    dw_work_column(w, DW_WORK_DATA, "aer_f", "primary aeration below which its flame is called smoky", "", limit);
    dw_law_write(w, keys, "weighted>sum(y_f*n_C*aer_f) carbon>sum(y_f*n_C)", NULL, &smoky_below_law, value);
    return value;
}

bool dw_smokes(const dw_sooting *rule, double aeration_limit, double equivalence_ratio, double primary_aeration,
               double gas_temperature_k)
{
    if (!(gas_temperature_k > rule->chamber_temperature_above_k)) return false;
    return equivalence_ratio >= rule->phi_always ||
           (equivalence_ratio >= rule->phi_at_least && primary_aeration < aeration_limit);
}
