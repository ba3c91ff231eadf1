/* The working of the ware: every step's own formula gives the model's number, for kilns and without. */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "kit.h"
#include "oxygen.h"
#include "work_check.h"
#include "working_point.h"
#include "working_ware.h"

static const double TOLERANCE = 1e-9;

/** One state with its working. */
typedef struct state {
    dw_result result;
    dw_solved solved;
    dw_ware ware;
    dw_ware_boundary boundary[DW_BUFFER_MAX];
    int boundary_count;
    dw_ware_glaze glaze[DW_GLAZE_MAX];
    dw_working *w;
} state;

static state now;

static void look_closer(void)
{
    const dw_data *data = kit_data();
    for (size_t i = 0; i < data->glaze_count; i++) {
        dw_ware_glaze_at(&data->glaze[i], &now.ware, &now.glaze[i]);
    }
    assert_int_equal(dw_ware_boundaries(kit_model(), &now.ware, now.boundary, &now.boundary_count),
                     DW_OK);
    dw_working_ware(kit_model(), &now.ware, now.boundary, now.boundary_count, now.w);
}

/* False when the kiln has no solution. */
static bool work_kiln(const dw_kiln *kiln)
{
    now.w = dw_working_create();
    assert_non_null(now.w);
    dw_status status = dw_operating_point(kit_model(), kiln, &now.result);
    if (status == DW_OK) {
        assert_int_equal(dw_ware_of_point(kit_model(), kiln, &now.result, &now.ware), DW_OK);
        dw_work_rename_to_oxides(now.w, now.ware.given);
        status = dw_working_point_solved(kit_model(), kiln, DW_WORK_TO_OXYGEN, now.w, &now.solved,
                                         &now.result);
        dw_work_rename_keys(now.w, NULL, 0);
    }
    if (status != DW_OK) {
        dw_working_destroy(now.w);
        return false;
    }
    look_closer();
    assert_int_equal(dw_working_ware_parcels(kit_model(), &now.solved, &now.ware, now.w),
                     DW_OK);
    dw_working_glazes(&now.ware, now.glaze, kit_data()->glaze_count, now.w);
    assert_int_equal(dw_working_status(now.w), DW_OK);
    return true;
}

/* log10_po2: where it was read. */
static void work_sensor(double temperature_k, dw_ware_given given, double log10_po2)
{
    const bool heated = given.sensor == DW_SENSOR_HEATED;
    dw_matched_gas gas;
    now.w = dw_working_create();
    assert_non_null(now.w);
    assert_int_equal(dw_match_mixtures_init(&given.mixtures, kit_model(), &kit_data()->fuel[1],
                                            101325.0),
                     DW_OK);
    double read, at_ware;
    assert_int_equal(dw_given_oxygen_read(kit_model(), &given, temperature_k, NULL, &read), DW_OK);
    assert_close(read, log10_po2, 1e-14, 0.0);
    assert_int_equal(dw_given_oxygen_at(kit_model(), &given, temperature_k, &gas, &at_ware), DW_OK);
    assert_true(at_ware == read || (heated && gas.found == DW_MATCH_GAS));
    assert_int_equal(dw_ware_at(kit_model(), temperature_k, 101325.0, at_ware, &now.ware), DW_OK);
    assert_int_equal(dw_working_ware_given(kit_model(), &now.ware, &given, &gas, now.w), DW_OK);
    look_closer();
    dw_working_glazes(&now.ware, now.glaze, kit_data()->glaze_count, now.w);
    assert_int_equal(dw_working_status(now.w), DW_OK);
}

static void work_given(double temperature_k, dw_oxygen_given given, double value, double log10_po2)
{
    work_sensor(temperature_k,
                (dw_ware_given){.given = given, .value = value, .sensor_temperature_k = NAN},
                log10_po2);
}

static void every_formula_gives_the_models_number(void **unused)
{
    (void)unused;
    int parcels = 0;
    for (int i = 0; kit_examples[i] != NULL; i++) {
        dw_kiln_file file;
        kit_example(kit_examples[i], &file);
        if (!work_kiln(&file.kiln)) continue;
        assert_int_equal(work_check_steps(now.w, kit_examples[i], TOLERANCE), 0);
        assert_int_equal(work_check_chain(now.w, kit_examples[i], 1e-7), 0);
        assert_int_equal(work_check_sources(now.w, kit_data()), 0);
        parcels += now.ware.has_parcels;
        dw_working_destroy(now.w);
    }
    assert_true(parcels > 0);
}

