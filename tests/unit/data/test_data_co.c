/** @file test_data_co.c  Unit tests of io/data_co: what is read, and how a broken co.yaml is refused. */
/* For mkdtemp. */
/* NOLINTNEXTLINE(bugprone-reserved-identifier,cert-dcl37-c,cert-dcl51-cpp) */
#define _POSIX_C_SOURCE 200809L

#include "check.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "kit.h"
#include "read_data.h"

static char folder[] = "/tmp/dw-data-co-XXXXXX";
static char path[64];

static int make_folder(void **state)
{
    (void)state;
    if (mkdtemp(folder) == NULL) return -1;
    (void)snprintf(path, sizeof path, "%s/co.yaml", folder);
    return 0;
}

static int remove_folder(void **state)
{
    (void)state;
    (void)remove(path);
    return rmdir(folder);
}

/* The built-in file with the first `from` put in place by `to`, read; the first message in said. */
static dw_status read_changed(const char *from, const char *to, char *said, size_t size)
{
    size_t length;
    char *text = kit_read_file("config/co.yaml", &length);
    const char *at = strstr(text, from);
    if (at == NULL) fail_msg("co.yaml has no '%s'", from);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    (void)fwrite(text, 1, (size_t)(at - text), file);
    (void)fputs(to, file);
    (void)fputs(at + strlen(from), file);
    (void)fclose(file);
    free(text);
    dw_diag_list *diag = dw_diag_list_create();
    dw_data *data = malloc(sizeof *data);
    assert_non_null(data);
    const dw_status status = dw_read_data(folder, diag, data);
    said[0] = '\0';
    if (dw_diag_count(diag) > 0) (void)dw_diag_format(dw_diag_get(diag, 0), said, size);
    free(data);
    dw_diag_list_destroy(diag);
    return status;
}

static void the_table_is_complete(void **state)
{
    (void)state;
    const dw_co_data *co = &kit_data()->co;
    assert_int_equal(co->limit_count, 38);
    assert_int_equal(co->alarm_count, 8);
    int without_time = 0, dangerous = 0;
    for (size_t i = 0; i < co->limit_count; i++) {
        const dw_co_limit *l = &co->limit[i];
        assert_true(l->body[0] && l->document[0] && l->name[0] && l->year[0] && l->where[0]);
        assert_true(strcmp(l->provenance, "read") == 0 || strcmp(l->provenance, "recalled") == 0);
        assert_true(l->ppm > 0.0 && l->over_s >= 0.0);
        without_time += l->over_s == 0.0;
        dangerous += l->kind == DW_LIMIT_DANGER;
        /* ppm and mg/m3 are the same air: 1.145 mg/m3 each at 25 degC, as the bodies round it. */
        if (!isnan(l->mg_m3)) assert_close(l->mg_m3, 1.145 * l->ppm, 0.15, 0.0);
    }
    assert_int_equal(without_time, 2);
    assert_true(dangerous > 10);
    assert_close(co->person.diffusing_m3_s_pa[DW_ACTIVITY_REST], 30e-6 / 60.0 / 133.322387415,
                 1e-9, 0.0);
    assert_close(co->person.ventilation_m3_s[DW_ACTIVITY_HEAVY], 0.030 / 60.0, 1e-12, 0.0);
    assert_close(co->spillage_pa, -5.0, 1e-12, 0.0);
    assert_close(co->glow_k, 1033.15, 1e-12, 0.0);
}

static void broken_tables_are_refused(void **state)
{
    (void)state;
    static const struct {
        const char *from, *to, *says;
    } cases[] = {
        {"over: 8 h", "over: 8 kg", "over"},
        {"ppm: 50, mg_m3", "ppm: 0, mg_m3", "ppm"},
        {"kind: work", "kind: wrok", "wrok"},
        {"provenance: read, where", "provenance: guessed, where", "guessed"},
        {"year: not known, ", "", "year"},
        {"from: 60 min, by: 90 min", "from: 60 min, by: 9 min", "'by' is before 'from'"},
        {"cohb: 2.5 %", "cohb: 0.2 %", "not above that of the row before"},
        {"word: rest", "word: light", "has no 'rest'"},
        {"haldane_ratio: 218", "haldane_ratio: 2", "haldane_ratio"},
        {"gas: H2,", "gas: H5,", "H5"},
        {"gas: CH4, lean: 5.0 %", "gas: CH4, lean: 50 %", "'rich' is not above 'lean'"},
        {"raised: 2.5 %, dangerous: 10 %", "raised: 5 %, dangerous: 3 %", "not above 'raised'"},
        {"source: co-alarms", "source: co-larms", "co-larms"},
        {"purge_volumes: 4", "purge_volumes: 0", "purge_volumes"},
        {"room_pressure: -5 Pa", "room_pressure: 5 Pa", "room_pressure"},
        {"spillage:", "spilage:", "spilage"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char said[600];
        assert_int_equal(read_changed(cases[i].from, cases[i].to, said, sizeof said),
                         DW_ERR_INPUT);
        if (strstr(said, cases[i].says) == NULL || strstr(said, "co.yaml:") == NULL) {
            fail_msg("case %zu: %s", i, said);
        }
    }
    char said[600];
    assert_int_equal(read_changed("haldane_ratio: 218", "haldane_ratio: 220", said, sizeof said),
                     DW_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_table_is_complete),
        cmocka_unit_test(broken_tables_are_refused),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
