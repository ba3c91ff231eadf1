/* The inside of a row of a reference table. */

#include "reference_row.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void ref_complain(ref_row_log *log, const char *text, const char *subject)
{
    if (log->complaint[0] == '\0') {
        (void)snprintf(log->complaint, sizeof log->complaint, "%s '%s'", text, subject);
    }
}

int ref_enter_name(ref_name_list *list, const char *name)
{
    for (int i = 0; i < list->count; i++) {
        if (strcmp(list->name[i], name) == 0) return i;
    }
    if (list->count == REF_NAME_MAX || strlen(name) >= REF_NAME_LENGTH) return -1;
    memcpy(list->name[list->count], name, strlen(name) + 1);
    list->asked[list->count] = false;
    return list->count++;
}

static const char *find_input(const ref_row *row, const char *name)
{
    for (int i = 0; i < row->input_count; i++) {
        if (strcmp(row->name[i], name) == 0) {
            ref_name_list *names = row->log->names;
            const int entry = names == NULL ? -1 : ref_enter_name(names, name);
            if (entry >= 0) names->asked[entry] = true;
            return row->value[i];
        }
    }
    return NULL;
}

bool ref_parse_number(const char *text, double *number)
{
    char *end;
    *number = strtod(text, &end);
    return end != text && *end == '\0' && isfinite(*number);
}

double ref_number_or(const ref_row *row, const char *name, double fallback)
{
    const char *text = find_input(row, name);
    double number = fallback;
    if (text != NULL && !ref_parse_number(text, &number)) {
        ref_complain(row->log, "not a number:", name);
        return NAN;
    }
    return number;
}

double ref_number(const ref_row *row, const char *name)
{
    if (find_input(row, name) == NULL) {
        ref_complain(row->log, "missing input", name);
        return NAN;
    }
    return ref_number_or(row, name, NAN);
}

const char *ref_word(const ref_row *row, const char *name, const char *fallback)
{
    const char *text = find_input(row, name);
    return text == NULL ? fallback : text;
}

bool ref_split_inputs(const char *field, ref_row *row)
{
    const size_t size = strlen(field) + 1;
    row->input_count = 0;
    row->text = malloc(size);
    if (row->text == NULL) return false;
    memcpy(row->text, field, size);
    char *at = row->text;
    while (*at != '\0') {
        char *end = strchr(at, ';');
        char *equals = strchr(at, '=');
        if (equals == NULL || equals == at || (end != NULL && equals > end)) return false;
        if (row->input_count == REF_INPUT_MAX) return false;
        *equals = '\0';
        row->name[row->input_count] = at;
        row->value[row->input_count++] = equals + 1;
        if (end == NULL) break;
        *end = '\0';
        at = end + 1;
    }
    return true;
}

ref_function ref_find_quantity(const char *name)
{
    const ref_quantity *const lists[] = {ref_flow_quantities, ref_gas_quantities,
                                         ref_fuel_quantities, ref_people_quantities,
                                         ref_ware_quantities};
    for (size_t l = 0; l < sizeof lists / sizeof lists[0]; l++) {
        for (const ref_quantity *q = lists[l]; q->name != NULL; q++) {
            if (strcmp(q->name, name) == 0) return q->compute;
        }
    }
    return NULL;
}
