/* The table of outputs: its rows make sense, and a number by its key is the one that the report has. */
#include <stdio.h>
#include <string.h>

#include "check.h"
#include "damper_words.h"
#include "kit.h"
#include "lighting.h"
#include "outputs.h"
#include "report_tree.h"
#include "report_oxides.h"
#include "report_room.h"
#include "reports.h"
#include "room_course.h"
#include "writers.h"

static const char *const commands[] = {"estimate", "sweep", "check", "check --keys", "room",
                                       "exposure", "why", "oxides", "ladder"};
enum { COMMANDS = sizeof commands / sizeof commands[0], KEY_SIZE = 96 };

static const size_t size_of[DW_IN_COUNT] = {
    [DW_IN_KILN] = sizeof(dw_kiln), [DW_IN_POINT] = sizeof(dw_result), [DW_IN_DOUBT] = sizeof(dw_doubt),
    [DW_IN_DAMPER] = sizeof(dw_damper_words), [DW_IN_COURSE] = sizeof(dw_room_course),
    [DW_IN_EXPOSURE] = sizeof(dw_exposure), [DW_IN_LIGHTING] = sizeof(dw_lighting),
    [DW_IN_BURNER] = sizeof(dw_lighting_burner), [DW_IN_LIMITS] = sizeof(dw_co_data),
    [DW_IN_WARE] = sizeof(dw_ware), [DW_IN_GAS] = sizeof(dw_matched_gas),
    [DW_IN_GIVEN] = sizeof(dw_ware_given), [DW_IN_BOUNDARY] = sizeof(dw_ware_boundary),
    [DW_IN_PARCEL] = sizeof(dw_ware_gas), [DW_IN_GLAZE] = sizeof(dw_ware_glaze),
    [DW_IN_WINDOW] = sizeof(dw_window), [DW_IN_RUNG] = sizeof(dw_rung),
    [DW_IN_LADDER] = sizeof(dw_ladder_view)};

typedef void (*row_check)(const char *command, const dw_output_row *row);

static int each_row(row_check check)
{
    int rows = 0;
    for (size_t k = 0; k < COMMANDS; k++) {
        assert_non_null(dw_output_lists(commands[k])[0]);
        for (const dw_output_list *const *l = dw_output_lists(commands[k]); *l != NULL; l++) {
            for (size_t i = 0; i < (*l)->count; i++, rows++) check(commands[k], &(*l)->row[i]);
        }
    }
    return rows;
}

/* ---- rows --------------------------------------------------------------------------------- */

static bool ends_with(const char *key, const char *end)
{
    const size_t a = strlen(key), b = strlen(end);
    return b > 0 && a >= b && strcmp(key + a - b, end) == 0;
}

/* The kind that the end of a key says: that with the longest suffix; NUMBER without one. */
static dw_dim kind_of_key(const char *key)
{
    static const char *const others[] = {"_per_pa", "_air_kg_kg", ".mg_m3"}; /* no unit of ours */
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        if (ends_with(key, others[i])) return DW_DIM_NUMBER;
    }
    dw_dim best = DW_DIM_NUMBER;
    size_t length = 0;
    for (int dim = 0; dim < DW_DIM_COUNT_; dim++) {
        const char *suffix = dw_dim_suffix((dw_dim)dim);
        if (strlen(suffix) <= length || !ends_with(key, suffix)) continue;
        best = (dw_dim)dim;
        length = strlen(suffix);
    }
    return best;
}

static void check_number(const char *command, const dw_output_row *row)
{
    if (row->kind != DW_OUTPUT_NUMBER) return;
    const dw_dim said = kind_of_key(row->key), dim = row->number.dim;
    const bool without = dim == DW_DIM_RATIO || dim == DW_DIM_NUMBER;
    const bool fits = said == DW_DIM_NUMBER ? without : said == dim;
    if (!fits) print_error("%s: %s is a %s\n", command, row->key, dw_dim_name(dim));
    assert_true(fits);
    if (ends_with(row->key, "_frac") || ends_with(row->key, "_dry") || ends_with(row->key, "_wet")) {
        assert_int_equal(dim, DW_DIM_RATIO);
    }
    if (ends_with(row->key, "_ratio") || ends_with(row->key, "_ppm")) assert_int_equal(dim, DW_DIM_NUMBER);
    assert_in_range(row->number.digits, 1, 12);
    assert_true(row->number.resolution_si >= 0.0 && row->column_step_si >= 0.0);
    /* Twelve digits are no rounding by themselves. */
    assert_true(row->number.digits < 12 || row->number.resolution_si > 0.0);
}

