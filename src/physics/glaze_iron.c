#include "glaze_iron.h"

#include <math.h>
#include <stddef.h>

/* Molar masses from rounded standard atomic masses. */
static const struct {
    const char *name;
    double molar_mass_kg_mol;
} oxides[DW_MELT_OXIDE_COUNT] = {
    [DW_MELT_SIO2] = {"SiO2", 0.060084},  [DW_MELT_TIO2] = {"TiO2", 0.079866},
    [DW_MELT_AL2O3] = {"Al2O3", 0.101961}, [DW_MELT_FEO] = {"FeO", 0.071844},
    [DW_MELT_MNO] = {"MnO", 0.070937},    [DW_MELT_MGO] = {"MgO", 0.040304},
    [DW_MELT_CAO] = {"CaO", 0.056077},    [DW_MELT_NA2O] = {"Na2O", 0.061979},
    [DW_MELT_K2O] = {"K2O", 0.094196},    [DW_MELT_P2O5] = {"P2O5", 0.141944},
};

const char *dw_melt_oxide_name(dw_melt_oxide oxide)
{
    return oxides[oxide].name;
}

DW_LAW(mole_share, "x_o", "share by moles", "", "definition", (double y_o, double M_o, double n_o),
       y_o / M_o / n_o)

dw_status dw_melt_from_mass(const double mass[DW_MELT_OXIDE_COUNT], dw_melt *melt)
{
    if (melt == NULL) return DW_ERR_ARG;
    for (int i = 0; i < DW_MELT_OXIDE_COUNT; i++) melt->x[i] = NAN;
    if (mass == NULL) return DW_ERR_ARG;
    double sum = 0.0;
    for (int i = 0; i < DW_MELT_OXIDE_COUNT; i++) {
        if (!isfinite(mass[i])) return DW_ERR_ARG;
        if (mass[i] < 0.0) return DW_ERR_DOMAIN;
        sum += mass[i] / oxides[i].molar_mass_kg_mol;
    }
    if (!(sum > 0.0)) return DW_ERR_DOMAIN;
    for (int i = 0; i < DW_MELT_OXIDE_COUNT; i++) {
        melt->x[i] = mole_share(mass[i], oxides[i].molar_mass_kg_mol, sum);
    }
    return DW_OK;
}

/* What each oxide counts in the two formulas [kress1991, borisov2018]. */
static const double kress_weight[DW_MELT_OXIDE_COUNT] = {
    [DW_MELT_AL2O3] = -2.243, [DW_MELT_FEO] = -1.828, [DW_MELT_CAO] = 3.201,
    [DW_MELT_NA2O] = 5.854,   [DW_MELT_K2O] = 6.215};
static const double borisov_weight[DW_MELT_OXIDE_COUNT] = {
    [DW_MELT_SIO2] = -0.445, [DW_MELT_TIO2] = -0.900, [DW_MELT_MGO] = 1.532,
    [DW_MELT_CAO] = 0.314,   [DW_MELT_NA2O] = 2.030,  [DW_MELT_K2O] = 3.355,
    [DW_MELT_P2O5] = -4.851};

DW_LAW(kress, "r_K", "ferric / ferrous iron, Fe2O3/FeO", "", "kress1991",
       (double T_gas, double lg_pO2, double weights, double p_air),
       exp(0.196 * log(10.0) * lg_pO2 + 11492.0 / T_gas - 6.675 + weights -
           3.36 * (1.0 - 1673.0 / T_gas - log(T_gas / 1673.0)) - 7.01e-7 * p_air / T_gas -
           1.54e-10 * (T_gas - 1673.0) * p_air / T_gas + 3.85e-17 * pow(p_air, 2.0) / T_gas))
DW_LAW(borisov, "r_B", "ferric / ferrous iron, FeO1.5/FeO", "", "borisov2018",
       (double T_gas, double lg_pO2, double weights, double x_SiO2, double x_Al2O3, double x_MgO),
       pow(10.0, 0.207 * lg_pO2 + 4633.3 / T_gas - 1.852 + weights - 3.081 * x_SiO2 * x_Al2O3 -
                     4.370 * x_SiO2 * x_MgO))
DW_LAW(kress_share, "fe_K", "ferrous share by Kress and Carmichael", "", "definition", (double r_K),
       1.0 / (1.0 + 2.0 * r_K))
DW_LAW(borisov_share, "fe_B", "ferrous share by Borisov and others", "", "definition", (double r_B),
       1.0 / (1.0 + r_B))
DW_LAW(low_end, "fe_low", "ferrous share by both, each with its spread: lower end", "",
       "glaze-iron-checks", (double fe_K, double fe_B, double spread),
       fmax(fmin(fe_K, fe_B) - spread, 0.0))
DW_LAW(high_end, "fe_high", "to", "", "glaze-iron-checks", (double fe_K, double fe_B, double spread),
       fmin(fmax(fe_K, fe_B) + spread, 1.0))

static double weighted(const dw_melt *melt, const double weight[DW_MELT_OXIDE_COUNT])
{
    double sum = 0.0;
    for (int i = 0; i < DW_MELT_OXIDE_COUNT; i++) sum += weight[i] * melt->x[i];
    return sum;
}

double dw_kress_ferric_ratio(const dw_melt *melt, double temperature_k, double log10_po2_bar,
                             double pressure_pa_abs)
{
    if (melt == NULL || !(temperature_k > 0.0) || !(pressure_pa_abs >= 0.0)) return NAN;
    return kress(temperature_k, log10_po2_bar, weighted(melt, kress_weight), pressure_pa_abs);
}

