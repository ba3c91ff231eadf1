#ifndef DW_TEST_CSV_TABLE_H
#define DW_TEST_CSV_TABLE_H

/**
 * @file csv_table.h
 * A CSV file (RFC 4180 quoting) as rows of text. Lines that begin with `#` and empty lines are
 * left out; the first row holds the column names.
 */

#include <stddef.h>

typedef struct csv_row {
    size_t line; /**< where the row begins, from 1 */
    size_t count;
    char **field;
} csv_row;

typedef struct csv_table {
    size_t count; /**< rows, that of the names included */
    csv_row *row;
} csv_table;

/** Reads a file. On failure returns 0, leaves the table empty and says why in message. */
int csv_table_read(const char *path, csv_table *table, char *message, size_t message_size);

/** Column by name; -1 when there is none. */
int csv_table_column(const csv_table *table, const char *name);

void csv_table_free(csv_table *table);

#endif
