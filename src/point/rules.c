#include "rules.h"

#include <math.h>
#include <string.h>

#include "constants.h"

typedef double (*kiln_ratio)(const dw_kiln *kiln, double heat_input_net_w);
typedef double (*burner_ratio)(const dw_burner *burner);

static double round_area(double diameter_m)
{
    return 0.25 * DW_PI * diameter_m * diameter_m;
}

static double heat_per_volume(const dw_kiln *kiln, double heat_input_net_w)
{
    return heat_input_net_w / dw_chamber_volume_m3(&kiln->chamber);
}

static double flue_to_port(const dw_kiln *kiln, double heat_input_net_w)
{
    (void)heat_input_net_w;
    double ports = 0.0;
    for (int i = 0; i < kiln->burner_count; ++i) {
        const dw_burner *b = &kiln->burner[i];
        /* A burner blown through a closed pipe has no port that a draft could use. */
        if (isfinite(b->port_diameter_m)) ports += b->count * round_area(b->port_diameter_m);
    }
    for (int i = 0; i < kiln->opening_count; ++i) {
        const dw_opening *o = &kiln->opening[i];
        if (o->kind == DW_OPENING_HOLE) ports += o->count * o->area_m2 * o->open_frac;
    }
    return ports > 0.0 ? dw_kiln_flue_area_m2(kiln) / ports : NAN;
}

static double stack_to_chamber_height(const dw_kiln *kiln, double heat_input_net_w)
{
    (void)heat_input_net_w;
    return kiln->stack.present ? kiln->stack.height_m / kiln->chamber.height_m : NAN;
}

static double stack_to_chamber_width(const dw_kiln *kiln, double heat_input_net_w)
{
    (void)heat_input_net_w;
    if (!kiln->stack.present) return NAN;
    const double area = kiln->stack.area_m2;
    const double width = kiln->stack.round ? sqrt(4.0 * area / DW_PI) : sqrt(area);
    return width / kiln->chamber.width_m;
}

static double stack_to_flue(const dw_kiln *kiln, double heat_input_net_w)
{
    (void)heat_input_net_w;
    return kiln->stack.present ? kiln->stack.area_m2 / dw_kiln_flue_area_m2(kiln) : NAN;
}

static double leak_per_surface(const dw_kiln *kiln, double heat_input_net_w)
{
    (void)heat_input_net_w;
    return kiln->chamber.leak_area_m2 / dw_chamber_surface_m2(&kiln->chamber);
}

static double throat_to_jet(const dw_burner *b)
{
    return b->kind == DW_BURNER_INSPIRATING ? b->throat_diameter_m / b->jet_diameter_m : NAN;
}

static double port_to_throat(const dw_burner *b)
{
    if (b->kind != DW_BURNER_INSPIRATING) return NAN;
    return round_area(b->port_diameter_m) / round_area(b->throat_diameter_m);
}

static double gas_pressure(const dw_burner *b)
{
    return b->lit ? b->gas_pressure_pa : NAN;
}

/* Exactly one of the two is set. */
static const struct {
    const char *key;
    kiln_ratio kiln;
    burner_ratio burner;
} ratios[] = {
    {"heat_per_volume_w_m3", heat_per_volume, NULL},
    {"flue_to_port_area", flue_to_port, NULL},
    {"throat_to_jet_diameter", NULL, throat_to_jet},
    {"port_to_throat_area", NULL, port_to_throat},
    {"stack_height_to_chamber_height", stack_to_chamber_height, NULL},
    {"stack_width_to_chamber_width", stack_to_chamber_width, NULL},
    {"stack_to_flue_area", stack_to_flue, NULL},
    {"gas_pressure_pa", NULL, gas_pressure},
    {"leak_per_surface", leak_per_surface, NULL},
};

static dw_rule_finding judge(const dw_rule *rule, int burner, double value)
{
    dw_rule_finding finding = {rule, burner, value, DW_RULE_USUAL};
    if (!isfinite(value)) {
        finding.value = NAN;
        finding.state = DW_RULE_UNKNOWN;
    } else if (value < rule->low) {
        finding.state = DW_RULE_LOW;
    } else if (value > rule->high) {
        finding.state = DW_RULE_HIGH;
    }
    return finding;
}

size_t dw_rules_look(const dw_data *data, const dw_kiln *kiln, double heat_input_net_w,
                     dw_rule_finding *findings)
{
    size_t count = 0;
    for (size_t r = 0; r < data->rule_count && r < DW_RULE_MAX; ++r) {
        const dw_rule *rule = &data->rule[r];
        for (size_t k = 0; k < sizeof ratios / sizeof ratios[0]; ++k) {
            if (strcmp(rule->key, ratios[k].key) != 0) continue;
            if (ratios[k].kiln != NULL) {
                findings[count++] = judge(rule, -1, ratios[k].kiln(kiln, heat_input_net_w));
                break;
            }
            for (int i = 0; i < kiln->burner_count; ++i) {
                if (kiln->burner[i].plugged) continue;
                findings[count++] = judge(rule, i, ratios[k].burner(&kiln->burner[i]));
            }
            break;
        }
    }
    return count;
}
