/* Inputs found by path: which doubles of the kiln they are, and which paths are refused. */

#include <string.h>

#include "check.h"
#include "read_kiln.h"

/* Two burner entries, a hole and a tall opening, three flues, a stack. Only names, kinds and what
 * excludes what matter here. */
static dw_kiln some_kiln(void)
{
    dw_kiln kiln;
    dw_kiln_init(&kiln);
    kiln.burner_count = 2;
    strcpy(kiln.burner[0].name, "left pair");
    strcpy(kiln.burner[1].name, "1");
    kiln.burner[1].kind = DW_BURNER_BLOWN;
    kiln.burner[1].air_flow_m3_s = 0.013;
    kiln.opening_count = 2;
    strcpy(kiln.opening[0].name, "spyhole");
    strcpy(kiln.opening[1].name, "door gap");
    kiln.opening[1].kind = DW_OPENING_TALL;
    kiln.flue_count = 3;
    strcpy(kiln.flue[0].name, "back flue");
    strcpy(kiln.flue[1].name, "no. 2");
    strcpy(kiln.flue[2].name, "0");
    kiln.flue[2].downstream_is_plenum = true;
    kiln.stack.present = true;
    return kiln;
}

static void assert_field(const char *path, size_t offset, dw_dim dim, double low, double high)
{
    const dw_kiln kiln = some_kiln();
    dw_kiln_field field;
    dw_diag_list *diag = dw_diag_list_create();
    const dw_status status = dw_kiln_field_find(&kiln, path, diag, &field);
    if (status != DW_OK) print_error("%s: %s\n", path, dw_diag_get(diag, 0)->text);
    dw_diag_list_destroy(diag);
    assert_int_equal(status, DW_OK);
    assert_string_equal(field.path, path);
    assert_int_equal(field.place_count, 1);
    assert_int_equal(field.offset[0], offset);
    assert_int_equal(field.dim, dim);
    assert_close(field.low, low, 1e-12, 1e-12);
    assert_close(field.high, high, 1e-12, 0.0);
}

#define PLACE(member) offsetof(dw_kiln, member)

static void paths_lead_to_their_doubles(void **state)
{
    (void)state;
    assert_field("site.elevation", PLACE(site.elevation_m), DW_DIM_LENGTH, -400.0, 5500.0);
    assert_field("kiln.site.elevation", PLACE(site.elevation_m), DW_DIM_LENGTH, -400.0, 5500.0);
    assert_field("operating.chamber_temperature", PLACE(operating.chamber_temperature_k),
                 DW_DIM_TEMPERATURE, 273.15, 1773.15);
    assert_field("burners.left pair.jet.diameter", PLACE(burner[0].jet_diameter_m), DW_DIM_LENGTH,
                 1e-4, 0.02);
    assert_field("burners.0.shutter", PLACE(burner[0].shutter_open_frac), DW_DIM_SHARE, 0.0, 1.0);
    assert_field("openings.door gap.to", PLACE(opening[1].to_m), DW_DIM_LENGTH, 0.0, 10.0);
    assert_field("openings.spyhole.area", PLACE(opening[0].area_m2), DW_DIM_AREA, 1e-6, 4.0);
    assert_field("flues.\"no. 2\".damper.open", PLACE(flue[1].damper.open_frac), DW_DIM_SHARE, 0.0,
                 1.0);
    assert_field("flues.back flue.damper_downstream_area", PLACE(flue[0].downstream_area_m2),
                 DW_DIM_AREA, 1e-4, 10.0);
    assert_field("stack.heat_loss_ntu", PLACE(stack.heat_loss_ntu), DW_DIM_NUMBER, 0.0, 5.0);
    assert_field("stack.heat_loss_ua", PLACE(stack.heat_loss_ua_w_k), DW_DIM_CONDUCTANCE, 0.0, 5e3);
    assert_field("model.gas_minus_reading", PLACE(settings.gas_minus_reading_dk),
                 DW_DIM_TEMPERATURE_DIFF, -100.0, 300.0);
    assert_field("gas_pressure", PLACE(operating.gas_pressure_pa), DW_DIM_PRESSURE_GAUGE, 0.0, 4e5);
    assert_field("air_pressure", PLACE(operating.air_pressure_pa), DW_DIM_PRESSURE_GAUGE, 0.0, 1e6);
    assert_field("temperature", PLACE(operating.chamber_temperature_k), DW_DIM_TEMPERATURE, 273.15,
                 1773.15);
}

