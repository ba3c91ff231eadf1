/* Sweeps: which points, in which order, each as if it were alone. */
#include "check.h"

#include "kit.h"
#include "sweep.h"

enum { TAKEN_MAX = 40 };

/* What a sweep handed over. */
typedef struct record {
    size_t count, stop_after;
    bool fails;
    double first[TAKEN_MAX], second[TAKEN_MAX], phi[TAKEN_MAX];
    bool solved[TAKEN_MAX];
} record;

static void put_damper(void *user, const double *values, dw_kiln *kiln)
{
    (void)user;
    for (int i = 0; i < kiln->flue_count; i++) kiln->flue[i].damper.open_frac = values[0];
}

static void put_damper_and_temperature(void *user, const double *values, dw_kiln *kiln)
{
    put_damper(user, values, kiln);
    kiln->operating.chamber_temperature_k = values[1];
}

static dw_status solve(void *user, const double *values, const dw_kiln *kiln)
{
    record *r = user;
    assert_true(r->count < TAKEN_MAX);
    if (r->fails) return DW_ERR_IO;
    static dw_result result;
    const dw_status status = dw_operating_point(kit_model(), kiln, &result);
    r->first[r->count] = values[0];
    r->second[r->count] = values[1];
    r->solved[r->count] = status == DW_OK;
    r->phi[r->count] = status == DW_OK ? result.equivalence_ratio : NAN;
    if (status != DW_OK) assert_true(result.reason[0] != '\0');
    r->count++;
    return DW_OK;
}

static int stop(void *user, size_t done, size_t total)
{
    const record *r = user;
    assert_int_equal(done, r->count);
    assert_int_equal(total, 8);
    return done == r->stop_after;
}

/* Runs it, and all that were tried are said to be done. */
static void run(const dw_sweep *sweep, const record *r)
{
    size_t done = 77;
    assert_int_equal(dw_sweep_run(sweep, &done), DW_OK);
    assert_int_equal(done, r->count);
}

static dw_sweep sweep_of(const dw_kiln *kiln, const double *axis, size_t length, record *r)
{
    return (dw_sweep){.axis_count = 1, .axis = {axis}, .length = {length}, .kiln = kiln,
                      .put = put_damper, .point = solve, .user = r};
}

static dw_sweep two_axes(const dw_kiln *kiln, const double *damper, size_t dampers,
                         const double *temperature, size_t temperatures, record *r)
{
    return (dw_sweep){.axis_count = 2, .axis = {damper, temperature},
                      .length = {dampers, temperatures}, .kiln = kiln,
                      .put = put_damper_and_temperature, .point = solve, .user = r};
}

static void the_last_axis_moves_fastest(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double damper[] = {0.61, 0.37}, temperature[] = {1493.0, 1391.0, 1277.0};
    record r = {.count = 0};
    const dw_sweep sweep = two_axes(&file.kiln, damper, 2, temperature, 3, &r);
    assert_int_equal(dw_sweep_count(&sweep), 6);
    run(&sweep, &r);
    assert_int_equal(r.count, 6);
    for (size_t i = 0; i < 6; i++) {
        double at[DW_SWEEP_AXIS_MAX];
        dw_sweep_values(&sweep, i, at);
        assert_true(at[0] == r.first[i] && at[1] == r.second[i]);
        assert_true(r.first[i] == damper[i / 3] && r.second[i] == temperature[i % 3]);
        dw_kiln alone = file.kiln;
        const double values[2] = {r.first[i], r.second[i]};
        put_damper_and_temperature(NULL, values, &alone);
        dw_result result;
        assert_int_equal(dw_operating_point(kit_model(), &alone, &result), DW_OK);
        assert_true(r.phi[i] == result.equivalence_ratio);
    }
}

static void order_changes_no_number(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double up[] = {0.23, 0.41, 0.67, 0.89}, down[] = {0.89, 0.67, 0.41, 0.23};
    record rising = {.count = 0}, falling = {.count = 0};
    dw_sweep sweep = sweep_of(&file.kiln, up, 4, &rising);
    run(&sweep, &rising);
    sweep = sweep_of(&file.kiln, down, 4, &falling);
    run(&sweep, &falling);
    for (int i = 0; i < 4; i++) {
        assert_true(rising.solved[i]);
        assert_true(rising.phi[i] == falling.phi[3 - i]);
    }
}

