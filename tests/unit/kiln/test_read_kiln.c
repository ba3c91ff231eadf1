/* Reading a kiln description: values, defaults, overrides, warnings. Mistakes are in bad_input. */

#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "kiln_schema.h"
#include "read_data.h"
#include "read_kiln.h"

static dw_data data;

static int load_data(void **state)
{
    (void)state;
    return dw_read_data(NULL, NULL, &data) == DW_OK ? 0 : -1;
}

/* A reading of a text with overrides, and what was said. */
typedef struct reading {
    dw_status status;
    dw_diag_list *diag;
    dw_kiln_file file;
} reading;

static reading *read_with(const char *text, const dw_setting *settings, size_t count)
{
    reading *r = calloc(1, sizeof *r);
    assert_non_null(r);
    r->diag = dw_diag_list_create();
    assert_non_null(r->diag);
    r->status =
        dw_read_kiln(&data, "test.yaml", text, strlen(text), settings, count, r->diag, &r->file);
    return r;
}

static void done(reading *r)
{
    dw_diag_list_destroy(r->diag);
    free(r);
}

/* The reading went well; shows what was said when not. */
static void assert_read(const reading *r)
{
    for (size_t i = 0; r->status != DW_OK && i < dw_diag_count(r->diag); i++) {
        char line[600];
        (void)dw_diag_format(dw_diag_get(r->diag, i), line, sizeof line);
        print_error("%s\n", line);
    }
    assert_int_equal(r->status, DW_OK);
}

static int has_code(const reading *r, const char *code)
{
    for (size_t i = 0; i < dw_diag_count(r->diag); i++) {
        if (strcmp(dw_diag_get(r->diag, i)->code, code) == 0) return 1;
    }
    return 0;
}

static int is_given(unsigned long long word, dw_object object, const char *key)
{
    const int row = dw_keys_row(dw_keys_of(object), key);
    assert_true(row >= 0);
    return (int)(word >> row & 1u);
}

static const char least[] =
    "damperwise: 1\n"
    "kiln:\n"
    "  fuel: methane\n"
    "  chamber: {width: 0.71 m, depth: 0.83 m, height: 1.07 m}\n"
    "  burners:\n"
    "    - {name: left, jet: {diameter: 1.9 mm}, throat_diameter: 37 mm, height: 0.12 m}\n"
    "  flues:\n"
    "    - {name: back, area: 231 cm2, height: 0.07 m}\n"
    "operating: {gas_pressure: 1.7 kPa, chamber_temperature: 957 degC}\n";

static void least_file_gets_the_defaults(void **state)
{
    (void)state;
    reading *r = read_with(least, NULL, 0);
    assert_read(r);
    assert_int_equal(dw_diag_count(r->diag), 1);
    assert_string_equal(dw_diag_get(r->diag, 0)->code, "no-openings");
    const dw_kiln *kiln = &r->file.kiln;
    assert_string_equal(kiln->name, "kiln");
    assert_close(kiln->chamber.width_m, 0.71, 1e-14, 0.0);
    assert_close(kiln->chamber.depth_m, 0.83, 1e-14, 0.0);
    assert_close(kiln->chamber.height_m, 1.07, 1e-14, 0.0);
    assert_close(kiln->chamber.packed_frac, 0.0, 0.0, 0.0);
    assert_close(kiln->site.elevation_m, 0.0, 0.0, 0.0);
    assert_close(kiln->operating.gas_pressure_pa, 1700.0, 1e-14, 0.0);
    assert_close(kiln->operating.chamber_temperature_k, 1230.15, 1e-14, 0.0);
    assert_int_equal(kiln->burner_count, 1);
    assert_int_equal(kiln->opening_count, 0);
    assert_int_equal(kiln->flue_count, 1);
    assert_false(kiln->stack.present);
    assert_string_equal(kiln->burner[0].name, "left");
    assert_close(kiln->burner[0].jet_diameter_m, 1.9e-3, 1e-14, 0.0);
    assert_close(kiln->burner[0].jet_discharge_coeff, 0.85, 0.0, 0.0);
    assert_close(kiln->flue[0].area_m2, 231e-4, 1e-14, 0.0);
    assert_close(kiln->flue[0].damper.open_frac, 1.0, 0.0, 0.0);
    /* as read, not resolved */
    assert_true(isnan(kiln->site.pressure_pa_abs) && isnan(kiln->chamber.leak_area_m2));
    assert_true(isnan(kiln->burner[0].gas_pressure_pa) && isnan(kiln->burner[0].port_diameter_m));
    assert_close(kiln->fuel.x[dw_species_find(&data.species, "CH4")], 1.0, 0.0, 0.0);

    const dw_kiln_given *given = &r->file.given;
    assert_true(is_given(given->fuel, DW_OBJECT_KILN, "fuel"));
    assert_false(is_given(given->fuel, DW_OBJECT_KILN, "name"));
    assert_int_equal(given->site, 0);
    assert_true(is_given(given->chamber, DW_OBJECT_CHAMBER, "depth"));
    assert_false(is_given(given->chamber, DW_OBJECT_CHAMBER, "packed"));
    assert_true(is_given(given->burner[0], DW_OBJECT_BURNER, "jet.diameter"));
    assert_false(is_given(given->burner[0], DW_OBJECT_BURNER, "count"));
    assert_int_equal(given->burner[1], 0);
    assert_int_equal(given->damper[0], 0);
    done(r);
}