double dw_borisov_ferric_ratio(const dw_melt *melt, double temperature_k, double log10_po2_bar)
{
    if (melt == NULL || !(temperature_k > 0.0)) return NAN;
    const double *x = melt->x;
    return borisov(temperature_k, log10_po2_bar, weighted(melt, borisov_weight), x[DW_MELT_SIO2],
                   x[DW_MELT_AL2O3], x[DW_MELT_MGO]);
}

dw_status dw_glaze_iron_at(const dw_melt *melt, double temperature_k, double log10_po2_bar,
                           double pressure_pa_abs, dw_glaze_iron *iron)
{
    if (iron == NULL) return DW_ERR_ARG;
    *iron = (dw_glaze_iron){NAN, NAN, NAN, NAN, NAN, NAN};
    if (melt == NULL || !isfinite(temperature_k) || !isfinite(log10_po2_bar) ||
        !isfinite(pressure_pa_abs)) {
        return DW_ERR_ARG;
    }
    if (!(temperature_k >= DW_GLAZE_IRON_FROM_K && temperature_k <= DW_GLAZE_IRON_TO_K) ||
        !(melt->x[DW_MELT_FEO] > 0.0) || !(pressure_pa_abs >= 0.0)) {
        return DW_ERR_DOMAIN;
    }
    const double r_kress =
        dw_kress_ferric_ratio(melt, temperature_k, log10_po2_bar, pressure_pa_abs);
    const double r_borisov = dw_borisov_ferric_ratio(melt, temperature_k, log10_po2_bar);
    const double fe_kress = kress_share(r_kress), fe_borisov = borisov_share(r_borisov);
    *iron = (dw_glaze_iron){
        .kress_ratio = r_kress,
        .borisov_ratio = r_borisov,
        .kress_share = fe_kress,
        .borisov_share = fe_borisov,
        .low_share = low_end(fe_kress, fe_borisov, DW_GLAZE_IRON_SPREAD),
        .high_share = high_end(fe_kress, fe_borisov, DW_GLAZE_IRON_SPREAD),
    };
    return DW_OK;
}

/* ---- working ------------------------------------------------------------------------------ */

void dw_melt_write(dw_working *w, const char *title, const double mass[DW_MELT_OXIDE_COUNT],
                   const dw_melt *melt)
{
    double molar_mass[DW_MELT_OXIDE_COUNT];
    dw_work_table_begin(w, title, "oxide", DW_MELT_OXIDE_COUNT);
    for (size_t i = 0; i < DW_MELT_OXIDE_COUNT; i++) {
        dw_work_row(w, i, "%s", oxides[i].name);
        molar_mass[i] = oxides[i].molar_mass_kg_mol;
    }
    dw_work_column(w, DW_WORK_INPUT, "y_o", "share by mass", "", mass);
    dw_work_column(w, DW_WORK_DATA, "M_o", "molar mass", "kg/mol", molar_mass);
    dw_work_column(w, DW_WORK_DATA, "k_K", "weight of each oxide in the formula of Kress and "
                                           "Carmichael", "", kress_weight);
    dw_work_column(w, DW_WORK_DATA, "k_B", "weight of each oxide in the formula of Borisov and "
                                           "others", "", borisov_weight);
    dw_work_step_is(w, "", "n_o", "moles of oxides in a kilogram", "mol/kg", "sum(y_o/M_o)", NAN,
                    "definition");
    dw_law_column(w, "", NULL, NULL, &mole_share_law, melt->x);
    static const dw_melt_oxide alone[] = {DW_MELT_SIO2, DW_MELT_AL2O3, DW_MELT_MGO};
    for (size_t i = 0; i < sizeof alone / sizeof alone[0]; i++) {
        const char *name = oxides[alone[i]].name;
        dw_work_put(w, DW_WORK_STEP, dw_work_keepf(w, "x_%s", name),
                    dw_work_keepf(w, "x_o of %s, from the table", name), "", melt->x[alone[i]]);
    }
}

void dw_glaze_iron_write(dw_working *w, const dw_glaze_iron *iron, const dw_glaze_iron_shown *shown)
{
    const char *oxygen = shown->oxygen, *where = shown->where;
    const char *spread = dw_work_keepf(w, "spread>%g", DW_GLAZE_IRON_SPREAD);
    dw_law_write(w, "", dw_work_keepf(w, "lg_pO2>%s weights>sum(k_K*x_o)", oxygen),
                 dw_work_keepf(w, "%s%s", kress_law.meaning, where), &kress_law, iron->kress_ratio);
    dw_law_write(w, shown->kress_keys, NULL, dw_work_keepf(w, "%s%s", kress_share_law.meaning, where),
                 &kress_share_law, iron->kress_share);
    dw_law_write(w, "", dw_work_keepf(w, "lg_pO2>%s weights>sum(k_B*x_o)", oxygen),
                 dw_work_keepf(w, "%s%s", borisov_law.meaning, where), &borisov_law,
                 iron->borisov_ratio);
    dw_law_write(w, shown->borisov_keys, NULL,
                 dw_work_keepf(w, "%s%s", borisov_share_law.meaning, where), &borisov_share_law,
                 iron->borisov_share);
    if (shown->low_keys != NULL) {
        dw_law_write(w, shown->low_keys, spread, shown->low, &low_end_law, iron->low_share);
    }
    if (shown->high_keys != NULL) {
        dw_law_write(w, shown->high_keys, spread, shown->high, &high_end_law, iron->high_share);
    }
}
