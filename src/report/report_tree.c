#include "report_tree.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"

enum { CHUNK_BYTES = 16384, FIRST_ROWS = 16 };

/** Header of one piece of the arena; the bytes follow it. */
typedef struct chunk {
    struct chunk *next;
    size_t used, size;
    max_align_t bytes[];
} chunk;

struct dw_report {
    chunk *chunks;       /* newest first */
    dw_table *tables;    /* for freeing their cells */
    dw_item *root;
    bool failed;
};

static void *take(dw_report *report, size_t size)
{
    if (report == NULL || report->failed) return NULL;
    const size_t align = sizeof(max_align_t);
    if (size > SIZE_MAX / 2) {
        report->failed = true;
        return NULL;
    }
    const size_t need = (size + align - 1) / align * align;
    chunk *c = report->chunks;
    if (c == NULL || c->size - c->used < need) {
        const size_t bytes = need > CHUNK_BYTES ? need : CHUNK_BYTES;
        c = malloc(sizeof *c + bytes);
        if (c == NULL) {
            report->failed = true;
            return NULL;
        }
        c->next = report->chunks;
        c->used = 0;
        c->size = bytes;
        report->chunks = c;
    }
    void *place = (char *)c->bytes + c->used;
    c->used += need;
    memset(place, 0, need);
    return place;
}

dw_report *dw_report_create(void)
{
    dw_report *report = calloc(1, sizeof *report);
    if (report == NULL) return NULL;
    report->root = take(report, sizeof *report->root);
    if (report->root == NULL) {
        dw_report_destroy(report);
        return NULL;
    }
    report->root->kind = DW_ITEM_GROUP;
    return report;
}

void dw_report_destroy(dw_report *report)
{
    if (report == NULL) return;
    for (dw_table *t = report->tables; t != NULL; t = t->next_owned) free(t->cell);
    for (chunk *c = report->chunks; c != NULL;) {
        chunk *next = c->next;
        free(c);
        c = next;
    }
    free(report);
}

dw_item *dw_report_root(dw_report *report)
{
    return report == NULL ? NULL : report->root;
}

const dw_item *dw_report_root_const(const dw_report *report)
{
    return report == NULL ? NULL : report->root;
}

bool dw_report_failed(const dw_report *report)
{
    return report == NULL || report->failed;
}

void dw_report_fail(dw_report *report)
{
    if (report != NULL) report->failed = true;
}

const char *dw_report_keep(dw_report *report, const char *text)
{
    if (text == NULL) return NULL;
    const size_t length = strlen(text);
    char *copy = take(report, length + 1);
    if (copy != NULL) memcpy(copy, text, length + 1);
    return copy;
}

const char *dw_report_keepf(dw_report *report, const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    const int length = dw_vprint(NULL, 0, format, args);
    va_end(args);
    char *text = length < 0 ? NULL : take(report, (size_t)length + 1);
    if (text != NULL) (void)dw_vprint(text, (size_t)length + 1, format, again);
    va_end(again);
    return text;
}

static dw_item *add(dw_report *report, dw_item *parent, dw_item_kind kind, const char *key,
                    const char *label)
{
    if (parent == NULL) return NULL;
    dw_item *item = take(report, sizeof *item);
    if (item == NULL) return NULL;
    item->kind = kind;
    item->key = key;
    item->label = label;
    if (parent->last != NULL) {
        parent->last->next = item;
    } else {
        parent->first = item;
    }
    parent->last = item;
    return item;
}

dw_item *dw_report_group(dw_report *report, dw_item *parent, const char *key, const char *label,
                         dw_style style)
{
    dw_item *item = add(report, parent, DW_ITEM_GROUP, key, label);
    if (item != NULL) item->style = style;
    return item;
}

dw_item *dw_report_list(dw_report *report, dw_item *parent, const char *key, const char *label)
{
    return add(report, parent, DW_ITEM_LIST, key, label);
}

dw_item *dw_report_number(dw_report *report, dw_item *parent, const char *key, const char *label,
                          dw_number number)
{
    dw_item *item = add(report, parent, DW_ITEM_NUMBER, key, label);
    if (item != NULL) item->number = number;
    return item;
}

dw_item *dw_report_integer(dw_report *report, dw_item *parent, const char *key, const char *label,
                           long long value)
{
    dw_item *item = add(report, parent, DW_ITEM_INTEGER, key, label);
    if (item != NULL) item->integer = value;
    return item;
}

dw_item *dw_report_text(dw_report *report, dw_item *parent, const char *key, const char *label,
                        const char *text)
{
    dw_item *item = add(report, parent, DW_ITEM_TEXT, key, label);
    if (item != NULL) item->text = dw_report_keep(report, text);
    return item;
}

