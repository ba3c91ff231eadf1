#include "rules.h"

#include <math.h>
#include <string.h>

#include "constants.h"

/* What the ratios are made of: of the whole kiln, and of the burner at hand. */
typedef struct sizes {
    double q_net_w, neutral_m, draft_base_pa;
    double width_m, depth_m, height_m, flues_m2, ports_m2, stack_m, stack_m2, leak_m2;
    bool stack, round_stack;
    const dw_burner *burner;
    const dw_kiln *kiln;
    const dw_result *point;   /* NULL: none, or not solved */
} sizes;

/* A ratio and the law it is by, whose symbol and source are those of the rule; NULL: nothing but a
 * number of the description or of the point. */
typedef struct ratio {
    double value;
    const dw_law *law;
    dw_rule_state beyond;   /* without a value: low or high all the same; else DW_RULE_USUAL, 0 */
} ratio;

/* Common practice: gas of the mains and of the regulators of appliances ends below it. */
static const double low_gas_pressure_pa = 5.0e3;

DW_LAW(heat_per_volume, "r", "heat_per_volume_w_m3", "W/m3", "definition",
       (double Q_net, double width, double depth, double height), Q_net / (width * depth * height))
DW_LAW(flue_to_port, "r", "flue_to_port_area", "", "definition", (double A_all, double A_ports),
       A_all / A_ports)
DW_LAW(throat_to_jet, "r", "throat_to_jet_diameter", "", "definition", (double d_t, double d_j), d_t / d_j)
DW_LAW(port_to_throat, "r", "port_to_throat_area", "", "definition", (double d_p, double d_t),
       pow(d_p / d_t, 2.0))
DW_LAW(stack_to_height, "r", "stack_height_to_chamber_height", "", "definition",
       (double H_st, double height), H_st / height)
DW_LAW(round_to_width, "r", "stack_width_to_chamber_width", "", "definition",
       (double A_st, double pi, double width), sqrt(4.0 * A_st / pi) / width)
DW_LAW(square_to_width, "r", "stack_width_to_chamber_width", "", "definition",
       (double A_st, double width), sqrt(A_st) / width)
DW_LAW(stack_to_flue, "r", "stack_to_flue_area", "", "definition", (double A_st, double A_all), A_st / A_all)
DW_LAW(leak_per_surface, "r", "leak_per_surface", "", "definition",
       (double A_leak, double width, double depth, double height),
       A_leak / (2.0 * (width * depth + width * height + depth * height)))
DW_LAW(flue_per_power, "r", "flue_area_per_net_power_m2_w", "m2/W", "definition",
       (double A_all, double Q_net), A_all / Q_net)
DW_LAW(neutral_to_height, "r", "neutral_plane_to_chamber_height", "", "definition",
       (double z_np, double height), z_np / height)
DW_LAW(draft_per_height, "r", "draft_per_stack_height_pa_m", "Pa/m", "definition",
       (double D_base, double H_st), D_base / H_st)

static ratio heat_per_volume_of(const sizes *s)
{
    return (ratio){.value = heat_per_volume(s->q_net_w, s->width_m, s->depth_m, s->height_m),
                   .law = &heat_per_volume_law};
}

static ratio flue_to_port_of(const sizes *s)
{
    return (ratio){.value = s->ports_m2 > 0.0 ? flue_to_port(s->flues_m2, s->ports_m2) : NAN,
                   .law = &flue_to_port_law};
}

static ratio stack_to_height_of(const sizes *s)
{
    return (ratio){.value = s->stack ? stack_to_height(s->stack_m, s->height_m) : NAN,
                   .law = &stack_to_height_law};
}

static ratio stack_to_width_of(const sizes *s)
{
    if (!s->stack) return (ratio){.value = NAN};
    if (s->round_stack) {
        return (ratio){.value = round_to_width(s->stack_m2, DW_PI, s->width_m), .law = &round_to_width_law};
    }
    return (ratio){.value = square_to_width(s->stack_m2, s->width_m), .law = &square_to_width_law};
}

static ratio stack_to_flue_of(const sizes *s)
{
    return (ratio){.value = s->stack ? stack_to_flue(s->stack_m2, s->flues_m2) : NAN,
                   .law = &stack_to_flue_law};
}

static ratio leak_per_surface_of(const sizes *s)
{
    return (ratio){.value = leak_per_surface(s->leak_m2, s->width_m, s->depth_m, s->height_m),
                   .law = &leak_per_surface_law};
}

static ratio throat_to_jet_of(const sizes *s)
{
    const dw_burner *b = s->burner;
    if (b->kind != DW_BURNER_INSPIRATING) return (ratio){.value = NAN};
    return (ratio){.value = throat_to_jet(b->throat_diameter_m, b->jet_diameter_m),
                   .law = &throat_to_jet_law};
}

