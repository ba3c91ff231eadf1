/* What the gas is and where the heat goes, for flows filled in by hand. */
#include "check.h"

#include <string.h>

#include "chamber_gas.h"
#include "constants.h"
#include "kit.h"

static dw_kiln kiln;
static const dw_model *model; /* NULL: the built-in data */
static dw_network net;
static dw_reactants reactants;
static dw_equilibrium mean;
static dw_gas_inside inside;
static dw_result result;

static void prepare(void)
{
    char reason[DW_REASON_SIZE];
    assert_int_equal(dw_network_init(&net, model != NULL ? model : kit_model(), &kiln, reason),
                     DW_OK);
    assert_int_equal(dw_reactants_init(&reactants, &net), DW_OK);
    memset(&mean, 0, sizeof mean);
    memset(&result, 0, sizeof result);
}

/* 1 g/s of gas with air in this ratio; everything that the report expects is there. */
static dw_status report_at(double air_ratio)
{
    prepare();
    const double need = reactants.stoichiometric_kg_kg;
    double molar_mass;
    assert_int_equal(dw_reactants_mean(&reactants, &kit_model()->gases, air_ratio * need, &mean,
                                       &molar_mass),
                     DW_OK);
    result.gas_flow_kg_s = 1e-3;
    result.air_flow_kg_s = 1e-3 * need * air_ratio;
    result.air_ratio = air_ratio;
    result.equivalence_ratio = 1.0 / air_ratio;
    result.primary_aeration = 0.6;
    /* Methane, net at 25 degC: 50.03 MJ/kg by NASA's enthalpies. */
    result.heat_input_net_w = 1e-3 * 802.56e3 / 16.0425e-3;
    return dw_chamber_gas_report(&net, &reactants, &mean, &inside, &result);
}

static double x_of(const dw_gas *gas, const char *name)
{
    return gas->x[dw_species_find(&kit_data()->species, name)];
}

static const dw_finding *finding(dw_finding_code code)
{
    for (int i = 0; i < result.finding_count; i++) {
        if (result.finding[i].code == code) return &result.finding[i];
    }
    return NULL;
}

static void a_kilogram_of_methane_wants_its_air(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.graphite = true;
    prepare();
    assert_close(reactants.stoichiometric_kg_kg, 17.2385, 1e-5, 0.0);
    assert_close(dw_elements_mass_kg(&reactants.fuel_kg), 1.0, 1e-13, 0.0);
    assert_close(dw_elements_mass_kg(&reactants.air_kg), 1.0, 1e-13, 0.0);
    assert_close(reactants.fuel_kg.n[DW_C], 1.0 / 16.0425e-3, 3e-5, 0.0);
    assert_close(reactants.pressure_pa_abs, 101325.0, 0.0, 0.0);
    assert_close(reactants.frozen.at.lean_k, 1473.15, 1e-15, 0.0);
    assert_close(reactants.frozen.lean.temperature_k, 1473.15, 1e-15, 0.0);
    assert_close(reactants.frozen.rich.temperature_k, 1473.15, 1e-15, 0.0);
    assert_true(reactants.graphite);
    kiln.operating.chamber_temperature_k = 900.0;
    kiln.settings.graphite = false;
    prepare();
    assert_close(reactants.frozen.at.lean_k, 1100.0, 0.0, 0.0);
    assert_close(reactants.frozen.at.rich_k, dw_quench_usual_rich.middle, 0.0, 0.0);
    assert_false(reactants.graphite);
    /* Humid air carries less oxygen. */
    kiln.site.relative_humidity = 1.0;
    prepare();
    assert_close(reactants.stoichiometric_kg_kg,
                 17.2385 * (1.0 + 0.622 * 2347.0 / (101325.0 - 2347.0)), 1e-4, 0.0);
    memset(kiln.fuel.x, 0, sizeof kiln.fuel.x);
    kiln.fuel.x[dw_species_find(&kit_data()->species, "CO2")] = 1.0;
    char reason[DW_REASON_SIZE];
    assert_int_equal(dw_network_init(&net, kit_model(), &kiln, reason), DW_OK);
    assert_int_equal(dw_reactants_init(&reactants, &net), DW_ERR_DOMAIN);
}

