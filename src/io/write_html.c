#include "show_number.h"
#include "writers.h"

#include <stdbool.h>
#include <string.h>

typedef struct writer {
    dw_strbuf *out;
    dw_unit_system system;
} writer;

/* Plain paper: black on white, one column, tables that scroll by themselves on a narrow screen. */
static const char style[] =
    ":root{color-scheme:light dark}\n"
    "body{margin:0 auto;padding:1rem;max-width:46rem;font:1rem/1.5 system-ui,sans-serif;"
    "color:#1a1a1a;background:#fff}\n"
    "h1{font-size:1.4rem;line-height:1.25;margin:0 0 .75rem}\n"
    "h2{font-size:1.15rem;line-height:1.3;margin:2rem 0 .5rem;padding-top:.75rem;"
    "border-top:1px solid #bbb}\n"
    "p{margin:.25rem 0;overflow-wrap:anywhere}\n"
    "code{font:.9em/1.5 ui-monospace,monospace;overflow-wrap:anywhere}\n"
    ".row{display:flex;flex-wrap:wrap;gap:0 1rem;padding:.15rem 0;border-bottom:1px solid #e4e4e4}\n"
    ".row>b{font-weight:400;color:#555;flex:0 1 14rem}\n"
    ".row>span{flex:1 1 9rem;overflow-wrap:anywhere}\n"
    ".screen .row>b{flex-basis:6.6rem;font-weight:600;color:inherit}\n"
    ".grade{margin:.4rem 0}\n"
    ".grade>b{font-size:.85em;letter-spacing:.04em;border:1px solid;padding:0 .35em;"
    "margin-right:.4em}\n"
    ".step{margin:1rem 0;padding-left:2.2rem;position:relative;break-inside:avoid}\n"
    ".step>.n{position:absolute;left:0;min-width:1.8rem;color:#666;"
    "font-variant-numeric:tabular-nums}\n"
    ".wide{overflow-x:auto;margin:.3rem 0}\n"
    "table{border-collapse:collapse;font-size:.9rem;font-variant-numeric:tabular-nums}\n"
    "th,td{padding:.1rem .7rem .1rem 0;text-align:left;vertical-align:top}\n"
    "th{font-weight:600;border-bottom:1px solid #999;white-space:pre-line;vertical-align:bottom}\n"
    ".num{text-align:right;white-space:pre}\n"
    ".word{white-space:nowrap}\n"
    ".step .word{white-space:normal}\n"
    "@media (max-width:30rem){body{padding:.75rem}.row>b{flex-basis:9rem}.step{padding-left:0}"
    ".step>.n{position:static;float:left;min-width:0;margin-right:.5rem}}\n"
    "@media (prefers-color-scheme:dark){body{color:#e6e6e6;background:#161616}"
    ".row{border-color:#333}.row>b,.step>.n{color:#aaa}h2{border-color:#555}}\n"
    "@media print{:root{color-scheme:light}body{max-width:none;padding:0;font-size:10pt;color:#000;"
    "background:#fff}.wide{overflow:visible}h2{break-after:avoid}}\n";

/* ---- text --------------------------------------------------------------------------------- */

/* Bytes as text of a page: nothing in them is markup, glue is a space that does not break, control
 * characters (C0 but the line feed, DEL, C1) are spaces. */
static void put_bytes(const writer *w, const char *text, size_t length)
{
    for (const char *p = text; p < text + length; ++p) {
        const unsigned char c = (unsigned char)*p;
        switch (c) {
        case '&': dw_strbuf_puts(w->out, "&amp;"); continue;
        case '<': dw_strbuf_puts(w->out, "&lt;"); continue;
        case '>': dw_strbuf_puts(w->out, "&gt;"); continue;
        case '"': dw_strbuf_puts(w->out, "&quot;"); continue;
        case '\'': dw_strbuf_puts(w->out, "&#39;"); continue;
        case DW_GLUE: dw_strbuf_puts(w->out, "&nbsp;"); continue;
        default: break;
        }
        if (c == 0xC2U && (unsigned char)p[1] < 0xA0U && p[1] != '\0') {
            dw_strbuf_puts(w->out, " ");
            ++p;
        } else {
            dw_strbuf_add(w->out, (c < 0x20U && c != '\n') || c == 0x7FU ? " " : p, 1);
        }
    }
}

