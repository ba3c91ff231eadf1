/* What the gas means for the ware: parcels, mixed states, windows, carbon, glazes. */

#include <string.h>

#include "check.h"
#include "kit.h"
#include "oxygen.h"
#include "solved_point.h"
#include "ware_detail.h"
#include "ware_gas.h"

static dw_kiln_file file;
static dw_result result;
static dw_ware ware;

static void solve(const char *example, double damper_open, double temperature_c)
{
    kit_example(example, &file);
    for (int i = 0; i < file.kiln.flue_count; i++) file.kiln.flue[i].damper.open_frac = damper_open;
    file.kiln.operating.chamber_temperature_k = temperature_c + 273.15;
    assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &result), DW_OK);
    assert_int_equal(dw_ware_of_point(kit_model(), &file.kiln, &result, &ware), DW_OK);
}

static int metal(const char *name)
{
    return dw_metal_find(&kit_data()->oxides, name);
}

static const dw_window *window(const char *subject, const char *stage, const dw_ware_window **here)
{
    const dw_data *data = kit_data();
    for (size_t i = 0; i < data->window_count; i++) {
        if (strcmp(data->window[i].subject, subject) == 0 &&
            strcmp(data->window[i].stage, stage) == 0) {
            *here = &ware.window[i];
            return &data->window[i];
        }
    }
    fail_msg("no window %s, %s", subject, stage);
    return NULL;
}

static void rich_gas_has_one_state(void **state)
{
    (void)state;
    solve("oxides-rushlight-hill", 0.38, 1265.0);
    assert_true(result.equivalence_ratio > 1.06);
    assert_true(ware.given);
    assert_false(ware.has_parcels);
    assert_close(ware.mean.log10_po2_bar, result.log10_po2_bar, 0.0, 0.0);
    assert_close(ware.probe_emf_v, result.probe_emf_v, 1e-12, 0.0);
    const dw_ware_metal *iron = &ware.metal[metal("iron")], *copper = &ware.metal[metal("copper")];
    assert_true(iron->known && !iron->mixed);
    assert_int_equal(iron->mean.form, 2);
    assert_int_equal(iron->lean.form, 2);
    assert_int_equal(copper->mean.form, 2);
    /* Between mean and primary mixture, in order of richness. */
    assert_true(ware.richest.equivalence_ratio > ware.mean.equivalence_ratio);
    assert_close(ware.primary.equivalence_ratio, 1.0 / result.primary_aeration, 1e-12, 0.0);
    assert_true(ware.mean.carbon_activity < ware.richest.carbon_activity);
    assert_true(ware.richest.carbon_activity < ware.primary.carbon_activity);
    assert_true(ware.primary.carbon_activity < 1.0);
    /* Gas ratios that go with that oxygen. */
    dw_oxygen_ratio k;
    assert_int_equal(dw_oxygen_ratio_at(&kit_model()->gases, ware.temperature_k, &k), DW_OK);
    assert_close(dw_oxygen_from_co_co2(&k, ware.co_co2_ratio), ware.mean.log10_po2_bar, 0.0, 1e-10);
    assert_close(dw_oxygen_from_h2_h2o(&k, ware.h2_h2o_ratio), ware.mean.log10_po2_bar, 0.0, 1e-10);
}

static void gas_near_the_stoichiometric_point_is_mixed(void **state)
{
    (void)state;
    solve("oxides-rushlight-hill", 0.45, 1265.0);
    assert_true(fabs(result.equivalence_ratio - 1.0) < 0.03);
    assert_true(ware.has_parcels);
    assert_true(ware.lean.equivalence_ratio < result.equivalence_ratio);
    assert_true(ware.rich.equivalence_ratio > result.equivalence_ratio);
    /* A tenth of a nearly normal distribution lies beyond 1.28 spreads; the ratio is steeper than the
     * mixture fraction by 1 + phi/need. */
    const double steeper = 1.0 + result.equivalence_ratio / result.stoichiometric_air_kg_kg;
    assert_close(ware.rich.equivalence_ratio / result.equivalence_ratio - 1.0,
                 1.2816 * steeper * result.unmixedness, 0.06, 0.0);
    assert_true(ware.lean.log10_po2_bar > -3.0 && ware.rich.log10_po2_bar < -8.0);
    const dw_ware_metal *iron = &ware.metal[metal("iron")];
    assert_true(iron->mixed);
    assert_int_equal(iron->lean.form, 0);
    assert_int_equal(iron->rich.form, 2);
    /* Copper red holds in part of the gas only. */
    const dw_ware_window *here = NULL;
    (void)window("copper red", "light reduction is enough", &here);
    assert_int_equal(here->fit, DW_FIT_NEAR);
}

