/** @file test_exposure.c  Unit tests of study/exposure. */

#include "check.h"

#include <string.h>

#include "exposure.h"
#include "kit.h"

static const dw_exposure_person anyone = {.activity = DW_ROOM_ANY_ACTIVITY,
                                          .height_m = NAN,
                                          .mass_kg = NAN,
                                          .barometric_pa_abs = NAN};

static const dw_co_data *co(void)
{
    return &kit_data()->co;
}

static dw_status look(const dw_exposure_person *person, const dw_exposure_step *step, size_t count,
                      dw_exposure *x)
{
    const dw_breath breath = {.co = co(), .person = person, .step = step, .count = count};
    return dw_exposure_look(&breath, NULL, x);
}

static int limit_of(const char *body, const char *name, double over_s)
{
    for (size_t i = 0; i < co()->limit_count; i++) {
        const dw_co_limit *l = &co()->limit[i];
        if (strcmp(l->body, body) == 0 && strcmp(l->name, name) == 0 && l->over_s == over_s) {
            return (int)i;
        }
    }
    fail_msg("no limit %s %s", body, name);
    return -1;
}

static void a_steady_level_uses_up_a_limit(void **state)
{
    (void)state;
    const dw_exposure_step step = {4.0 * 3600.0, 120.0, 120.0};
    dw_exposure x;
    assert_int_equal(look(&anyone, &step, 1, &x), DW_OK);
    /* 8 h x 20 ppm at 120 ppm: 80 min. 15 min x 100 ppm: 12.5 min. */
    const int eu = limit_of("EU", "TWA", 28800.0), stel = limit_of("EU", "STEL", 900.0);
    assert_close(x.limit[eu].crossed_s, 80.0 * 60.0, 1e-9, 0.0);
    assert_close(x.limit[stel].crossed_s, 12.5 * 60.0, 1e-9, 0.0);
    assert_close(x.limit[eu].mean_ppm, 120.0, 1e-12, 0.0);
    assert_true(x.limit[eu].exceeded);
    /* 200 ppm at any time is not reached. */
    const int ceiling = limit_of("NIOSH (US)", "REL-ceiling", 0.0);
    assert_false(x.limit[ceiling].exceeded);
    assert_true(isinf(x.limit[ceiling].crossed_s));
    assert_int_equal(x.verdict, DW_VERDICT_DANGEROUS); /* AEGL-2 over 4 h: 33 ppm */
    assert_close(x.mean_ppm, 120.0, 1e-12, 0.0);
}

static void windows_slide(void **state)
{
    (void)state;
    /* Half an hour of 90 ppm inside three hours of 4: the quarter of an hour is 90, the hour 47. */
    const dw_exposure_step steps[] = {{3700.0, 4.0, 5.0}, {5500.0, 90.0, 93.0}, {12400.0, 4.0, 4.5}};
    dw_exposure x;
    assert_int_equal(look(&anyone, steps, 3, &x), DW_OK);
    const int quarter = limit_of("EU", "STEL", 900.0), hour = limit_of("US EPA", "standard", 3600.0);
    assert_close(x.limit[quarter].mean_ppm, 90.0, 1e-12, 0.0);
    assert_close(x.limit[hour].mean_ppm, 47.0, 1e-12, 0.0);
    /* 35 ppm over the hour: 4 t + 90 u = 126000 with t + u = 3600 -> u = 1297.67 s. */
    assert_close(x.limit[hour].crossed_s, 3700.0 + (126000.0 - 14400.0) / 86.0, 1e-9, 0.0);
    assert_close(x.peak_ppm, 93.0, 0.0, 0.0);
    /* Eight hours are longer than all of it: the mean of what there is, not thinned. */
    const int day = limit_of("EU", "TWA", 28800.0);
    assert_close(x.limit[day].mean_ppm, (3700.0 * 4 + 1800.0 * 90 + 6900.0 * 4) / 12400.0, 1e-12,
                 0.0);
    assert_true(isinf(x.limit[day].crossed_s));
}

static void verdicts(void **state)
{
    (void)state;
    const struct {
        double ppm, hours;
        dw_verdict verdict;
    } cases[] = {
        {1.0, 24.0, DW_VERDICT_LOW},       {3.4, 8.0, DW_VERDICT_LOW},
        {3.5, 8.0, DW_VERDICT_RAISED},     {9.0, 8.0, DW_VERDICT_RAISED},
        {26.9, 8.0, DW_VERDICT_RAISED},    {27.0, 8.0, DW_VERDICT_DANGEROUS},
        {199.0, 0.05, DW_VERDICT_DANGEROUS}, {0.0, 1.0, DW_VERDICT_LOW},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const dw_exposure_step step = {cases[i].hours * 3600.0, cases[i].ppm, cases[i].ppm};
        dw_exposure x;
        assert_int_equal(look(&anyone, &step, 1, &x), DW_OK);
        if (x.verdict != cases[i].verdict) {
            fail_msg("%g ppm for %g h: %s", cases[i].ppm, cases[i].hours,
                     dw_verdict_text(x.verdict));
        }
    }
    assert_string_equal(dw_verdict_text(DW_VERDICT_LOW), "low");
    assert_string_equal(dw_verdict_text(DW_VERDICT_RAISED), "raised");
    assert_string_equal(dw_verdict_text(DW_VERDICT_DANGEROUS), "dangerous");
}