/* The same, and what stands between two backticks is a word of the command line. */
static void put_text(const writer *w, const char *text)
{
    for (;;) {
        const char *open = strchr(text, '`');
        const char *close = open != NULL ? strchr(open + 1, '`') : NULL;
        if (close == NULL) break;
        put_bytes(w, text, (size_t)(open - text));
        dw_strbuf_puts(w->out, "<code>");
        put_bytes(w, open + 1, (size_t)(close - open - 1));
        dw_strbuf_puts(w->out, "</code>");
        text = close + 1;
    }
    put_bytes(w, text, strlen(text));
}

static void put_number(const writer *w, const dw_number *number)
{
    char shown[DW_SHOWN_SIZE];
    dw_show_number(number, w->system, shown);
    put_text(w, shown);
}

static void put_line(const writer *w, const dw_item *line)
{
    dw_strbuf text;
    dw_strbuf_init(&text);
    dw_write_line(line, w->system, &text);
    if (text.text != NULL) put_text(w, text.text);
    if (text.failed) w->out->failed = 1;
    dw_strbuf_free(&text);
}

static bool is_empty(const dw_item *item)
{
    return item->kind == DW_ITEM_TEXT && (item->text == NULL || item->text[0] == '\0');
}

static void put_value(const writer *w, const dw_item *item)
{
    if (item->is_code) dw_strbuf_puts(w->out, "<code>");
    switch (item->kind) {
    case DW_ITEM_NUMBER:
        put_number(w, &item->number);
        if (isfinite(item->number.low_si) && isfinite(item->number.high_si)) {
            dw_number end = item->number;
            end.si = item->number.low_si;
            dw_strbuf_puts(w->out, " (");
            put_number(w, &end);
            dw_strbuf_puts(w->out, " to ");
            end.si = item->number.high_si;
            put_number(w, &end);
            dw_strbuf_puts(w->out, ")");
        }
        break;
    case DW_ITEM_INTEGER: dw_strbuf_printf(w->out, "%lld", item->integer); break;
    case DW_ITEM_BOOL: dw_strbuf_puts(w->out, item->truth ? "yes" : "no"); break;
    case DW_ITEM_LINE: put_line(w, item); break;
    case DW_ITEM_NULL: put_text(w, item->note != NULL ? item->note : "-"); break;
    default: put_text(w, item->text != NULL ? item->text : ""); break;
    }
    if (item->is_code) dw_strbuf_puts(w->out, "</code>");
    if (item->mark != NULL) {
        dw_strbuf_puts(w->out, " [");
        put_text(w, item->mark);
        dw_strbuf_puts(w->out, "]");
    }
    if (item->note != NULL && item->kind != DW_ITEM_NULL) {
        dw_strbuf_puts(w->out, " <small>");
        put_text(w, item->note);
        dw_strbuf_puts(w->out, "</small>");
    }
}

/* ---- tables ------------------------------------------------------------------------------- */

static bool is_number_column(const dw_column *column)
{
    return column->is_right || !(column->is_text || column->is_truth);
}

/* Shorter texts of a table stay on one line: a narrow screen scrolls. */
enum { WORD_BYTES = 20 };

static void put_cell(const writer *w, const dw_column *column, dw_cell cell)
{
    const char *none = column->is_blank ? "" : "-";
    const bool is_word = column->is_text && cell.text != NULL && strlen(cell.text) <= WORD_BYTES;
    dw_strbuf_puts(w->out, is_number_column(column) ? "<td class=\"num\">"
                           : is_word                ? "<td class=\"word\">"
                                                    : "<td>");
    if (column->is_text) {
        put_text(w, cell.text != NULL ? cell.text : none);
    } else if (!isfinite(cell.si)) {
        dw_strbuf_puts(w->out, none);
    } else if (column->is_truth) {
        dw_strbuf_puts(w->out, cell.si != 0.0 ? "yes" : "no");
    } else {
        char shown[DW_SHOWN_SIZE];
        dw_number number = column->number;
        number.si = cell.si;
        dw_show_bare(&number, w->system, shown);
        put_text(w, shown);
    }
    dw_strbuf_puts(w->out, "</td>");
}