static void without_unmixedness_nothing_is_mixed(void **state)
{
    (void)state;
    kit_example("oxides-rushlight-hill", &file);
    file.kiln.flue[0].damper.open_frac = 0.45;
    file.kiln.settings.unmixedness = 0.0;
    assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &result), DW_OK);
    assert_int_equal(dw_ware_of_point(kit_model(), &file.kiln, &result, &ware), DW_OK);
    assert_false(ware.has_parcels);
    assert_false(ware.metal[metal("iron")].mixed);
    assert_close(ware.richest.equivalence_ratio, result.equivalence_ratio, 1e-12, 0.0);
}

static void without_burner_air_there_is_no_primary_mixture(void **state)
{
    (void)state;
    kit_example("oxides-rushlight-hill", &file);
    for (int i = 0; i < file.kiln.burner_count; i++) file.kiln.burner[i].shutter_open_frac = 0.0;
    assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &result), DW_OK);
    assert_true(result.primary_aeration == 0.0);
    assert_int_equal(dw_ware_of_point(kit_model(), &file.kiln, &result, &ware), DW_OK);
    assert_true(isnan(ware.primary.equivalence_ratio) && isnan(ware.primary.carbon_activity));
    assert_true(isfinite(ware.richest.carbon_activity));
}

static void cold_gas_has_no_oxygen_figures(void **state)
{
    (void)state;
    solve("oxides-rushlight-hill", 0.40, 450.0);
    assert_false(ware.given);
    assert_true(isnan(ware.mean.log10_po2_bar) && isnan(ware.co_co2_ratio));
}

static void a_gas_without_kiln_is_looked_up(void **state)
{
    (void)state;
    const double t = 1250.0 + 273.15;
    assert_int_equal(dw_ware_at(kit_model(), t, 101325.0, -8.44, &ware), DW_OK);
    assert_true(ware.given && !ware.has_parcels);
    assert_close(ware.probe_emf_v, dw_probe_emf_v(-8.44, t, 101325.0), 1e-12, 0.0);
    assert_int_equal(ware.metal[metal("iron")].mean.form, 1);
    assert_int_equal(ware.metal[metal("iron")].mean.other, 2);
    assert_int_equal(ware.metal[metal("nickel")].mean.form, 1);
    assert_int_equal(ware.metal[metal("manganese")].mean.form, 1);
    assert_true(isnan(ware.mean.carbon_activity));
    const dw_ware_window *here = NULL;
    (void)window("carbon trap", "soot before the soda melts", &here);
    assert_int_equal(here->fit, DW_FIT_UNKNOWN);
    assert_int_equal(here->heat, DW_HEAT_ABOVE);
    assert_int_equal(dw_ware_at(kit_model(), t, 101325.0, NAN, &ware), DW_ERR_ARG);
    assert_int_equal(dw_ware_at(kit_model(), t, 0.0, -8.0, &ware), DW_ERR_ARG);
    assert_int_equal(dw_ware_at(NULL, t, 101325.0, -8.0, &ware), DW_ERR_ARG);
    assert_int_equal(dw_ware_at(kit_model(), 100.0, 101325.0, -8.0, &ware), DW_ERR_DOMAIN);
    assert_false(ware.given);
}

