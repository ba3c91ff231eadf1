/* Defaults by kind: which rows of config/spreads.yaml a kiln takes, and what a thin jet does. */

#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "kiln_effect.h"
#include "kiln_kinds.h"
#include "kiln_schema.h"
#include "kit.h"

static const dw_spreads *spreads(void)
{
    return &kit_data()->spreads;
}

static double middle(const char *input, const char *kind)
{
    const dw_spread_row *row = dw_spread_find(spreads(), input, kind);
    assert_non_null(row);
    return row->middle;
}

static unsigned long long bit(const char *key)
{
    return 1ULL << dw_keys_row(dw_keys_of(DW_OBJECT_BURNER), key);
}

static dw_burner with_kind(dw_jet_kind kind, unsigned long long given)
{
    dw_burner b;
    dw_burner_init(&b);
    b.jet_kind = kind;
    dw_burner_take_kinds(&b, given, spreads());
    return b;
}

/* An input of the table is a key, or named here with what is worked out from it. */
static void every_input_is_a_key(void **state)
{
    (void)state;
    static const char *const others[] = {"chamber.leak_per_surface", "stack.wall_conductance"};
    for (size_t i = 0; i < spreads()->count; i++) {
        const char *input = spreads()->row[i].input;
        bool known = strcmp(input, others[0]) == 0 || strcmp(input, others[1]) == 0;
        if (strncmp(input, "burners.*.", 10) == 0)
            known = dw_keys_row(dw_keys_of(DW_OBJECT_BURNER), input + 10) != DW_NO_ROW;
        if (strncmp(input, "openings.*.", 11) == 0)
            known = dw_keys_row(dw_keys_of(DW_OBJECT_OPENING), input + 11) != DW_NO_ROW;
        if (strncmp(input, "flues.*.", 8) == 0 && strncmp(input + 8, "damper.", 7) != 0)
            known = dw_keys_row(dw_keys_of(DW_OBJECT_FLUE), input + 8) != DW_NO_ROW;
        if (strncmp(input, "flues.*.damper.", 15) == 0)
            known = dw_keys_row(dw_keys_of(DW_OBJECT_DAMPER), input + 15) != DW_NO_ROW;
        if (!known) fail_msg("%s", input);
    }
}

static void a_kind_gives_both_coefficients(void **state)
{
    (void)state;
    const dw_keys *keys = dw_keys_of(DW_OBJECT_BURNER);
    const char *const *words = keys->key[dw_keys_row(keys, "jet.kind")].words;
    int count = 0;
    while (words[count] != NULL)
        count++;
    assert_int_equal(count, DW_JET_ROUNDED + 1);
    for (int kind = DW_JET_THIN; kind < count; kind++) {
        const dw_burner b = with_kind((dw_jet_kind)kind, 0);
        if (kind == DW_JET_THIN) {
            assert_true(isnan(b.jet_discharge_coeff));
        } else {
            assert_close(b.jet_discharge_coeff,
                         middle("burners.*.jet.discharge_coefficient", words[kind]), 0.0, 0.0);
        }
        assert_close(b.jet_velocity_coeff, middle("burners.*.jet.velocity_coefficient", words[kind]),
                     0.0, 0.0);
        assert_false(b.jet_coeffs_given);
    }
    assert_close(with_kind(DW_JET_PLUG, 0).jet_discharge_coeff, 0.80, 0.0, 0.0);
    assert_close(with_kind(DW_JET_PLUG, 0).jet_velocity_coeff, 0.81, 0.0, 0.0);
}

