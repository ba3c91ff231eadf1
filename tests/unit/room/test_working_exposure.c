/* The working of an exposure: formulas give the numbers of limits, alarms and blood, for random series. */
#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "kit.h"
#include "work_check.h"
#include "exposure.h"

enum { STEP_MAX = 90 };

static dw_exposure_step step[STEP_MAX];
static long row[STEP_MAX];
static size_t count;
static dw_exposure_person person;
static dw_exposure x;

static dw_working *work(bool steady)
{
    const dw_co_data *co = &kit_data()->co;
    dw_breath breath = {.co = co, .person = &person, .step = step, .count = count, .course_row = row};
    assert_int_equal(dw_exposure_look(&breath, NULL, &x), DW_OK);
    int next = 1;
    long rows = 0;
    for (size_t i = 0; i < count; i++) {
        row[i] = dw_exposure_ends_row(step, count, i, &next) ? rows++ : -1;
    }
    double gap_s = 0.0;
    for (size_t i = 0; i < count; i++) {
        gap_s = fmax(gap_s, step[i].until_s - (i > 0 ? step[i - 1].until_s : 0.0));
    }
    dw_working *w = dw_working_create();
    assert_non_null(w);
    breath.w = w;
    assert_int_equal(dw_working_exposure(&breath, steady, gap_s, &x), DW_OK);
    return w;
}

static double value_of(const dw_working *w, const char *key, size_t at)
{
    const dw_work_step *s = work_step_of(w, key);
    if (s == NULL) print_error("no step for %s\n", key);
    assert_non_null(s);
    return dw_working_quantity(w, s->result)->value[at];
}

static void random_air(kit_random *r)
{
    count = 1 + (size_t)kit_pick(r, STEP_MAX);
    double until_s = 0.0;
    const double scale = kit_log_between(r, 20.0, 4000.0), level = kit_log_between(r, 0.5, 3000.0);
    for (size_t i = 0; i < count; i++) {
        until_s += kit_log_between(r, 0.2, 5.0) * scale;
        const double ppm = kit_uniform(r) < 0.1 ? 0.0 : level * kit_log_between(r, 0.05, 4.0);
        step[i] = (dw_exposure_step){until_s, ppm, ppm * kit_between(r, 1.0, 1.5)};
    }
    person = (dw_exposure_person){.activity = (dw_room_activity)kit_pick(r, 4),
                                  .smoker = kit_uniform(r) < 0.3,
                                  .height_m = NAN,
                                  .mass_kg = NAN,
                                  .female = kit_uniform(r) < 0.5,
                                  .barometric_pa_abs = NAN};
    if (kit_uniform(r) < 0.5) {
        person.height_m = kit_between(r, 1.45, 1.95);
        person.mass_kg = kit_between(r, 42.0, 120.0);
    }
    if (kit_uniform(r) < 0.5) person.barometric_pa_abs = kit_between(r, 7.1e4, 1.06e5);
}

static void every_formula_gives_the_numbers(void **state)
{
    (void)state;
    kit_random random = kit_seed(20260417);
    const int cases = kit_cases("DW_WORKING_CASES", 60);
    int used_up = 0, effects = 0, alarms = 0;
    for (int i = 0; i < cases; i++) {
        random_air(&random);
        dw_working *w = work(false);
        char name[40];
        (void)snprintf(name, sizeof name, "random air %d", i);
        assert_int_equal(work_check_steps(w, name, 1e-9), 0);
        assert_int_equal(work_check_sources(w, kit_data()), 0);
        assert_close(value_of(w, "exposure.mean_ppm", 0), x.mean_ppm, 1e-12, 0.0);
        assert_close(value_of(w, "exposure.peak_ppm", 0), x.peak_ppm, 0.0, 0.0);
        assert_close(value_of(w, "people.cohb_peak", 0), x.peak_frac[x.activity], 0.0, 0.0);
        static const char *const ends[] = {"people.cohb_end_rest", "people.cohb_end_light",
                                           "people.cohb_end_heavy"};
        for (int a = 0; a < DW_ACTIVITY_COUNT; a++) {
            assert_close(value_of(w, ends[a], 0), x.end_frac[a], 0.0, 0.0);
        }
        used_up += work_step_of(w, "limits.*.crossed_s") != NULL;
        effects += work_step_of(w, "people.effects.*.reached_s") != NULL;
        alarms += work_step_of(w, "alarms.*") != NULL;
        dw_working_destroy(w);
    }
    print_message("%d with a limit used up, %d with effects, %d with alarms\n", used_up, effects,
                  alarms);
    assert_true(used_up > cases / 4 && effects > cases / 4 && alarms > cases / 4);
}

/* One level for so long that nothing changes any more, and air without any. */
static void levels_that_are_held(void **state)
{
    (void)state;
    const double ppm[] = {0.0, 33.0, 410.0, 6100.0}, end_s[] = {1700.0, 31000.0, 2.4e6};
    person = (dw_exposure_person){.activity = DW_ROOM_LIGHT, .smoker = true, .height_m = NAN,
                                  .mass_kg = NAN, .barometric_pa_abs = NAN};
    for (int i = 0; i < 4; i++) {
        for (int k = 0; k < 3; k++) {
            count = 24;
            for (size_t n = 0; n < count; n++) {
                step[n] =
                    (dw_exposure_step){end_s[k] * (double)(n + 1) / (double)count, ppm[i], ppm[i]};
            }
            dw_working *w = work(true);
            assert_int_equal(work_check_steps(w, "held", 1e-9), 0);
            assert_close(value_of(w, "course.*.time_s", 23), end_s[k], 1e-15, 0.0);
            assert_close(value_of(w, "course.*.cohb", 23), x.end_frac[x.activity], 0.0, 0.0);
            dw_working_destroy(w);
        }
    }
}

static void moved_numbers_are_seen(void **state)
{
    (void)state;
    kit_random random = kit_seed(91);
    random_air(&random);
    dw_working *w = work(false);
    assert_true(work_check_moved(w, "C_m", 1.01) >= 2);
    assert_true(work_check_moved(w, "y", 1.01) >= 2);
    assert_true(work_check_moved(w, "t_b", 1.01) >= 1);
    assert_true(work_check_moved(w, "D_0", 1.01) >= 1);
    dw_working_destroy(w);
}

static void too_many_steps_are_refused(void **state)
{
    (void)state;
    dw_working *w = dw_working_create();
    dw_breath breath = {.co = &kit_data()->co, .person = &person, .step = step, .w = w, .course_row = row};
    assert_int_equal(dw_working_exposure(&breath, true, NAN, &x), DW_ERR_ARG);
    breath.count = DW_WORKING_STRETCH_MAX + 1;
    assert_int_equal(dw_working_exposure(&breath, true, NAN, &x), DW_ERR_ARG);
    dw_working_destroy(w);
}

static void about_two_dozen_rows(void **state)
{
    (void)state;
    kit_random random = kit_seed(413);
    for (int i = 0; i < 200; i++) {
        random_air(&random);
        int next = 1, rows = 0;
        bool last = false;
        for (size_t k = 0; k < count; k++) {
            last = dw_exposure_ends_row(step, count, k, &next);
            rows += last;
        }
        assert_true(last);
        assert_true(rows >= 1 && rows <= 24);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_formula_gives_the_numbers),
        cmocka_unit_test(levels_that_are_held),
        cmocka_unit_test(moved_numbers_are_seen),
        cmocka_unit_test(too_many_steps_are_refused),
        cmocka_unit_test(about_two_dozen_rows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