static void windows_follow_temperature_and_gas(void **state)
{
    (void)state;
    const dw_ware_window *here = NULL;
    /* 850 degC in air: burning out holds, copper is no metal. */
    assert_int_equal(dw_ware_at(kit_model(), 1123.15, 101325.0, -0.68, &ware), DW_OK);
    (void)window("no black core", "burning out", &here);
    assert_int_equal(here->heat, DW_HEAT_WITHIN);
    assert_int_equal(here->fit, DW_FIT_YES);
    (void)window("copper red", "before the glaze seals", &here);
    assert_int_equal(here->heat, DW_HEAT_WITHIN);
    assert_int_equal(here->fit, DW_FIT_NO);
    (void)window("body reduction", "ware still open to the gas", &here);
    assert_int_equal(here->heat, DW_HEAT_BELOW);
    /* 1000 degC and CO/CO2 0.3: the reverse. */
    assert_int_equal(dw_ware_at(kit_model(), 1273.15, 101325.0, -13.06, &ware), DW_OK);
    (void)window("no black core", "burning out", &here);
    assert_int_equal(here->heat, DW_HEAT_ABOVE);
    assert_int_equal(here->fit, DW_FIT_NO);
    (void)window("body reduction", "ware still open to the gas", &here);
    assert_int_equal(here->heat, DW_HEAT_WITHIN);
    (void)window("body reduction", "the glaze seals", &here);
    assert_int_equal(here->fit, DW_FIT_NOT_ASKED);
    /* H2/H2O at 1100 degC: 0.1 stands at log10 pO2 -11.056; half the band is 0.15 in the ratio. */
    assert_int_equal(dw_ware_at(kit_model(), 1373.15, 101325.0, -11.056 - 0.29, &ware), DW_OK);
    (void)window("celadon", "iron turns green", &here);
    assert_int_equal(here->fit, DW_FIT_NEAR);
    assert_int_equal(dw_ware_at(kit_model(), 1373.15, 101325.0, -11.056 - 0.31, &ware), DW_OK);
    assert_int_equal(here->fit, DW_FIT_YES);
    assert_int_equal(dw_ware_at(kit_model(), 1373.15, 101325.0, -11.056 + 0.31, &ware), DW_OK);
    assert_int_equal(here->fit, DW_FIT_NO);
    /* Near a boundary is neither yes nor no: wustite at 1000 degC begins at -12.756 or -12.932. */
    assert_int_equal(dw_ware_at(kit_model(), 1273.15, 101325.0, -12.85, &ware), DW_OK);
    (void)window("body reduction", "ware still open to the gas", &here);
    assert_int_equal(here->fit, DW_FIT_NEAR);
}

static void soot_goes_by_the_rule_of_the_operating_point(void **state)
{
    (void)state;
    const dw_ware_window *here = NULL;
    solve("oxides-rushlight-hill", 0.30, 870.0);
    (void)window("carbon trap", "soot before the soda melts", &here);
    assert_int_equal(here->heat, DW_HEAT_WITHIN);
    assert_int_equal(here->fit, result.sooting ? DW_FIT_YES : DW_FIT_NO);
    assert_true(result.sooting);
    solve("oxides-rushlight-hill", 0.60, 870.0);
    assert_int_equal(here->fit, DW_FIT_NO);
}

static void boundaries_stand_beside_the_gas(void **state)
{
    (void)state;
    dw_ware_boundary b[DW_BUFFER_MAX];
    int count;
    assert_int_equal(dw_ware_at(kit_model(), 1473.15, 101325.0, -7.31, &ware), DW_OK);
    assert_int_equal(dw_ware_boundaries(kit_model(), &ware, b, &count), DW_OK);
    assert_int_equal(count, kit_data()->oxides.buffer_count);
    int seen = 0;
    for (int i = 0; i < count; i++) {
        const dw_buffer *buffer = &kit_data()->oxides.buffer[b[i].buffer];
        if (b[i].reach == DW_BUFFER_OUT) {
            assert_true(isnan(b[i].log10_po2_bar));
            continue;
        }
        assert_close(b[i].gas_minus_log10, -7.31 - b[i].log10_po2_bar, 1e-12, 1e-12);
        if (strcmp(buffer->key, "mw-frost") == 0) {
            /* 0.141 and 0.059 by the older lines for CO and steam, 2 and 6 % above NASA-9. */
            assert_close(b[i].co_co2_ratio, 0.141 * pow(10.0, -0.010), 0.02, 0.0);
            assert_close(b[i].h2_h2o_ratio, 0.059 * pow(10.0, -0.024), 0.02, 0.0);
            assert_close(b[i].log10_po2_bar, -9.258, 0.0, 1e-3);
            seen++;
        }
    }
    assert_int_equal(seen, 1);
    assert_int_equal(dw_ware_boundaries(kit_model(), NULL, b, &count), DW_ERR_ARG);
    assert_int_equal(count, 0);
    assert_int_equal(dw_ware_boundaries(NULL, &ware, b, &count), DW_ERR_ARG);
    assert_int_equal(dw_ware_boundaries(kit_model(), &ware, NULL, &count), DW_ERR_ARG);
    assert_int_equal(dw_ware_boundaries(kit_model(), &ware, b, NULL), DW_ERR_ARG);
}

