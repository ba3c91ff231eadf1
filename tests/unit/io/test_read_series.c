/** @file test_read_series.c  Unit tests of io/read_series. */

#include "check.h"

#include <string.h>

#include "read_series.h"

static dw_series series;
static char said[600];

static dw_status read(const char *text)
{
    dw_diag_list *diag = dw_diag_list_create();
    const dw_status status = dw_read_series("m.csv", text, strlen(text), diag, &series);
    said[0] = '\0';
    if (dw_diag_count(diag) > 0) (void)dw_diag_format(dw_diag_get(diag, 0), said, sizeof said);
    dw_diag_list_destroy(diag);
    return status;
}

static void minutes_and_levels(void **state)
{
    (void)state;
    assert_int_equal(read("# a comment\r\ntime_min,remark,ppm\r\n3,lit,12\r\n5.5,,48\r\n\r\n"
                          "9,\"damper, in\",31.5\r\n"),
                     DW_OK);
    assert_int_equal(series.reading_count, 3);
    assert_int_equal(series.step_count, 2);
    /* From the first reading on; the higher of two neighbours holds between them. */
    assert_close(series.step[0].until_s, 150.0, 1e-12, 0.0);
    assert_close(series.step[0].mean_ppm, 48.0, 0.0, 0.0);
    assert_close(series.step[1].until_s, 360.0, 1e-12, 0.0);
    assert_close(series.step[1].mean_ppm, 48.0, 0.0, 0.0);
    assert_close(series.step[1].peak_ppm, 48.0, 0.0, 0.0);
    assert_close(series.longest_gap_s, 210.0, 1e-12, 0.0);
    dw_series_free(&series);
    assert_null(series.step);
}

static void units_of_time_and_clocks(void **state)
{
    (void)state;
    assert_int_equal(read("co_ppm,time_s\n1,0\n2,90\n"), DW_OK);
    assert_close(series.step[0].until_s, 90.0, 0.0, 0.0);
    dw_series_free(&series);
    assert_int_equal(read("time_h,ppm\n0,1\n1.5,2"), DW_OK);
    assert_close(series.step[0].until_s, 5400.0, 0.0, 0.0);
    dw_series_free(&series);
    /* Over midnight. */
    assert_int_equal(read("clock,ppm\n23:30,10\n23:59:30,20\n00:10,30\n01:00,5\n"), DW_OK);
    assert_close(series.step[0].until_s, 1770.0, 0.0, 0.0);
    assert_close(series.step[1].until_s, 2400.0, 0.0, 0.0);
    assert_close(series.step[2].until_s, 5400.0, 0.0, 0.0);
    dw_series_free(&series);
}

static void faults_have_their_line(void **state)
{
    (void)state;
    static const struct {
        const char *text, *begins;
    } cases[] = {
        {"minutes,ppm\n0,1\n1,2\n", "m.csv:1: error: names no column of time"},
        {"time_s,co\n0,1\n1,2\n", "m.csv:1: error: names no column ppm"},
        {"time_s,time_h,ppm\n0,1,1\n", "m.csv:1: error: has two columns of time"},
        {"time_s,ppm,co_ppm\n0,1,1\n", "m.csv:1: error: has two columns of ppm"},
        {"time_s,ppm\n0,1\n\n# x\n1,soon\n", "m.csv:5: error: ppm is 'soon'"},
        {"time_s,ppm\n0,1\n1,-2\n", "m.csv:3: error: ppm is '-2'"},
        {"time_s,ppm\n0,1\n1,1e9\n", "m.csv:3: error: ppm is '1e9'"},
        {"time_s,ppm\n0,1\nnoon,2\n", "m.csv:3: error: time is 'noon'"},
        {"time_s,ppm\n5,1\n5,2\n", "m.csv:3: error: time is not after"},
        {"time_s,ppm\n0,1\n7\n", "m.csv:3: error: has 1 fields, expected 2"},
        {"clock,ppm\n25:00,1\n", "m.csv:2: error: clock is '25:00'"},
        {"clock,ppm\n7:30,1\n", "m.csv:2: error: clock is '7:30'"},
        {"clock,ppm\n07-30,1\n", "m.csv:2: error: clock is '07-30'"},
        {"time_s,ppm\n0,1\n", "m.csv: error: holds 1 readings"},
        {"time_s,ppm\n", "m.csv: error: holds 0 readings"},
        {"", "m.csv: error: holds 0 readings"},
        {"time_s,ppm\n0,\"1\n2,3\n", "m.csv:2: error: "},
        {"time_s,ppm\n0,1\"2\n", "m.csv:2: error: "},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(read(cases[i].text), DW_ERR_INPUT);
        assert_null(series.step);
        if (strncmp(said, cases[i].begins, strlen(cases[i].begins)) != 0) {
            fail_msg("case %zu: '%s' does not begin with '%s'", i, said, cases[i].begins);
        }
    }
}

static void long_fields_and_many_columns(void **state)
{
    (void)state;
    char text[2000] = "time_s,ppm,x\n0,1,";
    memset(text + strlen(text), 'y', 500);
    strcat(text, "\n1,2,z\n");
    assert_int_equal(read(text), DW_ERR_INPUT);
    assert_non_null(strstr(said, "64 characters"));
    char wide[4000] = "time_s,ppm";
    for (int i = 0; i < 100; i++) strcat(wide, ",c");
    strcat(wide, "\n0,1\n1,2\n");
    assert_int_equal(read(wide), DW_OK);
    dw_series_free(&series);
    assert_int_equal(dw_read_series(NULL, "", 0, NULL, &series), DW_ERR_ARG);
    assert_int_equal(dw_read_series("x", "", 0, NULL, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(minutes_and_levels),
        cmocka_unit_test(units_of_time_and_clocks),
        cmocka_unit_test(faults_have_their_line),
        cmocka_unit_test(long_fields_and_many_columns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
