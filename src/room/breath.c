/* What is breathed, stretch by stretch, as tables of a working. */
#include "breath.h"

#include <stdlib.h>

dw_status dw_breath_begin(dw_breath *b)
{
    b->scratch = calloc(b->count + 1, sizeof *b->scratch);
    b->level = calloc(b->count + 1, sizeof *b->level);
    if (b->scratch != NULL && b->level != NULL) return DW_OK;
    dw_breath_end(b);
    return DW_ERR_NOMEM;
}

void dw_breath_end(dw_breath *b)
{
    free(b->level);
    free(b->scratch);
    b->level = b->scratch = NULL;
}

const char *dw_breath_keys(dw_working *w, const char *list, const char *field, const bool *holds,
                            size_t count)
{
    const char *keys = "";
    for (size_t i = 0; i < count; i++) {
        if (!holds[i]) continue;
        keys = dw_work_keepf(w, "%s%s%s.%zu.%s", keys, keys[0] == '\0' ? "" : " ", list, i, field);
    }
    return keys;
}

void dw_breath_stretches(const dw_breath *b, const char *title)
{
    dw_work_table_begin(b->w, title, "stretch", b->count);
    for (size_t i = 0; i < b->count; i++) {
        dw_work_row(b->w, i, "%zu", i + 1);
        if (b->course_row[i] == DW_BREATH_NO_ROW) {
            dw_work_row_key(b->w, i, "%s", "");
        } else {
            dw_work_row_key(b->w, i, "%ld", b->course_row[i]);
        }
    }
}

void dw_breath_limit_table(const dw_breath *b, const char *title, const size_t *limit, size_t count)
{
    dw_work_table_begin(b->w, title, "limit", count);
    for (size_t i = 0; i < count; i++) {
        const dw_co_limit *l = &b->co->limit[limit[i]];
        dw_work_row(b->w, i, "%zu %.10s %.14s", limit[i] + 1, l->body, l->name);
        dw_work_row_key(b->w, i, "%zu", limit[i]);
    }
}

/* As they are shown; the steps' own ends are the values. */
static const dw_law even_begin_law = {"t_0", "beginning", "s", "definition", "T_all*(k - 1.0)/n_t"};
static const dw_law even_end_law = {"t_1", "end", "s", "definition", "T_all*k/n_t"};
DW_LAW(dose_after, "D_1", "dose breathed to the end of the stretch", "ppm s", "definition",
       (double D_0, double C_m, double t_1, double t_0), D_0 + C_m * (t_1 - t_0))

double dw_breath_dose(double before, double mean_ppm, double until_s, double from_s)
{
    return dose_after(before, mean_ppm, until_s, from_s);
}

void dw_breath_times(const dw_breath *b, bool even)
{
    dw_working *w = b->w;
    if (even) {
        for (size_t i = 0; i < b->count; i++) b->scratch[i] = (double)(i + 1);
        dw_work_put(w, DW_WORK_CONSTANT, "n_t", "stretches of equal length", "", (double)b->count);
        dw_work_column(w, DW_WORK_CONSTANT, "k", "number of the stretch", "", b->scratch);
    }
    for (size_t i = 0; i <= b->count; i++) b->scratch[i] = dw_breath_from_s(b, i);
    if (even) {
        dw_law_column(w, "", NULL, NULL, &even_begin_law, b->scratch);
        dw_law_column(w, "course.*.time_s", NULL, NULL, &even_end_law, b->scratch + 1);
    } else {
        dw_work_column(w, DW_WORK_INPUT, "t_0", "beginning", "s", b->scratch);
        dw_work_column(w, DW_WORK_INPUT, "t_1", "end", "s", b->scratch + 1);
    }
}

void dw_breath_doses(const dw_breath *b)
{
    b->scratch[0] = 0.0;
    for (size_t i = 0; i < b->count; i++) {
        b->scratch[i + 1] = dose_after(b->scratch[i], b->step[i].mean_ppm, b->step[i].until_s,
                                       dw_breath_from_s(b, i));
    }
    dw_work_column(b->w, DW_WORK_STEP, "D_0", "dose breathed before: D_1 of the row before", "ppm s",
                   b->scratch);
    dw_law_column(b->w, "", NULL, NULL, &dose_after_law, b->scratch + 1);
}

void dw_breath_peak(const dw_breath *b, const char *keys, double peak_ppm)
{
    bool ceiling[DW_CO_LIMIT_MAX] = {false};
    for (size_t i = 0; i < b->co->limit_count; i++) ceiling[i] = b->co->limit[i].over_s <= 0.0;
    dw_work_step_is(b->w,
                    dw_work_keepf(b->w, "%s%s", keys,
                                  dw_breath_keys(b->w, "limits", "mean_ppm", ceiling, b->co->limit_count)),
                    "C_peak", "highest level in the whole time", "ppm", "largest(P)", peak_ppm, "definition");
}