/* The ratio that a window wants, moved past that of the leaner, the mean and the richer gas: each is
 * near while within half the band of oxygen, and all must agree for a yes or a no. The ratios come from
 * the oxygen of each by the water-gas constants, not from the mean by its square root. */
static void a_wanted_ratio_is_held_against_every_parcel(void **state)
{
    (void)state;
    solve("oxides-rushlight-hill", 0.45, 1265.0);
    assert_true(ware.has_parcels);
    dw_oxygen_ratio k;
    assert_int_equal(dw_oxygen_ratio_at(&kit_model()->gases, ware.temperature_k, &k), DW_OK);
    const double lean = dw_h2_h2o_from_oxygen(&k, ware.lean.log10_po2_bar),
                 rich = dw_h2_h2o_from_oxygen(&k, ware.rich.log10_po2_bar);
    assert_true(lean < ware.h2_h2o_ratio && ware.h2_h2o_ratio < rich);
    static dw_data data;
    data = *kit_data();
    size_t w = 0;
    while (w < data.window_count && data.window[w].need != DW_WARE_H2_H2O) w++;
    assert_true(w < data.window_count);
    const double half = pow(10.0, 0.5 * data.oxides.band_log10);
    const struct {
        double wanted;
        dw_ware_fit fit;
    } row[] = {{lean / half * 0.998, DW_FIT_YES}, {lean / half * 1.002, DW_FIT_NEAR},
               {rich * half * 0.998, DW_FIT_NEAR}, {rich * half * 1.002, DW_FIT_NO}};
    for (int i = 0; i < 4; i++) {
        data.window[w].h2_h2o_ratio = row[i].wanted;
        dw_ware_states(&data, 0, &ware);
        assert_int_equal(ware.window[w].fit, row[i].fit);
    }
    /* Without parcels the mean alone decides. */
    ware.has_parcels = false;
    const double mean = ware.h2_h2o_ratio;
    const struct {
        double wanted;
        dw_ware_fit fit;
    } alone[] = {{mean / half * 0.998, DW_FIT_YES}, {mean / half * 1.002, DW_FIT_NEAR},
                 {mean * half * 0.998, DW_FIT_NEAR}, {mean * half * 1.002, DW_FIT_NO}};
    for (int i = 0; i < 4; i++) {
        data.window[w].h2_h2o_ratio = alone[i].wanted;
        dw_ware_states(&data, 0, &ware);
        assert_int_equal(ware.window[w].fit, alone[i].fit);
    }
    /* The ends of a window of temperature belong to it. */
    for (int i = 0; i < 2; i++) {
        ware.temperature_k = i == 0 ? data.window[w].from_k : data.window[w].to_k;
        dw_ware_states(&data, 0, &ware);
        assert_int_equal(ware.window[w].heat, DW_HEAT_WITHIN);
    }
}

/* Gas near the boundary of two forms of iron fits a stage that wants one of them in part only. */
static void near_a_boundary_a_form_is_wanted_in_part(void **state)
{
    (void)state;
    static dw_data data;
    data = *kit_data();
    const double t = 1250.0 + 273.15;
    const dw_buffer *hm = dw_buffer_find(&data.oxides, "hm-frost"), *mw = dw_buffer_find(&data.oxides, "mw-frost");
    /* Oxygen just on the lower side of each boundary: the reduced form, the oxidized one beside it. */
    const struct {
        const dw_buffer *buffer;
        double off;
        int form, other;
    } gas[] = {{hm, 0.05, 0, 1}, {hm, -0.05, 1, 0}, {mw, 0.02, 1, 2}, {mw, -0.02, 2, 1}};
    data.window[0].metal = metal("iron");
    for (int i = 0; i < 4; i++) {
        const double log10_po2 = dw_buffer_log10_po2_bar(gas[i].buffer, t) + gas[i].off;
        assert_int_equal(dw_ware_at(kit_model(), t, 101325.0, log10_po2, &ware), DW_OK);
        const dw_oxide_state *iron = &ware.metal[metal("iron")].mean;
        assert_int_equal(iron->form, gas[i].form);
        assert_int_equal(iron->other, gas[i].other);
        for (int form = 0; form < 4; form++) {
            const int low = gas[i].form < gas[i].other ? gas[i].form : gas[i].other;
            data.window[0].form = form;
            data.window[0].need = DW_WARE_REDUCED_TO;
            dw_ware_states(&data, 0, &ware);
            assert_int_equal(ware.window[0].fit, form <= low       ? DW_FIT_YES
                                                 : form == low + 1 ? DW_FIT_NEAR
                                                                   : DW_FIT_NO);
            data.window[0].need = DW_WARE_OXIDIZED_TO;
            dw_ware_states(&data, 0, &ware);
            assert_int_equal(ware.window[0].fit, form > low     ? DW_FIT_YES
                                                 : form == low ? DW_FIT_NEAR
                                                               : DW_FIT_NO);
        }
    }
}