/* The word is the row: no two lists of kinds. */
static void a_kind_of_closing_gives_the_leak(void **state)
{
    (void)state;
    const dw_keys *keys = dw_keys_of(DW_OBJECT_CHAMBER);
    const char *const *words = keys->key[dw_keys_row(keys, "leak_kind")].words;
    static const double cm2_per_m2[] = {10.0, 2.0, 6.0, 3.0, 10.0};
    dw_kiln kiln;
    int kind = 0;
    for (; words[kind] != NULL; kind++) {
        kit_plain_kiln(&kiln);
        kiln.chamber.leak_area_m2 = NAN;
        kiln.chamber.leak_kind = (dw_leak_kind)kind;
        dw_chamber_take_kinds(&kiln.chamber, spreads());
        if (kind > 0) {
            assert_close(kiln.chamber.leak_per_surface, middle("chamber.leak_per_surface", words[kind]), 0.0, 0.0);
        }
        /* 2 (0.8 x 0.7 + 0.8 + 0.7) = 4.12 m2 */
        assert_close(dw_kiln_leak_area_m2(&kiln, NULL), cm2_per_m2[kind] * 1e-4 * 4.12, 1e-12, 0.0);
        dw_kiln_resolve(&kiln);
        assert_close(kiln.chamber.leak_area_m2, cm2_per_m2[kind] * 1e-4 * 4.12, 1e-12, 0.0);
    }
    assert_int_equal(kind, DW_LEAK_LID + 1);
    dw_kiln_init(&kiln);
    assert_close(kiln.chamber.leak_per_surface, dw_kind_default(spreads(), "chamber.leak_per_surface", "unknown"),
                 0.0, 0.0);
    /* The leak area itself wins, and then the kind says nothing. */
    kit_plain_kiln(&kiln);
    kiln.chamber.leak_area_m2 = 7e-4;
    kiln.chamber.leak_kind = DW_LEAK_LID;
    dw_chamber_take_kinds(&kiln.chamber, spreads());
    dw_kiln_resolve(&kiln);
    assert_close(kiln.chamber.leak_area_m2, 7e-4, 0.0, 0.0);
    char reason[DW_IDLE_SIZE];
    const dw_key *key = &keys->key[dw_keys_row(keys, "leak_kind")];
    assert_true(dw_key_idle(&kiln, DW_OBJECT_CHAMBER, 0, key, reason, NULL));
    assert_string_equal(reason, "leak_area is given");
    kiln.chamber.leak_area_m2 = NAN;
    assert_false(dw_key_idle(&kiln, DW_OBJECT_CHAMBER, 0, key, reason, NULL));
}

static double discharge(double depth_m, unsigned long long given)
{
    dw_kiln kiln;
    kit_plain_kiln(&kiln); /* 40 cm2: as wide as a round hole of 71.365 mm */
    kiln.opening[0].depth_m = depth_m;
    dw_opening_take_kinds(&kiln.opening[0], given, spreads());
    dw_kiln_resolve(&kiln);
    return kiln.opening[0].discharge_coeff;
}

static void a_hole_of_known_depth_has_the_coefficient_of_its_depth(void **state)
{
    (void)state;
    static const char input[] = "openings.*.discharge_coefficient";
    const double width_m = 2.0 * sqrt(40e-4 / 3.14159265358979323846);
    assert_close(width_m, 0.071365, 1e-5, 0.0);
    assert_close(discharge(NAN, 0), dw_kind_default(spreads(), input, DW_KIND_UNKNOWN), 0.0, 0.0);
    assert_close(discharge(NAN, 0), 0.62, 0.0, 0.0);
    assert_close(discharge(1e-3, 0), middle(input, "thin"), 0.0, 0.0);
    assert_close(discharge(0.5 * width_m * (1.0 - 1e-9), 0), 0.62, 1e-14, 0.0);
    assert_close(discharge(0.75 * width_m, 0), 0.70, 1e-12, 0.0);
    assert_close(discharge(0.625 * width_m, 0), 0.66, 1e-12, 0.0);
    assert_close(discharge(width_m * (1.0 + 1e-9), 0), middle(input, "deep"), 1e-14, 0.0);
    assert_close(discharge(3.0 * width_m, 0), 0.78, 1e-14, 0.0);
    /* What is given wins. */
    const dw_keys *keys = dw_keys_of(DW_OBJECT_OPENING);
    assert_close(discharge(3.0 * width_m, 1ULL << dw_keys_row(keys, "discharge_coefficient")), 0.62, 0.0, 0.0);
    /* Only a hole has a depth that gives it a coefficient. */
    dw_opening o;
    for (int kind = DW_OPENING_HOLE; kind <= DW_OPENING_JOINT; kind++) {
        dw_opening_init(&o);
        o.kind = (dw_opening_kind)kind;
        o.area_m2 = 40e-4;
        o.depth_m = 0.2;
        assert_close(dw_opening_depth_share(&o), kind == DW_OPENING_HOLE ? 1.0 : 0.0, 0.0, 0.0);
        dw_opening_take_kinds(&o, 0, spreads());
        assert_int_equal(isnan(o.discharge_coeff) != 0, kind == DW_OPENING_HOLE);
    }
    /* A fresh opening has what a read one gets. */
    dw_opening fresh;
    dw_opening_init(&fresh);
    dw_opening_init(&o);
    dw_opening_take_kinds(&o, ~0ULL, spreads());
    assert_memory_equal(&fresh, &o, sizeof o);
    /* And the key says when it has no effect. */
    dw_kiln kiln;
    kit_plain_kiln(&kiln);
    kiln.opening[0].depth_m = 0.2;
    char reason[DW_IDLE_SIZE];
    const dw_key *key = &keys->key[dw_keys_row(keys, "depth")];
    assert_true(dw_key_idle(&kiln, DW_OBJECT_OPENING, 0, key, reason, NULL));
    assert_string_equal(reason, "discharge_coefficient is given");
    kiln.opening[0].depth_m = NAN;
    assert_true(dw_key_idle(&kiln, DW_OBJECT_OPENING, 0, key, reason, NULL));
    assert_string_equal(reason, "no depth is given in the description");
    kiln.opening[0].depth_m = 0.2;
    kiln.opening[0].discharge_coeff = NAN;
    assert_false(dw_key_idle(&kiln, DW_OBJECT_OPENING, 0, key, reason, NULL));
    kiln.opening[0].open_frac = 0.0;
    assert_true(dw_key_idle(&kiln, DW_OBJECT_OPENING, 0, key, reason, NULL));
    kiln.opening[0].open_frac = 1.0;
    kiln.opening[0].kind = DW_OPENING_JOINT;
    kiln.opening[0].discharge_coeff = 0.62;
    assert_false(dw_key_idle(&kiln, DW_OBJECT_OPENING, 0, key, reason, NULL));
}

