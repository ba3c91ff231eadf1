/* The questions about the ware: oxide states, iron in glazes, the reduction ladder. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "axes.h"
#include "constants.h"
#include "diag.h"
#include "glaze_reader.h"
#include "oxygen_ratio.h"
#include "probe.h"
#include "report_oxides.h"
#include "vary_range.h"

/* ---- glazes ------------------------------------------------------------------------------- */

/** The glazes that are asked about: one, or all of the data. */
typedef struct glazes {
    dw_glaze one;
    const dw_glaze *first;
    size_t count;
} glazes;

static dw_status read_glazes(const dw_engine *engine, const char *text, dw_diag_list *diag,
                             glazes *g)
{
    g->first = engine->data.glaze;
    g->count = engine->data.glaze_count;
    if (text == NULL) return DW_OK;
    const dw_status status = dw_glaze_from_text(&engine->data, text, diag, &g->one);
    if (status != DW_OK) return status;
    g->first = &g->one;
    g->count = 1;
    if (g->one.outside[0] != '\0') {
        dw_diag_add(diag, DW_WARNING, "glaze-outside", (dw_place){"--glaze", 0, 0},
                    "%s in the glaze: the formulas for its iron were made without, so it is not "
                    "given", g->one.outside);
    }
    return DW_OK;
}

/* ---- one state ---------------------------------------------------------------------------- */

/** Everything about one state; too much for a thread's stack. */
typedef struct state {
    glazes glazes;
    dw_result result;
    dw_ware ware;
    dw_ware_boundary boundary[DW_BUFFER_MAX];
    int boundary_count;
    dw_ware_glaze glaze[DW_GLAZE_MAX];
} state;

/* Boundaries and glazes of the ware that stands in the state. */
static dw_status look_closer(const dw_engine *engine, state *s)
{
    for (size_t i = 0; i < s->glazes.count; ++i) {
        dw_ware_glaze_at(&s->glazes.first[i], &s->ware, &s->glaze[i]);
    }
    return dw_ware_boundaries(&engine->model, &s->ware, s->boundary, &s->boundary_count);
}

static dw_oxides_view view_of(const state *s)
{
    return (dw_oxides_view){.ware = &s->ware,
                            .boundary = s->boundary,
                            .boundary_count = s->boundary_count,
                            .glaze = s->glaze,
                            .glaze_count = s->glazes.count};
}

static dw_status case_oxides(const dw_engine *engine, const dw_case *kiln, state *s,
                             dw_output output, dw_report *report, dw_diag_list *diag, char **text,
                             size_t *text_length)
{
    const dw_report_source source = dw_facade_source(engine, kiln, "oxides");
    const dw_status solved = dw_facade_solve(engine, kiln, &s->result);
    if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) return solved;
    dw_oxides_view view = {.result = &s->result};
    if (solved == DW_OK) {
        dw_status status =
            dw_ware_of_point(&engine->model, &kiln->file.kiln, &s->result, &s->ware);
        if (status == DW_OK) status = look_closer(engine, s);
        if (status != DW_OK) return status == DW_ERR_DOMAIN ? DW_ERR_BUG : status;
        view = view_of(s);
        view.result = &s->result;
    }
    dw_build_oxides(report, &source, &view);
    const dw_status status = dw_facade_write(report, output, text, text_length);
    if (status != DW_OK) return status;
    if (solved != DW_OK) {
        dw_diag_add(diag, DW_ERROR, "not-solved", (dw_place){NULL, 0, 0}, "%s", s->result.reason);
        return solved;
    }
    return dw_facade_findings(kiln, &s->result, diag);
}

dw_status dw_case_oxides(const dw_engine *engine, const dw_case *kiln, const char *glaze,
                         dw_output output, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    state *s = calloc(1, sizeof *s);
    dw_report *report = dw_report_create();
    dw_status status = s != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = read_glazes(engine, glaze, diag, &s->glazes);
    if (status == DW_OK) {
        status = case_oxides(engine, kiln, s, output, report, diag, text, text_length);
    }
    dw_report_destroy(report);
    free(s);
    return status;
}

/* ---- along a sweep ------------------------------------------------------------------------ */

typedef struct walk {
    dw_axes axes;
    dw_case at;
    state state;
    dw_oxides_table table;
} walk;

