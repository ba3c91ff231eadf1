#include "operating_point.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "chamber_gas.h"
#include "density.h"
#include "stack.h"
#include "format.h"
#include "fuel.h"
#include "network.h"
#include "solved_point.h"

/* Below this a flame may go out and the gas not relight: 760 degC [recalled, common practice]. */
static const double ignition_k = 1033.15;

/* Leaner than this the flue gas holds no flammable share worth a hazard (judgement). */
static const double unburnt_from_phi = 1.5;

dw_status dw_model_init(dw_model *model, const dw_data *data)
{
    if (model == NULL || data == NULL) return DW_ERR_ARG;
    model->data = data;
    return dw_gas_set_init(&model->gases, &data->species);
}

/* Gas out of the openings: nothing worth a line below this (0.04 kg an hour), and a hazard once it
 * carries this much CO in its dry share (200 ppm; judgement). Below, every kiln leaks some at its top. */
static const double spill_from_kg_s = 1e-5, spill_co_from = 2e-4;

/* Would a stack full of cold air start by itself? Asked only where heat loss depends on the flow. */
static void look_at_cold_start(const dw_density *d, dw_result *result)
{
    const dw_network *net = d->net;
    if (!net->has_stack || isnan(net->stack.ua_w_k) || d->state.down) return;
    dw_network_sums sums;
    double p = d->state.pressure_pa;
    int evaluations = 0;
    if (dw_network_chamber(&d->at, -net->room_minus_far_pa, &p, &sums, &evaluations) != DW_OK) {
        return;
    }
    if (!(sums.flue_out_kg_s - sums.flue_back_kg_s + sums.relief_kg_s > 0.0)) {
        dw_result_find(result, DW_FIND_COLD_STACK_START, -1, 0.0);
    }
}

static bool carries_co(const dw_network *net, const dw_result *result)
{
    const int co = net->model->gases.species[net->model->gases.role[DW_ROLE_CO]];
    return result->gas_dry.x[co] >= spill_co_from;
}

static void look_at_spill(const dw_network *net, dw_result *result)
{
    const bool co = carries_co(net, result);
    if (result->room_opening_kg_s > spill_from_kg_s) {
        dw_result_find(result, co ? DW_FIND_SPILL : DW_FIND_SPILL_BURNT, -1,
                       result->room_opening_kg_s);
    }
    if (result->room_flue_kg_s > spill_from_kg_s) {
        dw_result_find(result, co ? DW_FIND_FLUE_SPILL : DW_FIND_FLUE_SPILL_BURNT, -1,
                       result->room_flue_kg_s);
    }
}

static void look_around(const dw_density *d, dw_result *result)
{
    const dw_network *net = d->net;
    const dw_kiln *kiln = net->kiln;
    look_at_spill(net, result);
    if (net->supply.lossy) {
        dw_result_find(result, DW_FIND_SUPPLY_LOSS, -1, net->supply.jet_pa);
    }
    if (result->equivalence_ratio >= unburnt_from_phi) {
        dw_result_find(result, DW_FIND_UNBURNT_GAS, -1, result->equivalence_ratio);
    }
    if (net->gas_temperature_k < ignition_k) {
        /* With air to spare a flame that goes out leaves no rich gas behind at once. */
        const bool lean = result->equivalence_ratio < 1.0 && !carries_co(net, result);
        dw_result_find(result, lean ? DW_FIND_CANDLING : DW_FIND_COLD_CHAMBER, -1,
                       net->gas_temperature_k);
    }
    if (net->gas_temperature_k < result->composition_temperature_k) {
        dw_result_find(result, DW_FIND_QUENCHED, -1, result->composition_temperature_k);
    }
    /* The vapour formula is published for 15..27 degC; ordinary weather is fine. */
    if (kiln->site.air_temperature_k < 253.15 || kiln->site.air_temperature_k > 323.15) {
        dw_result_find(result, DW_FIND_MOIST_AIR_RANGE, -1, kiln->site.air_temperature_k);
    }
    if (net->room_saturated) {
        dw_result_find(result, DW_FIND_SATURATED_ROOM, -1, kiln->site.relative_humidity);
    }
    look_at_cold_start(d, result);
}

DW_LAW(air_ratio, "lambda", "air ratio: air that comes in / air needed", "", "definition",
       (double m_air, double m_gas, double need), m_air / (m_gas * need))
/* Worked out as 1/lambda: what phi is changed by to find its slope depends on its last bits. */
static const dw_law richness_law = {"phi", "equivalence ratio: air needed / air that comes in", "",
                                    "definition", "m_gas*need/m_air"};