static void a_household_alarm_is_silent_at_working_limits(void **state)
{
    (void)state;
    const dw_exposure_step working = {8.0 * 3600.0, 49.0, 49.0};
    dw_exposure x;
    assert_int_equal(look(&anyone, &working, 1, &x), DW_OK);
    for (size_t i = 0; i < co()->alarm_count; i++) assert_true(isinf(x.alarm_must_s[i]));
    assert_true(x.limit[limit_of("EU", "TWA", 28800.0)].exceeded);

    const dw_exposure_step loud = {2.0 * 3600.0, 155.0, 155.0};
    assert_int_equal(look(&anyone, &loud, 1, &x), DW_OK);
    double must = INFINITY, may = INFINITY;
    for (size_t i = 0; i < co()->alarm_count; i++) {
        must = fmin(must, x.alarm_must_s[i]);
        may = fmin(may, x.alarm_may_s[i]);
    }
    assert_close(must, 40.0 * 60.0, 1e-12, 0.0); /* EN 50291-1, 100 ppm */
    assert_close(may, 10.0 * 60.0, 1e-12, 0.0);
    /* A break in between begins the count anew. */
    const dw_exposure_step broken[] = {{1500.0, 120.0, 120.0}, {1600.0, 80.0, 80.0},
                                       {4700.0, 120.0, 120.0}};
    assert_int_equal(look(&anyone, broken, 3, &x), DW_OK);
    for (size_t i = 0; i < co()->alarm_count; i++) {
        if (co()->alarm[i].ppm == 100.0) {
            assert_close(x.alarm_must_s[i], 1600.0 + 2400.0, 1e-12, 0.0);
        }
    }
}

static void blood_follows_the_steps(void **state)
{
    (void)state;
    const dw_exposure_step two[] = {{1800.0, 210.0, 210.0}, {5400.0, 210.0, 210.0}};
    const dw_exposure_step one = {5400.0, 210.0, 210.0};
    dw_exposure a, b;
    dw_exposure_person person = anyone;
    person.activity = DW_ROOM_LIGHT;
    assert_int_equal(look(&person, two, 2, &a), DW_OK);
    assert_int_equal(look(&person, &one, 1, &b), DW_OK);
    for (int k = 0; k < DW_ACTIVITY_COUNT; k++) assert_close(a.end_frac[k], b.end_frac[k], 1e-12, 0);
    assert_int_equal(a.activity, DW_ACTIVITY_LIGHT);
    double course[3];
    const dw_breath breath = {.co = co(), .person = &person, .step = two, .count = 2};
    assert_int_equal(dw_exposure_look(&breath, course, &b), DW_OK);
    assert_close(course[0], a.start_frac, 0.0, 0.0);
    assert_true(course[1] > course[0]);
    assert_close(course[2], a.end_frac[DW_ACTIVITY_LIGHT], 1e-15, 0.0);
    /* The time of a level is when the course passes it. */
    for (size_t k = 0; k < co()->effect_count; k++) {
        if (!(a.effect_s[k] > 0.0) || isinf(a.effect_s[k])) continue;
        const dw_exposure_step part = {a.effect_s[k], 210.0, 210.0};
        assert_int_equal(look(&person, &part, 1, &b), DW_OK);
        assert_close(b.end_frac[DW_ACTIVITY_LIGHT], co()->effect[k].level, 1e-9, 0.0);
    }
}

static void unknown_activity_is_the_worst(void **state)
{
    (void)state;
    const double ppm[] = {2.0, 9.0, 100.0};
    for (int i = 0; i < 3; i++) {
        const dw_exposure_step step = {8.0 * 3600.0, ppm[i], ppm[i]};
        dw_exposure x;
        assert_int_equal(look(&anyone, &step, 1, &x), DW_OK);
        for (int a = 0; a < DW_ACTIVITY_COUNT; a++) {
            assert_true(x.peak_frac[x.activity] >= x.peak_frac[a]);
        }
    }
}

