#include "kiln.h"

#include <math.h>
#include <string.h>

#include "moist_air.h"
#include "constants.h"
#include "injector.h"
#include "jet.h"

/* Defaults that several objects share. */
#define JET_DISCHARGE 0.85
#define OPENING_DISCHARGE 0.62

void dw_burner_init(dw_burner *burner)
{
    *burner = (dw_burner){
        .count = 1,
        .kind = DW_BURNER_INSPIRATING,
        .lit = true,
        .height_m = NAN,
        .gas_pressure_pa = NAN,
        .air_pressure_pa = NAN,
        .jet_diameter_m = NAN,
        .jet_discharge_coeff = JET_DISCHARGE,
        .jet_velocity_coeff = 0.97,
        .jet_thin_pa = NAN,
        .throat_diameter_m = NAN,
        .port_diameter_m = NAN,
        .shutter_open_frac = 1.0,
        .shutter_area_m2 = NAN,
        .shutter_discharge_coeff = OPENING_DISCHARGE,
        .inlet_loss = 0.5,
        .throat_friction = 0.18,
        .diffuser_recovery = 0.40,
        .port_loss = 1.6,
        .port_temperature_ratio = 1.0,
        .air_jet_diameter_m = 0.0,
        .air_jet_discharge_coeff = JET_DISCHARGE,
        .air_restriction_area_m2 = NAN,
        .air_restriction_coeff = OPENING_DISCHARGE,
        .air_flow_m3_s = NAN,
    };
}

void dw_opening_init(dw_opening *opening)
{
    *opening = (dw_opening){
        .kind = DW_OPENING_HOLE,
        .count = 1,
        .area_m2 = NAN,
        .open_frac = 1.0,
        .height_m = NAN,
        .from_m = NAN,
        .to_m = NAN,
        .width_m = NAN,
        .depth_m = NAN,
        .length_m = NAN,
        .discharge_coeff = OPENING_DISCHARGE,
        .thin_coeff = 0.62,
        .deep_coeff = 0.78,
        .exponent = 0.65,
        .reference_pressure_pa = 10.0,
        .burnt_frac = NAN,
    };
}

void dw_flue_init(dw_flue *flue)
{
    *flue = (dw_flue){
        .count = 1,
        .area_m2 = NAN,
        .height_m = NAN,
        .entry_loss = 0.5,
        .floor_loss = NAN,
        .downstream_area_m2 = NAN,
        .damper = {.kind = DW_DAMPER_SLIDE, .open_frac = 1.0, .leak_frac = 0.01, .scale = 1.0,
                   .thickness_m = NAN, .mouth_width_m = NAN},
    };
}

static void stack_init(dw_stack *stack)
{
    *stack = (dw_stack){
        .height_m = NAN,
        .area_m2 = NAN,
        .base_height_m = NAN,
        .roughness_m = 3.0e-3, /* brick; from memory */
        .bend_count = 1.0,
        .bend_loss = 1.2,
        .exit_loss = 1.0,
        .relief_discharge_coeff = OPENING_DISCHARGE,
        .heat_loss_ntu = 0.35,
        .heat_loss_ua_w_k = NAN,
        .hood_gap_height_m = NAN,
        .wind_coeff = NAN,
    };
}

static void room_init(dw_room *room)
{
    *room = (dw_room){
        .volume_m3 = NAN,
        .ventilation_m3_s = NAN,
        .air_changes_per_hour = NAN,
        .exhaust_fan_pressure_pa = 150.0, /* assumption: a small radial fan */
        .leak_area_m2 = NAN,
        .burnt_frac = NAN,
        .outside_co_ppm = 1.0, /* assumption: an ordinary street */
        .duration_s = NAN,
        .activity = DW_ROOM_ANY_ACTIVITY,
        .person_height_m = NAN,
        .person_mass_kg = NAN,
        .female = true,
        .other_flued_appliance = true,
        .corner_volume_m3 = 1.0,
        .wind_coeff = NAN,
        .purge_fan_m3_s = NAN,
    };
}

