#include "writers.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"

enum { REAL_DIGITS = 12, SCALAR_SIZE = 64, DEPTH_MAX = 32 };

/* Layout is ours, so that a table of a million rows needs no tree of jansson values; texts are
 * jansson's, so that escapes and UTF-8 are right. */

static void put_value(dw_strbuf *out, json_t *value)
{
    if (value == NULL) {
        out->failed = 1;
        return;
    }
    const size_t flags = JSON_ENCODE_ANY;
    char small[SCALAR_SIZE];
    const size_t length = json_dumpb(value, small, sizeof small, flags);
    if (length > 0 && length <= sizeof small) {
        dw_strbuf_add(out, small, length);
    } else {
        char *text = json_dumps(value, flags);
        if (text == NULL) {
            out->failed = 1;
        } else {
            dw_strbuf_puts(out, text);
        }
        free(text);
    }
    json_decref(value);
}

static void put_text(dw_strbuf *out, const char *text)
{
    if (text == NULL) {
        dw_strbuf_puts(out, "null");
        return;
    }
    json_t *value = json_string(text);
    if (value == NULL) {
        /* Not UTF-8 (a file name, an argument): keep what is plain ASCII. */
        const size_t size = strlen(text) + 1;
        char *ascii = malloc(size);
        if (ascii == NULL) {
            out->failed = 1;
            return;
        }
        memcpy(ascii, text, size);
        for (char *p = ascii; *p != '\0'; ++p) {
            if ((unsigned char)*p >= 0x80U) *p = '?';
        }
        value = json_string(ascii);
        free(ascii);
    }
    put_value(out, value);
}

static void put_real(dw_strbuf *out, double value)
{
    if (!isfinite(value)) {
        dw_strbuf_puts(out, "null");
        return;
    }
    char text[REAL_DIGITS + 20];
    (void)dw_print(text, sizeof text, "%.*g", REAL_DIGITS, value == 0.0 ? 0.0 : value);   /* no "-0.0" */
    const char *e = strchr(text, 'e');
    if (e == NULL) {
        dw_strbuf_puts(out, text);
        /* A whole number says that it is a real one. */
        if (strchr(text, '.') == NULL) dw_strbuf_puts(out, ".0");
        return;
    }
    /* 1e+20 and 5e-05 are 1e20 and 5e-5. */
    const bool small = e[1] == '-';
    dw_strbuf_add(out, text, (size_t)(e - text) + 1);
    if (small) dw_strbuf_add(out, "-", 1);
    dw_strbuf_puts(out, e + 1 + strspn(e + 1, "+-0"));
}

static void new_line(dw_strbuf *out, int depth)
{
    dw_strbuf_add(out, "\n", 1);
    for (int i = 0; i < depth; ++i) dw_strbuf_add(out, "  ", 2);
}

/* Comma and line break before an entry, and its key when it has one. */
static void begin_entry(dw_strbuf *out, int depth, bool *any, const char *key, const char *ending)
{
    if (*any) dw_strbuf_add(out, ",", 1);
    *any = true;
    new_line(out, depth);
    if (key == NULL) return;
    if (ending[0] == '\0') {
        put_text(out, key);
    } else {
        char name[160];
        (void)snprintf(name, sizeof name, "%s%s", key, ending);
        put_text(out, name);
    }
    dw_strbuf_puts(out, ": ");
}

/* before: rows that are written already. */
static void put_rows(dw_strbuf *out, const dw_table *t, int depth, size_t before)
{
    for (size_t r = 0; r < t->row_count && !out->failed; ++r) {
        const dw_cell *row = t->cell + r * t->column_count;
        if (r + before > 0) dw_strbuf_add(out, ",", 1);
        new_line(out, depth + 1);
        bool any = false;
        for (size_t c = 0; c < t->column_count; ++c) {
            const dw_column *column = &t->column[c];
            if (column->key == NULL) continue;
            dw_strbuf_puts(out, any ? ", " : "{");
            any = true;
            put_text(out, column->key);
            dw_strbuf_puts(out, ": ");
            if (column->is_text) {
                put_text(out, row[c].text);
            } else if (column->is_truth && isfinite(row[c].si)) {
                dw_strbuf_puts(out, row[c].si != 0.0 ? "true" : "false");
            } else {
                put_real(out, row[c].si);
            }
        }
        dw_strbuf_puts(out, any ? "}" : "{}");
    }
}

