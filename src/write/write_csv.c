#include "writers.h"

#include <stdio.h>
#include <string.h>

#include "ascii.h"
#include "format.h"
#include "show_number.h"

enum { CSV_DIGITS = 12 };

static void put_field(dw_strbuf *out, const char *text)
{
    if (strpbrk(text, ",\"\r\n") == NULL) {
        dw_strbuf_puts(out, text);
        return;
    }
    dw_strbuf_add(out, "\"", 1);
    for (const char *p = text; *p != '\0'; ++p) {
        if (*p == '"') dw_strbuf_add(out, "\"", 1);
        dw_strbuf_add(out, p, 1);
    }
    dw_strbuf_add(out, "\"", 1);
}

/* "-25 Pa", "+3": a number, perhaps with its unit, which no program takes for a formula. */
static bool is_signed_number(const char *text)
{
    if (text[0] != '-' && text[0] != '+') return false;
    if (!dw_ascii_is_digit(text[1]) && text[1] != '.') return false;
    for (const char *p = text + 1; *p != '\0'; ++p) {
        if (!dw_ascii_is_word(*p) && strchr(". %/", *p) == NULL) return false;
    }
    return true;
}

/* A text that comes from an input. Programs that read CSV take one that begins with = + - @, a tab or a carriage
 * return for a formula and work it out: a single quote before it makes it a text to them. */
static void put_text(dw_strbuf *out, const char *text)
{
    const bool formula = text[0] != '\0' && strchr("=+-@\t\r", text[0]) != NULL;
    if (!formula || is_signed_number(text)) {
        put_field(out, text);
        return;
    }
    dw_strbuf quoted;
    dw_strbuf_init(&quoted);
    dw_strbuf_add(&quoted, "'", 1);
    dw_strbuf_puts(&quoted, text);
    if (quoted.failed) {
        out->failed = 1;
    } else {
        put_field(out, quoted.text);
    }
    dw_strbuf_free(&quoted);
}

static void put_number(dw_strbuf *out, double value)
{
    if (!isfinite(value)) return;
    char text[40];
    (void)dw_print(text, sizeof text, "%.*g", CSV_DIGITS, value == 0.0 ? 0.0 : value);
    dw_strbuf_puts(out, text);
}

/* Value and unit as CSV has them: shares stay shares, and the size of a number does not choose its
 * unit, so that a key is the same for every kiln and setting. */
static double csv_value(const dw_number *number, dw_unit_system system, const char **unit)
{
    if (number->dim == DW_DIM_RATIO || number->dim == DW_DIM_SHARE ||
        number->dim == DW_DIM_NUMBER) {
        *unit = "";
        return number->si;
    }
    dw_number plain = *number;
    plain.typed = NULL;
    plain.by_size = false;
    return dw_show_value(&plain, system, unit);
}

/* Writes a key with the unit shown in place of the SI unit at its end: draft_pa, draft_in_w_c. What
 * is no gauge pressure keeps saying so. */
static void put_name(dw_strbuf *out, const char *key, const dw_number *number,
                     dw_unit_system system)
{
    const char *unit = "";
    if (number != NULL) (void)csv_value(number, system, &unit);
    if (unit[0] == '\0') {
        put_field(out, key);
        return;
    }
    dw_strbuf name;
    dw_strbuf_init(&name);
    const char *suffix = dw_dim_suffix(number->dim);
    size_t length = strlen(key);
    const size_t tail = strlen(suffix);
    if (tail > 0 && length > tail && strcmp(key + length - tail, suffix) == 0) length -= tail;
    dw_strbuf_add(&name, key, length);
    bool gap = true;
    for (const char *p = unit; *p != '\0'; ++p) {
        const bool word = dw_ascii_is_word(*p);
        if (word && gap) dw_strbuf_add(&name, "_", 1);
        if (word) dw_strbuf_add(&name, p, 1);
        gap = !word;
    }
    if (number->dim == DW_DIM_PRESSURE_ABS) dw_strbuf_puts(&name, "_abs");
    if (name.text != NULL) put_field(out, name.text);
    if (name.failed) out->failed = 1;
    dw_strbuf_free(&name);
}