static void put_heading(const writer *w, const dw_table *t)
{
    bool any = false;
    for (size_t c = 0; c < t->column_count && !any; ++c) {
        const dw_column *column = &t->column[c];
        any = column->label != NULL && (column->label[0] != '\0' || is_number_column(column));
    }
    if (!any) return;
    dw_strbuf_puts(w->out, "<thead><tr>");
    for (size_t c = 0; c < t->column_count; ++c) {
        const dw_column *column = &t->column[c];
        if (column->label == NULL) continue;
        dw_strbuf_puts(w->out, is_number_column(column) ? "<th class=\"num\">" : "<th>");
        put_text(w, column->label);
        const char *unit = "";
        dw_number number = column->number;
        number.si = 0.0;
        if (!column->is_text && !column->is_truth) (void)dw_show_value(&number, w->system, &unit);
        if (unit != NULL && unit[0] != '\0') {
            dw_strbuf_puts(w->out, "\n");
            put_text(w, dw_show_unit(unit));
        }
        dw_strbuf_puts(w->out, "</th>");
    }
    dw_strbuf_puts(w->out, "</tr></thead>\n");
}

static void put_table(const writer *w, const dw_item *item)
{
    const dw_table *t = item->table;
    if (t->column_count == 0) return;
    dw_strbuf_puts(w->out, "<div class=\"wide\"><table>\n");
    put_heading(w, t);
    dw_strbuf_puts(w->out, "<tbody>\n");
    for (size_t r = 0; r < t->row_count; ++r) {
        const dw_cell *row = t->cell + r * t->column_count;
        const bool cut = t->reason_column >= 0 && row[t->reason_column].text != NULL;
        dw_strbuf_puts(w->out, "<tr>");
        size_t shown = 0, all = 0;
        for (size_t c = 0; c < t->column_count; ++c) {
            if (t->column[c].label == NULL) continue;
            ++all;
            if (cut && (int)c >= t->lead_count) continue;
            put_cell(w, &t->column[c], row[c]);
            ++shown;
        }
        if (cut) {
            dw_strbuf_printf(w->out, "<td colspan=\"%zu\">", all > shown ? all - shown : 1);
            put_text(w, t->reason_lead != NULL ? t->reason_lead : "");
            put_text(w, row[t->reason_column].text);
            dw_strbuf_puts(w->out, "</td>");
        }
        dw_strbuf_puts(w->out, "</tr>\n");
    }
    dw_strbuf_puts(w->out, "</tbody></table></div>\n");
}

/* ---- groups ------------------------------------------------------------------------------- */

static void put_children(const writer *w, const dw_item *group);

static void put_title(const writer *w, const char *title)
{
    dw_strbuf_puts(w->out, "<h2>");
    put_text(w, title);
    dw_strbuf_puts(w->out, "</h2>\n");
}

