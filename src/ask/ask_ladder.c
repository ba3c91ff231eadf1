/* The question about the reduction ladder, and its working. */
#include <stdlib.h>

#include "diag.h"
#include "facade.h"
#include "report_oxides.h"
#include "report_working.h"
#include "working_ladder.h"

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

static dw_ladder_view view_of(const rungs *r, const dw_case *kiln, bool chart)
{
    return (dw_ladder_view){.temperature_k = r->ladder.mixer.potentials.temperature_k,
                            .composition_temperature_k = r->ladder.composition_temperature_k,
                            .spread = r->ladder.mixer.spread,
                            .fuel = kiln->resolved.fuel.name,
                            .rung = r->rung,
                            .rung_count = DW_LADDER_RUNG_COUNT,
                            .curve = chart ? r->curve : NULL,
                            .curve_count = chart ? CURVE_COUNT : 0,
                            .boundary = r->boundary,
                            .boundary_count = r->boundary_count};
}

/* The ladder, or its working with the ladder beside it. */
static dw_status build(const dw_case *kiln, const dw_report_source *source, const rungs *r,
                       bool working, dw_output output, dw_report *report)
{
    const dw_ladder_view view = view_of(r, kiln, output.format == DW_FORMAT_HTML && !working);
    if (!working) {
        dw_build_ladder(report, source, &view);
        return DW_OK;
    }
    dw_working *w = dw_working_create();
    dw_report *of = dw_report_create();
    dw_status status = w != NULL && of != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) {
        status = dw_working_ladder(&kiln->file.kiln, &r->ladder, r->rung, DW_LADDER_RUNG_COUNT, w);
    }
    if (status == DW_OK) {
        dw_build_ladder(of, source, &view);
        if (dw_report_failed(of)) status = DW_ERR_NOMEM;
    }
    if (status == DW_OK) {
        dw_build_working(report, source, w, NULL, of, dw_facade_units(output));
    }
    dw_report_destroy(of);
    dw_working_destroy(w);
    return status;
}

static dw_status answer(const dw_engine *engine, const dw_case *kiln, bool working, rungs *r,
                        dw_output output, dw_report *report, dw_diag_list *diag, char **text,
                        size_t *text_length)
{
    char reason[DW_REASON_SIZE] = "";
    const dw_report_source source = dw_facade_source(engine, kiln, "ladder");
    dw_status status = dw_ladder_init(&r->ladder, &engine->model, &kiln->file.kiln, reason);
    const bool refused = status == DW_ERR_DOMAIN;
    if (status == DW_OK) {
        status = climb(engine, r, output.format == DW_FORMAT_HTML && !working);
        if (status == DW_OK) status = build(kiln, &source, r, working, output, report);
    } else if (refused) {
        dw_build_ladder_refused(report, &source, reason);
    }
    if (status != DW_OK && !refused) return status;
    const dw_status written = dw_facade_write(report, output, text, text_length);
    if (written != DW_OK || !refused) return written;
    dw_diag_add(diag, DW_ERROR, "no-ladder", (dw_place){NULL, 0, 0}, "%s", reason);
    return DW_ERR_NO_CONVERGE;
}

static dw_status ladder(const dw_engine *engine, const dw_case *kiln, bool working,
                        dw_output output, dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    rungs *r = calloc(1, sizeof *r);
    dw_report *report = dw_report_create();
    dw_status status = DW_ERR_NOMEM;
    if (r != NULL && report != NULL) {
        status = answer(engine, kiln, working, r, output, report, diag, text, text_length);
    }
    dw_report_destroy(report);
    free(r);
    return status;
}

dw_status dw_case_ladder(const dw_engine *engine, const dw_case *kiln, dw_output output,
                         dw_diag_list *diag, char **text, size_t *text_length)
{
    return ladder(engine, kiln, false, output, diag, text, text_length);
}

dw_status dw_case_ladder_working(const dw_engine *engine, const dw_case *kiln, dw_output output,
                                 dw_diag_list *diag, char **text, size_t *text_length)
{
    return ladder(engine, kiln, true, output, diag, text, text_length);
}
