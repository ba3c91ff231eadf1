/* The doubt: each input's ends are solved points of their own, given inputs are left alone. */
#include "check.h"

#include "doubt.h"
#include "kit.h"

static const bool nothing_given[DW_DOUBT_COUNT] = {false};

static double phi_of(const dw_kiln *kiln)
{
    dw_result r;
    assert_int_equal(dw_operating_point(kit_model(), kiln, &r), DW_OK);
    return r.equivalence_ratio;
}

static const dw_doubt_item *item_of(const dw_doubt *doubt, dw_doubt_input input)
{
    for (int i = 0; i < doubt->count; i++) {
        if (doubt->item[i].input == input) return &doubt->item[i];
    }
    return NULL;
}

static void ends_are_points_solved_with_that_input(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double phi = phi_of(&file.kiln);
    dw_doubt doubt;
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, phi, nothing_given, &doubt), DW_OK);

    const dw_doubt_item *heat = item_of(&doubt, DW_DOUBT_STACK_HEAT_LOSS);
    assert_non_null(heat);
    assert_true(!heat->is_factor && heat->low == 0.1 && heat->high == 1.0);
    dw_kiln moved = file.kiln;
    moved.stack.heat_loss_ntu = 1.0;
    assert_close(heat->phi_high, phi_of(&moved), 1e-12, 0.0);

    const dw_doubt_item *scale = item_of(&doubt, DW_DOUBT_DAMPER_SCALE);
    assert_non_null(scale);
    assert_true(scale->is_factor);
    moved = file.kiln;
    for (int i = 0; i < moved.flue_count; i++) moved.flue[i].damper.scale *= 0.8;
    assert_close(scale->phi_low, phi_of(&moved), 1e-12, 0.0);
    /* A smaller loss lets more air through. */
    assert_true(scale->phi_low < phi && scale->phi_high > phi);

    const dw_doubt_item *leak = item_of(&doubt, DW_DOUBT_LEAK_AREA);
    assert_non_null(leak);
    moved = file.kiln;
    dw_kiln_resolve(&moved);
    moved.chamber.leak_area_m2 *= 2.5;
    assert_close(leak->phi_high, phi_of(&moved), 1e-12, 0.0);
}

static void largest_comes_first_and_all_add_up(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double phi = phi_of(&file.kiln);
    dw_doubt doubt;
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, phi, nothing_given, &doubt), DW_OK);
    assert_true(doubt.count >= 5);
    double last = INFINITY, down = 0.0, up = 0.0;
    for (int i = 0; i < doubt.count; i++) {
        const dw_doubt_item *item = &doubt.item[i];
        const double reach = fmax(fabs(item->phi_low - phi), fabs(item->phi_high - phi));
        assert_true(reach <= last);
        last = reach;
        const double least = fmin(phi, fmin(item->phi_low, item->phi_high));
        const double most = fmax(phi, fmax(item->phi_low, item->phi_high));
        down += log(phi / least) * log(phi / least);
        up += log(most / phi) * log(most / phi);
        assert_true(dw_doubt_input_text(item->input)[0] != '\0');
    }
    assert_close(doubt.phi_from, phi * exp(-sqrt(down)), 1e-12, 0.0);
    assert_close(doubt.phi_to, phi * exp(sqrt(up)), 1e-12, 0.0);
    assert_true(doubt.phi_from < 0.98 * phi && doubt.phi_to > 1.02 * phi);
}

static void what_was_given_is_no_doubt(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double phi = phi_of(&file.kiln);
    bool given[DW_DOUBT_COUNT] = {false};
    given[DW_DOUBT_LEAK_AREA] = true;
    dw_doubt all, some;
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, phi, nothing_given, &all), DW_OK);
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, phi, given, &some), DW_OK);
    assert_int_equal(some.count, all.count - 1);
    assert_null(item_of(&some, DW_DOUBT_LEAK_AREA));
    assert_true(some.phi_to - some.phi_from < all.phi_to - all.phi_from);
    for (int i = 0; i < DW_DOUBT_COUNT; i++) given[i] = true;
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, phi, given, &some), DW_OK);
    assert_int_equal(some.count, 0);
    assert_true(isnan(some.phi_from) && isnan(some.phi_to));
}

static void inputs_a_kiln_lacks_are_left_out(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("thistledown-raku", &file);
    file.kiln.stack.present = false;
    dw_doubt doubt;
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, phi_of(&file.kiln), nothing_given,
                                   &doubt),
                     DW_OK);
    assert_null(item_of(&doubt, DW_DOUBT_STACK_HEAT_LOSS));
    for (int i = 0; i < file.kiln.flue_count; i++) file.kiln.flue[i].damper.open_frac = 0.4;
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, phi_of(&file.kiln), nothing_given,
                                   &doubt),
                     DW_OK);
    assert_null(item_of(&doubt, DW_DOUBT_DAMPER_LEAK));
    assert_non_null(item_of(&doubt, DW_DOUBT_DAMPER_SCALE));
    assert_non_null(item_of(&doubt, DW_DOUBT_OPENING_DISCHARGE));
    /* A port through a wall goes from 0.70 to 0.82. */
    dw_kiln deep = file.kiln, end;
    deep.opening_count = 2;
    deep.opening[1] = deep.opening[0];
    for (int i = 0; i < deep.opening_count; i++) {
        deep.opening[i].kind = DW_OPENING_HOLE;
        deep.opening[i].area_m2 = 20e-4;
        deep.opening[i].depth_m = i == 0 ? 0.1 : NAN;
    }
    for (int high = 0; high < 2; high++) {
        end = deep;
        dw_kiln_resolve(&end);
        assert_true(dw_doubt_put(&end, DW_DOUBT_OPENING_DISCHARGE, high));
        assert_close(end.opening[0].discharge_coeff, high ? 0.82 : 0.70, 1e-15, 0.0);
        assert_close(end.opening[1].discharge_coeff, high ? 0.70 : 0.60, 1e-15, 0.0);
    }
    /* A joint has no coefficient. */
    file.kiln.opening_count = 1;
    file.kiln.opening[0] = (dw_opening){.kind = DW_OPENING_JOINT, .count = 1, .open_frac = 1.0,
                                        .width_m = 2e-3, .depth_m = 0.1, .length_m = 0.3,
                                        .height_m = 0.1, .from_m = NAN, .to_m = NAN};
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, phi_of(&file.kiln), nothing_given, &doubt), DW_OK);
    assert_null(item_of(&doubt, DW_DOUBT_OPENING_DISCHARGE));
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    dw_doubt doubt;
    assert_int_equal(dw_doubt_find(NULL, &file.kiln, 1.0, nothing_given, &doubt), DW_ERR_ARG);
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, NAN, nothing_given, &doubt), DW_ERR_ARG);
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, 1.0, nothing_given, NULL), DW_ERR_ARG);
    assert_true(doubt.count == 0 && isnan(doubt.phi_to));
    assert_string_equal(dw_doubt_input_text(DW_DOUBT_COUNT), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ends_are_points_solved_with_that_input),
        cmocka_unit_test(largest_comes_first_and_all_add_up),
        cmocka_unit_test(what_was_given_is_no_doubt),
        cmocka_unit_test(inputs_a_kiln_lacks_are_left_out),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