static void a_name_goes_before_a_number(void **state)
{
    (void)state;
    /* the burner named 1 is the one with index 1 too; the flue named 0 is the third */
    assert_field("burners.1.height", PLACE(burner[1].height_m), DW_DIM_LENGTH, 0.0, 10.0);
    assert_field("flues.0.area", PLACE(flue[2].area_m2), DW_DIM_AREA, 1e-4, 4.0);
    assert_field("flues.1.area", PLACE(flue[1].area_m2), DW_DIM_AREA, 1e-4, 4.0);
}

static void damper_moves_all_flues_together(void **state)
{
    (void)state;
    dw_kiln kiln = some_kiln(), before;
    dw_kiln_field field;
    memcpy(&before, &kiln, sizeof kiln);
    assert_int_equal(dw_kiln_field_find(&kiln, "damper", NULL, &field), DW_OK);
    assert_int_equal(field.place_count, 3);
    dw_kiln_field_put(&field, &kiln, 0.37);
    for (int i = 0; i < 3; i++) {
        assert_close(kiln.flue[i].damper.open_frac, 0.37, 0.0, 0.0);
        before.flue[i].damper.open_frac = 0.37;
    }
    assert_memory_equal(&kiln, &before, sizeof kiln);

    assert_int_equal(dw_kiln_field_find(&kiln, "openings.*.open", NULL, &field), DW_OK);
    assert_int_equal(field.place_count, 2);
    assert_int_equal(field.offset[1], PLACE(opening[1].open_frac));
}

static void assert_refused(const dw_kiln *kiln, const char *path, const char *code,
                           const char *part)
{
    dw_kiln_field field;
    dw_diag_list *diag = dw_diag_list_create();
    assert_int_equal(dw_kiln_field_find(kiln, path, diag, &field), DW_ERR_INPUT);
    assert_int_equal(field.place_count, 0);
    assert_int_equal(dw_diag_count(diag), 1);
    const dw_diag *said = dw_diag_get(diag, 0);
    if (strcmp(said->code, code) != 0 || strstr(said->text, part) == NULL) {
        print_error("%s: [%s] %s\n  expected [%s] %s\n", path, said->code, said->text, code, part);
        fail();
    }
    dw_diag_list_destroy(diag);
}

static void wrong_paths_are_named_with_a_suggestion(void **state)
{
    (void)state;
    const dw_kiln kiln = some_kiln();
    assert_refused(&kiln, "flus.back flue.area", "unknown-key",
                   "'flus.back flue.area' has no key 'flus'; did you mean 'flues'?");
    assert_refused(&kiln, "dampr", "unknown-key",
                   "'dampr' has no key 'dampr'; did you mean 'damper'?");
    assert_refused(&kiln, "oprating.gas_pressure", "unknown-key", "did you mean 'operating'?");
    assert_refused(&kiln, "zz", "unknown-key",
                   "expected damper, gas_pressure, air_pressure, temperature, kiln, operating, room, "
                   "name, site");
    assert_refused(&kiln, "zz.area", "unknown-key", "expected kiln, operating, room, name, site");
    /* A short name is a whole path: nothing of it is below kiln. */
    assert_refused(&kiln, "kiln.dampr", "unknown-key", "expected name, site");
    assert_refused(&kiln, "dampr.open", "unknown-key", "expected kiln, operating");
    assert_refused(&kiln, "flues.bak flue.area", "unknown-key", "did you mean 'back flue'?");
    assert_refused(&kiln, "flues.front.area", "unknown-key", "expected back flue, no. 2 or 0");
    assert_refused(&kiln, "burners.left pair.jet.diametre", "unknown-key",
                   "did you mean 'diameter'?");
    assert_refused(&kiln, "burners.left pair.jet", "unknown-key", "expected diameter, drill");
    assert_refused(&kiln, "site.colour", "unknown-key", "expected elevation, pressure");
    assert_refused(&kiln, "site", "bad-path", "does not lead to a quantity, expected elevation");
    assert_refused(&kiln, "flues", "bad-path", "needs the name of an item after 'flues', or *");
    assert_refused(&kiln, "flues.\"*\".area", "unknown-key", "has no item '*'");
    assert_refused(&kiln, "site.elevation.m", "bad-path", "goes on after the key 'elevation'");
    assert_refused(&kiln, "", "bad-path", "does not lead to a quantity");
    assert_refused(&kiln, "site..elevation", "bad-path", "does not lead to a quantity");
}