void dw_kiln_init(dw_kiln *kiln)
{
    memset(kiln, 0, sizeof *kiln);
    memcpy(kiln->name, "kiln", sizeof "kiln");
    kiln->site = (dw_site){
        .pressure_pa_abs = NAN,
        .air_temperature_k = 293.15,
        .relative_humidity = 0.5,
        .outside_temperature_k = NAN,
        .room_temperature_k = NAN,
        .wind_speed_m_s = NAN,
    };
    kiln->chamber = (dw_chamber){
        .width_m = NAN,
        .depth_m = NAN,
        .height_m = NAN,
        .leak_area_m2 = NAN,
        .leak_discharge_coeff = OPENING_DISCHARGE,
        .setting_loss = NAN,
        .leak_per_surface = 0.001,
    };
    for (int i = 0; i < DW_BURNER_MAX; i++)
        dw_burner_init(&kiln->burner[i]);
    for (int i = 0; i < DW_OPENING_MAX; i++)
        dw_opening_init(&kiln->opening[i]);
    for (int i = 0; i < DW_FLUE_MAX; i++)
        dw_flue_init(&kiln->flue[i]);
    stack_init(&kiln->stack);
    room_init(&kiln->room);
    kiln->operating = (dw_operating){
        .gas_pressure_pa = NAN,
        .gauge_end_pa = NAN,
        .supply_static_pa = NAN,
        .supply_running_pa = NAN,
        .gas_temperature_k = NAN,
        .chamber_temperature_k = NAN,
    };
    kiln->settings = (dw_settings){.unmixedness = 0.05, .quench_temperature_k = NAN, .quench_temperature_rich_k = NAN};
}

const dw_usual dw_quench_usual_lean = {1100.0, 1000.0, 1300.0}; /* assumption */
/* As lean gas. What a reaction mechanism gives for rich gas is {1310.0, 1230.0, 1380.0} [quench-rich]. */
const dw_usual dw_quench_usual_rich = {1100.0, 1000.0, 1300.0};

bool dw_opening_is_upright(const dw_opening *opening)
{
    return opening->kind == DW_OPENING_TALL ||
           (opening->kind == DW_OPENING_JOINT && !isnan(opening->from_m));
}

double dw_kiln_flue_area_m2(const dw_kiln *kiln)
{
    double sum_m2 = 0.0;
    for (int i = 0; i < kiln->flue_count; i++)
        sum_m2 += kiln->flue[i].count * kiln->flue[i].area_m2;
    return sum_m2;
}

double dw_kiln_datum_height_m(const dw_kiln *kiln)
{
    if (kiln->burner_count == 0) return 0.0;
    double lowest_m = kiln->burner[0].height_m;
    for (int i = 1; i < kiln->burner_count; i++) {
        lowest_m = fmin(lowest_m, kiln->burner[i].height_m);
    }
    return lowest_m;
}

double dw_chamber_surface_m2(const dw_chamber *chamber)
{
    const double w = chamber->width_m, d = chamber->depth_m, h = chamber->height_m;
    return 2.0 * (w * d + w * h + d * h);
}

DW_LAW(chamber_volume, "V_ch", "volume of the chamber", "m3", "definition",
       (double width, double depth, double height), width * depth * height)

double dw_chamber_volume_m3(const dw_chamber *c, dw_working *w)
{
    const double width = dw_law_given(w, DW_WORK_INPUT, "width", "of the chamber", "m", c->width_m);
    const double depth = dw_law_given(w, DW_WORK_INPUT, "depth", "of the chamber", "m", c->depth_m);
    const double height = dw_law_given(w, DW_WORK_INPUT, "height", "of the chamber", "m", c->height_m);
    return DW_STEP(w, chamber_volume, (width, depth, height));
}

bool dw_kiln_ends_outside(const dw_kiln *kiln)
{
    return kiln->stack.present && isnan(kiln->stack.hood_gap_height_m);
}

bool dw_stack_loses_by_ua(const dw_stack *stack)
{
    return stack->wall != DW_WALL_UNKNOWN || !isnan(stack->heat_loss_ua_w_k);
}

static void fill(double *value, double derived)
{
    if (isnan(*value)) *value = derived;
}

/* ---- defaults that follow from other inputs ------------------------------------------------- */

DW_LAW(leak_area, "A", "area of the leaks of all the inside surface", "m2", "assumption",
       (double leak_s, double width, double depth, double z_top),
       leak_s * 2.0 * (width * depth + width * z_top + depth * z_top))

double dw_kiln_leak_area_m2(const dw_kiln *kiln, dw_working *w)
{
    const dw_chamber *c = &kiln->chamber;
    if (!isnan(c->leak_area_m2)) {
        return dw_law_given(w, DW_WORK_INPUT, "A", "area of the leaks", "m2", c->leak_area_m2);
    }
    const double leak_s = dw_law_given(w, DW_WORK_INPUT, "leak_s",
                                       "leak area for each area of inside surface, by how the chamber is closed",
                                       "", c->leak_per_surface);
    const double width = dw_law_given(w, DW_WORK_INPUT, "width", "of the chamber", "m", c->width_m);
    const double depth = dw_law_given(w, DW_WORK_INPUT, "depth", "of the chamber", "m", c->depth_m);
    return DW_STEP(w, leak_area, (leak_s, width, depth, c->height_m));
}

