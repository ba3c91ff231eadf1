/* Buffers and the form they call for: both ways of writing them, range, nearness, what is refused. */

#include <stdlib.h>

#include "check.h"
#include "kit.h"
#include "oxide.h"

static const dw_oxide_table *table(void)
{
    return &kit_data()->oxides;
}

static double at(const char *key, double temperature_k)
{
    return dw_buffer_log10_po2_bar(dw_buffer_find(table(), key), temperature_k);
}

static dw_oxide_state state_of(const char *metal, double temperature_c, double log10_po2)
{
    dw_oxide_state state;
    assert_int_equal(dw_oxide_state_at(table(), dw_metal_find(table(), metal),
                                       temperature_c + 273.15, log10_po2, &state),
                     DW_OK);
    return state;
}

static void both_forms_match_hand_values(void **state)
{
    (void)state;
    /* -25700.6/1387 + 14.558 */
    assert_close(at("hm-frost", 1387.0), -3.9716323, 1e-7, 0.0);
    const double t = 1387.0;
    const double mu = -478967.0 + 248.514 * t - 9.7961 * t * log(t);
    assert_close(at("ni-oneill-pownceby", t), mu / (8.314462618 * t * 2.302585092994046), 1e-13,
                 0.0);
    /* All six terms. */
    dw_buffer b = {.form = DW_BUFFER_POTENTIAL, .coeff = {1.1e5, -37.0, 4.3, 0.017, -2.9e6, 613.0}};
    const double six = 1.1e5 - 37.0 * t + 4.3 * t * log(t) + 0.017 * t * t - 2.9e6 / t +
                       613.0 * sqrt(t);
    assert_close(dw_buffer_log10_po2_bar(&b, t), six / (8.314462618 * t * log(10.0)), 1e-13, 0.0);
    b = (dw_buffer){.form = DW_BUFFER_LOG10, .coeff = {-28776.8, 14.057, -0.8853}};
    assert_close(dw_buffer_log10_po2_bar(&b, t), -28776.8 / t + 14.057 - 0.8853 * log(t), 1e-13,
                 0.0);
    assert_true(isnan(dw_buffer_log10_po2_bar(&b, 0.0)));
    assert_true(isnan(dw_buffer_log10_po2_bar(NULL, 1200.0)));
}

static void molten_copper_joins_solid_copper_where_it_melts(void **state)
{
    (void)state;
    assert_close(at("cu-liquid", 1357.8), at("cu-oneill-pownceby", 1357.8), 0.0, 1e-9);
    assert_true(at("cu-liquid", 1500.0) > at("cu-oneill-pownceby", 1500.0));
}

static void reach_tells_stated_range_from_drawn_on(void **state)
{
    (void)state;
    const dw_buffer *b = dw_buffer_find(table(), "mw-frost"); /* 565..1200, drawn on to 1400 degC */
    assert_int_equal(dw_buffer_reach_at(b, 564.0 + 273.15), DW_BUFFER_OUT);
    assert_int_equal(dw_buffer_reach_at(b, 566.0 + 273.15), DW_BUFFER_IN);
    assert_int_equal(dw_buffer_reach_at(b, 1199.0 + 273.15), DW_BUFFER_IN);
    assert_int_equal(dw_buffer_reach_at(b, 1201.0 + 273.15), DW_BUFFER_DRAWN_ON);
    assert_int_equal(dw_buffer_reach_at(b, 1401.0 + 273.15), DW_BUFFER_OUT);
    /* For comparison only: no range, never used. */
    assert_int_equal(dw_buffer_reach_at(dw_buffer_find(table(), "qif"), 1300.0), DW_BUFFER_OUT);
}

static void more_oxygen_is_never_a_form_poorer_in_it(void **state)
{
    (void)state;
    for (int m = 0; m < table()->metal_count; m++) {
        for (double t_c = 600.0; t_c <= 1350.0; t_c += 37.0) {
            int before = table()->metal[m].form_count - 1;
            for (double x = -30.0; x <= 2.0; x += 0.053) {
                dw_oxide_state s;
                assert_int_equal(dw_oxide_state_at(table(), m, t_c + 273.15, x, &s), DW_OK);
                assert_true(s.form <= before);
                if (s.other >= 0) assert_int_equal(abs(s.other - s.form), 1);
                before = s.form;
            }
            assert_int_equal(before, 0);
        }
    }
}

