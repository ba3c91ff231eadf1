/* The solved network once more, opening by opening: the flow table and what is wrong with it. */
#include "network.h"

#include <math.h>

#include "stack.h"

/* Less than this out of one opening is no spill worth a line [kg/s]: 0.04 kg an hour. */
static const double spill_from_kg_s = 1e-5;

void dw_result_find(dw_result *result, dw_finding_code code, int index, double value)
{
    if (result->finding_count >= DW_FINDING_MAX) return;
    result->finding[result->finding_count++] = (dw_finding){code, index, value};
}

static void add(dw_result *r, dw_flow_kind kind, int index, double mass_kg_s, double height_m,
                double dp_pa)
{
    if (r->flow_count >= DW_FLOW_MAX) return;
    r->flow[r->flow_count++] = (dw_flow){kind, index, mass_kg_s, height_m, dp_pa};
}

static void report_burner(const dw_network_at *at, const dw_network_state *state, int i,
                          dw_result *r)
{
    const dw_burner_law *b = &at->net->burner[i];
    dw_burner_flow flow;
    dw_network_burner(at, i, state->pressure_pa, &flow);
    if (!b->lit) {
        if (!b->open_when_unlit) return;
        add(r, DW_FLOW_UNLIT_BURNER, i, flow.air_kg_s, b->height_m, fabs(flow.pressure_pa));
        if (flow.air_kg_s < 0.0) dw_result_find(r, DW_FIND_BURNER_PUSHED_BACK, i, flow.pressure_pa);
        return;
    }
    add(r, DW_FLOW_GAS_JET, i, flow.gas_kg_s, b->height_m, flow.gas_drive_pa);
    if (flow.air_jet_kg_s > 0.0) {
        add(r, DW_FLOW_AIR_JET, i, flow.air_jet_kg_s, b->height_m,
            at->net->kiln->burner[i].air_pressure_pa);
    }
    if (b->shutter_closed) dw_result_find(r, DW_FIND_SHUTTER_CLOSED, i, 0.0);
    add(r, DW_FLOW_PRIMARY_AIR, i, flow.air_kg_s, b->height_m, flow.air_drive_pa);
    if (flow.reversed) dw_result_find(r, DW_FIND_BURNER_PUSHED_BACK, i, flow.pressure_pa);
    if (flow.choked) dw_result_find(r, DW_FIND_JET_CHOKED, i, b->gas_pressure_pa);
}

/* Both flows of an upright opening, which begins at from_m. */
static void report_upright(const dw_network_at *at, const dw_network_state *state, double from_m,
                           const dw_tall_flow *flow, int index, dw_flow_kind in_kind,
                           dw_flow_kind out_kind, dw_result *r)
{
    const double pressure_from_pa = dw_network_pressure_pa(at, state->pressure_pa, from_m);
    const double rise_pa_m =
        dw_network_pressure_pa(at, 0.0, at->net->datum_m + 1.0); /* d pressure / d height */
    if (flow->in_kg_s > 0.0) {
        add(r, in_kind, index, flow->in_kg_s, flow->in_height_m,
            fabs(pressure_from_pa + rise_pa_m * (flow->in_height_m - from_m)));
    }
    if (flow->out_kg_s > 0.0) {
        add(r, out_kind, index, -flow->out_kg_s, flow->out_height_m,
            fabs(pressure_from_pa + rise_pa_m * (flow->out_height_m - from_m)));
    }
}

static void report_opening(const dw_network_at *at, const dw_network_state *state, int i,
                           dw_result *r)
{
    const dw_opening *o = &at->net->kiln->opening[i];
    if (!(o->open_frac > 0.0)) return;
    if (dw_opening_is_upright(o)) {
        dw_tall_flow both;
        dw_network_upright(at, i, state->pressure_pa, NULL, NULL, &both);
        report_upright(at, state, o->from_m, &both, i, DW_FLOW_TALL_IN, DW_FLOW_TALL_OUT, r);
        return;
    }
    dw_opening_flow flow;
    const double p = dw_network_opening(at, i, state->pressure_pa, &flow);
    add(r, DW_FLOW_OPENING, i, flow.mass_kg_s, o->height_m, fabs(p));
    if (flow.mass_kg_s < -spill_from_kg_s) dw_result_find(r, DW_FIND_POSITIVE_AT_OPENING, i, p);
}

