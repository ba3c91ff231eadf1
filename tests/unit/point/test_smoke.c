/** @file test_smoke.c  Unit tests of point/smoke: how much primary air keeps a rich flame from smoking. */

#include "check.h"

#include <string.h>

#include "kit.h"
#include "smoke.h"
#include "work_check.h"

static dw_fuel fuel;

static void put(const char *name, double share)
{
    fuel.x[dw_species_find(&kit_data()->species, name)] = share;
}

static double limit(void)
{
    return dw_smoke_limit(kit_data(), &fuel, "", NULL);
}

static void of_gases(void **state)
{
    (void)state;
    static const struct {
        const char *gas;
        double limit;
    } of[] = {{"CH4", 0.30}, {"C3H8", 0.60}, {"n-C4H10", 0.60}, {"i-C4H10", 0.60}, {"C2H6", 0.50}, {"C3H6", 0.50},
              {"H2", 0.50}, {"CO", 0.50}};
    for (size_t i = 0; i < sizeof of / sizeof of[0]; i++) {
        memset(&fuel, 0, sizeof fuel);
        put(of[i].gas, 1.0);
        assert_close(limit(), of[i].limit, 1e-14, 0.0);
    }
}

/* By carbon: of 93 CH4, 4 C2H6 and 1 C3H8 it is 93, 8 and 3 atoms. What holds no carbon with hydrogen is not asked. */
static void of_mixtures(void **state)
{
    (void)state;
    memset(&fuel, 0, sizeof fuel);
    put("CH4", 0.93);
    put("C2H6", 0.04);
    put("C3H8", 0.01);
    put("N2", 0.01);
    put("CO2", 0.01);
    const double natural = (0.93 * 0.30 + 0.08 * 0.50 + 0.03 * 0.60) / 1.04;
    assert_close(limit(), natural, 1e-14, 0.0);
    assert_true(natural > 0.30 && natural < 0.35);
    memset(&fuel, 0, sizeof fuel);
    put("CH4", 0.2);
    put("H2", 0.5);
    put("CO", 0.3);
    assert_close(limit(), 0.30, 1e-14, 0.0);
    put("CH4", 0.1);
    put("n-C4H10", 0.1);
    assert_close(limit(), (1.0 * 0.30 + 4.0 * 0.60) / 5.0, 1e-14, 0.0);
}

static void the_rule(void **state)
{
    (void)state;
    const dw_sooting *s = &kit_data()->sooting;
    const double hot = s->chamber_temperature_above_k + 1.0, rich = s->phi_at_least;
    assert_true(dw_smokes(s, 0.6, rich, 0.59, hot));
    assert_false(dw_smokes(s, 0.6, rich, 0.6, hot));
    assert_false(dw_smokes(s, 0.6, rich - 1e-9, 0.1, hot));
    assert_true(dw_smokes(s, 0.6, s->phi_always, 0.9, hot));
    assert_false(dw_smokes(s, 0.6, s->phi_always, 0.1, s->chamber_temperature_above_k));
}

static void the_working(void **state)
{
    (void)state;
    dw_working *w = dw_working_create();
    memset(&fuel, 0, sizeof fuel);
    put("CH4", 0.4);
    put("C3H8", 0.1);
    put("H2", 0.5);
    const double value = dw_smoke_limit(kit_data(), &fuel, "limit", w);
    assert_close(value, (0.4 * 0.3 + 0.3 * 0.6) / 0.7, 1e-14, 0.0);
    assert_int_equal(work_check_steps(w, "smoke", 1e-14), 0);
    assert_close(dw_working_quantity(w, work_step_of(w, "limit")->result)->value[0], value, 0.0, 0.0);
    memset(&fuel, 0, sizeof fuel);
    put("H2", 1.0);
    assert_close(dw_smoke_limit(kit_data(), &fuel, "none", w), 0.5, 0.0, 0.0);
    assert_int_equal(work_check_steps(w, "smoke", 1e-14), 0);
    assert_close(dw_working_quantity(w, work_step_of(w, "none")->result)->value[0], 0.5, 0.0, 0.0);
    dw_working_destroy(w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_gases),
        cmocka_unit_test(of_mixtures),
        cmocka_unit_test(the_rule),
        cmocka_unit_test(the_working),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
