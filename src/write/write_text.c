#include "show_number.h"
#include "writers.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "visible.h"

enum {
    INDENT = 2,          /* of what stands in a section                        */
    VALUE_COLUMN = 36,   /* where values of a section begin                    */
    SCREEN_COLUMN = 11,  /* where sentences of the first screen begin          */
    PROSE_COLUMN = 9,    /* where sentences of a prose section begin           */
    STEPS_COLUMN = 5,    /* where what belongs to a numbered step begins       */
    HEADING_LINES_MAX = 3
};

typedef struct writer {
    dw_strbuf *out;
    dw_unit_system system;
} writer;

static void spaces(dw_strbuf *out, size_t count)
{
    for (size_t i = 0; i < count; ++i) dw_strbuf_add(out, " ", 1);
}

/* How many bytes at the beginning are plain ASCII, and go out as they are. */
static size_t plain_run(const char *text, size_t length)
{
    size_t n = 0;
    while (n < length && text[n] >= ' ' && text[n] <= '~') ++n;
    return n;
}

/* Bytes of a name or sentence; glue becomes a space, what could steer a terminal an escape. */
static void put_clean(dw_strbuf *out, const char *text, size_t length)
{
    char piece[DW_VISIBLE_SIZE];
    for (size_t i = 0; i < length;) {
        const size_t plain = plain_run(text + i, length - i);
        dw_strbuf_add(out, text + i, plain);
        i += plain;
        if (i == length) break;
        if (text[i] == DW_GLUE) {
            dw_strbuf_add(out, " ", 1);
            ++i;
            continue;
        }
        i += dw_visible(text + i, length - i, piece);
        dw_strbuf_puts(out, piece);
    }
}

static void put_padded(dw_strbuf *out, const char *text, size_t width, bool right)
{
    const size_t own = dw_show_width(text);
    const size_t pad = own < width ? width - own : 0;
    if (right) spaces(out, pad);
    put_clean(out, text, strlen(text));
    if (!right) spaces(out, pad);
}

void dw_write_line(const dw_item *line, dw_unit_system system, dw_strbuf *out)
{
    for (const char *p = line->text; p != NULL && *p != '\0'; ++p) {
        const dw_item *child = NULL;
        bool bare = false;
        if (p[0] == '{' && p[1] >= '0' && p[1] <= '9') {
            bare = p[2] == '#';
            if (p[bare ? 3 : 2] == '}') {
                child = line->first;
                for (int skip = p[1] - '0'; skip > 0 && child != NULL; --skip) child = child->next;
            }
        }
        if (child == NULL) {
            dw_strbuf_add(out, p, 1);
            continue;
        }
        char shown[DW_SHOWN_SIZE];
        switch (child->kind) {
        case DW_ITEM_NUMBER:
            if (bare) {
                dw_show_bare(&child->number, system, shown);
            } else {
                dw_show_number(&child->number, system, shown);
            }
            dw_strbuf_puts(out, shown);
            break;
        case DW_ITEM_INTEGER: dw_strbuf_printf(out, "%lld", child->integer); break;
        default:
            if (child->text != NULL) dw_strbuf_puts(out, child->text);
            break;
        }
        p += bare ? 3 : 2;
    }
}

void dw_write_plain(const dw_item *line, dw_unit_system system, dw_strbuf *out)
{
    const size_t before = out->length;
    dw_write_line(line, system, out);
    for (size_t i = before; !out->failed && i < out->length; ++i) {
        if (out->text[i] == DW_GLUE) out->text[i] = ' ';
    }
}

/* Bytes of text that fit on a line of width columns, broken at a space where there is one. */
static size_t fitting(const char *text, size_t width)
{
    size_t column = 0, last_space = 0, i = 0;
    while (text[i] != '\0') {
        size_t own = 1;
        const size_t used = dw_show_char(text + i, &own);
        if (column + own > width) break;
        column += own;
        if (text[i] == ' ') last_space = i;
        i += used;
    }
    if (text[i] == '\0' || text[i] == ' ') return i;
    return last_space > 0 ? last_space : i;
}

/* The rest of a line that already has `column` columns; further lines are indented by `indent`.
 * With max_lines > 0 the text is cut there and "..." added. Ends the line. */