static void what_is_no_plain_quantity_is_refused(void **state)
{
    (void)state;
    const dw_kiln kiln = some_kiln();
    assert_refused(&kiln, "burners.left pair.count", "not-a-number",
                   "a whole number from 1 to 100");
    assert_refused(&kiln, "burners.left pair.lit", "not-a-number", "its value is yes or no");
    assert_refused(&kiln, "kiln.name", "not-a-number", "its value is a name");
    assert_refused(&kiln, "fuel.CH4", "not-a-number", "the name of a fuel");
    assert_refused(&kiln, "damperwise", "not-a-number", "cannot be varied");
    assert_refused(&kiln, "flues.back flue.damper.rows", "not-a-number", "a list of 2 to 16 pairs");
    assert_refused(&kiln, "burners.left pair.jet.drill", "not-a-number",
                   "vary 'jet.diameter' instead");
    assert_refused(&kiln, "flues.back flue.diameter", "not-a-number", "vary 'area' instead");
    assert_refused(&kiln, "flues.back flue.damper.angle", "not-a-number", "vary 'open' instead");
    assert_refused(&kiln, "stack.lining", "not-a-number", "vary 'roughness' instead");
}

static void what_changes_nothing_is_refused(void **state)
{
    (void)state;
    dw_kiln kiln = some_kiln();
    assert_refused(&kiln, "openings.spyhole.from", "no-effect", "no effect: the kind is hole");
    assert_refused(&kiln, "openings.door gap.height", "no-effect", "no effect: the kind is tall");
    assert_refused(&kiln, "burners.1.air_restriction.area", "no-effect", "'air_flow' is given");
    assert_refused(&kiln, "flues.0.damper_downstream_area", "no-effect", "a plenum is given");
    assert_refused(&kiln, "openings.*.height", "no-effect", "no effect: the kind is tall");
    kiln.burner[0].shutter_area_m2 = 12e-4;
    assert_refused(&kiln, "burners.left pair.inlet_loss", "no-effect", "'shutter_area' is given");
    kiln.stack.heat_loss_ua_w_k = 11.0;
    assert_refused(&kiln, "stack.heat_loss_ntu", "no-effect", "'heat_loss_ua' is given");
    kiln.stack.present = false;
    assert_refused(&kiln, "stack.height", "unknown-item", "the kiln has no stack");
    kiln.opening_count = 0;
    assert_refused(&kiln, "openings.spyhole.open", "unknown-item", "the list 'openings' is empty");
}

/* Why moving a field changes nothing in this kiln; "" when it does. */
static const char *idle(const dw_kiln *kiln, const char *path)
{
    static char text[300];
    dw_kiln_field field;
    dw_diag_list *diag = dw_diag_list_create();
    text[0] = '\0';
    assert_int_equal(dw_kiln_field_find(kiln, path, diag, &field), DW_OK);
    const dw_status status = dw_kiln_field_reaches(&field, &kiln, 1, diag);
    assert_int_equal(status, dw_diag_count(diag) == 0 ? DW_OK : DW_ERR_INPUT);
    if (status != DW_OK) {
        const dw_diag *said = dw_diag_get(diag, 0);
        assert_string_equal(said->code, "no-effect");
        assert_int_equal(said->grade, DW_ERROR);
        (void)snprintf(text, sizeof text, "%s", said->text);
    }
    dw_diag_list_destroy(diag);
    return text;
}

#define ASSERT_MOVES(path) assert_string_equal(idle(&kiln, path), "")
#define ASSERT_IDLE(path, part) assert_non_null(strstr(idle(&kiln, path), part))