static void first_calibration_decides_and_all_make_the_band(void **state)
{
    (void)state;
    /* Magnetite-wustite at 1250 degC: -8.527 (decides) and -8.168; 0.3 beyond both is near. */
    dw_oxide_state s = state_of("iron", 1250.0, -8.40);
    assert_int_equal(s.form, 1);
    assert_int_equal(s.other, 2);
    assert_close(s.margin_log10, 0.127, 0.0, 1e-3);
    assert_false(s.drawn_on);
    s = state_of("iron", 1250.0, -8.60);
    assert_int_equal(s.form, 2);
    assert_int_equal(s.other, 1);
    s = state_of("iron", 1250.0, -7.90);
    assert_int_equal(s.form, 1);
    assert_int_equal(s.other, 2);
    s = state_of("iron", 1250.0, -7.83);
    assert_int_equal(s.form, 1);
    assert_int_equal(s.other, -1);
    s = state_of("iron", 1250.0, -8.81);
    assert_int_equal(s.other, 1);
    s = state_of("iron", 1250.0, -8.85);
    assert_int_equal(s.form, 2);
    assert_int_equal(s.other, -1);
    /* At 1000 degC the one that decides, -12.756, is the higher of the two; the other is -12.932. */
    s = state_of("iron", 1000.0, -12.85);
    assert_int_equal(s.form, 2);
    assert_int_equal(s.other, 1);
    s = state_of("iron", 1000.0, -13.15);
    assert_int_equal(s.form, 2);
    assert_int_equal(s.other, 1);
    assert_int_equal(state_of("iron", 1000.0, -13.26).other, -1);
    /* Metal: 0.28 below wustite-iron of Frost, the lowest of three. */
    s = state_of("iron", 1250.0, -11.345 - 0.28);
    assert_int_equal(s.form, 3);
    assert_int_equal(s.other, 2);
    s = state_of("copper", 1000.0, -0.68);
    assert_int_equal(s.form, 0);
    assert_int_equal(s.other, 1);
    assert_int_equal(state_of("copper", 1200.0, -4.0).form, 1);
    assert_int_equal(state_of("copper", 1200.0, -4.6).form, 2);
}

static void drawn_on_is_said(void **state)
{
    (void)state;
    assert_true(state_of("iron", 1350.0, -7.0).drawn_on);
    assert_false(state_of("iron", 1290.0, -7.0).drawn_on);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_oxide_state s = {7, 7, 7.0, 7, true};
    assert_int_equal(dw_oxide_state_at(table(), 0, 700.0, -20.0, &s), DW_ERR_DOMAIN);
    assert_int_equal(s.form, -1);
    assert_true(isnan(s.margin_log10));
    assert_int_equal(dw_oxide_state_at(table(), 0, 1700.0, -5.0, &s), DW_ERR_DOMAIN);
    assert_int_equal(dw_oxide_state_at(table(), 0, 1400.0, NAN, &s), DW_ERR_ARG);
    assert_int_equal(dw_oxide_state_at(table(), -1, 1400.0, -5.0, &s), DW_ERR_ARG);
    assert_int_equal(dw_oxide_state_at(table(), table()->metal_count, 1400.0, -5.0, &s),
                     DW_ERR_ARG);
    assert_int_equal(dw_oxide_state_at(NULL, 0, 1400.0, -5.0, &s), DW_ERR_ARG);
    assert_int_equal(dw_oxide_state_at(table(), 0, 1400.0, -5.0, NULL), DW_ERR_ARG);
    assert_int_equal(dw_metal_find(table(), "zinc"), -1);
    assert_null(dw_buffer_find(table(), "none"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(both_forms_match_hand_values),
        cmocka_unit_test(molten_copper_joins_solid_copper_where_it_melts),
        cmocka_unit_test(reach_tells_stated_range_from_drawn_on),
        cmocka_unit_test(more_oxygen_is_never_a_form_poorer_in_it),
        cmocka_unit_test(first_calibration_decides_and_all_make_the_band),
        cmocka_unit_test(drawn_on_is_said),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
