#include "root1d.h"

#include <float.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stddef.h>

enum { MAX_ITERATIONS = 200, STATE_DOUBLES = 32 };

/* Stands between the library and f. The library's answer to a value that is not finite, or to ends of
 * one sign, would be its error handler, which ends the process. So a bad value is handed on as zero and
 * the search is over; and the ends are handed on as they were found to differ in sign, because a function
 * that remembers where it was may come out a rounding error apart the second time. */
typedef struct guard {
    dw_function1 f;
    void *context;
    double low, f_low, high, f_high;
    int have_ends;
    double best_x, best_f;
    int evaluations;
    int failed;
} guard;

static double guarded(double x, void *context)
{
    guard *g = context;
    if (g->failed) return 0.0;
    if (g->have_ends && x == g->low) return g->f_low;
    if (g->have_ends && x == g->high) return g->f_high;
    const double f = g->f(x, g->context);
    g->evaluations++;
    if (!isfinite(f)) {
        g->failed = 1;
        return 0.0;
    }
    if (fabs(f) < fabs(g->best_f)) {
        g->best_x = x;
        g->best_f = f;
    }
    return f;
}

dw_status dw_root_find(dw_function1 f, void *context, double low, double high, double x_tol,
                       double f_tol, dw_root *root)
{
    if (root == NULL) return DW_ERR_ARG;
    *root = (dw_root){NAN, NAN, 0};
    if (f == NULL || !isfinite(low) || !isfinite(high) || !(low < high) || !(x_tol >= 0.0) ||
        !(f_tol >= 0.0)) {
        return DW_ERR_ARG;
    }
    guard g = {.f = f, .context = context, .low = low, .high = high, .best_f = INFINITY};
    const double f_low = guarded(low, &g), f_high = guarded(high, &g);
    g.f_low = f_low;
    g.f_high = f_high;
    g.have_ends = 1;
    root->evaluations = g.evaluations;
    if (g.failed) return DW_ERR_NO_CONVERGE;
    if ((f_low > 0.0 && f_high > 0.0) || (f_low < 0.0 && f_high < 0.0)) return DW_ERR_DOMAIN;
    if (fabs(g.best_f) <= f_tol) {
        *root = (dw_root){g.best_x, g.best_f, g.evaluations};
        return DW_OK;
    }

    /* The solver on the stack: no heap, so that running out of memory cannot reach the handler. */
    double state[STATE_DOUBLES];
    const gsl_root_fsolver_type *type = gsl_root_fsolver_brent;
    if (type->size > sizeof state) return DW_ERR_BUG;
    gsl_function function = {guarded, &g};
    gsl_root_fsolver solver = {.type = type, .function = NULL, .state = state};
    if (gsl_root_fsolver_set(&solver, &function, low, high) != GSL_SUCCESS) {
        return g.failed ? DW_ERR_NO_CONVERGE : DW_ERR_BUG;
    }
    for (int i = 0; i < MAX_ITERATIONS; i++) {
        if (gsl_root_fsolver_iterate(&solver) != GSL_SUCCESS || g.failed) {
            root->evaluations = g.evaluations;
            return DW_ERR_NO_CONVERGE;
        }
        const double width = solver.x_upper - solver.x_lower;
        if (width <= x_tol + 4.0 * DBL_EPSILON * fabs(solver.root) || fabs(g.best_f) <= f_tol) {
            *root = (dw_root){g.best_x, g.best_f, g.evaluations};
            return DW_OK;
        }
    }
    root->evaluations = g.evaluations;
    return DW_ERR_NO_CONVERGE;
}