static ratio port_to_throat_of(const sizes *s)
{
    const dw_burner *b = s->burner;
    if (b->kind != DW_BURNER_INSPIRATING) return (ratio){.value = NAN};
    return (ratio){.value = port_to_throat(b->port_diameter_m, b->throat_diameter_m),
                   .law = &port_to_throat_law};
}

static ratio gas_pressure_of(const sizes *s)
{
    return (ratio){.value = s->burner->lit ? s->burner->gas_pressure_pa : NAN};
}

static ratio flue_per_power_of(const sizes *s)
{
    return (ratio){.value = s->q_net_w > 0.0 ? flue_per_power(s->flues_m2, s->q_net_w) : NAN,
                   .law = &flue_per_power_law};
}

static ratio neutral_to_height_of(const sizes *s)
{
    if (s->point != NULL && s->point->neutral != DW_NEUTRAL_INSIDE) {
        const bool out = s->point->neutral == DW_NEUTRAL_ALL_OUT;
        return (ratio){.value = NAN, .beyond = out ? DW_RULE_LOW : DW_RULE_HIGH};
    }
    return (ratio){.value = neutral_to_height(s->neutral_m, s->height_m), .law = &neutral_to_height_law};
}

/* A stack with a gap draws on the room as well: its base says nothing of its height. */
static ratio draft_per_height_of(const sizes *s)
{
    const bool whole = s->stack && isnan(s->kiln->stack.hood_gap_height_m);
    return (ratio){.value = whole ? draft_per_height(s->draft_base_pa, s->stack_m) : NAN,
                   .law = &draft_per_height_law};
}

/* Primary air where all lit burners are of one sort; usual shares hold for one sort alone. */
static ratio primary_air_of(const sizes *s, dw_burner_kind kind, double above_pa, double up_to_pa)
{
    int lit = 0;
    for (int i = 0; i < s->kiln->burner_count; ++i) {
        const dw_burner *b = &s->kiln->burner[i];
        if (b->plugged || !b->lit) continue;
        if (b->kind != kind || b->gas_pressure_pa <= above_pa || b->gas_pressure_pa > up_to_pa) {
            return (ratio){.value = NAN};
        }
        ++lit;
    }
    return (ratio){.value = lit > 0 && s->point != NULL ? s->point->primary_aeration : NAN};
}

static ratio low_pressure_air_of(const sizes *s)
{
    return primary_air_of(s, DW_BURNER_INSPIRATING, -INFINITY, low_gas_pressure_pa);
}

static ratio high_pressure_air_of(const sizes *s)
{
    return primary_air_of(s, DW_BURNER_INSPIRATING, low_gas_pressure_pa, INFINITY);
}

static ratio blown_air_of(const sizes *s)
{
    return primary_air_of(s, DW_BURNER_BLOWN, -INFINITY, INFINITY);
}

static const struct {
    const char *key;
    ratio (*of)(const sizes *);
    bool of_burner;
} ratios[] = {
    {"heat_per_volume_w_m3", heat_per_volume_of, false},
    {"flue_to_port_area", flue_to_port_of, false},
    {"throat_to_jet_diameter", throat_to_jet_of, true},
    {"port_to_throat_area", port_to_throat_of, true},
    {"stack_height_to_chamber_height", stack_to_height_of, false},
    {"stack_width_to_chamber_width", stack_to_width_of, false},
    {"stack_to_flue_area", stack_to_flue_of, false},
    {"gas_pressure_pa", gas_pressure_of, true},
    {"leak_per_surface", leak_per_surface_of, false},
    {"flue_area_per_net_power_m2_w", flue_per_power_of, false},
    {"primary_air_low_pressure", low_pressure_air_of, false},
    {"primary_air_high_pressure", high_pressure_air_of, false},
    {"primary_air_blown", blown_air_of, false},
    {"neutral_plane_to_chamber_height", neutral_to_height_of, false},
    {"draft_per_stack_height_pa_m", draft_per_height_of, false},
};

