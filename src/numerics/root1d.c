#include "root1d.h"

#include <float.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>

enum { MAX_ITERATIONS = 200, STATE_DOUBLES = 32 };

/* Stands between the library and f. The library's answer to a value that is not finite, or to ends of
 * one sign, would be its error handler, which ends the process. So a bad value is handed on as zero and
 * the search is over; and the ends are handed on as they were found to differ in sign. */
typedef struct guard {
    dw_function1 f;
    void *context;
    dw_root_end low, high, best;
    int evaluations;
    bool failed;
} guard;

static double guarded(double x, void *context)
{
    guard *g = context;
    if (g->failed) return 0.0;
    if (x == g->low.x) return g->low.f;
    if (x == g->high.x) return g->high.f;
    const double f = g->f(x, g->context);
    g->evaluations++;
    if (!isfinite(f)) {
        g->failed = true;
        return 0.0;
    }
    if (fabs(f) < fabs(g->best.f)) g->best = (dw_root_end){x, f};
    return f;
}

static dw_status search(guard *g, double x_tol, double f_tol)
{
    /* The solver on the stack: no heap, so that running out of memory cannot reach the handler. */
    double state[STATE_DOUBLES];
    const gsl_root_fsolver_type *type = gsl_root_fsolver_brent;
    if (type->size > sizeof state) return DW_ERR_BUG;
    gsl_function function = {guarded, g};
    gsl_root_fsolver solver = {.type = type, .function = NULL, .state = state};
    if (gsl_root_fsolver_set(&solver, &function, g->low.x, g->high.x) != GSL_SUCCESS) {
        return DW_ERR_BUG;
    }
    for (int i = 0; i < MAX_ITERATIONS; i++) {
        if (gsl_root_fsolver_iterate(&solver) != GSL_SUCCESS || g->failed) return DW_ERR_NO_CONVERGE;
        const double width = solver.x_upper - solver.x_lower;
        if (width <= x_tol + 4.0 * DBL_EPSILON * fabs(solver.root) || fabs(g->best.f) <= f_tol) {
            return DW_OK;
        }
    }
    return DW_ERR_NO_CONVERGE;
}

dw_status dw_root_between(dw_function1 f, void *context, dw_root_end low, dw_root_end high,
                          double x_tol, double f_tol, dw_root *root)
{
    if (root == NULL) return DW_ERR_ARG;
    *root = (dw_root){NAN, NAN, 0};
    if (f == NULL || !isfinite(low.x) || !isfinite(high.x) || !(low.x < high.x) ||
        !isfinite(low.f) || !isfinite(high.f) || !(x_tol >= 0.0) || !(f_tol >= 0.0)) {
        return DW_ERR_ARG;
    }
    if ((low.f > 0.0 && high.f > 0.0) || (low.f < 0.0 && high.f < 0.0)) return DW_ERR_DOMAIN;
    guard g = {.f = f, .context = context, .low = low, .high = high};
    g.best = fabs(high.f) < fabs(low.f) ? high : low;
    const dw_status status = fabs(g.best.f) <= f_tol ? DW_OK : search(&g, x_tol, f_tol);
    root->evaluations = g.evaluations;
    if (status != DW_OK) return status;
    root->x = g.best.x;
    root->f = g.best.f;
    return DW_OK;
}

dw_status dw_root_find(dw_function1 f, void *context, double low, double high, double x_tol,
                       double f_tol, dw_root *root)
{
    if (root == NULL) return DW_ERR_ARG;
    *root = (dw_root){NAN, NAN, 0};
    if (f == NULL || !isfinite(low) || !isfinite(high) || !(low < high)) return DW_ERR_ARG;
    const dw_root_end a = {low, f(low, context)}, b = {high, f(high, context)};
    dw_status status = DW_ERR_NO_CONVERGE;
    if (isfinite(a.f) && isfinite(b.f)) {
        status = dw_root_between(f, context, a, b, x_tol, f_tol, root);
    }
    root->evaluations += 2;
    return status;
}