static void put_wrapped(dw_strbuf *out, const char *text, size_t column, size_t indent,
                        int max_lines)
{
    for (int line = 1;; ++line) {
        const bool last_allowed = max_lines > 0 && line == max_lines;
        const size_t room = column < DW_TEXT_WIDTH - 20 ? DW_TEXT_WIDTH - column : 20;
        size_t length = fitting(text, room);
        const bool cut = last_allowed && text[length] != '\0';
        if (cut) length = fitting(text, room - 4);
        size_t shown = length;
        while (shown > 0 && text[shown - 1] == ' ') --shown;
        put_clean(out, text, shown);
        if (cut) dw_strbuf_puts(out, " ...");
        dw_strbuf_add(out, "\n", 1);
        text += length;
        while (*text == ' ') ++text;
        if (*text == '\0' || last_allowed) return;
        spaces(out, indent);
        column = indent;
    }
}

/* Adds what stands in the value column of an item. */
static void add_value(const writer *w, const dw_item *item, dw_strbuf *text)
{
    char shown[DW_SHOWN_SIZE];
    switch (item->kind) {
    case DW_ITEM_NUMBER:
        dw_show_number(&item->number, w->system, shown);
        dw_strbuf_puts(text, shown);
        if (isfinite(item->number.low_si) && isfinite(item->number.high_si)) {
            dw_number end = item->number;
            end.si = item->number.low_si;
            dw_show_bare(&end, w->system, shown);
            dw_strbuf_printf(text, " (%s to ", shown);
            end.si = item->number.high_si;
            dw_show_bare(&end, w->system, shown);
            dw_strbuf_printf(text, "%s)", shown);
        }
        break;
    case DW_ITEM_INTEGER: dw_strbuf_printf(text, "%lld", item->integer); break;
    case DW_ITEM_BOOL: dw_strbuf_puts(text, item->truth ? "yes" : "no"); break;
    case DW_ITEM_LINE: dw_write_line(item, w->system, text); break;
    case DW_ITEM_NULL: dw_strbuf_puts(text, item->note != NULL ? item->note : "-"); break;
    default:
        if (item->text != NULL) dw_strbuf_puts(text, item->text);
        break;
    }
    if (item->mark != NULL) dw_strbuf_printf(text, " [%s]", item->mark);
    if (item->note != NULL && item->kind != DW_ITEM_NULL) {
        dw_strbuf_printf(text, "   %s", item->note);
    }
}

/* ---- tables ------------------------------------------------------------------------------- */

static void cell_text(const writer *w, const dw_column *column, dw_cell cell,
                      char shown[DW_SHOWN_SIZE], const char **text)
{
    const char *none = column->is_blank ? "" : "-";
    if (column->is_text) {
        *text = cell.text != NULL ? cell.text : none;
        return;
    }
    if (column->is_truth) {
        *text = !isfinite(cell.si) ? none : cell.si != 0.0 ? "yes" : "no";
        return;
    }
    dw_number number = column->number;
    number.si = cell.si;
    dw_show_bare(&number, w->system, shown);
    *text = isfinite(cell.si) ? shown : none;
}

static const char *column_unit(const writer *w, const dw_column *column)
{
    const char *unit = "";
    dw_number number = column->number;
    number.si = 0.0;
    if (!column->is_text && !column->is_truth) (void)dw_show_value(&number, w->system, &unit);
    return dw_show_unit(unit);
}

/* Line `index` of a heading whose last line is the unit; "" where there is none. */
static const char *heading_line(const writer *w, const dw_column *column, int index, int lines,
                                char part[DW_SHOWN_SIZE])
{
    part[0] = '\0';
    /* A column without a word has its unit where the others have their word. */
    const bool wordless = column->label[0] == '\0';
    if (wordless && index == 0) return column_unit(w, column);
    if (index == lines) return wordless ? part : column_unit(w, column);
    const char *p = column->label;
    for (int skip = index; skip > 0 && p != NULL; --skip) {
        p = strchr(p, '\n');
        if (p != NULL) ++p;
    }
    if (p == NULL) return part;
    const size_t length = strcspn(p, "\n");
    (void)snprintf(part, DW_SHOWN_SIZE, "%.*s", (int)(length < 60 ? length : 60), p);
    return part;
}

