/** @file test_unmixedness.c  Unit tests of physics/unmixedness. */

#include "check.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>

#include "kit.h"
#include "unmixedness.h"

static dw_elements fuel_kg, air_kg;
static double z_stoich;

static void make_streams(const char *fuel_name)
{
    const dw_species_table *table = &kit_data()->species;
    double fuel[DW_SPECIES_MAX] = {0.0}, air[DW_SPECIES_MAX] = {0.0};
    fuel[dw_species_find(table, fuel_name)] = 1.0;
    air[dw_species_find(table, "N2")] = 0.78084;
    air[dw_species_find(table, "O2")] = 0.209476;
    air[dw_species_find(table, "Ar")] = 0.009365;
    air[dw_species_find(table, "CO2")] = 0.000319;
    const dw_elements f = dw_elements_from_moles(table, fuel), a = dw_elements_from_moles(table, air);
    fuel_kg = dw_elements_combine(1.0 / dw_elements_mass_kg(&f), f, 0.0, f);
    air_kg = dw_elements_combine(1.0 / dw_elements_mass_kg(&a), a, 0.0, a);
    z_stoich = air_kg.excess_o / (air_kg.excess_o - fuel_kg.excess_o);
}

static double z_of_lambda(double lambda)
{
    return 1.0 / (1.0 + lambda * (1.0 / z_stoich - 1.0));
}

static void weights_sum_to_one_and_keep_mean_and_spread(void **state)
{
    (void)state;
    make_streams("CH4");
    for (double s = 0.011; s < 0.55; s *= 1.37) {
        for (double lambda = 0.61; lambda < 3.0; lambda *= 1.13) {
            const double mean = z_of_lambda(lambda);
            double z[DW_PARCEL_MAX], w[DW_PARCEL_MAX], sum = 0.0, first = 0.0, second = 0.0;
            int count;
            assert_int_equal(dw_unmixedness_points(mean, z_stoich, s, z, w, &count), DW_OK);
            assert_true(count > 4 && count <= DW_PARCEL_MAX);
            for (int i = 0; i < count; i++) {
                assert_true(w[i] > 0.0 && z[i] > 0.0 && z[i] < 1.0);
                sum += w[i];
                first += w[i] * z[i];
                second += w[i] * (z[i] - mean) * (z[i] - mean);
            }
            assert_close(sum, 1.0, 0.0, 1e-14);
            assert_close(first, mean, 1e-14, 0.0);
            assert_close(sqrt(second), s * mean, 2e-6, 0.0);
        }
    }
}

static void no_spread_is_one_parcel(void **state)
{
    (void)state;
    double z[DW_PARCEL_MAX], w[DW_PARCEL_MAX];
    int count;
    assert_int_equal(dw_unmixedness_points(0.0537, 0.0549, 0.0, z, w, &count), DW_OK);
    assert_int_equal(count, 1);
    assert_true(z[0] == 0.0537 && w[0] == 1.0);
}

typedef struct integrand {
    const dw_gas_set *set;
    const dw_gas_potentials *at;
    double a, b;
    int species; /* position in the set; -1: total moles */
} integrand;

static double moles_times_density(double z, void *context)
{
    const integrand *f = context;
    const dw_elements parcel = dw_elements_combine(z, fuel_kg, 1.0 - z, air_kg);
    dw_equilibrium state = {.start = DW_START_COLD};
    if (dw_equilibrium_solve(f->set, f->at, &parcel, 83110.0, false, &state) != DW_OK) return NAN;
    const double moles = f->species < 0 ? state.gas_mol : state.gas_mol * state.x[f->species];
    return moles * gsl_ran_beta_pdf(z, f->a, f->b);
}