static const dw_number *number_of(const dw_column *column)
{
    return column->is_text || column->is_truth ? NULL : &column->number;
}

static const dw_table *find_main(const dw_item *parent)
{
    for (const dw_item *item = parent->first; item != NULL; item = item->next) {
        if (item->kind == DW_ITEM_TABLE && item->table->is_main) return item->table;
        if (item->kind == DW_ITEM_GROUP) {
            const dw_table *found = find_main(item);
            if (found != NULL) return found;
        }
    }
    return NULL;
}

/* A table has no place for the head; a caution stands in a last column, once. */
static void put_names(dw_strbuf *out, const dw_table *t, dw_unit_system system)
{
    bool any = false;
    for (size_t c = 0; c < t->column_count; ++c) {
        if (t->column[c].key == NULL) continue;
        if (any) dw_strbuf_add(out, ",", 1);
        any = true;
        put_name(out, t->column[c].key, number_of(&t->column[c]), system);
    }
    dw_strbuf_puts(out, t->caution != NULL ? ",caution\r\n" : "\r\n");
}

/* before: rows that are written already. */
static void put_rows(dw_strbuf *out, const dw_table *t, dw_unit_system system, size_t before)
{
    for (size_t r = 0; r < t->row_count && !out->failed; ++r) {
        const dw_cell *row = t->cell + r * t->column_count;
        bool any = false;
        for (size_t c = 0; c < t->column_count; ++c) {
            const dw_column *column = &t->column[c];
            if (column->key == NULL) continue;
            if (any) dw_strbuf_add(out, ",", 1);
            any = true;
            if (column->is_text) {
                if (row[c].text != NULL) put_text(out, row[c].text);
            } else if (column->is_truth) {
                if (isfinite(row[c].si)) dw_strbuf_puts(out, row[c].si != 0.0 ? "true" : "false");
            } else {
                dw_number number = column->number;
                number.si = row[c].si;
                const char *unit = "";
                put_number(out, csv_value(&number, system, &unit));
            }
        }
        if (t->caution != NULL) dw_strbuf_add(out, ",", 1);
        if (t->caution != NULL && r + before == 0) put_field(out, t->caution);
        dw_strbuf_puts(out, "\r\n");
    }
}

/* ---- any other tree, one row per value ---------------------------------------------------- */

typedef struct flat {
    dw_strbuf *out;
    dw_strbuf path;          /* of the item at hand */
    dw_unit_system system;
} flat;

/* Adds a step to the path; answers the length to go back to. */
static size_t push_key(flat *f, const char *key)
{
    const size_t before = f->path.length;
    if (before > 0) dw_strbuf_add(&f->path, ".", 1);
    dw_strbuf_puts(&f->path, key);
    return before;
}

static size_t push_index(flat *f, size_t index)
{
    char text[24];
    (void)snprintf(text, sizeof text, "%zu", index);
    return push_key(f, text);
}

static void pop(flat *f, size_t length)
{
    if (f->path.failed || f->path.text == NULL) return;
    f->path.length = length;
    f->path.text[length] = '\0';
}