double dw_kiln_pressure_pa_abs(const dw_kiln *kiln, const char *keys, dw_working *w)
{
    const dw_site *site = &kiln->site;
    if (isnan(site->pressure_pa_abs)) return dw_atmosphere_pressure_pa(site->elevation_m, keys, w);
    return dw_law_given(w, DW_WORK_INPUT, "p_air", "pressure of the air here, absolute", "Pa",
                        site->pressure_pa_abs);
}

DW_LAW(full_shutter, "A_s", "full shutter area that gives this loss", "m2", "momentum-balance",
       (double A_t, double Cd_s, double zeta_in0), A_t / (Cd_s * sqrt(1.0 + zeta_in0)))

static double shutter_area_m2(const dw_burner *burner, double throat_m2, dw_working *w)
{
    if (!isnan(burner->shutter_area_m2)) {
        return dw_law_given(w, DW_WORK_INPUT, "A_s", "full area of the shutter", "m2",
                            burner->shutter_area_m2);
    }
    const double zeta_in0 =
        dw_law_given(w, DW_WORK_INPUT, "zeta_in0", "loss of the inlet with the shutter fully open", "",
                     burner->inlet_loss);
    return DW_STEP(w, full_shutter, (throat_m2, burner->shutter_discharge_coeff, zeta_in0));
}

DW_LAW(round_width, "d_o", "width of the hole, as of a round one of its area", "m", "definition",
       (double A_1, double pi), sqrt(4.0 * A_1 / pi))
DW_LAW(depth_share, "deep", "how deep it is: 0 up to half its width, 1 from its width on", "", "idelchik-thick",
       (double L_o, double d_o), fmin(fmax(2.0 * L_o / d_o - 1.0, 0.0), 1.0))
DW_LAW(by_depth, "Cd", "discharge coefficient of a hole of this depth", "", "idelchik-thick",
       (double Cd_thin, double Cd_deep, double deep), Cd_thin + (Cd_deep - Cd_thin) * deep)

static double depth_share_of(const dw_opening *o, dw_working *w)
{
    const double L_o =
        dw_law_given(w, DW_WORK_INPUT, "L_o", "depth of the hole, through the wall", "m", o->depth_m);
    const double d_o = DW_STEP(w, round_width, (o->area_m2, DW_PI));
    return DW_STEP(w, depth_share, (L_o, d_o));
}

double dw_opening_depth_share(const dw_opening *o)
{
    const bool deep = o->kind == DW_OPENING_HOLE && !isnan(o->depth_m) && o->area_m2 > 0.0;
    return deep ? depth_share_of(o, NULL) : 0.0;
}

double dw_opening_discharge_coeff(const dw_opening *o, dw_working *w)
{
    if (!isnan(o->discharge_coeff) || isnan(o->depth_m)) {
        return dw_law_given(w, DW_WORK_INPUT, "Cd", "discharge coefficient", "", o->discharge_coeff);
    }
    const double thin =
        dw_law_given(w, DW_WORK_DATA, "Cd_thin", "discharge coefficient in a thin edge", "", o->thin_coeff);
    const double deep = dw_law_given(w, DW_WORK_DATA, "Cd_deep",
                                     "discharge coefficient of a port that is deeper than wide", "",
                                     o->deep_coeff);
    return DW_STEP(w, by_depth, (thin, deep, depth_share_of(o, w)));
}

static double circle_m2(double diameter_m) { return 0.25 * DW_PI * diameter_m * diameter_m; }

static const dw_law throat_law = {"A_t", "area of the throat", "m2", "definition",
                                  "pi*pow(d_t, 2.0)/4.0"};