static void mean_gas_has_the_mass_of_its_mixture(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    prepare();
    double m = 0.0;
    const dw_gas_set *gases = &kit_model()->gases;
    assert_int_equal(dw_reactants_mean(&reactants, gases, 17.2385, &mean, &m), DW_OK);
    /* Lean and dry of methane at 1: 27.7 g/mol. One kilogram in is one kilogram out. */
    assert_close(m, 27.7e-3, 3e-3, 0.0);
    assert_close(m * mean.gas_mol, 1.0, 1e-9, 0.0);
    dw_gas gas;
    dw_gas_from_set(gases, mean.x, &gas);
    assert_close(gas.molar_mass_kg_mol, m, 1e-12, 0.0);
    double sum = 0.0;
    for (int i = 0; i < DW_SPECIES_MAX; i++) sum += gas.x[i];
    assert_close(sum, 1.0, 1e-12, 0.0);
    assert_close(x_of(&gas, "CO2"), 0.09504, 2e-4, 0.0);

    /* Richer than phi 8 is not asked of the equations. */
    dw_equilibrium other = {0};
    double m8, m9;
    assert_int_equal(dw_reactants_mean(&reactants, gases, 17.2385 / 8.0, &mean, &m8), DW_OK);
    assert_int_equal(dw_reactants_mean(&reactants, gases, 17.2385 / 9.0, &other, &m9), DW_OK);
    assert_close(m9, m8, 1e-6, 0.0);
    assert_int_equal(dw_reactants_mean(&reactants, gases, 17.2385 / 7.5, &mean, &m8), DW_OK);
    assert_true(fabs(m8 - m9) > 1e-5);
    reactants.pressure_pa_abs = NAN;
    assert_int_not_equal(dw_reactants_mean(&reactants, gases, 17.0, &mean, &m8), DW_OK);
    assert_true(isnan(m8));
}

static void plain_equilibrium_matches_the_table(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.unmixedness = 0.0;
    assert_int_equal(report_at(0.90), DW_OK);
    /* Methane, 1200 degC, 1 atm, lambda 0.90 (checks of the combustion notes, section 2.4). */
    assert_close(x_of(&result.gas_wet, "CO"), 0.02128, 4e-4, 0.0);
    assert_close(x_of(&result.gas_wet, "H2"), 0.01957, 4e-4, 0.0);
    assert_close(x_of(&result.gas_wet, "CO2"), 0.08112, 4e-4, 0.0);
    assert_close(x_of(&result.gas_wet, "H2O"), 0.18466, 4e-4, 0.0);
    assert_close(x_of(&result.gas_dry, "CO"), 0.02610, 4e-4, 0.0);
    assert_close(x_of(&result.gas_dry, "CO2"), 0.09949, 4e-4, 0.0);
    assert_close(x_of(&result.gas_dry, "H2O"), 0.0, 0.0, 0.0);
    double sum = 0.0;
    for (int i = 0; i < DW_SPECIES_MAX; i++) sum += result.gas_dry.x[i];
    assert_close(sum, 1.0, 1e-12, 0.0);
    assert_close(result.gas_dry.molar_mass_kg_mol,
                 (result.gas_wet.molar_mass_kg_mol - x_of(&result.gas_wet, "H2O") * 18.01528e-3) /
                     (1.0 - x_of(&result.gas_wet, "H2O")),
                 1e-5, 0.0);
    assert_memory_equal(&result.gas_wet, &result.gas_mean, sizeof result.gas_wet);
    assert_close(result.reducing_frac, (2.128 + 1.957) / (2.128 + 1.957 + 8.112 + 18.466), 4e-4,
                 0.0);
    assert_close(result.co_co2_ratio, 2.128 / 8.112, 5e-4, 0.0);
    assert_close(result.h2_h2o_ratio, 1.957 / 18.466, 5e-4, 0.0);
    assert_close(result.log10_po2_bar, -9.821 + log10(1.01325), 0.0, 1e-3);
    assert_close(result.probe_emf_v, 0.6681, 2e-4, 0.0);
    /* a_C = p_CO^2/(p_CO2 K), K of Boudouard at 1473 K about 1200: far from soot. */
    assert_close(result.carbon_activity, 3.8e-6 * 1.2, 0.4, 0.0);
    assert_close(result.gas_temperature_k, 1473.15, 1e-15, 0.0);
    assert_close(result.composition_temperature_k, 1473.15, 1e-15, 0.0);
    assert_close(result.unmixedness, 0.0, 0.0, 0.0);
    assert_null(finding(DW_FIND_GRAPHITE));
}

