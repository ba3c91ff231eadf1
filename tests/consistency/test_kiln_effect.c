/* What the program says of a key's effect is what the model does: every number of many kilns is moved by
 * itself, and must move a result exactly when it is said to. */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "kiln_effect.h"
#include "kiln_typed.h"
#include "kiln_kinds.h"
#include "kit.h"
#include "rules.h"

enum { OUTCOME_MAX = 24 + DW_RULE_FINDING_MAX };

/* Everything a number may move: the point, and the rules of thumb that `check` looks at. */
typedef struct outcome {
    int count;
    double value[OUTCOME_MAX];
} outcome;

static bool outcome_of(const dw_kiln *kiln, outcome *out)
{
    static dw_result r;
    static dw_rule_finding finding[DW_RULE_FINDING_MAX];
    if (dw_operating_point(kit_model(), kiln, &r) != DW_OK) return false;
    const double values[] = {r.equivalence_ratio,
                             r.primary_aeration,
                             r.gas_flow_kg_s,
                             r.air_flow_kg_s,
                             r.pressure_floor_pa,
                             r.pressure_top_pa,
                             r.flue_flow_kg_s,
                             r.spill_kg_s,
                             r.heat_input_net_w,
                             r.draft_flue_exit_pa,
                             r.stack_base_temperature_k,
                             r.stack_mean_temperature_k,
                             r.draft_theoretical_pa,
                             r.gas_temperature_k,
                             r.co_co2_ratio,
                             r.probe_emf_v,
                             r.heat_sensible_w,
                             r.dphi_ddamper};
    out->count = (int)(sizeof values / sizeof values[0]);
    memcpy(out->value, values, sizeof values);
    dw_kiln resolved = *kiln;
    dw_kiln_resolve(&resolved);
    const size_t rules = dw_rules_look(kit_data(), &resolved, &r, NULL, finding);
    for (size_t i = 0; i < rules; i++)
        out->value[out->count++] = finding[i].value;
    return true;
}

/* Solving again leaves the last digits open. */
static bool differs(const outcome *a, const outcome *b)
{
    if (a->count != b->count) return true;
    for (int i = 0; i < a->count; i++) {
        if (isnan(a->value[i]) && isnan(b->value[i])) continue;
        if (!(fabs(a->value[i] - b->value[i]) <= 1e-8 * fabs(a->value[i]) + 1e-11)) return true;
    }
    return false;
}

/* Numbers that say nothing of the point as it is, but of another: of the damper further closed, of a
 * gas less hot, of lighting. */
static bool is_for_another_point(const char *name, const dw_kiln *kiln, dw_object object, int index)
{
    static const char *const names[] = {"packed", "quench_temperature", "quench_temperature_rich",
                                        "leak", "scale", "unmixedness"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (strcmp(name, names[i]) == 0) return true;
    }
    /* Chamber and flue hold one gas, so that a flue's height is felt only when the stack turns round;
     * and a plugged burner's height decides from where others are measured. */
    return strcmp(name, "height") == 0 &&
           (object == DW_OBJECT_FLUE ||
            (object == DW_OBJECT_BURNER && kiln->burner[index].plugged));
}

static double at(const dw_kiln *kiln, size_t offset)
{
    double value;
    memcpy(&value, (const char *)kiln + offset, sizeof value);
    return value;
}

/* Another value within the limits of the key. */
static double moved(const dw_key *key, double value)
{
    const double low = dw_key_limit(key, key->low), high = dw_key_limit(key, key->high);
    if (value == 0.0) return low + 0.02 * (high - low);
    const double by = key->dim == DW_DIM_TEMPERATURE ? 3.0 : 0.02 * fabs(value);
    return value + by <= high ? value + by : value - by;
}

typedef struct tally {
    int moving, idle, wrong;
} tally;