dw_burner_tube dw_burner_tube_of(const dw_burner *b, const dw_burner *given, bool lit, dw_working *w)
{
    dw_burner_tube tube;
    const double throat_m =
        dw_law_given(w, DW_WORK_INPUT, "d_t", "diameter of the throat", "m", b->throat_diameter_m);
    const double port_m =
        dw_law_given(w, DW_WORK_INPUT, "d_p", "diameter of the port", "m", b->port_diameter_m);
    const double friction = dw_law_given(w, DW_WORK_INPUT, "zeta_f", "friction loss in the throat", "",
                                         b->throat_friction);
    const double recovery =
        dw_law_given(w, DW_WORK_INPUT, "C_pd", "pressure recovered where the burner widens", "",
                     b->diffuser_recovery);
    const double port_loss =
        dw_law_given(w, DW_WORK_INPUT, "zeta_p", "loss of the port", "", b->port_loss);
    /* What flows through a burner that is off is no hot mixture. */
    const double tau = dw_law_given(w, DW_WORK_INPUT, "tau",
                                    lit ? "port temperature / room temperature"
                                        : "port temperature / room temperature, with nothing burning "
                                          "in the burner",
                                    "", lit ? b->port_temperature_ratio : 1.0);
    const double open =
        dw_law_given(w, DW_WORK_INPUT, "open_s", "open share of the shutter", "", b->shutter_open_frac);
    const double discharge =
        dw_law_given(w, DW_WORK_INPUT, "Cd_s", "discharge coefficient of the shutter", "",
                     b->shutter_discharge_coeff);
    tube.throat_m2 = dw_law_step(w, "", NULL, NULL, &throat_law, circle_m2(throat_m));
    const double shutter_m2 = shutter_area_m2(given, tube.throat_m2, w);
    const double inlet_loss =
        dw_injector_shutter_loss(tube.throat_m2, open * shutter_m2, discharge, w);
    tube.closed = isinf(inlet_loss);
    if (tube.closed) w = NULL;
    tube.kappa_m = dw_injector_kappa_m(friction, recovery, port_loss,
                                       tube.throat_m2 / circle_m2(port_m), tau, w);
    tube.kappa_a = dw_injector_kappa_a(inlet_loss, w);
    return tube;
}

DW_LAW(share_of_stack, "k", "area of the flues / area of the stack, at most 1", "", "assumption",
       (double A_all, double A_st), fmin(1.0, A_all / A_st))
DW_LAW(share_of_duct, "k", "flue area / area after the damper", "", "definition",
       (double A_f, double A_d), A_f / A_d)

double dw_flue_downstream_ratio(const dw_kiln *kiln, const dw_flue *flue, dw_working *w)
{
    const bool given = !isnan(flue->downstream_area_m2);
    if (flue->downstream_is_plenum || flue->damper.kind == DW_DAMPER_SHELF ||
        (!given && !kiln->stack.present)) {
        return dw_law_given(w, DW_WORK_INPUT, "k",
                            "flue area / area behind the damper: 0, since an open space follows", "",
                            0.0);
    }
    if (!given) {
        const double A_all = dw_law_given(w, DW_WORK_INPUT, "A_all", "area of all flues", "m2",
                                          dw_kiln_flue_area_m2(kiln));
        const double A_st = dw_law_given(w, DW_WORK_INPUT, "A_st", "area of the stack", "m2",
                                         kiln->stack.area_m2);
        return DW_STEP(w, share_of_stack, (A_all, A_st));
    }
    const double A_d = dw_law_given(w, DW_WORK_INPUT, "A_d", "area just after the damper", "m2",
                                    flue->downstream_area_m2);
    /* A derived area may be a rounding error narrower than the flue. */
    return fmin(DW_STEP_AS(w, "", flue->count > 1 ? "A_f>A_1" : "", NULL, share_of_duct,
                           (flue->area_m2, A_d)), 1.0);
}

static double thin_discharge(double gas_pressure_pa, double air_pa_abs)
{
    return dw_jet_thin_discharge(air_pa_abs / (air_pa_abs + gas_pressure_pa), NULL, NULL);
}

double dw_burner_jet_discharge(const dw_burner *b, double gas_pressure_pa, double air_pa_abs)
{
    if (isnan(b->jet_thin_pa) || b->jet_thin_pa == gas_pressure_pa) return b->jet_discharge_coeff;
    return fmin(b->jet_discharge_coeff * thin_discharge(gas_pressure_pa, air_pa_abs) /
                    thin_discharge(b->jet_thin_pa, air_pa_abs),
                1.0);
}

static void resolve_burner(dw_burner *burner, const dw_kiln *kiln)
{
    if (isnan(burner->gas_pressure_pa)) {
        burner->gas_shared = true;
        burner->gas_pressure_pa = kiln->operating.gas_pressure_pa;
    }
    fill(&burner->air_pressure_pa, kiln->operating.air_pressure_pa);
    if (isnan(burner->jet_discharge_coeff)) {
        burner->jet_thin_pa = burner->gas_pressure_pa;
        burner->jet_discharge_coeff = thin_discharge(burner->jet_thin_pa, kiln->site.pressure_pa_abs);
    }
    fill(&burner->port_diameter_m, burner->throat_diameter_m);
    burner->shutter_area_m2 =
        shutter_area_m2(burner, circle_m2(burner->throat_diameter_m), NULL);
}

