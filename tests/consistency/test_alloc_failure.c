/* Every allocation of an estimate fails once, and once with all that follow: no crash, no leak, and
 * the answer is "out of memory" or complete. Replaces malloc of this program, so not for sanitizers. */
#include "check.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "damperwise.h"
#include "kit.h"

extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *old, size_t size);
extern void __libc_free(void *block);

static long calls, fail_at = -1, live;
static int fail_on, failed;

static int fails(void)
{
    const long call = calls++;
    if (fail_at < 0 || call < fail_at || (call > fail_at && !fail_on)) return 0;
    failed = 1;
    errno = ENOMEM; /* as the real ones do */
    return 1;
}

void *malloc(size_t size)
{
    if (fails()) return NULL;
    void *block = __libc_malloc(size);
    if (block != NULL) live++;
    return block;
}

void *calloc(size_t count, size_t size)
{
    if (fails()) return NULL;
    void *block = __libc_calloc(count, size);
    if (block != NULL) live++;
    return block;
}

void *realloc(void *old, size_t size)
{
    if (fails()) return NULL;
    void *block = __libc_realloc(old, size);
    if (old == NULL && block != NULL) live++;
    return block;
}

void free(void *block)
{
    if (block != NULL) live--;
    __libc_free(block);
}

typedef enum part {
    ESTIMATE_TEXT, ESTIMATE_JSON, ESTIMATE_CSV, CHECK_AND_SWEEP, WORKING, PEOPLE, LOADING,
    WARE_WORKING, PEOPLE_WORKING
} part;

static const dw_engine *ready;
static char *text, *room_text;
static size_t length, room_length;

/* An estimate in one format, or the other commands in all; the first status that is not OK. */
static dw_status answer(part p, const dw_case *kiln, dw_diag_list *diag)
{
    static const dw_vary vary = {"damper", "20 %, 60 %"};
    dw_status status = DW_OK;
    for (int format = DW_FORMAT_TEXT; format <= DW_FORMAT_CSV && status == DW_OK; format++) {
        const dw_output output = {(dw_format)format, DW_SHOW_METRIC};
        if (p < CHECK_AND_SWEEP && (int)p != format) continue;
        for (int what = 0; what < (p < CHECK_AND_SWEEP ? 1 : 2) && status == DW_OK; what++) {
            char *out = NULL;
            size_t size = 0;
            if (p < CHECK_AND_SWEEP) {
                status = dw_case_estimate(ready, kiln, output, diag, &out, &size);
            } else if (what == 0) {
                status = dw_case_check(ready, kiln, output, diag, &out, &size);
            } else {
                status = dw_case_sweep(ready, kiln, &vary, 1, output, NULL, NULL, diag, &out, &size);
            }
            if (status == DW_OK && (out == NULL || size == 0)) status = DW_ERR_BUG;
            dw_text_free(out);
        }
    }
    return status;
}

/* Working, terms, one row of a sweep, and pages. */
static dw_status explain(const dw_case *kiln, dw_diag_list *diag)
{
    static const dw_vary vary = {"damper", "20 %, 60 %"};
    const dw_output page = {DW_FORMAT_HTML, DW_SHOW_METRIC}, us = {DW_FORMAT_TEXT, DW_SHOW_US};
    dw_status status = DW_OK;
    for (int what = 0; what < 4 && status == DW_OK; what++) {
        char *out = NULL;
        size_t size = 0;
        dw_case *at = NULL;
        switch (what) {
        case 0: status = dw_case_working(ready, kiln, page, diag, &out, &size); break;
        case 1: status = dw_why_write(ready, kiln, "stack", us, diag, &out, &size); break;
        case 2: status = dw_case_check_working(ready, kiln, us, &out, &size); break;
        default:
            status = dw_case_at_point(ready, kiln, &vary, 1, 2, diag, &at);
            if (status == DW_OK) status = dw_case_estimate(ready, at, page, diag, &out, &size);
            dw_case_destroy(at);
        }
        if (status == DW_OK && (out == NULL || size == 0)) status = DW_ERR_BUG;
        dw_text_free(out);
    }
    return status;
}

