/* The working of holes, cracks, tall openings and the leak. */
#include <math.h>

#include "working_steps.h"

/* Flow and driving pressure of one direction as the report has them. */
static void put_flow(const dw_work_point *p, dw_flow_kind kind, int index, const char *symbol,
                     const char *meaning, const char *formula, const char *source)
{
    const dw_flow *f = dw_work_flow(p, kind, index);
    dw_work_step_is(p->w, dw_work_flow_key(p, kind, index, "mass_kg_s"), symbol, meaning, "kg/s",
                    formula, f != NULL ? fabs(f->mass_kg_s) : NAN, source);
}

static void put_one_height(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_opening *o = &p->solved->kiln.opening[i];
    const dw_flow *f = dw_work_flow(p, DW_FLOW_OPENING, i);
    const bool in = f != NULL && f->mass_kg_s >= 0.0;
    dw_work_put(w, DW_WORK_INPUT, "z", "its height", "m", o->height_m);
    dw_work_step_is(w, "", "p_z", "pressure in the chamber at that height", "Pa",
                    "p + grad*(z - z_0)", NAN,
                    "draft-law");
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_OPENING, i, "dp_pa"), "dp",
                    in ? "pressure that draws air in" : "pressure that pushes gas out", "Pa",
                    "abs(p_z)",
                    f != NULL ? f->dp_pa : NAN, "definition");
    const char *symbol = dw_work_keepf(w, "m_o%d", i + 1), *rho = in ? "rho_room" : "rho_gas";
    const char *what = in ? "room air drawn in" : "chamber gas pushed out";
    if (o->kind == DW_OPENING_HOLE) {
        put_flow(p, DW_FLOW_OPENING, i, symbol, what,
                 dw_work_keepf(w, "Cd*A*sqrt(2*%s)*dp/(dp^2 + " DW_WORK_BLEND "^2)^(1/4)", rho),
                 "orifice-equation");
        return;
    }
    dw_work_put(w, DW_WORK_INPUT, "p_ref", "pressure at which the area and the coefficient were "
                                           "measured", "Pa",
                o->reference_pressure_pa);
    dw_work_put(w, DW_WORK_INPUT, "n", "exponent of a crack's flow", "", o->exponent);
    put_flow(p, DW_FLOW_OPENING, i, symbol, what,
             dw_work_keepf(w,
                           "Cd*A*sqrt(2*%s*p_ref)*dp/p_ref*((dp^2 + " DW_WORK_BLEND
                           "^2)/p_ref^2)^((n - 1)/2)",
                           rho),
             "contamw");
}

/* Draws in or pushes out over a stretch from the end where the pressure is `end` ("p_lo" or "p_hi")
 * to the neutral plane, of `share` of the height. */
static void put_half(const dw_work_point *p, bool low, bool in, dw_flow_kind kind, int index,
                     const char *symbol)
{
    dw_working *w = p->w;
    const char *end = low ? "p_lo" : "p_hi", *share = low ? "s_lo" : "s_hi";
    dw_work_step_is(w, "", "b_4", "fourth root of the pressure term at that end", "Pa^(1/2)",
                    dw_work_keepf(w, "(%s^2 + " DW_WORK_BLEND "^2)^(1/4)", end), NAN,
                    "neutral-plane");
    dw_work_step_is(w, "", "root", "mean root of the pressure from that end to the neutral plane",
                    "Pa^(1/2)",
                    dw_work_keepf(w, "2/3*(b_4^2 + b_4*0.1 + 0.1^2)/(b_4 + 0.1)*abs(%s)/"
                                     "(b_4^2 + 0.1^2)",
                                  end),
                    NAN, "neutral-plane");
    put_flow(p, kind, index, symbol, in ? "room air drawn in" : "chamber gas pushed out",
             dw_work_keepf(w, "Cd*A*%s*sqrt(2*%s)*root", share, in ? "rho_room" : "rho_gas"),
             "neutral-plane");
    const dw_flow *f = dw_work_flow(p, kind, index);
    dw_work_step_is(w, dw_work_flow_key(p, kind, index, "height_m"), "z_m",
                    "middle of that part", "m",
                    low ? "z_1 + s_lo/2*(z_2 - z_1)" : "z_2 - s_hi/2*(z_2 - z_1)",
                    f != NULL ? f->height_m : NAN, "definition");
    dw_work_step_is(w, dw_work_flow_key(p, kind, index, "dp_pa"), "dp_m", "pressure there", "Pa",
                    "abs(p_lo + grad*(z_m - z_1))", f != NULL ? f->dp_pa : NAN, "draft-law");
}