static void resolve_openings(dw_kiln *kiln)
{
    for (int i = 0; i < kiln->opening_count; i++) {
        dw_opening *o = &kiln->opening[i];
        if (o->kind == DW_OPENING_JOINT) fill(&o->length_m, o->to_m - o->from_m);
        if (o->kind == DW_OPENING_HOLE) o->discharge_coeff = dw_opening_discharge_coeff(o, NULL);
    }
}

static void resolve_flues(dw_kiln *kiln)
{
    for (int i = 0; i < kiln->flue_count; i++) {
        dw_flue *flue = &kiln->flue[i];
        if (flue->downstream_is_plenum || !isnan(flue->downstream_area_m2)) continue;
        const double k = dw_flue_downstream_ratio(kiln, flue, NULL);
        if (k > 0.0) {
            flue->downstream_area_m2 = flue->area_m2 / k;
        } else {
            flue->downstream_is_plenum = true;
        }
    }
}

DW_LAW(air_changes, "Q_n", "natural ventilation", "m3/s", "definition", (double ach, double V),
       ach * V / 3600.0)

double dw_room_ventilation_m3_s(const dw_room *room, dw_working *w)
{
    if (!isnan(room->ventilation_m3_s)) {
        return dw_law_given(w, DW_WORK_INPUT, "Q_n", "natural ventilation", "m3/s",
                            room->ventilation_m3_s);
    }
    const double ach = dw_law_given(w, DW_WORK_INPUT, "ach", "air changes an hour", "1/h",
                                    room->air_changes_per_hour);
    return DW_STEP(w, air_changes, (ach, room->volume_m3));
}

/* Through sharp-edged cracks, in air of 1.2 kg/m3. */
DW_LAW(room_cracks, "A_l", "cracks of the room: the area that gives these air changes at 4 Pa", "m2",
       "leakage-4pa", (double Q_n), Q_n / (0.62 * sqrt(2.0 * 4.0 / 1.2)))

double dw_room_leak_area_m2(const dw_room *room, double ventilation_m3_s, dw_working *w)
{
    if (isnan(room->leak_area_m2)) return DW_STEP(w, room_cracks, (ventilation_m3_s));
    return dw_law_given(w, DW_WORK_INPUT, "A_l", "cracks of the room", "m2", room->leak_area_m2);
}

/* Judgement: a workshop with doors and windows on several sides feels as much wind pushed in as sucked out. Over
 * the open top of a stack that is clear of roofs the wind sucks; beside a ridge or a taller wall it may push. */
static void resolve_wind(dw_kiln *kiln)
{
    if (isnan(kiln->site.wind_speed_m_s)) return;
    fill(&kiln->room.wind_coeff, 0.0);
    fill(&kiln->stack.wind_coeff, -0.3);
}

static void resolve_room(dw_kiln *kiln)
{
    dw_room *room = &kiln->room;
    if (!room->present) return;
    room->ventilation_m3_s = dw_room_ventilation_m3_s(room, NULL);
    /* Who fires stays for a day of it; who lives there does not leave (assumption). */
    fill(&room->duration_s, (room->dwelling ? 24.0 : 12.0) * 3600.0);
    room->leak_area_m2 = dw_room_leak_area_m2(room, room->ventilation_m3_s, NULL);
}

/* One quench temperature that was given is that of lean and of rich gas. */
static void resolve_quench(dw_settings *s)
{
    fill(&s->quench_temperature_rich_k,
         isnan(s->quench_temperature_k) ? dw_quench_usual_rich.middle : s->quench_temperature_k);
    fill(&s->quench_temperature_k, dw_quench_usual_lean.middle);
}

void dw_kiln_resolve(dw_kiln *kiln)
{
    dw_site *site = &kiln->site;
    site->pressure_pa_abs = dw_kiln_pressure_pa_abs(kiln, "", NULL);
    fill(&site->outside_temperature_k, site->air_temperature_k);
    fill(&site->room_temperature_k, site->air_temperature_k);
    fill(&kiln->operating.gas_temperature_k, site->room_temperature_k);
    kiln->chamber.leak_area_m2 = dw_kiln_leak_area_m2(kiln, NULL);

    for (int i = 0; i < kiln->burner_count; i++) {
        resolve_burner(&kiln->burner[i], kiln);
    }
    resolve_openings(kiln);
    resolve_flues(kiln);
    resolve_quench(&kiln->settings);
    resolve_room(kiln);
    resolve_wind(kiln);

    if (kiln->stack.present && kiln->flue_count > 0) {
        double lowest_m = kiln->flue[0].height_m;
        for (int i = 1; i < kiln->flue_count; i++) {
            lowest_m = fmin(lowest_m, kiln->flue[i].height_m);
        }
        fill(&kiln->stack.base_height_m, lowest_m);
    }
}
