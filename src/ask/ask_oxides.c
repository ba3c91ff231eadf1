/* The question about the ware: oxide states and iron in glazes. */
#include <stdlib.h>

#include "diag.h"
#include "glaze_reader.h"
#include "known_gas.h"
#include "questions.h"
#include "report_oxides.h"
#include "working_point.h"
#include "working_ware.h"

/** Everything about one state. */
typedef struct state {
    const dw_glaze *glazes;      /* those that are asked about: one, or all of the data */
    size_t glaze_count;
    dw_glaze one;
    dw_ware_given given;         /* without a kiln, as the next two                     */
    char asked[DW_KNOWN_GAS_SIZE];
    dw_matched_gas gas;
    dw_result result;
    dw_ware ware;
    dw_ware_boundary boundary[DW_BUFFER_MAX];
    int boundary_count;
    dw_ware_glaze glaze[DW_GLAZE_MAX];
    dw_oxides_table table;
} state;

/* ---- options ------------------------------------------------------------------------------ */

static dw_status read_glaze(const dw_asking *a, state *s)
{
    const char *text = dw_asked(a, "glaze");
    s->glazes = a->engine->data->glaze;
    s->glaze_count = a->engine->data->glaze_count;
    if (text == NULL) return DW_OK;
    const dw_status status = dw_glaze_from_text(a->engine->data, text, a->diag, &s->one);
    if (status != DW_OK) return status;
    s->glazes = &s->one;
    s->glaze_count = 1;
    if (s->one.outside[0] != '\0') {
        dw_diag_add(a->diag, DW_WARNING, "glaze-outside", (dw_place){"--glaze", 0, 0},
                    "the glaze has %s, which the formulas for its iron do not cover, so the state of its "
                    "iron is not given", s->one.outside);
    }
    return DW_OK;
}

static const char *const options[] = {"glaze", "at",     "log_po2",            "co_co2", "h2_h2o",
                                      "volts", "sensor", "sensor_temperature", "fuel",   NULL};

/* With a kiln the gas is the kiln's. */
static dw_status refuse_known_gas(const dw_asking *a)
{
    for (size_t i = 1; options[i] != NULL; ++i) {
        if (dw_asked(a, options[i]) == NULL) continue;
        dw_diag_add(a->diag, DW_ERROR, "gas-and-kiln", (dw_place){NULL, 0, 0},
                    "'%s' is for a gas without a kiln, and here is a kiln", options[i]);
        return DW_ERR_INPUT;
    }
    return DW_OK;
}

static dw_status read(dw_asking *a)
{
    state *s = a->state;
    dw_status status = DW_OK;
    if (a->kiln != NULL) {
        status = refuse_known_gas(a);
    } else {
        status = dw_known_temperatures(a, &a->axes);
        if (status == DW_OK) status = dw_known_gas_read(a, &s->given, s->asked);
    }
    return status == DW_OK ? read_glaze(a, s) : status;
}

/* ---- one state ---------------------------------------------------------------------------- */

/* Boundaries and glazes of the ware. */
static dw_status look(const dw_asking *a, state *s)
{
    for (size_t i = 0; i < s->glaze_count; ++i) {
        dw_ware_glaze_at(&s->glazes[i], &s->ware, &s->glaze[i]);
    }
    return dw_ware_boundaries(&a->engine->model, &s->ware, s->boundary, &s->boundary_count);
}

/* Steps of a kiln up to its oxygen, and the ware's. */
static dw_status work_out_kiln(const dw_asking *a, state *s)
{
    dw_solved *solved = malloc(sizeof *solved);
    if (solved == NULL) return DW_ERR_NOMEM;
    const dw_model *model = &a->engine->model;
    dw_work_rename_to_oxides(a->w, s->ware.given);
    dw_status status = dw_working_point_solved(model, &a->kiln->file.kiln, DW_WORK_TO_OXYGEN, a->w,
                                               solved, &s->result);
    dw_work_rename_keys(a->w, NULL, 0);
    if (status == DW_OK) {
        dw_working_ware(model, &s->ware, s->boundary, s->boundary_count, a->w);
        status = dw_working_ware_parcels(model, solved, &s->ware, a->w);
    }
    free(solved);
    return status;
}