static void a_kind_of_floor_gives_its_loss(void **state)
{
    (void)state;
    const dw_keys *keys = dw_keys_of(DW_OBJECT_FLUE);
    const char *const *words = keys->key[dw_keys_row(keys, "floor_kind")].words;
    const dw_key *key = &keys->key[dw_keys_row(keys, "floor_kind")];
    static const double losses[] = {NAN, 0.0, 1.2, 2.5};
    dw_kiln kiln;
    char reason[DW_IDLE_SIZE];
    kit_plain_kiln(&kiln);
    dw_flue *f = &kiln.flue[0];
    int kind = 0;
    for (; words[kind] != NULL; kind++) {
        f->floor_kind = (dw_floor_kind)kind;
        f->floor_loss = 7.0;
        dw_flue_take_kinds(f, 0, spreads());
        assert_int_equal(isnan(f->floor_loss) != 0, kind == 0);
        if (kind > 0) assert_close(f->floor_loss, losses[kind], 0.0, 0.0);
        if (kind > 0) assert_close(f->floor_loss, middle("flues.*.floor_loss", words[kind]), 0.0, 0.0);
        assert_false(dw_key_idle(&kiln, DW_OBJECT_FLUE, 0, key, reason, NULL));
    }
    assert_int_equal(kind, DW_FLOOR_UNDER + 1);
    f->floor_loss = 3.0;
    dw_flue_take_kinds(f, 1ULL << dw_keys_row(keys, "floor_loss"), spreads());
    assert_close(f->floor_loss, 3.0, 0.0, 0.0);
    assert_true(dw_key_idle(&kiln, DW_OBJECT_FLUE, 0, key, reason, NULL));
    assert_string_equal(reason, "floor_loss is given");
    dw_flue fresh, taken;
    dw_flue_init(&fresh);
    dw_flue_init(&taken);
    dw_flue_take_kinds(&taken, 0, spreads());
    assert_memory_equal(&fresh, &taken, sizeof fresh);
}

static void what_is_given_wins(void **state)
{
    (void)state;
    const unsigned long long cd = bit("jet.discharge_coefficient"),
                             cv = bit("jet.velocity_coefficient");
    dw_burner b = with_kind(DW_JET_PLUG, cd);
    assert_close(b.jet_discharge_coeff, 0.85, 0.0, 0.0); /* as it was */
    assert_close(b.jet_velocity_coeff, 0.81, 0.0, 0.0);
    assert_false(b.jet_coeffs_given);
    b = with_kind(DW_JET_THIN, cd | cv);
    assert_close(b.jet_discharge_coeff, 0.85, 0.0, 0.0);
    assert_close(b.jet_velocity_coeff, 0.97, 0.0, 0.0);
    assert_true(b.jet_coeffs_given);
    /* A blown burner has no use for the speed of its jet. */
    dw_burner_init(&b);
    b.kind = DW_BURNER_BLOWN;
    b.jet_kind = DW_JET_TAPER;
    dw_burner_take_kinds(&b, cd, spreads());
    assert_true(b.jet_coeffs_given);
    dw_burner_take_kinds(&b, cv, spreads());
    assert_false(b.jet_coeffs_given);
}

