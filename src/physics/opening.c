#include "opening.h"

#include <math.h>
#include <stddef.h>

#include "constants.h"

#define EPS DW_OPENING_SMOOTH_PA
#define BLEND_STILL 0.1 /* blend(0), the root of EPS */

/* As textbooks have it; worked out in a form that is quicker and has a slope. */
const dw_law dw_hole_law = {
    "m", "flow through a hole", "kg/s", "orifice-equation",
    "A*sqrt(2.0*rho)*drive/pow(pow(dp, 2.0) + pow(0.01, 2.0), 1.0/4.0)"};
const dw_law dw_crack_law = {
    "m", "flow through a crack", "kg/s", "contamw",
    "Cd*A*sqrt(2.0*rho*p_ref)*dp/p_ref*"
    "pow((pow(dp, 2.0) + pow(0.01, 2.0))/pow(p_ref, 2.0), (n - 1.0)/2.0)"};

/** Fourth root of p^2 + eps^2. */
static double blend(double p) { return sqrt(sqrt(p * p + EPS * EPS)); }

static dw_status check_opening(double area, double cd, double rho_outside, double rho_inside)
{
    if (!isfinite(area) || !isfinite(cd) || !isfinite(rho_outside) || !isfinite(rho_inside)) {
        return DW_ERR_ARG;
    }
    const bool in_domain = area >= 0.0 && cd > 0.0 && rho_outside > 0.0 && rho_inside > 0.0;
    return in_domain ? DW_OK : DW_ERR_DOMAIN;
}

dw_status dw_hole_init(double area_m2, double discharge_coeff, double rho_outside_kg_m3,
                       double rho_inside_kg_m3, dw_hole *hole)
{
    if (hole == NULL) return DW_ERR_ARG;
    hole->in_coeff = hole->out_coeff = NAN;
    const dw_status status =
        check_opening(area_m2, discharge_coeff, rho_outside_kg_m3, rho_inside_kg_m3);
    if (status != DW_OK) return status;
    hole->in_coeff = discharge_coeff * area_m2 * sqrt(2.0 * rho_outside_kg_m3);
    hole->out_coeff = discharge_coeff * area_m2 * sqrt(2.0 * rho_inside_kg_m3);
    return DW_OK;
}

void dw_hole_flow(const dw_hole *hole, double pressure_pa, dw_opening_flow *flow)
{
    const double p = pressure_pa;
    const double k = p > 0.0 ? hole->out_coeff : hole->in_coeff;
    const double r4 = p * p + EPS * EPS;
    const double r = sqrt(sqrt(r4));
    flow->mass_kg_s = -k * p / r;
    /* d/dp of p/r = (p^2/2 + eps^2)/r^5, since r^4 = p^2 + eps^2. */
    flow->slope_kg_s_pa = -k * (0.5 * p * p + EPS * EPS) / (r * r4);
}

dw_status dw_crack_init(double area_m2, double discharge_coeff, double exponent,
                        double reference_pressure_pa, double rho_outside_kg_m3,
                        double rho_inside_kg_m3, dw_crack *crack)
{
    if (crack == NULL) return DW_ERR_ARG;
    crack->in_coeff = crack->out_coeff = crack->exponent = NAN;
    const dw_status status =
        check_opening(area_m2, discharge_coeff, rho_outside_kg_m3, rho_inside_kg_m3);
    if (status != DW_OK) return status;
    if (!isfinite(exponent) || !isfinite(reference_pressure_pa)) return DW_ERR_ARG;
    if (!(exponent >= 0.5 && exponent <= 1.0) || !(reference_pressure_pa > 0.0)) {
        return DW_ERR_DOMAIN;
    }
    const double k = discharge_coeff * area_m2 * pow(reference_pressure_pa, 0.5 - exponent);
    crack->in_coeff = k * sqrt(2.0 * rho_outside_kg_m3);
    crack->out_coeff = k * sqrt(2.0 * rho_inside_kg_m3);
    crack->exponent = exponent;
    return DW_OK;
}

void dw_crack_flow(const dw_crack *crack, double pressure_pa, dw_opening_flow *flow)
{
    const double p = pressure_pa;
    const double k = p > 0.0 ? crack->out_coeff : crack->in_coeff;
    const double r4 = p * p + EPS * EPS;
    const double power = pow(r4, 0.5 * (crack->exponent - 1.0));
    flow->mass_kg_s = -k * p * power;
    /* d/dp of p r4^((n-1)/2) = r4^((n-1)/2) (n p^2 + eps^2)/r4. */
    flow->slope_kg_s_pa = -k * power * (crack->exponent * p * p + EPS * EPS) / r4;
}

