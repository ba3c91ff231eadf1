#include "input_file.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_BYTES = 16384 };

static dw_status read_all(FILE *file, char **text, size_t *length, const char **message)
{
    size_t capacity = FIRST_BYTES, used = 0;
    char *buffer = malloc(capacity + 1);
    while (buffer != NULL) {
        used += fread(buffer + used, 1, capacity - used, file);
        if (ferror(file) || used > DW_INPUT_BYTES_MAX) {
            *message = ferror(file) ? strerror(errno) : "larger than 4 MiB";
            free(buffer);
            return DW_ERR_IO;
        }
        if (used < capacity) break;
        char *larger = realloc(buffer, 2 * capacity + 1);
        if (larger == NULL) free(buffer);
        buffer = larger;
        capacity *= 2;
    }
    if (buffer == NULL) {
        *message = "out of memory";
        return DW_ERR_NOMEM;
    }
    buffer[used] = '\0';
    *text = buffer;
    *length = used;
    return DW_OK;
}

dw_status dw_input_read(const char *path, char **text, size_t *length, const char **message)
{
    *text = NULL;
    *length = 0;
    *message = "";
    if (strcmp(path, "-") == 0) return read_all(stdin, text, length, message);
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        *message = strerror(errno);
        return DW_ERR_IO;
    }
    const dw_status status = read_all(file, text, length, message);
    (void)fclose(file);
    return status;
}
