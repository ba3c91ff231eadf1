#include "ware.h"

#include <math.h>
#include <string.h>

#include "unmixedness.h"
#include "oxygen.h"
#include "ware_gas.h"

/* ---- forms -------------------------------------------------------------------------------- */

static void find_metal(const dw_oxide_table *table, int index, const dw_ware *ware,
                       dw_ware_metal *metal)
{
    const double t = ware->temperature_k;
    metal->known = dw_oxide_state_at(table, index, t, ware->mean.log10_po2_bar, &metal->mean) ==
                   DW_OK;
    metal->lean = metal->rich = metal->mean;
    metal->mixed = false;
    if (!metal->known || !ware->has_parcels) return;
    metal->known =
        dw_oxide_state_at(table, index, t, ware->lean.log10_po2_bar, &metal->lean) == DW_OK &&
        dw_oxide_state_at(table, index, t, ware->rich.log10_po2_bar, &metal->rich) == DW_OK;
    metal->mixed = metal->lean.form != metal->rich.form;
}

/* ---- windows ------------------------------------------------------------------------------ */

static dw_ware_fit fit_of(bool form_fits, bool other_fits, bool has_other)
{
    if (has_other && form_fits != other_fits) return DW_FIT_NEAR;
    return form_fits ? DW_FIT_YES : DW_FIT_NO;
}

static dw_ware_fit fit_form(const dw_window *window, const dw_oxide_state *state)
{
    const bool reduced = window->need == DW_WARE_REDUCED_TO;
    const int form = window->form;
    return fit_of(reduced ? state->form >= form : state->form <= form,
                  reduced ? state->other >= form : state->other <= form, state->other >= 0);
}

/* Half the band in oxygen is the band in a ratio: oxygen goes with its square. */
static dw_ware_fit fit_ratio(double ratio, double wanted, double band_log10)
{
    const double off = log10(ratio / wanted);
    if (fabs(off) <= 0.5 * band_log10) return DW_FIT_NEAR;
    return off > 0.0 ? DW_FIT_YES : DW_FIT_NO;
}

/* All parcels or none of them; otherwise in part. */
static dw_ware_fit fit_together(dw_ware_fit mean, dw_ware_fit lean, dw_ware_fit rich)
{
    return mean == lean && mean == rich ? mean : DW_FIT_NEAR;
}

static dw_ware_fit fit_window(const dw_data *data, const dw_window *window, int soot,
                              const dw_ware *ware)
{
    switch (window->need) {
    case DW_WARE_REDUCED_TO:
    case DW_WARE_OXIDIZED_TO: {
        const dw_ware_metal *metal = &ware->metal[window->metal];
        if (!metal->known) return DW_FIT_UNKNOWN;
        return fit_together(fit_form(window, &metal->mean), fit_form(window, &metal->lean),
                            fit_form(window, &metal->rich));
    }
    case DW_WARE_H2_H2O: {
        const double band = data->oxides.band_log10, wanted = window->h2_h2o_ratio;
        const dw_ware_fit mean = fit_ratio(ware->h2_h2o_ratio, wanted, band);
        if (!ware->has_parcels) return mean;
        /* The ratio goes with the square root of the oxygen. */
        const double lean = pow(10.0, 0.5 * (ware->mean.log10_po2_bar - ware->lean.log10_po2_bar));
        const double rich = pow(10.0, 0.5 * (ware->mean.log10_po2_bar - ware->rich.log10_po2_bar));
        return fit_together(mean, fit_ratio(lean * ware->h2_h2o_ratio, wanted, band),
                            fit_ratio(rich * ware->h2_h2o_ratio, wanted, band));
    }
    case DW_WARE_SOOT: return soot < 0 ? DW_FIT_UNKNOWN : soot ? DW_FIT_YES : DW_FIT_NO;
    case DW_WARE_NOTHING: break;
    }
    return DW_FIT_NOT_ASKED;
}

void dw_ware_states(const dw_data *data, int soot, dw_ware *ware)
{
    for (int i = 0; i < data->oxides.metal_count; i++) {
        find_metal(&data->oxides, i, ware, &ware->metal[i]);
    }
    for (size_t i = 0; i < data->window_count; i++) {
        const dw_window *window = &data->window[i];
        const double t = ware->temperature_k;
        ware->window[i].heat = t < window->from_k  ? DW_HEAT_BELOW
                               : t > window->to_k ? DW_HEAT_ABOVE
                                                  : DW_HEAT_WITHIN;
        ware->window[i].fit = fit_window(data, window, soot, ware);
    }
}