dw_status dw_tall_init(double area_m2, double discharge_coeff, double from_m, double to_m,
                       double rho_outside_kg_m3, double rho_inside_kg_m3, dw_tall *tall)
{
    if (tall == NULL) return DW_ERR_ARG;
    *tall = (dw_tall){NAN, NAN, NAN, NAN, NAN};
    const dw_status status =
        check_opening(area_m2, discharge_coeff, rho_outside_kg_m3, rho_inside_kg_m3);
    if (status != DW_OK) return status;
    if (!isfinite(from_m) || !isfinite(to_m)) return DW_ERR_ARG;
    if (!(from_m < to_m)) return DW_ERR_DOMAIN;
    tall->in_coeff = discharge_coeff * area_m2 * sqrt(2.0 * rho_outside_kg_m3);
    tall->out_coeff = discharge_coeff * area_m2 * sqrt(2.0 * rho_inside_kg_m3);
    tall->from_m = from_m;
    tall->height_m = to_m - from_m;
    tall->rise_pa = (rho_outside_kg_m3 - rho_inside_kg_m3) * DW_G_M_S2 * tall->height_m;
    return DW_OK;
}

/** Mean of the blended root over a stretch whose end pressures p, q >= 0 have one sign, and the
 *  derivative of that mean when both ends shift alike. */
static void mean_root(double p, double q, double *mean, double *slope)
{
    const double a2 = sqrt(p * p + EPS * EPS), b2 = sqrt(q * q + EPS * EPS);
    const double a = sqrt(a2), b = sqrt(b2), ab = a * b;
    const double sum = p + q, squares = a2 + b2;
    *mean = (2.0 / 3.0) * (a2 + ab + b2) * sum / ((a + b) * squares);
    /* (p + q)/(p b + q a) lies between 1/a and 1/b; at p = q = 0 it is either. */
    const double cross = p * b + q * a;
    const bool still = !(cross > 0.0);
    *slope = (a2 * b2 + EPS * EPS) * (still ? 1.0 : sum) / ((still ? a : cross) * ab * squares);
}

/** The same from no pressure to p, of which blend_p is the blended root. */
static double mean_root_from_still(double p, double blend_p)
{
    const double a2 = blend_p * blend_p, still = BLEND_STILL;
    return (2.0 / 3.0) * (a2 + blend_p * still + EPS) * p / ((blend_p + still) * (a2 + EPS));
}

/* As they are shown; p_end and s_end are of the lower or the upper end. */
static const dw_law fourth_root_law = {"b_4", "", "Pa^(1/2)", "neutral-plane",
                                       "pow(pow(p_end, 2.0) + pow(0.01, 2.0), 1.0/4.0)"};
static const dw_law half_root_law = {
    "root", "mean root of the pressure from that end to the neutral plane", "Pa^(1/2)", "neutral-plane",
    "2.0/3.0*(pow(b_4, 2.0) + b_4*0.1 + pow(0.1, 2.0))/(b_4 + 0.1)*fabs(p_end)/"
    "(pow(b_4, 2.0) + pow(0.1, 2.0))"};
static const dw_law whole_root_law = {
    "root", "mean root of the pressure over the height", "Pa^(1/2)", "neutral-plane",
    "2.0/3.0*(pow(a_4, 2.0) + a_4*b_4 + pow(b_4, 2.0))/(a_4 + b_4)*(fabs(p_lo) + fabs(p_hi))/"
    "(pow(a_4, 2.0) + pow(b_4, 2.0))"};
static const dw_law half_flow_law = {"m", "", "kg/s", "neutral-plane", "Cd*A*s_end*sqrt(2.0*rho)*root"};
static const dw_law whole_flow_law = {"m", "", "kg/s", "neutral-plane", "Cd*A*sqrt(2.0*rho)*root"};
static const dw_law low_share_law = {"s_lo", "share of the height below the neutral plane", "",
                                     "neutral-plane", "fabs(p_lo)/(fabs(p_lo) + fabs(p_hi))"};