/* Every key but those that exclude the ones here; the other forms follow below. */
static const char full[] =
    "damperwise: 1\n"
    "kiln:\n"
    "  name: Juniper Flat community kiln\n"
    "  site:\n"
    "    elevation: 5200 ft\n"
    "    pressure: 0.83 bar\n"
    "    air_temperature: 53.6 degF\n"
    "    relative_humidity: 41 %\n"
    "    outside_temperature: -3 degC\n"
    "    room_temperature: 24 degC\n"
    "    room_pressure: -2.5 Pa\n"
    "  fuel: {CH4: 88 %, C2H6: 7 %, N2: 5 %}\n"
    "  chamber: {width: 30 in, depth: 0.8 m, height: 1.1 m, packed: 45 %, leak_area: 33 cm2,\n"
    "            leak_discharge_coefficient: 0.63}\n"
    "  burners:\n"
    "    - name: left pair\n"
    "      count: 2\n"
    "      kind: inspirating\n"
    "      lit: yes\n"
    "      plugged: no\n"
    "      height: 0.11 m\n"
    "      gas_pressure: 6.2 kPa\n"
    "      air_pressure: 200 kPa\n"
    "      jet: {diameter: 1.8 mm, discharge_coefficient: 0.83, velocity_coefficient: 0.96}\n"
    "      throat_diameter: 38 mm\n"
    "      port_diameter: 45 mm\n"
    "      shutter: 85 %\n"
    "      shutter_area: 14 cm2\n"
    "      shutter_discharge_coefficient: 0.64\n"
    "      throat_friction: 0.21\n"
    "      diffuser_recovery: 0.37\n"
    "      port_loss: 1.7\n"
    "      port_temperature_ratio: 1.9\n"
    "      air_jet: {diameter: 1.4 mm, discharge_coefficient: 0.81}\n"
    "    - name: back\n"
    "      kind: blown\n"
    "      lit: no\n"
    "      plugged: yes\n"
    "      height: 0.23 m\n"
    "      jet: {diameter: 4.4 mm}\n"
    "      air_restriction: {area: 3.7 cm2, discharge_coefficient: 0.66}\n"
    "  openings:\n"
    "    - {name: ports, kind: hole, count: 2, area: 18 cm2, height: 0.13 m, open: 80 %,\n"
    "       discharge_coefficient: 0.61}\n"
    "    - {name: joint, kind: crack, area: 5 cm2, height: 0.6 m, exponent: 0.7,\n"
    "       reference_pressure: 8 Pa}\n"
    "    - {name: door gap, kind: tall, area: 12 cm2, from: 0.05 m, to: 0.95 m}\n"
    "  flues:\n"
    "    - name: back flue\n"
    "      area: 240 cm2\n"
    "      height: 0.08 m\n"
    "      entry_loss: 0.6\n"
    "      damper_downstream_area: 410 cm2\n"
    "      damper: {kind: slide, open: 60 %, leak: 2 %, scale: 1.1}\n"
    "    - name: side flue\n"
    "      area: 90 cm2\n"
    "      height: 0.09 m\n"
    "      damper_downstream_area: plenum\n"
    "      damper: {kind: table, open: 30 %, rows: [[10 %, 250], [40 %, 9.5], [100 %, 0.2]]}\n"
    "  stack: {height: 3.6 m, area: 400 cm2, section: round, base_height: -0.3 m, roughness: 2 "
    "mm,\n"
    "          bends: 1.5, bend_loss: 1.1, cap_loss: 0.4, exit_loss: 0.9, relief_opening: 21 cm2,\n"
    "          relief_discharge_coefficient: 0.65, heat_loss_ntu: 0.31, hood_gap_height: 3.1 m}\n"
    "  model: {unmixedness: 0.07, quench_temperature: 1150 K, gas_minus_reading: 12 K, graphite: "
    "yes}\n"
    "operating:\n"
    "  gas_pressure: 3 psi\n"
    "  gas_temperature: 9 degC\n"
    "  air_pressure: 1.2 kPa\n"
    "  chamber_temperature: 1830 degF\n";

