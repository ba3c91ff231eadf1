/* Every allocation of an estimate fails once, and once with all that follow: no crash, no leak, and
 * the answer is "out of memory" or complete. Replaces malloc of this program, so not for sanitizers. */
#include "check.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "damperwise.h"
#include "kit.h"
#include "question.h"

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
    WARE, WARE_WORKING, PEOPLE_WORKING, NUMBERS
} part;

static const dw_engine *ready;
static char *text, *room_text;
static size_t length, room_length;

static const dw_vary vary = {"damper", "20 %, 60 %"};
static const dw_output page = {DW_FORMAT_HTML, DW_SHOW_METRIC}, us = {DW_FORMAT_TEXT, DW_SHOW_US},
                       json = {DW_FORMAT_JSON, DW_SHOW_METRIC};

/* A question and how it is to be answered. */
typedef struct asked {
    dw_question question;
    dw_output output;
    bool no_kiln;
} asked;

/* Asks all; the first status that is not OK. */
static dw_status ask_all(const asked *list, size_t count, const dw_case *kiln, dw_diag_list *diag)
{
    dw_status status = DW_OK;
    for (size_t i = 0; i < count && status == DW_OK; i++) {
        char *out = NULL;
        size_t size = 0;
        status = dw_ask(ready, list[i].no_kiln ? NULL : kiln, &list[i].question, list[i].output, diag, &out,
                        &size);
        if (status == DW_OK && (out == NULL || size == 0)) status = DW_ERR_BUG;
        dw_text_free(out);
    }
    return status;
}

#define ASK_ALL(list, kiln, diag) ask_all(list, sizeof(list) / sizeof(list)[0], kiln, diag)

/* An estimate in one format, or check and sweep in all. */
static dw_status answer(part p, const dw_case *kiln, dw_diag_list *diag)
{
    dw_status status = DW_OK;
    for (int format = DW_FORMAT_TEXT; format <= DW_FORMAT_CSV && status == DW_OK; format++) {
        const dw_output output = {(dw_format)format, DW_SHOW_METRIC};
        const asked list[] = {
            {.question = {.name = p < CHECK_AND_SWEEP ? "estimate" : "check"}, .output = output},
            {.question = {.name = "estimate", .vary = &vary, .vary_count = 1}, .output = output}};
        if (p < CHECK_AND_SWEEP && (int)p != format) continue;
        status = ask_all(list, p < CHECK_AND_SWEEP ? 1 : 2, kiln, diag);
    }
    return status;
}

/* Working, terms, one row of a sweep, and pages. */
static dw_status explain(const dw_case *kiln, dw_diag_list *diag)
{
    static const dw_option term = {"term", "stack", 0};
    static const asked list[] = {
        {.question = {.name = "estimate", .working = 1}, .output = {DW_FORMAT_HTML, DW_SHOW_METRIC}},
        {.question = {.name = "why", .option = &term, .option_count = 1}, .output = {DW_FORMAT_TEXT, DW_SHOW_US}},
        {.question = {.name = "check", .working = 1}, .output = {DW_FORMAT_TEXT, DW_SHOW_US}},
        {.question = {.name = "estimate", .vary = &vary, .vary_count = 1, .at_point = 2},
         .output = {DW_FORMAT_HTML, DW_SHOW_METRIC}}};
    return ASK_ALL(list, kiln, diag);
}

static const char csv[] = "time_min,ppm\n0,1\n10,200\n70,3\n";
static const kit_options recorded = {{"series_name", "m.csv", 0}, {"series", csv, sizeof csv - 1}, {"symptoms", "yes", 0}};
static const kit_options steady = {{"ppm", "30", 0}, {"hours", "3", 0}};

/* A kiln in its room, one and several settings, and people without a kiln. */
static dw_status people(const dw_case *kiln, dw_diag_list *diag)
{
    const asked list[] = {
        {.question = {.name = "room"}, .output = us},
        {.question = kit_question("exposure", recorded), .output = us, .no_kiln = true},
        {.question = kit_question("exposure", steady), .output = page, .no_kiln = true},
        {.question = {.name = "room", .vary = &vary, .vary_count = 1}, .output = us}};
    return ASK_ALL(list, kiln, diag);
}

/* Ware, ladder, terms and keys. */
static dw_status ware(const dw_case *kiln, dw_diag_list *diag)
{
    static const kit_options range = {{"at", "1250 degC, 1190 degC", 0}, {"co_co2", "0.1", 0},
                                      {"glaze", "celadon", 0}};
    static const kit_options glaze = {
        {"glaze", "{SiO2: 70 %, Al2O3: 14 %, CaO: 12 %, K2O: 3 %, Fe2O3: 1 %}", 0}};
    asked list[] = {
        {.question = kit_question("oxides", glaze), .output = us},
        {.question = kit_question("oxides", glaze), .output = json},
        {.question = kit_question("oxides", range), .output = page, .no_kiln = true},
        {.question = {.name = "ladder"}, .output = page},
        {.question = {.name = "why"}, .output = page, .no_kiln = true},
        {.question = {.name = "keys"}, .output = json, .no_kiln = true}};
    list[1].question.vary = &vary;
    list[1].question.vary_count = 1;
    return ASK_ALL(list, kiln, diag);
}

