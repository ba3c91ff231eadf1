#include "working_exposure.h"

#include <math.h>
#include <string.h>

#include "working_breath.h"

/* Highest level since the row of the course before: what it is before each stretch and after. */
static void put_highest(const dw_work_breath *b)
{
    double highest = 0.0;
    for (size_t i = 0; i < b->count; i++) {
        b->scratch[i] = highest;
        highest = b->course_row[i] == DW_WORK_NO_ROW ? fmax(highest, b->step[i].peak_ppm) : 0.0;
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

static void put_air(const dw_work_breath *b, const dw_work_air *air)
{
    dw_working *w = b->w;
    const dw_exposure *x = b->x;
    dw_work_section(w, "The air");
    if (air->steady) {
        dw_work_put(w, DW_WORK_INPUT, "T_all", "how long the air was breathed", "s", x->duration_s);
    } else {
        dw_work_text(w, "Each stretch is the time between two readings, and the higher of the two "
                        "readings is used for it.");
    }
    dw_work_stretches(b, "What was breathed");
    dw_work_times(b, air->steady);
    for (size_t i = 0; i < b->count; i++) b->scratch[i] = b->step[i].mean_ppm;
    dw_work_column(w, DW_WORK_INPUT, "C_m", "carbon monoxide, mean of the stretch", "ppm",
                   b->scratch);
    for (size_t i = 0; i < b->count; i++) b->scratch[i] = b->step[i].peak_ppm;
    dw_work_column(w, DW_WORK_INPUT, "P", "the highest of it", "ppm", b->scratch);
    put_highest(b);
    dw_work_doses(b);
    if (!air->steady) {
        dw_work_step_is(w, "exposure.duration_s", "T_all", "how long the air was breathed", "s",
                        "sum(t_1 - t_0)", x->duration_s, "definition");
        dw_work_step_is(w, "exposure.longest_gap_s", "t_gap", "longest time between two readings",
                        "s", "largest(t_1 - t_0)", air->longest_gap_s, "definition");
    }
    dw_work_step_is(w, "exposure.mean_ppm", "C_all", "mean over the whole time", "ppm",
                    "sum(C_m*(t_1 - t_0))/T_all", x->mean_ppm, "definition");
    bool ceiling[DW_CO_LIMIT_MAX] = {false};
    for (size_t i = 0; i < b->co->limit_count; i++) ceiling[i] = b->co->limit[i].over_s <= 0.0;
    dw_work_step_is(w, dw_work_keepf(w, "exposure.peak_ppm %s",
                                     dw_work_keys_of(w, "limits", "mean_ppm", ceiling,
                                                     b->co->limit_count)),
                    "C_peak", "highest level in the whole time", "ppm", "largest(P)", x->peak_ppm,
                    "definition");
}

dw_status dw_working_exposure(const dw_co_data *co, const dw_exposure_person *person,
                              const dw_exposure *x, const dw_work_air *air, dw_working *w)
{
    if (air->count == 0 || air->count > DW_WORKING_STRETCH_MAX) return DW_ERR_ARG;
    dw_work_breath b = {.w = w, .co = co, .person = person, .x = x, .step = air->step,
                        .count = air->count, .course_row = air->course_row};
    dw_status status = dw_work_breath_begin(&b);
    if (status != DW_OK) return status;
    put_air(&b, air);
    status = dw_work_limits(&b);
    if (status == DW_OK) status = dw_work_blood(&b);
    dw_work_breath_end(&b);
    return status;
}