static void spread_shows_carbon_monoxide_and_oxygen_together(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.unmixedness = 0.1;
    assert_int_equal(report_at(1.0), DW_OK);
    /* Section 7 of the notes: dry 0.997 / 0.940 / 0.960 / 10.51 per cent, tolerance 0.002. */
    assert_close(x_of(&result.gas_dry, "CO"), 0.00997, 0.0, 2e-5);
    assert_close(x_of(&result.gas_dry, "H2"), 0.00940, 0.0, 2e-5);
    assert_close(x_of(&result.gas_dry, "O2"), 0.00960, 0.0, 2e-5);
    assert_close(x_of(&result.gas_dry, "CO2"), 0.1051, 0.0, 6e-5);
    assert_close(result.unmixedness, 0.1, 0.0, 0.0);
    /* The ware's oxygen is that of the mean. */
    assert_close(result.log10_po2_bar, -4.440 + log10(1.01325), 0.0, 5e-3);
    assert_close(x_of(&result.gas_mean, "CO"), 5.1e-5, 0.02, 0.0);
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        assert_true(fabs(result.closure_element[e]) <= 1e-12);
    }
}

/* One quench temperature for lean and rich gas. */
static void quench_at(double k)
{
    kiln.settings.quench_temperature_k = kiln.settings.quench_temperature_rich_k = k;
}

static void cold_chamber_keeps_the_composition_of_the_quench(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.unmixedness = 0.0;
    quench_at(1300.0);
    kiln.operating.chamber_temperature_k = 1273.15;
    assert_int_equal(report_at(0.90), DW_OK);
    assert_close(result.composition_temperature_k, 1300.0, 0.0, 0.0);
    assert_close(result.gas_temperature_k, 1273.15, 0.0, 0.0);
    /* Oxygen is that of 1000 degC all the same: -12.761 atm, 763.1 mV. */
    assert_close(result.log10_po2_bar, -12.761 + log10(1.01325), 0.0, 1e-3);
    assert_close(result.probe_emf_v, 0.7631, 2e-4, 0.0);
    const double co = x_of(&result.gas_wet, "CO");
    quench_at(1100.0);
    assert_int_equal(report_at(0.90), DW_OK);
    assert_close(x_of(&result.gas_wet, "CO"), 0.01781, 4e-4, 0.0);
    assert_true(co > 0.01790);

    kiln.operating.chamber_temperature_k = 773.15;
    assert_int_equal(report_at(0.90), DW_OK);
    assert_true(isfinite(result.log10_po2_bar) && isfinite(result.probe_emf_v) &&
                isfinite(result.carbon_activity));
    kiln.operating.chamber_temperature_k = 773.1;
    assert_int_equal(report_at(0.90), DW_OK);
    assert_true(isnan(result.log10_po2_bar) && isnan(result.probe_emf_v) &&
                isnan(result.carbon_activity));
}

/* CO of the mean gas, wet, and of the gas that is averaged, at an equivalence ratio. */
static void co_at(double phi, double *mean_co, double *wet_co)
{
    assert_int_equal(report_at(1.0 / phi), DW_OK);
    *mean_co = x_of(&result.gas_mean, "CO");
    *wet_co = x_of(&result.gas_wet, "CO");
}