static const dw_law high_share_law = {"s_hi", "share above it", "", "neutral-plane",
                                      "fabs(p_hi)/(fabs(p_lo) + fabs(p_hi))"};
static const dw_law low_middle_law = {"z_m", "middle of that part", "m", "definition",
                                      "z_1 + s_lo/2.0*(z_2 - z_1)"};
static const dw_law high_middle_law = {"z_m", "middle of that part", "m", "definition",
                                       "z_2 - s_hi/2.0*(z_2 - z_1)"};
static const dw_law middle_law = {"z_m", "its middle", "m", "definition", "z_1 + (z_2 - z_1)/2.0"};
static const dw_law pressure_there_law = {"dp_m", "pressure there", "Pa", "draft-law",
                                          "fabs(p_lo + grad*(z_m - z_1))"};

void dw_tall_write_shares(dw_working *w)
{
    dw_law_write(w, "", NULL, NULL, &low_share_law, NAN);
    dw_law_write(w, "", NULL, NULL, &high_share_law, NAN);
}

void dw_tall_write_place(dw_tall_part part, bool in, double height_m, double pressure_pa,
                         const dw_tall_names *n, dw_working *w)
{
    static const dw_law *const height_laws[] = {
        [DW_TALL_WHOLE] = &middle_law, [DW_TALL_LOWER] = &low_middle_law, [DW_TALL_UPPER] = &high_middle_law};
    dw_law_write(w, in ? n->in_height : n->out_height, NULL, NULL, height_laws[part], height_m);
    dw_law_write(w, in ? n->in_pressure : n->out_pressure, NULL, NULL, &pressure_there_law,
                 fabs(pressure_pa));
}

/* A stream of a part, or of the whole height: what flows, the middle, the pressure there. */
static void write_stream(const dw_tall *tall, double low, bool in, const dw_tall_flow *flow,
                         const char *symbols, const dw_law *flow_law, dw_tall_part part,
                         const dw_tall_names *n, dw_working *w)
{
    const double height_m = in ? flow->in_height_m : flow->out_height_m;
    dw_law_write(w, in ? n->in_mass : n->out_mass,
                 dw_work_keepf(w, "m>%s rho>%s %s", in ? n->in : n->out, in ? "rho_room" : "rho_gas",
                               symbols),
                 in ? "room air drawn in" : "chamber gas pushed out", flow_law,
                 in ? flow->in_kg_s : flow->out_kg_s);
    dw_tall_write_place(part, in, height_m,
                        low + tall->rise_pa / tall->height_m * (height_m - tall->from_m), n, w);
}

static void write_one_way(const dw_tall *tall, double low, bool in, const dw_tall_flow *flow,
                          const dw_tall_names *n, dw_working *w)
{
    if (w == NULL) return;
    dw_law_write(w, "", "b_4>a_4 p_end>p_lo", "fourth root of the pressure term at the lower end",
                 &fourth_root_law, NAN);
    dw_law_write(w, "", "p_end>p_hi", "fourth root of the pressure term at the upper end",
                 &fourth_root_law, NAN);
    dw_law_write(w, "", NULL, NULL, &whole_root_law, NAN);
    write_stream(tall, low, in, flow, "", &whole_flow_law, DW_TALL_WHOLE, n, w);
}

static void write_two_way(const dw_tall *tall, double low, bool draws_low, const dw_tall_flow *flow,
                          const dw_tall_names *n, dw_working *w)
{
    if (w == NULL) return;
    dw_tall_write_shares(w);
    for (int i = 0; i < 2; i++) {
        const char *end = i == 0 ? "p_end>p_lo s_end>s_lo" : "p_end>p_hi s_end>s_hi";
        dw_law_write(w, "", end, "fourth root of the pressure term at that end", &fourth_root_law, NAN);
        dw_law_write(w, "", end, NULL, &half_root_law, NAN);
        write_stream(tall, low, draws_low == (i == 0), flow, end, &half_flow_law,
                     i == 0 ? DW_TALL_LOWER : DW_TALL_UPPER, n, w);
    }
}