static double adaptive(integrand *f, double mean, double s, gsl_integration_workspace *work)
{
    gsl_function g = {moles_times_density, f};
    const double low = fmax(mean * (1.0 - 9.0 * s), 1e-9), high = fmin(mean * (1.0 + 12.0 * s), 0.9);
    double left, right, error;
    const double cut = fmin(fmax(z_stoich, low), high);
    double total = 0.0;
    if (cut > low) {
        (void)gsl_integration_qag(&g, low, cut, 0.0, 1e-9, 200, 6, work, &left, &error);
        assert_true(error <= 1e-6 * left + 1e-18);
        total += left;
    }
    if (cut < high) {
        (void)gsl_integration_qag(&g, cut, high, 0.0, 1e-9, 200, 6, work, &right, &error);
        assert_true(error <= 1e-6 * right + 1e-18);
        total += right;
    }
    return total;
}

static void co_agrees_with_adaptive_quadrature(void **state)
{
    (void)state;
    const dw_gas_set *set = &kit_model()->gases;
    gsl_integration_workspace *work = gsl_integration_workspace_alloc(200);
    double worst = 0.0;
    static const char *const fuels[] = {"CH4", "C3H8"};
    for (int k = 0; k < 2; k++) {
        make_streams(fuels[k]);
        for (double t = 1127.0; t < 1700.0; t += 263.0) {
            dw_gas_potentials at;
            assert_int_equal(dw_gas_potentials_at(set, t, &at), DW_OK);
            for (double s = 0.02; s < 0.21; s *= 2.1) {
                for (double lambda = 0.72; lambda < 1.35; lambda += 0.047) {
                    const double mean = z_of_lambda(lambda);
                    const double sum = mean * (1.0 - mean) / (s * s * mean * mean) - 1.0;
                    integrand f = {set, &at, mean * sum, (1.0 - mean) * sum, set->role[DW_ROLE_CO]};
                    const double co = adaptive(&f, mean, s, work);
                    f.species = -1;
                    const double all = adaptive(&f, mean, s, work);
                    double x[DW_GAS_MAX], moles;
                    assert_int_equal(dw_unmixedness_mean(set, &at, &fuel_kg, &air_kg, mean, s,
                                                         83110.0, false, x, &moles, NULL),
                                     DW_OK);
                    const double error = fabs(x[set->role[DW_ROLE_CO]] / (co / all) - 1.0);
                    if (error > worst) worst = error;
                }
            }
        }
    }
    gsl_integration_workspace_free(work);
    print_message("worst relative deviation of CO from adaptive quadrature: %.2e\n", worst);
    assert_true(worst < 1e-3);
}

static void co_does_not_ripple_along_richness(void **state)
{
    (void)state;
    make_streams("CH4");
    const dw_gas_set *set = &kit_model()->gases;
    dw_gas_potentials at;
    assert_int_equal(dw_gas_potentials_at(set, 1473.0, &at), DW_OK);
    /* CO rises all the way and its slope changes sign nowhere between neighbours. */
    double last = 0.0, last_slope = 0.0;
    int n = 0;
    for (double lambda = 1.30; lambda > 0.80; lambda -= 0.0037, n++) {
        double x[DW_GAS_MAX], moles;
        assert_int_equal(dw_unmixedness_mean(set, &at, &fuel_kg, &air_kg, z_of_lambda(lambda), 0.05,
                                             101325.0, false, x, &moles, NULL),
                         DW_OK);
        const double co = x[set->role[DW_ROLE_CO]], slope = co - last;
        if (n > 0) assert_true(slope > 0.0);
        /* Convex: the slope grows until the curve runs straight on the rich side, where it falls by no
         * more than the curve itself bends. */
        if (n > 1) assert_true(slope > 0.985 * last_slope);
        last = co;
        last_slope = slope;
    }
}

