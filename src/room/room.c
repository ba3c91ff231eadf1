#include "room.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"
#include "moist_air.h"
#include "network.h"
#include "room_spill.h"

/* Where the search for the room's pressure ends [Pa]. */
static const double pressure_lowest_pa = -200.0, pressure_highest_pa = 50.0;
static const double settled_pa = 1e-4, turning_pa = 0.05, bracket_pa = 1e-7;
enum { MAX_SOLUTIONS = 48 };

static const char beyond_reason[] =
    "the fan and the kiln take more air than the room lets in: its pressure would be beyond -200 "
    "Pa";

/* Openings in a wall, sharp-edged [karlsson2000]. What comes in is outside air, warmed to the room's
 * temperature; what goes out is room air. */
DW_LAW(air_comes_in, "V_up", "outside air that comes in", "m3/s", "orifice-equation",
       (double A_m, double A_l, double rho_out, double rho_room, double p),
       0.62 * (A_m + A_l) * sqrt(2.0 * rho_out * fabs(p)) / rho_room)
DW_LAW(air_goes_out, "V_up", "air that comes in (negative: goes out)", "m3/s", "orifice-equation",
       (double A_m, double A_l, double rho_room, double p),
       -0.62 * (A_m + A_l) * sqrt(2.0 * rho_room * fabs(p)) / rho_room)

const dw_law *dw_room_make_up_law(double pressure_pa)
{
    return pressure_pa < 0.0 ? &air_comes_in_law : &air_goes_out_law;
}

double dw_room_make_up_m3_s(const dw_kiln *resolved, double rho_room_kg_m3, double rho_out_kg_m3,
                            double pressure_pa)
{
    const dw_room *room = &resolved->room;
    return pressure_pa < 0.0 ? air_comes_in(room->make_up_area_m2, room->leak_area_m2, rho_out_kg_m3,
                                            rho_room_kg_m3, pressure_pa)
                             : air_goes_out(room->make_up_area_m2, room->leak_area_m2,
                                            rho_room_kg_m3, pressure_pa);
}

/* A room above outside pressure helps the fan; how much is not known and left out. */
DW_LAW(fan_air, "V_f", "air that the fan moves at this pressure", "m3/s", "room-balance",
       (double Q_f, double p, double p_f), Q_f * fmin(fmax(1.0 + p / p_f, 0.0), 1.0))
const dw_law *const dw_room_fan_law = &fan_air_law;

double dw_room_fan_m3_s(const dw_room *room, double pressure_pa)
{
    return fan_air(room->exhaust_fan_m3_s, pressure_pa, room->exhaust_fan_pressure_pa);
}

DW_LAW(most_ventilation, "Q",
       "ventilation that counts: natural, the fan's, or what the gas that comes in pushes out, whichever is "
       "most", "m3/s", "assumption", (double Q_n, double V_f, double V_in), fmax(fmax(Q_n, V_f), V_in))

double dw_room_flow_m3_s(const dw_room *room, double fan_m3_s, double gas_m3_s, const char *keys,
                         dw_working *w)
{
    return DW_STEP_FOR(w, keys, most_ventilation, (room->ventilation_m3_s, fan_m3_s, gas_m3_s));
}

int dw_room_draw_sign(const dw_kiln *kiln, dw_flow_kind kind)
{
    switch (kind) {
    case DW_FLOW_PRIMARY_AIR:
    case DW_FLOW_UNLIT_BURNER:
    case DW_FLOW_OPENING:
    case DW_FLOW_TALL_IN:
    case DW_FLOW_TALL_OUT:
    case DW_FLOW_LEAK_IN:
    case DW_FLOW_LEAK_OUT:
    case DW_FLOW_RELIEF: return 1;
    /* Into the room, or out of it when it runs backwards. */
    case DW_FLOW_FLUE: return kiln->stack.present ? 0 : -1;
    case DW_FLOW_STACK: return dw_kiln_ends_outside(kiln) ? 0 : -1;
    case DW_FLOW_GAS_JET: /* comes by pipe */
    case DW_FLOW_AIR_JET: /* from a compressor that may stand anywhere */ break;
    }
    return 0;
}

