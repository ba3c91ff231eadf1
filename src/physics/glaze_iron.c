#include "glaze_iron.h"

#include <math.h>
#include <stddef.h>

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

double dw_melt_oxide_molar_mass_kg_mol(dw_melt_oxide oxide)
{
    return oxides[oxide].molar_mass_kg_mol;
}

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
        melt->x[i] = mass[i] / oxides[i].molar_mass_kg_mol / sum;
    }
    return DW_OK;
}

double dw_kress_ferric_ratio_low(const dw_melt *melt, double temperature_k, double log10_po2_bar)
{
    if (melt == NULL || !(temperature_k > 0.0)) return NAN;
    const double *x = melt->x;
    return exp(0.196 * log(10.0) * log10_po2_bar + 11492.0 / temperature_k - 6.675 -
               2.243 * x[DW_MELT_AL2O3] - 1.828 * x[DW_MELT_FEO] + 3.201 * x[DW_MELT_CAO] +
               5.854 * x[DW_MELT_NA2O] + 6.215 * x[DW_MELT_K2O]);
}

double dw_kress_ferric_ratio(const dw_melt *melt, double temperature_k, double log10_po2_bar,
                             double pressure_pa_abs)
{
    const double t = temperature_k, t0 = 1673.0, p = pressure_pa_abs;
    if (!(t > 0.0) || !(p >= 0.0)) return NAN;
    const double more = -3.36 * (1.0 - t0 / t - log(t / t0)) - 7.01e-7 * p / t -
                        1.54e-10 * (t - t0) * p / t + 3.85e-17 * p * p / t;
    return dw_kress_ferric_ratio_low(melt, t, log10_po2_bar) * exp(more);
}

double dw_borisov_ferric_ratio(const dw_melt *melt, double temperature_k, double log10_po2_bar)
{
    if (melt == NULL || !(temperature_k > 0.0)) return NAN;
    const double *x = melt->x, si = x[DW_MELT_SIO2];
    return pow(10.0, 0.207 * log10_po2_bar + 4633.3 / temperature_k - 0.445 * si -
                         0.900 * x[DW_MELT_TIO2] + 1.532 * x[DW_MELT_MGO] +
                         0.314 * x[DW_MELT_CAO] + 2.030 * x[DW_MELT_NA2O] +
                         3.355 * x[DW_MELT_K2O] - 4.851 * x[DW_MELT_P2O5] -
                         3.081 * si * x[DW_MELT_AL2O3] - 4.370 * si * x[DW_MELT_MGO] - 1.852);
}

double dw_ferrous_share_from_fe2o3(double ratio)
{
    return 1.0 / (1.0 + 2.0 * ratio);
}

double dw_ferrous_share_from_feo15(double ratio)
{
    return 1.0 / (1.0 + ratio);
}

dw_status dw_glaze_iron_at(const dw_melt *melt, double temperature_k, double log10_po2_bar,
                           double pressure_pa_abs, dw_glaze_iron *iron)
{
    if (iron == NULL) return DW_ERR_ARG;
    *iron = (dw_glaze_iron){NAN, NAN, NAN, NAN};
    if (melt == NULL || !isfinite(temperature_k) || !isfinite(log10_po2_bar) ||
        !isfinite(pressure_pa_abs)) {
        return DW_ERR_ARG;
    }
    if (!(temperature_k >= DW_GLAZE_IRON_FROM_K && temperature_k <= DW_GLAZE_IRON_TO_K) ||
        !(melt->x[DW_MELT_FEO] > 0.0) || !(pressure_pa_abs >= 0.0)) {
        return DW_ERR_DOMAIN;
    }
    const double kress = dw_ferrous_share_from_fe2o3(
        dw_kress_ferric_ratio(melt, temperature_k, log10_po2_bar, pressure_pa_abs));
    const double borisov = dw_ferrous_share_from_feo15(
        dw_borisov_ferric_ratio(melt, temperature_k, log10_po2_bar));
    *iron = (dw_glaze_iron){
        .kress_share = kress,
        .borisov_share = borisov,
        .low_share = fmax(fmin(kress, borisov) - DW_GLAZE_IRON_SPREAD, 0.0),
        .high_share = fmin(fmax(kress, borisov) + DW_GLAZE_IRON_SPREAD, 1.0),
    };
    return DW_OK;
}
