/* The reduction ladder: order of its rungs, unmixedness on and off, the same as an operating point. */

#include <string.h>

#include "check.h"
#include "kit.h"
#include "ladder.h"

static dw_ladder ladder;
static char reason[DW_REASON_SIZE];

static void climb(double spread, double temperature_c)
{
    dw_kiln_file file;
    kit_example("oxides-rushlight-hill", &file);
    file.kiln.settings.unmixedness = spread;
    file.kiln.operating.chamber_temperature_k = temperature_c + 273.15;
    assert_int_equal(dw_ladder_init(&ladder, kit_model(), &file.kiln, reason), DW_OK);
    assert_string_equal(reason, "");
}

static void rungs_go_in_order(void **state)
{
    (void)state;
    climb(0.05, 1180.0);
    double log_before = 10.0, co_before = -1.0;
    int form_before = 0;
    for (int i = 0; i < DW_LADDER_RUNG_COUNT; i++) {
        dw_rung r;
        assert_int_equal(dw_ladder_rung(&ladder, dw_ladder_ratio[i], &r), DW_OK);
        if (i > 0) assert_true(dw_ladder_ratio[i] > dw_ladder_ratio[i - 1]);
        assert_true(r.ware.mean.log10_po2_bar < log_before);
        assert_true(r.unmixed.co > co_before);
        assert_true(r.ware.metal[0].mean.form >= form_before);
        assert_close(r.ware.mean.equivalence_ratio, dw_ladder_ratio[i], 1e-12, 0.0);
        const bool near_one = dw_ladder_ratio[i] > 0.95 && dw_ladder_ratio[i] < 1.05;
        assert_int_equal(r.ware.has_parcels, near_one);
        log_before = r.ware.mean.log10_po2_bar;
        co_before = r.unmixed.co;
        form_before = r.ware.metal[0].mean.form;
    }
}

static void unmixedness_off_is_the_plain_equilibrium(void **state)
{
    (void)state;
    dw_rung on, off;
    climb(0.05, 1180.0);
    assert_int_equal(dw_ladder_rung(&ladder, 1.0, &on), DW_OK);
    climb(0.0, 1180.0);
    assert_int_equal(dw_ladder_rung(&ladder, 1.0, &off), DW_OK);
    assert_close(off.unmixed.co, off.mixed.co, 0.0, 0.0);
    assert_close(on.mixed.co, off.mixed.co, 1e-12, 0.0);
    /* About 10 s per cent of each at the stoichiometric point, for methane somewhat more CO. */
    assert_close(on.unmixed.co, 0.0052, 0.1, 0.0);
    assert_close(on.unmixed.o2, 0.0048, 0.1, 0.0);
    assert_true(off.mixed.co < 1e-4);
    assert_close(on.ware.mean.log10_po2_bar, off.ware.mean.log10_po2_bar, 0.0, 1e-12);
    assert_true(on.ware.metal[0].mixed && !off.ware.metal[0].mixed);
}

static void a_rung_is_an_operating_point(void **state)
{
    (void)state;
    dw_kiln_file file;
    dw_result result;
    dw_rung r;
    kit_example("oxides-rushlight-hill", &file);
    assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &result), DW_OK);
    assert_int_equal(dw_ladder_init(&ladder, kit_model(), &file.kiln, reason), DW_OK);
    assert_int_equal(dw_ladder_rung(&ladder, result.equivalence_ratio, &r), DW_OK);
    const int co = dw_species_find(&kit_data()->species, "CO");
    const int h2 = dw_species_find(&kit_data()->species, "H2");
    const int co2 = dw_species_find(&kit_data()->species, "CO2");
    assert_close(r.unmixed.co, result.gas_dry.x[co], 1e-9, 0.0);
    assert_close(r.unmixed.h2, result.gas_dry.x[h2], 1e-9, 0.0);
    assert_close(r.unmixed.co2, result.gas_dry.x[co2], 1e-9, 0.0);
    assert_close(r.ware.mean.log10_po2_bar, result.log10_po2_bar, 0.0, 1e-9);
    assert_close(r.ware.probe_emf_v, result.probe_emf_v, 1e-9, 0.0);
    assert_close(r.ware.mean.carbon_activity, result.carbon_activity, 1e-8, 0.0);
}

static void contents_freeze_below_the_quench_temperature(void **state)
{
    (void)state;
    dw_rung cold, frozen;
    climb(0.0, 700.0);
    assert_int_equal(dw_ladder_rung(&ladder, 1.2, &cold), DW_OK);
    assert_close(ladder.frozen.at.lean_k, 1100.0, 0.0, 0.0);
    assert_close(ladder.frozen.at.rich_k, dw_quench_usual_rich.middle, 0.0, 0.0);
    climb(0.0, dw_quench_usual_rich.middle - 273.15);
    assert_int_equal(dw_ladder_rung(&ladder, 1.2, &frozen), DW_OK);
    assert_close(cold.mixed.co, frozen.mixed.co, 1e-9, 0.0);
    assert_true(cold.ware.mean.log10_po2_bar < frozen.ware.mean.log10_po2_bar - 1.0);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_kiln_file file;
    dw_rung r;
    kit_example("oxides-rushlight-hill", &file);
    file.kiln.operating.chamber_temperature_k = 700.0;
    assert_int_equal(dw_ladder_init(&ladder, kit_model(), &file.kiln, reason), DW_ERR_DOMAIN);
    assert_non_null(strstr(reason, "500 degC"));
    kit_example("oxides-rushlight-hill", &file);
    file.kiln.chamber.width_m = -1.0;
    assert_int_equal(dw_ladder_init(&ladder, kit_model(), &file.kiln, reason), DW_ERR_DOMAIN);
    assert_true(reason[0] != '\0');
    assert_int_equal(dw_ladder_init(&ladder, kit_model(), NULL, reason), DW_ERR_ARG);
    climb(0.05, 1180.0);
    assert_int_equal(dw_ladder_rung(&ladder, 0.01, &r), DW_ERR_DOMAIN);
    assert_int_equal(dw_ladder_rung(&ladder, 3.1, &r), DW_ERR_DOMAIN);
    assert_int_equal(dw_ladder_rung(&ladder, NAN, &r), DW_ERR_ARG);
    assert_int_equal(dw_ladder_rung(NULL, 1.0, &r), DW_ERR_ARG);
    assert_int_equal(dw_ladder_rung(&ladder, 1.0, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rungs_go_in_order),
        cmocka_unit_test(unmixedness_off_is_the_plain_equilibrium),
        cmocka_unit_test(a_rung_is_an_operating_point),
        cmocka_unit_test(contents_freeze_below_the_quench_temperature),
        cmocka_unit_test(refuses_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
