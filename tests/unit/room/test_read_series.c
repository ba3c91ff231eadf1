/** @file test_read_series.c  Unit tests of io/read_series. */

#include "check.h"

#include <stdlib.h>
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

static void two_nights_and_the_last_minute_of_a_day(void **state)
{
    (void)state;
    assert_int_equal(read("clock,ppm\n22:00,1\n06:00,2\n23:59:59,3\n00:00,4\n22:00,5\n21:59,6\n"),
                     DW_OK);
    static const double until_h[] = {8.0, 25.0 + 3599.0 / 3600.0, 26.0, 48.0, 71.0 + 59.0 / 60.0};
    assert_int_equal(series.step_count, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_close(series.step[i].until_s, 3600.0 * until_h[i], 1e-14, 0.0);
    }
    assert_close(series.longest_gap_s, 3600.0 * (23.0 + 59.0 / 60.0), 1e-14, 0.0);
    dw_series_free(&series);
    /* The ends of what is a level, and of what is a time. */
    assert_int_equal(read("time_h,ppm\n-270000,0\n0,1000000\n270000,1e6\n"), DW_OK);
    assert_close(series.step[1].until_s, 540000.0 * 3600.0, 0.0, 0.0);
    dw_series_free(&series);
}

/* More readings than are taken at first, and more than are taken at all. */
static void long_series(void **state)
{
    (void)state;
    char *text = malloc(40 * ((size_t)DW_SERIES_MAX + 2));
    assert_non_null(text);
    size_t used = (size_t)sprintf(text, "time_s,ppm\n");
    for (int i = 0; i < 1000; i++) used += (size_t)sprintf(text + used, "%d,%d\n", 2 * i, i % 7);
    assert_int_equal(read(text), DW_OK);
    assert_int_equal(series.step_count, 999);
    for (int i = 0; i < 999; i++) {
        assert_close(series.step[i].until_s, 2.0 * (i + 1), 0.0, 0.0);
        assert_close(series.step[i].mean_ppm, fmax(i % 7, (i + 1) % 7), 0.0, 0.0);
    }
    dw_series_free(&series);
    for (int i = 1000; i < DW_SERIES_MAX; i++) {
        used += (size_t)sprintf(text + used, "%d,%d\n", 2 * i, i % 7);
    }
    assert_int_equal(read(text), DW_OK);
    assert_int_equal(series.reading_count, DW_SERIES_MAX);
    dw_series_free(&series);
    (void)sprintf(text + used, "%d,1\n", 2 * DW_SERIES_MAX);
    assert_int_equal(read(text), DW_ERR_INPUT);
    assert_non_null(strstr(said, "more than"));
    free(text);
}

static void many_faults_are_counted(void **state)
{
    (void)state;
    char text[4000] = "time_s,ppm\n0,1\n1,2\n";
    for (int i = 0; i < 30; i++) strcat(text, "x,1\n");
    dw_diag_list *diag = dw_diag_list_create();
    assert_int_equal(dw_read_series("m.csv", text, strlen(text), diag, &series), DW_ERR_INPUT);
    assert_int_equal(dw_diag_count(diag), 21);
    assert_string_equal(dw_diag_get(diag, 20)->text, "10 more errors are not shown");
    assert_int_equal(dw_diag_get(diag, 19)->line, 23);
    dw_diag_list_destroy(diag);
    /* Just as many as are shown. */
    text[strlen(text) - 10 * strlen("x,1\n")] = '\0';
    diag = dw_diag_list_create();
    assert_int_equal(dw_read_series("m.csv", text, strlen(text), diag, &series), DW_ERR_INPUT);
    assert_int_equal(dw_diag_count(diag), 20);
    dw_diag_list_destroy(diag);
}

