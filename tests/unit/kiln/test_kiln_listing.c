/* The resolved listing: what it shows, where it says things came from, and that reading its rows
 * back gives the same kiln. */

#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "kiln_listing.h"
#include "read_data.h"

static dw_data data;

static int load_data(void **state)
{
    (void)state;
    return dw_read_data(NULL, NULL, &data) == DW_OK ? 0 : -1;
}

enum { ROW_MAX = 400, PATH_MAX_SEEN = 200, VALUE_MAX = 300 };

/* Rows with their texts copied. */
typedef struct rows {
    int count;
    int stop_at; /* 0: never */
    struct {
        char path[PATH_MAX_SEEN], text[VALUE_MAX];
        dw_listing_row row;
    } row[ROW_MAX];
} rows;

static int keep(void *user, const dw_listing_row *row)
{
    rows *all = user;
    assert_true(all->count < ROW_MAX);
    assert_true(row->is_number == (row->text == NULL));
    assert_true(row->is_number != isnan(row->si));
    assert_non_null(row->help);
    assert_true(strlen(row->path) < PATH_MAX_SEEN);
    strcpy(all->row[all->count].path, row->path);
    snprintf(all->row[all->count].text, VALUE_MAX, "%s", row->text != NULL ? row->text : "");
    all->row[all->count++].row = *row;
    return all->count == all->stop_at;
}

static const char text[] =
    "damperwise: 1\n"
    "kiln:\n"
    "  name: Salt Fork kiln\n"
    "  site: {elevation: 430 m, relative_humidity: 61 %}\n"
    "  fuel: natural gas\n"
    "  chamber: {width: 0.71 m, depth: 0.83 m, height: 1.07 m}\n"
    "  burners:\n"
    "    - {name: left, jet: {drill: 43}, throat_diameter: 37 mm, height: 0.12 m, inlet_loss: "
    "0.7}\n"
    "    - {name: right, jet: {diameter: 2.1 mm}, throat_diameter: 33 mm, height: 0.13 m,\n"
    "       shutter_area: 11 cm2, lit: no, gas_pressure: 1.1 kPa}\n"
    "    - {name: rear, kind: blown, jet: {diameter: 5 mm}, height: 0.3 m, air_flow: 33 m3/h}\n"
    "  openings:\n"
    "    - {name: gap, kind: tall, area: 12 cm2, from: 0.05 m, to: 0.95 m}\n"
    "    - {name: upper spyhole, diameter: 24 mm, height: 0.9 m, open: 0 %}\n"
    "  flues:\n"
    "    - {name: no. 1, area: 231 cm2, height: 0.07 m, damper: {kind: butterfly, angle: 33 deg}}\n"
    "    - {name: no. 2, diameter: 9 cm, height: 0.08 m, damper_downstream_area: plenum,\n"
    "       damper: {kind: table, open: 51 %, rows: [[7 %, 311.5], [45 %, 9.25], [100 %, 0.3]]}}\n"
    "  stack: {height: 3.3 m, diameter: 22 cm, lining: castable, heat_loss_ua: 14 W/K}\n"
    "operating: {gas_pressure: 1.7 kPa, chamber_temperature: 957 degC}\n";

static void read_or_fail(const dw_setting *settings, size_t count, dw_kiln_file *file)
{
    dw_diag_list *diag = dw_diag_list_create();
    const dw_status status =
        dw_read_kiln(&data, "test.yaml", text, strlen(text), settings, count, diag, file);
    for (size_t i = 0; status != DW_OK && i < dw_diag_count(diag); i++) {
        print_error("%s\n", dw_diag_get(diag, i)->text);
    }
    dw_diag_list_destroy(diag);
    assert_int_equal(status, DW_OK);
}

static rows *list(const dw_kiln_file *file, int stop_at)
{
    rows *all = calloc(1, sizeof *all);
    assert_non_null(all);
    all->stop_at = stop_at;
    dw_kiln resolved = file->kiln;
    dw_kiln_resolve(&resolved);
    dw_kiln_listing(&resolved, &file->given, &data.species, keep, all);
    return all;
}

static int find(const rows *all, const char *path)
{
    for (int i = 0; i < all->count; i++) {
        if (strcmp(all->row[i].path, path) == 0) return i;
    }
    return -1;
}

