/* Tables of a page. */
#include "html_page.h"

#include <stdlib.h>
#include <string.h>

/** Longest texts of a table that stay on one line. */
enum { WORD_BYTES = 20 };

static bool is_number_column(const dw_column *column)
{
    return column->is_right || !(column->is_text || column->is_truth);
}

/* What a page calls a column; NULL: it is not there. */
static const char *label_of(const dw_column *column)
{
    const char *label = column->page_label != NULL ? column->page_label : column->label;
    return column->page_label != NULL && label[0] == '\0' ? NULL : label;
}

/* The columns of the page in its order: the leading ones, those that come first, the rest. */
static size_t order_of(const dw_table *t, size_t *order)
{
    size_t used = 0;
    for (int round = 0; round < 3; ++round) {
        for (size_t c = 0; c < t->column_count; ++c) {
            const dw_column *column = &t->column[c];
            const int own = (int)c < t->lead_count ? 0 : column->page_first ? 1 : 2;
            if (own == round && label_of(column) != NULL) order[used++] = c;
        }
    }
    return used;
}

/* ---- how wide ----------------------------------------------------------------------------- */

/* Letters of the widest system fonts at the size of a table [px]: figures and words, bold headings, and
 * the space of a column. */
static const double letter_px = 8.8, bold_px = 9.6, space_px = 20.0;

/** Characters of UTF-8. */
static size_t count_characters(const char *text, size_t bytes)
{
    size_t count = 0;
    for (size_t i = 0; i < bytes; ++i) count += ((unsigned char)text[i] & 0xC0U) != 0x80U;
    return count;
}

static void show_cell(const dw_html_writer *w, const dw_column *column, dw_cell cell,
                      char shown[DW_SHOWN_SIZE])
{
    dw_number number = column->number;
    number.si = cell.si;
    dw_show_bare(&number, w->system, shown);
}

static double heading_px(const dw_column *column)
{
    size_t widest = 0;
    for (const char *p = label_of(column); *p != '\0';) {
        const size_t length = strcspn(p, "\n"), characters = count_characters(p, length);
        widest = characters > widest ? characters : widest;
        p += length + (p[length] != '\0');
    }
    return bold_px * (double)widest;
}

/* Long sentences break: they need no more than this. */
static double column_px(const dw_html_writer *w, const dw_table *t, size_t c)
{
    const dw_column *column = &t->column[c];
    double widest = heading_px(column);
    for (size_t r = 0; r < t->row_count; ++r) {
        const dw_cell cell = t->cell[r * t->column_count + c];
        char shown[DW_SHOWN_SIZE] = "yes";
        const char *text = shown;
        if (column->is_text) {
            text = cell.text != NULL ? cell.text : "-";
        } else if (!column->is_truth && isfinite(cell.si)) {
            show_cell(w, column, cell, shown);
        }
        size_t characters = count_characters(text, strlen(text));
        if (column->is_text && characters > WORD_BYTES) characters = WORD_BYTES;
        if (letter_px * (double)characters > widest) widest = letter_px * (double)characters;
    }
    return widest + space_px;
}

/* From which width on a table fits. Narrower screens, and paper where it says so in the style sheet, get its
 * rows as blocks. The widest scroll on a wide screen; what must be seen comes first in them. */
static const char *width_class(const dw_html_writer *w, const dw_table *t, const size_t *order,
                               size_t count)
{
    static const struct {
        double px;
        const char *name;
    } classes[] = {{290.0, "fits"}, {540.0, "from36"}, {736.0, "from48"}, {992.0, "from64"},
                   {1110.0, "from74"}};
    double px = 0.0;
    for (size_t i = 0; i < count; ++i) px += column_px(w, t, order[i]);
    for (size_t i = 0; i < sizeof classes / sizeof classes[0]; ++i) {
        if (px <= classes[i].px) return classes[i].name;
    }
    return "scrolls";
}

/* ---- cells -------------------------------------------------------------------------------- */

static const char *unit_of(const dw_html_writer *w, const dw_column *column)
{
    const char *unit = "";
    dw_number number = column->number;
    number.si = 0.0;
    if (!column->is_text && !column->is_truth) (void)dw_show_value(&number, w->system, &unit);
    return unit != NULL ? dw_show_unit(unit) : "";
}

/* The name of a column on one line: "temper-\nature" and "CO/\nCO2" are one word each. */
static void put_name(const dw_html_writer *w, const char *label)
{
    for (const char *p = label; *p != '\0';) {
        const size_t length = strcspn(p, "\n");
        const bool more = p[length] != '\0' && length > 0;
        const bool hyphen = more && p[length - 1] == '-', joined = more && p[length - 1] == '/';
        dw_html_bytes(w, p, hyphen ? length - 1 : length);
        if (more && !hyphen && !joined) dw_strbuf_puts(w->out, " ");
        p += length + (p[length] != '\0');
    }
}

static const char *const tone_class[] = {[DW_TONE_PLAIN] = "", [DW_TONE_LOW] = " tone-low",
                                         [DW_TONE_RAISED] = " tone-raised",
                                         [DW_TONE_BAD] = " tone-bad"};

