/* What rooms and exposures share: stretches of time and what is breathed in them. */
#include "working_breath.h"

#include <stdlib.h>

dw_status dw_work_breath_begin(dw_work_breath *b)
{
    b->scratch = calloc(b->count, sizeof *b->scratch);
    b->dose = calloc(b->count + 1, sizeof *b->dose);
    if (b->scratch == NULL || b->dose == NULL) {
        dw_work_breath_end(b);
        return DW_ERR_NOMEM;
    }
    for (size_t i = 0; i < b->count; i++) {
        b->dose[i + 1] =
            b->dose[i] + (b->step[i].until_s - dw_work_from_s(b, i)) * b->step[i].mean_ppm;
    }
    return DW_OK;
}

void dw_work_breath_end(dw_work_breath *b)
{
    free(b->dose);
    free(b->scratch);
    b->dose = b->scratch = NULL;
}

const char *dw_work_keys_of(dw_working *w, const char *list, const char *field, const bool *holds,
                            size_t count)
{
    const char *keys = "";
    for (size_t i = 0; i < count; i++) {
        if (!holds[i]) continue;
        keys = dw_work_keepf(w, "%s%s%s.%zu.%s", keys, keys[0] == '\0' ? "" : " ", list, i, field);
    }
    return keys;
}

void dw_work_stretches(const dw_work_breath *b, const char *title)
{
    dw_work_table_begin(b->w, title, "stretch", b->count);
    for (size_t i = 0; i < b->count; i++) {
        dw_work_row(b->w, i, "%zu", i + 1);
        if (b->course_row[i] == DW_WORK_NO_ROW) {
            dw_work_row_key(b->w, i, "%s", "");
        } else {
            dw_work_row_key(b->w, i, "%ld", b->course_row[i]);
        }
    }
}

void dw_work_times(const dw_work_breath *b, bool even)
{
    dw_working *w = b->w;
    if (even) {
        for (size_t i = 0; i < b->count; i++) b->scratch[i] = (double)(i + 1);
        dw_work_put(w, DW_WORK_CONSTANT, "n_t", "stretches of equal length", "",
                    (double)b->count);
        dw_work_column(w, DW_WORK_CONSTANT, "k", "number of the stretch", "", b->scratch);
    }
    for (size_t i = 0; i < b->count; i++) b->scratch[i] = dw_work_from_s(b, i);
    if (even) {
        dw_work_column_is(w, "", "t_0", "beginning", "s", "T_all*(k - 1)/n_t", b->scratch,
                          "definition");
    } else {
        dw_work_column(w, DW_WORK_INPUT, "t_0", "beginning", "s", b->scratch);
    }
    for (size_t i = 0; i < b->count; i++) b->scratch[i] = b->step[i].until_s;
    if (even) {
        dw_work_column_is(w, "course.*.time_s", "t_1", "end", "s", "T_all*k/n_t", b->scratch,
                          "definition");
    } else {
        dw_work_column(w, DW_WORK_INPUT, "t_1", "end", "s", b->scratch);
    }
}

void dw_work_doses(const dw_work_breath *b)
{
    dw_work_column(b->w, DW_WORK_STEP, "D_0", "dose breathed before: D_1 of the row before",
                   "ppm s",
                   b->dose);
    dw_work_column_is(b->w, "", "D_1", "dose breathed to the end of the stretch", "ppm s",
                      "D_0 + C_m*(t_1 - t_0)", b->dose + 1, "definition");
}