/* Working of ware and ladder. */
static dw_status explain_ware(const dw_case *kiln, dw_diag_list *diag)
{
    static const kit_options heated = {{"at", "1250 degC, 1190 degC", 0}, {"volts", "0.61", 0},
                                       {"sensor", "heated", 0}, {"sensor_temperature", "700 degC", 0}};
    asked list[] = {{.question = {.name = "oxides", .working = 1}, .output = us},
                    {.question = kit_question("oxides", heated), .output = json, .no_kiln = true},
                    {.question = {.name = "ladder", .working = 1}, .output = page}};
    list[1].question.at_point = 2;
    list[1].question.working = 1;
    return ASK_ALL(list, kiln, diag);
}

/* Working of a room for half an hour, and of people without a kiln. */
static dw_status explain_people(const dw_case *kiln, dw_diag_list *diag)
{
    asked list[] = {{.question = {.name = "room", .working = 1}, .output = us},
                    {.question = kit_question("exposure", recorded), .output = page, .no_kiln = true}};
    list[1].question.working = 1;
    return ASK_ALL(list, kiln, diag);
}

/* Numbers by key: of one point, of a row, misspelt, and without a kiln. */
static dw_status numbers(const dw_case *kiln, dw_diag_list *diag)
{
    const dw_question at[] = {
        {.name = "estimate"},
        {.name = "estimate", .vary = &vary, .vary_count = 1, .at_point = 2},
        {.name = "room"},
        kit_question("exposure", steady)};
    static const char *const key[] = {"air_ratio", "gas_dry.CO", "room.co_m3_s", "people.cohb_peak"};
    dw_status status = DW_OK;
    for (size_t i = 0; i < sizeof at / sizeof at[0] && status == DW_OK; i++) {
        double value;
        status = dw_ask_number(ready, i < 3 ? kiln : NULL, &at[i], key[i], diag, &value, NULL);
        if ((status == DW_OK) != (bool)isfinite(value)) status = DW_ERR_BUG;
        if (status != DW_OK) break;
        const dw_status wrong = dw_ask_number(ready, i < 3 ? kiln : NULL, &at[i], "gas_dry.C0", diag,
                                              &value, NULL);
        if (wrong != DW_ERR_INPUT) status = wrong != DW_OK ? wrong : DW_ERR_BUG;
    }
    return status;
}

static dw_status ask_part(part p, const dw_case *kiln, dw_diag_list *diag)
{
    switch (p) {
    case WORKING: return explain(kiln, diag);
    case PEOPLE: return people(kiln, diag);
    case WARE: return ware(kiln, diag);
    case WARE_WORKING: return explain_ware(kiln, diag);
    case PEOPLE_WORKING: return explain_people(kiln, diag);
    case NUMBERS: return numbers(kiln, diag);
    default: return answer(p, kiln, diag);
    }
}

/* One use of a part of the library from beginning to end. */
static dw_status use(part p, int *complete)
{
    static const dw_setting open = {"flues.back flue.damper.open", "55 %"},
                            short_time = {"room.duration", "30 min"};
    const bool in_room = p == PEOPLE || p == PEOPLE_WORKING || p == NUMBERS;
    dw_diag_list *diag = dw_diag_list_create();
    dw_status status;
    if (p == LOADING) {
        dw_engine *engine = NULL;
        status = dw_engine_create(DW_CONFIG_DIR, diag, &engine);
        dw_engine_destroy(engine);
    } else {
        dw_case *kiln = NULL;
        status = in_room ? dw_case_read(ready, "room.yaml", room_text, room_length, &short_time,
                                        p == PEOPLE_WORKING, diag, &kiln)
                         : dw_case_read(ready, "kiln.yaml", text, length, &open, 1, diag, &kiln);
        if (status == DW_OK) status = ask_part(p, kiln, diag);
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

static void allocations_of_ware_terms_and_keys_may_fail(void **state)
{
    (void)state;
    walk(WARE, 29);
}

static void allocations_of_numbers_may_fail(void **state)
{
    (void)state;
    walk(NUMBERS, 23);
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
        cmocka_unit_test(allocations_of_ware_terms_and_keys_may_fail),
        cmocka_unit_test(allocations_of_numbers_may_fail),
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