static void put_value_item(const writer *w, const dw_item *item, dw_style how)
{
    const char *label = dw_item_label(item, w->system);
    if (is_empty(item) && label[0] == '\0') return;
    switch (how) {
    case DW_STYLE_PROSE:
        dw_strbuf_puts(w->out, "<p class=\"grade\">");
        if (label[0] != '\0') {
            dw_strbuf_puts(w->out, "<b>");
            put_text(w, label);
            dw_strbuf_puts(w->out, "</b>");
        }
        put_value(w, item);
        dw_strbuf_puts(w->out, "</p>\n");
        return;
    case DW_STYLE_STEPS:
        if (label[0] != '\0') {
            dw_strbuf_puts(w->out, "<span class=\"n\">");
            put_text(w, label);
            dw_strbuf_puts(w->out, "</span>");
        }
        dw_strbuf_puts(w->out, "<p>");
        put_value(w, item);
        dw_strbuf_puts(w->out, "</p>\n");
        return;
    case DW_STYLE_PLAIN:
        dw_strbuf_puts(w->out, "<p>");
        if (label[0] != '\0') {
            put_text(w, label);
            dw_strbuf_puts(w->out, " ");
        }
        put_value(w, item);
        dw_strbuf_puts(w->out, "</p>\n");
        return;
    case DW_STYLE_SECTION:
    case DW_STYLE_SCREEN: break;
    }
    dw_strbuf_puts(w->out, "<div class=\"row\"><b>");
    put_text(w, label);
    dw_strbuf_puts(w->out, "</b><span>");
    put_value(w, item);
    dw_strbuf_puts(w->out, "</span></div>\n");
}

static void put_group(const writer *w, const dw_item *item)
{
    if (item->label != NULL && item->label[0] != '\0') put_title(w, item->label);
    if (item->label == NULL && item->key != NULL) return;
    const bool boxed = item->style == DW_STYLE_STEPS || item->style == DW_STYLE_SCREEN;
    if (boxed) {
        dw_strbuf_puts(w->out, item->style == DW_STYLE_STEPS ? "<div class=\"step\">\n"
                                                             : "<div class=\"screen\">\n");
    }
    put_children(w, item);
    if (boxed) dw_strbuf_puts(w->out, "</div>\n");
}

static void put_item(const writer *w, const dw_item *item, dw_style how)
{
    switch (item->kind) {
    case DW_ITEM_GROUP:
    case DW_ITEM_LIST: put_group(w, item); break;
    case DW_ITEM_TABLE:
        if (item->label == NULL) break;
        if (item->label[0] != '\0') {
            if (how == DW_STYLE_SCREEN) {
                dw_strbuf_puts(w->out, "<div class=\"row\"><b>");
                put_text(w, item->label);
                dw_strbuf_puts(w->out, "</b></div>\n");
            } else {
                put_title(w, item->label);
            }
        }
        put_table(w, item);
        break;
    default:
        if (item->svg != NULL) dw_strbuf_puts(w->out, item->svg);
        if (item->label != NULL) put_value_item(w, item, how);
        break;
    }
}

static void put_children(const writer *w, const dw_item *group)
{
    for (const dw_item *item = group->first; item != NULL && !w->out->failed; item = item->next) {
        put_item(w, item, group->style);
    }
}

/* The title of the page: the name of the kiln or, without one, of the program. */
static const char *title_of(const dw_item *root)
{
    for (const dw_item *item = root->first; item != NULL; item = item->next) {
        if (item->kind == DW_ITEM_GROUP && item->key == NULL) {
            const char *inner = title_of(item);
            if (inner != NULL) return inner;
        }
        if (item->kind == DW_ITEM_TEXT && item->key != NULL && strcmp(item->key, "kiln") == 0) {
            return item->text;
        }
    }
    return NULL;
}

dw_status dw_write_html(const dw_report *report, dw_unit_system system, dw_strbuf *out)
{
    if (dw_report_failed(report)) return DW_ERR_NOMEM;
    const writer w = {.out = out, .system = system};
    const dw_item *root = dw_report_root_const(report);
    const char *title = title_of(root);
    dw_strbuf_puts(out, "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                        "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n"
                        "<title>");
    title = title != NULL ? title : "damperwise";
    put_bytes(&w, title, strlen(title));
    dw_strbuf_puts(out, "</title>\n<style>\n");
    dw_strbuf_puts(out, style);
    dw_strbuf_puts(out, "</style>\n</head>\n<body>\n<h1>");
    put_text(&w, title);
    dw_strbuf_puts(out, "</h1>\n");
    put_children(&w, root);
    dw_strbuf_puts(out, "</body>\n</html>\n");
    return out->failed ? DW_ERR_NOMEM : DW_OK;
}