static void assert_number(const rows *all, const char *path, double si, dw_dim dim,
                          dw_origin origin)
{
    const int i = find(all, path);
    if (i < 0) print_error("no row %s\n", path);
    assert_true(i >= 0);
    assert_true(all->row[i].row.is_number);
    assert_int_equal(all->row[i].row.dim, dim);
    assert_close(all->row[i].row.si, si, 1e-7, 1e-12);
    assert_int_equal(all->row[i].row.origin, origin);
}

static void assert_text(const rows *all, const char *path, const char *wanted, dw_origin origin)
{
    const int i = find(all, path);
    if (i < 0) print_error("no row %s\n", path);
    assert_true(i >= 0);
    assert_false(all->row[i].row.is_number);
    assert_string_equal(all->row[i].text, wanted);
    assert_int_equal(all->row[i].row.origin, origin);
}

static void rows_say_where_values_came_from(void **state)
{
    (void)state;
    static dw_kiln_file file;
    read_or_fail(NULL, 0, &file);
    rows *all = list(&file, 0);
    assert_text(all, "kiln.name", "Salt Fork kiln", DW_ORIGIN_GIVEN);
    assert_number(all, "kiln.site.elevation", 430.0, DW_DIM_LENGTH, DW_ORIGIN_GIVEN);
    assert_number(all, "kiln.site.air_temperature", 293.15, DW_DIM_TEMPERATURE, DW_ORIGIN_DEFAULT);
    assert_number(all, "kiln.site.room_temperature", 293.15, DW_DIM_TEMPERATURE, DW_ORIGIN_DERIVED);
    assert_number(all, "kiln.chamber.leak_area", 44.742e-4, DW_DIM_AREA, DW_ORIGIN_DERIVED);
    assert_text(all, "kiln.fuel", "natural gas", DW_ORIGIN_GIVEN);
    assert_number(all, "kiln.fuel.C2H6", 0.04, DW_DIM_SHARE, DW_ORIGIN_GIVEN);
    assert_number(all, "kiln.burners.left.count", 1.0, DW_DIM_NUMBER, DW_ORIGIN_DEFAULT);
    assert_text(all, "kiln.burners.right.lit", "no", DW_ORIGIN_GIVEN);
    assert_text(all, "kiln.burners.left.kind", "inspirating", DW_ORIGIN_DEFAULT);
    assert_number(all, "kiln.burners.left.gas_pressure", 1700.0, DW_DIM_PRESSURE_GAUGE,
                  DW_ORIGIN_DERIVED);
    assert_number(all, "kiln.burners.right.gas_pressure", 1100.0, DW_DIM_PRESSURE_GAUGE,
                  DW_ORIGIN_GIVEN);
    assert_number(all, "kiln.stack.base_height", 0.07, DW_DIM_LENGTH, DW_ORIGIN_DERIVED);
    assert_text(all, "kiln.flues.\"no. 2\".damper_downstream_area", "plenum", DW_ORIGIN_GIVEN);
    assert_text(all, "kiln.flues.\"no. 2\".damper.rows",
                "[[7 %, 311.5], [45 %, 9.25], [100 %, 0.3]]", DW_ORIGIN_GIVEN);
    assert_number(all, "operating.gas_temperature", 293.15, DW_DIM_TEMPERATURE, DW_ORIGIN_DERIVED);
    /* another form stands for the quantity */
    assert_number(all, "kiln.burners.left.jet.diameter", 2.2606e-3, DW_DIM_LENGTH, DW_ORIGIN_GIVEN);
    assert_number(all, "kiln.openings.upper spyhole.area", 4.5238934e-4, DW_DIM_AREA,
                  DW_ORIGIN_GIVEN);
    assert_number(all, "kiln.flues.\"no. 1\".damper.open", 0.45536096, DW_DIM_SHARE,
                  DW_ORIGIN_GIVEN);
    assert_number(all, "kiln.stack.roughness", 1e-3, DW_DIM_LENGTH, DW_ORIGIN_GIVEN);
    assert_text(all, "kiln.stack.section", "round", DW_ORIGIN_GIVEN);
    /* of a choice, the one in use; what it works out to is derived */
    assert_number(all, "kiln.burners.left.inlet_loss", 0.7, DW_DIM_NUMBER, DW_ORIGIN_GIVEN);
    assert_true(find(all, "kiln.burners.left.shutter_area") >= 0);
    assert_int_equal(all->row[find(all, "kiln.burners.left.shutter_area")].row.origin,
                     DW_ORIGIN_DERIVED);
    assert_number(all, "kiln.burners.right.shutter_area", 11e-4, DW_DIM_AREA, DW_ORIGIN_GIVEN);
    free(all);
}