/* Hot, cold, rich, lean, with carbon, evenly mixed. */
static void so_it_is_for_random_kilns(void **unused)
{
    (void)unused;
    kit_random random = kit_seed(20260203);
    const int cases = kit_cases("DW_WORKING_CASES", 60);
    int given = 0, parcels = 0, glazes = 0, cold = 0;
    for (int i = 0; i < cases; i++) {
        dw_kiln kiln;
        kit_random_kiln(&random, &kiln);
        kiln.settings.graphite = i % 9 == 4;
        if (i % 3 == 0) kiln.operating.chamber_temperature_k = kit_between(&random, 1480.0, 1650.0);
        if (i % 5 == 1) kiln.operating.chamber_temperature_k = kit_between(&random, 600.0, 1100.0);
        if (i % 11 == 2) kiln.settings.unmixedness = 0.0;
        if (!work_kiln(&kiln)) continue;
        char name[40];
        (void)snprintf(name, sizeof name, "random kiln %d", i);
        assert_int_equal(work_check_steps(now.w, name, TOLERANCE), 0);
        given += now.ware.given;
        cold += !now.ware.given;
        parcels += now.ware.has_parcels;
        glazes += now.glaze[0].refusal == DW_GLAZE_GIVEN;
        dw_working_destroy(now.w);
    }
    print_message("%d states with oxygen, %d without, %d with parcels, %d with molten glazes\n", given,
                  cold, parcels, glazes);
    assert_true(given > cases / 3 && cold > 0 && parcels > 0 && glazes > 0);
}

static double value_of_key(const char *key)
{
    const dw_work_step *s = work_step_of(now.w, key);
    if (s == NULL) print_error("no step for %s\n", key);
    assert_non_null(s);
    return dw_working_quantity(now.w, s->result)->value[0];
}

static void oxygen_that_is_given_comes_back(void **unused)
{
    (void)unused;
    dw_oxygen_ratio k;
    const double t = 1513.65;
    assert_int_equal(dw_oxygen_ratio_at(&kit_model()->gases, t, &k), DW_OK);
    const struct {
        dw_oxygen_given given;
        double value, log10_po2;
    } ways[] = {{DW_OXYGEN_LOG10, -7.31, -7.31},
                {DW_OXYGEN_CO_CO2, 0.137, dw_oxygen_from_co_co2(&k, 0.137)},
                {DW_OXYGEN_H2_H2O, 0.063, dw_oxygen_from_h2_h2o(&k, 0.063)},
                {DW_OXYGEN_VOLTS, 0.593, dw_probe_log10_po2_bar(0.593, t, 101325.0)}};
    static const char *const back[] = {"log10_po2_bar", "co_co2_ratio", "probe_emf_v",
                                       "h2_h2o_ratio"};
    for (size_t i = 0; i < 4; i++) {
        work_given(t, ways[i].given, ways[i].value, ways[i].log10_po2);
        assert_int_equal(work_check_steps(now.w, "given", 1e-12), 0);
        assert_int_equal(work_check_chain(now.w, "given", 1e-11), 0);
        assert_close(value_of_key("temperature_k"), t, 0.0, 0.0);
        assert_close(value_of_key(back[ways[i].given]), ways[i].value, 1e-11, 0.0);
        dw_working_destroy(now.w);
    }
}

/* Lean, even and rich gas at a sensor that heats itself, and the gas as it freezes. */
static void a_heated_sensor_has_its_steps(void **unused)
{
    (void)unused;
    static const double emf_v[] = {0.001, 0.012, 0.044, 0.7, 0.83, 0.93};
    for (size_t i = 0; i < sizeof emf_v / sizeof emf_v[0]; i++) {
        const double t = i % 2 == 0 ? 1513.65 : 1031.0, t_s = 1003.15;
        work_sensor(t, (dw_ware_given){.given = DW_OXYGEN_VOLTS, .value = emf_v[i],
                                       .sensor = DW_SENSOR_HEATED, .sensor_temperature_k = t_s},
                    dw_probe_log10_po2_bar(emf_v[i], t_s, 101325.0));
        assert_int_equal(work_check_steps(now.w, "heated", TOLERANCE), 0);
        assert_int_equal(work_check_chain(now.w, "heated", 1e-7), 0);
        assert_int_equal(work_check_sources(now.w, kit_data()), 0);
        assert_close(value_of_key("log10_po2_bar"), now.ware.mean.log10_po2_bar, 0.0, 1e-9);
        (void)value_of_key("gas.o2_wet");
        if (i > 0) {
            (void)value_of_key("equivalence_ratio");
            (void)value_of_key("gas.co_dry");
        }
        assert_true(work_check_moved(now.w, "T_s", 1.01) >= 1);
        dw_working_destroy(now.w);
    }
}

