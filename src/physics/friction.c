#include "friction.h"

#include <math.h>
#include <stddef.h>

#include "constants.h"

#define ROUGHEST 0.2

/* As they are shown; worked out with quick powers. */
static const dw_law viscosity_law = {"mu", "viscosity, as of air", "Pa s", "us1976",
                                     "1.458e-6*pow(T_m, 1.5)/(T_m + 110.4)"};
static const dw_law floor_law = {"Re_4",
                                 "Reynolds number, at least 4000 since the flow comes in disturbed", "",
                                 "assumption", "fmax(Re, 4000.0)"};
static const dw_law rough_law = {
    "F_1", "intermediate number of the friction formula", "", "churchill1977",
    "pow(2.457*log(1.0/(pow(7.0/Re_4, 0.9) + 0.27*rough/D_h)), 16.0)"};
static const dw_law smooth_law = {"F_2", "of the same", "", "churchill1977",
                                  "pow(37530.0/Re_4, 16.0)"};
static const dw_law friction_law = {
    "fric", "friction factor", "", "churchill1977",
    "8.0*pow(pow(8.0/Re_4, 12.0) + pow(F_1 + F_2, -1.5), 1.0/12.0)"};

double dw_air_viscosity_pa_s(double temperature_k, dw_working *w)
{
    if (!(temperature_k > 0.0)) return NAN;
    return dw_law_step(w, "", NULL, NULL, &viscosity_law,
                       1.458e-6 * temperature_k * sqrt(temperature_k) / (temperature_k + 110.4));
}

static double power16(double x)
{
    const double x2 = x * x;
    const double x4 = x2 * x2;
    const double x8 = x4 * x4;
    return x8 * x8;
}

double dw_friction_factor(double reynolds, double relative_roughness, double reynolds_floor,
                          dw_working *w)
{
    if (!(reynolds > 0.0 && reynolds_floor >= 0.0 && relative_roughness >= 0.0 &&
          relative_roughness <= ROUGHEST)) {
        return NAN;
    }
    const double re =
        dw_law_step(w, "", NULL, NULL, &floor_law, fmax(reynolds, reynolds_floor));
    /* Header's formula to the last digit here, and its powers would overflow further down. */
    if (re < 1.0) return 64.0 / re;
    const double a =
        dw_law_step(w, "", NULL, NULL, &rough_law,
                    power16(2.457 * -log(pow(7.0 / re, 0.9) + 0.27 * relative_roughness)));
    const double b = dw_law_step(w, "", NULL, NULL, &smooth_law, power16(37530.0 / re));
    const double ab = a + b;
    const double l = 8.0 / re;
    const double l3 = l * l * l;
    const double l12 = l3 * l3 * l3 * l3;
    return dw_law_step(w, "", NULL, NULL, &friction_law,
                       8.0 * cbrt(sqrt(sqrt(l12 + 1.0 / (ab * sqrt(ab))))));
}

/* ---- joints -------------------------------------------------------------------------- */

DW_LAW(mean_temperature, "T_m", "temperature in the joint: the mean of room and chamber gas", "K",
       "assumption", (double T_room, double T_gas), (T_room + T_gas) / 2.0)
DW_LAW(joint_friction, "B", "friction of slow flow in the joint: pressure / speed", "Pa s/m", "baker1987",
       (double mu, double L_j, double w_j), 12.0 * mu * L_j / pow(w_j, 2.0))
DW_LAW(density_in, "rho_ji", "density of room air in the joint", "kg/m3", "definition",
       (double rho_room, double T_room, double T_m), rho_room * T_room / T_m)
DW_LAW(density_out, "rho_jo", "density of chamber gas in the joint", "kg/m3", "definition",
       (double rho_gas, double T_gas, double T_m), rho_gas * T_gas / T_m)
DW_LAW(root_term, "s", "root in the solution for the speed", "Pa s/m", "baker1987",
       (double B, double rho, double dp), sqrt(pow(B, 2.0) + 3.0 * rho * dp))
DW_LAW(speed, "v", "speed in the joint", "m/s", "baker1987", (double dp, double s, double B),
       2.0 * dp / (s + B))
DW_LAW(mean_speed, "v_m", "mean speed over the height", "m/s", "baker1987",
       (double B, double rho, double v_a, double v_b),
       (B * (v_a + v_b) + rho * (pow(v_a, 2.0) + v_a * v_b + pow(v_b, 2.0))) /
           (2.0 * B + 1.5 * rho * (v_a + v_b)))
DW_LAW(mean_speed_to_neutral, "v_m", "mean speed from that end to the neutral plane", "m/s", "baker1987",
       (double B, double rho, double v_a),
       (B * v_a + rho * pow(v_a, 2.0)) / (2.0 * B + 1.5 * rho * v_a))