static void numbers_have_the_unit_of_their_key_and_digits(void **state)
{
    (void)state;
    assert_true(each_row(check_number) > 300);
    assert_int_equal(kind_of_key("x_kg_s"), DW_DIM_MASS_FLOW);
    assert_int_equal(kind_of_key("x_pa_abs"), DW_DIM_PRESSURE_ABS);
    assert_int_equal(kind_of_key("equivalence_ratio"), DW_DIM_NUMBER);
}

static void check_place(const char *command, const dw_output_row *row)
{
    (void)command;
    if (row->place == DW_IN_NOTHING) {
        assert_true(row->offset == 0 && row->read == NULL && row->stride == 0);
        return;
    }
    assert_true(row->place < DW_IN_COUNT && size_of[row->place] > 0);
    assert_true(row->kind != DW_OUTPUT_WORD && row->kind != DW_OUTPUT_SHOWN);
    const size_t width = row->species != NULL ? sizeof(dw_gas) : row->kind == DW_OUTPUT_NUMBER ? sizeof(double)
                         : row->kind == DW_OUTPUT_COUNT ? sizeof(int) : sizeof(bool);
    if (row->read == NULL) assert_true(row->offset + width <= size_of[row->place]);
    if (row->stride == 0) return;
    assert_true(row->stride >= width && strpbrk(row->key, "*0") != NULL);
    assert_true(row->count_in_data ? row->count_offset + sizeof(size_t) <= sizeof(dw_data)
                                   : row->count_offset + sizeof(int) <= size_of[row->place]);
}

static void places_are_inside_their_structs(void **state)
{
    (void)state;
    (void)each_row(check_place);
}

/* The first row that a key fits is its own, so that no row hides another. */
static void check_unique(const char *command, const dw_output_row *row)
{
    assert_true(row->key[0] != '\0');
    if (row->kind == DW_OUTPUT_SHOWN) {
        /* In the text alone: a heading, and no key that a program could ask for. */
        assert_true(row->heading != NULL && dw_output_find(command, row->key) != row);
        return;
    }
    if (dw_output_find(command, row->key) != row) print_error("%s: %s is hidden\n", command, row->key);
    assert_ptr_equal(dw_output_find(command, row->key), row);
    assert_true(row->label == NULL || row->label[0] != '\0');
}

static void keys_are_there_once(void **state)
{
    (void)state;
    (void)each_row(check_unique);
}

static void made_up_keys_have_no_row(void **state)
{
    (void)state;
    static const char *const made_up[] = {"made_up", "air_ratio.more", "air_rati", "flows.0.made_up",
                                          "flows.mass_kg_s", "rows.0.air_flow_kg_s", "rows.0.made_up",
                                          "room.co_end_ppm", "gas_dry", ""};
    for (size_t i = 0; i < sizeof made_up / sizeof made_up[0]; i++) {
        assert_null(dw_output_find("estimate", made_up[i]));
        assert_null(dw_output_find("sweep", made_up[i]));
        assert_null(dw_output_find("made up", made_up[i]));
    }
    /* What a sweep has in its rows, an estimate has by itself. */
    assert_null(dw_output_find("estimate", "rows.0.air_ratio"));
    assert_ptr_equal(dw_output_find("sweep", "rows.0.air_ratio"), dw_output_find("estimate", "air_ratio"));
    assert_non_null(dw_output_find("estimate", "flows.13.mass_kg_s"));
    assert_non_null(dw_output_find("check", "inputs.kiln.chamber.width_m"));
}

static void reasons_are_those_of_the_key_or_of_all_beside_it(void **state)
{
    (void)state;
    assert_null(dw_output_not_worked("estimate", "air_ratio"));
    assert_string_equal(dw_output_not_worked("estimate", "unmixedness"), "what was put in");
    assert_non_null(strstr(dw_output_not_worked("estimate", "damper_words.2.from_frac"), "worked out again"));
    assert_non_null(strstr(dw_output_not_worked("room", "course.0.time_s"), "beginning"));
    assert_null(dw_output_not_worked("room", "course.1.time_s"));
}

/* ---- numbers by key ----------------------------------------------------------------------- */

static dw_kiln_file file;
static dw_kiln resolved;
static dw_result result;
static dw_doubt doubt;
static dw_damper_words damper;
static dw_ware ware;
static dw_room_course course;
static dw_lighting lighting;

static dw_report_source source_of(const char *command)
{
    return (dw_report_source){.version = "1.2.3", .command = command, .data = kit_data(),
                              .file = &file, .kiln = &resolved};
}

