/* The report of a sweep: axes, rows that failed, what is counted. */

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "check.h"
#include "reports.h"
#include "sample_result.h"
#include "writers.h"

static dw_data data;
static dw_kiln_file file;
static const double dampers[] = {0.3, 0.5}, pressures[] = {1300.0, 2600.0, 3900.0};
static const dw_kiln_field fields[] = {
    {.path = "flues.Back flue.damper.open", .dim = DW_DIM_RATIO},
    {.path = "gas_pressure", .dim = DW_DIM_PRESSURE_GAUGE}};

/* Six points, the fourth not solved, the last without hazards and with its plane outside. */
static dw_report *sample_sweep(void)
{
    sample_data(&data);
    memset(&file, 0, sizeof file);
    sample_kiln(&file.kiln);
    const dw_report_source source = {"1.2.3", "sweep", &data, &file, &file.kiln, NULL, NULL, NULL};
    const dw_sweep_axis axes[] = {{&fields[0], dampers, 2}, {&fields[1], pressures, 3}};
    dw_report *r = dw_report_create();
    dw_sweep_table sweep;
    static dw_result result;
    dw_build_sweep(&sweep, r, &source, axes, 2);
    for (int i = 0; i < 6; ++i) {
        sample_result(&result);
        result.equivalence_ratio += 0.01 * i;
        if (i == 3) {
            result.solved = false;
            strcpy(result.reason, "the \"stack\" stalls, and so on");
        }
        if (i == 5) {
            result.finding_count = 0;
            result.neutral = DW_NEUTRAL_ALL_IN;
        }
        const double values[] = {dampers[i / 3], pressures[i % 3]};
        dw_build_sweep_row(&sweep, values, &result);
    }
    dw_build_sweep_end(&sweep);
    assert_int_equal(sweep.row_count, 6);
    assert_int_equal(sweep.solved_count, 5);
    assert_int_equal(sweep.hazard_count, 4);
    assert_false(dw_report_failed(r));
    return r;
}

static void json_rows_have_their_inputs_and_failed_ones_only_those(void **state)
{
    (void)state;
    dw_report *r = sample_sweep();
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_json(r, &out), DW_OK);
    json_t *j = json_loads(out.text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(j);
    const json_t *rows = json_object_get(j, "rows"), *axes = json_object_get(j, "axes");
    assert_int_equal(json_array_size(rows), 6);
    assert_int_equal(json_integer_value(json_object_get(j, "solved_count")), 5);
    const json_t *first = json_array_get(axes, 0), *second = json_array_get(axes, 1);
    assert_string_equal(json_string_value(json_object_get(first, "path")),
                        "flues.Back flue.damper.open");
    assert_string_equal(json_string_value(json_object_get(first, "key")),
                        "flues_back_flue_damper_open");
    assert_string_equal(json_string_value(json_object_get(second, "key")), "gas_pressure_pa");
    assert_int_equal(json_array_size(json_object_get(second, "values")), 3);

    const json_t *row = json_array_get(rows, 4);
    assert_close(json_number_value(json_object_get(row, "flues_back_flue_damper_open")), 0.5, 0, 0);
    assert_close(json_number_value(json_object_get(row, "gas_pressure_pa")), 2600.0, 0, 0);
    assert_true(json_is_true(json_object_get(row, "solved")));
    assert_close(json_number_value(json_object_get(row, "equivalence_ratio")), 1.129, 1e-12, 0);
    assert_close(json_number_value(json_object_get(row, "co_dry")), 0.0286, 1e-12, 0);
    assert_close(json_number_value(json_object_get(row, "o2_dry")), 0.0014, 1e-12, 0);
    assert_close(json_number_value(json_object_get(row, "spill_kg_s")), 2.557 / 3600, 1e-11, 0);
    assert_close(json_number_value(json_object_get(row, "draft_flue_exit_pa")), 21.83, 1e-12, 0);
    assert_close(json_number_value(json_object_get(row, "draft_stack_base_pa")), 22.37, 1e-12, 0);
    assert_close(json_number_value(json_object_get(row, "neutral_plane_m")), 0.614, 1e-12, 0);
    assert_string_equal(json_string_value(json_object_get(row, "reduction_word")), "medium");
    assert_string_equal(json_string_value(json_object_get(row, "hazards")),
                        "positive-at-opening spill");
    assert_true(json_is_null(json_object_get(row, "reason")));

    const json_t *failed = json_array_get(rows, 3);
    assert_true(json_is_false(json_object_get(failed, "solved")));
    assert_string_equal(json_string_value(json_object_get(failed, "reason")),
                        "the \"stack\" stalls, and so on");
    assert_close(json_number_value(json_object_get(failed, "gas_pressure_pa")), 1300.0, 0, 0);
    int numbers = 0;
    const char *key;
    json_t *value;
    json_object_foreach((json_t *)failed, key, value) numbers += json_is_number(value);
    assert_int_equal(numbers, 2);

    const json_t *last = json_array_get(rows, 5);
    assert_true(json_is_null(json_object_get(last, "neutral_plane_m")));
    assert_string_equal(json_string_value(json_object_get(last, "neutral_plane")), "all in");
    assert_true(json_is_null(json_object_get(last, "hazards")));
    json_decref(j);
    dw_strbuf_free(&out);
    dw_report_destroy(r);
}