static void every_key_goes_to_its_place(void **state)
{
    (void)state;
    reading *r = read_with(full, NULL, 0);
    assert_read(r);
    const dw_kiln *k = &r->file.kiln;
    assert_string_equal(k->name, "Juniper Flat community kiln");
    assert_close(k->site.elevation_m, 1584.96, 1e-12, 0.0);
    assert_close(k->site.pressure_pa_abs, 83000.0, 1e-12, 0.0);
    assert_close(k->site.air_temperature_k, 285.15, 1e-12, 0.0);
    assert_close(k->site.relative_humidity, 0.41, 1e-12, 0.0);
    assert_close(k->site.outside_temperature_k, 270.15, 1e-12, 0.0);
    assert_close(k->site.room_temperature_k, 297.15, 1e-12, 0.0);
    assert_close(k->site.room_pressure_pa, -2.5, 1e-12, 0.0);
    assert_string_equal(k->fuel.name, "mixture");
    assert_close(k->fuel.x[dw_species_find(&data.species, "CH4")], 0.88, 1e-12, 0.0);
    assert_close(k->fuel.x[dw_species_find(&data.species, "C2H6")], 0.07, 1e-12, 0.0);
    assert_close(k->fuel.x[dw_species_find(&data.species, "N2")], 0.05, 1e-12, 0.0);
    assert_close(k->chamber.width_m, 0.762, 1e-12, 0.0);
    assert_close(k->chamber.packed_frac, 0.45, 1e-12, 0.0);
    assert_close(k->chamber.leak_area_m2, 33e-4, 1e-12, 0.0);
    assert_close(k->chamber.leak_discharge_coeff, 0.63, 1e-12, 0.0);

    const dw_burner *b = &k->burner[0];
    assert_int_equal(k->burner_count, 2);
    assert_int_equal(b->count, 2);
    assert_true(b->kind == DW_BURNER_INSPIRATING && b->lit && !b->plugged);
    assert_close(b->height_m, 0.11, 1e-12, 0.0);
    assert_close(b->gas_pressure_pa, 6200.0, 1e-12, 0.0);
    assert_close(b->air_pressure_pa, 200e3, 1e-12, 0.0);
    assert_close(b->jet_diameter_m, 1.8e-3, 1e-12, 0.0);
    assert_close(b->jet_discharge_coeff, 0.83, 1e-12, 0.0);
    assert_close(b->jet_velocity_coeff, 0.96, 1e-12, 0.0);
    assert_close(b->throat_diameter_m, 0.038, 1e-12, 0.0);
    assert_close(b->port_diameter_m, 0.045, 1e-12, 0.0);
    assert_close(b->shutter_open_frac, 0.85, 1e-12, 0.0);
    assert_close(b->shutter_area_m2, 14e-4, 1e-12, 0.0);
    assert_close(b->shutter_discharge_coeff, 0.64, 1e-12, 0.0);
    assert_close(b->throat_friction, 0.21, 1e-12, 0.0);
    assert_close(b->diffuser_recovery, 0.37, 1e-12, 0.0);
    assert_close(b->port_loss, 1.7, 1e-12, 0.0);
    assert_close(b->port_temperature_ratio, 1.9, 1e-12, 0.0);
    assert_close(b->air_jet_diameter_m, 1.4e-3, 1e-12, 0.0);
    assert_close(b->air_jet_discharge_coeff, 0.81, 1e-12, 0.0);
    b = &k->burner[1];
    assert_true(b->kind == DW_BURNER_BLOWN && !b->lit && b->plugged);
    assert_close(b->air_restriction_area_m2, 3.7e-4, 1e-12, 0.0);
    assert_close(b->air_restriction_coeff, 0.66, 1e-12, 0.0);
    assert_true(isnan(b->air_flow_m3_s));

    assert_int_equal(k->opening_count, 3);
    assert_true(k->opening[0].kind == DW_OPENING_HOLE && k->opening[0].count == 2);
    assert_close(k->opening[0].area_m2, 18e-4, 1e-12, 0.0);
    assert_close(k->opening[0].height_m, 0.13, 1e-12, 0.0);
    assert_close(k->opening[0].open_frac, 0.8, 1e-12, 0.0);
    assert_close(k->opening[0].discharge_coeff, 0.61, 1e-12, 0.0);
    assert_true(k->opening[1].kind == DW_OPENING_CRACK);
    assert_close(k->opening[1].exponent, 0.7, 1e-12, 0.0);
    assert_close(k->opening[1].reference_pressure_pa, 8.0, 1e-12, 0.0);
    assert_true(k->opening[2].kind == DW_OPENING_TALL);
    assert_close(k->opening[2].from_m, 0.05, 1e-12, 0.0);
    assert_close(k->opening[2].to_m, 0.95, 1e-12, 0.0);

    assert_int_equal(k->flue_count, 2);
    const dw_flue *f = &k->flue[0];
    assert_close(f->area_m2, 240e-4, 1e-12, 0.0);
    assert_close(f->height_m, 0.08, 1e-12, 0.0);
    assert_close(f->entry_loss, 0.6, 1e-12, 0.0);
    assert_close(f->downstream_area_m2, 410e-4, 1e-12, 0.0);
    assert_false(f->downstream_is_plenum);
    assert_true(f->damper.kind == DW_DAMPER_SLIDE);
    assert_close(f->damper.open_frac, 0.6, 1e-12, 0.0);
    assert_close(f->damper.leak_frac, 0.02, 1e-12, 0.0);
    assert_close(f->damper.scale, 1.1, 1e-12, 0.0);
    f = &k->flue[1];
    assert_true(f->downstream_is_plenum && f->damper.kind == DW_DAMPER_TABLE);
    assert_int_equal(f->damper.row_count, 3);
    assert_close(f->damper.row_open_frac[1], 0.4, 1e-12, 0.0);
    assert_close(f->damper.row_loss[1], 9.5, 1e-12, 0.0);
    assert_close(f->damper.row_loss[2], 0.2, 1e-12, 0.0);

    const dw_stack *s = &k->stack;
    assert_true(s->present && s->round);
    assert_close(s->height_m, 3.6, 1e-12, 0.0);
    assert_close(s->area_m2, 400e-4, 1e-12, 0.0);
    assert_close(s->base_height_m, -0.3, 1e-12, 0.0);
    assert_close(s->roughness_m, 2e-3, 1e-12, 0.0);
    assert_close(s->bend_count, 1.5, 1e-12, 0.0);
    assert_close(s->bend_loss, 1.1, 1e-12, 0.0);
    assert_close(s->cap_loss, 0.4, 1e-12, 0.0);
    assert_close(s->exit_loss, 0.9, 1e-12, 0.0);
    assert_close(s->relief_area_m2, 21e-4, 1e-12, 0.0);
    assert_close(s->relief_discharge_coeff, 0.65, 1e-12, 0.0);
    assert_close(s->heat_loss_ntu, 0.31, 1e-12, 0.0);
    assert_true(isnan(s->heat_loss_ua_w_k));
    assert_close(s->hood_gap_height_m, 3.1, 1e-12, 0.0);

    assert_close(k->settings.unmixedness, 0.07, 1e-12, 0.0);
    assert_close(k->settings.quench_temperature_k, 1150.0, 1e-12, 0.0);
    assert_close(k->settings.gas_minus_reading_dk, 12.0, 1e-12, 0.0);
    assert_true(k->settings.graphite);
    assert_close(k->operating.gas_pressure_pa, 20684.27, 1e-6, 0.0);
    assert_close(k->operating.gas_temperature_k, 282.15, 1e-12, 0.0);
    assert_close(k->operating.air_pressure_pa, 1200.0, 1e-12, 0.0);
    assert_close(k->operating.chamber_temperature_k, 1272.0389, 1e-7, 0.0);
    done(r);
}