static void people_differ(void **state)
{
    (void)state;
    const dw_exposure_step step = {3.0 * 3600.0, 61.0, 61.0};
    dw_exposure usual, x;
    assert_int_equal(look(&anyone, &step, 1, &usual), DW_OK);
    assert_false(usual.outside_promise);
    dw_exposure_person person = anyone;
    person.smoker = true;
    assert_int_equal(look(&person, &step, 1, &x), DW_OK);
    assert_close(x.start_frac, 0.10, 1e-12, 0.0);
    assert_true(x.end_frac[0] > usual.end_frac[0]);
    person = anyone;
    person.height_m = 1.47;
    person.mass_kg = 44.0;
    person.female = true;
    assert_int_equal(look(&person, &step, 1, &x), DW_OK);
    assert_true(x.outside_promise);
    assert_true(x.end_frac[0] > usual.end_frac[0]);
    person = anyone;
    person.barometric_pa_abs = 83000.0;
    assert_int_equal(look(&person, &step, 1, &x), DW_OK);
    assert_true(x.end_frac[2] > usual.end_frac[2]);
    person.height_m = 3.0;
    person.mass_kg = 70.0;
    assert_int_equal(look(&person, &step, 1, &x), DW_ERR_DOMAIN);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    dw_exposure x;
    const dw_exposure_step back[] = {{10.0, 1.0, 1.0}, {10.0, 1.0, 1.0}};
    const dw_exposure_step bad = {10.0, NAN, 1.0}, below = {10.0, -1.0, 1.0};
    assert_int_equal(look(&anyone, back, 2, &x), DW_ERR_DOMAIN);
    assert_int_equal(look(&anyone, &bad, 1, &x), DW_ERR_DOMAIN);
    assert_int_equal(look(&anyone, &below, 1, &x), DW_ERR_DOMAIN);
    assert_int_equal(look(&anyone, back, 0, &x), DW_ERR_DOMAIN);
    assert_int_equal(look(&anyone, NULL, 1, &x), DW_ERR_ARG);
}

/* Any series of levels: the means and crossings by brute force. */
static void random_series_against_brute_force(void **state)
{
    (void)state;
    kit_random random = kit_seed(90210);
    for (int n = 0; n < 1000; n++) {
        enum { STEPS = 12, SECONDS = 40 };
        dw_exposure_step step[STEPS];
        double level[STEPS * SECONDS];
        const double scale = kit_log_between(&random, 0.1, 1500.0);
        int seconds = 0;
        for (int i = 0; i < STEPS; i++) {
            const int length = 1 + kit_pick(&random, SECONDS - 1);
            const double ppm = kit_uniform(&random) < 0.3 ? 0.0 : scale * kit_uniform(&random);
            for (int k = 0; k < length; k++) level[seconds++] = ppm;
            step[i] = (dw_exposure_step){60.0 * seconds, ppm, ppm};
        }
        dw_exposure x;
        assert_int_equal(look(&anyone, step, STEPS, &x), DW_OK);
        bool danger = false, any = false;
        for (size_t l = 0; l < co()->limit_count; l++) {
            const dw_co_limit *limit = &co()->limit[l];
            const int window = (int)(limit->over_s / 60.0); /* minutes */
            double most = 0.0, peak = 0.0;
            int crossed = -1;
            for (int at = 0; at < seconds; at++) {
                double sum = 0.0;
                const int from = at + 1 - window > 0 ? at + 1 - window : 0;
                peak = fmax(peak, level[at]);
                for (int k = from; k <= at; k++) sum += level[k];
                if (at + 1 >= window) most = fmax(most, window > 0 ? sum / window : level[at]);
                if (window > 0 && crossed < 0 && sum / window >= limit->ppm) crossed = at;
            }
            if (window > seconds) {
                most = 0.0;
                for (int k = 0; k < seconds; k++) most += level[k] / seconds;
            }
            if (window == 0) most = peak;
            assert_close(x.limit[l].mean_ppm, most, 1e-9, 1e-12);
            if (window > 0 && crossed >= 0) {
                assert_true(x.limit[l].crossed_s <= 60.0 * (crossed + 1) + 1e-6);
                assert_true(x.limit[l].crossed_s >= 60.0 * crossed - 1e-6);
                assert_true(x.limit[l].exceeded);
            }
            if (window > 0 && crossed < 0) assert_true(isinf(x.limit[l].crossed_s));
            any = any || most >= limit->ppm;
            danger = danger || (most >= limit->ppm && limit->kind == DW_LIMIT_DANGER);
        }
        if (any) assert_true(x.verdict != DW_VERDICT_LOW);
        if (danger) assert_int_equal(x.verdict, DW_VERDICT_DANGEROUS);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_steady_level_uses_up_a_limit),
        cmocka_unit_test(windows_slide),
        cmocka_unit_test(verdicts),
        cmocka_unit_test(a_household_alarm_is_silent_at_working_limits),
        cmocka_unit_test(blood_follows_the_steps),
        cmocka_unit_test(unknown_activity_is_the_worst),
        cmocka_unit_test(people_differ),
        cmocka_unit_test(refuses_what_has_no_meaning),
        cmocka_unit_test(random_series_against_brute_force),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
