#include "html_page.h"
#include "writers.h"

#include <string.h>

typedef dw_html_writer writer;

/* ---- text --------------------------------------------------------------------------------- */

static void put_number(const writer *w, const dw_number *number)
{
    char shown[DW_SHOWN_SIZE];
    dw_show_number(number, w->system, shown);
    dw_html_text(w, shown);
}

static void put_line(const writer *w, const dw_item *line)
{
    dw_strbuf text;
    dw_strbuf_init(&text);
    dw_write_line(line, w->system, &text);
    if (text.text != NULL) dw_html_text(w, text.text);
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
    case DW_ITEM_NULL: dw_html_text(w, item->note != NULL ? item->note : "-"); break;
    default: dw_html_text(w, item->text != NULL ? item->text : ""); break;
    }
    if (item->is_code) dw_strbuf_puts(w->out, "</code>");
    if (item->mark != NULL) {
        dw_strbuf_puts(w->out, " [");
        dw_html_text(w, item->mark);
        dw_strbuf_puts(w->out, "]");
    }
    if (item->note != NULL && item->kind != DW_ITEM_NULL) {
        dw_strbuf_puts(w->out, " <small>");
        dw_html_text(w, item->note);
        dw_strbuf_puts(w->out, "</small>");
    }
}

/* ---- groups ------------------------------------------------------------------------------- */

static void put_children(const writer *w, const dw_item *group);

static void put_title(const writer *w, const char *title)
{
    dw_strbuf_puts(w->out, "<h2>");
    dw_html_text(w, title);
    dw_strbuf_puts(w->out, "</h2>\n");
}

/* Grades of findings are words in the tree. */
static dw_tone tone_of_grade(const char *label)
{
    return strcmp(label, "HAZARD") == 0    ? DW_TONE_BAD
           : strcmp(label, "WARNING") == 0 ? DW_TONE_RAISED
                                           : DW_TONE_PLAIN;
}

static const char *tone_attribute(dw_tone tone)
{
    static const char *const attribute[] = {[DW_TONE_PLAIN] = "",
                                            [DW_TONE_LOW] = " class=\"tone-low\"",
                                            [DW_TONE_RAISED] = " class=\"tone-raised\"",
                                            [DW_TONE_BAD] = " class=\"tone-bad\""};
    return attribute[tone];
}

static void put_value_item(const writer *w, const dw_item *item, dw_style how)
{
    const char *label = dw_item_label(item, w->system);
    if (is_empty(item) && label[0] == '\0') return;
    switch (how) {
    case DW_STYLE_PROSE:
        dw_strbuf_puts(w->out, "<p class=\"grade\">");
        if (label[0] != '\0') {
            dw_strbuf_printf(w->out, "<b%s>", tone_attribute(tone_of_grade(label)));
            dw_html_text(w, label);
            dw_strbuf_puts(w->out, "</b>");
        }
        put_value(w, item);
        dw_strbuf_puts(w->out, "</p>\n");
        return;
    case DW_STYLE_STEPS:
        if (label[0] != '\0') {
            dw_strbuf_puts(w->out, "<span class=\"n\">");
            dw_html_text(w, label);
            dw_strbuf_puts(w->out, "</span>");
        }
        dw_strbuf_puts(w->out, "<p>");
        put_value(w, item);
        dw_strbuf_puts(w->out, "</p>\n");
        return;
    case DW_STYLE_PLAIN:
        dw_strbuf_puts(w->out, "<p>");
        if (label[0] != '\0') {
            dw_html_text(w, label);
            dw_strbuf_puts(w->out, " ");
        }
        put_value(w, item);
        dw_strbuf_puts(w->out, "</p>\n");
        return;
    case DW_STYLE_SECTION:
    case DW_STYLE_SCREEN: break;
    }
    dw_strbuf_puts(w->out, "<div class=\"row\"><b>");
    dw_html_text(w, label);
    dw_strbuf_puts(w->out, "</b><span>");
    if (item->tone != DW_TONE_PLAIN) {
        dw_strbuf_printf(w->out, "<strong%s>", tone_attribute(item->tone));
    }
    put_value(w, item);
    if (item->tone != DW_TONE_PLAIN) dw_strbuf_puts(w->out, "</strong>");
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
                dw_html_text(w, item->label);
                dw_strbuf_puts(w->out, "</b></div>\n");
            } else {
                put_title(w, item->label);
            }
        }
        dw_html_table(w, item->table);
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
    dw_html_bytes(&w, title, strlen(title));
    dw_strbuf_puts(out, "</title>\n<style>\n");
    for (size_t i = 0; dw_page_style[i] != NULL; ++i) dw_strbuf_puts(out, dw_page_style[i]);
    dw_strbuf_puts(out, "</style>\n</head>\n<body>\n<main>\n<h1>");
    dw_html_text(&w, title);
    dw_strbuf_puts(out, "</h1>\n");
    put_children(&w, root);
    dw_strbuf_puts(out, "</main>\n</body>\n</html>\n");
    return out->failed ? DW_ERR_NOMEM : DW_OK;
}
