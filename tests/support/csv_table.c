#include "csv_table.h"

#include <csv.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct reading {
    csv_table *table;
    csv_row row; /* being filled           */
    bool ended;  /* a row has just ended   */
    bool out_of_memory;
} reading;

static void on_field(void *text, size_t length, void *context)
{
    reading *r = context;
    char **grown = realloc(r->row.field, (r->row.count + 1) * sizeof *grown);
    char *copy = malloc(length + 1);
    if (grown != NULL) r->row.field = grown;
    if (grown == NULL || copy == NULL) {
        free(copy);
        r->out_of_memory = true;
        return;
    }
    if (length > 0) memcpy(copy, text, length);
    copy[length] = '\0';
    r->row.field[r->row.count++] = copy;
}

static void free_row(csv_row *row)
{
    for (size_t i = 0; i < row->count; i++)
        free(row->field[i]);
    free(row->field);
    row->field = NULL;
    row->count = 0;
}

static void on_row(int terminator, void *context)
{
    (void)terminator;
    reading *r = context;
    csv_row *grown = realloc(r->table->row, (r->table->count + 1) * sizeof *grown);
    if (grown == NULL) {
        r->out_of_memory = true;
        return;
    }
    r->table->row = grown;
    r->table->row[r->table->count++] = r->row;
    r->row.field = NULL;
    r->row.count = 0;
    r->ended = true;
}

/* The next line with its end, grown as needed; NULL at the end of the file or without memory. */
static char *next_line(FILE *file, char **buffer, size_t *size)
{
    size_t used = 0;
    for (;;) {
        if (used + 2 > *size) {
            const size_t larger = *size == 0 ? 1024 : *size * 2;
            char *grown = realloc(*buffer, larger);
            if (grown == NULL) return NULL;
            *buffer = grown;
            *size = larger;
        }
        const int c = getc(file);
        if (c == EOF) break;
        (*buffer)[used++] = (char)c;
        if (c == '\n') break;
    }
    if (used == 0) return NULL;
    (*buffer)[used] = '\0';
    return *buffer;
}

int csv_table_read(const char *path, csv_table *table, char *message, size_t message_size)
{
    reading r = {table, {0, 0, NULL}, false, false};
    struct csv_parser parser;
    char *buffer = NULL, *line;
    size_t size = 0, number = 0;
    bool inside = false, good = true;
    *table = (csv_table){0, NULL};
    message[0] = '\0';

    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        (void)snprintf(message, message_size, "%s: cannot be opened", path);
        return 0;
    }
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0) {
        (void)fclose(file);
        (void)snprintf(message, message_size, "%s: no CSV parser", path);
        return 0;
    }
    while (good && (line = next_line(file, &buffer, &size)) != NULL) {
        number++;
        const size_t length = strlen(line);
        /* A quoted field may run over lines; a comment can only stand between rows. */
        if (!inside && (line[0] == '#' || strspn(line, "\r\n") == length)) continue;
        if (!inside) r.row.line = number;
        r.ended = false;
        good = csv_parse(&parser, line, length, on_field, on_row, &r) == length;
        inside = !r.ended;
    }
    if (good) good = csv_fini(&parser, on_field, on_row, &r) == 0;
    if (!good) {
        (void)snprintf(message, message_size, "%s:%zu: %s", path, number,
                       csv_strerror(csv_error(&parser)));
    } else if (r.out_of_memory || ferror(file)) {
        (void)snprintf(message, message_size, "%s: reading failed", path);
        good = false;
    } else if (table->count == 0) {
        (void)snprintf(message, message_size, "%s: holds no rows", path);
        good = false;
    }
    csv_free(&parser);
    free(buffer);
    free_row(&r.row);
    (void)fclose(file);
    if (!good) csv_table_free(table);
    return good;
}

int csv_table_column(const csv_table *table, const char *name)
{
    if (table->count == 0) return -1;
    for (size_t i = 0; i < table->row[0].count; i++) {
        if (strcmp(table->row[0].field[i], name) == 0) return (int)i;
    }
    return -1;
}

void csv_table_free(csv_table *table)
{
    for (size_t i = 0; i < table->count; i++)
        free_row(&table->row[i]);
    free(table->row);
    *table = (csv_table){0, NULL};
}