static dw_report *estimate_of(const char *name)
{
    kit_example(name, &file);
    resolved = file.kiln;
    dw_kiln_resolve(&resolved);
    dw_report_source source = source_of("estimate");
    bool given[DW_DOUBT_COUNT];
    dw_doubt_given(&source, given);
    assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &result), DW_OK);
    assert_int_equal(dw_doubt_find(kit_model(), &file.kiln, result.equivalence_ratio, given, &doubt), DW_OK);
    assert_int_equal(dw_damper_words_find(kit_model(), &file.kiln, &damper), DW_OK);
    assert_int_equal(dw_ware_of_point(kit_model(), &file.kiln, &result, &ware), DW_OK);
    source.doubt = &doubt;
    source.damper = &damper;
    source.ware = &ware;
    dw_report *r = dw_report_create();
    dw_build_estimate(r, &source, &result);
    assert_false(dw_report_failed(r));
    return r;
}

static void key_of(const dw_output_row *row, int entry, const char *last, char key[KEY_SIZE])
{
    const size_t before = strcspn(row->key, "*");
    const char *after = row->key + before + (row->key[before] == '*');
    if (row->key[before] != '*') {
        (void)snprintf(key, KEY_SIZE, "%s", row->key);
    } else if (last != NULL && after[0] == '\0') {
        (void)snprintf(key, KEY_SIZE, "%.*s%s", (int)before, row->key, last);
    } else {
        (void)snprintf(key, KEY_SIZE, "%.*s%d%s", (int)before, row->key, entry, after);
    }
}

/* Every number of the report that a row has a place for is the same by its key, entry by entry. */
static int compare(const dw_report *r, const char *command, const dw_outputs *from)
{
    int same = 0;
    for (const dw_output_list *const *l = dw_output_lists(command); *l != NULL; l++) {
        for (size_t i = 0; i < (*l)->count; i++) {
            const dw_output_row *row = &(*l)->row[i];
            if (row->place == DW_IN_NOTHING || from->object[row->place] == NULL) continue;
            for (int entry = 0; entry < 3; entry++) {
                char key[KEY_SIZE];
                key_of(row, entry, "CO", key);
                dw_found found;
                const bool there = dw_report_find(r, key, &found) && (found.is_number || found.is_null);
                double si;
                const dw_output_row *by_key;
                const dw_status status = dw_output_get(from, command, key, &si, &by_key);
                if (!there) continue;
                if (status != DW_OK) print_error("%s: %s: %s\n", command, key, dw_status_text(status));
                assert_int_equal(status, DW_OK);
                const double shown = found.is_number ? found.number.si : NAN;
                if (isnan(shown) != isnan(si) || (!isnan(si) && shown != si)) {
                    print_error("%s: %s is %g in the report and %g by its key\n", command, key, shown, si);
                    fail();
                }
                if (found.is_number && by_key->kind == DW_OUTPUT_NUMBER) {
                    assert_int_equal(found.number.dim, by_key->number.dim);
                }
                same++;
                if (row->stride == 0) break;
            }
        }
    }
    return same;
}

static void numbers_by_key_are_those_of_an_estimate(void **state)
{
    (void)state;
    dw_report *r = estimate_of("juniper-flat");
    const dw_outputs from = {.data = kit_data(),
                             .object = {[DW_IN_KILN] = &resolved, [DW_IN_POINT] = &result,
                                        [DW_IN_DOUBT] = &doubt, [DW_IN_DAMPER] = &damper}};
    assert_true(compare(r, "estimate", &from) > 90);
    dw_report_destroy(r);
    r = estimate_of("thistledown-raku"); /* without a stack: some have no value */
    assert_true(compare(r, "estimate", &from) > 80);
    dw_report_destroy(r);
}

static void numbers_by_key_are_those_of_a_room(void **state)
{
    (void)state;
    (void)kit_in_a_room(&file, "cottonwood-bench");
    resolved = file.kiln;
    dw_kiln_resolve(&resolved);
    const bool given[DW_DOUBT_COUNT] = {false};
    assert_int_equal(dw_room_course_find(kit_model(), &file.kiln, given, DW_SPREAD_FOR_VERDICT, &course), DW_OK);
    assert_int_equal(dw_lighting_look(kit_model(), &file.kiln, &course.kiln, NULL, &lighting), DW_OK);
    dw_report *r = dw_report_create();
    const dw_report_source source = source_of("room");
    dw_build_room(r, &source, &course, &lighting);
    assert_false(dw_report_failed(r));
    const dw_outputs from = {.data = kit_data(),
                             .object = {[DW_IN_KILN] = &resolved, [DW_IN_COURSE] = &course,
                                        [DW_IN_EXPOSURE] = &course.exposure, [DW_IN_LIGHTING] = &lighting,
                                        [DW_IN_LIMITS] = &kit_data()->co}};
    assert_true(compare(r, "room", &from) > 90);
    dw_report_destroy(r);
}

