/* Points and weights of the beta average, and the averaged gas against adaptive quadrature. */
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
    dw_equilibrium state = {.started = false};
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
                    assert_int_equal(dw_unmixedness_mean(set, &at, &at, &fuel_kg, &air_kg, mean, s,
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
        assert_int_equal(dw_unmixedness_mean(set, &at, &at, &fuel_kg, &air_kg, z_of_lambda(lambda), 0.05,
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
    assert_int_equal(dw_unmixedness_mean(set, &at, &at, &fuel_kg, &air_kg, mean, 0.07, 101325.0, false, x,
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
    assert_int_equal(dw_unmixedness_mean(set, &at, &at, &air_kg, &fuel_kg, 0.05, 0.05, 101325.0, false, x,
                                         &moles, NULL),
                     DW_ERR_DOMAIN);
    assert_true(isnan(moles) && isnan(x[0]));
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
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
