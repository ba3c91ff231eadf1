#include "rows.h"

#include "asking.h"
#include "diag.h"

/* Rows are handed on in pieces about as large as a pipe takes at once. */
enum { PIECE_ROWS = 64, PIECE_BYTES = 65536 };

bool dw_rows_fit(dw_output output, size_t count, dw_diag_list *diag)
{
    const bool flows = output.format == DW_FORMAT_JSON || output.format == DW_FORMAT_CSV;
    if (flows || count <= DW_ROWS_SHOWN_MAX) return true;
    dw_diag_add(diag, DW_ERROR, "too-many-rows", (dw_place){NULL, 0, 0},
                "text and html take at most %d rows, and this makes %zu; csv and json take all of "
                "them: add --format csv, or take larger steps",
                DW_ROWS_SHOWN_MAX, count);
    return false;
}

static dw_status hand_on(dw_strbuf *text, dw_sink sink)
{
    if (text->failed) return DW_ERR_NOMEM;
    if (text->length == 0) return DW_OK;
    const int stop = sink.take(sink.user, text->text, text->length);
    text->length = 0;
    return stop ? DW_ERR_IO : DW_OK;
}

static dw_status write_whole(const dw_report *report, dw_output output, dw_strbuf *text)
{
    const dw_unit_system system = dw_asked_units(output);
    switch (output.format) {
    case DW_FORMAT_TEXT: return dw_write_text(report, system, text);
    case DW_FORMAT_JSON: return dw_write_json(report, text);
    case DW_FORMAT_CSV: return dw_write_csv(report, system, text);
    case DW_FORMAT_HTML: return dw_write_html(report, system, text);
    }
    return DW_ERR_ARG;
}

dw_status dw_rows_none(const dw_report *report, dw_output output, dw_sink sink)
{
    dw_strbuf text;
    dw_strbuf_init(&text);
    dw_status status = write_whole(report, output, &text);
    if (status == DW_OK) status = hand_on(&text, sink);
    dw_strbuf_free(&text);
    return status;
}

static dw_status hand_on_rows(dw_rows *rows)
{
    return dw_report_failed(rows->report) ? DW_ERR_NOMEM : hand_on(&rows->text, rows->sink);
}

static dw_status write_rows(dw_rows *rows)
{
    if (dw_report_failed(rows->report)) return DW_ERR_NOMEM;
    if (rows->output.format == DW_FORMAT_JSON) {
        dw_write_json_rows(&rows->table, &rows->text);
    } else {
        dw_write_csv_rows(&rows->table, &rows->text);
    }
    dw_report_rows_done(rows->report, rows->table.table->table, rows->point);
    return DW_OK;
}

dw_status dw_rows_begin(dw_rows *rows, dw_report *report, const dw_item *table, dw_output output,
                        dw_sink sink)
{
    *rows = (dw_rows){.table = {.report = report, .table = table, .system = dw_asked_units(output)},
                      .report = report, .output = output, .sink = sink,
                      .flows = output.format == DW_FORMAT_JSON || output.format == DW_FORMAT_CSV};
    dw_strbuf_init(&rows->text);
    if (table == NULL || dw_report_failed(report)) return DW_ERR_NOMEM;
    rows->point = dw_report_here(report);
    if (output.format == DW_FORMAT_JSON) dw_write_json_head(&rows->table, &rows->text);
    if (output.format == DW_FORMAT_CSV) dw_write_csv_head(&rows->table, &rows->text);
    return hand_on_rows(rows);
}

dw_status dw_rows_added(dw_rows *rows)
{
    if (dw_report_failed(rows->report)) return DW_ERR_NOMEM;
    if (!rows->flows || rows->table.table->table->row_count < PIECE_ROWS) return DW_OK;
    const dw_status status = write_rows(rows);
    return status == DW_OK && rows->text.length >= PIECE_BYTES ? hand_on_rows(rows) : status;
}

dw_status dw_rows_end(dw_rows *rows)
{
    if (rows->flows) {
        /* What was added since the table begins is not in the tree's rows, and stays. */
        if (rows->output.format == DW_FORMAT_JSON) {
            dw_write_json_rows(&rows->table, &rows->text);
            dw_write_json_rest(&rows->table, &rows->text);
        } else {
            dw_write_csv_rows(&rows->table, &rows->text);
        }
        return hand_on_rows(rows);
    }
    const dw_status status = write_whole(rows->report, rows->output, &rows->text);
    return status == DW_OK ? hand_on_rows(rows) : status;
}

void dw_rows_free(dw_rows *rows)
{
    dw_strbuf_free(&rows->text);
}

/* ---- the text as a whole ------------------------------------------------------------------ */

static int add_to_text(void *user, const char *piece, size_t length)
{
    dw_rows_text *held = user;
    dw_strbuf_add(&held->text, piece, length);
    return held->text.failed;
}

dw_sink dw_rows_into(dw_rows_text *held)
{
    dw_strbuf_init(&held->text);
    return (dw_sink){.take = add_to_text, .user = held};
}

dw_status dw_rows_take(dw_rows_text *held, dw_status status, char **text, size_t *text_length)
{
    if (held->text.failed) status = DW_ERR_NOMEM;
    if (status == DW_OK || status == DW_ERR_NO_CONVERGE) {
        const size_t length = held->text.length;
        *text = dw_strbuf_take(&held->text);
        if (*text == NULL) return DW_ERR_NOMEM;
        *text_length = length;
        return status;
    }
    dw_strbuf_free(&held->text);
    return status;
}
