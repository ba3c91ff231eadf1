#include "outputs.h"

#include <stdlib.h>
#include <string.h>

#include "outputs_rows.h"
#include "result.h"

enum { DIGITS_OF_COLUMNS = 12, COLUMN_MAX = 24 };

static const struct {
    const char *command;
    const dw_output_list *list[DW_OUTPUT_LIST_MAX];
} commands[] = {
    {"estimate", {&dw_output_head, &dw_output_point}},
    {"sweep", {&dw_output_head, &dw_output_sweep, &dw_output_point}},
    {"check", {&dw_output_head, &dw_output_check}},
    {"check --keys", {&dw_output_head, &dw_output_keys}},
    {"room", {&dw_output_head, &dw_output_room, &dw_output_people, &dw_output_room_kiln,
              &dw_output_room_sweep}},
    {"exposure", {&dw_output_head, &dw_output_exposure, &dw_output_people}},
    {"why", {&dw_output_head, &dw_output_why}},
    {"oxides", {&dw_output_head, &dw_output_oxides, &dw_output_oxides_sweep}},
    {"ladder", {&dw_output_head, &dw_output_ladder}},
};

const char *dw_output_command(size_t index)
{
    return index < sizeof commands / sizeof commands[0] ? commands[index].command : NULL;
}

const dw_output_list *const *dw_output_lists(const char *command)
{
    static const dw_output_list *const none[1] = {NULL};
    for (size_t i = 0; i < sizeof commands / sizeof commands[0]; ++i) {
        if (strcmp(commands[i].command, command) == 0) return commands[i].list;
    }
    return none;
}

/* ---- rows by key -------------------------------------------------------------------------- */

/* Does a key fit a path? A `*` in the path stands for one step; as the last, for all that follow. */
static bool fits(const char *path, const char *key)
{
    for (; *path != '\0'; ++path) {
        if (*path != '*') {
            if (*path != *key) return false;
            ++key;
        } else if (path[1] == '\0') {
            return *key != '\0';
        } else {
            if (*key == '.' || *key == '\0') return false;
            key += strcspn(key, ".");
        }
    }
    return *key == '\0';
}

/* The part of a key after the row of a sweep that it is in; NULL when it is in none. */
static const char *in_rows(const char *key)
{
    const char *rest = strncmp(key, "rows.", 5) == 0 ? strchr(key + 5, '.') : NULL;
    return rest != NULL ? rest + 1 : NULL;
}

const dw_output_row *dw_output_find(const char *command, const char *key)
{
    const char *column = in_rows(key);
    const bool sweep = strcmp(command, "sweep") == 0;
    for (const dw_output_list *const *list = dw_output_lists(command); *list != NULL; ++list) {
        for (size_t i = 0; i < (*list)->count; ++i) {
            const dw_output_row *row = &(*list)->row[i];
            if (row->kind == DW_OUTPUT_SHOWN) continue;
            if ((row->key[0] == key[0] || row->key[0] == '*') && fits(row->key, key)) return row;
            if (sweep && column != NULL && row->in_sweep && strcmp(row->key, column) == 0) return row;
        }
    }
    return NULL;
}

const char *dw_output_not_worked(const char *command, const char *key)
{
    for (const dw_output_list *const *list = dw_output_lists(command); *list != NULL; ++list) {
        for (size_t i = 0; i < (*list)->count; ++i) {
            const dw_output_row *row = &(*list)->row[i];
            if (row->not_worked != NULL && fits(row->key, key)) return row->not_worked;
        }
    }
    return NULL;
}

/* ---- numbers by key ----------------------------------------------------------------------- */

static double share_of(const dw_data *data, const dw_gas *gas, const char *species)
{
    const int i = dw_species_find(&data->species, species);
    return i < 0 ? NAN : gas->x[i];
}

double dw_output_read(const dw_output_row *row, const dw_data *data, const void *object, size_t index)
{
    const char *at = (const char *)object + row->offset + index * row->stride;
    double value = NAN;
    if (row->read != NULL) {
        value = row->read(object);
    } else if (row->species != NULL) {
        value = share_of(data, (const dw_gas *)(const void *)at, row->species);
    } else if (row->kind == DW_OUTPUT_NUMBER) {
        memcpy(&value, at, sizeof value);
    } else if (row->kind == DW_OUTPUT_COUNT) {
        int whole;
        memcpy(&whole, at, sizeof whole);
        value = whole;
    } else if (row->kind == DW_OUTPUT_YES_NO) {
        bool truth;
        memcpy(&truth, at, sizeof truth);
        value = truth;
    }
    if (!isfinite(value)) return NAN;
    return row->magnitude ? fabs(value) : value;
}

/* The step of a key that the first `*` of its row stands for; false when that is no entry of its list. */
static bool entry_of(const dw_output_row *row, const dw_data *data, const void *object, const char *key,
                     size_t *index)
{
    *index = 0;
    if (row->stride == 0) return true;
    const char *digits = key + strcspn(row->key, "*0");
    char *end;
    const unsigned long n = strtoul(digits, &end, 10);
    if (digits[0] < '0' || digits[0] > '9' || *end != '.') return false;
    size_t count;
    if (row->count_in_data) {
        memcpy(&count, (const char *)data + row->count_offset, sizeof count);
    } else {
        int whole;
        memcpy(&whole, (const char *)object + row->count_offset, sizeof whole);
        count = whole > 0 ? (size_t)whole : 0;
    }
    *index = n;
    return n < count;
}

