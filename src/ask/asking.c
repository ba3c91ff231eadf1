#include "asking.h"

#include <string.h>

#include "diag.h"
#include "finding_text.h"
#include "writers.h"

const char *dw_asked_bytes(const dw_asking *a, const char *option, size_t *length)
{
    const dw_question *q = a->question;
    for (size_t i = q->option_count; i-- > 0;) {
        const dw_option *o = &q->option[i];
        if (o->value == NULL || strcmp(o->name, option) != 0) continue;
        *length = o->length > 0 ? o->length : strlen(o->value);
        return o->value;
    }
    *length = 0;
    return NULL;
}

const char *dw_asked(const dw_asking *a, const char *option)
{
    size_t length;
    return dw_asked_bytes(a, option, &length);
}

dw_status dw_asked_point(const dw_asking *a, const dw_kiln *kiln, dw_extent extent,
                         dw_result *result)
{
    const dw_status status = dw_operating_point_to(&a->engine->model, kiln, extent, result);
    return status == DW_ERR_DOMAIN ? DW_ERR_NO_CONVERGE : status;
}

dw_status dw_asked_not_solved(const dw_asking *a, const char *reason)
{
    dw_diag_add(a->diag, DW_ERROR, "not-solved", (dw_place){NULL, 0, 0}, "%s", reason);
    return DW_ERR_NO_CONVERGE;
}

dw_status dw_asked_findings(const dw_asking *a, dw_status solved, const dw_result *result)
{
    if (solved != DW_OK) return dw_asked_not_solved(a, result->reason);
    if (a->diag == NULL) return DW_OK;
    dw_report *scratch = dw_report_create();
    dw_strbuf line;
    dw_strbuf_init(&line);
    for (int code = 0; code < DW_FINDING_CODE_COUNT; ++code) {
        dw_finding_words words;
        const dw_item *item =
            dw_finding_brief(scratch, dw_report_root(scratch), NULL, &a->kiln->resolved, result,
                             (dw_finding_code)code);
        if (item == NULL || !dw_finding_words_of((dw_finding_code)code, &words)) continue;
        dw_write_plain(item, DW_UNITS_METRIC, &line);
        if (line.text != NULL) {
            dw_diag_add(a->diag, words.grade, words.code, (dw_place){NULL, 0, 0}, "%s", line.text);
        }
        if (line.failed) break;
        dw_strbuf_free(&line);
    }
    const bool failed = dw_report_failed(scratch) || line.failed;
    dw_strbuf_free(&line);
    dw_report_destroy(scratch);
    return failed ? DW_ERR_NOMEM : DW_OK;
}

dw_status dw_asked_unsolved_rows(const dw_asking *a, size_t rows, size_t solved)
{
    if (solved == 0) return DW_ERR_NO_CONVERGE;
    if (solved < rows) {
        dw_diag_add(a->diag, DW_WARNING, "unsolved-in-sweep", (dw_place){NULL, 0, 0},
                    "%zu of %zu points have no solution; their rows say why", rows - solved, rows);
    }
    return DW_OK;
}

dw_unit_system dw_asked_units(dw_output output)
{
    return output.units == DW_SHOW_US ? DW_UNITS_US : DW_UNITS_METRIC;
}
