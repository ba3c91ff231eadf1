/* Ratios of rules of thumb, by hand, and how they stand to the usual interval. */

#include <string.h>

#include "check.h"
#include "constants.h"
#include "rules.h"
#include "sample_result.h"

static void add_rule(dw_data *data, const char *key, double low, double high)
{
    dw_rule *rule = &data->rule[data->rule_count++];
    strcpy(rule->key, key);
    rule->low = low;
    rule->high = high;
    rule->dim = DW_DIM_RATIO;
}

static dw_data data;
static dw_kiln kiln;
static dw_rule_finding found[DW_RULE_FINDING_MAX];

/* The operating point that the values are taken from. */
static dw_result point = {.solved = true, .heat_input_net_w = 55570.0, .primary_aeration = 0.63,
                          .neutral_plane_m = 0.321, .draft_stack_base_pa = 17.3};

/* The only finding of a rule with this key. */
static double value_of(const char *key, int burner)
{
    memset(&data, 0, sizeof data);
    add_rule(&data, key, 0.0, 1.0e12);
    const size_t count = dw_rules_look(&data, &kiln, &point, NULL, found);
    for (size_t i = 0; i < count; ++i) {
        if (found[i].burner == burner) return found[i].value;
    }
    fail_msg("no finding of %s", key);
    return NAN;
}

/* What lies beyond the counts is no part of the kiln. */
static void fill_beyond_the_counts(void)
{
    kiln.flue[kiln.flue_count].area_m2 = 1.0;
    kiln.opening[kiln.opening_count] = kiln.opening[0];
    kiln.burner[kiln.burner_count] = kiln.burner[0];
}

static void ratios_match_hand_values(void **state)
{
    (void)state;
    sample_kiln(&kiln);
    fill_beyond_the_counts();
    /* 55570 W / (0.91 x 0.83 x 1.07 m3) */
    assert_close(value_of("heat_per_volume_w_m3", -1), 68760.2005, 1e-8, 0.0);
    /* ports 2 pi/4 0.0277^2 = 1.205256e-3, holes 71.1e-4: 0.0306 / 8.315256e-3 */
    assert_close(value_of("flue_to_port_area", -1), 3.679983, 1e-6, 0.0);
    assert_close(value_of("throat_to_jet_diameter", 1), 22.1 / 1.83, 1e-12, 0.0);
    assert_close(value_of("port_to_throat_area", 0), 27.7 * 27.7 / (22.1 * 22.1), 1e-12, 0.0);
    assert_close(value_of("stack_height_to_chamber_height", -1), 4.13 / 1.07, 1e-12, 0.0);
    assert_close(value_of("stack_width_to_chamber_width", -1), 0.23 / 0.91, 1e-12, 0.0);
    assert_close(value_of("stack_to_flue_area", -1), 0.0529 / 0.0306, 1e-12, 0.0);
    assert_close(value_of("gas_pressure_pa", 1), 4230.0, 1e-12, 0.0);
    /* 2 (0.91 x 0.83 + 0.91 x 1.07 + 0.83 x 1.07) = 5.2342 m2 */
    assert_close(value_of("leak_per_surface", -1), 52.3e-4 / 5.2342, 1e-9, 0.0);
    kiln.flue[0].count = 2;
    assert_close(value_of("flue_to_port_area", -1), 2.0 * 3.679983, 1e-6, 0.0);
    assert_close(value_of("stack_to_flue_area", -1), 0.0529 / 0.0612, 1e-12, 0.0);
    kiln.flue[0].count = 1;
    kiln.stack.round = true;
    assert_close(value_of("stack_width_to_chamber_width", -1), sqrt(4 * 0.0529 / DW_PI) / 0.91,
                 1e-12, 0.0);
}

/* The state of the only finding of a rule from 0.2 to 0.7. */
static dw_rule_state state_of(const char *key)
{
    memset(&data, 0, sizeof data);
    add_rule(&data, key, 0.2, 0.7);
    assert_int_equal(dw_rules_look(&data, &kiln, &point, NULL, found), 1);
    return found[0].state;
}

static void ratios_of_the_point_match_hand_values(void **state)
{
    (void)state;
    const dw_result kept = point;
    sample_kiln(&kiln);
    fill_beyond_the_counts();
    kiln.stack.hood_gap_height_m = NAN;
    /* 306 cm2 / 55.57 kW */
    assert_close(value_of("flue_area_per_net_power_m2_w", -1), 5.5065683e-7, 1e-7, 0.0);
    assert_close(value_of("neutral_plane_to_chamber_height", -1), 0.321 / 1.07, 1e-12, 0.0);
    assert_close(value_of("draft_per_stack_height_pa_m", -1), 17.3 / 4.13, 1e-12, 0.0);
    kiln.flue[0].count = 2;
    assert_close(value_of("flue_area_per_net_power_m2_w", -1), 11.0131366e-7, 1e-7, 0.0);
    kiln.stack.hood_gap_height_m = 0.4;
    assert_true(isnan(value_of("draft_per_stack_height_pa_m", -1)));
    kiln.stack.hood_gap_height_m = NAN;
    kiln.stack.present = false;
    assert_true(isnan(value_of("draft_per_stack_height_pa_m", -1)));
    point.heat_input_net_w = 0.0;
    assert_true(isnan(value_of("flue_area_per_net_power_m2_w", -1)));
    point = kept;
    point.solved = false;
    static const char *const keys[] = {"heat_per_volume_w_m3", "flue_area_per_net_power_m2_w",
                                       "primary_air_low_pressure", "neutral_plane_to_chamber_height",
                                       "draft_per_stack_height_pa_m"};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; ++i) {
        assert_int_equal(state_of(keys[i]), DW_RULE_UNKNOWN);
    }
    point = kept;
}