static sizes sizes_of(const dw_kiln *k, const dw_result *point, dw_working *w)
{
    double ports_m2 = 0.0;
    for (int i = 0; i < k->burner_count; ++i) {
        const dw_burner *b = &k->burner[i];
        /* A burner blown through a closed pipe has no port that a draft could use. */
        if (isfinite(b->port_diameter_m)) {
            ports_m2 += b->count * 0.25 * DW_PI * b->port_diameter_m * b->port_diameter_m;
        }
    }
    for (int i = 0; i < k->opening_count; ++i) {
        const dw_opening *o = &k->opening[i];
        if (o->kind == DW_OPENING_HOLE) ports_m2 += o->count * o->area_m2 * o->open_frac;
    }
    const dw_work_origin input = DW_WORK_INPUT;
    if (point != NULL && !point->solved) point = NULL;
    sizes s = {.stack = k->stack.present, .round_stack = k->stack.round, .kiln = k, .point = point};
    s.width_m = dw_law_given(w, input, "width", "of the chamber", "m", k->chamber.width_m);
    s.depth_m = dw_law_given(w, input, "depth", "of the chamber", "m", k->chamber.depth_m);
    s.height_m = dw_law_given(w, input, "height", "of the chamber", "m", k->chamber.height_m);
    s.q_net_w = dw_law_given(w, DW_WORK_STEP, "Q_net", "net heat input of the setting", "W",
                             point != NULL ? point->heat_input_net_w : NAN);
    s.neutral_m = dw_law_given(w, DW_WORK_STEP, "z_np", "height of the neutral plane at the setting", "m",
                               point != NULL ? point->neutral_plane_m : NAN);
    s.draft_base_pa = dw_law_given(w, DW_WORK_STEP, "D_base", "draft at the base of the stack at the setting", "Pa",
                                   point != NULL ? point->draft_stack_base_pa : NAN);
    s.flues_m2 = dw_law_given(w, input, "A_all", "area of all flues", "m2", dw_kiln_flue_area_m2(k));
    s.ports_m2 = dw_law_given(w, input, "A_ports", "area of all burner ports and open holes", "m2",
                              ports_m2);
    s.stack_m = dw_law_given(w, input, "H_st", "height of the stack", "m", k->stack.height_m);
    s.stack_m2 = dw_law_given(w, input, "A_st", "area of the stack", "m2", k->stack.area_m2);
    s.leak_m2 = dw_law_given(w, input, "A_leak", "area of the leaks", "m2", k->chamber.leak_area_m2);
    return s;
}

static dw_rule_finding judge(const dw_rule *rule, int burner, ratio found)
{
    const double value = found.value;
    dw_rule_finding finding = {rule, burner, value, DW_RULE_USUAL};
    if (!isfinite(value)) {
        finding.value = NAN;
        finding.state = found.beyond != DW_RULE_USUAL ? found.beyond : DW_RULE_UNKNOWN;
    } else if (value < rule->low) {
        finding.state = DW_RULE_LOW;
    } else if (value > rule->high) {
        finding.state = DW_RULE_HIGH;
    }
    return finding;
}

/* The usual interval in words and the step of a ratio, the number-th of all. */
static void write_down(const dw_rule_finding *f, ratio found, size_t number, const dw_burner *b,
                       dw_working *w)
{
    if (found.law == NULL || f->state == DW_RULE_UNKNOWN) return;
    if (b != NULL) {
        dw_work_put(w, DW_WORK_INPUT, "d_t", dw_work_keepf(w, "throat of '%.40s'", b->name), "m",
                    b->throat_diameter_m);
        dw_work_put(w, DW_WORK_INPUT, "d_j", "diameter of its jet", "m", b->jet_diameter_m);
        dw_work_put(w, DW_WORK_INPUT, "d_p", "diameter of its port", "m", b->port_diameter_m);
    }
    dw_law law = *found.law;
    law.source = f->rule->source;
    dw_work_text(w, "%s Usual: %.6g to %.6g%s%s.", f->rule->text, f->rule->low, f->rule->high,
                 law.unit[0] != '\0' ? " " : "", law.unit);
    dw_law_write(w, "", dw_work_keepf(w, "r>r_%zu", number), NULL, &law, f->value);
}

size_t dw_rules_look(const dw_data *data, const dw_kiln *kiln, const dw_result *point, dw_working *w,
                     dw_rule_finding *findings)
{
    if (w != NULL) dw_work_section(w, "Rules of thumb");
    sizes s = sizes_of(kiln, point, w);
    size_t count = 0;
    for (size_t r = 0; r < data->rule_count && r < DW_RULE_MAX; ++r) {
        const dw_rule *rule = &data->rule[r];
        size_t k = 0;
        while (k < sizeof ratios / sizeof ratios[0] && strcmp(rule->key, ratios[k].key) != 0) ++k;
        if (k == sizeof ratios / sizeof ratios[0]) continue;
        for (int i = 0; i < (ratios[k].of_burner ? kiln->burner_count : 1); ++i) {
            s.burner = ratios[k].of_burner ? &kiln->burner[i] : NULL;
            if (s.burner != NULL && s.burner->plugged) continue;
            const ratio found = ratios[k].of(&s);
            findings[count] = judge(rule, s.burner != NULL ? i : -1, found);
            if (w != NULL) write_down(&findings[count], found, count + 1, s.burner, w);
            ++count;
        }
    }
    return count;
}