DW_LAW(aeration, "aer", "primary air / air needed", "", "definition",
       (double m_prim, double m_gas, double need), m_prim / (m_gas * need))
DW_LAW(heat_net, "Q_net", "heat input, net", "W", "definition", (double m_gas, double lhv_kg),
       m_gas * lhv_kg)
DW_LAW(heat_gross, "Q_gross", "heat input, gross", "W", "definition", (double m_gas, double hhv_kg),
       m_gas * hhv_kg)

void dw_ratios_write(dw_working *w, const dw_result *r)
{
    dw_law_write(w, "air_ratio", NULL, NULL, &air_ratio_law, r->air_ratio);
    dw_law_write(w, "equivalence_ratio", NULL, NULL, &richness_law, r->equivalence_ratio);
    dw_law_write(w, "primary_aeration", NULL, NULL, &aeration_law, r->primary_aeration);
    dw_law_write(w, "heat_input_net_w", NULL, NULL, &heat_net_law, r->heat_input_net_w);
    dw_law_write(w, "heat_input_gross_w", NULL, NULL, &heat_gross_law, r->heat_input_gross_w);
}

static void report_ratios(const dw_density *d, dw_result *result)
{
    const dw_network_sums *s = &d->state.sums;
    const double need = d->reactants->stoichiometric_kg_kg;
    result->stoichiometric_air_kg_kg = need;
    result->air_ratio = air_ratio(s->air_kg_s, s->gas_kg_s, need);
    result->equivalence_ratio = result->air_ratio > 0.0 ? 1.0 / result->air_ratio : INFINITY;
    result->primary_aeration = aeration(s->burner_air_kg_s, s->gas_kg_s, need);
}

static dw_status report_heat_input(const dw_network *net, dw_result *result)
{
    dw_fuel_properties fuel;
    const dw_status status = dw_fuel_properties_from_moles(&net->model->data->species,
                                                           net->kiln->fuel.x, &fuel);
    if (status != DW_OK) return status;
    result->heat_input_net_w = heat_net(result->gas_flow_kg_s, fuel.lhv_j_kg);
    result->heat_input_gross_w = heat_gross(result->gas_flow_kg_s, fuel.hhv_j_kg);
    return DW_OK;
}

/* A result whose balances are left open by more than this is not printed as numbers. */
static bool closes(const dw_result *r)
{
    if (!(r->closure_mass <= 1e-10)) return false;
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        if (!(fabs(r->closure_element[e]) <= 1e-12)) return false;
    }
    return fabs(r->closure_energy) <= 1e-6;
}

static dw_status fail(dw_result *result, dw_status status)
{
    /* Nothing half-worked-out may be read: keep the reason and the counters. */
    dw_result empty = {0};
    memcpy(empty.reason, result->reason, sizeof empty.reason);
    empty.density_rounds = result->density_rounds;
    empty.pressure_steps = result->pressure_steps;
    *result = empty;
    return status;
}

dw_status dw_point_set_up(const dw_model *model, const dw_kiln *kiln, dw_solved *solved,
                          char *reason)
{
    solved->kiln = *kiln;
    dw_kiln_resolve(&solved->kiln);
    if (dw_kiln_check(&solved->kiln, &model->data->species, reason, DW_REASON_SIZE) != DW_OK ||
        dw_network_init(&solved->net, model, &solved->kiln, reason) != DW_OK ||
        (solved->kiln.operating.gauge != DW_GAUGE_JET &&
         dw_network_take_supply(&solved->net, reason) != DW_OK)) {
        return DW_ERR_DOMAIN;
    }
    if (dw_reactants_init(&solved->reactants, &solved->net) == DW_OK) return DW_OK;
    (void)snprintf(reason, DW_REASON_SIZE, "the fuel does not burn");
    return DW_ERR_DOMAIN;
}

dw_status dw_point_move_dampers(dw_solved *solved, const double *open_frac, char *reason)
{
    for (int i = 0; i < solved->kiln.flue_count; i++) {
        solved->kiln.flue[i].damper.open_frac = open_frac[i];
    }
    return dw_network_take_dampers(&solved->net, reason);
}