static void try_number(const char *name, const dw_kiln *kiln, const outcome *before,
                       dw_object object, int index, int row, tally *t)
{
    const dw_keys *keys = dw_keys_of(object);
    const dw_key *key = &keys->key[row];
    const size_t offset = dw_object_offset(object, index) + key->offset;
    char path[DW_PATH_SIZE], reason[DW_IDLE_SIZE] = "";
    dw_kiln_field field;
    dw_kiln resolved = *kiln, other = *kiln;
    outcome after;
    dw_kiln_resolve(&resolved);
    const double value = isnan(at(kiln, offset)) ? at(&resolved, offset) : at(kiln, offset);
    if (key->kind != DW_KEY_NUMBER || isnan(value) ||
        is_for_another_point(key->name, kiln, object, index)) {
        return;
    }
    dw_typed_path(kiln, object, index, key, path);
    const bool fits = dw_key_applies(
        key, dw_object_kind(keys, (const char *)kiln + dw_object_offset(object, index)));
    /* What another key of the choice has taken is refused before. */
    if (fits && dw_kiln_field_find(kiln, path, NULL, &field) != DW_OK) return;
    const bool idle = dw_key_idle(kiln, object, index, key, reason, NULL);
    const double next = moved(key, value);
    memcpy((char *)&other + offset, &next, sizeof next);
    if (!outcome_of(&other, &after)) return;
    const bool moves = differs(before, &after);
    t->moving += moves;
    t->idle += idle;
    if (moves != idle) return;
    t->wrong++;
    print_error("%s: '%s' from %g to %g %s, but is said to %s%s\n", name, path, value, next,
                moves ? "moves results" : "moves nothing", idle ? "be idle: " : "have an effect",
                reason);
}

static void try_kiln(const char *name, const dw_kiln *kiln, tally *t)
{
    static const dw_object single[] = {DW_OBJECT_SITE, DW_OBJECT_CHAMBER, DW_OBJECT_MODEL,
                                       DW_OBJECT_OPERATING, DW_OBJECT_STACK};
    outcome before;
    if (!outcome_of(kiln, &before)) fail_msg("%s has no solution", name);
    for (size_t k = 0; k < sizeof single / sizeof single[0]; k++) {
        if (single[k] == DW_OBJECT_STACK && !kiln->stack.present) continue;
        for (int row = 0; row < dw_keys_of(single[k])->count; row++)
            try_number(name, kiln, &before, single[k], 0, row, t);
    }
    const struct {
        dw_object object;
        int count;
    } lists[] = {{DW_OBJECT_BURNER, kiln->burner_count},
                 {DW_OBJECT_OPENING, kiln->opening_count},
                 {DW_OBJECT_FLUE, kiln->flue_count},
                 {DW_OBJECT_DAMPER, kiln->flue_count}};
    for (size_t k = 0; k < sizeof lists / sizeof lists[0]; k++) {
        for (int i = 0; i < lists[k].count; i++) {
            for (int row = 0; row < dw_keys_of(lists[k].object)->count; row++)
                try_number(name, kiln, &before, lists[k].object, i, row, t);
        }
    }
}