static void put_attributes(const dw_html_writer *w, const dw_column *column, dw_cell cell,
                           bool is_lead)
{
    const bool is_word = column->is_text && !column->is_right && cell.text != NULL &&
                         strlen(cell.text) <= WORD_BYTES;
    const bool has_value = column->is_text ? cell.text != NULL : isfinite(cell.si);
    const dw_tone tone = column->tone != NULL && has_value ? column->tone(cell) : DW_TONE_PLAIN;
    dw_strbuf_printf(w->out, "<td class=\"%s%s%s\" data-label=\"",
                     is_number_column(column) ? "num" : is_word ? "word" : "text",
                     is_lead ? " lead" : "", tone_class[tone]);
    put_name(w, label_of(column));
    const char *unit = unit_of(w, column);
    if (unit[0] != '\0' && has_value) {
        dw_strbuf_puts(w->out, "\" data-unit=\"");
        dw_html_bytes(w, unit, strlen(unit));
    }
    dw_strbuf_puts(w->out, "\">");
}

static void put_cell(const dw_html_writer *w, const dw_column *column, dw_cell cell, bool is_lead)
{
    const char *none = column->is_blank ? "" : "-";
    put_attributes(w, column, cell, is_lead);
    if (column->is_text) {
        dw_html_text(w, cell.text != NULL ? cell.text : none);
    } else if (!isfinite(cell.si)) {
        dw_strbuf_puts(w->out, none);
    } else if (column->is_truth) {
        dw_strbuf_puts(w->out, cell.si != 0.0 ? "yes" : "no");
    } else {
        char shown[DW_SHOWN_SIZE];
        show_cell(w, column, cell, shown);
        dw_html_text(w, shown);
    }
    dw_strbuf_puts(w->out, "</td>");
}

/* ---- rows --------------------------------------------------------------------------------- */

static void put_heading(const dw_html_writer *w, const dw_table *t, const size_t *order,
                        size_t count)
{
    bool any = false;
    for (size_t i = 0; i < count && !any; ++i) {
        const dw_column *column = &t->column[order[i]];
        any = label_of(column)[0] != '\0' || is_number_column(column);
    }
    if (!any) return;
    dw_strbuf_puts(w->out, "<thead><tr>");
    for (size_t i = 0; i < count; ++i) {
        const dw_column *column = &t->column[order[i]];
        const char *label = label_of(column), *unit = unit_of(w, column);
        const bool empty = label[strspn(label, "\n")] == '\0' && unit[0] == '\0';
        dw_strbuf_printf(w->out, empty ? "<td class=\"%s\">" : "<th scope=\"col\" class=\"%s\">",
                         is_number_column(column) ? "num" : "text");
        if (!empty) dw_html_text(w, label);
        if (unit[0] != '\0') {
            dw_strbuf_puts(w->out, "\n");
            dw_html_text(w, unit);
        }
        dw_strbuf_puts(w->out, empty ? "</td>" : "</th>");
    }
    dw_strbuf_puts(w->out, "</tr></thead>\n");
}

static bool is_bad_row(const dw_table *t, const dw_cell *row)
{
    if (t->reason_column >= 0 && row[t->reason_column].text != NULL) {
        return t->reason_tone == DW_TONE_BAD;
    }
    for (size_t c = 0; c < t->column_count; ++c) {
        const dw_column *column = &t->column[c];
        const bool has_value = column->is_text ? row[c].text != NULL : isfinite(row[c].si);
        if (column->tone != NULL && has_value && column->tone(row[c]) == DW_TONE_BAD) return true;
    }
    return false;
}

static void put_row(const dw_html_writer *w, const dw_table *t, const dw_cell *row,
                    const size_t *order, size_t count)
{
    const bool cut = t->reason_column >= 0 && row[t->reason_column].text != NULL;
    dw_strbuf_puts(w->out, is_bad_row(t, row) ? "<tr class=\"bad\">" : "<tr>");
    size_t shown = 0;
    for (size_t i = 0; i < count; ++i) {
        const bool is_lead = (int)order[i] < t->lead_count;
        if (cut && !is_lead) continue;
        put_cell(w, &t->column[order[i]], row[order[i]], is_lead);
        ++shown;
    }
    if (cut) {
        dw_strbuf_printf(w->out, "<td class=\"reason%s\" data-label=\"\" colspan=\"%zu\">",
                         tone_class[t->reason_tone], count > shown ? count - shown : 1);
        dw_html_text(w, t->reason_lead != NULL ? t->reason_lead : "");
        dw_html_text(w, row[t->reason_column].text);
        dw_strbuf_puts(w->out, "</td>");
    }
    dw_strbuf_puts(w->out, "</tr>\n");
}

void dw_html_table(const dw_html_writer *w, const dw_table *t)
{
    if (t->column_count == 0) return;
    size_t *order = calloc(t->column_count, sizeof *order);
    if (order == NULL) {
        w->out->failed = 1;
        return;
    }
    const size_t count = order_of(t, order);
    const char *width = width_class(w, t, order, count);
    /* What scrolls must be reachable without a mouse. */
    dw_strbuf_printf(w->out, "<div class=\"wide %s\"%s><table>\n", width,
                     strcmp(width, "scrolls") == 0 ? " tabindex=\"0\"" : "");
    put_heading(w, t, order, count);
    dw_strbuf_puts(w->out, "<tbody>\n");
    for (size_t r = 0; r < t->row_count; ++r) {
        put_row(w, t, t->cell + r * t->column_count, order, count);
    }
    dw_strbuf_puts(w->out, "</tbody></table></div>\n");
    free(order);
}