static void other_forms_become_the_same_quantities(void **state)
{
    (void)state;
    static const dw_setting settings[] = {
        {"burners.left.jet", "{drill: 50}"},
        {"flues.back", "{name: back, diameter: 17 cm, height: 0.07 m}"},
        {"flues.back.damper", "{kind: butterfly, angle: 37 deg}"},
        {"stack",
         "{height: 3.3 m, diameter: 22 cm, lining: steel, cap: cap, heat_loss_ua: 14 W/K}"},
        {"openings", "[{name: spyhole, diameter: 25 mm, height: 0.3 m}]"},
    };
    reading *r = read_with(least, settings, sizeof settings / sizeof settings[0]);
    assert_read(r);
    const dw_kiln *k = &r->file.kiln;
    assert_close(k->burner[0].jet_diameter_m, 1.778e-3, 1e-12, 0.0);  /* 0.0700 in */
    assert_close(k->flue[0].area_m2, 0.022698007, 1e-8, 0.0);         /* pi 0.17^2/4 */
    assert_close(k->flue[0].damper.open_frac, 0.39818498, 1e-7, 0.0); /* 1 - sin 37 deg */
    assert_true(k->flue[0].damper.kind == DW_DAMPER_BUTTERFLY);
    assert_close(k->stack.area_m2, 0.038013271, 1e-8, 0.0);
    assert_true(k->stack.round);
    assert_true(is_given(r->file.given.stack, DW_OBJECT_STACK, "section"));
    assert_close(k->stack.roughness_m, 0.1e-3, 1e-12, 0.0);
    assert_close(k->stack.cap_loss, 1.0, 1e-12, 0.0);
    assert_close(k->stack.heat_loss_ua_w_k, 14.0, 1e-12, 0.0);
    assert_true(isnan(k->stack.heat_loss_ntu));
    assert_close(k->opening[0].area_m2, 4.9087385e-4, 1e-8, 0.0);
    done(r);
}

