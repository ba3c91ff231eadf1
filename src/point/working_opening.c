/* The working of holes, cracks, joints, tall openings and the leak. */
#include <math.h>

#include "stack.h"
#include "working_steps.h"

static void put_one_height(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_opening *o = &p->solved->kiln.opening[i];
    dw_opening_flow flow;
    const double p_z = dw_network_opening(&p->solved->at, i, p->solved->state.pressure_pa, &flow);
    const bool in = flow.mass_kg_s >= 0.0;
    dw_work_put(w, DW_WORK_INPUT, "z", "its height", "m", o->height_m);
    dw_law_write(w, "", NULL, "pressure in the chamber at that height", dw_draft_pressure_law, p_z);
    dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_OPENING, i, "dp_pa"), "dp",
                    in ? "pressure that draws air in" : "pressure that pushes gas out", "Pa",
                    "abs(p_z)", fabs(p_z), "definition");
    if (o->kind == DW_OPENING_JOINT) {
        const dw_joint_names names = {dw_work_keepf(w, "m_o%d", i + 1),
                                      dw_work_flow_key(p, DW_FLOW_OPENING, i, "mass_kg_s")};
        dw_joint_flow(&p->solved->at.opening_joint[i], p_z, &names, w, &flow);
        return;
    }
    const bool crack = o->kind == DW_OPENING_CRACK;
    if (crack) {
        dw_work_put(w, DW_WORK_INPUT, "p_ref",
                    "pressure at which the area and the coefficient were measured", "Pa",
                    o->reference_pressure_pa);
        dw_work_put(w, DW_WORK_INPUT, "n", "exponent of a crack's flow", "", o->exponent);
    }
    dw_law_write(w, dw_work_flow_key(p, DW_FLOW_OPENING, i, "mass_kg_s"),
                 dw_work_keepf(w, crack ? "m>m_o%d rho>%s" : "m>m_o%d rho>%s A>Cd*A drive>dp", i + 1,
                               in ? "rho_room" : "rho_gas"),
                 in ? "room air drawn in" : "chamber gas pushed out",
                 crack ? &dw_crack_law : &dw_hole_law, fabs(flow.mass_kg_s));
}

/* Opening number index, or the leak, -1. */
static void put_upright(const dw_work_point *p, double from_m, double to_m, int index, const char *name)
{
    dw_working *w = p->w;
    const dw_network_at *at = &p->solved->at;
    const double datum_pa = p->solved->state.pressure_pa;
    const double low_pa = dw_network_pressure_pa(at, datum_pa, from_m);
    const dw_flow_kind in_kind = index < 0 ? DW_FLOW_LEAK_IN : DW_FLOW_TALL_IN;
    const dw_flow_kind out_kind = index < 0 ? DW_FLOW_LEAK_OUT : DW_FLOW_TALL_OUT;
    dw_work_put(w, DW_WORK_INPUT, "z_1", "lower end of the opening", "m", from_m);
    dw_work_put(w, DW_WORK_INPUT, "z_2", "upper end of the opening", "m", to_m);
    dw_law_write(w, "", "p_z>p_lo z>z_1", "pressure in the chamber at the lower end",
                 dw_draft_pressure_law, low_pa);
    dw_law_write(w, "", "p_z>p_hi p>p_lo z>z_2 z_0>z_1", "pressure in the chamber at the upper end",
                 dw_draft_pressure_law, dw_network_pressure_pa(at, datum_pa, to_m));
    const dw_tall_names names = {
        .in = dw_work_keepf(w, "m_in_%s", name),
        .out = dw_work_keepf(w, "m_out_%s", name),
        .in_mass = dw_work_flow_key(p, in_kind, index, "mass_kg_s"),
        .in_height = dw_work_flow_key(p, in_kind, index, "height_m"),
        .in_pressure = dw_work_flow_key(p, in_kind, index, "dp_pa"),
        .out_mass = dw_work_flow_key(p, out_kind, index, "mass_kg_s"),
        .out_height = dw_work_flow_key(p, out_kind, index, "height_m"),
        .out_pressure = dw_work_flow_key(p, out_kind, index, "dp_pa"),
    };
    dw_tall_flow flow;
    if (index < 0) {
        dw_tall_opening_flow(&at->leak, low_pa, &names, w, &flow);
    } else {
        dw_network_upright(at, index, datum_pa, &names, w, &flow);
    }
}

static void put_leak(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_chamber *c = &p->solved->kiln.chamber;
    dw_work_section(w, "Leaks: all joints and cracks, taken as one slot from floor to top");
    (void)dw_kiln_leak_area_m2(p->given, w);
    dw_work_put(w, DW_WORK_INPUT, "A_leak", "the same", "m2", c->leak_area_m2);
    dw_work_put(w, DW_WORK_INPUT, "Cd", "discharge coefficient", "", c->leak_discharge_coeff);
    put_upright(p, 0.0, c->height_m, -1, "leak");
}

/* What a joint is like; A_j, B and the densities in it. */
static void put_joint(const dw_work_point *p, int i)
{
    dw_working *w = p->w;
    const dw_opening *o = &p->solved->kiln.opening[i];
    dw_joint joint;
    dw_work_put(w, DW_WORK_INPUT, "w_j", "width of the gap", "m", o->width_m);
    dw_work_put(w, DW_WORK_INPUT, "L_j", "its depth, through the wall", "m", o->depth_m);
    dw_work_put(w, DW_WORK_INPUT, "b_1", "length of one joint", "m", o->length_m);
    dw_work_put(w, DW_WORK_INPUT, "open_o", "open share", "", o->open_frac);
    dw_work_step_is(w, "", "A_j", "open area of all these joints", "m2", "n_o*w_j*b_1*open_o", NAN,
                    "definition");
    if (dw_network_joint(&p->solved->at, i, w, &joint) != DW_OK) return;
}

/* The area of any other opening, and its coefficient. */
static void put_area(dw_working *w, const dw_opening *given, const dw_opening *o)
{
    dw_work_put(w, DW_WORK_INPUT, "A_1", "area of one opening, fully open", "m2", o->area_m2);
    dw_work_put(w, DW_WORK_INPUT, "open_o", "open share", "", o->open_frac);
    dw_work_step_is(w, "", "A", "open area of all these openings", "m2", "n_o*A_1*open_o", NAN,
                    "definition");
    (void)dw_opening_discharge_coeff(given, w);
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
        if (o->kind == DW_OPENING_JOINT) {
            put_joint(p, i);
        } else {
            put_area(w, &p->given->opening[i], o);
        }
        if (dw_opening_is_upright(o)) {
            put_upright(p, o->from_m, o->to_m, i, dw_work_keepf(w, "o%d", i + 1));
        } else {
            put_one_height(p, i);
        }
    }
    /* Without leaks the report has no line of them. */
    if (kiln->chamber.leak_area_m2 > 0.0) put_leak(p);
}