static void rich_gas_freezes_at_a_temperature_of_its_own(void **state)
{
    (void)state;
    const double phi[] = {0.9, 0.98, 1.02, 1.2};
    for (int i = 0; i < 4; i++) {
        double even[3], uneven[3], unused;
        for (int k = 0; k < 3; k++) {
            kit_plain_kiln(&kiln);
            kiln.operating.chamber_temperature_k = 1000.0;
            quench_at(k == 2 ? 1310.0 : 1100.0);
            if (k == 1) kiln.settings.quench_temperature_rich_k = 1310.0;
            kiln.settings.unmixedness = 0.0;
            co_at(phi[i], &even[k], &unused);
            assert_close(unused, even[k], 0.0, 0.0);
            assert_close(result.composition_temperature_k,
                         k == 2 || (k == 1 && phi[i] > 1.0) ? 1310.0 : 1100.0, 1e-15, 0.0);
            kiln.settings.unmixedness = 0.08;
            co_at(phi[i], &unused, &uneven[k]);
            for (int e = 0; e < DW_ELEMENT_COUNT; e++) assert_true(fabs(result.closure_element[e]) <= 1e-12);
        }
        /* One that is given is both. */
        assert_close(even[1], even[phi[i] > 1.0 ? 2 : 0], 1e-9, 0.0);
        /* Nearly all CO of uneven gas is that of its rich parcels. */
        assert_close(uneven[1], uneven[2], 1e-4, 2e-6);
        assert_true(uneven[1] > 1.05 * uneven[0] || phi[i] > 1.1);
        assert_true(uneven[1] > 1.02 * uneven[0] || uneven[0] < 1e-4);
    }
}

static void nothing_jumps_between_lean_and_rich(void **state)
{
    (void)state;
    for (int s = 0; s < 2; s++) {
        double before[2] = {NAN, NAN};
        for (double phi = 0.97; phi < 1.03; phi += 1e-4) {
            kit_plain_kiln(&kiln);
            kiln.operating.chamber_temperature_k = 1000.0;
            kiln.settings.quench_temperature_rich_k = 1310.0;
            kiln.settings.unmixedness = s == 0 ? 0.0 : 0.05;
            double co[2];
            co_at(phi, &co[0], &co[1]);
            /* A step of 1e-4 changes the CO of just rich gas by some 2e-5. */
            for (int k = 0; k < 2; k++) {
                assert_true(isnan(before[k]) || fabs(co[k] - before[k]) < 3.5e-5);
                before[k] = co[k];
            }
        }
    }
}

static void reduction_has_a_word(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    const dw_data *data = kit_data();
    assert_true(data->band_count == 5);
    for (int i = 0; i + 1 < (int)data->band_count; i++) {
        const double limit = data->band[i].phi_below;
        assert_int_equal(report_at(1.0 / (limit - 1e-6)), DW_OK);
        assert_int_equal(result.band, i);
        assert_int_equal(report_at(1.0 / (limit + 1e-6)), DW_OK);
        assert_int_equal(result.band, i + 1);
    }
    assert_int_equal(report_at(1.0 / 2.5), DW_OK);
    assert_int_equal(result.band, 4);
    /* The last word holds without end, whatever limit stands there. */
    static dw_data short_data;
    static dw_model short_model;
    short_data = *data;
    short_data.band[4].phi_below = 1.5;
    assert_int_equal(dw_model_init(&short_model, &short_data), DW_OK);
    model = &short_model;
    assert_int_equal(report_at(1.0 / 2.5), DW_OK);
    assert_int_equal(result.band, 4);
    model = NULL;
}

/* Whether the gas is called sooting at phi with so much primary air. */
static bool soots(double phi, double primary_aeration)
{
    prepare();
    double molar_mass;
    const double need = reactants.stoichiometric_kg_kg;
    assert_int_equal(dw_reactants_mean(&reactants, &kit_model()->gases, need / phi, &mean,
                                       &molar_mass),
                     DW_OK);
    result.gas_flow_kg_s = 1e-3;
    result.air_flow_kg_s = 1e-3 * need / phi;
    result.equivalence_ratio = phi;
    result.air_ratio = 1.0 / phi;
    result.primary_aeration = primary_aeration;
    result.heat_input_net_w = 50e3;
    assert_int_equal(dw_chamber_gas_report(&net, &reactants, &mean, &inside, &result), DW_OK);
    const dw_finding *f = finding(DW_FIND_SOOTING);
    assert_int_equal(f != NULL, result.sooting);
    if (f != NULL) {
        assert_close(f->value, phi, 0.0, 0.0);
        assert_int_equal(f->index, -1);
    }
    return result.sooting;
}

static void limit_of_a_word_belongs_to_the_next(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.unmixedness = 0.0;
    const double limit = kit_data()->band[2].phi_below;
    result.band = 4;
    (void)soots(limit, 0.9);
    assert_int_equal(result.band, 3);
}