/* A kiln that is made by hand has the defaults of one that is read. */
static void a_fresh_burner_has_the_defaults_of_the_kind_unknown(void **state)
{
    (void)state;
    dw_burner fresh, taken;
    dw_burner_init(&fresh);
    dw_burner_init(&taken);
    dw_burner_take_kinds(&taken, 0, spreads());
    assert_memory_equal(&fresh, &taken, sizeof fresh);
    for (size_t i = 0; i < spreads()->count; i++) {
        const char *input = spreads()->row[i].input;
        if (strncmp(input, "burners.*.", 10) != 0) continue;
        const dw_key *key = &dw_keys_of(DW_OBJECT_BURNER)
                                 ->key[dw_keys_row(dw_keys_of(DW_OBJECT_BURNER), input + 10)];
        double value;
        memcpy(&value, (const char *)&fresh + key->offset, sizeof value);
        assert_close(dw_kind_default(spreads(), input, DW_KIND_UNKNOWN), value, 0.0, 0.0);
    }
    assert_true(isnan(dw_kind_default(spreads(), "burners.*.port_loss", "none such")));
}

static void a_thin_jet_goes_by_its_pressure(void **state)
{
    (void)state;
    static dw_kiln_file file;
    kit_example("juniper-flat", &file);
    dw_kiln kiln = file.kiln;
    dw_burner *b = &kiln.burner[0];
    b->jet_kind = DW_JET_THIN;
    b->jet_discharge_coeff = NAN;
    b->gas_pressure_pa = 20e3;
    kiln.site.pressure_pa_abs = 80e3;
    dw_kiln_resolve(&kiln);
    assert_close(b->jet_discharge_coeff, 0.6358, 0.0, 5e-5); /* r = 0.8 */
    assert_close(b->jet_thin_pa, 20e3, 0.0, 0.0);
    assert_close(dw_burner_jet_discharge(b, 20e3, 80e3), b->jet_discharge_coeff, 0.0, 0.0);
    assert_close(dw_burner_jet_discharge(b, 80e3, 80e3), 0.7491, 0.0, 1e-4); /* r = 0.5 */
    /* Once resolved it is a number that a doubt may move, and it goes on following the pressure. */
    b->jet_discharge_coeff *= 1.08;
    dw_kiln_resolve(&kiln);
    assert_close(dw_burner_jet_discharge(b, 80e3, 80e3), 1.08 * 0.7491, 0.0, 1e-4);
    b->jet_discharge_coeff = 0.95;
    assert_close(dw_burner_jet_discharge(b, 400e3, 80e3), 1.0, 0.0, 0.0);
    /* One that was given holds at any pressure. */
    kiln = file.kiln;
    b->jet_kind = DW_JET_THIN;
    b->jet_discharge_coeff = 0.7;
    dw_kiln_resolve(&kiln);
    assert_close(dw_burner_jet_discharge(b, 80e3, 80e3), 0.7, 0.0, 0.0);
}

/* The same kiln read from a file: by its pressure as it is varied, and by the slope. */
static void the_slope_by_pressure_has_the_thin_jet_in_it(void **state)
{
    (void)state;
    static dw_kiln_file file;
    static dw_result at, low, high;
    kit_example("juniper-flat", &file);
    file.kiln.burner[0].jet_discharge_coeff = NAN;
    assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &at), DW_OK);
    const double p = file.kiln.operating.gas_pressure_pa, h = 1e-4 * p;
    file.kiln.operating.gas_pressure_pa = p - h;
    assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &low), DW_OK);
    file.kiln.operating.gas_pressure_pa = p + h;
    assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &high), DW_OK);
    assert_close(at.dphi_dgas_pressure_per_pa,
                 (high.equivalence_ratio - low.equivalence_ratio) / (2.0 * h), 1e-4, 0.0);
}