static void a_point_without_solution_is_handed_over(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    /* More than all of the flue: the inputs contradict each other. */
    const double damper[] = {0.53, 1.7, 0.59};
    record r = {.count = 0};
    const dw_sweep sweep = sweep_of(&file.kiln, damper, 3, &r);
    run(&sweep, &r);
    assert_int_equal(r.count, 3);
    assert_true(r.solved[0] && !r.solved[1] && r.solved[2]);
}

static void it_stops_when_told(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double damper[] = {0.31, 0.47, 0.53, 0.71}, temperature[] = {1333.0, 1421.0};
    for (size_t after = 1; after <= 8; after++) {
        record r = {.stop_after = after};
        dw_sweep sweep = two_axes(&file.kiln, damper, 4, temperature, 2, &r);
        sweep.progress = stop;
        sweep.progress_user = &r;
        run(&sweep, &r);
        assert_int_equal(r.count, after);
    }
}

/* Values alone, without a kiln. */
static dw_status add_up(void *user, const double *values, const dw_kiln *kiln)
{
    double *sum = user;
    assert_null(kiln);
    *sum += values[0] * values[1];
    return DW_OK;
}

static void values_need_no_kiln(void **state)
{
    (void)state;
    const double a[] = {2.0, 3.0}, b[] = {5.0, 7.0, 11.0};
    double sum = 0.0;
    size_t done;
    const dw_sweep sweep = {.axis_count = 2, .axis = {a, b}, .length = {2, 3}, .point = add_up,
                            .user = &sum};
    assert_int_equal(dw_sweep_run(&sweep, &done), DW_OK);
    assert_int_equal(done, 6);
    assert_close(sum, 5.0 * 23.0, 1e-15, 0.0);
}

static void what_is_no_answer_ends_it(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double damper[] = {0.37, 0.53};
    record r = {.fails = true};
    const dw_sweep sweep = sweep_of(&file.kiln, damper, 2, &r);
    size_t done = 77;
    assert_int_equal(dw_sweep_run(&sweep, &done), DW_ERR_IO);
    assert_int_equal(done, 0);
}

static void refuses_what_is_no_sweep(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double damper[] = {0.37};
    record r = {.count = 0};
    size_t done;
    const dw_sweep good = sweep_of(&file.kiln, damper, 1, &r);
    assert_int_equal(dw_sweep_run(NULL, &done), DW_ERR_ARG);
    assert_int_equal(dw_sweep_run(&good, NULL), DW_ERR_ARG);
    dw_sweep bad = good;
    bad.kiln = NULL;
    assert_int_equal(dw_sweep_run(&bad, &done), DW_ERR_ARG);
    bad = good;
    bad.put = NULL;
    assert_int_equal(dw_sweep_run(&bad, &done), DW_ERR_ARG);
    bad = good;
    bad.point = NULL;
    assert_int_equal(dw_sweep_run(&bad, &done), DW_ERR_ARG);
    bad = good;
    bad.axis_count = 0;
    assert_int_equal(dw_sweep_run(&bad, &done), DW_ERR_ARG);
    bad.axis_count = 3;
    assert_int_equal(dw_sweep_run(&bad, &done), DW_ERR_ARG);
    bad = good;
    bad.axis[0] = NULL;
    assert_int_equal(dw_sweep_run(&bad, &done), DW_ERR_ARG);
    bad = good;
    bad.length[0] = 0;
    assert_int_equal(dw_sweep_run(&bad, &done), DW_ERR_ARG);
    bad = good;
    bad.axis_count = 2;
    assert_int_equal(dw_sweep_run(&bad, &done), DW_ERR_ARG);
    assert_int_equal(r.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_last_axis_moves_fastest),
        cmocka_unit_test(order_changes_no_number),
        cmocka_unit_test(a_point_without_solution_is_handed_over),
        cmocka_unit_test(it_stops_when_told),
        cmocka_unit_test(values_need_no_kiln),
        cmocka_unit_test(what_is_no_answer_ends_it),
        cmocka_unit_test(refuses_what_is_no_sweep),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