double dw_room_kiln_draws_kg_s(const dw_kiln *kiln, const dw_result *r)
{
    double sum = 0.0;
    for (int i = 0; i < r->flow_count; i++) {
        sum += dw_room_draw_sign(kiln, r->flow[i].kind) * r->flow[i].mass_kg_s;
    }
    return sum;
}

/* ---- the room's pressure ------------------------------------------------------------------- */

typedef struct search {
    const dw_model *model;
    const dw_kiln *given;       /* as read                        */
    dw_kiln kiln;               /* resolved, at the last pressure */
    dw_result result;           /* of it                          */
    double rho_room, rho_out;
    bool with_fan;
    int solutions;
    dw_status status;           /* of the last solution           */
} search;

/* The search asks for the flows alone. */
static bool solve_at(search *s, double pressure_pa, dw_extent extent)
{
    dw_kiln kiln = *s->given;
    kiln.site.room_pressure_pa = pressure_pa;
    s->status = dw_operating_point_to(s->model, &kiln, extent, &s->result);
    s->solutions++;
    return s->status == DW_OK;
}

/* What comes in less what goes out, at a pressure and a draw of the kiln [m3/s]: falls with pressure. */
static double air_gap_m3_s(const search *s, double pressure_pa, double kiln_m3_s)
{
    const double fan = s->with_fan ? dw_room_fan_m3_s(&s->kiln.room, pressure_pa) : 0.0;
    return dw_room_make_up_m3_s(&s->kiln, s->rho_room, s->rho_out, pressure_pa) - fan - kiln_m3_s;
}

/* Pressure at which fan and make-up openings let through what the kiln draws; NaN when there is none
 * within the search. */
