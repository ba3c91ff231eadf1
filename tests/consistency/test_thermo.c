/* The thermodynamic functions agree with each other, for every species and many temperatures. */

#include <stdlib.h>

#include "check.h"
#include "constants.h"
#include "species.h"
#include "test_data.h"

typedef struct state_point {
    double cp, h, s;
} state_point;

static int set_up(void **state)
{
    *state = test_data_load();
    return *state == NULL ? -1 : 0;
}

static int tear_down(void **state)
{
    free(*state);
    return 0;
}

static state_point at(const dw_species *s, double t_k)
{
    state_point p;
    if (dw_species_standard_state(s, t_k, &p.cp, &p.h, &p.s) != DW_OK) {
        fail_msg("%s has no value at %g K", s->name, t_k);
    }
    return p;
}

static bool near_join(const dw_species *s, double t_k, double step_k)
{
    for (int i = 0; i + 1 < s->range_count; i++) {
        if (fabs(t_k - s->range[i].t_high_k) <= 2.0 * step_k) return true;
    }
    return false;
}

/* Centred difference of fourth order; its error is step^4/30 times a fifth derivative. */
static double slope(double before2, double before, double after, double after2, double step)
{
    return (before2 - 8.0 * before + 8.0 * after - after2) / (12.0 * step);
}

static void heat_capacity_is_the_slope_of_enthalpy_and_entropy(void **state)
{
    const dw_data *data = *state;
    double worst = 0.0;
    const char *where = "";
    for (size_t i = 0; i < data->species.count; i++) {
        const dw_species *s = &data->species.species[i];
        for (double t = 207.3; t < 5900.0; t *= 1.0173) {
            const double step = 0.002 * t;
            if (near_join(s, t, step)) continue;
            const state_point a = at(s, t - 2.0 * step), b = at(s, t - step), c = at(s, t),
                              d = at(s, t + step), e = at(s, t + 2.0 * step);
            const double from_h = slope(a.h, b.h, d.h, e.h, step);
            const double from_s = t * slope(a.s, b.s, d.s, e.s, step);
            assert_close(from_h, c.cp, 1e-7, 0.0);
            assert_close(from_s, c.cp, 1e-7, 0.0);
            const double off = fmax(fabs(from_h / c.cp - 1.0), fabs(from_s / c.cp - 1.0));
            if (off > worst) {
                worst = off;
                where = s->name;
            }
        }
    }
    print_message("cp against slopes: worst %.2g relative (%s)\n", worst, where);
}