static void gas_of_one_richness(void **state)
{
    (void)state;
    kit_plain_kiln(&file.kiln);
    static dw_solved solved;
    assert_int_equal(dw_operating_point_solved(kit_model(), &file.kiln, &solved, &result), DW_OK);
    dw_ware_mixer mixer;
    dw_ware_gas gas = {1.0, 1.0, 1.0, 1.0};
    assert_int_equal(dw_ware_mixer_init(&mixer, kit_model(), &solved.reactants, 1100.0, 0.05), DW_OK);
    static const double none[] = {0.0, 1.0, 1.005, -0.1};
    for (int i = 0; i < 4; i++) {
        gas = (dw_ware_gas){1.0, 1.0, 1.0, 1.0};
        assert_int_equal(dw_ware_gas_at(&mixer, none[i], &gas), DW_ERR_DOMAIN);
        assert_true(isnan(gas.equivalence_ratio) && isnan(gas.log10_po2_bar) &&
                    isnan(gas.carbon_activity));
    }
    /* Carbon falls out from an activity of 1 on when it is let, and beyond a ratio of 3 in any case. */
    const double need = solved.reactants.stoichiometric_kg_kg;
    for (int i = 0; i < 4; i++) {
        const double phi = i < 2 ? 2.9 : 3.1;
        solved.reactants.graphite = i % 2 == 1;
        assert_int_equal(dw_ware_mixer_init(&mixer, kit_model(), &solved.reactants, 900.0, 0.05), DW_OK);
        assert_int_equal(dw_ware_gas_at(&mixer, phi / (phi + need), &gas), DW_OK);
        assert_close(gas.equivalence_ratio, phi, 1e-12, 0.0);
        assert_true(i == 0 ? gas.carbon_activity > 1.01 : fabs(gas.carbon_activity - 1.0) < 1e-6);
    }
    /* So much gas that nothing is worked out. */
    const double much = 1.01 * DW_PHI_LIMIT;
    assert_int_equal(dw_ware_gas_at(&mixer, much / (much + need), &gas), DW_OK);
    assert_close(gas.equivalence_ratio, much, 1e-12, 0.0);
    assert_true(isnan(gas.log10_po2_bar) && isnan(gas.carbon_activity));
    /* Parcels between 0.95 and 1.05, the ends not among them. */
    static const double phi[] = {0.949, 0.95, 0.9501, 1.0, 1.0499, 1.05, 1.051};
    static const bool parcels[] = {false, false, true, true, true, false, false};
    assert_int_equal(dw_ware_mixer_init(&mixer, kit_model(), &solved.reactants, 1500.0, 0.05), DW_OK);
    for (int i = 0; i < 7; i++) {
        ware.lean = ware.rich = (dw_ware_gas){1.0, 1.0, 1.0, 1.0};
        assert_int_equal(dw_ware_parcels(&mixer, phi[i] / (phi[i] + need), &ware), DW_OK);
        assert_int_equal(ware.has_parcels, parcels[i]);
        if (!parcels[i]) assert_true(isnan(ware.lean.log10_po2_bar) && isnan(ware.rich.equivalence_ratio));
    }
    mixer.spread = 0.0;
    assert_int_equal(dw_ware_parcels(&mixer, 1.0 / (1.0 + need), &ware), DW_OK);
    assert_false(ware.has_parcels);
}

static const dw_glaze *glaze(const char *name)
{
    for (size_t i = 0; i < kit_data()->glaze_count; i++) {
        if (strcmp(kit_data()->glaze[i].name, name) == 0) return &kit_data()->glaze[i];
    }
    fail_msg("no glaze %s", name);
    return NULL;
}