static void text_rows_that_failed_give_the_reason_in_place_of_numbers(void **state)
{
    (void)state;
    dw_report *r = sample_sweep();
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_text(r, DW_UNITS_METRIC, &out), DW_OK);
    assert_non_null(strstr(out.text, "Yard kiln: 6 settings, 5 solved, 4 of them with a hazard\n"));
    assert_non_null(strstr(out.text, "gas_pressure from 1.3 kPa to 3.9 kPa, 3 values\n"));
    assert_non_null(strstr(out.text,
                           "    50           1.3  not solved: the \"stack\" stalls, and so on\n"));
    assert_non_null(strstr(out.text, "    50           2.6   1.129"));
    assert_non_null(strstr(out.text, "CO alarm"));
    dw_strbuf_free(&out);
    dw_report_destroy(r);
}

static void csv_has_a_header_with_units_and_a_field_for_everything(void **state)
{
    (void)state;
    dw_report *r = sample_sweep();
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_csv(r, DW_UNITS_US, &out), DW_OK);
    const char *header = "flues_back_flue_damper_open,gas_pressure_psi,solved,equivalence_ratio,";
    assert_memory_equal(out.text, header, strlen(header));
    assert_non_null(strstr(out.text, ",draft_stack_base_in_w_c,"));
    assert_non_null(strstr(out.text, ",heat_input_net_Btu_h,"));
    assert_non_null(strstr(out.text, "0.5,0.188549"));
    assert_non_null(strstr(out.text,
                           ",false,,,,,,,,,,,,,,,,,,,,\"the \"\"stack\"\" stalls, and so on\",\r\n"));
    assert_non_null(strstr(out.text, ",reason,caution\r\n"));
    const char *caution = strstr(out.text, "\"An estimate is not a measurement.");
    assert_non_null(caution);
    assert_null(strstr(caution + 2, "An estimate"));
    int lines = 0;
    for (const char *p = out.text; *p != '\0'; ++p) lines += p[0] == '\r' && p[1] == '\n';
    assert_int_equal(lines, 7);
    dw_strbuf_free(&out);
    dw_report_destroy(r);
}

static void two_axes_with_the_same_last_step_keep_their_whole_paths(void **state)
{
    (void)state;
    static const dw_kiln_field twins[] = {{.path = "openings.a.open", .dim = DW_DIM_RATIO},
                                          {.path = "openings.b.open", .dim = DW_DIM_RATIO}};
    sample_data(&data);
    memset(&file, 0, sizeof file);
    sample_kiln(&file.kiln);
    const dw_report_source source = {"1.2.3", "sweep", &data, &file, &file.kiln, NULL, NULL, NULL};
    const dw_sweep_axis axes[] = {{&twins[0], dampers, 2}, {&twins[1], dampers, 2}};
    dw_report *r = dw_report_create();
    dw_sweep_table sweep;
    dw_build_sweep(&sweep, r, &source, axes, 2);
    dw_build_sweep_end(&sweep);
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_text(r, DW_UNITS_METRIC, &out), DW_OK);
    assert_non_null(strstr(out.text, "  openings.a.open  openings.b.open  "));
    dw_strbuf_free(&out);
    dw_report_destroy(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(json_rows_have_their_inputs_and_failed_ones_only_those),
        cmocka_unit_test(text_rows_that_failed_give_the_reason_in_place_of_numbers),
        cmocka_unit_test(csv_has_a_header_with_units_and_a_field_for_everything),
        cmocka_unit_test(two_axes_with_the_same_last_step_keep_their_whole_paths),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
