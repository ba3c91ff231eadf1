/* The question about an operating point, and about many of them. */
#include "diag.h"
#include "questions.h"
#include "doubt.h"
#include "working_point.h"

/** What the report borrows. */
typedef struct state {
    dw_result result;
    dw_doubt doubt;
    dw_damper_words damper;
    dw_ware ware;
    dw_sweep_table table;
} state;

static dw_status solve(dw_asking *a, dw_result *result)
{
    const dw_kiln *kiln = &a->kiln->file.kiln;
    if (a->w == NULL) return dw_asked_point(a, kiln, DW_EXTENT_SLOPES, result);
    const dw_status status = dw_working_point(&a->engine->model, kiln, a->w, result);
    return status == DW_ERR_DOMAIN ? DW_ERR_NO_CONVERGE : status;
}

/* What is looked at beside a solved point. */
static dw_status look_around(dw_asking *a, state *s)
{
    const dw_model *model = &a->engine->model;
    const dw_kiln *kiln = &a->kiln->file.kiln;
    bool given[DW_DOUBT_COUNT];
    dw_doubt_given(&a->source, given);
    dw_status status =
        dw_doubt_find(model, kiln, s->result.equivalence_ratio, given, &s->doubt);
    if (status != DW_OK) return status;
    a->source.doubt = &s->doubt;
    if (a->w != NULL) {
        dw_doubt_sum(&s->doubt, s->result.equivalence_ratio, a->w);
        return dw_working_status(a->w);
    }
    status = dw_damper_words_find(model, kiln, &s->damper);
    if (status == DW_OK) status = dw_ware_of_point(model, kiln, &s->result, &s->ware);
    a->source.damper = &s->damper;
    a->source.ware = &s->ware;
    return status;
}

static dw_status build(dw_asking *a)
{
    state *s = a->state;
    const dw_status solved = solve(a, &s->result);
    if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) return solved;
    const dw_status status = solved == DW_OK ? dw_asked_sure(look_around(a, s)) : DW_OK;
    if (status != DW_OK) return status;
    dw_build_estimate(a->report, &a->source, &s->result);
    return dw_asked_findings(a, solved, &s->result);
}

/* ---- rows --------------------------------------------------------------------------------- */

static void begin_rows(dw_asking *a)
{
    state *s = a->state;
    a->source.command = "sweep";
    dw_build_sweep(&s->table, a->report, &a->source, a->axes.shown, a->axes.count);
    a->table = s->table.table;
}

static dw_status add_row(dw_asking *a, const double *values, const dw_kiln *kiln)
{
    state *s = a->state;
    const dw_status status = dw_asked_point(a, kiln, DW_EXTENT_DAMPER, &s->result);
    if (status == DW_OK || status == DW_ERR_NO_CONVERGE) {
        dw_build_sweep_row(&s->table, values, &s->result);
    }
    return status;
}

static dw_status end_rows(dw_asking *a)
{
    dw_sweep_table *t = &((state *)a->state)->table;
    const dw_place nowhere = {NULL, 0, 0};
    dw_build_sweep_end(t);
    if (t->hazard_count > 0) {
        dw_diag_add(a->diag, DW_HAZARD, "hazards-in-sweep", nowhere,
                    "%zu of %zu points have a hazard; estimate at that setting says which, and "
                    "what to do", t->hazard_count, t->row_count);
    }
    if (t->warning_count > 0) {
        dw_diag_add(a->diag, DW_WARNING, "warnings-in-sweep", nowhere,
                    "%zu of %zu points have a warning; estimate at that setting says which",
                    t->warning_count, t->row_count);
    }
    return dw_asked_unsolved_rows(a, t->row_count, t->solved_count);
}

static const char *const options[] = {NULL};

const dw_question_kind dw_question_estimate = {.name = "estimate",
                                               .kiln = DW_KILN_NEEDED,
                                               .has_working = true,
                                               .options = options,
                                               .state_size = sizeof(state),
                                               .build = build,
                                               .begin_rows = begin_rows,
                                               .add_row = add_row,
                                               .end_rows = end_rows};
