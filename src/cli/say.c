#include "say.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "format.h"
#include "visible.h"

static void put_visible(const char *text)
{
    char piece[DW_VISIBLE_SIZE];
    for (size_t length = strlen(text); length > 0;) {
        const size_t used = dw_visible(text, length, piece);
        (void)fputs(piece, stderr);
        text += used;
        length -= used;
    }
}

void dw_say_line(const char *line)
{
    put_visible(line);
    (void)fputs("\n", stderr);
}

void dw_say(const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    const int length = dw_vprint(NULL, 0, format, args);
    va_end(args);
    char *line = length >= 0 ? malloc((size_t)length + 1) : NULL;
    if (line != NULL) (void)dw_vprint(line, (size_t)length + 1, format, again);
    va_end(again);
    (void)fputs("damperwise: ", stderr);
    dw_say_line(line != NULL ? line : "out of memory");
    free(line);
}