static void blown_air_may_be_a_flow_or_a_bore(void **state)
{
    (void)state;
    static const dw_setting flow[] = {{"burners.left.kind", "blown"},
                                      {"burners.left.air_flow", "250 cfh"}};
    reading *r = read_with(least, flow, 2);
    assert_read(r);
    assert_close(r->file.kiln.burner[0].air_flow_m3_s, 1.9664477e-3, 1e-7, 0.0);
    assert_true(isnan(r->file.kiln.burner[0].air_restriction_area_m2));
    done(r);
    static const dw_setting bore[] = {{"burners.left.kind", "blown"},
                                      {"burners.left.air_restriction.diameter", "21 mm"}};
    r = read_with(least, bore, 2);
    assert_read(r);
    assert_close(r->file.kiln.burner[0].air_restriction_area_m2, 3.4636059e-4, 1e-7, 0.0);
    done(r);
}

static void overrides_apply_in_order_with_or_without_kiln(void **state)
{
    (void)state;
    static const dw_setting settings[] = {
        {"kiln.site.elevation", "900 m"},
        {"site.elevation", "1100 m"},
        {"damper", "35 %"},
        {"gas_pressure", "2.3 kPa"},
        {"operating.air_pressure", "70 Pa"},
        {"temperature", "1013 degC"},
        {"flues.0.height", "0.21 m"},
        {"burners.*.count", "3"},
        {"fuel", "propane"},
    };
    reading *r = read_with(least, settings, sizeof settings / sizeof settings[0]);
    assert_read(r);
    const dw_kiln *k = &r->file.kiln;
    assert_close(k->site.elevation_m, 1100.0, 1e-12, 0.0);
    assert_close(k->flue[0].damper.open_frac, 0.35, 1e-12, 0.0);
    assert_close(k->operating.gas_pressure_pa, 2300.0, 1e-12, 0.0);
    assert_close(k->operating.air_pressure_pa, 70.0, 1e-12, 0.0);
    assert_close(k->operating.chamber_temperature_k, 1286.15, 1e-12, 0.0);
    assert_close(k->flue[0].height_m, 0.21, 1e-12, 0.0);
    assert_int_equal(k->burner[0].count, 3);
    assert_string_equal(k->fuel.name, "propane");
    done(r);
}