void dw_add_text(dw_report *report, dw_item *parent, const char *text)
{
    (void)dw_report_text(report, parent, NULL, NULL, text);
}

void dw_add_number(dw_report *report, dw_item *parent, dw_number number)
{
    (void)dw_report_number(report, parent, NULL, NULL, number);
}

void dw_tell(dw_report *report, dw_item *group, const char *text)
{
    (void)dw_report_text(report, group, NULL, "", text);
}

dw_item *dw_report_bool(dw_report *report, dw_item *parent, const char *key, const char *label,
                        bool value)
{
    dw_item *item = add(report, parent, DW_ITEM_BOOL, key, label);
    if (item != NULL) item->truth = value;
    return item;
}

dw_item *dw_report_null(dw_report *report, dw_item *parent, const char *key, const char *label,
                        const char *reason)
{
    dw_item *item = add(report, parent, DW_ITEM_NULL, key, label);
    if (item != NULL) item->note = dw_report_keep(report, reason);
    return item;
}

dw_item *dw_report_line(dw_report *report, dw_item *parent, const char *key, const char *label,
                        const char *pattern)
{
    dw_item *item = add(report, parent, DW_ITEM_LINE, key, label);
    if (item != NULL) item->text = pattern;
    return item;
}

void dw_report_svg(dw_report *report, dw_item *parent, const char *svg)
{
    if (svg == NULL) return;
    dw_item *item = add(report, parent, DW_ITEM_TEXT, NULL, NULL);
    if (item != NULL) item->svg = svg;
}

dw_item *dw_report_table(dw_report *report, dw_item *parent, const char *key, const char *label,
                         const dw_column *columns, size_t count)
{
    dw_item *item = add(report, parent, DW_ITEM_TABLE, key, label);
    dw_table *table = item == NULL ? NULL : take(report, sizeof *table);
    if (table == NULL) return NULL;
    table->column = take(report, count * sizeof *table->column);
    if (table->column == NULL) return NULL;
    memcpy(table->column, columns, count * sizeof *table->column);
    table->column_count = count;
    table->reason_column = -1;
    table->next_owned = report->tables;
    report->tables = table;
    item->table = table;
    return item;
}

static bool grow_rows(dw_report *report, dw_table *table)
{
    const size_t rows = table->row_capacity == 0 ? FIRST_ROWS : 2 * table->row_capacity;
    const size_t row_bytes = table->column_count * sizeof *table->cell;
    dw_cell *cell = rows > SIZE_MAX / row_bytes ? NULL : realloc(table->cell, rows * row_bytes);
    if (cell == NULL) {
        report->failed = true;
        return false;
    }
    table->cell = cell;
    table->row_capacity = rows;
    return true;
}

dw_cell *dw_report_row(dw_report *report, dw_item *table)
{
    if (dw_report_failed(report) || table == NULL || table->table == NULL) return NULL;
    dw_table *t = table->table;
    if (t->row_count == t->row_capacity && !grow_rows(report, t)) return NULL;
    dw_cell *row = t->cell + t->row_count * t->column_count;
    for (size_t i = 0; i < t->column_count; ++i) {
        if (t->column[i].is_text) {
            row[i].text = NULL;
        } else {
            row[i].si = NAN;
        }
    }
    ++t->row_count;
    return row;
}

dw_report_point dw_report_here(const dw_report *report)
{
    const chunk *c = report != NULL ? report->chunks : NULL;
    return (dw_report_point){.chunk = c, .used = c != NULL ? c->used : 0};
}

void dw_report_rows_done(dw_report *report, dw_table *table, dw_report_point point)
{
    if (report == NULL || table == NULL) return;
    table->row_count = 0;
    while (report->chunks != NULL && report->chunks != point.chunk) {
        chunk *older = report->chunks->next;
        free(report->chunks);
        report->chunks = older;
    }
    if (report->chunks != NULL) report->chunks->used = point.used;
}

void dw_report_note(dw_report *report, dw_item *item, const char *note)
{
    if (item != NULL) item->note = dw_report_keep(report, note);
}

void dw_report_label_us(dw_item *item, const char *label)
{
    if (item != NULL) item->label_us = label;
}

void dw_report_mark(dw_item *item, const char *mark)
{
    if (item != NULL) item->mark = mark;
}

/* ---- values by path ------------------------------------------------------------------------------- */

/* Does a path begin with this step? What follows it is NULL when that was all. A key may have dots in it, as
 * those of inputs do. */