static bool row_has_reason(const dw_table *t, const dw_cell *row)
{
    return t->reason_column >= 0 && row[t->reason_column].text != NULL;
}

static void table_widths(const writer *w, const dw_table *t, int lines, size_t *width)
{
    char shown[DW_SHOWN_SIZE];
    const char *text = "";
    for (size_t c = 0; c < t->column_count; ++c) {
        width[c] = 0;
        if (t->column[c].label == NULL) continue;
        for (int i = 0; i <= lines; ++i) {
            const size_t own = dw_show_width(heading_line(w, &t->column[c], i, lines, shown));
            if (own > width[c]) width[c] = own;
        }
    }
    for (size_t r = 0; r < t->row_count; ++r) {
        const dw_cell *row = t->cell + r * t->column_count;
        const bool cut = row_has_reason(t, row);
        for (size_t c = 0; c < t->column_count; ++c) {
            if (t->column[c].label == NULL || (cut && (int)c >= t->lead_count)) continue;
            cell_text(w, &t->column[c], row[c], shown, &text);
            const size_t own = dw_show_width(text);
            if (own > width[c]) width[c] = own;
        }
    }
}

/* Ends a line without the blanks that padding left there. */
static void end_line(dw_strbuf *out)
{
    while (!out->failed && out->length > 0 && out->text[out->length - 1] == ' ') {
        out->text[--out->length] = '\0';
    }
    dw_strbuf_add(out, "\n", 1);
}

static void put_heading(const writer *w, const dw_table *t, int lines, const size_t *width,
                        size_t indent, const char *lead)
{
    char part[DW_SHOWN_SIZE];
    for (int i = 0; i <= lines; ++i) {
        bool any = false;
        for (size_t c = 0; c < t->column_count && !any; ++c) {
            any = t->column[c].label != NULL &&
                  heading_line(w, &t->column[c], i, lines, part)[0] != '\0';
        }
        if (!any) continue;
        put_padded(w->out, lead, indent, false);
        lead = "";
        for (size_t c = 0; c < t->column_count; ++c) {
            if (t->column[c].label == NULL) continue;
            put_padded(w->out, heading_line(w, &t->column[c], i, lines, part), width[c],
                       !t->column[c].is_text || t->column[c].is_right);
            spaces(w->out, 2);
        }
        end_line(w->out);
    }
}

/* One row, from the column `column` on. A text that ends it goes on below itself where there is room. */
static void put_row(const writer *w, const dw_table *t, const dw_cell *row, const size_t *width,
                    size_t column)
{
    const bool cut = row_has_reason(t, row);
    size_t end = cut ? (size_t)t->lead_count : t->column_count;
    while (end > 0 && t->column[end - 1].label == NULL) --end;
    const char *text = "";
    for (size_t c = 0; c < end; ++c) {
        if (t->column[c].label == NULL) continue;
        char shown[DW_SHOWN_SIZE];
        const bool right = !t->column[c].is_text || t->column[c].is_right;
        cell_text(w, &t->column[c], row[c], shown, &text);
        if (!cut && c + 1 == end && !right && text[0] != '\0' && column + 20 <= DW_TEXT_WIDTH) {
            put_wrapped(w->out, text, column, column, 0);
            return;
        }
        put_padded(w->out, text, width[c], right);
        spaces(w->out, 2);
        column += width[c] + 2;
    }
    if (!cut) {
        end_line(w->out);
        return;
    }
    if (t->reason_lead != NULL) dw_strbuf_puts(w->out, t->reason_lead);
    const size_t lead = t->reason_lead != NULL ? dw_show_width(t->reason_lead) : 0;
    put_wrapped(w->out, row[t->reason_column].text, column + lead, column, 0);
}