static void the_parcels_kept_are_those_of_the_mean(void **state)
{
    (void)state;
    make_streams("CH4");
    const dw_gas_set *set = &kit_model()->gases;
    dw_gas_potentials at;
    assert_int_equal(dw_gas_potentials_at(set, 1473.0, &at), DW_OK);
    const double mean = z_of_lambda(1.02);
    static dw_parcels all;
    double x[DW_GAS_MAX], moles, z[DW_PARCEL_MAX], w[DW_PARCEL_MAX];
    int count;
    assert_int_equal(dw_unmixedness_mean(set, &at, &fuel_kg, &air_kg, mean, 0.07, 101325.0, false, x,
                                         &moles, &all),
                     DW_OK);
    assert_int_equal(dw_unmixedness_points(mean, z_of_lambda(1.0), 0.07, z, w, &count), DW_OK);
    assert_int_equal(all.count, count);
    double co = 0.0, sum = 0.0;
    for (int i = 0; i < count; i++) {
        assert_close(all.z[i], z[i], 1e-9, 0.0);
        sum += all.weight[i] * all.gas_mol[i];
        co += all.weight[i] * all.gas_mol[i] * all.x[set->role[DW_ROLE_CO]][i];
    }
    assert_close(sum, moles, 1e-14, 0.0);
    assert_close(co / sum, x[set->role[DW_ROLE_CO]], 1e-13, 0.0);
}

static void refuses_what_has_no_meaning(void **state)
{
    (void)state;
    make_streams("CH4");
    double z[DW_PARCEL_MAX], w[DW_PARCEL_MAX];
    int count;
    assert_int_equal(dw_unmixedness_points(0.0, 0.05, 0.1, z, w, &count), DW_ERR_DOMAIN);
    assert_int_equal(dw_unmixedness_points(0.05, 1.0, 0.1, z, w, &count), DW_ERR_DOMAIN);
    assert_int_equal(dw_unmixedness_points(0.05, 0.05, 0.7, z, w, &count), DW_ERR_DOMAIN);
    assert_int_equal(dw_unmixedness_points(0.05, 0.05, -0.1, z, w, &count), DW_ERR_DOMAIN);
    assert_int_equal(dw_unmixedness_points(NAN, 0.05, 0.1, z, w, &count), DW_ERR_DOMAIN);
    assert_int_equal(dw_unmixedness_points(0.05, 0.05, 0.1, NULL, w, &count), DW_ERR_ARG);
    const dw_gas_set *set = &kit_model()->gases;
    dw_gas_potentials at;
    assert_int_equal(dw_gas_potentials_at(set, 1473.0, &at), DW_OK);
    double x[DW_GAS_MAX], moles;
    assert_int_equal(dw_unmixedness_mean(set, &at, &air_kg, &fuel_kg, 0.05, 0.05, 101325.0, false, x,
                                         &moles, NULL),
                     DW_ERR_DOMAIN);
    assert_true(isnan(moles) && isnan(x[0]));
}

/* Spread of the beta distribution with these parameters. */
static double spread_of(double a, double b)
{
    const double mean = a / (a + b);
    return sqrt(mean * (1.0 - mean) / (a + b + 1.0)) / mean;
}

static void quantile_matches_hand_values(void **state)
{
    (void)state;
    /* a = 5, b = 2: I_z = 6 z^5 - 5 z^6, which is one half at 0.73555. */
    const double mean = 5.0 / 7.0, spread = spread_of(5.0, 2.0);
    double z;
    assert_int_equal(dw_mixture_quantile(mean, spread, 0.5, &z), DW_OK);
    assert_close(6.0 * pow(z, 5.0) - 5.0 * pow(z, 6.0), 0.5, 0.0, 1e-10);
    assert_close(z, 0.73555, 0.0, 5e-6);
    assert_int_equal(dw_mixture_quantile(mean, spread, 0.1, &z), DW_OK);
    assert_close(6.0 * pow(z, 5.0) - 5.0 * pow(z, 6.0), 0.1, 0.0, 1e-10);
}

