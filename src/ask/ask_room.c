/* The question about a kiln in its room. */
#include <math.h>
#include <stdlib.h>

#include "diag.h"
#include "questions.h"
#include "lighting.h"
#include "report_room.h"
#include "show_number.h"
#include "working_point.h"
#include "working_room.h"

typedef struct state {
    dw_room_course course;
    dw_lighting lighting;
    dw_room_table table;
} state;

static dw_status read(dw_asking *a)
{
    if (a->kiln->file.kiln.room.present) return DW_OK;
    dw_diag_add(a->diag, DW_ERROR, "no-room", (dw_place){NULL, 0, 0},
                "the description has no 'room'; give at least room.volume and "
                "room.air_changes_per_hour or room.ventilation_flow");
    return DW_ERR_INPUT;
}

/* Not solved is an answer, whatever the reason. */
static dw_status find_course(const dw_asking *a, const dw_kiln *kiln, dw_spread spread,
                             dw_room_course *course)
{
    bool given[DW_DOUBT_COUNT];
    dw_doubt_given(&a->source, given);
    const dw_status status = dw_room_course_find(&a->engine->model, kiln, given, spread, course);
    return status == DW_ERR_DOMAIN ? DW_ERR_NO_CONVERGE : status;
}

/* ---- working ------------------------------------------------------------------------------ */

/** What it needs beside the answer; too much for a thread's stack. */
typedef struct job {
    dw_kiln kiln;              /* as read, at the room's pressure */
    dw_solved solved;
    dw_result result;
    dw_lighting lighting;
    dw_work_rename keys[DW_WORK_ROOM_KEY_MAX];
} job;

static dw_status write_steps(const dw_asking *a, const state *s, job *j)
{
    const dw_model *model = &a->engine->model;
    const dw_kiln *as_read = &a->kiln->file.kiln;
    const dw_room_result *room = &s->course.room;
    dw_working *w = a->w;
    j->kiln = *as_read;
    /* A kiln that does not feel its room was solved without it. */
    if (room->kiln_feels_it && !room->pressure_given) {
        j->kiln.site.room_pressure_pa = room->pressure_pa;
    }
    const size_t count = dw_working_room_keys(room, &s->course.kiln, w, j->keys);
    dw_work_rename_keys(w, j->keys, count);
    dw_status status = dw_working_point_solved(model, &j->kiln, DW_WORK_TO_GAS, w, &j->solved,
                                               &j->result);
    dw_work_rename_keys(w, NULL, 0);
    if (status == DW_OK) {
        j->kiln.site.room_pressure_pa = as_read->site.room_pressure_pa;
        status = dw_working_room(model, &j->kiln, &j->solved, &j->result, room, w);
    }
    if (status == DW_OK && room->unknown == DW_CO_KNOWN) {
        status = dw_working_room_course(&a->engine->data->co, &a->kiln->resolved, &s->course, w);
    }
    if (status == DW_OK && s->lighting.solved) {
        status = dw_lighting_look(model, as_read, &s->course.kiln, w, &j->lighting);
    }
    return dw_asked_sure(status);
}

static dw_status work_out(const dw_asking *a, const state *s)
{
    job *j = calloc(1, sizeof *j);
    const dw_status status = j != NULL ? write_steps(a, s, j) : DW_ERR_NOMEM;
    free(j);
    return status;
}

/* ---- one room ----------------------------------------------------------------------------- */

/* The verdict in a line. */
static void add_verdict(const dw_room_course *course, dw_diag_list *diag)
{
    if (course->verdict == DW_VERDICT_LOW) return;
    const bool danger = course->verdict == DW_VERDICT_DANGEROUS;
    const char *code = danger ? "co-dangerous" : "co-raised";
    /* Cold flames alone: the figure is low, and not all of it. */
    const dw_grade grade =
        !danger && course->lift == DW_LIFT_COLD ? DW_WARNING : DW_HAZARD;
    if (course->room.unknown != DW_CO_KNOWN) {
        dw_diag_add(diag, grade, code, (dw_place){NULL, 0, 0},
                    "how much carbon monoxide comes into the room is not known; treat it as dangerous: "
                    "people out, gas off, room doors open");
        return;
    }
    char end[DW_SHOWN_SIZE], high[DW_SHOWN_SIZE];
    const dw_number end_ppm = dw_number_plain(course->end_ppm, 3);
    const dw_number high_ppm = dw_number_plain(course->high_ppm, 3);
    dw_show_bare(&end_ppm, DW_UNITS_METRIC, end);
    dw_show_bare(&high_ppm, DW_UNITS_METRIC, high);
    const bool spread = isfinite(course->high_ppm);
    dw_diag_add(diag, grade, code, (dw_place){NULL, 0, 0},
                "%s estimate of carbon monoxide in the room: %s ppm%s%s; an estimate is not a "
                "measurement, keep a CO alarm and the ventilation on",
                dw_verdict_text(course->verdict), end, spread ? ", up to " : " or more",
                spread ? high : "");
}

static dw_status build(dw_asking *a)
{
    state *s = a->state;
    const dw_status solved = find_course(a, &a->kiln->file.kiln, DW_SPREAD_FULL, &s->course);
    if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) return solved;
    dw_status status = dw_asked_sure(
        dw_lighting_look(&a->engine->model, &a->kiln->file.kiln, &s->course.kiln, NULL, &s->lighting));
    if (status == DW_OK && solved == DW_OK && a->w != NULL) status = work_out(a, s);
    if (status != DW_OK) return status;
    dw_build_room(a->report, &a->source, &s->course, &s->lighting);
    if (solved != DW_OK) return dw_asked_not_solved(a, s->course.room.reason);
    add_verdict(&s->course, a->diag);
    return dw_asked_findings(a, DW_OK, &s->course.kiln);
}

/* ---- rows --------------------------------------------------------------------------------- */

static void begin_rows(dw_asking *a)
{
    state *s = a->state;
    dw_build_room_sweep(&s->table, a->report, &a->source, a->axes.shown, a->axes.count);
    a->table = s->table.table;
}

static dw_status add_row(dw_asking *a, const double *values, const dw_kiln *kiln)
{
    state *s = a->state;
    const dw_status status = find_course(a, kiln, DW_SPREAD_FOR_VERDICT, &s->course);
    if (status == DW_OK || status == DW_ERR_NO_CONVERGE) {
        dw_build_room_sweep_row(&s->table, values, &s->course);
    }
    return status;
}

static dw_status end_rows(dw_asking *a)
{
    dw_room_table *t = &((state *)a->state)->table;
    dw_build_room_sweep_end(t);
    const size_t bad = t->verdict_count[DW_VERDICT_DANGEROUS];
    if (bad > 0) {
        dw_diag_add(a->diag, DW_HAZARD, "co-dangerous", (dw_place){NULL, 0, 0},
                    "%zu of %zu settings have a dangerous estimate of carbon monoxide in the "
                    "room; an estimate is not a measurement, keep a CO alarm and the ventilation on",
                    bad, t->row_count);
    }
    return t->solved_count > 0 ? DW_OK : DW_ERR_NO_CONVERGE;
}

static const char *const options[] = {NULL};

const dw_question_kind dw_question_room = {.name = "room",
                                           .kiln = DW_KILN_NEEDED,
                                           .has_working = true,
                                           .options = options,
                                           .state_size = sizeof(state),
                                           .read = read,
                                           .build = build,
                                           .begin_rows = begin_rows,
                                           .add_row = add_row,
                                           .end_rows = end_rows};
