/* The working of dampers and flues: what drives the gas, and what flows. */
#include <math.h>

#include "stack.h"
#include "working_steps.h"

static void put_flow(const dw_work_point *p, int i, const dw_flow *f)
{
    dw_working *w = p->w;
    if (f->dp_pa < 0.0) {
        /* What comes back is that of the stack base: after it. */
        dw_work_step_is(w, "", dw_work_keepf(w, "az_f%d", i + 1),
                        "flue area / square root of the loss; gas comes back through this flue", "m2",
                        "A_f/sqrt(zeta)", NAN, "definition");
        return;
    }
    dw_law_write(w, dw_work_flow_key(p, DW_FLOW_FLUE, i, "mass_kg_s"),
                 dw_work_keepf(w, "m>m_f%d A>A_f rho>rho_gas/zeta drive>dp_f%d dp>dp_f%d", i + 1,
                               i + 1, i + 1),
                 "chamber gas through the flue", &dw_hole_law, f->mass_kg_s);
}

void dw_work_flues(const dw_work_point *p)
{
    dw_working *w = p->w;
    const dw_kiln *kiln = &p->solved->kiln;
    const dw_network *net = &p->solved->net;
    if (net->has_stack) {
        dw_work_section(w, "The stack base");
        dw_work_put(w, DW_WORK_SOLVED, "p_s", "pressure at the stack base, relative to the room",
                    "Pa",
                    p->solved->state.stack_base_pa);
        dw_work_put(w, DW_WORK_INPUT, "z_s", "height of the stack base", "m", net->base_height_m);
        dw_work_step_is(w, "draft_stack_base_pa", "D_s", "draft at the stack base", "Pa", "-p_s",
                        p->result->draft_stack_base_pa, "definition");
        /* What fills the stack when it does not pull, and what stands beside it. */
        double far_k, far_kg_m3;
        dw_network_far_air(net, w, &far_k, &far_kg_m3);
    }
    for (int i = 0; i < kiln->flue_count; i++) {
        const dw_flow *f = dw_work_flow(p, DW_FLOW_FLUE, i);
        if (f == NULL) continue;
        dw_work_section(w, "Flue '%s' and its damper", kiln->flue[i].name);
        dw_flue_law law;
        if (dw_network_flue_law(net, p->given, i, w, &law) != DW_OK) continue;
        dw_work_put(w, DW_WORK_INPUT, "z_f", "height of the flue", "m", law.height_m);
        dw_law_write(w, "", "p_z>p_f z>z_f", "pressure in the chamber at the flue", dw_draft_pressure_law,
                     dw_network_pressure_pa(&p->solved->at, p->solved->state.pressure_pa, law.height_m));
        const double far_pa =
            dw_network_flue_far_pa(&p->solved->at, p->solved->state.stack_base_pa, i, w);
        if (i == 0 && net->has_stack) {
            dw_work_step_is(w, "draft_flue_exit_pa", "D_far", "draft after the (first) damper", "Pa",
                            "-p_far", -far_pa, "definition");
        }
        dw_work_step_is(w, dw_work_flow_key(p, DW_FLOW_FLUE, i, "dp_pa"),
                        dw_work_keepf(w, "dp_f%d", i + 1), "pressure that drives the gas", "Pa",
                        "p_f - p_far", f->dp_pa, "definition");
        put_flow(p, i, f);
    }
}