/* Balances a kiln that is ready: from here on its ratios are known. */
static dw_status balance(const dw_solved *solved, dw_density *r, dw_result *result)
{
    const dw_reactants *reactants = &solved->reactants;
    *r = (dw_density){.net = &solved->net, .reactants = reactants};
    const dw_status status = dw_density_solve(r, result->reason);
    result->density_rounds = r->rounds;
    result->pressure_steps = r->steps;
    if (status != DW_OK) return DW_ERR_NO_CONVERGE;

    report_ratios(r, result);
    if (result->equivalence_ratio > (reactants->graphite ? DW_PHI_LIMIT : DW_PHI_WITHOUT_CARBON)) {
        (void)dw_print(result->reason, sizeof result->reason,
                       "far too rich: equivalence ratio above %.3g%s",
                       reactants->graphite ? DW_PHI_LIMIT : DW_PHI_WITHOUT_CARBON,
                       reactants->graphite ? "" : " (only with model.graphite: yes)");
        return DW_ERR_NO_CONVERGE;
    }
    return DW_OK;
}

static const dw_brief no_brief = {NAN, NAN, NAN, NAN, false};

dw_status dw_point_brief(const dw_solved *solved, dw_brief *brief)
{
    *brief = no_brief;
    dw_density r;
    dw_result result;
    /* Nobody reads the rest of a result here, and wiping its kilobytes would take a while. */
    result.reason[0] = '\0';
    const dw_status status = balance(solved, &r, &result);
    if (status != DW_OK) return status;
    const double *x = r.gas.x;
    const dw_species_table *table = &solved->net.model->data->species;
    const int o2 = dw_species_find(table, "O2"), h2o = dw_species_find(table, "H2O");
    *brief = (dw_brief){
        .equivalence_ratio = result.equivalence_ratio,
        .gas_flow_kg_s = r.state.sums.gas_kg_s,
        .neutral_plane_m = dw_draft_neutral_plane_m(r.state.pressure_pa, solved->net.rho_room_kg_m3,
                                                    r.at.rho_kg_m3, solved->net.datum_m),
        .x_o2_dry = o2 < 0 || h2o < 0 ? NAN : x[o2] / (1.0 - x[h2o]),
        .backwards = r.state.down || r.state.sums.flue_back_kg_s > 0.0,
    };
    return DW_OK;
}

static dw_status solve(const dw_model *model, const dw_kiln *kiln, dw_extent extent,
                       dw_solved *solved, dw_result *result)
{
    if (result == NULL) return DW_ERR_ARG;
    memset(result, 0, sizeof *result);
    result->dphi_ddamper = result->dphi_dgas_pressure_per_pa = NAN;
    if (model == NULL || kiln == NULL || solved == NULL) return DW_ERR_ARG;

    dw_status status = dw_point_set_up(model, kiln, solved, result->reason);
    if (status != DW_OK) return fail(result, status);
    dw_density r;
    status = balance(solved, &r, result);
    if (status != DW_OK) return fail(result, status);
    dw_network *net = &solved->net;
    dw_reactants *reactants = &solved->reactants;
    dw_network_report(&r.at, &r.state, result);
    if (extent >= DW_EXTENT_GAS) {
        if (report_heat_input(net, result) != DW_OK) return fail(result, DW_ERR_BUG);
        status = dw_chamber_gas_report(net, reactants, &r.mean, &solved->inside, result);
        if (status != DW_OK) return fail(result, status);
    }
    if (extent >= DW_EXTENT_DAMPER) {
        dw_steepness(net, reactants, &r.at, &r.state, &r.mean, extent == DW_EXTENT_DAMPER, result,
                     &solved->slopes);
    }
    if (extent >= DW_EXTENT_GAS) look_around(&r, result);
    if (!closes(result)) {
        (void)dw_print(result->reason, sizeof result->reason,
                       "the balances do not close: mass %.1e, energy %.1e",
                       result->closure_mass, result->closure_energy);
        return fail(result, DW_ERR_NO_CONVERGE);
    }
    solved->at = r.at;
    solved->state = r.state;
    solved->mean = r.mean;
    solved->gas = r.gas;
    solved->at.gas.x = solved->gas.x;
    result->solved = true;
    result->reason[0] = '\0';
    return DW_OK;
}

dw_status dw_operating_point_solved(const dw_model *model, const dw_kiln *kiln, dw_solved *solved,
                                    dw_result *result)
{
    return solve(model, kiln, DW_EXTENT_SLOPES, solved, result);
}

dw_status dw_operating_point_to(const dw_model *model, const dw_kiln *kiln, dw_extent extent,
                                dw_result *result)
{
    dw_solved solved;
    return solve(model, kiln, extent, &solved, result);
}

dw_status dw_operating_point(const dw_model *model, const dw_kiln *kiln, dw_result *result)
{
    return dw_operating_point_to(model, kiln, DW_EXTENT_SLOPES, result);
}