static void put_tall(const dw_work_point *p, double from_m, double to_m, double low_pa,
                     double high_pa, dw_flow_kind in_kind, dw_flow_kind out_kind, int index,
                     const char *name)
{
    dw_working *w = p->w;
    dw_work_put(w, DW_WORK_INPUT, "z_1", "lower end of the opening", "m", from_m);
    dw_work_put(w, DW_WORK_INPUT, "z_2", "upper end of the opening", "m", to_m);
    dw_work_step_is(w, "", "p_lo", "pressure in the chamber at the lower end", "Pa",
                    "p + grad*(z_1 - z_0)", NAN, "draft-law");
    dw_work_step_is(w, "", "p_hi", "pressure in the chamber at the upper end", "Pa",
                    "p_lo + grad*(z_2 - z_1)", NAN,
                    "draft-law");
    const char *in_symbol = dw_work_keepf(w, "m_in_%s", name);
    const char *out_symbol = dw_work_keepf(w, "m_out_%s", name);
    if ((low_pa < 0.0 && high_pa > 0.0) || (low_pa > 0.0 && high_pa < 0.0)) {
        dw_work_step_is(w, "", "s_lo", "share of the height below the neutral plane", "",
                        "abs(p_lo)/(abs(p_lo) + abs(p_hi))", NAN, "neutral-plane");
        dw_work_step_is(w, "", "s_hi", "share above it", "", "abs(p_hi)/(abs(p_lo) + abs(p_hi))",
                        NAN, "neutral-plane");
        const bool draws_low = low_pa < 0.0;
        put_half(p, true, draws_low, draws_low ? in_kind : out_kind, index,
                 draws_low ? in_symbol : out_symbol);
        put_half(p, false, !draws_low, draws_low ? out_kind : in_kind, index,
                 draws_low ? out_symbol : in_symbol);
        return;
    }
    const bool in = !(low_pa > 0.0 || high_pa > 0.0);
    const dw_flow_kind kind = in ? in_kind : out_kind;
    const dw_flow *f = dw_work_flow(p, kind, index);
    dw_work_step_is(w, "", "a_4", "fourth root of the pressure term at the lower end", "Pa^(1/2)",
                    "(p_lo^2 + " DW_WORK_BLEND "^2)^(1/4)", NAN, "neutral-plane");
    dw_work_step_is(w, "", "b_4", "fourth root of the pressure term at the upper end", "Pa^(1/2)",
                    "(p_hi^2 + " DW_WORK_BLEND "^2)^(1/4)", NAN, "neutral-plane");
    dw_work_step_is(w, "", "root", "mean root of the pressure over the height", "Pa^(1/2)",
                    "2/3*(a_4^2 + a_4*b_4 + b_4^2)/(a_4 + b_4)*(abs(p_lo) + abs(p_hi))/"
                    "(a_4^2 + b_4^2)",
                    NAN, "neutral-plane");
    put_flow(p, kind, index, in ? in_symbol : out_symbol,
             in ? "room air drawn in" : "chamber gas pushed out",
             dw_work_keepf(w, "Cd*A*sqrt(2*%s)*root", in ? "rho_room" : "rho_gas"),
             "neutral-plane");
    dw_work_step_is(w, dw_work_flow_key(p, kind, index, "height_m"), "z_m", "its middle", "m",
                    "z_1 + (z_2 - z_1)/2", f != NULL ? f->height_m : NAN, "definition");
    dw_work_step_is(w, dw_work_flow_key(p, kind, index, "dp_pa"), "dp_m", "pressure there", "Pa",
                    "abs(p_lo + grad*(z_m - z_1))", f != NULL ? f->dp_pa : NAN, "draft-law");
}

static void put_leak(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_chamber *c = &p->solved->kiln.chamber;
    dw_work_section(w, "Leaks: all joints and cracks, taken as one slot from floor to top");
    (void)dw_kiln_leak_area_m2(p->given, w);
    dw_work_put(w, DW_WORK_INPUT, "A_leak", "the same", "m2", c->leak_area_m2);
    dw_work_put(w, DW_WORK_INPUT, "Cd", "discharge coefficient", "", c->leak_discharge_coeff);
    put_tall(p, 0.0, c->height_m, p->result->pressure_floor_pa,
             p->result->pressure_floor_pa + p->solved->at.leak.rise_pa, DW_FLOW_LEAK_IN,
             DW_FLOW_LEAK_OUT, -1, "leak");
}

void dw_work_openings(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_kiln *kiln = &p->solved->kiln;
    for (int i = 0; i < kiln->opening_count; i++) {
        const dw_opening *o = &kiln->opening[i];
        if (!(o->open_frac > 0.0)) continue;
        dw_work_section(w, "Opening '%s'", o->name);
        dw_work_put(w, DW_WORK_INPUT, "n_o", "pieces", "", o->count);
        dw_work_put(w, DW_WORK_INPUT, "A_1", "area of one opening, fully open", "m2", o->area_m2);
        dw_work_put(w, DW_WORK_INPUT, "open_o", "open share", "", o->open_frac);
        dw_work_step_is(w, "", "A", "open area of all these openings", "m2", "n_o*A_1*open_o", NAN,
                        "definition");
        dw_work_put(w, DW_WORK_INPUT, "Cd", "discharge coefficient", "", o->discharge_coeff);
        if (o->kind == DW_OPENING_TALL) {
            const double low_pa =
                dw_network_pressure_pa(&p->solved->at, p->result->pressure_datum_pa, o->from_m);
            put_tall(p, o->from_m, o->to_m, low_pa, low_pa + p->solved->at.opening_tall[i].rise_pa,
                     DW_FLOW_TALL_IN, DW_FLOW_TALL_OUT, i, dw_work_keepf(w, "o%d", i + 1));
        } else {
            put_one_height(p, i);
        }
    }
    /* Without leaks the report has no line of them. */
    if (kiln->chamber.leak_area_m2 > 0.0) put_leak(p);
}