static void put_row(const flat *f, const dw_item *item)
{
    dw_strbuf *out = f->out;
    const char *unit = "";
    dw_strbuf line;
    dw_strbuf_init(&line);
    if (f->path.failed) {
        out->failed = 1;
        return;
    }
    /* A null has the kind of the number that is missing. */
    const bool is_number = item->kind == DW_ITEM_NUMBER || item->kind == DW_ITEM_NULL;
    put_name(out, f->path.text, is_number ? &item->number : NULL, f->system);
    dw_strbuf_add(out, ",", 1);
    switch (item->kind) {
    case DW_ITEM_NUMBER: put_number(out, csv_value(&item->number, f->system, &unit)); break;
    case DW_ITEM_NULL: (void)csv_value(&item->number, f->system, &unit); break;
    case DW_ITEM_INTEGER: dw_strbuf_printf(out, "%lld", item->integer); break;
    case DW_ITEM_BOOL: dw_strbuf_puts(out, item->truth ? "true" : "false"); break;
    case DW_ITEM_LINE:
        dw_write_plain(item, f->system, &line);
        if (line.text != NULL) put_text(out, line.text);
        break;
    default:
        if (item->text != NULL) put_text(out, item->text);
        break;
    }
    dw_strbuf_add(out, ",", 1);
    put_field(out, unit);
    dw_strbuf_add(out, ",", 1);
    if (item->label != NULL) put_text(out, dw_item_label(item, f->system));
    dw_strbuf_puts(out, "\r\n");
    if (line.failed) out->failed = 1;
    dw_strbuf_free(&line);
}

/* The cells of a table that is not the main one: flows.3.mass_kg_h. */
static void flat_table(flat *f, const dw_table *t)
{
    for (size_t r = 0; r < t->row_count; ++r) {
        const size_t before = push_index(f, r);
        for (size_t c = 0; c < t->column_count; ++c) {
            const dw_column *column = &t->column[c];
            if (column->key == NULL) continue;
            const dw_cell cell = t->cell[r * t->column_count + c];
            dw_item item = {.kind = column->is_text    ? DW_ITEM_TEXT
                                    : column->is_truth ? DW_ITEM_BOOL
                                                       : DW_ITEM_NUMBER};
            if (column->is_text) {
                item.text = cell.text;
            } else if (column->is_truth) {
                item.truth = cell.si != 0.0;
            } else {
                item.number = column->number;
                item.number.si = cell.si;
            }
            const size_t row = push_key(f, column->key);
            put_row(f, &item);
            pop(f, row);
        }
        pop(f, before);
    }
}

static void flat_children(flat *f, const dw_item *parent)
{
    const bool listed = parent->kind == DW_ITEM_LIST;
    size_t index = 0;
    for (const dw_item *item = parent->first; item != NULL; item = item->next, ++index) {
        if (!listed && item->key == NULL) {
            if (item->kind == DW_ITEM_GROUP) flat_children(f, item);
            continue;
        }
        /* Of the SI number in JSON; here every row has its own. */
        if (!listed && strcmp(item->key, "unit") == 0) continue;
        const size_t before = listed ? push_index(f, index) : push_key(f, item->key);
        if (item->kind == DW_ITEM_GROUP || item->kind == DW_ITEM_LIST) {
            flat_children(f, item);
        } else if (item->kind == DW_ITEM_TABLE) {
            flat_table(f, item->table);
        } else {
            put_row(f, item);
        }
        pop(f, before);
    }
}

void dw_write_csv_head(const dw_long_table *t, dw_strbuf *out)
{
    put_names(out, t->table->table, t->system);
}

void dw_write_csv_rows(dw_long_table *t, dw_strbuf *out)
{
    put_rows(out, t->table->table, t->system, t->written);
    t->written += t->table->table->row_count;
}

dw_status dw_write_csv(const dw_report *report, dw_unit_system system, dw_strbuf *out)
{
    if (dw_report_failed(report)) return DW_ERR_NOMEM;
    const dw_item *root = dw_report_root_const(report);
    const dw_table *table = find_main(root);
    if (table != NULL) {
        put_names(out, table, system);
        put_rows(out, table, system, 0);
    } else {
        flat f = {.out = out, .system = system};
        dw_strbuf_init(&f.path);
        dw_strbuf_puts(out, "key,value,unit,label\r\n");
        flat_children(&f, root);
        if (f.path.failed) out->failed = 1;
        dw_strbuf_free(&f.path);
    }
    return out->failed ? DW_ERR_NOMEM : DW_OK;
}
