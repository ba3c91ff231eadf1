#include "report_find.h"

#include <stdlib.h>
#include <string.h>

/* The first step of a path and what follows it; NULL when that was all. */
static const char *step_of(const char *path, size_t *length)
{
    *length = strcspn(path, ".");
    return path[*length] == '.' ? path + *length + 1 : NULL;
}

static bool is_step(const char *key, const char *step, size_t length)
{
    return key != NULL && strlen(key) == length && memcmp(key, step, length) == 0;
}

/* A whole number, or -1. */
static long index_of(const char *step, size_t length)
{
    if (length == 0 || length > 6 || strspn(step, "0123456789") < length) return -1;
    return strtol(step, NULL, 10);
}

static const dw_item *child_of(const dw_item *group, const char *step, size_t length)
{
    if (group->kind == DW_ITEM_LIST) {
        long skip = index_of(step, length);
        const dw_item *item = skip < 0 ? NULL : group->first;
        while (item != NULL && skip-- > 0) item = item->next;
        return item;
    }
    for (const dw_item *item = group->first; item != NULL; item = item->next) {
        if (is_step(item->key, step, length)) return item;
        if (item->key == NULL && item->kind == DW_ITEM_GROUP) {
            const dw_item *inner = child_of(item, step, length);
            if (inner != NULL) return inner;
        }
    }
    return NULL;
}

static bool cell_at(const dw_table *t, const char *path, dw_found *found)
{
    size_t length;
    const char *rest = step_of(path, &length);
    const long row = index_of(path, length);
    if (row < 0 || (size_t)row >= t->row_count || rest == NULL) return false;
    (void)step_of(rest, &length);
    for (size_t c = 0; c < t->column_count; ++c) {
        const dw_column *column = &t->column[c];
        if (!is_step(column->key, rest, length) || rest[length] != '\0') continue;
        const dw_cell *cell = t->cell + (size_t)row * t->column_count + c;
        found->label = column->label;
        if (column->is_text) {
            found->text = cell->text;
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
    while (item != NULL) {
        size_t length;
        const char *rest = step_of(path, &length);
        item = child_of(item, path, length);
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
        found->text = item->note;
        return true;
    default: *found = (dw_found){.is_number = false}; return false;
    }
}