static void what_does_not_matter_is_left_out(void **state)
{
    (void)state;
    static dw_kiln_file file;
    static const char *const absent[] = {
        "kiln.burners.right.inlet_loss",
        "kiln.burners.left.jet.drill",
        "kiln.burners.left.air_restriction.area",
        "kiln.burners.left.air_flow",
        "kiln.burners.rear.air_jet.diameter",
        "kiln.burners.rear.throat_diameter",
        "kiln.burners.rear.air_restriction.area",
        "kiln.openings.gap.height",
        "kiln.openings.upper spyhole.from",
        "kiln.openings.gap.exponent",
        "kiln.stack.heat_loss_ntu",
        "kiln.stack.hood_gap_height",
        "kiln.stack.lining",
        "kiln.stack.diameter",
        "kiln.flues.\"no. 1\".damper.rows",
        "kiln.flues.\"no. 1\".damper.angle",
        "kiln.fuel.CO",
        "damperwise",
        "kiln.burners",
        "kiln.site",
    };
    read_or_fail(NULL, 0, &file);
    rows *all = list(&file, 0);
    for (size_t i = 0; i < sizeof absent / sizeof absent[0]; i++) {
        if (find(all, absent[i]) >= 0) print_error("%s is there\n", absent[i]);
        assert_int_equal(find(all, absent[i]), -1);
    }
    free(all);

    static const dw_setting none[] = {{"stack", "none"}};
    read_or_fail(none, 1, &file);
    all = list(&file, 0);
    assert_int_equal(find(all, "kiln.stack.height"), -1);
    assert_text(all, "kiln.flues.\"no. 1\".damper_downstream_area", "plenum", DW_ORIGIN_DERIVED);
    free(all);
}

/* Bit patterns: NaN equals NaN, and nothing is lost on the way. */
static void reading_the_rows_back_gives_the_same_kiln(void **state)
{
    (void)state;
    static dw_kiln_file file, again;
    static char values[ROW_MAX][VALUE_MAX];
    static dw_setting settings[ROW_MAX];
    read_or_fail(NULL, 0, &file);
    rows *all = list(&file, 0);
    size_t count = 0;
    for (int i = 0; i < all->count; i++) {
        const dw_listing_row *row = &all->row[i].row;
        if (row->origin == DW_ORIGIN_DERIVED || strncmp(all->row[i].path, "kiln.fuel", 9) == 0) {
            continue;
        }
        if (row->is_number) {
            const int bare = row->dim == DW_DIM_NUMBER || row->dim == DW_DIM_RATIO;
            const int share = row->dim == DW_DIM_SHARE;
            snprintf(values[count], VALUE_MAX, "%.17g %s", share ? 100.0 * row->si : row->si,
                     bare    ? ""
                     : share ? "%"
                             : dw_dim_si_unit(row->dim));
        } else {
            snprintf(values[count], VALUE_MAX, "%s", all->row[i].text);
        }
        settings[count] = (dw_setting){all->row[i].path, values[count]};
        count++;
    }
    assert_true(count > 80);
    read_or_fail(settings, count, &again);
    dw_kiln_resolve(&file.kiln);
    dw_kiln_resolve(&again.kiln);
    /* Written out, every coefficient is a given one. */
    for (int i = 0; i < file.kiln.burner_count; i++)
        file.kiln.burner[i].jet_coeffs_given = true;
    assert_memory_equal(&file.kiln, &again.kiln, sizeof file.kiln);

    rows *second = list(&again, 0);
    assert_int_equal(second->count, all->count);
    for (int i = 0; i < all->count; i++)
        assert_string_equal(second->row[i].path, all->row[i].path);
    free(second);
    free(all);
}

static void a_taker_can_stop(void **state)
{
    (void)state;
    static dw_kiln_file file;
    read_or_fail(NULL, 0, &file);
    for (int stop = 1; stop < 40; stop += 3) {
        rows *all = list(&file, stop);
        assert_int_equal(all->count, stop);
        free(all);
    }
}