static void an_override_takes_the_place_of_its_rival(void **state)
{
    (void)state;
    static const dw_setting settings[] = {{"burners.left pair.jet.drill", "60"},
                                          {"flues.back flue.diameter", "16 cm"},
                                          {"stack.heat_loss_ua", "9 W/K"}};
    reading *r = read_with(full, settings, 3);
    assert_read(r);
    assert_close(r->file.kiln.burner[0].jet_diameter_m, 1.016e-3, 1e-12, 0.0); /* 0.0400 in */
    assert_close(r->file.kiln.flue[0].area_m2, 0.020106193, 1e-7, 0.0);
    assert_close(r->file.kiln.stack.heat_loss_ua_w_k, 9.0, 1e-12, 0.0);
    assert_true(isnan(r->file.kiln.stack.heat_loss_ntu));
    done(r);
}

/* A wall takes the place of the other heat losses, and they of it; one that is not known leaves them. */
static void a_wall_is_a_heat_loss(void **state)
{
    (void)state;
    static const dw_setting wall[] = {{"stack.wall", "double brick"}},
                            ua[] = {{"stack.wall", "bare steel"}, {"stack.heat_loss_ua", "9 W/K"}},
                            unknown[] = {{"stack.wall", "unknown"}};
    const unsigned long long bit = 1ULL << dw_keys_row(dw_keys_of(DW_OBJECT_STACK), "wall");
    reading *r = read_with(full, wall, 1);
    assert_read(r);
    assert_true(isnan(r->file.kiln.stack.heat_loss_ntu) && isnan(r->file.kiln.stack.heat_loss_ua_w_k));
    assert_int_equal(r->file.kiln.stack.wall, DW_WALL_DOUBLE_BRICK);
    assert_int_equal(r->file.kiln.stack.wall_point_count, 1);
    assert_true((r->file.given.stack & bit) != 0);
    done(r);
    r = read_with(full, ua, 2);
    assert_false(r->status == DW_OK);
    done(r);
    r = read_with(full, unknown, 1);
    assert_read(r);
    assert_close(r->file.kiln.stack.heat_loss_ntu, 0.31, 1e-12, 0.0);
    assert_true((r->file.given.stack & bit) != 0);
    done(r);
    /* Nothing of the kind given: the default counts, and is listed. */
    char bare[sizeof full];
    const char *at = strstr(full, ", heat_loss_ntu: 0.31");
    assert_non_null(at);
    (void)snprintf(bare, sizeof bare, "%.*s%s", (int)(at - full), full, at + strlen(", heat_loss_ntu: 0.31"));
    r = read_with(bare, unknown, 1);
    assert_read(r);
    assert_close(r->file.kiln.stack.heat_loss_ntu, 0.35, 1e-12, 0.0);
    assert_false((r->file.given.stack & bit) != 0);
    done(r);
}

