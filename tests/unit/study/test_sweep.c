/* Sweeps: which points, in which order, each as if it were alone. */
#include "check.h"

#include "kit.h"
#include "sweep.h"

enum { TAKEN_MAX = 40 };

/* What a sweep handed over. */
typedef struct record {
    size_t count, stop_after;
    size_t index[TAKEN_MAX];
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

static int take(void *user, size_t index, const double *values, const dw_result *result)
{
    record *r = user;
    assert_true(r->count < TAKEN_MAX);
    r->index[r->count] = index;
    r->first[r->count] = values[0];
    r->second[r->count] = values[1];
    r->solved[r->count] = result->solved;
    r->phi[r->count] = result->solved ? result->equivalence_ratio : NAN;
    if (!result->solved) assert_true(result->reason[0] != '\0');
    r->count++;
    return r->stop_after > 0 && r->count == r->stop_after;
}

static dw_sweep sweep_of(const double *axis, size_t length, record *r)
{
    return (dw_sweep){.axis_count = 1, .axis = {axis}, .length = {length}, .put = put_damper,
                      .take = take, .user = r};
}

static void the_last_axis_moves_fastest(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double damper[] = {0.61, 0.37}, temperature[] = {1493.0, 1391.0, 1277.0};
    record r = {.count = 0};
    dw_sweep sweep = {.axis_count = 2, .axis = {damper, temperature}, .length = {2, 3},
                      .put = put_damper_and_temperature, .take = take, .user = &r};
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &sweep), DW_OK);
    assert_int_equal(r.count, 6);
    for (size_t i = 0; i < 6; i++) {
        assert_int_equal(r.index[i], i);
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
    dw_sweep sweep = sweep_of(up, 4, &rising);
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &sweep), DW_OK);
    sweep = sweep_of(down, 4, &falling);
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &sweep), DW_OK);
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
    const dw_sweep sweep = sweep_of(damper, 3, &r);
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &sweep), DW_OK);
    assert_int_equal(r.count, 3);
    assert_true(r.solved[0] && !r.solved[1] && r.solved[2]);
}

static void it_stops_when_told(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double damper[] = {0.31, 0.47, 0.53, 0.71}, temperature[] = {1333.0, 1421.0};
    for (size_t stop = 1; stop <= 5; stop++) {
        record r = {.stop_after = stop};
        dw_sweep sweep = {.axis_count = 2, .axis = {damper, temperature}, .length = {4, 2},
                          .put = put_damper_and_temperature, .take = take, .user = &r};
        assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &sweep), DW_OK);
        assert_int_equal(r.count, stop);
    }
}

static void refuses_what_is_no_sweep(void **state)
{
    (void)state;
    dw_kiln_file file;
    kit_example("juniper-flat", &file);
    const double damper[] = {0.37};
    record r = {.count = 0};
    const dw_sweep good = sweep_of(damper, 1, &r);
    assert_int_equal(dw_sweep_run(NULL, &file.kiln, &good), DW_ERR_ARG);
    assert_int_equal(dw_sweep_run(kit_model(), NULL, &good), DW_ERR_ARG);
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, NULL), DW_ERR_ARG);
    dw_sweep bad = good;
    bad.put = NULL;
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &bad), DW_ERR_ARG);
    bad = good;
    bad.take = NULL;
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &bad), DW_ERR_ARG);
    bad = good;
    bad.axis_count = 0;
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &bad), DW_ERR_ARG);
    bad.axis_count = 3;
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &bad), DW_ERR_ARG);
    bad = good;
    bad.axis[0] = NULL;
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &bad), DW_ERR_ARG);
    bad = good;
    bad.length[0] = 0;
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &bad), DW_ERR_ARG);
    bad = good;
    bad.axis_count = 2;
    assert_int_equal(dw_sweep_run(kit_model(), &file.kiln, &bad), DW_ERR_ARG);
    assert_int_equal(r.count, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_last_axis_moves_fastest),
        cmocka_unit_test(order_changes_no_number),
        cmocka_unit_test(a_point_without_solution_is_handed_over),
        cmocka_unit_test(it_stops_when_told),
        cmocka_unit_test(refuses_what_is_no_sweep),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
