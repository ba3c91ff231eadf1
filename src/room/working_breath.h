#ifndef DW_WORKING_BREATH_H
#define DW_WORKING_BREATH_H

/**
 * @file working_breath.h
 * The working of air with carbon monoxide and the person in it: parts that a room and an exposure
 * without a kiln share.
 *
 * Layer: room. Not for others: see working_exposure.h and working_room_course.h. Keys begin with
 * "limits.", "alarms.", "people." and "course." alike in both reports.
 */

#include "exposure.h"
#include "working_parts.h"

/** No row of the report's course ends with this step. */
#define DW_WORK_NO_ROW (-1L)


typedef struct dw_work_breath {
    dw_working *w;
    const dw_co_data *co;
    const dw_exposure_person *person;
    const dw_exposure *x;            /**< of these steps                                       */
    const dw_exposure_step *step;
    size_t count;                    /**< of working_exposure.h at most                         */
    const long *course_row;          /**< for each step: row of the report's course, or none    */
    bool from_start;                 /**< row 0 of the course is the beginning, not a step        */
    double *scratch;                 /**< count of them, for columns                           */
    double *dose;                    /**< count + 1: ppm s from the beginning to each step      */
} dw_work_breath;

/** Room for the scratch of a breath, and the doses of its steps. @retval DW_OK, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_work_breath_begin(dw_work_breath *b);
void dw_work_breath_end(dw_work_breath *b);

/** Begins the table of stretches of time, named and keyed by the rows of the course. */
void dw_work_stretches(const dw_work_breath *b, const char *title);

/** Columns t_0 and t_1 as numbers put in; or, with steps of equal length, as steps of T_all. */
void dw_work_times(const dw_work_breath *b, bool even);

/** Dose of the table begun last, from t_0, t_1, C_m: columns D_0, D_1. */
void dw_work_doses(const dw_work_breath *b);

/** Highest means, times at which limits are used up, alarms. Needs D_0 D_1 C_m t_0 P T_all C_peak.
 *  @retval DW_OK, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_work_limits(const dw_work_breath *b);

/** The blood at every activity, and when its effects are reached. Needs t_0 t_1 C_m.
 *  @retval DW_OK, DW_ERR_NOMEM, DW_ERR_DOMAIN (the person) */
DW_MUST_CHECK
dw_status dw_work_blood(const dw_work_breath *b);

/** Keys "<list>.<index>.<field>" of the entries of a list for which one holds, spaces between. */
const char *dw_work_keys_of(dw_working *w, const char *list, const char *field, const bool *holds,
                            size_t count);

/** Where a step begins. */
static inline double dw_work_from_s(const dw_work_breath *b, size_t i)
{
    return i > 0 ? b->step[i - 1].until_s : 0.0;
}

#endif