static dw_status walk_points(walk *w, const dw_engine *engine, const dw_case *kiln,
                             bool one_glaze, dw_progress progress, void *user,
                             dw_diag_list *diag)
{
    for (size_t n = 0; n < w->axes.total; ++n) {
        double value[DW_AXES_MAX];
        state *s = &w->state;
        w->at = *kiln;
        dw_axes_put(&w->axes, n, &w->at.file.kiln, value);
        dw_status status = dw_facade_solve(engine, &w->at, &s->result);
        if (status == DW_ERR_NO_CONVERGE) {
            dw_build_oxides_row(&w->table, value, NULL, NULL, NULL, s->result.reason);
        } else if (status == DW_OK) {
            status = dw_ware_of_point(&engine->model, &w->at.file.kiln, &s->result, &s->ware);
            if (status != DW_OK) return status == DW_ERR_DOMAIN ? DW_ERR_BUG : status;
            if (one_glaze) dw_ware_glaze_at(&s->glazes.one, &s->ware, &s->glaze[0]);
            dw_build_oxides_row(&w->table, value, &s->result, &s->ware, &s->glaze[0], NULL);
        } else {
            return status;
        }
        if (dw_report_failed(w->table.report)) return DW_ERR_NOMEM;
        if (progress != NULL && progress(user, n + 1, w->axes.total) != 0 &&
            n + 1 < w->axes.total) {
            dw_diag_add(diag, DW_WARNING, "stopped", (dw_place){NULL, 0, 0},
                        "stopped after %zu of %zu points", n + 1, w->axes.total);
            break;
        }
    }
    return DW_OK;
}

dw_status dw_case_oxides_sweep(const dw_engine *engine, const dw_case *kiln, const dw_vary *vary,
                               size_t vary_count, const char *glaze, dw_output output,
                               dw_progress progress, void *user, dw_diag_list *diag, char **text,
                               size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    walk *w = calloc(1, sizeof *w);
    dw_report *report = dw_report_create();
    dw_status status = w != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = read_glazes(engine, glaze, diag, &w->state.glazes);
    if (status == DW_OK) status = dw_axes_read(kiln, vary, vary_count, diag, &w->axes);
    if (status == DW_OK) {
        const dw_report_source source = dw_facade_source(engine, kiln, "oxides");
        dw_build_oxides_table(&w->table, report, &source, w->axes.shown, w->axes.count,
                              glaze != NULL ? &w->state.glazes.one : NULL, NULL);
        status = walk_points(w, engine, kiln, glaze != NULL, progress, user, diag);
    }
    if (status == DW_OK) {
        dw_build_oxides_table_end(&w->table);
        status = dw_facade_write(report, output, text, text_length);
    }
    if (status == DW_OK && w->table.solved_count == 0) status = DW_ERR_NO_CONVERGE;
    if (status == DW_OK && w->table.solved_count < w->table.row_count) {
        dw_diag_add(diag, DW_WARNING, "unsolved-in-sweep", (dw_place){NULL, 0, 0},
                    "%zu of %zu points have no solution; their rows say why",
                    w->table.row_count - w->table.solved_count, w->table.row_count);
    }
    dw_report_destroy(report);
    if (w != NULL) dw_axes_free(&w->axes);
    free(w);
    return status;
}

/* ---- without a kiln ----------------------------------------------------------------------- */

/** One of the ways to say how much oxygen there is. */
typedef enum oxygen_kind { BY_LOG, BY_CO_CO2, BY_VOLTS, BY_H2_H2O, KIND_COUNT } oxygen_kind;

static const struct {
    const char *option, *before, *after;
    dw_dim dim;
    double low, high;
} kinds[KIND_COUNT] = {
    [BY_LOG] = {"--log-po2", "log10 pO2 ", "", DW_DIM_NUMBER, -40.0, 1.0},
    [BY_CO_CO2] = {"--co-co2", "CO/CO2 ", "", DW_DIM_NUMBER, 1.0e-9, 1.0e9},
    [BY_VOLTS] = {"--volts", "probe ", " V", DW_DIM_VOLTAGE, -0.2, 1.6},
    [BY_H2_H2O] = {"--h2-h2o", "H2/H2O ", "", DW_DIM_NUMBER, 1.0e-9, 1.0e9}};

typedef struct query {
    oxygen_kind kind;
    double value;
    double *temperature_k;   /* owned */
    size_t count;
    char asked[80];
} query;

