#include "check.h"

#include <string.h>

#include "diag.h"
#include "kiln_typed.h"
#include "kit.h"

static const char *const text =
    "damperwise: 1\n"
    "kiln:\n"
    "  site: {elevation: 850 ft, air_temperature: 68 degF}\n"
    "  fuel: methane\n"
    "  chamber: {width: 30 in, depth: 36 in, height: 1.07 m, packed: 50 %}\n"
    "  burners:\n"
    "    - {name: left, jet: {drill: 44}, throat_diameter: 1 1/2 in, height: 4 in}\n"
    "    - {name: right, jet: {diameter: 2.1 mm}, throat_diameter: 37 mm, height: 0.12 m,\n"
    "       gas_pressure: 11 mbar}\n"
    "  openings:\n"
    "    - {name: spyhole, diameter: 1 in, height: 0.5 m}\n"
    "  flues:\n"
    "    - {name: back, area: 36 in2, height: 3 in, damper: {kind: butterfly, angle: 30 deg}}\n"
    "  stack: {height: 12 ft, diameter: 10 in, lining: steel, cap: open}\n"
    "  model: {unmixedness: 0.07}\n"
    "operating: {gas_pressure: 7 in w.c., chamber_temperature: 2100 degF}\n";

static dw_kiln_file file;
static dw_diag_list *diag;

static void read_with(const dw_setting *settings, size_t count)
{
    diag = dw_diag_list_create();
    const dw_status status =
        dw_read_kiln(kit_data(), "k.yaml", text, strlen(text), settings, count, diag, &file);
    if (status != DW_OK) fail_msg("%s", dw_diag_get(diag, 0)->text);
}

static void done(void) { dw_diag_list_destroy(diag); }

#define UNIT(field_) dw_typed_unit(&file, offsetof(dw_kiln, field_))
#define ASSERT_UNIT(field_, unit_)                                                                 \
    do {                                                                                           \
        assert_non_null(UNIT(field_));                                                             \
        assert_string_equal(UNIT(field_), unit_);                                                  \
    } while (0)

static void units_are_those_that_were_typed(void **state)
{
    (void)state;
    read_with(NULL, 0);
    ASSERT_UNIT(site.elevation_m, "ft");
    ASSERT_UNIT(chamber.width_m, "in");
    ASSERT_UNIT(chamber.height_m, "m");
    ASSERT_UNIT(chamber.packed_frac, "%");
    ASSERT_UNIT(burner[0].throat_diameter_m, "in");
    ASSERT_UNIT(burner[1].throat_diameter_m, "mm");
    ASSERT_UNIT(burner[1].jet_diameter_m, "mm");
    ASSERT_UNIT(burner[1].gas_pressure_pa, "mbar");
    ASSERT_UNIT(flue[0].area_m2, "in2");
    ASSERT_UNIT(stack.height_m, "ft");
    ASSERT_UNIT(settings.unmixedness, "");
    ASSERT_UNIT(operating.gas_pressure_pa, "in w.c.");
    ASSERT_UNIT(operating.chamber_temperature_k, "degF");
    /* Taken over from another input as it is. */
    ASSERT_UNIT(burner[0].gas_pressure_pa, "in w.c.");
    ASSERT_UNIT(burner[0].port_diameter_m, "in");
    ASSERT_UNIT(site.room_temperature_k, "degF");
    ASSERT_UNIT(operating.gas_temperature_k, "degF");
    /* Not given, or given in another form. */
    assert_null(UNIT(site.room_pressure_pa));
    assert_null(UNIT(chamber.leak_area_m2));
    assert_null(UNIT(burner[0].jet_diameter_m));
    assert_null(UNIT(opening[0].area_m2));
    assert_null(UNIT(stack.area_m2));
    assert_null(UNIT(stack.roughness_m));
    done();
}

static void overrides_and_varied_fields_bring_their_own(void **state)
{
    (void)state;
    static const dw_setting settings[] = {{"gas_pressure", "2 kPa"},
                                          {"stack.height", "4 m"},
                                          {"burners.*.jet", "{diameter: 5/64 in}"}};
    read_with(settings, 3);
    ASSERT_UNIT(operating.gas_pressure_pa, "kPa");
    ASSERT_UNIT(burner[0].gas_pressure_pa, "kPa");
    ASSERT_UNIT(burner[1].gas_pressure_pa, "mbar");
    ASSERT_UNIT(stack.height_m, "m");
    ASSERT_UNIT(burner[0].jet_diameter_m, "in");
    ASSERT_UNIT(burner[1].jet_diameter_m, "in");
    dw_kiln_field field;
    assert_int_equal(dw_kiln_field_find(&file.kiln, "gas_pressure", NULL, &field), DW_OK);
    field.unit = "psi";
    dw_typed_put(&file, &field);
    ASSERT_UNIT(operating.gas_pressure_pa, "psi");
    assert_int_equal(dw_kiln_field_find(&file.kiln, "site.room_pressure", NULL, &field), DW_OK);
    field.unit = "Pa";
    dw_typed_put(&file, &field);
    ASSERT_UNIT(site.room_pressure_pa, "Pa");
    /* What was given as a diameter is an area once that is varied. */
    char as[DW_TYPED_AS_SIZE];
    const int row = dw_keys_row(dw_keys_of(DW_OBJECT_STACK), "area");
    assert_true(dw_typed_as(&file, DW_OBJECT_STACK, 0, row, as));
    assert_int_equal(dw_kiln_field_find(&file.kiln, "stack.area", NULL, &field), DW_OK);
    field.unit = "cm2";
    dw_typed_put(&file, &field);
    assert_false(dw_typed_as(&file, DW_OBJECT_STACK, 0, row, as));
    ASSERT_UNIT(stack.area_m2, "cm2");
    done();
}

