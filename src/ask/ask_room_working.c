/* The working of the question about the room. */
#include <math.h>
#include <stdlib.h>

#include "diag.h"
#include "facade.h"
#include "report_room.h"
#include "report_working.h"
#include "room_question.h"
#include "working_point.h"
#include "working_room.h"
#include "working_room_course.h"

/** What it needs beside the answer; too much for a thread's stack. */
typedef struct job {
    dw_room_answer answer;
    dw_kiln kiln;              /* as read, at the room's pressure */
    dw_solved solved;
    dw_result result;
    dw_work_rename keys[DW_WORK_ROOM_KEY_MAX];
} job;

static dw_status work_out(const dw_engine *engine, const dw_case *kiln, job *j, dw_working *w)
{
    const dw_model *model = &engine->model;
    const dw_room_course *course = &j->answer.course;
    const dw_room_result *room = &course->room;
    j->kiln = kiln->file.kiln;
    /* A kiln that does not feel its room was solved without it. */
    if (room->kiln_feels_it && !room->pressure_given) {
        j->kiln.site.room_pressure_pa = room->pressure_pa;
    }
    const size_t count = dw_working_room_keys(room, &course->kiln, w, j->keys);
    dw_work_rename_keys(w, j->keys, count);
    dw_status status = dw_working_point_solved(model, &j->kiln, DW_WORK_TO_GAS, w, &j->solved,
                                               &j->result);
    dw_work_rename_keys(w, NULL, 0);
    if (status == DW_OK) {
        j->kiln.site.room_pressure_pa = kiln->file.kiln.site.room_pressure_pa;
        status = dw_working_room(model, &j->kiln, &j->solved, &j->result, room, w);
    }
    if (status == DW_OK && room->unknown == DW_CO_KNOWN) {
        status = dw_working_room_course(&engine->data.co, &kiln->resolved, course, w);
    }
    if (status == DW_OK) {
        status = dw_working_lighting(model, &j->kiln, &j->solved, &j->result,
                                     &j->answer.lighting, w);
    }
    return status == DW_ERR_DOMAIN || status == DW_ERR_NO_CONVERGE ? DW_ERR_BUG : status;
}

static dw_status write_down(const dw_engine *engine, const dw_case *kiln, job *j,
                            dw_output output, dw_report *report, dw_diag_list *diag, char **text,
                            size_t *text_length)
{
    const dw_report_source source = dw_facade_source(engine, kiln, "room");
    const dw_status solved = dw_room_answer_find(engine, kiln, &source, &j->answer);
    if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) return solved;
    if (solved != DW_OK) {
        dw_build_room(report, &source, &j->answer.course, &j->answer.lighting);
        const dw_status status = dw_facade_write(report, output, text, text_length);
        if (status != DW_OK) return status;
        return dw_room_answer_findings(kiln, &j->answer, solved, diag);
    }
    dw_working *w = dw_working_create();
    dw_report *of = dw_report_create();
    dw_status status = w != NULL && of != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = work_out(engine, kiln, j, w);
    if (status == DW_OK) {
        dw_build_room(of, &source, &j->answer.course, &j->answer.lighting);
        if (dw_report_failed(of)) status = DW_ERR_NOMEM;
    }
    if (status == DW_OK) {
        dw_build_working(report, &source, w, NULL, of, dw_facade_units(output));
        status = dw_facade_write(report, output, text, text_length);
    }
    dw_report_destroy(of);
    dw_working_destroy(w);
    return status == DW_OK ? dw_room_answer_findings(kiln, &j->answer, solved, diag) : status;
}

dw_status dw_case_room_working(const dw_engine *engine, const dw_case *kiln, dw_output output,
                               dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    if (!kiln->file.kiln.room.present) return dw_room_missing(diag);
    job *j = calloc(1, sizeof *j);
    dw_report *report = dw_report_create();
    dw_status status = DW_ERR_NOMEM;
    if (j != NULL && report != NULL) {
        status = write_down(engine, kiln, j, output, report, diag, text, text_length);
    }
    dw_report_destroy(report);
    free(j);
    return status;
}
