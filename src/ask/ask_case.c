#include "damperwise.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "built_in.h"
#include "diag.h"
#include "facade.h"
#include "finding_text.h"
#include "writers.h"

const char *dw_version(void)
{
    return DW_VERSION;
}

dw_status dw_engine_create(const char *config_dir, dw_diag_list *diag, dw_engine **engine)
{
    if (engine == NULL) return DW_ERR_ARG;
    *engine = NULL;
    dw_engine *e = calloc(1, sizeof *e);
    if (e == NULL) return DW_ERR_NOMEM;
    dw_status status = dw_built_in_read(config_dir, diag, &e->data);
    if (status == DW_OK) {
        status = dw_model_init(&e->model, &e->data);
        if (status != DW_OK) {
            dw_diag_add(diag, DW_ERROR, "data-incomplete", (dw_place){"species.yaml", 0, 0},
                        "a gas that the model needs is missing from the table of species");
        }
    }
    if (status != DW_OK) {
        free(e);
        return status;
    }
    *engine = e;
    return DW_OK;
}

void dw_engine_destroy(dw_engine *engine)
{
    free(engine);
}

dw_status dw_case_read(const dw_engine *engine, const char *file, const char *text, size_t length,
                       const dw_setting *settings, size_t setting_count, dw_diag_list *diag,
                       dw_case **kiln)
{
    if (kiln == NULL) return DW_ERR_ARG;
    *kiln = NULL;
    if (engine == NULL || file == NULL || text == NULL || (settings == NULL && setting_count > 0)) {
        return DW_ERR_ARG;
    }
    dw_case *c = calloc(1, sizeof *c);
    if (c == NULL) return DW_ERR_NOMEM;
    const dw_status status = dw_read_kiln(&engine->data, file, text, length, settings,
                                          setting_count, diag, &c->file);
    if (status != DW_OK) {
        free(c);
        return status;
    }
    c->resolved = c->file.kiln;
    dw_kiln_resolve(&c->resolved);
    *kiln = c;
    return DW_OK;
}

void dw_case_destroy(dw_case *kiln)
{
    free(kiln);
}

/* ---- writing ------------------------------------------------------------------------------ */

dw_unit_system dw_facade_units(dw_output output)
{
    return output.units == DW_SHOW_US ? DW_UNITS_US : DW_UNITS_METRIC;
}

dw_status dw_facade_write(const dw_report *report, dw_output output, char **text,
                          size_t *text_length)
{
    dw_strbuf out;
    dw_strbuf_init(&out);
    dw_status status = DW_ERR_ARG;
    switch (output.format) {
    case DW_FORMAT_TEXT: status = dw_write_text(report, dw_facade_units(output), &out); break;
    case DW_FORMAT_JSON: status = dw_write_json(report, &out); break;
    case DW_FORMAT_CSV: status = dw_write_csv(report, dw_facade_units(output), &out); break;
    case DW_FORMAT_HTML: status = dw_write_html(report, dw_facade_units(output), &out); break;
    }
    const size_t length = out.length;
    char *taken = status == DW_OK ? dw_strbuf_take(&out) : NULL;
    if (status == DW_OK && taken == NULL) status = DW_ERR_NOMEM;
    dw_strbuf_free(&out);
    *text = taken;
    *text_length = taken != NULL ? length : 0;
    return status;
}

bool dw_facade_begin(const dw_engine *engine, const dw_case *kiln, char **text, size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
    return engine != NULL && kiln != NULL && text != NULL && text_length != NULL;
}

dw_report_source dw_facade_source(const dw_engine *engine, const dw_case *kiln,
                                  const char *command)
{
    return (dw_report_source){.version = DW_VERSION,
                              .command = command,
                              .data = &engine->data,
                              .file = kiln != NULL ? &kiln->file : NULL,
                              .kiln = kiln != NULL ? &kiln->resolved : NULL};
}

void dw_text_free(char *text)
{
    free(text);
}

/* ---- estimate and check ------------------------------------------------------------------- */

dw_status dw_facade_solve(const dw_engine *engine, const dw_case *kiln, dw_result *result)
{
    const dw_status status = dw_operating_point(&engine->model, &kiln->file.kiln, result);
    return status == DW_ERR_DOMAIN ? DW_ERR_NO_CONVERGE : status;
}

