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

#endif