/* A kiln in its room, one and several settings, and people without a kiln. */
static dw_status people(dw_diag_list *diag)
{
    static const dw_vary vary = {"damper", "20 %, 60 %"};
    static const char csv[] = "time_min,ppm\n0,1\n10,200\n70,3\n";
    static const dw_exposure_request recorded = {
        .series_name = "m.csv", .series = csv, .series_length = sizeof csv - 1, .symptoms = 1};
    static const dw_exposure_request steady = {.ppm = "30", .hours = "3"};
    const dw_output page = {DW_FORMAT_HTML, DW_SHOW_METRIC}, us = {DW_FORMAT_TEXT, DW_SHOW_US};
    dw_case *kiln = NULL;
    dw_status status =
        dw_case_read(ready, "room.yaml", room_text, room_length, NULL, 0, diag, &kiln);
    for (int what = 0; what < 4 && status == DW_OK; what++) {
        char *out = NULL;
        size_t size = 0;
        switch (what) {
        case 0: status = dw_case_room(ready, kiln, us, diag, &out, &size); break;
        case 1: status = dw_exposure_write(ready, &recorded, us, diag, &out, &size); break;
        case 2: status = dw_exposure_write(ready, &steady, page, diag, &out, &size); break;
        default:
            status = dw_case_room_sweep(ready, kiln, &vary, 1, us, NULL, NULL, diag, &out, &size);
        }
        if (status == DW_OK && (out == NULL || size == 0)) status = DW_ERR_BUG;
        dw_text_free(out);
    }
    dw_case_destroy(kiln);
    return status;
}

/* Working of ware and ladder. */
static dw_status explain_ware(const dw_case *kiln, dw_diag_list *diag)
{
    static const dw_oxides_request request = {.at = "1250 degC, 1190 degC", .volts = "0.61", .sensor = "heated",
                                              .sensor_temperature = "700 degC",
                                              .at_point = 2};
    const dw_output page = {DW_FORMAT_HTML, DW_SHOW_METRIC}, us = {DW_FORMAT_TEXT, DW_SHOW_US},
                    json = {DW_FORMAT_JSON, DW_SHOW_METRIC};
    dw_status status = DW_OK;
    for (int what = 0; what < 3 && status == DW_OK; what++) {
        char *out = NULL;
        size_t size = 0;
        switch (what) {
        case 0: status = dw_case_oxides_working(ready, kiln, NULL, us, diag, &out, &size); break;
        case 1: status = dw_oxides_working(ready, &request, json, diag, &out, &size); break;
        default: status = dw_case_ladder_working(ready, kiln, page, diag, &out, &size); break;
        }
        if (status == DW_OK && (out == NULL || size == 0)) status = DW_ERR_BUG;
        dw_text_free(out);
    }
    return status;
}

/* Working of a room for half an hour, and of people without a kiln. */
static dw_status explain_people(dw_diag_list *diag)
{
    static const dw_setting short_time = {"room.duration", "30 min"};
    static const char csv[] = "time_min,ppm\n0,1\n10,200\n70,3\n";
    static const dw_exposure_request recorded = {
        .series_name = "m.csv", .series = csv, .series_length = sizeof csv - 1, .symptoms = 1};
    const dw_output page = {DW_FORMAT_HTML, DW_SHOW_METRIC}, us = {DW_FORMAT_TEXT, DW_SHOW_US};
    dw_case *kiln = NULL;
    dw_status status =
        dw_case_read(ready, "room.yaml", room_text, room_length, &short_time, 1, diag, &kiln);
    for (int what = 0; what < 2 && status == DW_OK; what++) {
        char *out = NULL;
        size_t size = 0;
        status = what == 0 ? dw_case_room_working(ready, kiln, us, diag, &out, &size)
                           : dw_exposure_working(ready, &recorded, page, diag, &out, &size);
        if (status == DW_OK && (out == NULL || size == 0)) status = DW_ERR_BUG;
        dw_text_free(out);
    }
    dw_case_destroy(kiln);
    return status;
}