static void entropy_is_the_integral_of_heat_capacity_over_temperature(void **state)
{
    const dw_data *data = *state;
    /* Gauss-Legendre, five points, in ln T. */
    static const double node[3] = {0.0, 0.5384693101056831, 0.9061798459386640};
    static const double weight[3] = {0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
    for (size_t i = 0; i < data->species.count; i++) {
        const dw_species *s = &data->species.species[i];
        for (int r = 0; r < s->range_count; r++) {
            const double low = r == 0 ? 200.0 : s->range[r].t_low_k, high = s->range[r].t_high_k;
            const int pieces = 40;
            const double width = log(high / low) / pieces;
            double sum_s = 0.0, sum_h = 0.0;
            for (int k = 0; k < pieces; k++) {
                for (int n = -2; n <= 2; n++) {
                    const double u = n < 0 ? -node[-n] : node[n];
                    const double t = low * exp(width * (k + 0.5 * (1.0 + u)));
                    const double share = 0.5 * width * weight[abs(n)] * at(s, t).cp;
                    sum_s += share;
                    sum_h += share * t;
                }
            }
            /* Just inside the range at both ends: joins are looked at below. */
            const state_point begin = at(s, low * (1.0 + 1e-12)), end = at(s, high);
            assert_close(sum_s, end.s - begin.s, 1e-8, 0.0);
            assert_close(sum_h, end.h - begin.h, 1e-8, 0.0);
        }
    }
}

static void values_join_between_ranges(void **state)
{
    const dw_data *data = *state;
    const double r = DW_R_NASA_J_MOL_K;
    size_t joins = 0;
    for (size_t i = 0; i < data->species.count; i++) {
        const dw_species *s = &data->species.species[i];
        for (int k = 0; k + 1 < s->range_count; k++) {
            const double t = s->range[k].t_high_k;
            const state_point below = at(s, t * (1.0 - 1e-12)), above = at(s, t * (1.0 + 1e-12));
            /* The published tables join to 5e-6 in cp/R and 1e-6 in h/RT and s/R. */
            assert_close(above.cp / r, below.cp / r, 0.0, 5.5e-6);
            assert_close(above.h / (r * t), below.h / (r * t), 0.0, 1.1e-6);
            assert_close(above.s / r, below.s / r, 0.0, 1.1e-6);
            joins++;
        }
    }
    assert_true(joins >= data->species.count);
}

static void enthalpy_at_reference_is_that_of_formation(void **state)
{
    const dw_data *data = *state;
    double worst_j_mol = 0.0;
    const char *where = "";
    for (size_t i = 0; i < data->species.count; i++) {
        const dw_species *s = &data->species.species[i];
        const double h_j_mol = at(s, DW_T_REFERENCE_K).h;
        assert_close(h_j_mol, s->h_formation_j_mol, 0.0, 0.2); /* printed b1 has ten digits */
        if (fabs(h_j_mol - s->h_formation_j_mol) > worst_j_mol) {
            worst_j_mol = fabs(h_j_mol - s->h_formation_j_mol);
            where = s->name;
        }
    }
    print_message("h(298.15 K) against formation: worst %.2g J/mol (%s)\n", worst_j_mol, where);
}

static void elements_in_their_reference_state_have_no_enthalpy(void **state)
{
    const dw_data *data = *state;
    static const char *const names[] = {"H2", "O2", "N2", "Ar", "C(gr)"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const int k = dw_species_find(&data->species, names[i]);
        assert_true(k >= 0);
        assert_close(at(&data->species.species[k], DW_T_REFERENCE_K).h, 0.0, 0.0, 0.2);
    }
}

static void heat_capacity_stays_between_physical_limits(void **state)
{
    const dw_data *data = *state;
    for (size_t i = 0; i < data->species.count; i++) {
        const dw_species *s = &data->species.species[i];
        double atoms = 0.0;
        for (int e = 0; e < DW_ELEMENT_COUNT; e++)
            atoms += s->atoms[e];
        /* At least three translations and the work of expansion, at most all vibrations full:
         * 3n - 6 of them, three rotations, 3/2 + 1, and a quarter more for anharmonic and
         * electronic shares. A solid has 3 per atom. */
        const double least = s->condensed ? 0.0 : 2.499;
        const double most = 1.25 * (s->condensed ? 3.0 * atoms : 3.0 * atoms + 1.0);
        for (double t = 300.0; t <= 3000.0; t += 61.7) {
            const double cp_r = at(s, t).cp / DW_R_NASA_J_MOL_K;
            if (!(cp_r >= least && cp_r <= most)) {
                fail_msg("%s: cp/R %.4f at %.1f K, expected %.3f to %.3f", s->name, cp_r, t, least,
                         most);
            }
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(heat_capacity_is_the_slope_of_enthalpy_and_entropy),
        cmocka_unit_test(entropy_is_the_integral_of_heat_capacity_over_temperature),
        cmocka_unit_test(values_join_between_ranges),
        cmocka_unit_test(enthalpy_at_reference_is_that_of_formation),
        cmocka_unit_test(elements_in_their_reference_state_have_no_enthalpy),
        cmocka_unit_test(heat_capacity_stays_between_physical_limits),
    };
    return cmocka_run_group_tests_name("thermodynamic functions", tests, set_up, tear_down);
}