static void end_table(dw_strbuf *out, size_t rows, int depth)
{
    if (rows > 0) new_line(out, depth);
    dw_strbuf_add(out, "]", 1);
}

static void put_table(dw_strbuf *out, const dw_table *t, int depth)
{
    dw_strbuf_add(out, "[", 1);
    put_rows(out, t, depth, 0);
    end_table(out, t->row_count, depth);
}

static void put_container(dw_strbuf *out, const dw_item *item, int depth);

static void put_item_value(dw_strbuf *out, const dw_item *item, int depth)
{
    switch (item->kind) {
    case DW_ITEM_GROUP:
    case DW_ITEM_LIST: put_container(out, item, depth); break;
    case DW_ITEM_NUMBER: put_real(out, item->number.si); break;
    case DW_ITEM_INTEGER: put_value(out, json_integer((json_int_t)item->integer)); break;
    case DW_ITEM_TEXT: put_text(out, item->text); break;
    case DW_ITEM_BOOL: dw_strbuf_puts(out, item->truth ? "true" : "false"); break;
    case DW_ITEM_NULL: dw_strbuf_puts(out, "null"); break;
    case DW_ITEM_TABLE: put_table(out, item->table, depth); break;
    case DW_ITEM_LINE: {
        dw_strbuf line;
        dw_strbuf_init(&line);
        dw_write_plain(item, DW_UNITS_METRIC, &line);
        put_text(out, line.text != NULL ? line.text : "");
        if (line.failed) out->failed = 1;
        dw_strbuf_free(&line);
        break;
    }
    }
}

/* Entries of a group or list, from one on and up to another. Groups without a key hand their entries
 * to the one around them. */
static void put_entries(dw_strbuf *out, const dw_item *from, const dw_item *until, bool named,
                        int depth, bool *any)
{
    for (const dw_item *item = from; item != until && !out->failed; item = item->next) {
        if (named && item->key == NULL) {
            if (item->kind == DW_ITEM_GROUP) {
                put_entries(out, item->first, NULL, named, depth, any);
            }
            continue;
        }
        begin_entry(out, depth, any, named ? item->key : NULL, "");
        put_item_value(out, item, depth);
        if (named && item->kind == DW_ITEM_NUMBER && isfinite(item->number.low_si)) {
            begin_entry(out, depth, any, item->key, "_low");
            put_real(out, item->number.low_si);
            begin_entry(out, depth, any, item->key, "_high");
            put_real(out, item->number.high_si);
        }
    }
}

static void put_container(dw_strbuf *out, const dw_item *item, int depth)
{
    if (depth > DEPTH_MAX) {
        out->failed = 1;
        return;
    }
    const bool named = item->kind == DW_ITEM_GROUP;
    bool any = false;
    dw_strbuf_add(out, named ? "{" : "[", 1);
    put_entries(out, item->first, NULL, named, depth + 1, &any);
    if (any) new_line(out, depth);
    dw_strbuf_add(out, named ? "}" : "]", 1);
}

void dw_write_json_head(const dw_long_table *t, dw_strbuf *out)
{
    bool any = false;
    dw_strbuf_add(out, "{", 1);
    put_entries(out, dw_report_root_const(t->report)->first, t->table, true, 1, &any);
    begin_entry(out, 1, &any, t->table->key, "");
    dw_strbuf_add(out, "[", 1);
}

void dw_write_json_rows(dw_long_table *t, dw_strbuf *out)
{
    put_rows(out, t->table->table, 1, t->written);
    t->written += t->table->table->row_count;
}

void dw_write_json_rest(const dw_long_table *t, dw_strbuf *out)
{
    bool any = true;
    end_table(out, t->written, 1);
    put_entries(out, t->table->next, NULL, true, 1, &any);
    dw_strbuf_puts(out, "\n}\n");
}

dw_status dw_write_json(const dw_report *report, dw_strbuf *out)
{
    if (dw_report_failed(report)) return DW_ERR_NOMEM;
    put_container(out, dw_report_root_const(report), 0);
    dw_strbuf_add(out, "\n", 1);
    return out->failed ? DW_ERR_NOMEM : DW_OK;
}