static bool begins(const char *path, const char *step, const char **rest)
{
    const size_t length = strlen(step);
    if (strncmp(path, step, length) != 0 || (path[length] != '.' && path[length] != '\0')) return false;
    *rest = path[length] == '.' ? path + length + 1 : NULL;
    return true;
}

/* The whole number that a path begins with, or -1. */
static long index_of(const char *path, const char **rest)
{
    const size_t length = strcspn(path, ".");
    if (length == 0 || length > 6 || strspn(path, "0123456789") < length) return -1;
    *rest = path[length] == '.' ? path + length + 1 : NULL;
    return strtol(path, NULL, 10);
}

static const dw_item *child_of(const dw_item *group, const char *path, const char **rest)
{
    if (group->kind == DW_ITEM_LIST) {
        long skip = index_of(path, rest);
        const dw_item *item = skip < 0 ? NULL : group->first;
        while (item != NULL && skip-- > 0) item = item->next;
        return item;
    }
    /* Of "kiln.fuel" and "kiln.fuel.CH4" the longer one. */
    const dw_item *best = NULL;
    for (const dw_item *item = group->first; item != NULL; item = item->next) {
        const char *after = NULL;
        const dw_item *fits = NULL;
        if (item->key != NULL) {
            fits = begins(path, item->key, &after) ? item : NULL;
        } else if (item->kind == DW_ITEM_GROUP) {
            fits = child_of(item, path, &after);
        }
        if (fits == NULL || (best != NULL && after != NULL && after <= *rest)) continue;
        best = fits;
        *rest = after;
        if (after == NULL) break;
    }
    return best;
}

/* The number whose spread has an end of that name, and the end; NULL: none has. */
static const dw_item *spread_of(const dw_item *group, const char *path, double *end)
{
    for (const dw_item *item = group->first; item != NULL; item = item->next) {
        const size_t length = item->key != NULL ? strlen(item->key) : 0;
        if (item->key == NULL && item->kind == DW_ITEM_GROUP) {
            const dw_item *inner = spread_of(item, path, end);
            if (inner != NULL) return inner;
        }
        if (length == 0 || item->kind != DW_ITEM_NUMBER || !isfinite(item->number.low_si) ||
            strncmp(path, item->key, length) != 0) {
            continue;
        }
        const bool low = strcmp(path + length, "_low") == 0;
        if (!low && strcmp(path + length, "_high") != 0) continue;
        *end = low ? item->number.low_si : item->number.high_si;
        return item;
    }
    return NULL;
}

static bool cell_at(const dw_table *t, const char *path, dw_found *found)
{
    const char *key = NULL;
    const long row = index_of(path, &key);
    if (row < 0 || (size_t)row >= t->row_count || key == NULL) return false;
    for (size_t c = 0; c < t->column_count; ++c) {
        const dw_column *column = &t->column[c];
        if (column->key == NULL || strcmp(column->key, key) != 0) continue;
        const dw_cell *cell = t->cell + (size_t)row * t->column_count + c;
        found->label = column->label;
        if (column->is_text) {
            found->text = cell->text;
        } else if (column->is_truth) {
            found->text = cell->si != 0.0 ? "yes" : "no";
        } else {
            found->is_number = true;
            found->number = column->number;
            found->number.si = cell->si;
        }
        return true;
    }
    return false;
}

bool dw_report_find(const dw_report *report, const char *path, dw_found *found)
{
    *found = (dw_found){.is_number = false};
    const dw_item *item = dw_report_root_const(report);
    double end = NAN;
    while (item != NULL) {
        const char *rest = NULL;
        const dw_item *group = item;
        item = child_of(group, path, &rest);
        if (item == NULL) item = spread_of(group, path, &end);
        if (item == NULL) return false;
        if (item->kind == DW_ITEM_TABLE && rest != NULL) return cell_at(item->table, rest, found);
        if (rest == NULL) break;
        path = rest;
    }
    if (item == NULL) return false;
    found->label = item->label;
    switch (item->kind) {
    case DW_ITEM_NUMBER:
        found->is_number = true;
        found->number = item->number;
        if (isfinite(end)) found->number.si = end;
        if (!isfinite(found->number.si)) found->text = item->note;
        return true;
    case DW_ITEM_INTEGER:
        found->is_number = true;
        found->number = dw_number_plain((double)item->integer, 12);
        found->number.trim = true;
        return true;
    case DW_ITEM_TEXT: found->text = item->text; return true;
    case DW_ITEM_BOOL: found->text = item->truth ? "yes" : "no"; return true;
    case DW_ITEM_NULL:
        found->is_null = true;
        found->number = item->number;
        found->number.si = NAN;
        found->text = item->note;
        return true;
    default: *found = (dw_found){.is_number = false}; return false;
    }
}
