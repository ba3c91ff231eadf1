#ifndef DW_TEST_REFERENCE_ROW_H
#define DW_TEST_REFERENCE_ROW_H

/**
 * @file reference_row.h
 * The inside of a row (see reference.h): what the runner of the tables and `ask` share.
 */

#include "reference.h"

#include <stdbool.h>

enum { REF_INPUT_MAX = 48, REF_NAME_MAX = 100, REF_NAME_LENGTH = 40 };

/** Input names of a table, and whether any row's function asked for them: a name that none asks
 *  for is a slip of the pen. Rows of one case may share inputs that not each of them needs. */
typedef struct ref_name_list {
    int count;
    char name[REF_NAME_MAX][REF_NAME_LENGTH];
    bool asked[REF_NAME_MAX];
} ref_name_list;

/** What happens while a row is computed; apart from the row, which its function may not change. */
typedef struct ref_row_log {
    ref_name_list *names; /**< NULL: nobody keeps count */
    char complaint[160];  /**< "" when there is none    */
} ref_row_log;

struct ref_row {
    int input_count;
    char *name[REF_INPUT_MAX]; /**< into text */
    char *value[REF_INPUT_MAX];
    char *text; /**< owned copy of the field inputs; free it */
    ref_row_log *log;
};

/** Keeps a complaint; the first one stays. */
void ref_complain(ref_row_log *log, const char *text, const char *subject);

/** Entry of a name, added when new; -1 when the list is full or the name too long. */
int ref_enter_name(ref_name_list *list, const char *name);

/** All of the text as a finite number. */
bool ref_parse_number(const char *text, double *number);

/** Cuts `name=value;name=value` into the row; false when it is not of that form. */
bool ref_split_inputs(const char *field, ref_row *row);

/** The function of a quantity; NULL when none has that name. */
ref_function ref_find_quantity(const char *name);

#endif
