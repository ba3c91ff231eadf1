/* The working of an exposure without a kiln: the air, and what dw_exposure_look() adds. */
#include <math.h>

#include "breath.h"

/* Highest level since the row of the course before: what it is before each stretch and after. */
static void put_highest(const dw_breath *b)
{
    double highest = 0.0;
    for (size_t i = 0; i < b->count; i++) {
        b->scratch[i] = highest;
        highest = b->course_row[i] == DW_BREATH_NO_ROW ? fmax(highest, b->step[i].peak_ppm) : 0.0;
    }
    dw_work_column(b->w, DW_WORK_STEP, "P_0",
                   "P_1 of the row before; 0 after a row of the course",
                   "ppm", b->scratch);
    for (size_t i = 0; i < b->count; i++) {
        b->scratch[i] = fmax(b->scratch[i], b->step[i].peak_ppm);
    }
    dw_work_column_is(b->w, "course.*.highest_ppm", "P_1",
                      "highest since the row of the report's course before", "ppm", "max(P_0, P)",
                      b->scratch, "definition");
}

static void put_air(const dw_breath *b, bool steady, double longest_gap_s, const dw_exposure *x)
{
    dw_working *w = b->w;
    dw_work_section(w, "The air");
    if (steady) {
        dw_work_put(w, DW_WORK_INPUT, "T_all", "how long the air was breathed", "s", x->duration_s);
    } else {
        dw_work_text(w, "Each stretch is the time between two readings, and the higher of the two "
                        "readings is used for it.");
    }
    dw_breath_stretches(b, "What was breathed");
    dw_breath_times(b, steady);
    for (size_t i = 0; i < b->count; i++) b->scratch[i] = b->step[i].mean_ppm;
    dw_work_column(w, DW_WORK_INPUT, "C_m", "carbon monoxide, mean of the stretch", "ppm",
                   b->scratch);
    for (size_t i = 0; i < b->count; i++) b->scratch[i] = b->step[i].peak_ppm;
    dw_work_column(w, DW_WORK_INPUT, "P", "the highest of it", "ppm", b->scratch);
    put_highest(b);
    dw_breath_doses(b);
    if (!steady) {
        dw_work_step_is(w, "exposure.duration_s", "T_all", "how long the air was breathed", "s",
                        "sum(t_1 - t_0)", x->duration_s, "definition");
        dw_work_step_is(w, "exposure.longest_gap_s", "t_gap", "longest time between two readings",
                        "s", "largest(t_1 - t_0)", longest_gap_s, "definition");
    }
    dw_work_step_is(w, "exposure.mean_ppm", "C_all", "mean over the whole time", "ppm",
                    "sum(C_m*(t_1 - t_0))/T_all", x->mean_ppm, "definition");
    dw_breath_peak(b, "exposure.peak_ppm ", x->peak_ppm);
}

dw_status dw_working_exposure(const dw_breath *breath, bool steady, double longest_gap_s, const dw_exposure *x)
{
    dw_breath b = *breath;
    if (b.count == 0 || b.count > DW_WORKING_STRETCH_MAX) return DW_ERR_ARG;
    dw_status status = dw_breath_begin(&b);
    if (status != DW_OK) return status;
    put_air(&b, steady, longest_gap_s, x);
    dw_exposure again;
    status = dw_exposure_look(&b, NULL, &again);
    dw_breath_end(&b);
    return status == DW_OK ? dw_working_status(b.w) : status;
}
