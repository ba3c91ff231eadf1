/* The working of the ratios that rules of thumb speak of. */
#include <math.h>
#include <string.h>

#include "rules.h"
#include "working_parts.h"
#include "working_point.h"

static void put_burner(dw_working *w, const dw_burner *b, const char *key)
{
    if (strcmp(key, "gas_pressure_pa") == 0) return;
    dw_work_put(w, DW_WORK_INPUT, "d_t", dw_work_keepf(w, "throat of '%.40s'", b->name), "m",
                b->throat_diameter_m);
    dw_work_put(w, DW_WORK_INPUT, "d_j", "diameter of its jet", "m", b->jet_diameter_m);
    dw_work_put(w, DW_WORK_INPUT, "d_p", "diameter of its port", "m", b->port_diameter_m);
}

/* What the ratios of the whole kiln are made of. */
static void put_kiln(dw_working *w, const dw_kiln *k, double heat_input_net_w)
{
    double ports_m2 = 0.0;
    for (int i = 0; i < k->burner_count; i++) {
        const dw_burner *b = &k->burner[i];
        if (isfinite(b->port_diameter_m)) {
            ports_m2 += b->count * 0.785398163397448309616 * b->port_diameter_m *
                        b->port_diameter_m;
        }
    }
    for (int i = 0; i < k->opening_count; i++) {
        const dw_opening *o = &k->opening[i];
        if (o->kind == DW_OPENING_HOLE) ports_m2 += o->count * o->area_m2 * o->open_frac;
    }
    dw_work_put(w, DW_WORK_INPUT, "width", "of the chamber", "m", k->chamber.width_m);
    dw_work_put(w, DW_WORK_INPUT, "depth", "of the chamber", "m", k->chamber.depth_m);
    dw_work_put(w, DW_WORK_INPUT, "height", "of the chamber", "m", k->chamber.height_m);
    dw_work_put(w, DW_WORK_STEP, "Q_net", "net heat input of the setting", "W", heat_input_net_w);
    dw_work_put(w, DW_WORK_INPUT, "A_all", "area of all flues", "m2", dw_kiln_flue_area_m2(k));
    dw_work_put(w, DW_WORK_INPUT, "A_ports", "area of all burner ports and open holes", "m2",
                ports_m2);
    dw_work_put(w, DW_WORK_INPUT, "H_st", "height of the stack", "m", k->stack.height_m);
    dw_work_put(w, DW_WORK_INPUT, "A_st", "area of the stack", "m2", k->stack.area_m2);
    dw_work_put(w, DW_WORK_INPUT, "A_leak", "area of the leaks", "m2", k->chamber.leak_area_m2);
}

void dw_working_rules(const dw_data *data, const dw_kiln *resolved, double heat_input_net_w,
                      dw_working *w)
{
    const struct {
        const char *key, *formula, *unit;
    } ratio[] = {
        {"heat_per_volume_w_m3", "Q_net/(width*depth*height)", "W/m3"},
        {"flue_to_port_area", "A_all/A_ports", ""},
        {"throat_to_jet_diameter", "d_t/d_j", ""},
        {"port_to_throat_area", "(d_p/d_t)^2", ""},
        {"stack_height_to_chamber_height", "H_st/height", ""},
        {"stack_width_to_chamber_width",
         resolved->stack.round ? "sqrt(4*A_st/pi)/width" : "sqrt(A_st)/width", ""},
        {"stack_to_flue_area", "A_st/A_all", ""},
        {"leak_per_surface", "A_leak/(2*(width*depth + width*height + depth*height))", ""},
    };
    dw_work_section(w, "Rules of thumb");
    put_kiln(w, resolved, heat_input_net_w);
    dw_rule_finding finding[DW_RULE_FINDING_MAX];
    const size_t count = dw_rules_look(data, resolved, heat_input_net_w, finding);
    for (size_t i = 0; i < count; i++) {
        const dw_rule_finding *f = &finding[i];
        if (f->state == DW_RULE_UNKNOWN) continue;
        for (size_t k = 0; k < sizeof ratio / sizeof ratio[0]; k++) {
            if (strcmp(ratio[k].key, f->rule->key) != 0) continue;
            if (f->burner >= 0) put_burner(w, &resolved->burner[f->burner], ratio[k].key);
            dw_work_text(w, "%s Usual: %.6g to %.6g%s%s.", f->rule->text, f->rule->low,
                         f->rule->high, ratio[k].unit[0] != '\0' ? " " : "", ratio[k].unit);
            dw_work_step_is(w, "", dw_work_keepf(w, "r_%zu", i + 1), f->rule->key, ratio[k].unit,
                            ratio[k].formula, f->value, f->rule->source);
        }
    }
}