static dw_status read_oxygen(const dw_oxides_request *request, dw_diag_list *diag, query *q)
{
    const char *const texts[KIND_COUNT] = {[BY_LOG] = request->log_po2,
                                           [BY_CO_CO2] = request->co_co2,
                                           [BY_VOLTS] = request->volts,
                                           [BY_H2_H2O] = request->h2_h2o};
    int given = 0;
    for (int i = 0; i < KIND_COUNT; ++i) {
        if (texts[i] == NULL) continue;
        q->kind = (oxygen_kind)i;
        ++given;
    }
    if (given != 1) {
        dw_diag_add(diag, DW_ERROR, "one-oxygen", (dw_place){NULL, 0, 0},
                    "--at needs one of --log-po2, --co-co2, --volts and --h2-h2o");
        return DW_ERR_INPUT;
    }
    const char *text = texts[q->kind];
    char message[DW_QUANTITY_MESSAGE_SIZE];
    dw_status status = dw_quantity_from_text(text, strlen(text), kinds[q->kind].dim, &q->value,
                                             message);
    if (status != DW_OK && kinds[q->kind].dim != DW_DIM_NUMBER) {
        /* Volts are what everybody means. */
        char bare[DW_QUANTITY_MESSAGE_SIZE];
        if (dw_quantity_from_text(text, strlen(text), DW_DIM_NUMBER, &q->value, bare) == DW_OK) {
            status = DW_OK;
        }
    }
    if (status == DW_OK && !(q->value >= kinds[q->kind].low && q->value <= kinds[q->kind].high)) {
        (void)snprintf(message, sizeof message, "is %.40s, expected %g to %g", text,
                       kinds[q->kind].low, kinds[q->kind].high);
        status = DW_ERR_INPUT;
    }
    if (status == DW_ERR_INPUT) {
        dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){kinds[q->kind].option, 0, 0}, "%s",
                    message);
    }
    if (status == DW_OK) {
        (void)snprintf(q->asked, sizeof q->asked, "%s%g%s", kinds[q->kind].before, q->value,
                       kinds[q->kind].after);
    }
    return status;
}

static dw_status read_temperatures(const dw_oxides_request *request, dw_diag_list *diag, query *q)
{
    if (request->at == NULL) {
        dw_diag_add(diag, DW_ERROR, "no-temperature", (dw_place){NULL, 0, 0},
                    "without a kiln a temperature is needed: --at '1240 degC'");
        return DW_ERR_INPUT;
    }
    char message[DW_VARY_MESSAGE_SIZE];
    const dw_status status =
        dw_vary_range_parse(request->at, DW_DIM_TEMPERATURE, 773.15, 1973.15, &q->temperature_k,
                            &q->count, message);
    if (status == DW_ERR_INPUT) {
        dw_diag_add(diag, DW_ERROR, "bad-value", (dw_place){"--at", 0, 0}, "'%.100s': %s",
                    request->at, message);
    }
    return status;
}

static dw_status ware_of_query(const dw_engine *engine, const query *q, double temperature_k,
                               dw_ware *ware)
{
    dw_oxygen_ratio constants;
    const dw_status status =
        dw_oxygen_ratio_at(&engine->model.gases, temperature_k, &constants);
    if (status != DW_OK) return status;
    double log10_po2 = q->value;
    if (q->kind == BY_CO_CO2) log10_po2 = dw_oxygen_from_co_co2(&constants, q->value);
    if (q->kind == BY_H2_H2O) log10_po2 = dw_oxygen_from_h2_h2o(&constants, q->value);
    if (q->kind == BY_VOLTS) {
        log10_po2 = dw_probe_log10_po2_bar(q->value, temperature_k, DW_ATM_PA);
    }
    return dw_ware_at(&engine->model, temperature_k, DW_ATM_PA, log10_po2, ware);
}

static dw_status answer_query(const dw_engine *engine, const query *q, bool one_glaze, state *s,
                              dw_report *report)
{
    const dw_report_source source = dw_facade_source(engine, NULL, "oxides");
    if (q->count == 1) {
        dw_status status = ware_of_query(engine, q, q->temperature_k[0], &s->ware);
        if (status == DW_OK) status = look_closer(engine, s);
        if (status != DW_OK) return status;
        dw_oxides_view view = view_of(s);
        view.asked = q->asked;
        dw_build_oxides(report, &source, &view);
        return DW_OK;
    }
    dw_oxides_table table;
    dw_build_oxides_table(&table, report, &source, NULL, 0, one_glaze ? &s->glazes.one : NULL,
                          q->asked);
    for (size_t i = 0; i < q->count; ++i) {
        const dw_status status = ware_of_query(engine, q, q->temperature_k[i], &s->ware);
        if (status != DW_OK) return status;
        if (one_glaze) dw_ware_glaze_at(&s->glazes.one, &s->ware, &s->glaze[0]);
        dw_build_oxides_row(&table, &q->temperature_k[i], NULL, &s->ware, &s->glaze[0], NULL);
    }
    dw_build_oxides_table_end(&table);
    return DW_OK;
}