static void report_flues(const dw_network_at *at, const dw_network_state *state, dw_result *r)
{
    const dw_network *net = at->net;
    const dw_network_sums *s = &state->sums;
    for (int i = 0; i < net->kiln->flue_count; i++) {
        const dw_flue_law *f = &net->flue[i];
        if (f->outside_published) dw_result_find(r, DW_FIND_DAMPER_RANGE, i, f->open_frac);
        if (f->at_leak) dw_result_find(r, DW_FIND_DAMPER_LEAK, i, f->open_frac);
        double mass_kg_s, dp_pa;
        dw_network_flue(at, state->pressure_pa, state->stack_base_pa, s, i, &mass_kg_s, &dp_pa);
        add(r, DW_FLOW_FLUE, i, mass_kg_s, f->height_m, dp_pa);
        if (mass_kg_s < 0.0) dw_result_find(r, DW_FIND_FLUE_REVERSED, i, -mass_kg_s);
    }
    r->flue_flow_kg_s = s->flue_out_kg_s - s->flue_back_kg_s;
    r->has_stack = net->has_stack;
    if (!net->has_stack) return;
    if (net->kiln->stack.relief_area_m2 > 0.0) {
        add(r, DW_FLOW_RELIEF, -1, s->relief_kg_s, net->base_height_m,
            fabs(state->stack_base_pa));
        if (s->relief_kg_s < 0.0) dw_result_find(r, DW_FIND_RELIEF_SPILLS, -1, -s->relief_kg_s);
    }
    add(r, DW_FLOW_STACK, -1, state->stack_kg_s, net->base_height_m, state->stack.loss_pa);
    if (state->down) dw_result_find(r, DW_FIND_STACK_REVERSED, -1, -state->stack_kg_s);
}

/* Of nothing, nothing is missing; anything left where nothing flows is more than any promise. */
static double share(double left_kg_s, double all_kg_s)
{
    if (all_kg_s > 0.0) return left_kg_s / all_kg_s;
    return left_kg_s > 0.0 ? INFINITY : 0.0;
}

void dw_network_report(const dw_network_at *at, const dw_network_state *state, dw_result *r)
{
    const dw_network *net = at->net;
    const dw_kiln *kiln = net->kiln;
    const dw_network_sums *s = &state->sums;
    r->flow_count = 0;
    for (int i = 0; i < kiln->burner_count; i++) report_burner(at, state, i, r);
    for (int i = 0; i < kiln->opening_count; i++) report_opening(at, state, i, r);
    dw_tall_flow leak;
    dw_tall_opening_flow(&at->leak, dw_network_pressure_pa(at, state->pressure_pa, 0.0), NULL, NULL, &leak);
    report_upright(at, state, 0.0, &leak, -1, DW_FLOW_LEAK_IN, DW_FLOW_LEAK_OUT, r);
    report_flues(at, state, r);

    r->gas_flow_kg_s = s->gas_kg_s;
    r->air_flow_kg_s = s->air_kg_s;
    const double relief_kg_s = fmax(-s->relief_kg_s, 0.0);
    r->spill_kg_s = s->out_kg_s + relief_kg_s;
    const bool ends_in_room = !dw_kiln_ends_outside(kiln);
    r->room_opening_kg_s = s->out_kg_s + (ends_in_room ? 0.0 : relief_kg_s);
    r->room_flue_kg_s = ends_in_room ? s->flue_out_kg_s : 0.0;

    r->datum_height_m = net->datum_m;
    r->pressure_datum_pa = state->pressure_pa;
    r->pressure_floor_pa = dw_network_pressure_pa(at, state->pressure_pa, 0.0);
    r->pressure_top_pa = dw_network_pressure_pa(at, state->pressure_pa, kiln->chamber.height_m);
    r->draft_floor_pa = -r->pressure_floor_pa;
    r->draft_top_pa = -r->pressure_top_pa;
    const double neutral_m = dw_draft_neutral_plane_m(state->pressure_pa, net->rho_room_kg_m3,
                                                      at->rho_kg_m3, net->datum_m);
    r->neutral_plane_m = NAN;
    if (neutral_m >= 0.0 && neutral_m <= kiln->chamber.height_m) {
        r->neutral = DW_NEUTRAL_INSIDE;
        r->neutral_plane_m = neutral_m;
    } else {
        r->neutral = r->pressure_floor_pa + r->pressure_top_pa < 0.0 ? DW_NEUTRAL_ALL_IN
                                                                     : DW_NEUTRAL_ALL_OUT;
    }
    dw_network_report_stack(at, state, r);

    /* Node by node: the chamber, and the stack base by the flow its pressure gap stands for. */
    const double chamber = fabs(s->net_kg_s), enters = s->in_kg_s;
    const double stack = fabs(state->base_left_kg_s);
    const double stack_enters =
        s->flue_out_kg_s + fmax(s->relief_kg_s, 0.0) + fmax(-state->stack_kg_s, 0.0);
    r->closure_mass = share(chamber, enters);
    r->worst_residual_kg_s = chamber;
    if (net->has_stack) {
        r->closure_mass = fmax(r->closure_mass, share(stack, stack_enters));
        r->worst_residual_kg_s = fmax(chamber, stack);
    }
}