dw_status dw_facade_findings(const dw_case *kiln, const dw_result *result, dw_diag_list *diag)
{
    if (diag == NULL) return DW_OK;
    dw_report *scratch = dw_report_create();
    dw_strbuf line;
    dw_strbuf_init(&line);
    for (int code = 0; code < DW_FINDING_CODE_COUNT; ++code) {
        dw_finding_words words;
        const dw_item *item =
            dw_finding_brief(scratch, dw_report_root(scratch), NULL, &kiln->resolved, result,
                             (dw_finding_code)code);
        if (item == NULL || !dw_finding_words_of((dw_finding_code)code, &words)) continue;
        dw_write_plain(item, DW_UNITS_METRIC, &line);
        if (line.text != NULL) {
            dw_diag_add(diag, words.grade, words.code, (dw_place){NULL, 0, 0}, "%s", line.text);
        }
        if (line.failed) break;
        dw_strbuf_free(&line);
    }
    const bool failed = dw_report_failed(scratch) || line.failed;
    dw_strbuf_free(&line);
    dw_report_destroy(scratch);
    return failed ? DW_ERR_NOMEM : DW_OK;
}

dw_status dw_case_estimate(const dw_engine *engine, const dw_case *kiln, dw_output output,
                           dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    dw_result *result = calloc(1, sizeof *result);
    dw_report *report = dw_report_create();
    dw_status status = result != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    dw_status solved = DW_OK;
    if (status == DW_OK) {
        solved = dw_facade_solve(engine, kiln, result);
        if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) status = solved;
    }
    if (status == DW_OK) {
        dw_report_source source = dw_facade_source(engine, kiln, "estimate");
        dw_doubt doubt;
        dw_damper_words damper;
        dw_ware ware;
        if (solved == DW_OK) {
            bool given[DW_DOUBT_COUNT];
            dw_doubt_given(&source, given);
            status = dw_doubt_find(&engine->model, &kiln->file.kiln, result->equivalence_ratio,
                                   given, &doubt);
            source.doubt = &doubt;
            if (status == DW_OK) {
                status = dw_damper_words_find(&engine->model, &kiln->file.kiln, &damper);
            }
            source.damper = &damper;
            if (status == DW_OK) {
                status = dw_ware_of_point(&engine->model, &kiln->file.kiln, result, &ware);
            }
            source.ware = &ware;
        }
        if (status == DW_OK) dw_build_estimate(report, &source, result);
    }
    if (status == DW_OK) {
        status = dw_facade_write(report, output, text, text_length);
    }
    if (status == DW_OK && solved == DW_OK) status = dw_facade_findings(kiln, result, diag);
    if (status == DW_OK && solved != DW_OK) {
        dw_diag_add(diag, DW_ERROR, "not-solved", (dw_place){NULL, 0, 0}, "%s", result->reason);
    }
    if (status != DW_OK) {
        dw_text_free(*text);
        *text = NULL;
        *text_length = 0;
    }
    dw_report_destroy(report);
    free(result);
    return status != DW_OK ? status : solved;
}

dw_status dw_case_check(const dw_engine *engine, const dw_case *kiln, dw_output output,
                        dw_diag_list *diag, char **text, size_t *text_length)
{
    if (!dw_facade_begin(engine, kiln, text, text_length)) return DW_ERR_ARG;
    dw_result *result = calloc(1, sizeof *result);
    dw_report *report = dw_report_create();
    dw_status status = result != NULL && report != NULL ? DW_OK : DW_ERR_NOMEM;
    if (status == DW_OK) {
        /* A description can be looked at whether or not its setting balances. */
        const dw_status solved = dw_facade_solve(engine, kiln, result);
        if (solved != DW_OK && solved != DW_ERR_NO_CONVERGE) status = solved;
    }
    if (status == DW_OK) {
        const dw_report_source source = dw_facade_source(engine, kiln, "check");
        dw_build_check(report, &source, result, diag);
        status = dw_facade_write(report, output, text, text_length);
    }
    dw_report_destroy(report);
    free(result);
    return status;
}

dw_status dw_engine_keys_write(const dw_engine *engine, dw_output output, char **text,
                               size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
    if (engine == NULL || text == NULL || text_length == NULL) return DW_ERR_ARG;
    dw_report *report = dw_report_create();
    if (report == NULL) return DW_ERR_NOMEM;
    dw_build_keys(report, DW_VERSION, &engine->data);
    const dw_status status = dw_facade_write(report, output, text, text_length);
    dw_report_destroy(report);
    return status;
}

dw_status dw_keys_write(dw_output output, char **text, size_t *text_length)
{
    if (text != NULL) *text = NULL;
    if (text_length != NULL) *text_length = 0;
    if (text == NULL || text_length == NULL) return DW_ERR_ARG;
    dw_engine *engine = NULL;
    dw_status status = dw_engine_create(NULL, NULL, &engine);
    if (status == DW_OK) status = dw_engine_keys_write(engine, output, text, text_length);
    dw_engine_destroy(engine);
    return status;
}