dw_status dw_oxides_write(const dw_engine *engine, const dw_oxides_request *request,
                          dw_output output, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
    if (engine == NULL || request == NULL || text == NULL || text_length == NULL) {
        return DW_ERR_ARG;
    }
    query q = {.kind = BY_LOG, .temperature_k = NULL};
    state *s = calloc(1, sizeof *s);
    dw_report *report = dw_report_create();
    dw_status status = s != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) status = read_temperatures(request, diag, &q);
    if (status == DW_OK) status = read_oxygen(request, diag, &q);
    if (status == DW_OK) status = read_glazes(engine, request->glaze, diag, &s->glazes);
    if (status == DW_OK) {
        status = answer_query(engine, &q, request->glaze != NULL, s, report);
    }
    if (status == DW_OK) status = dw_facade_write(report, output, text, text_length);
    free(q.temperature_k);
    dw_report_destroy(report);
    free(s);
    return status;
}

/* ---- ladder ------------------------------------------------------------------------------- */

enum { CURVE_COUNT = 201 };
static const double curve_from = 0.9, curve_to = 1.4;

typedef struct rungs {
    dw_ladder ladder;
    dw_rung rung[DW_LADDER_RUNG_COUNT];
    dw_rung curve[CURVE_COUNT];
    dw_ware_boundary boundary[DW_BUFFER_MAX];
    int boundary_count;
} rungs;

static dw_status climb(const dw_engine *engine, rungs *r, bool chart)
{
    for (int i = 0; i < DW_LADDER_RUNG_COUNT; ++i) {
        const dw_status status = dw_ladder_rung(&r->ladder, dw_ladder_ratio[i], &r->rung[i]);
        if (status != DW_OK) return status;
    }
    for (int i = 0; i < CURVE_COUNT && chart; ++i) {
        const double phi = curve_from + (curve_to - curve_from) * i / (CURVE_COUNT - 1);
        const dw_status status = dw_ladder_rung(&r->ladder, phi, &r->curve[i]);
        if (status != DW_OK) return status;
    }
    return dw_ware_boundaries(&engine->model, &r->rung[0].ware, r->boundary, &r->boundary_count);
}

dw_status dw_case_ladder(const dw_engine *engine, const dw_case *kiln, dw_output output,
                         dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    rungs *r = calloc(1, sizeof *r);
    dw_report *report = dw_report_create();
    dw_status status = r != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    char reason[DW_REASON_SIZE] = "";
    const dw_report_source source = dw_facade_source(engine, kiln, "ladder");
    bool refused = false;
    if (status == DW_OK) {
        status = dw_ladder_init(&r->ladder, &engine->model, &kiln->file.kiln, reason);
        refused = status == DW_ERR_DOMAIN;
    }
    const bool chart = output.format == DW_FORMAT_HTML;
    if (status == DW_OK) status = climb(engine, r, chart);
    if (status == DW_OK) {
        const dw_ladder_view view = {
            .temperature_k = r->ladder.mixer.potentials.temperature_k,
            .composition_temperature_k = r->ladder.composition_temperature_k,
            .spread = r->ladder.mixer.spread,
            .fuel = kiln->resolved.fuel.name,
            .rung = r->rung,
            .rung_count = DW_LADDER_RUNG_COUNT,
            .curve = chart ? r->curve : NULL,
            .curve_count = chart ? CURVE_COUNT : 0,
            .boundary = r->boundary,
            .boundary_count = r->boundary_count};
        dw_build_ladder(report, &source, &view);
    } else if (refused) {
        dw_build_ladder_refused(report, &source, reason);
    }
    if (status == DW_OK || refused) {
        const dw_status written = dw_facade_write(report, output, text, text_length);
        if (written != DW_OK) {
            status = written;
        } else if (refused) {
            dw_diag_add(diag, DW_ERROR, "no-ladder", (dw_place){NULL, 0, 0}, "%s", reason);
            status = DW_ERR_NO_CONVERGE;
        }
    }
    dw_report_destroy(report);
    free(r);
    return status;
}