static void a_plane_outside_the_chamber_is_judged_without_a_number(void **state)
{
    (void)state;
    const dw_result kept = point;
    sample_kiln(&kiln);
    assert_int_equal(state_of("neutral_plane_to_chamber_height"), DW_RULE_USUAL);
    point.neutral_plane_m = NAN;
    point.neutral = DW_NEUTRAL_ALL_OUT;
    assert_int_equal(state_of("neutral_plane_to_chamber_height"), DW_RULE_LOW);
    assert_true(isnan(found[0].value));
    point.neutral = DW_NEUTRAL_ALL_IN;
    assert_int_equal(state_of("neutral_plane_to_chamber_height"), DW_RULE_HIGH);
    assert_true(isnan(found[0].value));
    point = kept;
}

/* One of the three rules holds where all lit burners are of one sort, none where they are not. */
static void primary_air_is_judged_by_the_sort_of_burner(void **state)
{
    (void)state;
    static const char *const keys[] = {"primary_air_low_pressure", "primary_air_high_pressure",
                                       "primary_air_blown"};
    static const struct {
        double pa[2];
        dw_burner_kind kind[2];
        bool lit[2], plugged[2];
        int of; /* row of keys; 3: none */
    } rows[] = {
        {{4230, 4230}, {DW_BURNER_INSPIRATING, DW_BURNER_INSPIRATING}, {1, 1}, {0, 0}, 0},
        {{5000, 20}, {DW_BURNER_INSPIRATING, DW_BURNER_INSPIRATING}, {1, 1}, {0, 0}, 0},
        {{5000, 5000}, {DW_BURNER_INSPIRATING, DW_BURNER_INSPIRATING}, {1, 1}, {0, 0}, 0},
        {{5001, 9e4}, {DW_BURNER_INSPIRATING, DW_BURNER_INSPIRATING}, {1, 1}, {0, 0}, 1},
        {{4230, 9e4}, {DW_BURNER_INSPIRATING, DW_BURNER_INSPIRATING}, {1, 1}, {0, 0}, 3},
        {{4230, 9e4}, {DW_BURNER_INSPIRATING, DW_BURNER_INSPIRATING}, {1, 0}, {0, 0}, 0},
        {{4230, 9e4}, {DW_BURNER_INSPIRATING, DW_BURNER_INSPIRATING}, {1, 1}, {1, 0}, 1},
        {{4230, 9e4}, {DW_BURNER_BLOWN, DW_BURNER_BLOWN}, {1, 1}, {0, 0}, 2},
        {{4230, 4230}, {DW_BURNER_BLOWN, DW_BURNER_INSPIRATING}, {1, 1}, {0, 0}, 3},
        {{4230, 4230}, {DW_BURNER_BLOWN, DW_BURNER_INSPIRATING}, {0, 1}, {0, 0}, 0},
        {{4230, 4230}, {DW_BURNER_INSPIRATING, DW_BURNER_INSPIRATING}, {0, 0}, {0, 0}, 3},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; ++i) {
        sample_kiln(&kiln);
        fill_beyond_the_counts();
        for (int b = 0; b < 2; ++b) {
            kiln.burner[b].gas_pressure_pa = rows[i].pa[b];
            kiln.burner[b].kind = rows[i].kind[b];
            kiln.burner[b].lit = rows[i].lit[b];
            kiln.burner[b].plugged = rows[i].plugged[b];
        }
        for (int k = 0; k < 3; ++k) {
            const double value = value_of(keys[k], -1);
            if (k == rows[i].of) {
                assert_close(value, 0.63, 1e-12, 0.0);
            } else if (!isnan(value)) {
                fail_msg("row %zu: %s has a value", i, keys[k]);
            }
        }
    }
}

static void holes_count_as_far_as_they_are_open_and_gaps_do_not(void **state)
{
    (void)state;
    sample_kiln(&kiln);
    const double before = kiln.flue[0].area_m2 / value_of("flue_to_port_area", -1);
    kiln.opening[0].open_frac = 0.25;
    kiln.opening[1].kind = DW_OPENING_TALL;
    kiln.opening[2].count = 3;
    const double after = kiln.flue[0].area_m2 / value_of("flue_to_port_area", -1);
    assert_close(after - before, -0.75 * 61.3e-4 - 4.9e-4 + 2 * 4.9e-4, 1e-9, 0.0);
}

