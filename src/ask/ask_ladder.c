/* The question about the reduction ladder. */
#include "diag.h"
#include "questions.h"
#include "report_oxides.h"
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

static dw_status climb(const dw_asking *a, rungs *r, bool chart)
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
    return dw_ware_boundaries(&a->engine->model, &r->rung[0].ware, r->boundary,
                              &r->boundary_count);
}

static dw_ladder_view view_of(const rungs *r, const dw_case *kiln, bool chart)
{
    return (dw_ladder_view){.temperature_k = r->ladder.mixer.potentials.temperature_k,
                            .composition_temperature_k = r->ladder.frozen.at.lean_k,
                            .composition_rich_k = r->ladder.frozen.at.rich_k,
                            .spread = r->ladder.mixer.spread,
                            .fuel = kiln->resolved.fuel.name,
                            .rung = r->rung,
                            .rung_count = DW_LADDER_RUNG_COUNT,
                            .curve = chart ? r->curve : NULL,
                            .curve_count = chart ? CURVE_COUNT : 0,
                            .boundary = r->boundary,
                            .boundary_count = r->boundary_count};
}

static dw_status build(dw_asking *a)
{
    rungs *r = a->state;
    const dw_kiln *kiln = &a->kiln->file.kiln;
    const bool chart = a->output.format == DW_FORMAT_HTML && a->w == NULL;
    char reason[DW_REASON_SIZE] = "";
    dw_status status = dw_ladder_init(&r->ladder, &a->engine->model, kiln, reason);
    if (status == DW_ERR_DOMAIN) {
        dw_build_ladder_refused(a->report, &a->source, reason);
        dw_diag_add(a->diag, DW_ERROR, "no-ladder", (dw_place){NULL, 0, 0}, "%s", reason);
        return DW_ERR_NO_CONVERGE;
    }
    if (status == DW_OK) status = climb(a, r, chart);
    if (status == DW_OK && a->w != NULL) {
        status = dw_working_ladder(kiln, &r->ladder, r->rung, DW_LADDER_RUNG_COUNT, a->w);
    }
    if (status != DW_OK) return dw_asked_sure(status);
    const dw_ladder_view view = view_of(r, a->kiln, chart);
    dw_build_ladder(a->report, &a->source, &view);
    return DW_OK;
}

static const char *const options[] = {NULL};

const dw_question_kind dw_question_ladder = {.name = "ladder",
                                             .kiln = DW_KILN_NEEDED,
                                             .has_working = true,
                                             .options = options,
                                             .state_size = sizeof(rungs),
                                             .build = build};