static void stack_can_be_taken_away(void **state)
{
    (void)state;
    static const dw_setting settings[] = {{"stack", "none"}};
    reading *r = read_with(full, settings, 1);
    assert_read(r);
    assert_false(r->file.kiln.stack.present);
    assert_int_equal(r->file.given.stack, 0);
    done(r);
}

static void names_with_dots_work_in_paths(void **state)
{
    (void)state;
    static const dw_setting settings[] = {{"flues.back.name", "no. 2"},
                                          {"flues.\"no. 2\".damper.open", "44 %"}};
    reading *r = read_with(least, settings, 2);
    assert_read(r);
    assert_string_equal(r->file.kiln.flue[0].name, "no. 2");
    assert_close(r->file.kiln.flue[0].damper.open_frac, 0.44, 1e-12, 0.0);
    done(r);
}

static void rounded_shares_are_scaled_and_said(void **state)
{
    (void)state;
    static const dw_setting settings[] = {{"fuel", "{CH4: 66.7 %, C2H6: 33.34 %}"}};
    reading *r = read_with(least, settings, 1);
    assert_read(r);
    assert_true(has_code(r, "shares-scaled"));
    const double *x = r->file.kiln.fuel.x;
    const double methane = x[dw_species_find(&data.species, "CH4")];
    const double ethane = x[dw_species_find(&data.species, "C2H6")];
    assert_close(methane, 0.667 / 1.0004, 1e-12, 0.0);
    assert_close(methane + ethane, 1.0, 1e-15, 0.0);
    done(r);
}

static void switches_take_three_spellings(void **state)
{
    (void)state;
    static const char *const on[] = {"yes", "true", "on"}, *const off[] = {"no", "false", "off"};
    for (size_t i = 0; i < 3; i++) {
        const dw_setting yes = {"model.graphite", on[i]}, no = {"model.graphite", off[i]};
        reading *r = read_with(least, &yes, 1);
        assert_read(r);
        assert_true(r->file.kiln.settings.graphite);
        done(r);
        r = read_with(full, &no, 1);
        assert_read(r);
        assert_false(r->file.kiln.settings.graphite);
        done(r);
    }
}

static void what_is_odd_is_only_a_warning(void **state)
{
    (void)state;
    static const dw_setting settings[] = {{"burners.left.port_temperature_ratio", "4.5"},
                                          {"model.unmixedness", "0.01"},
                                          {"flues.back.damper.rows", "[[10 %, 9], [90 %, 1]]"}};
    reading *r = read_with(least, settings, 3);
    assert_read(r);
    assert_int_equal(dw_diag_count_grade(r->diag, DW_WARNING), 3);
    assert_true(has_code(r, "unusual-value") && has_code(r, "no-openings"));
    assert_string_equal(dw_diag_get(r->diag, 0)->file, "--set");
    done(r);
}

static void limits_themselves_are_allowed(void **state)
{
    (void)state;
    static const dw_setting settings[] = {{"site.elevation", "5500 m"},
                                          {"burners.left.shutter", "0 %"},
                                          {"burners.left.jet.diameter", "20 mm"},
                                          {"burners.left.count", "100"},
                                          {"operating.gas_pressure", "400 kPa"}};
    reading *r = read_with(least, settings, sizeof settings / sizeof settings[0]);
    assert_read(r);
    done(r);
}

static void nonsense_points_at_the_line(void **state)
{
    (void)state;
    char text[sizeof least];
    memcpy(text, least, sizeof least);
    memcpy(strstr(text, "0.12 m"), "1.12 m", 6);
    reading *r = read_with(text, NULL, 0);
    assert_int_equal(r->status, DW_ERR_INPUT);
    assert_int_equal(dw_diag_count(r->diag), 1);
    const dw_diag *diag = dw_diag_get(r->diag, 0);
    assert_int_equal(diag->line, 6);
    assert_int_equal(diag->column,
                     (int)(strstr(text, "1.12 m") - strstr(text, "    - {name: left")) + 1);
    done(r);
}