static dw_status work_out_gas(dw_asking *a, state *s)
{
    const char *line =
        dw_report_keepf(a->steps, "%s at %.6g K", s->asked, s->ware.temperature_k);
    a->first_line = line != NULL ? line : "";
    const dw_model *model = &a->engine->model;
    const dw_status status = dw_working_ware_given(model, &s->ware, &s->given, &s->gas, a->w);
    if (status == DW_OK) {
        dw_working_ware(model, &s->ware, s->boundary, s->boundary_count, a->w);
    }
    return status;
}

static dw_status work_out(dw_asking *a, state *s)
{
    const dw_status status = a->kiln != NULL ? work_out_kiln(a, s) : work_out_gas(a, s);
    if (status != DW_OK) return status;
    dw_working_glazes(&s->ware, s->glaze, s->glaze_count, a->w);
    return dw_working_status(a->w);
}

/* The ware of a solved kiln; without one (NULL) at the temperature. */
static dw_status find_ware(const dw_asking *a, const dw_kiln *kiln, double temperature_k, state *s)
{
    const dw_engine *engine = a->engine;
    return dw_asked_sure(
        kiln != NULL ? dw_ware_of_point(&engine->model, kiln, &s->result, &s->ware)
                     : dw_known_gas_at(engine, &s->given, temperature_k, &s->gas, &s->ware));
}

static dw_status build(dw_asking *a)
{
    state *s = a->state;
    const bool has_kiln = a->kiln != NULL;
    const dw_kiln *kiln = has_kiln ? &a->kiln->file.kiln : NULL;
    const dw_status solved = has_kiln ? dw_asked_point(a, kiln, DW_EXTENT_GAS, &s->result) : DW_OK;
    if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) return solved;
    dw_oxides_view view = {.result = &s->result};
    if (solved == DW_OK) {
        dw_status status = find_ware(a, kiln, a->at[0], s);
        if (status == DW_OK) status = look(a, s);
        if (status == DW_OK && a->w != NULL) status = work_out(a, s);
        if (status != DW_OK) return dw_asked_sure(status);
        view = (dw_oxides_view){.result = has_kiln ? &s->result : NULL,
                                .ware = &s->ware,
                                .boundary = s->boundary,
                                .boundary_count = s->boundary_count,
                                .glaze = s->glaze,
                                .glaze_count = s->glaze_count,
                                .asked = has_kiln ? NULL : s->asked,
                                .given = has_kiln ? NULL : &s->given,
                                .gas = has_kiln ? NULL : &s->gas};
    }
    dw_build_oxides(a->report, &a->source, &view);
    return has_kiln ? dw_asked_findings(a, solved, &s->result) : DW_OK;
}

/* ---- rows --------------------------------------------------------------------------------- */

static void begin_rows(dw_asking *a)
{
    state *s = a->state;
    const bool has_kiln = a->kiln != NULL;
    dw_build_oxides_table(&s->table, a->report, &a->source, has_kiln ? a->axes.shown : NULL,
                          has_kiln ? a->axes.count : 0, s->glazes == &s->one ? &s->one : NULL,
                          has_kiln ? NULL : s->asked, has_kiln ? NULL : &s->given);
    a->table = s->table.table;
}

static dw_status add_row(dw_asking *a, const double *values, const dw_kiln *kiln)
{
    state *s = a->state;
    dw_status status = kiln != NULL ? dw_asked_point(a, kiln, DW_EXTENT_GAS, &s->result) : DW_OK;
    if (status == DW_ERR_NO_CONVERGE) {
        dw_build_oxides_row(&s->table, values, NULL, NULL, NULL, NULL, s->result.reason);
        return status;
    }
    if (status == DW_OK) status = find_ware(a, kiln, values[0], s);
    if (status != DW_OK) return status;
    if (s->glazes == &s->one) dw_ware_glaze_at(&s->one, &s->ware, &s->glaze[0]);
    dw_build_oxides_row(&s->table, values, kiln != NULL ? &s->result : NULL,
                        kiln != NULL ? NULL : &s->gas, &s->ware, &s->glaze[0], NULL);
    return DW_OK;
}

static dw_status end_rows(dw_asking *a)
{
    dw_oxides_table *t = &((state *)a->state)->table;
    dw_build_oxides_table_end(t);
    return dw_asked_unsolved_rows(a, t->row_count, t->solved_count);
}

const dw_question_kind dw_question_oxides = {.name = "oxides",
                                             .kiln = DW_KILN_MAYBE,
                                             .has_working = true,
                                             .options = options,
                                             .state_size = sizeof(state),
                                             .read = read,
                                             .build = build,
                                             .begin_rows = begin_rows,
                                             .add_row = add_row,
                                             .end_rows = end_rows};