/* The examples, each as it is and with parts of it turned off, taken away or given another way. */
static void a_number_moves_a_result_when_it_is_said_to(void **state)
{
    (void)state;
    static dw_kiln_file file;
    tally t = {0, 0, 0};
    for (int e = 0; kit_examples[e] != NULL; e++) {
        kit_example(kit_examples[e], &file);
        dw_kiln *base = &file.kiln, kiln;
        base->room.present = false;
        try_kiln(kit_examples[e], base, &t);
        char name[100];
        for (int i = 0; i < base->burner_count && base->burner_count > 1; i++) {
            kiln = *base;
            kiln.burner[i].lit = false;
            (void)snprintf(name, sizeof name, "%s, burner %d off", kit_examples[e], i);
            try_kiln(name, &kiln, &t);
            kiln.burner[i].plugged = true;
            (void)snprintf(name, sizeof name, "%s, burner %d plugged", kit_examples[e], i);
            try_kiln(name, &kiln, &t);
        }
        kiln = *base;
        for (int i = 0; i < kiln.burner_count; i++) {
            kiln.burner[i].gas_pressure_pa = 2.0e3 + 100.0 * i;
            kiln.burner[i].air_pressure_pa = 3.0e3;
            kiln.burner[i].air_jet_diameter_m = 1.0e-3;
            if (kiln.burner[i].kind == DW_BURNER_INSPIRATING) kiln.burner[i].shutter_area_m2 = 4e-4;
        }
        (void)snprintf(name, sizeof name, "%s, burners on their own", kit_examples[e]);
        try_kiln(name, &kiln, &t);
        kiln = *base;
        kiln.operating.supply_static_pa = 1.1 * kiln.operating.gas_pressure_pa;
        kiln.operating.supply_running_pa = 0.8 * kiln.operating.gas_pressure_pa;
        (void)snprintf(name, sizeof name, "%s, a supply and the gauge at the jets", kit_examples[e]);
        try_kiln(name, &kiln, &t);
        kiln.operating.gauge = DW_GAUGE_MANIFOLD;
        kiln.burner[0].gas_pressure_pa = base->burner_count > 1 ? 2.0e3 : NAN;
        (void)snprintf(name, sizeof name, "%s, gauge at the manifold", kit_examples[e]);
        try_kiln(name, &kiln, &t);
        kiln = *base;
        for (int i = 0; i < kiln.burner_count; i++)
            kiln.burner[i].shutter_open_frac = 0.0;
        for (int i = 0; i < kiln.opening_count; i++)
            kiln.opening[i].open_frac = 0.0;
        kiln.chamber.leak_area_m2 = 0.0;
        kiln.site.pressure_pa_abs = 95.0e3;
        (void)snprintf(name, sizeof name, "%s, shut", kit_examples[e]);
        outcome shut;
        if (outcome_of(&kiln, &shut)) try_kiln(name, &kiln, &t);
        kiln = *base;
        kiln.opening_count = 3;
        for (int i = 0; i < 3; i++) {
            dw_opening_init(&kiln.opening[i]);
            kiln.opening[i].kind = DW_OPENING_JOINT;
            kiln.opening[i].width_m = 3e-3;
            kiln.opening[i].depth_m = 0.06;
        }
        kiln.opening[0].height_m = 0.25 * kiln.chamber.height_m;
        kiln.opening[0].length_m = 0.9;
        kiln.opening[1].from_m = kiln.opening[2].from_m = 0.1 * kiln.chamber.height_m;
        kiln.opening[1].to_m = kiln.opening[2].to_m = 0.8 * kiln.chamber.height_m;
        kiln.opening[2].length_m = 1.5 * kiln.chamber.height_m;
        dw_opening *port = &kiln.opening[kiln.opening_count++];
        dw_opening_init(port);
        port->area_m2 = 20e-4; /* 50 mm wide, so its coefficient is between the two */
        port->height_m = 0.2 * kiln.chamber.height_m;
        port->depth_m = 0.037;
        port->discharge_coeff = NAN;
        kiln.chamber.setting_loss = 200.0;
        kiln.flue[0].floor_loss = 1.0;
        (void)snprintf(name, sizeof name, "%s, joints, a port and a floor", kit_examples[e]);
        outcome joints;
        if (outcome_of(&kiln, &joints)) try_kiln(name, &kiln, &t);
        if (!base->stack.present) continue;
        kiln = *base;
        kiln.stack.hood_gap_height_m = 0.5 * kiln.stack.height_m;
        kiln.stack.bend_count = 0.0;
        kiln.stack.relief_area_m2 = 0.0;
        (void)snprintf(name, sizeof name, "%s, under a hood", kit_examples[e]);
        try_kiln(name, &kiln, &t);
        kiln = *base;
        kiln.stack.heat_loss_ntu = kiln.stack.heat_loss_ua_w_k = NAN;
        kiln.stack.wall = DW_WALL_BARE_STEEL;
        dw_stack_take_kinds(&kiln.stack, &kit_data()->spreads);
        (void)snprintf(name, sizeof name, "%s, bare steel", kit_examples[e]);
        try_kiln(name, &kiln, &t);
        kiln = *base;
        kiln.site.wind_speed_m_s = 4.0;
        (void)snprintf(name, sizeof name, "%s, wind", kit_examples[e]);
        try_kiln(name, &kiln, &t);
        kiln.stack.hood_gap_height_m = 0.5 * kiln.stack.height_m;
        (void)snprintf(name, sizeof name, "%s, wind over a hood", kit_examples[e]);
        try_kiln(name, &kiln, &t);
        kiln = *base;
        kiln.stack.heat_loss_ntu = kiln.stack.heat_loss_ua_w_k = NAN;
        kiln.stack.wall = DW_WALL_BARE_STEEL;
        dw_stack_take_kinds(&kiln.stack, &kit_data()->spreads);
        (void)snprintf(name, sizeof name, "%s, bare steel and more", kit_examples[e]);
        /* what is moved though the wall is given */
        kiln.stack.heat_loss_ua_w_k = 9.0;
        try_kiln(name, &kiln, &t);
        kiln = *base;
        kiln.stack.relief_area_m2 = 20e-4;
        kiln.flue[0].downstream_area_m2 = 2.0 * kiln.flue[0].area_m2;
        (void)snprintf(name, sizeof name, "%s, with a relief opening", kit_examples[e]);
        try_kiln(name, &kiln, &t);
        kiln.stack.present = false;
        (void)snprintf(name, sizeof name, "%s, without its stack", kit_examples[e]);
        outcome bare;
        if (outcome_of(&kiln, &bare)) try_kiln(name, &kiln, &t);
        for (int kind = DW_DAMPER_BUTTERFLY; kind <= DW_DAMPER_SHELF; kind++) {
            kiln.flue[0].damper.kind = (dw_damper_kind)kind;
            kiln.flue[0].damper.row_count = 2;
            kiln.flue[0].damper.row_open_frac[0] = 0.1;
            kiln.flue[0].damper.row_open_frac[1] = 1.0;
            kiln.flue[0].damper.row_loss[0] = 300.0;
            kiln.flue[0].damper.row_loss[1] = 0.3;
            (void)snprintf(name, sizeof name, "%s, damper %d", kit_examples[e], kind);
            if (outcome_of(&kiln, &bare)) try_kiln(name, &kiln, &t);
        }
        kiln.flue[0].damper.thickness_m = kiln.flue[0].damper.open_frac * 0.15;
        if (outcome_of(&kiln, &bare)) try_kiln(name, &kiln, &t);
        kiln.flue[0].damper.mouth_width_m = 0.1;
        if (outcome_of(&kiln, &bare)) try_kiln(name, &kiln, &t);
    }
    print_message("%d numbers move something, %d are said to be idle\n", t.moving, t.idle);
    assert_int_equal(t.wrong, 0);
    assert_true(t.moving > 1000 && t.idle > 300);
}

