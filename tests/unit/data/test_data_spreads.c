/** @file test_data_spreads.c  Unit tests of data/data_spreads: what is read, what is found, what is refused. */
#define _XOPEN_SOURCE 700 /* mkdtemp */
#include "check.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "kit.h"
#include "read_data.h"

static char folder[] = "/tmp/dw-data-spreads-XXXXXX";
static char path[80];
static dw_data *data;

static int set_up(void **state)
{
    (void)state;
    data = malloc(sizeof *data);
    if (data == NULL || mkdtemp(folder) == NULL) return -1;
    (void)snprintf(path, sizeof path, "%s/spreads.yaml", folder);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    free(data);
    (void)remove(path);
    return rmdir(folder);
}

static const char jet[] = "burners.*.jet.discharge_coefficient";

static void a_row_is_found_by_input_and_kind(void **state)
{
    (void)state;
    const dw_spreads *spreads = &kit_data()->spreads;
    const dw_spread_row *plug = dw_spread_find(spreads, jet, "plug");
    assert_non_null(plug);
    assert_string_equal(plug->input, jet);
    assert_string_equal(plug->kind, "plug");
    assert_close(plug->middle, 0.80, 0.0, 0.0);
    assert_close(plug->low, 0.765, 0.0, 0.0);
    assert_close(plug->high, 0.83, 0.0, 0.0);
    assert_string_equal(dw_mark_text(plug->mark), "read");
    assert_string_equal(plug->source, "weisbach-jets");
    assert_string_equal(dw_mark_text(dw_spread_find(spreads, jet, "short")->mark), "derived");
    assert_string_equal(dw_mark_text(dw_spread_find(spreads, jet, "drill point")->mark), "judgement");
    assert_string_equal(dw_mark_text(dw_spread_find(spreads, "burners.*.inlet_loss", "bell mouth")->mark),
                        "recalled");
    /* The same kind of another input, and the kind that holds where none is given. */
    assert_close(dw_spread_find(spreads, "burners.*.jet.velocity_coefficient", "plug")->middle, 0.81, 0.0, 0.0);
    assert_close(dw_spread_find(spreads, jet, DW_KIND_UNKNOWN)->middle, 0.83, 0.0, 0.0);
    assert_null(dw_spread_find(spreads, jet, "plugs"));
    assert_null(dw_spread_find(spreads, "burners.*.jet", "plug"));
}

static void every_row_rises_and_has_a_source(void **state)
{
    (void)state;
    const dw_spreads *spreads = &kit_data()->spreads;
    assert_true(spreads->count >= 30);
    for (size_t i = 0; i < spreads->count; i++) {
        const dw_spread_row *row = &spreads->row[i];
        assert_true(row->low <= row->middle && row->middle <= row->high && row->low < row->high);
        assert_true(row->source[0] != '\0');
        assert_ptr_equal(dw_spread_find(spreads, row->input, row->kind), row);
    }
}

/* The built-in file with the first `from` put in place by `to`, read; the first message in said. */
static dw_status read_changed(const char *from, const char *to, char *said, size_t size)
{
    size_t length;
    char *text = kit_read_file("config/spreads.yaml", &length);
    const char *at = strstr(text, from);
    if (at == NULL) fail_msg("spreads.yaml has no '%s'", from);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    (void)fwrite(text, 1, (size_t)(at - text), file);
    (void)fputs(to, file);
    (void)fputs(at + strlen(from), file);
    assert_int_equal(fclose(file), 0);
    free(text);
    dw_diag_list *diag = dw_diag_list_create();
    const dw_status status = dw_read_data(folder, diag, data);
    said[0] = '\0';
    if (dw_diag_count(diag) > 0) (void)dw_diag_format(dw_diag_get(diag, 0), said, size);
    dw_diag_list_destroy(diag);
    return status;
}

static void broken_rows_are_refused(void **state)
{
    (void)state;
    static const struct {
        const char *from, *to, *says;
    } cases[] = {
        {"middle: 0.83, low: 0.73", "middle: 0.83, low: 0.84", "do not rise"},
        {"middle: 0.83, low: 0.73, high: 0.92", "middle: 0.93, low: 0.73, high: 0.92", "do not rise"},
        {"low: 0.73, high: 0.92", "low: 0.73, high: 1.2", "'high' is 1.2, expected 0.3 to 1"},
        {"kind: thin", "kind: short", "of kind 'short' is listed twice"},
        {"kind: drill point", "kind: drillpoint", "of kind 'drill point' is missing"},
        {"*.jet.discharge_coefficient, kind: thin", "*.jet.discharge_coeficient, kind: thin",
         "did you mean 'burners.*.jet.discharge_coefficient'"},
        {"mark: read", "mark: red", "unknown mark 'red'; did you mean 'read'"},
        {"mark: read, source: perry-orifice", "mark: read, source: perry", "unknown source 'perry'"},
        {"mark: read, source: perry-orifice", "mark: read", "'source' is missing"},
        {"kind: thin, ", "", "'kind' is missing"},
        {"kind: thin", "kind: a kind with a name of more than thirty letters", "expected at most 31"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char said[600];
        assert_int_equal(read_changed(cases[i].from, cases[i].to, said, sizeof said), DW_ERR_INPUT);
        if (strstr(said, cases[i].says) == NULL || strstr(said, "spreads.yaml:") == NULL) {
            fail_msg("%s: %s", cases[i].to, said);
        }
    }
}

/* A kind more of an input that is known needs a row and nothing else. */
static void a_kind_may_be_added(void **state)
{
    (void)state;
    char said[600];
    assert_int_equal(read_changed("spreads:\n",
                                  "spreads:\n  - {input: burners.*.port_loss, kind: slots, middle: 3, low: 2,"
                                  " high: 5, mark: judgement, source: judgement}\n",
                                  said, sizeof said),
                     DW_OK);
    assert_close(dw_spread_find(&data->spreads, "burners.*.port_loss", "slots")->middle, 3.0, 0.0, 0.0);
}

static void too_many_rows_are_refused(void **state)
{
    (void)state;
    static char text[200 * (DW_SPREAD_MAX + 2)];
    size_t n = (size_t)snprintf(text, sizeof text, "spreads:\n");
    for (int i = 0; i <= DW_SPREAD_MAX; i++) {
        n += (size_t)snprintf(text + n, sizeof text - n,
                              "  - {input: burners.*.port_loss, kind: k%d, middle: 1, low: 1, high: 1, mark: "
                              "read, source: judgement}\n",
                              i);
    }
    char said[600];
    assert_int_equal(read_changed("spreads:\n", text, said, sizeof said), DW_ERR_INPUT);
    assert_non_null(strstr(said, "more than 160 rows"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_row_is_found_by_input_and_kind),
        cmocka_unit_test(every_row_rises_and_has_a_source),
        cmocka_unit_test(broken_rows_are_refused),
        cmocka_unit_test(a_kind_may_be_added),
        cmocka_unit_test(too_many_rows_are_refused),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