static void glazes_are_given_where_they_are_molten(void **state)
{
    (void)state;
    dw_ware_glaze g;
    assert_int_equal(dw_ware_at(kit_model(), 1523.15, 101325.0, -9.0, &ware), DW_OK);
    dw_ware_glaze_at(glaze("celadon"), &ware, &g);
    assert_int_equal(g.refusal, DW_GLAZE_GIVEN);
    assert_true(g.iron.kress_share > 0.8 && g.iron.kress_share < 0.95);
    assert_true(isnan(g.lean.kress_share));
    dw_glaze odd = *glaze("tenmoku");
    strcpy(odd.outside, "B2O3");
    dw_ware_glaze_at(&odd, &ware, &g);
    assert_int_equal(g.refusal, DW_GLAZE_OUTSIDE);
    assert_true(isnan(g.iron.kress_share));
    odd = *glaze("clear");
    odd.y[DW_MELT_FEO] = 0.0;
    dw_ware_glaze_at(&odd, &ware, &g);
    assert_int_equal(g.refusal, DW_GLAZE_NO_IRON);
    assert_int_equal(dw_ware_at(kit_model(), 1470.0, 101325.0, -9.0, &ware), DW_OK);
    dw_ware_glaze_at(glaze("celadon"), &ware, &g);
    assert_int_equal(g.refusal, DW_GLAZE_TOO_COLD);
    /* 1200 and 1630 degC themselves are within. */
    static const double edge_k[] = {1473.15, 1903.15};
    for (int i = 0; i < 2; i++) {
        assert_int_equal(dw_ware_at(kit_model(), edge_k[i], 101325.0, -6.0, &ware), DW_OK);
        dw_ware_glaze_at(glaze("celadon"), &ware, &g);
        assert_int_equal(g.refusal, DW_GLAZE_GIVEN);
    }
    assert_int_equal(dw_ware_at(kit_model(), 1910.0, 101325.0, -5.0, &ware), DW_OK);
    dw_ware_glaze_at(glaze("celadon"), &ware, &g);
    assert_int_equal(g.refusal, DW_GLAZE_TOO_HOT);
    ware.given = false;
    dw_ware_glaze_at(glaze("celadon"), &ware, &g);
    assert_int_equal(g.refusal, DW_GLAZE_NO_OXYGEN);
    /* Lean and rich parcels, where there are some. */
    solve("oxides-rushlight-hill", 0.45, 1265.0);
    dw_ware_glaze_at(glaze("celadon"), &ware, &g);
    assert_true(g.lean.kress_share < g.iron.kress_share);
    assert_true(g.rich.kress_share > g.iron.kress_share);
}

static void what_does_not_belong_together_is_refused(void **state)
{
    (void)state;
    solve("oxides-rushlight-hill", 0.40, 1265.0);
    file.kiln.operating.chamber_temperature_k += 10.0;
    assert_int_equal(dw_ware_of_point(kit_model(), &file.kiln, &result, &ware), DW_ERR_DOMAIN);
    assert_false(ware.given);
    result.solved = false;
    assert_int_equal(dw_ware_of_point(kit_model(), &file.kiln, &result, &ware), DW_ERR_ARG);
    assert_int_equal(dw_ware_of_point(kit_model(), NULL, &result, &ware), DW_ERR_ARG);
    assert_int_equal(dw_ware_of_point(NULL, &file.kiln, &result, &ware), DW_ERR_ARG);
    assert_int_equal(dw_ware_of_point(kit_model(), &file.kiln, NULL, &ware), DW_ERR_ARG);
    assert_int_equal(dw_ware_of_point(kit_model(), &file.kiln, &result, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rich_gas_has_one_state),
        cmocka_unit_test(gas_near_the_stoichiometric_point_is_mixed),
        cmocka_unit_test(without_unmixedness_nothing_is_mixed),
        cmocka_unit_test(without_burner_air_there_is_no_primary_mixture),
        cmocka_unit_test(cold_gas_has_no_oxygen_figures),
        cmocka_unit_test(a_gas_without_kiln_is_looked_up),
        cmocka_unit_test(windows_follow_temperature_and_gas),
        cmocka_unit_test(soot_goes_by_the_rule_of_the_operating_point),
        cmocka_unit_test(boundaries_stand_beside_the_gas),
        cmocka_unit_test(a_wanted_ratio_is_held_against_every_parcel),
        cmocka_unit_test(near_a_boundary_a_form_is_wanted_in_part),
        cmocka_unit_test(gas_of_one_richness),
        cmocka_unit_test(glazes_are_given_where_they_are_molten),
        cmocka_unit_test(what_does_not_belong_together_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