/** The opening draws in, or pushes out, over its whole height. */
static void one_way(const dw_tall *tall, double low, double high, const dw_tall_names *names,
                    dw_working *w, dw_tall_flow *flow)
{
    double mean, slope;
    mean_root(fabs(low), fabs(high), &mean, &slope);
    const double middle = tall->from_m + 0.5 * tall->height_m;
    const bool in = !(low > 0.0 || high > 0.0);
    if (in) {
        flow->in_kg_s = tall->in_coeff * mean;
        flow->in_slope_kg_s_pa = -tall->in_coeff * slope;
        flow->in_height_m = middle;
    } else {
        flow->out_kg_s = tall->out_coeff * mean;
        flow->out_slope_kg_s_pa = tall->out_coeff * slope;
        flow->out_height_m = middle;
    }
    write_one_way(tall, low, in, flow, names, w);
}

/** Signs differ: the neutral plane cuts the opening in two. */
static void two_way(const dw_tall *tall, double low, double high, const dw_tall_names *names,
                    dw_working *w, dw_tall_flow *flow)
{
    const double per_span = 1.0 / (fabs(low) + fabs(high));
    const double low_share = fabs(low) * per_span;
    const double high_share = fabs(high) * per_span;
    const bool draws_low = low < 0.0;
    const double draw_pa = draws_low ? fabs(low) : fabs(high);
    const double push_pa = draws_low ? fabs(high) : fabs(low);

    /* Over one side: share times mean root from 0 to its end. Its slope by a shift of both ends is
     * the root at the end divided by the span: the moving inner end adds nothing, as the root is 0
     * there. */
    const double draw = blend(draw_pa), push = blend(push_pa);
    flow->in_kg_s =
        tall->in_coeff * (draws_low ? low_share : high_share) * mean_root_from_still(draw_pa, draw);
    flow->in_slope_kg_s_pa = -tall->in_coeff * draw_pa / draw * per_span;
    flow->out_kg_s =
        tall->out_coeff * (draws_low ? high_share : low_share) * mean_root_from_still(push_pa, push);
    flow->out_slope_kg_s_pa = tall->out_coeff * push_pa / push * per_span;

    const double low_middle_m = tall->from_m + 0.5 * low_share * tall->height_m;
    const double high_middle_m = tall->from_m + (1.0 - 0.5 * high_share) * tall->height_m;
    flow->in_height_m = draws_low ? low_middle_m : high_middle_m;
    flow->out_height_m = draws_low ? high_middle_m : low_middle_m;
    flow->neutral_m = tall->from_m + low_share * tall->height_m;
    write_two_way(tall, low, draws_low, flow, names, w);
}

void dw_tall_opening_flow(const dw_tall *tall, double pressure_from_pa, const dw_tall_names *names,
                          dw_working *w, dw_tall_flow *flow)
{
    const double low = pressure_from_pa;
    const double high = pressure_from_pa + tall->rise_pa;
    *flow = (dw_tall_flow){0};
    flow->in_height_m = flow->out_height_m = flow->neutral_m = NAN;
    const bool differ = (low < 0.0 && high > 0.0) || (low > 0.0 && high < 0.0);
    if (differ) {
        two_way(tall, low, high, names, w, flow);
    } else {
        one_way(tall, low, high, names, w, flow);
    }
    flow->net_kg_s = flow->in_kg_s - flow->out_kg_s;
    flow->net_slope_kg_s_pa = flow->in_slope_kg_s_pa - flow->out_slope_kg_s_pa;
}

dw_status dw_restriction_flow(double area_m2, double discharge_coeff, double rho_kg_m3,
                              double dp_pa, dw_restriction_state *state)
{
    if (state == NULL) return DW_ERR_ARG;
    *state = (dw_restriction_state){NAN, NAN, false};
    if (!isfinite(area_m2) || !isfinite(discharge_coeff) || !isfinite(rho_kg_m3) ||
        !isfinite(dp_pa)) {
        return DW_ERR_ARG;
    }
    if (!(area_m2 > 0.0 && discharge_coeff > 0.0 && rho_kg_m3 > 0.0)) return DW_ERR_DOMAIN;
    state->reversed = dp_pa <= 0.0;
    if (state->reversed) {
        state->mass_kg_s = 0.0;
        state->slope_kg_s_pa = 0.0;
        return DW_OK;
    }
    const double k = discharge_coeff * area_m2 * sqrt(2.0 * rho_kg_m3);
    const double r = blend(dp_pa);
    state->mass_kg_s = k * dp_pa / r;
    state->slope_kg_s_pa = k * (0.5 * dp_pa * dp_pa + EPS * EPS) / (r * r * r * r * r);
    return DW_OK;
}
