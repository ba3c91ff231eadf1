#ifndef DW_REPORT_EXPOSURE_H
#define DW_REPORT_EXPOSURE_H

/**
 * @file report_exposure.h
 * Builder: a person in air with carbon monoxide, without a kiln.
 *
 * Layer: report. As reports.h.
 */

#include "exposure.h"
#include "read_series.h"
#include "outputs.h"
#include "reports.h"
#include "room_course.h"

/** What is reported. All borrowed. */
typedef struct dw_exposure_source {
    const dw_exposure *exposure;
    const dw_exposure_person *person;
    const dw_exposure_step *step;     /**< what was breathed                              */
    size_t step_count;
    const double *cohb_frac;          /**< after each step, at the activity that counts   */
    const dw_series *series;          /**< NULL: a steady level                           */
    const char *series_name;          /**< NULL without one                               */
    bool symptoms;                    /**< somebody feels ill, or an alarm sounded        */
} dw_exposure_source;

/** What to do first when somebody feels ill or an alarm sounds: before everything else. */
void dw_build_first_aid(dw_report *report);

/** With symptoms: what to do first, then the numbers. */
void dw_build_exposure(dw_report *report, const dw_report_source *source,
                       const dw_exposure_source *x);

/* ---- shared with the report of a room: verdict, limits, alarms, blood ---------------------- */

/** "40 min", "2.3 h", "3 days"; "never" for an infinite time. Kept by the tree. */
const char *dw_people_duration(dw_report *report, double seconds);

/** First lines of the screen: "Verdict  dangerous estimate", and why: because, or what that word means
 *  when it is NULL. */
void dw_build_verdict(dw_report *report, dw_item *screen, dw_verdict verdict,
                      const char *because);

/** Line of the screen: the limit that decided or came nearest, and what it was compared with; the
 *  upper end of a spread is said to be one. */
void dw_build_deciding_limit(dw_report *report, dw_item *screen, const dw_co_data *co,
                             const dw_exposure *x, bool upper_end);

/** Lines of the screen: carboxyhaemoglobin, alarm. */
void dw_build_blood_line(dw_report *report, dw_item *screen, const dw_co_data *co,
                         const dw_exposure *x);
void dw_build_alarm_line(dw_report *report, dw_item *screen, const dw_co_data *co,
                         const dw_exposure *x);

/** Tables and sections, JSON keys `limits`, `alarms`, `people`. course is NULL without a room. Where x is NULL
 *  the exposure is not known: the keys are all there, every number of it null, and nothing of it is in
 *  the text. */
void dw_build_limits(dw_report *report, const dw_data *data, const dw_exposure *x,
                     const dw_room_course *course);
void dw_build_alarms(dw_report *report, const dw_data *data, const dw_exposure *x);
void dw_build_people(dw_report *report, const dw_data *data, const dw_exposure *x,
                     const dw_exposure_person *person);

/** What the numbers about people rest on. */
void dw_build_people_notes(dw_report *report, dw_item *prose, const dw_co_data *co,
                           const dw_exposure *x, const dw_exposure_person *person);

/** A sentence behind a grade word, in the text and in the list `diagnostics`. */
void dw_build_notice(dw_report *report, dw_item *prose, dw_item *list, dw_grade grade,
                     const char *code, const char *text);

/** The same for what an operating point was found to be; named: with the name of what it is about. */
void dw_build_finding(dw_report *report, dw_item *prose, dw_item *list, const dw_kiln *kiln,
                      const dw_finding *finding, bool named);

#endif