dw_status dw_output_get(const dw_outputs *from, const char *command, const char *key, double *si,
                        const dw_output_row **row)
{
    *si = NAN;
    *row = NULL;
    const dw_output_row *found = dw_output_find(command, key);
    if (found == NULL || found->kind == DW_OUTPUT_WORD) return DW_ERR_ARG;
    const void *object = from->object[found->place];
    if (found->place == DW_IN_NOTHING || object == NULL) return DW_ERR_DOMAIN;
    size_t index;
    if (!entry_of(found, from->data, object, key, &index)) return DW_ERR_ARG;
    if (found->species != NULL && found->species[0] == '*') {
        const char *name = strrchr(key, '.') + 1;
        if (dw_species_find(&from->data->species, name) < 0) return DW_ERR_ARG;
        *si = share_of(from->data, (const dw_gas *)(const void *)((const char *)object + found->offset), name);
    } else {
        *si = dw_output_read(found, from->data, object, index);
    }
    *row = found;
    return DW_OK;
}

/* ---- for builders ------------------------------------------------------------------------- */

static const char *last_step(const char *key)
{
    const char *dot = strrchr(key, '.');
    return dot != NULL ? dot + 1 : key;
}

dw_number dw_output_number(const char *command, const char *key, double si)
{
    const dw_output_row *row = dw_output_find(command, key);
    dw_number number = row != NULL ? row->number : dw_number_plain(si, 1);
    number.si = si;
    return number;
}

void dw_add_output(dw_report *report, dw_item *parent, const char *command, const char *key, double si)
{
    dw_add_number(report, parent, dw_output_number(command, key, si));
}

dw_item *dw_report_output(dw_report *report, dw_item *parent, const char *command, const char *key, double si)
{
    const dw_output_row *row = dw_output_find(command, key);
    if (row == NULL) {
        dw_report_fail(report);
        return NULL;
    }
    const char *name = last_step(row->key);
    dw_number number = row->number;
    number.si = si;
    dw_item *item = row->kind == DW_OUTPUT_NUMBER ? dw_report_number(report, parent, name, row->label, number)
                    : row->kind == DW_OUTPUT_COUNT
                        ? dw_report_integer(report, parent, name, row->label, (long long)si)
                        : dw_report_bool(report, parent, name, row->label, si != 0.0);
    dw_report_note(report, item, row->note);
    return item;
}

void dw_report_output_text(dw_report *report, dw_item *parent, const char *command, const char *key,
                           const char *text)
{
    const dw_output_row *row = dw_output_find(command, key);
    if (row == NULL) {
        dw_report_fail(report);
    } else if (text == NULL) {
        (void)dw_report_null(report, parent, last_step(row->key), NULL, NULL);
    } else {
        (void)dw_report_text(report, parent, last_step(row->key), row->label, text);
    }
}

static dw_column column_of(const dw_output_row *row)
{
    if (row == NULL) return (dw_column){.key = NULL};
    dw_column column = {.key = row->kind == DW_OUTPUT_SHOWN ? NULL : last_step(row->key),
                        .label = row->heading,
                        .is_text = row->kind == DW_OUTPUT_WORD || row->kind == DW_OUTPUT_SHOWN,
                        .is_truth = row->kind == DW_OUTPUT_YES_NO,
                        .number = row->number,
                        .output = row};
    if (row->column_step_si > 0.0) {
        column.number.digits = DIGITS_OF_COLUMNS;
        column.number.resolution_si = row->column_step_si;
    }
    return column;
}

dw_column dw_output_column(const char *command, const char *key)
{
    return column_of(dw_output_find(command, key));
}

void dw_output_columns(const char *command, const char *const *keys, size_t count, dw_column *column)
{
    for (size_t i = 0; i < count; ++i) column[i] = dw_output_column(command, keys[i]);
}

dw_item *dw_output_table(dw_report *report, dw_item *parent, const char *command, const char *list,
                         const char *label)
{
    dw_column column[COLUMN_MAX];
    size_t count = 0;
    const size_t length = strlen(list);
    for (const dw_output_list *const *l = dw_output_lists(command); *l != NULL; ++l) {
        for (size_t i = 0; i < (*l)->count && count < COLUMN_MAX; ++i) {
            const dw_output_row *row = &(*l)->row[i];
            const char *key = row->key;
            const bool of_list = strncmp(key, list, length) == 0 && strncmp(key + length, ".*.", 3) == 0;
            if (of_list && strchr(key + length + 3, '*') == NULL) column[count++] = column_of(row);
        }
    }
    return dw_report_table(report, parent, last_step(list), label, column, count);
}

void dw_report_outputs(dw_report *report, dw_item *parent, const char *command, const char *first,
                       const char *last, const dw_data *data, const void *object, bool shown)
{
    const dw_output_row *row = dw_output_find(command, first), *end = dw_output_find(command, last);
    if (row == NULL || end == NULL) dw_report_fail(report);
    while (row != NULL && row <= end) {
        if (row->place != DW_IN_NOTHING) {
            dw_item *item = dw_report_output(report, parent, command, row->key,
                                             dw_output_read(row, data, object, 0));
            if (item != NULL && !shown) item->label = NULL;
        }
        ++row;
    }
}

void dw_output_fill(const dw_table *table, dw_cell *cell, const dw_data *data, dw_output_place place,
                    const void *object, size_t index)
{
    for (size_t c = 0; c < table->column_count; ++c) {
        const dw_output_row *row = table->column[c].output;
        if (row == NULL || row->place != place || row->kind == DW_OUTPUT_WORD) continue;
        cell[c].si = dw_output_read(row, data, object, index);
    }
}
