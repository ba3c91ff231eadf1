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