typedef struct key_count {
    int keys, defaults, stop_at;
    int fallbacks;
    int seen_jet, seen_leak, seen_site, seen_kind;
} key_count;

/* in the unit of the limits, or bare */
static const char *const fallbacks[][2] = {
    {"kiln.stack.roughness", "3 mm"},         {"kiln.model.quench_temperature", "1100 K"},
    {"kiln.site.air_temperature", "20 degC"}, {"kiln.openings.<name>.reference_pressure", "10 Pa"},
    {"kiln.model.unmixedness", "0.05"},       {"kiln.burners.<name>.count", "1"},
    {"kiln.burners.<name>.port_loss", "1.6"},
};

static int count_key(void *user, const dw_key_row *row)
{
    key_count *c = user;
    c->keys++;
    if (row->fallback != NULL) c->defaults++;
    assert_true((row->fallback != NULL) == (row->need == DW_NEED_DEFAULT));
    assert_true(strlen(row->expected) > 0 && strlen(row->help) > 0);
    if (strcmp(row->path, "kiln.burners.<name>.jet.diameter") == 0) {
        c->seen_jet++;
        assert_string_equal(row->expected, "0.1 mm to 20 mm");
        assert_int_equal(row->need, DW_NEED_REQUIRED);
    }
    if (strcmp(row->path, "kiln.flues.<name>.damper.leak") == 0) {
        c->seen_leak++;
        assert_string_equal(row->fallback, "1 %");
    }
    if (strcmp(row->path, "kiln.site") == 0) c->seen_site++;
    for (size_t i = 0; i < sizeof fallbacks / sizeof fallbacks[0]; i++) {
        if (strcmp(row->path, fallbacks[i][0]) != 0) continue;
        c->fallbacks++;
        assert_string_equal(row->fallback, fallbacks[i][1]);
    }
    if (strcmp(row->path, "kiln.openings.<name>.kind") == 0) {
        c->seen_kind++;
        assert_string_equal(row->fallback, "hole");
        assert_string_equal(row->expected, "hole, crack or tall");
    }
    return c->keys == c->stop_at;
}

static void all_keys_are_listed_with_their_defaults(void **state)
{
    (void)state;
    key_count c = {.stop_at = 0};
    dw_kiln_keys(&data, count_key, &c);
    int expected = 0;
    for (int object = 0; object < DW_OBJECT_COUNT; object++) {
        expected += dw_keys_of((dw_object)object)->count;
    }
    assert_int_equal(c.keys, expected);
    assert_true(c.defaults > 40);
    assert_int_equal(c.fallbacks, (int)(sizeof fallbacks / sizeof fallbacks[0]));
    assert_int_equal(c.seen_jet, 1);
    assert_int_equal(c.seen_leak, 1);
    assert_int_equal(c.seen_site, 1);
    assert_int_equal(c.seen_kind, 1);
    c = (key_count){.stop_at = 17};
    dw_kiln_keys(&data, count_key, &c);
    assert_int_equal(c.keys, 17);
}

static void words_of_origin_and_need(void **state)
{
    (void)state;
    assert_string_equal(dw_origin_text(DW_ORIGIN_GIVEN), "given");
    assert_string_equal(dw_origin_text(DW_ORIGIN_DEFAULT), "default");
    assert_string_equal(dw_origin_text(DW_ORIGIN_DERIVED), "derived");
    assert_string_equal(dw_need_text(DW_NEED_REQUIRED), "required");
    assert_string_equal(dw_need_text(DW_NEED_DEFAULT), "default");
    assert_string_equal(dw_need_text(DW_NEED_DERIVED), "derived");
    assert_string_equal(dw_need_text(DW_NEED_OPTIONAL), "optional");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_say_where_values_came_from),
        cmocka_unit_test(what_does_not_matter_is_left_out),
        cmocka_unit_test(reading_the_rows_back_gives_the_same_kiln),
        cmocka_unit_test(a_taker_can_stop),
        cmocka_unit_test(all_keys_are_listed_with_their_defaults),
        cmocka_unit_test(words_of_origin_and_need),
    };
    return cmocka_run_group_tests_name("kiln_listing", tests, load_data, NULL);
}