/* One use of a part of the library from beginning to end. */
static dw_status use(part p, int *complete)
{
    static const dw_setting setting = {"flues.back flue.damper.open", "55 %"};
    dw_diag_list *diag = dw_diag_list_create();
    dw_status status;
    if (p == LOADING) {
        dw_engine *engine = NULL;
        status = dw_engine_create(DW_CONFIG_DIR, diag, &engine);
        dw_engine_destroy(engine);
    } else if (p == PEOPLE) {
        status = people(diag);
    } else if (p == PEOPLE_WORKING) {
        status = explain_people(diag);
    } else {
        dw_case *kiln = NULL;
        status = dw_case_read(ready, "kiln.yaml", text, length, &setting, 1, diag, &kiln);
        if (status == DW_OK) {
            status = p == WORKING        ? explain(kiln, diag)
                     : p == WARE_WORKING ? explain_ware(kiln, diag)
                                         : answer(p, kiln, diag);
        }
        dw_case_destroy(kiln);
    }
    *complete = status == DW_OK;
    dw_diag_list_destroy(diag);
    return status;
}

/* Fails every step-th allocation of a use in turn. */
static void walk(part p, long step)
{
    int complete;
    assert_int_equal(use(p, &complete), DW_OK); /* one-off allocations of libraries */
    long walked = 0;
    for (fail_on = 0; fail_on < 2; fail_on++) {
        for (long n = 0;; n += fail_on ? 7 * step : step) {
            calls = 0;
            failed = 0;
            const long before = live;
            fail_at = n;
            const dw_status status = use(p, &complete);
            fail_at = -1;
            if (!failed) {
                assert_int_equal(status, DW_OK);
                break;
            }
            walked++;
            if (live != before || (status != DW_ERR_NOMEM && !complete)) {
                print_error("allocation %ld: status '%s', %ld blocks left\n", n,
                            dw_status_text(status), live - before);
                fail();
            }
        }
    }
    print_message("%ld failures\n", walked);
    assert_true(walked > 30);
}

static void allocations_of_loading_may_fail(void **state)
{
    (void)state;
    walk(LOADING, 11);
}

static void every_allocation_of_an_estimate_may_fail(void **state)
{
    (void)state;
    for (part p = ESTIMATE_TEXT; p <= ESTIMATE_CSV; p++) walk(p, p == ESTIMATE_JSON ? 1 : 3);
}

static void allocations_of_check_and_sweep_may_fail(void **state)
{
    (void)state;
    walk(CHECK_AND_SWEEP, 13);
}

static void allocations_of_a_working_may_fail(void **state)
{
    (void)state;
    walk(WORKING, 41);
}

static void allocations_of_rooms_and_people_may_fail(void **state)
{
    (void)state;
    walk(PEOPLE, 7);
}

static void allocations_of_the_other_workings_may_fail(void **state)
{
    (void)state;
    walk(WARE_WORKING, 301);
    walk(PEOPLE_WORKING, 103);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(allocations_of_loading_may_fail),
        cmocka_unit_test(every_allocation_of_an_estimate_may_fail),
        cmocka_unit_test(allocations_of_check_and_sweep_may_fail),
        cmocka_unit_test(allocations_of_a_working_may_fail),
        cmocka_unit_test(allocations_of_rooms_and_people_may_fail),
        cmocka_unit_test(allocations_of_the_other_workings_may_fail),
    };
    dw_engine *engine = NULL;
    if (dw_engine_create(NULL, NULL, &engine) != DW_OK) return 1;
    ready = engine;
    text = kit_read_file("examples/juniper-flat.yaml", &length);
    room_text = kit_read_file("examples/room-marlpit-cellar.yaml", &room_length);
    const int result = cmocka_run_group_tests(tests, NULL, NULL);
    free(text);
    free(room_text);
    dw_engine_destroy(engine);
    return result;
}