static void tail_mean_matches_hand_value(void **state)
{
    (void)state;
    /* a = 5, b = 2: the mean above q is [5/7 - (30 q^6/6 - 30 q^7/7)] / share. */
    const double mean = 5.0 / 7.0, spread = spread_of(5.0, 2.0);
    double q, z, from;
    assert_int_equal(dw_mixture_quantile(mean, spread, 0.95, &q), DW_OK);
    assert_int_equal(dw_mixture_richest(mean, spread, 0.05, &from, &z), DW_OK);
    assert_true(from == q);
    assert_close(z, (mean - (5.0 * pow(q, 6.0) - 30.0 / 7.0 * pow(q, 7.0))) / 0.05, 1e-8, 0.0);
    assert_true(z > q);
}

static void agrees_with_the_points_of_the_average(void **state)
{
    (void)state;
    const double z_mean = 0.0597, spread = 0.137;
    double z[DW_PARCEL_MAX], weight[DW_PARCEL_MAX], q, rich;
    int count;
    assert_int_equal(dw_mixture_quantile(z_mean, spread, 0.9, &q), DW_OK);
    /* Cut where the quantile lies, so that the part above it is integrated by itself. */
    assert_int_equal(dw_unmixedness_points(z_mean, q, spread, z, weight, &count), DW_OK);
    double share = 0.0, sum = 0.0;
    for (int i = 0; i < count; i++) {
        if (z[i] < q) continue;
        share += weight[i];
        sum += weight[i] * z[i];
    }
    assert_close(share, 0.1, 0.0, 2e-5);
    assert_int_equal(dw_mixture_richest(z_mean, spread, 0.1, NULL, &rich), DW_OK);
    assert_close(sum / share, rich, 2e-5, 0.0);
}

static void narrow_gas_is_nearly_normal(void **state)
{
    (void)state;
    /* A tenth of a normal distribution lies beyond 1.281552 sigma. */
    double z;
    assert_int_equal(dw_mixture_quantile(0.061, 0.002, 0.1, &z), DW_OK);
    assert_close(z, 0.061 * (1.0 - 1.281552 * 0.002), 1e-5, 0.0);
    assert_int_equal(dw_mixture_quantile(0.061, 0.0, 0.1, &z), DW_OK);
    assert_close(z, 0.061, 0.0, 0.0);
    assert_int_equal(dw_mixture_richest(0.061, 0.0, 0.1, NULL, &z), DW_OK);
    assert_close(z, 0.061, 0.0, 0.0);
}

/* The 10, 90 and 95 % quantiles and the mean of the richest 5 %, in standard deviations from the mean of
 * 0.0613 [computed: density integrated and root found with 60 digits by mpmath 1.3.0]. In the limit they are
 * those of the normal distribution. */
static void keeps_its_digits_however_even_the_gas_is(void **state)
{
    (void)state;
    const double mean = 0.0613;
    static const double known[5][5] = {
        {0.0018, -1.281190862303456, 1.281911373099203, 1.645809597047881, 2.064615026876376},
        {1e-3, -1.281351285497073, 1.281751569145749, 1.645384852200380, 2.063769733972766},
        {1e-4, -1.281531549982736, 1.281571578342002, 1.644906764190176, 2.062818515664370},
        {1e-5, -1.281549564112818, 1.281553566948739, 1.644858940822506, 2.062723378478187},
        {1e-6, -1.281551365402666, 1.281551765686258, 1.644854158340048, 2.062713864606053}};
    static const double share[3] = {0.1, 0.9, 0.95};
    for (int i = 0; i < 5; i++) {
        const double s = known[i][0];
        double z;
        for (int k = 0; k < 3; k++) {
            assert_int_equal(dw_mixture_quantile(mean, s, share[k], &z), DW_OK);
            /* What is left below the rounding of z itself. */
            assert_close((z / mean - 1.0) / s, known[i][1 + k], 1e-11, 1e-15 / s);
        }
        assert_int_equal(dw_mixture_richest(mean, s, 0.05, NULL, &z), DW_OK);
        assert_close((z / mean - 1.0) / s, known[i][4], 1e-10, 1e-15 / s);
    }
}