static void only_a_shelf_takes_a_scale(void **state)
{
    (void)state;
    dw_flue flue;
    const unsigned long long scale = 1ULL << dw_keys_row(dw_keys_of(DW_OBJECT_DAMPER), "scale");
    for (int kind = DW_DAMPER_SLIDE; kind <= DW_DAMPER_SHELF; kind++) {
        dw_flue_init(&flue);
        flue.damper.kind = (dw_damper_kind)kind;
        dw_damper_take_kinds(&flue.damper, scale, spreads());
        assert_close(flue.damper.scale, 1.0, 0.0, 0.0);
        dw_damper_take_kinds(&flue.damper, 0, spreads());
        assert_close(flue.damper.scale, kind == DW_DAMPER_SHELF ? middle("flues.*.damper.scale", "shelf") : 1.0, 0.0,
                     0.0);
    }
    assert_close(middle("flues.*.damper.scale", "slide"), 0.95, 0.0, 0.0);
    assert_close(middle("flues.*.damper.scale", "narrow slot"), 0.70, 0.0, 0.0);
}

static void a_wall_takes_its_rows(void **state)
{
    (void)state;
    static const struct {
        dw_stack_wall wall;
        double low, high; /* W/(m2 K), as config/spreads.yaml has them */
    } cases[] = {{DW_WALL_SINGLE_BRICK, 5.0, 5.0},     {DW_WALL_DOUBLE_BRICK, 3.1, 3.1},
                 {DW_WALL_INSULATING_BRICK, 1.65, 1.65}, {DW_WALL_STEEL_WITH_FIBRE, 4.0, 4.0},
                 {DW_WALL_BARE_STEEL, 7.7, 19.0}};
    dw_kiln kiln;
    dw_kiln_init(&kiln);
    dw_stack_take_kinds(&kiln.stack, spreads());
    assert_int_equal(kiln.stack.wall_point_count, 0);
    assert_false(dw_stack_loses_by_ua(&kiln.stack));
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        dw_stack *s = &kiln.stack;
        s->wall = cases[i].wall;
        dw_stack_take_kinds(s, spreads());
        assert_true(dw_stack_loses_by_ua(s));
        assert_int_equal(s->wall_point_count, cases[i].low < cases[i].high ? 3 : 1);
        assert_close(s->wall_point[0].conductance_w_m2_k, cases[i].low, 0.0, 0.0);
        assert_close(s->wall_point[s->wall_point_count - 1].conductance_w_m2_k, cases[i].high, 0.0, 0.0);
    }
    /* bare steel, last */
    assert_close(kiln.stack.wall_point[1].conductance_w_m2_k, 12.0, 0.0, 0.0);
    assert_close(kiln.stack.wall_point[0].temperature_k, 673.15, 0.0, 0.0);
    assert_close(kiln.stack.wall_point[1].temperature_k, 973.15, 0.0, 0.0);
    assert_close(kiln.stack.wall_point[2].temperature_k, 1273.15, 0.0, 0.0);
}

static void a_kind_without_effect_is_said_to_have_none(void **state)
{
    (void)state;
    static dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const dw_keys *keys = dw_keys_of(DW_OBJECT_BURNER);
    const dw_key *key = &keys->key[dw_keys_row(keys, "jet.kind")];
    char reason[DW_IDLE_SIZE];
    assert_false(dw_key_idle(&file.kiln, DW_OBJECT_BURNER, 0, key, reason, NULL));
    file.kiln.burner[0].jet_coeffs_given = true;
    assert_true(dw_key_idle(&file.kiln, DW_OBJECT_BURNER, 0, key, reason, NULL));
    assert_string_equal(reason, "the coefficients of the jet are given");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_input_is_a_key),
        cmocka_unit_test(a_kind_gives_both_coefficients),
        cmocka_unit_test(a_kind_of_closing_gives_the_leak),
        cmocka_unit_test(a_kind_of_floor_gives_its_loss),
        cmocka_unit_test(a_hole_of_known_depth_has_the_coefficient_of_its_depth),
        cmocka_unit_test(what_is_given_wins),
        cmocka_unit_test(a_fresh_burner_has_the_defaults_of_the_kind_unknown),
        cmocka_unit_test(a_thin_jet_goes_by_its_pressure),
        cmocka_unit_test(the_slope_by_pressure_has_the_thin_jet_in_it),
        cmocka_unit_test(only_a_shelf_takes_a_scale),
        cmocka_unit_test(a_wall_takes_its_rows),
        cmocka_unit_test(a_kind_without_effect_is_said_to_have_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
