#ifndef DW_EXPOSURE_H
#define DW_EXPOSURE_H

/**
 * @file exposure.h
 * A person in air with carbon monoxide for a while: against limits, alarms, and in the blood.
 *
 * Layer: room. No state; the caller owns the steps. Only a working allocates.
 *
 * Careful in one direction only: before the first step and after the last nothing is assumed but that
 * the mean over the time there is holds for the rest of a longer averaging time too; an activity
 * that is not given is the worst of all; a level that is just reached counts as exceeded.
 */

#include "carboxyhaemoglobin.h"
#include "kiln.h"

/** One stretch of time at one mean level. */
typedef struct dw_exposure_step {
    double until_s;   /**< end; the first begins at 0; rising                               */
    double mean_ppm;  /**< over the stretch                                                 */
    double peak_ppm;  /**< highest in it, >= mean                                           */
} dw_exposure_step;

/** Who breathes it. */
typedef struct dw_exposure_person {
    dw_room_activity activity;
    bool smoker;
    double height_m, mass_kg;   /**< NaN: the mean adult                                    */
    bool female;
    double barometric_pa_abs;   /**< NaN: as in the data                                    */
} dw_exposure_person;

/** Air on its way into a person. All borrowed. */
typedef struct dw_breath {
    const dw_co_data *co;               /**< limits, alarms, people                                  */
    const dw_exposure_person *person;
    const dw_exposure_step *step;       /**< count > 0; until_s rising, ppm 0..1e6                   */
    size_t count;
    /* For a working, else NULL; see dw_breath_begin(). */
    dw_working *w;
    const long *course_row;             /**< for each step: row of the report's course, or none      */
    bool from_start;                    /**< row 0 of the course is the beginning, not a step        */
    double *scratch, *level;            /**< work space, count + 1                                   */
} dw_breath;

/** No row of the report's course ends with this step. */
#define DW_BREATH_NO_ROW (-1L)

/** Most stretches of time that a working is made of. */
enum { DW_WORKING_STRETCH_MAX = 5000 };

/** An exposure and one limit. */
typedef struct dw_limit_finding {
    double mean_ppm;       /**< highest mean over the averaging time, or over the whole exposure when
                                that is shorter; the peak when it may never be exceeded             */
    bool exceeded;
    double crossed_s;      /**< when the dose that the limit allows in its averaging time was used up;
                                infinite: not within the exposure                                    */
} dw_limit_finding;

typedef enum dw_verdict { DW_VERDICT_LOW, DW_VERDICT_RAISED, DW_VERDICT_DANGEROUS } dw_verdict;

/** "low", "raised", "dangerous". */
const char *dw_verdict_text(dw_verdict verdict);

typedef struct dw_exposure {
    double duration_s;
    double mean_ppm, peak_ppm;
    dw_verdict verdict;
    int decided_by;                          /**< index of the limit that decided; -1: the blood, or none */
    int nearest;                             /**< index of the limit with the highest mean / ppm           */
    dw_limit_finding limit[DW_CO_LIMIT_MAX]; /**< in the order of the data                                 */
    double alarm_may_s[DW_CO_ALARM_MAX];     /**< each row: earliest sound; infinite                       */
    double alarm_must_s[DW_CO_ALARM_MAX];    /**< latest; infinite: need not sound                         */
    double start_frac;
    double end_frac[DW_ACTIVITY_COUNT];      /**< carboxyhaemoglobin at the end, each activity             */
    double peak_frac[DW_ACTIVITY_COUNT];     /**< highest on the way                                       */
    dw_activity activity;                    /**< the one that counts: given, or the worst                 */
    double effect_s[DW_CO_EFFECT_MAX];       /**< time until each level of the data, that activity; infinite */
    bool outside_promise;                    /**< smaller or lighter than the numbers hold for             */
} dw_exposure;

/** Does a step end a row of a course of about two dozen rows, evenly over the time? Asked for each step
 *  in turn; row begins at 1 and is carried along. The last step always does. */
bool dw_exposure_ends_row(const dw_exposure_step *steps, size_t count, size_t index, int *row);

/** The person of the equation at an activity; w: what does not depend on it is written there. @retval DW_OK, DW_ERR_DOMAIN (size or pressure out of
 *  range; size_is_bad says which) */
DW_MUST_CHECK
dw_status dw_exposure_cohb(const dw_co_data *co, const dw_exposure_person *person,
                           dw_activity activity, dw_working *w, dw_cohb *out);

/**
 * Looks at an exposure.
 *
 * Means over an averaging time are the largest of any window of that length (exact: a step holds
 * its mean); carboxyhaemoglobin goes step by step through the full equation.
 *
 * A verdict is dangerous when a limit of kind danger is exceeded, or carboxyhaemoglobin rises to
 * the data's level for it; raised when any other limit is exceeded or its level for that is reached by rising; else
 * low. Low means that the estimate is low, and nothing more.
 *
 * With a working, its steps: highest means, times at which limits are used up, alarms, blood. Needs a table with
 * t_0 C_m P, and T_all C_peak.
 *
 * @param[in]  breath     not NULL.
 * @param[out] cohb_frac  NULL, or without a working gets count + 1 values: carboxyhaemoglobin at the start and
 *                        after each step, at the activity that counts.
 * @param[out] out        not NULL.
 * @retval DW_OK, DW_ERR_ARG, DW_ERR_DOMAIN (a step, the person's size or the air pressure is out of
 *         range)
 *
 * @par Source      [cfk1965], [co-limits], [co-alarms].
 * @par Checked by  tests/unit/room/test_exposure.c, tests/consistency/test_room_laws.c
 */
DW_MUST_CHECK
dw_status dw_exposure_look(const dw_breath *breath, double *cohb_frac, dw_exposure *out);

/** Work space for a working. @retval DW_OK, DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_breath_begin(dw_breath *breath);
void dw_breath_end(dw_breath *breath);

/**
 * The working of an exposure without a kiln.
 *
 * @param[in] breath         with a new working.
 * @param[in] steady         one level held, in steps of equal length; else readings.
 * @param[in] longest_gap_s  of readings.
 * @param[in] x              as dw_exposure_look() has it for this air and person.
 * @retval DW_OK, DW_ERR_ARG (too many steps), DW_ERR_DOMAIN (the person), DW_ERR_NOMEM, DW_ERR_BUG
 * @par Checked by  tests/unit/room/test_working_exposure.c, tests/golden/test_working_commands.py
 */
DW_MUST_CHECK
dw_status dw_working_exposure(const dw_breath *breath, bool steady, double longest_gap_s, const dw_exposure *x);

#endif
