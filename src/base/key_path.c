#include "key_path.h"

#include <stdio.h>
#include <string.h>

size_t dw_path_join(char *out, size_t size, const char *path, const char *step)
{
    const char *dot = path[0] != '\0' ? "." : "";
    const bool plain = strchr(step, '.') == NULL && step[0] != '\'' && step[0] != '"';
    const char *quote = plain ? "" : strchr(step, '"') == NULL ? "\"" : "'";
    const int length = snprintf(out, size, "%s%s%s%s%s", path, dot, quote, step, quote);
    return length > 0 ? (size_t)length : 0;
}

size_t dw_path_join_keys(char *out, size_t size, const char *path, const char *keys)
{
    const int length = snprintf(out, size, "%s%s%s", path, path[0] != '\0' ? "." : "", keys);
    return length > 0 ? (size_t)length : 0;
}

bool dw_path_next(const char **path, char *step, size_t size, bool *quoted)
{
    const char *from = *path;
    size_t length;
    const char *end;
    const bool in_quotes = *from == '"' || *from == '\'';
    if (quoted != NULL) *quoted = in_quotes;
    step[0] = '\0';
    if (in_quotes) {
        const char *close = strchr(from + 1, *from);
        if (close == NULL) return false;
        from++;
        length = (size_t)(close - from);
        end = close + 1;
        if (*end != '.' && *end != '\0') return false;
    } else {
        length = strcspn(from, ".");
        end = from + length;
    }
    if (length == 0 || length >= size) return false;
    if (*end == '.' && end[1] == '\0') return false;
    memcpy(step, from, length);
    step[length] = '\0';
    *path = *end == '.' ? end + 1 : end;
    return true;
}