static void names_may_fill_their_room(void **state)
{
    (void)state;
    char name[DW_NAME_SIZE + 1];
    memset(name, 'n', sizeof name);
    name[DW_NAME_SIZE - 1] = '\0';
    const dw_setting setting = {"flues.back.name", name};
    reading *r = read_with(least, &setting, 1);
    assert_read(r);
    assert_string_equal(r->file.kiln.flue[0].name, name);
    done(r);
    name[DW_NAME_SIZE - 1] = 'n';
    name[DW_NAME_SIZE] = '\0';
    r = read_with(least, &setting, 1);
    assert_int_equal(r->status, DW_ERR_INPUT);
    assert_true(has_code(r, "bad-name"));
    done(r);
}

static void unknown_kind_is_one_error(void **state)
{
    (void)state;
    /* whether it needs a height or from and to cannot be said */
    const dw_setting setting = {"openings", "[{name: gap, kind: taal, area: 3 cm2}]"};
    reading *r = read_with(least, &setting, 1);
    assert_int_equal(r->status, DW_ERR_INPUT);
    assert_int_equal(dw_diag_count(r->diag), 1);
    assert_true(has_code(r, "unknown-word"));
    done(r);
}

static void output_is_left_alone_on_failure(void **state)
{
    (void)state;
    static dw_kiln_file before, file;
    memset(&file, 0x5A, sizeof file);
    before = file;
    static const char *const bad[] = {"", "damperwise: [", "damperwise: 1\nkiln: {}\n", "kiln: 3"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(dw_read_kiln(&data, "x", bad[i], strlen(bad[i]), NULL, 0, NULL, &file),
                         DW_ERR_INPUT);
        assert_memory_equal(&file, &before, sizeof file);
    }
}

static void missing_arguments_are_refused(void **state)
{
    (void)state;
    static dw_kiln_file file;
    const size_t length = sizeof least - 1;
    const dw_setting no_value = {"damper", NULL};
    assert_int_equal(dw_read_kiln(NULL, "x", least, length, NULL, 0, NULL, &file), DW_ERR_ARG);
    assert_int_equal(dw_read_kiln(&data, NULL, least, length, NULL, 0, NULL, &file), DW_ERR_ARG);
    assert_int_equal(dw_read_kiln(&data, "x", NULL, length, NULL, 0, NULL, &file), DW_ERR_ARG);
    assert_int_equal(dw_read_kiln(&data, "x", least, length, NULL, 1, NULL, &file), DW_ERR_ARG);
    assert_int_equal(dw_read_kiln(&data, "x", least, length, &no_value, 1, NULL, &file),
                     DW_ERR_ARG);
    assert_int_equal(dw_read_kiln(&data, "x", least, length, NULL, 0, NULL, NULL), DW_ERR_ARG);
    assert_int_equal(dw_read_kiln(&data, "x", least, length, NULL, 0, NULL, &file), DW_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(least_file_gets_the_defaults),
        cmocka_unit_test(every_key_goes_to_its_place),
        cmocka_unit_test(other_forms_become_the_same_quantities),
        cmocka_unit_test(blown_air_may_be_a_flow_or_a_bore),
        cmocka_unit_test(overrides_apply_in_order_with_or_without_kiln),
        cmocka_unit_test(an_override_takes_the_place_of_its_rival),
        cmocka_unit_test(a_wall_is_a_heat_loss),
        cmocka_unit_test(stack_can_be_taken_away),
        cmocka_unit_test(names_with_dots_work_in_paths),
        cmocka_unit_test(rounded_shares_are_scaled_and_said),
        cmocka_unit_test(switches_take_three_spellings),
        cmocka_unit_test(what_is_odd_is_only_a_warning),
        cmocka_unit_test(limits_themselves_are_allowed),
        cmocka_unit_test(nonsense_points_at_the_line),
        cmocka_unit_test(names_may_fill_their_room),
        cmocka_unit_test(unknown_kind_is_one_error),
        cmocka_unit_test(output_is_left_alone_on_failure),
        cmocka_unit_test(missing_arguments_are_refused),
    };
    return cmocka_run_group_tests_name("read_kiln", tests, load_data, NULL);
}
