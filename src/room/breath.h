#ifndef DW_BREATH_H
#define DW_BREATH_H

/**
 * @file breath.h
 * Parts of exposure.h: the blood, and tables of stretches of time that a room and an exposure share. Keys begin
 * with "limits.", "alarms.", "people." and "course." alike in both reports.
 *
 * Layer: room. Not for others.
 */

#include "exposure.h"

/** The blood at every activity and when its effects are reached, as dw_exposure_look(): fills those parts of x. */
DW_MUST_CHECK
dw_status dw_breath_blood(const dw_breath *b, double *cohb_frac, dw_exposure *x);

/** Where a step begins. */
static inline double dw_breath_from_s(const dw_breath *b, size_t i)
{
    return i > 0 ? b->step[i - 1].until_s : 0.0;
}

/** Dose [ppm s] at the end of a stretch, from the one before. */
double dw_breath_dose(double before, double mean_ppm, double until_s, double from_s);

/** Begins the table of stretches of time, named and keyed by the rows of the course. */
void dw_breath_stretches(const dw_breath *b, const char *title);

/** Columns t_0 and t_1 as numbers put in; or, with steps of equal length, as steps of T_all. */
void dw_breath_times(const dw_breath *b, bool even);

/** Dose of the table begun last, from t_0, t_1, C_m: columns D_0, D_1. */
void dw_breath_doses(const dw_breath *b);

/** C_peak from the column P, for the limits that may never be exceeded and other keys. */
void dw_breath_peak(const dw_breath *b, const char *keys, double peak_ppm);

/** Begins a table of limits. */
void dw_breath_limit_table(const dw_breath *b, const char *title, const size_t *limit, size_t count);

/** Keys "<list>.<index>.<field>" of the entries of a list for which one holds, spaces between. */
const char *dw_breath_keys(dw_working *w, const char *list, const char *field, const bool *holds, size_t count);

#endif