static void faults_have_their_line(void **state)
{
    (void)state;
    static const struct {
        const char *text, *begins;
    } cases[] = {
        {"minutes,ppm\n0,1\n1,2\n", "m.csv:1: error: the heading has no column of time"},
        {"time_s,co\n0,1\n1,2\n", "m.csv:1: error: the heading has no column ppm"},
        {"time_s,time_h,ppm\n0,1,1\n", "m.csv:1: error: the heading has two columns of time"},
        {"time_s,ppm,co_ppm\n0,1,1\n", "m.csv:1: error: the heading has two columns of ppm"},
        {"time_s,ppm\n0,1\n\n# x\n1,soon\n", "m.csv:5: error: the ppm is 'soon'"},
        {"time_s,ppm\n0,1\n1,-2\n", "m.csv:3: error: the ppm is '-2'"},
        {"time_s,ppm\n0,1\n1,1e9\n", "m.csv:3: error: the ppm is '1e9'"},
        {"time_s,ppm\n0,1\nnoon,2\n", "m.csv:3: error: the time is 'noon'"},
        {"time_s,ppm\n5,1\n5,2\n", "m.csv:3: error: the time is not later"},
        {"time_s,ppm\n0,1\n7\n", "m.csv:3: error: the row has 1 fields, expected 2"},
        {"clock,ppm\n25:00,1\n", "m.csv:2: error: the clock is '25:00'"},
        {"clock,ppm\n7:30,1\n", "m.csv:2: error: the clock is '7:30'"},
        {"clock,ppm\n24:00,1\n", "m.csv:2: error: the clock is '24:00'"},
        {"clock,ppm\n23:60,1\n", "m.csv:2: error: the clock is '23:60'"},
        {"clock,ppm\n23:59:60,1\n", "m.csv:2: error: the clock is '23:59:60'"},
        {"clock,ppm\n/9:00,1\n", "m.csv:2: error: the clock is '/9:00'"},
        {"clock,ppm\n1::00,1\n", "m.csv:2: error: the clock is '1::00'"},
        {"clock,ppm\n:9:00,1\n", "m.csv:2: error: the clock is ':9:00'"},
        {"clock,ppm\n1/:00,1\n", "m.csv:2: error: the clock is '1/:00'"},
        {"clock,ppm\n12:00:,1\n", "m.csv:2: error: the clock is '12:00:'"},
        {"clock,ppm\n,1\n", "m.csv:2: error: the clock is ''"},
        {"time_s,ppm\n0,1\n,2\n", "m.csv:3: error: the time is ''"},
        {"time_s,ppm\n0,1\n1,\n", "m.csv:3: error: the ppm is ''"},
        {"time_s,ppm\n0,1\n1,2 ppm\n", "m.csv:3: error: the ppm is '2 ppm'"},
        {"time_s,ppm\n0,1\n1,1000001\n", "m.csv:3: error: the ppm is '1000001'"},
        {"time_h,ppm\n0,1\n280000,2\n", "m.csv:3: error: the time is '280000'"},
        {"clock,ppm\n07-30,1\n", "m.csv:2: error: the clock is '07-30'"},
        {"time_s,ppm\n0,1\n", "m.csv: error: the file has 1 readings"},
        {"time_s,ppm\n", "m.csv: error: the file has 0 readings"},
        {"", "m.csv: error: the file has 0 readings"},
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
    /* The longest that there may be, in a column that is read. */
    char number[200] = "time_s,ppm\n0,1\n1,";
    for (int i = 0; i < 62; i++) strcat(number, "0");
    assert_int_equal(read(strcat(number, "7\n")), DW_OK);
    assert_close(series.step[0].mean_ppm, 7.0, 0.0, 0.0);
    dw_series_free(&series);
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
        cmocka_unit_test(two_nights_and_the_last_minute_of_a_day),
        cmocka_unit_test(long_series),
        cmocka_unit_test(many_faults_are_counted),
        cmocka_unit_test(faults_have_their_line),
        cmocka_unit_test(long_fields_and_many_columns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