static void what_is_not_there_is_refused(void **state)
{
    (void)state;
    dw_report_destroy(estimate_of("juniper-flat"));
    const dw_outputs from = {.data = kit_data(), .object = {[DW_IN_POINT] = &result}};
    static const struct {
        const char *key;
        dw_status status;
    } cases[] = {{"air_ratio", DW_OK},
                 {"gas_dry.CO", DW_OK},
                 {"gas_dry.Xx", DW_ERR_ARG},
                 {"flows.0.mass_kg_s", DW_OK},
                 {"flows.1000.mass_kg_s", DW_ERR_ARG},
                 {"flows.-1.mass_kg_s", DW_ERR_ARG},
                 {"flows.one.mass_kg_s", DW_ERR_ARG},
                 {"flows.*.mass_kg_s", DW_ERR_ARG},
                 {"made_up", DW_ERR_ARG},
                 {"reduction_word", DW_ERR_ARG},
                 {"setting.gas_pressure_pa", DW_ERR_DOMAIN},
                 {"doubt.equivalence_ratio_low", DW_ERR_DOMAIN},
                 {"damper_words_not_reached.0.at_frac", DW_ERR_DOMAIN}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double si = 1.0;
        const dw_output_row *row;
        if (dw_output_get(&from, "estimate", cases[i].key, &si, &row) != cases[i].status) {
            print_error("%s\n", cases[i].key);
            fail();
        }
        assert_int_equal(isnan(si), cases[i].status != DW_OK);
        assert_int_equal(row != NULL, cases[i].status == DW_OK);
    }
    double si;
    const dw_output_row *row;
    char last[KEY_SIZE];
    (void)snprintf(last, sizeof last, "flows.%d.mass_kg_s", result.flow_count);
    assert_int_equal(dw_output_get(&from, "estimate", last, &si, &row), DW_ERR_ARG);
    assert_int_equal(dw_output_get(&from, "sweep", "rows.0.equivalence_ratio", &si, &row), DW_OK);
    assert_close(si, result.equivalence_ratio, 0.0, 0.0);
    assert_int_equal(dw_output_get(&from, "sweep", "rows.0.o2_dry", &si, &row), DW_OK);
    assert_close(si, result.gas_dry.x[dw_species_find(&kit_data()->species, "O2")], 0.0, 0.0);
}

/* ---- builders ----------------------------------------------------------------------------- */

static void a_builder_that_names_no_row_fails(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    assert_non_null(dw_report_output(r, dw_report_root(r), "estimate", "air_ratio", 1.0));
    assert_false(dw_report_failed(r));
    assert_null(dw_report_output(r, dw_report_root(r), "estimate", "made_up", 1.0));
    assert_true(dw_report_failed(r));
    dw_report_destroy(r);
    r = dw_report_create();
    dw_report_output_text(r, dw_report_root(r), "estimate", "made_up", "x");
    assert_true(dw_report_failed(r));
    dw_report_destroy(r);
}

static void all_outputs_are_listed(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_build_outputs(r, "1.2.3");
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_csv(r, DW_UNITS_METRIC, &out), DW_OK);
    assert_non_null(strstr(out.text, "command,key,label,unit,digits,not_worked"));
    assert_non_null(strstr(out.text, "\nestimate,equivalence_ratio,equivalence ratio,1,\"4, to 0.001\",\r"));
    assert_non_null(strstr(out.text, "\nestimate,gas_temperature_k,gas temperature,K,to 1,\r"));
    assert_non_null(strstr(out.text, "\nestimate,unmixedness,unmixedness,1,4,what was put in\r"));
    assert_non_null(strstr(out.text, "\nroom,places.*.mass_kg_s,hot gas,kg/s,3,\r"));
    assert_non_null(strstr(out.text, "\noxides,rows.*.temperature_k,temperature,K,to 1,\r"));
    dw_strbuf_free(&out);
    dw_report_destroy(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_have_the_unit_of_their_key_and_digits),
        cmocka_unit_test(places_are_inside_their_structs),
        cmocka_unit_test(keys_are_there_once),
        cmocka_unit_test(made_up_keys_have_no_row),
        cmocka_unit_test(reasons_are_those_of_the_key_or_of_all_beside_it),
        cmocka_unit_test(numbers_by_key_are_those_of_an_estimate),
        cmocka_unit_test(numbers_by_key_are_those_of_a_room),
        cmocka_unit_test(what_is_not_there_is_refused),
        cmocka_unit_test(a_builder_that_names_no_row_fails),
        cmocka_unit_test(all_outputs_are_listed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