DW_LAW(mass, "m", "", "kg/s", "definition", (double rho, double A_j, double v), rho * A_j * v)
DW_LAW(mass_of_share, "m", "", "kg/s", "definition", (double rho, double A_j, double s_end, double v_m),
       rho * A_j * s_end * v_m)

static bool all_finite(const double *value, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!isfinite(value[i])) return false;
    return true;
}

dw_status dw_joint_init(const dw_joint_size *size, const dw_joint_side *outside,
                        const dw_joint_side *inside, dw_working *w, dw_joint *joint)
{
    if (joint == NULL) return DW_ERR_ARG;
    *joint = (dw_joint){NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    if (size == NULL || outside == NULL || inside == NULL) return DW_ERR_ARG;
    const double given[] = {size->width_m,          size->depth_m,          size->length_m,
                            outside->rho_kg_m3,     inside->rho_kg_m3,      outside->temperature_k,
                            inside->temperature_k};
    const bool level = isnan(size->from_m) && isnan(size->to_m);
    if (!all_finite(given, sizeof given / sizeof given[0])) return DW_ERR_ARG;
    if (!level && !(isfinite(size->from_m) && isfinite(size->to_m))) return DW_ERR_ARG;
    if (!(size->width_m > 0.0 && size->depth_m > 0.0 && size->length_m >= 0.0 &&
          outside->rho_kg_m3 > 0.0 && inside->rho_kg_m3 > 0.0 && outside->temperature_k > 0.0 &&
          inside->temperature_k > 0.0) ||
        (!level && !(size->from_m < size->to_m))) {
        return DW_ERR_DOMAIN;
    }
    const double T_m = DW_STEP(w, mean_temperature, (outside->temperature_k, inside->temperature_k));
    const double mu = dw_air_viscosity_pa_s(T_m, w);
    joint->friction_pa_s_m = DW_STEP(w, joint_friction, (mu, size->depth_m, size->width_m));
    joint->in_rho_kg_m3 =
        DW_STEP(w, density_in, (outside->rho_kg_m3, outside->temperature_k, T_m));
    joint->out_rho_kg_m3 =
        DW_STEP(w, density_out, (inside->rho_kg_m3, inside->temperature_k, T_m));
    joint->area_m2 = size->width_m * size->length_m;
    if (level) return DW_OK;
    joint->from_m = size->from_m;
    joint->height_m = size->to_m - size->from_m;
    joint->rise_pa = (outside->rho_kg_m3 - inside->rho_kg_m3) * DW_G_M_S2 * joint->height_m;
    return DW_OK;
}

/* Speed at a pressure difference dp >= 0 and its root s, which is 1/slope. names: of rho and dp. */
static double speed_at(double friction_pa_s_m, double rho_kg_m3, double dp_pa, const char *names,
                       const char *meaning, dw_working *w, double *root)
{
    *root = DW_STEP_AS(w, "", names, NULL, root_term, (friction_pa_s_m, rho_kg_m3, dp_pa));
    return DW_STEP_AS(w, "", names, meaning, speed, (dp_pa, *root, friction_pa_s_m));
}

void dw_joint_flow(const dw_joint *joint, double pressure_pa, const dw_joint_names *names, dw_working *w,
                   dw_opening_flow *flow)
{
    const bool out = pressure_pa > 0.0;
    const double rho = out ? joint->out_rho_kg_m3 : joint->in_rho_kg_m3;
    const char *symbol = out ? "rho_jo" : "rho_ji";
    double root;
    const double v = speed_at(joint->friction_pa_s_m, rho, fabs(pressure_pa),
                              DW_LAW_TEXT(w, "rho>%s", symbol), NULL, w, &root);
    const double mass_kg_s =
        DW_STEP_AS(w, w != NULL ? names->mass_key : "",
                   DW_LAW_TEXT(w, "m>%s rho>%s", names->mass, symbol),
                   out ? "chamber gas pushed out" : "room air drawn in", mass, (rho, joint->area_m2, v));
    flow->mass_kg_s = out ? -mass_kg_s : mass_kg_s;
    flow->slope_kg_s_pa = -rho * joint->area_m2 / root;
}

static const char *mass_names(const dw_tall_names *n, bool in, const char *more, dw_working *w)
{
    if (w == NULL) return "";
    return dw_work_keepf(w, "m>%s rho>%s %s", in ? n->in : n->out, in ? "rho_ji" : "rho_jo", more);
}

/* What flows through a stretch, and how it changes with the pressure; its middle. */
static void put_stream(bool in, double mass_kg_s, double slope_kg_s_pa, double height_m,
                       dw_tall_flow *flow)
{
    if (in) {
        flow->in_kg_s = mass_kg_s;
        flow->in_slope_kg_s_pa = -slope_kg_s_pa;
        flow->in_height_m = height_m;
    } else {
        flow->out_kg_s = mass_kg_s;
        flow->out_slope_kg_s_pa = slope_kg_s_pa;
        flow->out_height_m = height_m;
    }
}

static const char *way_text(bool in) { return in ? "room air drawn in" : "chamber gas pushed out"; }

/* The joint draws in, or pushes out, over its whole height. */
static void one_way(const dw_joint *j, double low, double high, const dw_tall_names *n, dw_working *w,
                    dw_tall_flow *flow)
{
    const bool in = !(low > 0.0 || high > 0.0);
    const double rho = in ? j->in_rho_kg_m3 : j->out_rho_kg_m3;
    const char *symbol = in ? "rho_ji" : "rho_jo";
    double s_low, s_high;
    const double v_low = speed_at(j->friction_pa_s_m, rho, fabs(low),
                                  DW_LAW_TEXT(w, "rho>%s dp>abs(p_lo) s>s_a v>v_a", symbol),
                                  "speed at the lower end", w, &s_low);
    const double v_high = speed_at(j->friction_pa_s_m, rho, fabs(high),
                                   DW_LAW_TEXT(w, "rho>%s dp>abs(p_hi) s>s_b v>v_b", symbol),
                                   "speed at the upper end", w, &s_high);
    const double mean = DW_STEP_AS(w, "", DW_LAW_TEXT(w, "rho>%s", symbol), NULL, mean_speed,
                                   (j->friction_pa_s_m, rho, v_low, v_high));
    const double mass_kg_s = DW_STEP_AS(w, w != NULL ? (in ? n->in_mass : n->out_mass) : "",
                                        mass_names(n, in, "v>v_m", w), way_text(in), mass,
                                        (rho, j->area_m2, mean));
    put_stream(in, mass_kg_s, rho * j->area_m2 * 2.0 / (s_low + s_high), j->from_m + 0.5 * j->height_m,
               flow);
    if (w == NULL) return;
    dw_tall_write_place(DW_TALL_WHOLE, in, j->from_m + 0.5 * j->height_m, low + 0.5 * j->rise_pa, n, w);
}

/* One side of the neutral plane, from an end at which the pressure is `end`. */
static void one_side(const dw_joint *j, double end, double share, bool lower, const dw_tall_names *n,
                     dw_working *w, dw_tall_flow *flow)
{
    const double height_m =
        j->from_m + (lower ? 0.5 * share : 1.0 - 0.5 * share) * j->height_m;
    const bool in = end < 0.0;
    const double rho = in ? j->in_rho_kg_m3 : j->out_rho_kg_m3;
    const char *symbol = in ? "rho_ji" : "rho_jo", *at = lower ? "p_lo" : "p_hi";
    double root;
    const double v = speed_at(j->friction_pa_s_m, rho, fabs(end),
                              DW_LAW_TEXT(w, "rho>%s dp>abs(%s) s>s_a v>v_a", symbol, at),
                              lower ? "speed at the lower end" : "speed at the upper end", w, &root);
    const double mean = DW_STEP_AS(w, "", DW_LAW_TEXT(w, "rho>%s", symbol), NULL, mean_speed_to_neutral,
                                   (j->friction_pa_s_m, rho, v));
    const double mass_kg_s =
        DW_STEP_AS(w, w != NULL ? (in ? n->in_mass : n->out_mass) : "",
                   mass_names(n, in, lower ? "s_end>s_lo" : "s_end>s_hi", w), way_text(in), mass_of_share,
                   (rho, j->area_m2, share, mean));
    /* The moving inner end adds nothing, as the speed is 0 there. */
    put_stream(in, mass_kg_s, rho * j->area_m2 * v / fabs(j->rise_pa), height_m, flow);
    if (w == NULL) return;
    dw_tall_write_place(lower ? DW_TALL_LOWER : DW_TALL_UPPER, in, height_m, 0.5 * end, n, w);
}

void dw_joint_upright_flow(const dw_joint *joint, double pressure_from_pa, const dw_tall_names *names,
                           dw_working *w, dw_tall_flow *flow)
{
    const double low = pressure_from_pa, high = pressure_from_pa + joint->rise_pa;
    *flow = (dw_tall_flow){0};
    flow->in_height_m = flow->out_height_m = flow->neutral_m = NAN;
    if ((low < 0.0 && high > 0.0) || (low > 0.0 && high < 0.0)) {
        const double span = fabs(low) + fabs(high), s_lo = fabs(low) / span;
        if (w != NULL) dw_tall_write_shares(w);
        one_side(joint, low, s_lo, true, names, w, flow);
        one_side(joint, high, fabs(high) / span, false, names, w, flow);
        flow->neutral_m = joint->from_m + s_lo * joint->height_m;
    } else {
        one_way(joint, low, high, names, w, flow);
    }
    flow->net_kg_s = flow->in_kg_s - flow->out_kg_s;
    flow->net_slope_kg_s_pa = flow->in_slope_kg_s_pa - flow->out_slope_kg_s_pa;
}