static void other_forms_are_told(void **state)
{
    (void)state;
    read_with(NULL, 0);
    static const struct {
        dw_object object;
        const char *key, *as; /* NULL: given as it is, or not at all */
    } cases[] = {
        {DW_OBJECT_BURNER, "jet.diameter", "jet.drill 44"},
        {DW_OBJECT_BURNER, "throat_diameter", NULL},
        {DW_OBJECT_OPENING, "area", "diameter 1 in"},
        {DW_OBJECT_FLUE, "area", NULL},
        {DW_OBJECT_DAMPER, "open", "angle 30 deg"},
        {DW_OBJECT_STACK, "area", "diameter 10 in"},
        {DW_OBJECT_STACK, "roughness", "lining steel"},
        {DW_OBJECT_STACK, "cap_loss", "cap open"},
        {DW_OBJECT_STACK, "exit_loss", NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char as[DW_TYPED_AS_SIZE];
        const int row = dw_keys_row(dw_keys_of(cases[i].object), cases[i].key);
        const bool told = dw_typed_as(&file, cases[i].object, 0, row, as);
        if (told != (cases[i].as != NULL)) fail_msg("%s: %s", cases[i].key, told ? as : "nothing");
        if (told) assert_string_equal(as, cases[i].as);
    }
    done();
}

/* Errors of dw_kiln_overrides(), joined by `|`. */
static const char *refused(const dw_setting *settings, size_t count)
{
    static char all[600];
    all[0] = '\0';
    read_with(settings, count);
    const size_t before = dw_diag_count(diag);
    const dw_kiln *kiln = &file.kiln;
    const dw_status status = dw_kiln_overrides(&file, &kiln, 1, diag);
    for (size_t i = before; i < dw_diag_count(diag); i++) {
        assert_string_equal(dw_diag_get(diag, i)->file, "--set");
        (void)snprintf(all + strlen(all), sizeof all - strlen(all), "%s%s", i > before ? "|" : "",
                       dw_diag_get(diag, i)->text);
    }
    assert_int_equal(status, dw_diag_count(diag) == before ? DW_OK : DW_ERR_INPUT);
    done();
    return all;
}

#define REFUSED(...)                                                                               \
    refused((const dw_setting[]){__VA_ARGS__},                                                     \
            sizeof((const dw_setting[]){__VA_ARGS__}) / sizeof(dw_setting))

static void overrides_that_change_nothing_are_refused(void **state)
{
    (void)state;
    assert_string_equal(
        REFUSED({"air_pressure", "20 kPa"}),
        "'operating.air_pressure' has no effect: no lit burner has an air jet or is "
        "blown through a restriction");
    assert_string_equal(REFUSED({"openings.spyhole.from", "0.1 m"}),
                        "'kiln.openings.spyhole.from' has no effect: the kind is hole");
    assert_string_equal(REFUSED({"stack.relief_discharge_coefficient", "0.7"},
                                {"burners.right.air_flow", "9 m3/h"}),
                        "'kiln.stack.relief_discharge_coefficient' has no effect: there is no "
                        "relief_opening|'kiln.burners.right.air_flow' has no effect: the kind is "
                        "inspirating");
    /* Reaches one burner of two. */
    assert_string_equal(REFUSED({"gas_pressure", "20 kPa"}), "");
    assert_string_equal(
        REFUSED({"burners.left.gas_pressure", "3 kPa"}, {"gas_pressure", "20 kPa"}),
        "'operating.gas_pressure' has no effect: every lit burner has a gas_pressure "
        "of its own");
    assert_string_equal(REFUSED({"burners.*.air_jet.diameter", "1 mm"}, {"air_pressure", "9 kPa"}),
                        "");
    /* What holds anyway is no slip: defaults, and what is in the file. */
    assert_string_equal(REFUSED({"air_pressure", "0 kPa"}, {"burners.left.lit", "yes"},
                                {"stack.relief_discharge_coefficient", "0.62"}),
                        "");
    assert_string_equal(REFUSED({"site.elevation", "850 ft"}, {"site.pressure", "97 kPa"}), "");
    assert_string_equal(REFUSED({"site.elevation", "900 ft"}, {"site.pressure", "97 kPa"}),
                        "'kiln.site.elevation' has no effect: site.pressure is given");
    assert_string_equal(REFUSED({"stack", "none"}, {"damper", "40 %"}), "");
}

static void an_override_may_wait_for_what_is_varied(void **state)
{
    (void)state;
    const dw_setting setting = {"air_pressure", "20 kPa"};
    read_with(&setting, 1);
    dw_kiln with_jets = file.kiln;
    with_jets.burner[0].air_jet_diameter_m = 1e-3;
    const dw_kiln *const both[] = {&file.kiln, &with_jets};
    assert_int_equal(dw_kiln_overrides(&file, both, 1, NULL), DW_ERR_INPUT);
    assert_int_equal(dw_kiln_overrides(&file, both, 2, NULL), DW_OK);
    done();
}

/* A note for each key of the file that has no effect; none for what is only turned off. */
static void idle_keys_of_a_file_are_noted(void **state)
{
    (void)state;
    static const char *const idle =
        "damperwise: 1\n"
        "kiln:\n"
        "  site: {elevation: 100 m, pressure: 99 kPa, outside_temperature: 4 degC, room_pressure: "
        "-3 Pa}\n"
        "  fuel: methane\n"
        "  chamber: {width: 0.7 m, depth: 0.8 m, height: 1 m}\n"
        "  burners:\n"
        "    - {name: left, jet: {diameter: 1.9 mm}, throat_diameter: 37 mm, height: 0.1 m,\n"
        "       shutter_discharge_coefficient: 0.65, air_jet: {diameter: 1 mm}, lit: yes}\n"
        "    - {name: right, kind: blown, jet: {diameter: 2 mm}, height: 0.1 m, air_flow: 20 "
        "m3/h,\n"
        "       port_temperature_ratio: 2, shutter: 40 %, lit: no}\n"
        "  openings:\n"
        "    - {name: spyhole, area: 4 cm2, height: 0.5 m, open: 0 %, exponent: 0.7}\n"
        "  flues:\n"
        "    - {name: back, area: 230 cm2, height: 0.1 m, damper: {kind: slide, angle: 20 deg}}\n"
        "operating: {gas_pressure: 2 kPa, air_pressure: 0 kPa, chamber_temperature: 900 degC}\n";
    static const char *const expected[] = {
        "3:10 'kiln.site.elevation' has no effect: site.pressure is given",
        "3:75 'kiln.site.room_pressure' has no effect: there is no stack, so the flues end in the "
        "room",
        "8:8 'kiln.burners.left.shutter_discharge_coefficient' has no effect: shutter_area is not "
        "given",
        "8:55 'kiln.burners.left.air_jet.diameter' has no effect: there is no air_pressure",
        "10:8 'kiln.burners.right.port_temperature_ratio' has no effect: the kind is blown",
        "10:35 'kiln.burners.right.shutter' has no effect: the kind is blown",
        "12:62 'kiln.openings.spyhole.exponent' has no effect: the kind is hole",
        "14:72 'kiln.flues.back.damper.angle' has no effect: the kind is slide",
    };
    dw_diag_list *list = dw_diag_list_create();
    assert_int_equal(dw_read_kiln(kit_data(), "k.yaml", idle, strlen(idle), NULL, 0, list, &file),
                     DW_OK);
    const size_t count = sizeof expected / sizeof expected[0];
    assert_int_equal(dw_diag_count(list), count);
    for (size_t k = 0; k < count; k++) {
        bool said = false;
        for (size_t i = 0; i < count && !said; i++) {
            const dw_diag *d = dw_diag_get(list, i);
            char line[300];
            (void)snprintf(line, sizeof line, "%d:%d %s", d->line, d->column, d->text);
            said = strcmp(line, expected[k]) == 0 && d->grade == DW_NOTE &&
                   strcmp(d->code, "no-effect") == 0;
        }
        if (!said) print_error("not said: %s\n", expected[k]);
        if (!said) {
            for (size_t i = 0; i < count; i++)
                print_error("  %d:%d %s\n", dw_diag_get(list, i)->line,
                            dw_diag_get(list, i)->column, dw_diag_get(list, i)->text);
        }
        assert_true(said);
    }
    dw_diag_list_destroy(list);
}

static void a_kiln_without_openings_is_doubted(void **state)
{
    (void)state;
    static const dw_setting none = {"openings", "[]"};
    read_with(NULL, 0);
    assert_int_equal(dw_diag_count_grade(diag, DW_WARNING), 0);
    done();
    read_with(&none, 1);
    assert_int_equal(dw_diag_count_grade(diag, DW_WARNING), 1);
    assert_string_equal(dw_diag_get(diag, 0)->code, "no-openings");
    assert_non_null(
        strstr(dw_diag_get(diag, 0)->text, "burner ports, the spyholes and the gap of the door"));
    done();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_are_those_that_were_typed),
        cmocka_unit_test(overrides_and_varied_fields_bring_their_own),
        cmocka_unit_test(other_forms_are_told),
        cmocka_unit_test(overrides_that_change_nothing_are_refused),
        cmocka_unit_test(an_override_may_wait_for_what_is_varied),
        cmocka_unit_test(idle_keys_of_a_file_are_noted),
        cmocka_unit_test(a_kiln_without_openings_is_doubted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