/* ---- with and without a kiln -------------------------------------------------------------- */

static void empty(dw_ware *ware, double temperature_k, double pressure_pa_abs)
{
    const dw_ware_gas none = {NAN, NAN, NAN, NAN};
    memset(ware, 0, sizeof *ware);
    ware->temperature_k = temperature_k;
    ware->pressure_pa_abs = pressure_pa_abs;
    ware->mean = ware->lean = ware->rich = ware->richest = ware->primary = none;
    ware->z_richest_from = NAN;
    ware->probe_emf_v = ware->co_co2_ratio = ware->h2_h2o_ratio = NAN;
}

/* What follows from the oxygen of the mean gas alone. */
static dw_status follow_oxygen(const dw_model *model, dw_ware *ware)
{
    dw_oxygen_ratio constants;
    const dw_status status = dw_oxygen_ratio_at(&model->gases, ware->temperature_k, &constants);
    if (status != DW_OK) return status;
    const double log10_po2 = ware->mean.log10_po2_bar;
    ware->co_co2_ratio = dw_co_co2_from_oxygen(&constants, log10_po2);
    ware->h2_h2o_ratio = dw_h2_h2o_from_oxygen(&constants, log10_po2);
    ware->probe_emf_v = dw_probe_emf_v(log10_po2, ware->temperature_k, ware->pressure_pa_abs);
    ware->given = true;
    return DW_OK;
}

dw_status dw_ware_at(const dw_model *model, double temperature_k, double pressure_pa_abs,
                     double log10_po2_bar, dw_ware *ware)
{
    if (ware == NULL) return DW_ERR_ARG;
    empty(ware, temperature_k, pressure_pa_abs);
    if (model == NULL || !isfinite(log10_po2_bar) || !(pressure_pa_abs > 0.0)) return DW_ERR_ARG;
    ware->mean.log10_po2_bar = log10_po2_bar;
    const dw_status status = follow_oxygen(model, ware);
    if (status != DW_OK) return status;
    dw_ware_states(model->data, -1, ware);
    return DW_OK;
}

DW_LAW(burner_share, "z_b", "share of fuel in gas and burner air alone", "", "definition",
       (double aer, double need), 1.0 / (1.0 + aer * need))

const dw_law *const dw_burner_share_law = &burner_share_law;

dw_status dw_ware_of_point(const dw_model *model, const dw_kiln *kiln, const dw_result *result,
                           dw_ware *ware)
{
    if (ware == NULL) return DW_ERR_ARG;
    empty(ware, NAN, NAN);
    if (model == NULL || kiln == NULL || result == NULL || !result->solved) return DW_ERR_ARG;

    dw_kiln resolved = *kiln;
    dw_kiln_resolve(&resolved);
    dw_network net;
    dw_reactants reactants;
    char reason[DW_REASON_SIZE];
    if (dw_network_init(&net, model, &resolved, reason) != DW_OK ||
        dw_reactants_init(&reactants, &net) != DW_OK ||
        net.gas_temperature_k != result->gas_temperature_k) {
        return DW_ERR_DOMAIN;
    }
    empty(ware, result->gas_temperature_k, net.pressure_pa_abs);
    if (!isfinite(result->log10_po2_bar)) return DW_OK;

    dw_ware_mixer mixer;
    dw_status status = dw_ware_mixer_init(&mixer, model, &reactants, result->gas_temperature_k,
                                          resolved.settings.unmixedness);
    if (status != DW_OK) return status;
    const double z = dw_result_fuel_share(result);
    ware->mean = (dw_ware_gas){z, result->equivalence_ratio, result->log10_po2_bar,
                               result->carbon_activity};
    status = dw_ware_parcels(&mixer, z, ware);
    if (status != DW_OK) return status;
    double z_richest;
    status = dw_mixture_richest(z, mixer.spread, DW_WARE_RICHEST_SHARE, &ware->z_richest_from,
                                &z_richest);
    if (status == DW_OK) status = dw_ware_gas_at(&mixer, z_richest, &ware->richest);
    if (status != DW_OK) return status;
    if (result->primary_aeration > 0.0) {
        status = dw_ware_gas_at(
            &mixer, burner_share(result->primary_aeration, mixer.stoichiometric_kg_kg), &ware->primary);
        if (status != DW_OK) return status;
    }
    status = follow_oxygen(model, ware);
    if (status != DW_OK) return status;
    dw_ware_states(model->data, result->sooting, ware);
    return DW_OK;
}