/* All of the metals, the boundaries and the glazes have their steps, and moved numbers are seen. */
static void nothing_is_left_out(void **unused)
{
    (void)unused;
    work_given(1531.4, DW_OXYGEN_LOG10, -8.41, -8.41);
    const dw_data *data = kit_data();
    for (int i = 0; i < data->oxides.metal_count; i++) {
        char key[60];
        (void)snprintf(key, sizeof key, "metals.%s.distance_log10", data->oxides.metal[i].name);
        assert_close(value_of_key(key), now.ware.metal[i].mean.margin_log10, 1e-12, 0.0);
    }
    for (size_t i = 0; i < data->glaze_count; i++) {
        char key[60];
        (void)snprintf(key, sizeof key, "glazes.%zu.kress_ferrous", i);
        assert_close(value_of_key(key), now.glaze[i].iron.kress_share, 1e-12, 0.0);
        (void)snprintf(key, sizeof key, "glazes.%zu.ferrous_high", i);
        assert_close(value_of_key(key), now.glaze[i].iron.high_share, 1e-12, 0.0);
    }
    size_t boundaries = 0, compared = 0;
    for (int i = 0; i < now.boundary_count; i++) {
        if (now.boundary[i].reach == DW_BUFFER_OUT) continue;
        if (data->oxides.buffer[now.boundary[i].buffer].metal < 0) {
            compared++;
        } else {
            boundaries++;
        }
    }
    const dw_work_step *s = work_step_of(now.w, "boundaries.*.probe_emf_v");
    assert_non_null(s);
    assert_int_equal(dw_working_quantity(now.w, s->result)->rows, boundaries);
    s = work_step_of(now.w, "comparison.*.gas_minus_log10");
    assert_non_null(s);
    assert_int_equal(dw_working_quantity(now.w, s->result)->rows, compared);
    assert_true(work_check_moved(now.w, "lg_in", 1.01) == 1);
    assert_true(work_check_moved(now.w, "y_o", 1.01) >= 1);
    assert_true(work_check_moved(now.w, "c_1", 1.01) >= 1);
    dw_working_destroy(now.w);
}

/* Parcels of a lean gas near phi 1 carry the numbers of the ware, and the betas close for them alone. */
static void parcels_are_those_of_the_ware(void **unused)
{
    (void)unused;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    assert_true(work_kiln(&file.kiln));
    assert_true(now.ware.has_parcels);
    const dw_work_step *s = work_step_of(now.w, "parcels.*.log10_po2_bar");
    assert_non_null(s);
    const dw_work_quantity *q = dw_working_quantity(now.w, s->result);
    assert_int_equal(q->rows, 4);
    assert_close(q->value[0], now.ware.lean.log10_po2_bar, 0.0, 0.0);
    assert_close(q->value[1], now.ware.rich.log10_po2_bar, 0.0, 0.0);
    assert_close(q->value[2], now.ware.richest.log10_po2_bar, 0.0, 0.0);
    assert_close(q->value[3], now.ware.primary.log10_po2_bar, 0.0, 0.0);
    /* phi from z, and what closes for z. */
    assert_true(work_check_moved(now.w, "z_l", 1.001) >= 1);
    assert_true(work_check_moved(now.w, "z_q", 1.001) >= 1);
    dw_working_destroy(now.w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_formula_gives_the_models_number),
        cmocka_unit_test(so_it_is_for_random_kilns),
        cmocka_unit_test(oxygen_that_is_given_comes_back),
        cmocka_unit_test(a_heated_sensor_has_its_steps),
        cmocka_unit_test(nothing_is_left_out),
        cmocka_unit_test(parcels_are_those_of_the_ware),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