static void sooting_is_judged_by_three_limits(void **state)
{
    (void)state;
    const dw_sooting *s = &kit_data()->sooting;
    kit_plain_kiln(&kiln);
    kiln.settings.unmixedness = 0.0;
    const double air = 0.30, phi = s->phi_at_least; /* of methane */
    assert_true(soots(phi, air - 1e-6));
    assert_close(result.smoke_aeration, 0.30, 1e-14, 0.0);
    assert_false(soots(phi - 1e-6, air - 1e-6));
    assert_false(soots(phi, air));
    assert_false(soots(s->phi_always - 1e-6, air + 0.1));
    assert_true(soots(s->phi_always, air + 0.1));
    kiln.operating.chamber_temperature_k = s->chamber_temperature_above_k;
    assert_false(soots(s->phi_always, air - 0.1));
    kiln.operating.chamber_temperature_k = s->chamber_temperature_above_k + 0.01;
    assert_true(soots(s->phi_always, air - 0.1));
}

static double h_mol(const char *name, double temperature_k)
{
    double h;
    const dw_species_table *table = &kit_data()->species;
    assert_int_equal(dw_species_standard_state(&table->species[dw_species_find(table, name)],
                                               temperature_k, NULL, &h, NULL),
                     DW_OK);
    return h;
}

static void heat_of_a_lean_gas_by_hand(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.unmixedness = 0.0;
    kiln.operating.chamber_temperature_k = 1100.0; /* no dissociation to speak of */
    kiln.operating.gas_temperature_k = 320.0;
    kiln.site.room_temperature_k = 280.0;
    assert_int_equal(report_at(1.3), DW_OK);
    /* One mole of methane with 1.3 x 2 moles of oxygen and what comes along. */
    const double o2 = 2.6 + 0.0, n2 = o2 * 0.78084 / 0.209476, ar = o2 * 0.009365 / 0.209476,
                 co2 = o2 * 0.000319 / 0.209476, mol_s = 1e-3 / net.fuel_molar_mass_kg_mol;
    const double t0 = 298.15, t = 1100.0;
    const double sensible = (1.0 + co2) * (h_mol("CO2", t) - h_mol("CO2", t0)) +
                            2.0 * (h_mol("H2O", t) - h_mol("H2O", t0)) +
                            0.6 * h_mol("O2", t) + n2 * h_mol("N2", t) + ar * h_mol("Ar", t);
    assert_close(result.heat_sensible_w, mol_s * sensible, 2e-4, 0.0);
    assert_close(result.heat_unburnt_w, 0.0, 0.0, 30.0); /* a little NO */
    const double brought = h_mol("CH4", 320.0) - h_mol("CH4", t0) + o2 * h_mol("O2", 280.0) +
                           n2 * h_mol("N2", 280.0) + ar * h_mol("Ar", 280.0) +
                           co2 * (h_mol("CO2", 280.0) - h_mol("CO2", t0));
    assert_close(result.heat_released_w, result.heat_input_net_w - result.heat_unburnt_w, 1e-14,
                 0.0);
    assert_close(result.heat_to_kiln_w,
                 result.heat_released_w + mol_s * brought - result.heat_sensible_w, 1e-9, 0.0);
    assert_true(fabs(result.closure_energy) < 1e-4);
}

static void heat_of_a_rich_gas_leaves_unburnt(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.unmixedness = 0.0;
    assert_int_equal(report_at(0.7), DW_OK);
    /* CO 282.98 and H2 241.82 kJ/mol; flows of 1 g/s of methane and its air. */
    const double moles = (1e-3 + result.air_flow_kg_s) / result.gas_wet.molar_mass_kg_mol;
    const double unburnt = moles * (x_of(&result.gas_wet, "CO") * 282.98e3 +
                                    x_of(&result.gas_wet, "H2") * 241.82e3);
    assert_close(result.heat_unburnt_w, unburnt, 2e-3, 0.0);
    assert_true(result.heat_unburnt_w > 10e3);
    assert_close(result.heat_released_w, result.heat_input_net_w - result.heat_unburnt_w, 1e-14,
                 0.0);
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        assert_true(fabs(result.closure_element[e]) <= 1e-12);
    }
}