static void what_nothing_uses_is_refused(void **state)
{
    (void)state;
    dw_kiln kiln = some_kiln();
    ASSERT_MOVES("gas_pressure");
    ASSERT_IDLE("air_pressure", "no lit burner has an air jet or is blown through a restriction");
    ASSERT_MOVES("temperature");
    kiln.burner[0].air_jet_diameter_m = 1.3e-3;
    ASSERT_MOVES("air_pressure");
    kiln.burner[0].gas_pressure_pa = 3e3;
    ASSERT_MOVES("gas_pressure"); /* the other burner takes it */
    kiln.burner[1].lit = false;
    ASSERT_IDLE("gas_pressure", "every lit burner has a gas_pressure of its own");
    kiln.burner[0].air_pressure_pa = 9e3;
    ASSERT_IDLE("air_pressure", "every lit burner that takes air has an air_pressure of its own");
    ASSERT_MOVES("burners.0.air_jet.discharge_coefficient");
    kiln.burner[0].air_jet_diameter_m = 0.0;
    ASSERT_IDLE("burners.0.air_jet.discharge_coefficient", "has no air_jet.diameter");
    ASSERT_IDLE("burners.1.jet.discharge_coefficient", "this burner is not lit");
    ASSERT_MOVES("burners.*.jet.discharge_coefficient");
    ASSERT_IDLE("stack.relief_discharge_coefficient", "there is no relief_opening");
    kiln.opening[0].open_frac = 0.0;
    ASSERT_IDLE("openings.0.area", "this opening is closed");
    ASSERT_MOVES("openings.0.open");
    kiln.stack.hood_gap_height_m = 0.3;
    kiln.room.present = false;
    ASSERT_IDLE("stack.cap_loss", "hood gap");
    ASSERT_IDLE("site.room_pressure", "hood gap");
    kiln.site.pressure_pa_abs = 9e4;
    ASSERT_IDLE("site.elevation", "site.pressure is given");
}

/* What is idle now may not be so for other values of what is varied with it. */
static void an_axis_counts_when_it_moves_anything_anywhere(void **state)
{
    (void)state;
    dw_kiln kiln = some_kiln(), with = some_kiln();
    const dw_kiln *const both[] = {&kiln, &with};
    with.burner[0].air_jet_diameter_m = 1.3e-3;
    dw_kiln_field field;
    assert_int_equal(dw_kiln_field_find(&kiln, "air_pressure", NULL, &field), DW_OK);
    assert_int_equal(dw_kiln_field_reaches(&field, both, 1, NULL), DW_ERR_INPUT);
    assert_int_equal(dw_kiln_field_reaches(&field, both, 2, NULL), DW_OK);
}

static void arguments_and_lengths_are_checked(void **state)
{
    (void)state;
    const dw_kiln kiln = some_kiln();
    dw_kiln_field field;
    char long_path[200];
    assert_int_equal(dw_kiln_field_find(NULL, "damper", NULL, &field), DW_ERR_ARG);
    assert_int_equal(dw_kiln_field_find(&kiln, NULL, NULL, &field), DW_ERR_ARG);
    assert_int_equal(dw_kiln_field_find(&kiln, "damper", NULL, NULL), DW_ERR_ARG);
    memset(long_path, 'a', sizeof long_path - 1);
    long_path[sizeof long_path - 1] = '\0';
    assert_refused(&kiln, long_path, "bad-path", "is too long for a path");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(paths_lead_to_their_doubles),
        cmocka_unit_test(a_name_goes_before_a_number),
        cmocka_unit_test(damper_moves_all_flues_together),
        cmocka_unit_test(wrong_paths_are_named_with_a_suggestion),
        cmocka_unit_test(what_is_no_plain_quantity_is_refused),
        cmocka_unit_test(what_changes_nothing_is_refused),
        cmocka_unit_test(what_nothing_uses_is_refused),
        cmocka_unit_test(an_axis_counts_when_it_moves_anything_anywhere),
        cmocka_unit_test(arguments_and_lengths_are_checked),
    };
    return cmocka_run_group_tests_name("kiln_field", tests, NULL, NULL);
}
