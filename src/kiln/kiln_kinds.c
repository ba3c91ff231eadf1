#include "kiln_kinds.h"

#include <math.h>
#include <string.h>

#include "kiln_schema.h"

/* Defaults in force for the kind unknown in place of the middle in config/spreads.yaml. Take a line out, and the
 * table decides. (dw_burner_init() has the same numbers, for kilns that are not read from a file.) */
static const struct {
    const char *input;
    double value;
} kept[] = {
    {"burners.*.jet.discharge_coefficient", 0.85},
    {"burners.*.jet.velocity_coefficient", 0.97},
    {"burners.*.port_temperature_ratio", 1.0},
    {"chamber.leak_per_surface", 0.001},
    {"openings.*.discharge_coefficient", 0.62},
    {"flues.*.floor_loss", NAN}, /* none */
};

#define BURNERS "burners.*."

/* Inputs of a burner with kinds; by_jet: the kind is that of its jet, else it is not asked for. */
static const struct {
    const char *input;
    bool by_jet;
} of_burner[] = {
    {BURNERS "jet.discharge_coefficient", true}, {BURNERS "jet.velocity_coefficient", true},
    {BURNERS "inlet_loss", false},               {BURNERS "throat_friction", false},
    {BURNERS "diffuser_recovery", false},        {BURNERS "port_loss", false},
    {BURNERS "port_temperature_ratio", false},
};

double dw_kind_default(const dw_spreads *spreads, const char *input, const char *kind)
{
    for (size_t i = 0; strcmp(kind, DW_KIND_UNKNOWN) == 0 && i < sizeof kept / sizeof kept[0]; i++) {
        if (strcmp(kept[i].input, input) == 0) return kept[i].value;
    }
    const dw_spread_row *row = dw_spread_find(spreads, input, kind);
    return row != NULL ? row->middle : NAN;
}

void dw_burner_take_kinds(dw_burner *burner, unsigned long long given, const dw_spreads *spreads)
{
    const dw_keys *keys = dw_keys_of(DW_OBJECT_BURNER);
    const char *jet = keys->key[dw_keys_row(keys, "jet.kind")].words[burner->jet_kind];
    bool decides = false;
    for (size_t i = 0; i < sizeof of_burner / sizeof of_burner[0]; i++) {
        const int row = dw_keys_row(keys, of_burner[i].input + strlen(BURNERS));
        const dw_key *key = &keys->key[row];
        if ((given >> row & 1u) != 0) continue;
        decides = decides || (of_burner[i].by_jet && dw_key_applies(key, (unsigned)burner->kind));
        double value = dw_kind_default(spreads, of_burner[i].input,
                                       of_burner[i].by_jet ? jet : DW_KIND_UNKNOWN);
        if (burner->jet_kind == DW_JET_THIN && key->offset == offsetof(dw_burner, jet_discharge_coeff)) {
            value = NAN;
        }
        memcpy((char *)burner + key->offset, &value, sizeof value);
    }
    burner->jet_coeffs_given = !decides;
}

/* Word of an object's kind: its index in the words of a key. */
static const char *word_of(dw_object object, const char *key, int kind)
{
    const dw_keys *keys = dw_keys_of(object);
    return keys->key[dw_keys_row(keys, key)].words[kind];
}

void dw_chamber_take_kinds(dw_chamber *chamber, const dw_spreads *spreads)
{
    chamber->leak_per_surface =
        dw_kind_default(spreads, "chamber.leak_per_surface",
                        word_of(DW_OBJECT_CHAMBER, "leak_kind", (int)chamber->leak_kind));
}

void dw_opening_take_kinds(dw_opening *opening, unsigned long long given, const dw_spreads *spreads)
{
    static const char input[] = "openings.*.discharge_coefficient";
    const int row = dw_keys_row(dw_keys_of(DW_OBJECT_OPENING), "discharge_coefficient");
    opening->thin_coeff = dw_kind_default(spreads, input, "thin");
    opening->deep_coeff = dw_kind_default(spreads, input, "deep");
    if ((given >> row & 1u) != 0) return;
    const bool by_depth = opening->kind == DW_OPENING_HOLE && !isnan(opening->depth_m);
    opening->discharge_coeff = by_depth ? NAN : dw_kind_default(spreads, input, DW_KIND_UNKNOWN);
}

void dw_flue_take_kinds(dw_flue *flue, unsigned long long given, const dw_spreads *spreads)
{
    const int row = dw_keys_row(dw_keys_of(DW_OBJECT_FLUE), "floor_loss");
    flue->floor_loss_given = (given >> row & 1u) != 0;
    if (flue->floor_loss_given) return;
    flue->floor_loss = dw_kind_default(spreads, "flues.*.floor_loss",
                                       word_of(DW_OBJECT_FLUE, "floor_kind", (int)flue->floor_kind));
}

/* Kinds of wall whose rows go by the temperature of the gas, and that temperature. */
static const struct {
    const char *kind;
    double temperature_k;
} steel[DW_WALL_POINT_MAX] = {
    {"bare steel at 400 degC", 673.15}, {"bare steel at 700 degC", 973.15}, {"bare steel at 1000 degC", 1273.15}};

void dw_stack_take_kinds(dw_stack *stack, const dw_spreads *spreads)
{
    static const char input[] = "stack.wall_conductance";
    const dw_keys *keys = dw_keys_of(DW_OBJECT_STACK);
    const char *wall = keys->key[dw_keys_row(keys, "wall")].words[stack->wall];
    const bool by_temperature = stack->wall == DW_WALL_BARE_STEEL;
    stack->wall_point_count = by_temperature ? DW_WALL_POINT_MAX : stack->wall != DW_WALL_UNKNOWN;
    for (int i = 0; i < stack->wall_point_count; i++) {
        stack->wall_point[i] =
            (dw_stack_wall_point){steel[i].temperature_k,
                                  dw_kind_default(spreads, input, by_temperature ? steel[i].kind : wall)};
    }
}

void dw_damper_take_kinds(dw_damper *damper, unsigned long long given, const dw_spreads *spreads)
{
    const int row = dw_keys_row(dw_keys_of(DW_OBJECT_DAMPER), "scale");
    if (damper->kind != DW_DAMPER_SHELF || (given >> row & 1u) != 0) return;
    damper->scale = dw_kind_default(spreads, "flues.*.damper.scale", "shelf");
}

void dw_kiln_take_kinds(dw_kiln *kiln, const dw_kiln_given *given, const dw_spreads *spreads)
{
    for (int i = 0; i < kiln->burner_count; i++)
        dw_burner_take_kinds(&kiln->burner[i], given->burner[i], spreads);
    for (int i = 0; i < kiln->opening_count; i++)
        dw_opening_take_kinds(&kiln->opening[i], given->opening[i], spreads);
    for (int i = 0; i < kiln->flue_count; i++)
        dw_flue_take_kinds(&kiln->flue[i], given->flue[i], spreads);
    dw_chamber_take_kinds(&kiln->chamber, spreads);
    for (int i = 0; i < kiln->flue_count; i++)
        dw_damper_take_kinds(&kiln->flue[i].damper, given->damper[i], spreads);
    dw_stack_take_kinds(&kiln->stack, spreads);
}