/* What the tables allow is never refused later by the argument check of some law: a kiln at a limit is
 * solved, or refused before with the key, or has a reason of its own. */
static void limits_of_the_tables_are_limits_of_the_model(void **state)
{
    (void)state;
    static dw_kiln_file file;
    static dw_result r;
    static const dw_object objects[] = {DW_OBJECT_SITE,      DW_OBJECT_CHAMBER, DW_OBJECT_MODEL,
                                        DW_OBJECT_OPERATING, DW_OBJECT_STACK,   DW_OBJECT_BURNER,
                                        DW_OBJECT_OPENING,   DW_OBJECT_FLUE,    DW_OBJECT_DAMPER};
    int tried = 0, refused = 0, wrong = 0;
    for (int e = 0; kit_examples[e] != NULL; e++) {
        kit_example(kit_examples[e], &file);
        for (size_t k = 0; k < sizeof objects / sizeof objects[0]; k++) {
            const dw_keys *keys = dw_keys_of(objects[k]);
            if (objects[k] == DW_OBJECT_STACK && !file.kiln.stack.present) continue;
            for (int row = 0; row < 2 * keys->count; row++) {
                const dw_key *key = &keys->key[row / 2];
                if (key->kind != DW_KEY_NUMBER) continue;
                const double limit = dw_key_limit(key, row % 2 == 0 ? key->low : key->high);
                dw_kiln kiln = file.kiln, resolved;
                memcpy((char *)&kiln + dw_object_offset(objects[k], 0) + key->offset, &limit,
                       sizeof limit);
                resolved = kiln;
                dw_kiln_resolve(&resolved);
                char message[300];
                tried++;
                if (dw_kiln_check(&resolved, &kit_data()->species, message, sizeof message) !=
                    DW_OK) {
                    refused++;
                    continue;
                }
                if (dw_operating_point(kit_model(), &kiln, &r) == DW_OK) continue;
                if (strstr(r.reason, dw_status_text(DW_ERR_DOMAIN)) == NULL &&
                    strstr(r.reason, "vapour") == NULL) {
                    continue;
                }
                wrong++;
                print_error("%s: %s at %s: %s\n", kit_examples[e], key->name,
                            row % 2 == 0 ? key->low : key->high, r.reason);
            }
        }
    }
    print_message("%d limits, %d refused with their key\n", tried, refused);
    assert_int_equal(wrong, 0);
    assert_true(tried > 1000 && refused < tried / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_number_moves_a_result_when_it_is_said_to),
        cmocka_unit_test(limits_of_the_tables_are_limits_of_the_model),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