static double pressure_for(const search *s, double kiln_m3_s)
{
    double low = pressure_lowest_pa, high = pressure_highest_pa;
    if (air_gap_m3_s(s, low, kiln_m3_s) < 0.0 || air_gap_m3_s(s, high, kiln_m3_s) > 0.0) {
        return NAN;
    }
    /* Nothing moves: any pressure balances, and the one without a difference is meant. */
    if (air_gap_m3_s(s, 0.0, kiln_m3_s) == 0.0) return 0.0;
    for (int i = 0; i < 100 && high - low > 1e-12; i++) {
        const double middle = 0.5 * (low + high);
        if (air_gap_m3_s(s, middle, kiln_m3_s) > 0.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return 0.5 * (low + high);
}

/* Pressure that the kiln's draw at a pressure asks for, less that pressure. NaN: kiln not solved. What
 * lies beyond the search stays out of reach: the gap does not close there. */
static double pressure_gap(search *s, double pressure_pa)
{
    if (!solve_at(s, pressure_pa, DW_EXTENT_FLOWS)) return NAN;
    const double draws = dw_room_kiln_draws_kg_s(&s->kiln, &s->result) / s->rho_room;
    const double asked = pressure_for(s, draws);
    if (!isnan(asked)) return asked - pressure_pa;
    return air_gap_m3_s(s, pressure_lowest_pa, draws) < 0.0
               ? fmin(pressure_lowest_pa - pressure_pa, 0.0) - 1.0
               : fmax(pressure_highest_pa - pressure_pa, 0.0) + 1.0;
}

typedef struct settled {
    double pressure_pa, residual_pa;
    bool found, turning;
    bool starved;               /* the kiln has no balance where the room's would lie */
    bool beyond;                /* the room's balance lies beyond the search           */
    double other_pa;            /* turning: the other side of the jump */
} settled;

/* One step away from a pressure whose gap is known, towards where the root must lie. */
static settled find_pressure(search *s, double guess_pa)
{
    settled found = {.pressure_pa = NAN, .residual_pa = NAN, .other_pa = NAN};
    double a = isnan(guess_pa) ? 0.0 : guess_pa;
    double gap_a = pressure_gap(s, a);
    if (isnan(gap_a) && a != 0.0) gap_a = pressure_gap(s, a = 0.0);
    if (isnan(gap_a)) return found;
    /* The draw falls with the pressure, so the answer lies between here and what is asked for. */
    double b = a + gap_a, gap_b = NAN;
    if (fabs(gap_a) > settled_pa) gap_b = pressure_gap(s, b);
    if (fabs(gap_a) <= settled_pa) {
        found = (settled){a, gap_a, true, false, false, false, NAN};
        return found;
    }
    bool b_solved = !isnan(gap_b);
    while (s->solutions < MAX_SOLUTIONS && fabs(b - a) > bracket_pa) {
        if (b_solved && fabs(gap_b) <= settled_pa) {
            found = (settled){b, gap_b, true, false, false, false, NAN};
            return found;
        }
        double next = 0.5 * (a + b);
        if (b_solved && (gap_a > 0.0) != (gap_b > 0.0)) {
            const double secant = a - gap_a * (b - a) / (gap_b - gap_a);
            /* Every third step halves, so that a jump or a bend cannot stall the search. */
            if (s->solutions % 3 != 0 && secant > fmin(a, b) && secant < fmax(a, b)) next = secant;
        }
        const double gap = pressure_gap(s, next);
        if (isnan(gap)) {
            b = next;
            b_solved = false;
            gap_b = NAN;
        } else if ((gap > 0.0) == (gap_a > 0.0)) {
            a = next;
            gap_a = gap;
            if (fabs(gap_a) <= settled_pa) {
                found = (settled){a, gap_a, true, false, false, false, NAN};
                return found;
            }
        } else {
            b = next;
            gap_b = gap;
            b_solved = true;
        }
    }
    if (!b_solved) {
        found.starved = true;
        found.pressure_pa = b;
        return found;
    }
    if ((gap_a > 0.0) == (gap_b > 0.0)) {
        found.beyond = true;
        return found;
    }
    /* No pressure fits: the kiln's draw jumps here. */
    found = (settled){a, gap_a, true, fabs(gap_a) > turning_pa, false, false, b};
    return found;
}

/* Carbon monoxide at a pressure, to choose the worse side of a jump. */
static double co_at(search *s, double pressure_pa, dw_room_result *scratch)
{
    if (!solve_at(s, pressure_pa, DW_EXTENT_GAS)) return -1.0;
    memset(scratch, 0, sizeof *scratch);
    if (dw_room_add_up(s->model, &s->kiln, &s->result, scratch) != DW_OK) return -1.0;
    return scratch->co_m3_s;
}

static dw_status give_up(const search *s, const char *why, dw_result *result, dw_room_result *room)
{
    dw_room_result empty = {.rounds = s->solutions};
    (void)snprintf(empty.reason, sizeof empty.reason, "%s", why);
    *room = empty;
    dw_result nothing = {0};
    (void)snprintf(nothing.reason, sizeof nothing.reason, "%s", why);
    *result = nothing;
    return s->status == DW_ERR_DOMAIN ? DW_ERR_DOMAIN : DW_ERR_NO_CONVERGE;
}

static const char *fault_in(const dw_room *r)
{
    if (!(r->volume_m3 > 0.0) || !isfinite(r->volume_m3)) return "room.volume is missing";
    if (!(r->ventilation_m3_s >= 0.0) || !isfinite(r->ventilation_m3_s)) {
        return "room.ventilation_flow or room.air_changes_per_hour is missing";
    }
    if (!(r->exhaust_fan_m3_s >= 0.0) || !(r->exhaust_fan_pressure_pa > 0.0)) {
        return "room.exhaust_fan is out of range";
    }
    if (!(r->make_up_area_m2 >= 0.0) || !(r->leak_area_m2 >= 0.0)) {
        return "an opening of the room is out of range";
    }
    if (!(r->hood_capture_frac >= 0.0 && r->hood_capture_frac <= 1.0) ||
        r->burnt_frac < 0.0 || r->burnt_frac > 1.0) {
        return "a share of the room is not between 0 and 1";
    }
    if (!(r->outside_co_ppm >= 0.0) || !(r->duration_s > 0.0) || !isfinite(r->duration_s)) {
        return "room.outside_co or room.duration is out of range";
    }
    return NULL;
}

/* The room's pressure and the kiln at it; fills what belongs to the pressure. */
static dw_status settle(search *s, double guess_pa, dw_result *result, dw_room_result *room)
{
    const dw_site *site = &s->given->site;
    room->kiln_feels_it = dw_kiln_ends_outside(s->given);
    room->pressure_given = site->room_pressure_pa != 0.0;
    if (room->pressure_given || !room->kiln_feels_it) {
        if (!solve_at(s, site->room_pressure_pa, DW_EXTENT_GAS)) {
            return give_up(s, s->result.reason, result, room);
        }
        room->pressure_pa = site->room_pressure_pa;
        if (!room->pressure_given) {
            /* The kiln does not feel it, other appliances do. */
            room->pressure_pa =
                pressure_for(s, dw_room_kiln_draws_kg_s(&s->kiln, &s->result) / s->rho_room);
        }
        if (isnan(room->pressure_pa)) return give_up(s, beyond_reason, result, room);
        return DW_OK;
    }
    const settled at = find_pressure(s, guess_pa);
    if (at.starved) {
        char why[DW_REASON_SIZE];
        (void)solve_at(s, at.pressure_pa, DW_EXTENT_FLOWS); /* for its reason: the search ended on the other side */
        (void)dw_print(why, sizeof why,
                       "the room is too tight: at its %.3g Pa the kiln does not balance (%.86s)",
                       at.pressure_pa, s->result.reason);
        return give_up(s, why, result, room);
    }
    if (at.beyond) return give_up(s, beyond_reason, result, room);
    if (!at.found) {
        return give_up(s, s->result.reason[0] != '\0' ? s->result.reason
                                                      : "the room's pressure does not settle",
                       result, room);
    }
    room->turning = at.turning;
    room->residual_pa = at.residual_pa;
    double chosen = at.pressure_pa;
    if (at.turning) {
        dw_room_result *scratch = malloc(sizeof *scratch);
        if (scratch == NULL) return DW_ERR_NOMEM;
        if (co_at(s, at.other_pa, scratch) > co_at(s, at.pressure_pa, scratch)) {
            chosen = at.other_pa;
        }
        free(scratch);
    }
    if (!solve_at(s, chosen, DW_EXTENT_GAS)) return give_up(s, s->result.reason, result, room);
    room->pressure_pa = chosen;
    return DW_OK;
}

/* What the fan costs: the room's pressure without it, and the draft that goes with the difference. */
static void look_without(search *s, dw_room_result *room)
{
    room->draft_loss_pa = 0.0;
    if (!room->kiln_feels_it || room->pressure_given) return;
    const double draft = s->result.draft_floor_pa;
    if (solve_at(s, 0.0, DW_EXTENT_FLOWS)) room->draft_loss_pa = s->result.draft_floor_pa - draft;
    if (!(s->kiln.room.exhaust_fan_m3_s > 0.0)) return;
    s->with_fan = false;
    const int before = s->solutions;
    s->solutions = 0;
    const settled at = find_pressure(s, NAN);
    if (at.found) room->pressure_without_fan_pa = at.pressure_pa;
    s->with_fan = true;
    s->solutions += before;
}

static dw_co_unknown why_unknown(const dw_kiln *kiln, const dw_result *r, bool turning)
{
    dw_co_unknown why = turning ? DW_CO_STACK_TURNS : DW_CO_KNOWN;
    for (int i = 0; i < r->finding_count; i++) {
        const dw_finding *found = &r->finding[i];
        if (found->code == DW_FIND_STACK_REVERSED) return DW_CO_STACK_REVERSED;
        if (found->code == DW_FIND_BURNER_PUSHED_BACK && kiln->burner[found->index].lit) {
            why = DW_CO_PUSHED_BACK;
        }
    }
    return why;
}

static dw_status finish(search *s, bool compare, dw_result *result, dw_room_result *room)
{
    *result = s->result;
    const dw_room *input = &s->kiln.room;
    const dw_status status = dw_room_add_up(s->model, &s->kiln, result, room);
    if (status != DW_OK) return status;
    room->unknown = why_unknown(&s->kiln, result, room->turning);
    room->kiln_draws_m3_s = dw_room_kiln_draws_kg_s(&s->kiln, result) / s->rho_room;
    room->fan_m3_s = dw_room_fan_m3_s(input, room->pressure_pa);
    room->make_up_m3_s =
        dw_room_make_up_m3_s(&s->kiln, s->rho_room, s->rho_out, room->pressure_pa);
    room->air = (dw_room_air){.volume_m3 = input->volume_m3,
                              .flow_m3_s = dw_room_flow_m3_s(input, room->fan_m3_s,
                                                             room->gas_m3_s, "", NULL),
                              .source_m3_s = room->co_m3_s,
                              .outside_ppm = input->outside_co_ppm};
    if (dw_room_air_check(&room->air) != DW_OK) return DW_ERR_DOMAIN;
    room->steady_ppm = dw_room_air_steady_ppm(&room->air);
    room->richest_ppm =
        input->outside_co_ppm + 1e6 * dw_room_richest_co_frac(s->model->data, &s->kiln.fuel);
    room->pressure_without_fan_pa = room->draft_loss_pa = NAN;
    if (compare) look_without(s, room);
    room->rounds = s->solutions;
    room->solved = true;
    return DW_OK;
}

/* Densities of the air in the room and outside. */
static dw_status read_air(search *s)
{
    const dw_site *site = &s->kiln.site;
    dw_moist_air air;
    const dw_status status = dw_moist_air_from_humidity(
        site->air_temperature_k, site->pressure_pa_abs, site->relative_humidity, NULL, &air);
    if (status != DW_OK) return status;
    const double m = air.molar_mass_kg_mol, p = site->pressure_pa_abs;
    s->rho_room = dw_ideal_gas_density_kg_m3(m, site->room_temperature_k, p);
    s->rho_out = dw_ideal_gas_density_kg_m3(m, site->outside_temperature_k, p);
    return DW_OK;
}

double dw_room_idle_pressure_pa(const dw_kiln *kiln)
{
    double pressure_pa = NAN;
    if (kiln->site.room_pressure_pa != 0.0 || !kiln->room.present) {
        return kiln->site.room_pressure_pa;
    }
    search *s = calloc(1, sizeof *s);
    if (s == NULL) return pressure_pa;
    s->kiln = *kiln;
    s->with_fan = true;
    dw_kiln_resolve(&s->kiln);
    if (fault_in(&s->kiln.room) == NULL && read_air(s) == DW_OK) pressure_pa = pressure_for(s, 0.0);
    free(s);
    return pressure_pa;
}

dw_status dw_room_solve(const dw_model *model, const dw_kiln *kiln, double guess_pa,
                        dw_result *result, dw_room_result *room)
{
    if (result == NULL || room == NULL) return DW_ERR_ARG;
    memset(result, 0, sizeof *result);
    memset(room, 0, sizeof *room);
    if (model == NULL || kiln == NULL || !kiln->room.present) return DW_ERR_ARG;
    search *s = calloc(1, sizeof *s);
    if (s == NULL) return DW_ERR_NOMEM;
    s->model = model;
    s->given = kiln;
    s->kiln = *kiln;
    s->with_fan = true;
    dw_kiln_resolve(&s->kiln);
    const char *fault = fault_in(&s->kiln.room);
    dw_status status;
    if (fault != NULL) {
        s->status = DW_ERR_DOMAIN;
        status = give_up(s, fault, result, room);
    } else {
        status = read_air(s);
        if (status != DW_OK) {
            s->status = DW_ERR_DOMAIN;
            status = give_up(s, "the air holds more vapour than its pressure allows", result, room);
            free(s);
            return status;
        }
        status = settle(s, guess_pa, result, room);
        if (status == DW_OK) status = finish(s, isnan(guess_pa), result, room);
    }
    free(s);
    return status;
}