static void the_interval_holds_its_ends(void **state)
{
    (void)state;
    sample_kiln(&kiln);
    memset(&data, 0, sizeof data);
    const double exact = 4.13 / 1.07;
    add_rule(&data, "stack_height_to_chamber_height", exact, 9.0);
    add_rule(&data, "stack_height_to_chamber_height", 1.0, exact);
    add_rule(&data, "stack_height_to_chamber_height", 1.0, 3.8);
    add_rule(&data, "stack_height_to_chamber_height", 3.9, 8.0);
    assert_int_equal(dw_rules_look(&data, &kiln, NULL, NULL, found), 4);
    assert_int_equal(found[0].state, DW_RULE_USUAL);
    assert_int_equal(found[1].state, DW_RULE_USUAL);
    assert_int_equal(found[2].state, DW_RULE_HIGH);
    assert_int_equal(found[3].state, DW_RULE_LOW);
    assert_ptr_equal(found[2].rule, &data.rule[2]);
}

static void what_has_no_value_is_unknown_and_not_judged(void **state)
{
    (void)state;
    sample_kiln(&kiln);
    kiln.stack.present = false;
    kiln.burner[0].kind = DW_BURNER_BLOWN;
    kiln.burner[1].plugged = true;
    memset(&data, 0, sizeof data);
    add_rule(&data, "heat_per_volume_w_m3", 1.0, 2.0);
    add_rule(&data, "stack_to_flue_area", 1.0, 2.0);
    add_rule(&data, "throat_to_jet_diameter", 1.0, 2.0);
    add_rule(&data, "no_such_rule", 1.0, 2.0);
    assert_int_equal(dw_rules_look(&data, &kiln, NULL, NULL, found), 3);
    for (int i = 0; i < 3; ++i) {
        assert_int_equal(found[i].state, DW_RULE_UNKNOWN);
        assert_true(isnan(found[i].value));
    }
    assert_int_equal(found[2].burner, 0);

    /* Flues against no port at all: infinite, so no value either. */
    sample_kiln(&kiln);
    kiln.opening_count = 0;
    kiln.burner[0].port_diameter_m = kiln.burner[1].port_diameter_m = NAN;
    memset(&data, 0, sizeof data);
    add_rule(&data, "flue_to_port_area", 1.0, 2.0);
    assert_int_equal(dw_rules_look(&data, &kiln, NULL, NULL, found), 1);
    assert_int_equal(found[0].state, DW_RULE_UNKNOWN);
    assert_true(isnan(found[0].value));
    assert_int_equal(found[0].burner, -1);
}

static void every_lit_burner_is_looked_at_and_a_full_table_is_enough(void **state)
{
    (void)state;
    sample_kiln(&kiln);
    fill_beyond_the_counts();
    kiln.burner[1].lit = false;
    memset(&data, 0, sizeof data);
    add_rule(&data, "gas_pressure_pa", 1.0, 1e5);
    add_rule(&data, "port_to_throat_area", 1.0, 2.0);
    assert_int_equal(dw_rules_look(&data, &kiln, NULL, NULL, found), 4);
    assert_int_equal(found[0].state, DW_RULE_USUAL);
    assert_int_equal(found[1].state, DW_RULE_UNKNOWN);
    kiln.burner[0].kind = DW_BURNER_BLOWN;
    assert_int_equal(dw_rules_look(&data, &kiln, NULL, NULL, found), 4);
    assert_int_equal(found[2].state, DW_RULE_UNKNOWN);
    assert_int_equal(found[3].state, DW_RULE_USUAL);
    /* The count of rules is not trusted beyond the table. */
    memset(&data, 0, sizeof data);
    for (int i = 0; i < DW_RULE_MAX; ++i) add_rule(&data, "stack_to_flue_area", 1.0, 2.0);
    data.rule_count = DW_RULE_MAX + 1;
    assert_int_equal(dw_rules_look(&data, &kiln, NULL, NULL, found), DW_RULE_MAX);
    data.rule_count = 2;
    assert_int_equal(dw_rules_look(&data, &kiln, NULL, NULL, found), 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ratios_match_hand_values),
        cmocka_unit_test(ratios_of_the_point_match_hand_values),
        cmocka_unit_test(a_plane_outside_the_chamber_is_judged_without_a_number),
        cmocka_unit_test(primary_air_is_judged_by_the_sort_of_burner),
        cmocka_unit_test(holes_count_as_far_as_they_are_open_and_gaps_do_not),
        cmocka_unit_test(the_interval_holds_its_ends),
        cmocka_unit_test(what_has_no_value_is_unknown_and_not_judged),
        cmocka_unit_test(every_lit_burner_is_looked_at_and_a_full_table_is_enough),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