static bool write_table(const writer *w, const dw_item *item, size_t indent, const char *lead)
{
    const dw_table *t = item->table;
    if (t->column_count == 0) return true;
    int lines = 1;
    for (size_t c = 0; c < t->column_count; ++c) {
        int own = 1;
        for (const char *p = t->column[c].label; p != NULL && *p != '\0'; ++p) own += *p == '\n';
        if (own > lines) lines = own;
    }
    if (lines > HEADING_LINES_MAX) lines = HEADING_LINES_MAX;
    size_t *width = calloc(t->column_count, sizeof *width);
    if (width == NULL) return false;
    table_widths(w, t, lines, width);
    put_heading(w, t, lines, width, indent, lead);

    for (size_t r = 0; r < t->row_count; ++r) {
        spaces(w->out, indent);
        put_row(w, t, t->cell + r * t->column_count, width, indent);
    }
    free(width);
    return true;
}

/* ---- groups ------------------------------------------------------------------------------- */

static bool write_children(const writer *w, const dw_item *group);

static void put_title(const writer *w, const char *title)
{
    const size_t length = w->out->length;
    const bool blank = length > 1 && w->out->text[length - 1] == '\n' &&
                       w->out->text[length - 2] == '\n';
    if (length > 0 && !blank) dw_strbuf_puts(w->out, "\n");
    put_clean(w->out, title, strlen(title));
    dw_strbuf_puts(w->out, "\n");
    for (size_t i = dw_show_width(title); i > 0; --i) dw_strbuf_add(w->out, "-", 1);
    dw_strbuf_puts(w->out, "\n");
}

static bool write_value_item(const writer *w, const dw_item *item, dw_style style)
{
    dw_strbuf text;
    dw_strbuf_init(&text);
    add_value(w, item, &text);
    const char *label = dw_item_label(item, w->system);
    const size_t own = dw_show_width(label);
    static const size_t columns[] = {[DW_STYLE_SECTION] = VALUE_COLUMN,
                                     [DW_STYLE_SCREEN] = SCREEN_COLUMN,
                                     [DW_STYLE_PROSE] = PROSE_COLUMN,
                                     [DW_STYLE_PLAIN] = 0,
                                     [DW_STYLE_STEPS] = STEPS_COLUMN};
    const size_t indent = style == DW_STYLE_SECTION ? INDENT : 0;
    const size_t value_column = style == DW_STYLE_SECTION && own == 0 ? indent : columns[style];
    if (text.text != NULL && text.text[0] == '\0' && own == 0) {
        dw_strbuf_puts(w->out, "\n");
    } else if (text.text != NULL) {
        spaces(w->out, indent);
        size_t column = indent + own;
        put_clean(w->out, label, strlen(label));
        if (column < value_column) {
            spaces(w->out, value_column - column);
            column = value_column;
        } else if (own > 0) {
            spaces(w->out, 2);
            column += 2;
        }
        put_wrapped(w->out, text.text, column, value_column, item->max_lines);
    } else {
        end_line(w->out);
    }
    const bool ok = !text.failed;
    dw_strbuf_free(&text);
    return ok;
}

static bool write_item(const writer *w, const dw_item *item, dw_style style)
{
    switch (item->kind) {
    case DW_ITEM_GROUP:
    case DW_ITEM_LIST:
        /* A group without label may still hold sections (the root does). */
        if (item->label != NULL && item->label[0] != '\0') put_title(w, item->label);
        if (item->label == NULL && item->key != NULL) return true;
        return write_children(w, item);
    case DW_ITEM_TABLE:
        if (item->label == NULL) return true;
        if (style == DW_STYLE_SCREEN) return write_table(w, item, SCREEN_COLUMN, item->label);
        if (style == DW_STYLE_STEPS) return write_table(w, item, STEPS_COLUMN, item->label);
        if (item->label[0] != '\0') put_title(w, item->label);
        return write_table(w, item, INDENT, "");
    default: return item->label == NULL || write_value_item(w, item, style);
    }
}

static bool write_children(const writer *w, const dw_item *group)
{
    for (const dw_item *item = group->first; item != NULL; item = item->next) {
        if (!write_item(w, item, group->style)) return false;
    }
    return true;
}

dw_status dw_write_text(const dw_report *report, dw_unit_system system, dw_strbuf *out)
{
    if (dw_report_failed(report)) return DW_ERR_NOMEM;
    const writer w = {.out = out, .system = system};
    const bool ok = write_children(&w, dw_report_root_const(report));
    return ok && !out->failed ? DW_OK : DW_ERR_NOMEM;
}