static void solid_carbon_leaves_with_the_gas(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.graphite = true;
    kiln.operating.chamber_temperature_k = 1000.0;
    quench_at(1000.0);
    for (int spread = 0; spread < 2; spread++) {
        kiln.settings.unmixedness = spread ? 0.05 : 0.0;
        assert_int_equal(report_at(0.25), DW_OK);
        const dw_finding *f = finding(DW_FIND_GRAPHITE);
        assert_non_null(f);
        assert_close(f->value, mean.graphite_mol, 0.0, 0.0);
        assert_int_equal(f->index, -1);
        assert_true(mean.graphite_mol > 1.0);
        assert_close(result.carbon_activity, 1.0, 1e-6, 0.0);
        for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
            assert_true(fabs(result.closure_element[e]) <= 1e-12);
        }
        assert_true(fabs(result.closure_energy) < 1e-4);
        if (spread) continue;
        /* Unburnt: gases and graphite, 393.51 kJ/mol. */
        const double kg_s = 1e-3 + result.air_flow_kg_s;
        const double solid = mean.graphite_mol * kg_s, moles = mean.gas_mol * kg_s;
        const dw_gas *gas = &result.gas_wet;
        assert_close(result.heat_unburnt_w,
                     solid * 393.51e3 + moles * (x_of(gas, "CO") * 282.98e3 +
                                                 x_of(gas, "H2") * 241.82e3 +
                                                 x_of(gas, "CH4") * 802.56e3),
                     2e-4, 0.0);
        double sensible = solid * (h_mol("C(gr)", 1000.0) - h_mol("C(gr)", 298.15));
        const char *const names[] = {"CO", "H2", "CH4", "CO2", "H2O", "N2", "Ar"};
        for (int i = 0; i < 7; i++) {
            sensible += moles * x_of(gas, names[i]) *
                        (h_mol(names[i], 1000.0) - h_mol(names[i], 298.15));
        }
        assert_close(result.heat_sensible_w, sensible, 3e-4, 0.0); /* the rest are traces */
    }
    kiln.settings.graphite = false;
    assert_int_equal(report_at(0.4), DW_OK);
    assert_null(finding(DW_FIND_GRAPHITE));
}

static void closures_see_what_is_lost(void **state)
{
    (void)state;
    kit_plain_kiln(&kiln);
    kiln.settings.unmixedness = 0.0;
    /* One mole of gas in ten thousand less than went in. */
    prepare();
    double molar_mass;
    assert_int_equal(dw_reactants_mean(&reactants, &kit_model()->gases, 17.2385, &mean,
                                       &molar_mass),
                     DW_OK);
    mean.gas_mol *= 0.9999;
    result.gas_flow_kg_s = 1e-3;
    result.air_flow_kg_s = 17.2385e-3;
    result.equivalence_ratio = result.air_ratio = 1.0;
    result.heat_input_net_w = 50e3;
    assert_int_equal(dw_chamber_gas_report(&net, &reactants, &mean, &inside, &result), DW_OK);
    assert_close(result.closure_element[DW_C], 1e-4, 1e-4, 0.0);
    assert_close(result.closure_element[DW_N], 1e-4, 1e-4, 0.0);
    /* A kilowatt of heat input too little of fifty shows as minus a fiftieth or so. */
    assert_close(result.closure_energy, (1e-3 * 802.56e3 / 16.0425e-3 - 50e3) / 50e3, 0.05, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_kilogram_of_methane_wants_its_air),
        cmocka_unit_test(mean_gas_has_the_mass_of_its_mixture),
        cmocka_unit_test(plain_equilibrium_matches_the_table),
        cmocka_unit_test(spread_shows_carbon_monoxide_and_oxygen_together),
        cmocka_unit_test(cold_chamber_keeps_the_composition_of_the_quench),
        cmocka_unit_test(rich_gas_freezes_at_a_temperature_of_its_own),
        cmocka_unit_test(nothing_jumps_between_lean_and_rich),
        cmocka_unit_test(reduction_has_a_word),
        cmocka_unit_test(limit_of_a_word_belongs_to_the_next),
        cmocka_unit_test(sooting_is_judged_by_three_limits),
        cmocka_unit_test(heat_of_a_lean_gas_by_hand),
        cmocka_unit_test(heat_of_a_rich_gas_leaves_unburnt),
        cmocka_unit_test(solid_carbon_leaves_with_the_gas),
        cmocka_unit_test(closures_see_what_is_lost),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