/* Of all spreads that are allowed, lean and rich; where one calculation takes over from the other nothing
 * is seen. */
static void every_spread_has_its_quantiles(void **state)
{
    (void)state;
    static const double means[] = {1e-5, 0.004, 0.0597, 0.31, 0.6};
    for (int m = 0; m < 5; m++) {
        double last[4] = {NAN, NAN, NAN, NAN}, last_step = NAN;
        for (double s = 1e-8; s <= 0.5; s *= 1.05) {
            if (means[m] > 0.5 && s > 0.3) break; /* wider than any beta distribution with a peak */
            double z[4];
            for (int k = 0; k < 3; k++) {
                static const double share[3] = {0.1, 0.5, 0.9};
                if (dw_mixture_quantile(means[m], s, share[k], &z[k]) != DW_OK) {
                    fail_msg("mean %g, spread %g: no %g quantile", means[m], s, share[k]);
                }
            }
            assert_int_equal(dw_mixture_richest(means[m], s, 0.05, NULL, &z[3]), DW_OK);
            if (s < 1e-6) {
                for (int k = 0; k < 4; k++) assert_close(z[k], means[m], 0.0, 0.0);
                continue;
            }
            assert_true(z[0] < z[1] && z[1] < z[2] && z[2] < z[3]);
            for (int k = 0; k < 4; k++) {
                const double now = (z[k] / means[m] - 1.0) / s;
                /* By standard deviations the place moves by no more than some s from step to step. */
                if (s > last_step) assert_close(now, last[k], 0.0, 0.2 * s + 2e-4);
                last[k] = now;
            }
            last_step = s;
        }
    }
}

static void quantiles_refuse_what_has_no_meaning(void **state)
{
    (void)state;
    double z = 1.0;
    assert_int_equal(dw_mixture_quantile(0.0, 0.1, 0.5, &z), DW_ERR_DOMAIN);
    assert_true(isnan(z));
    assert_int_equal(dw_mixture_quantile(1.0, 0.1, 0.5, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.06, -0.1, 0.5, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.06, 0.6, 0.5, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.06, 0.1, 0.0, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(0.06, 0.1, 1.0, &z), DW_ERR_DOMAIN);
    assert_int_equal(dw_mixture_quantile(NAN, 0.1, 0.5, &z), DW_ERR_ARG);
    assert_int_equal(dw_mixture_quantile(0.06, 0.1, 0.5, NULL), DW_ERR_ARG);
    double from = 1.0;
    assert_int_equal(dw_mixture_richest(0.06, 0.1, 1.0, &from, &z), DW_ERR_DOMAIN);
    assert_true(isnan(from) && isnan(z));
    assert_int_equal(dw_mixture_richest(0.06, 0.0, 0.1, &from, &z), DW_OK);
    assert_true(from == 0.06 && z == 0.06);
    assert_int_equal(dw_mixture_richest(0.06, 0.1, 0.5, NULL, NULL), DW_ERR_ARG);
}

int main(void)
{
    gsl_set_error_handler_off();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weights_sum_to_one_and_keep_mean_and_spread),
        cmocka_unit_test(no_spread_is_one_parcel),
        cmocka_unit_test(co_agrees_with_adaptive_quadrature),
        cmocka_unit_test(co_does_not_ripple_along_richness),
        cmocka_unit_test(the_parcels_kept_are_those_of_the_mean),
        cmocka_unit_test(refuses_what_has_no_meaning),
        cmocka_unit_test(quantile_matches_hand_values),
        cmocka_unit_test(tail_mean_matches_hand_value),
        cmocka_unit_test(agrees_with_the_points_of_the_average),
        cmocka_unit_test(narrow_gas_is_nearly_normal),
        cmocka_unit_test(keeps_its_digits_however_even_the_gas_is),
        cmocka_unit_test(every_spread_has_its_quantiles),
        cmocka_unit_test(quantiles_refuse_what_has_no_meaning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
