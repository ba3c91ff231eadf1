#include "nearest.h"

#include <stdio.h>
#include <string.h>

enum { DISTANCE_MAX = 2 };

static size_t least(size_t a, size_t b) { return a < b ? a : b; }

/* Restricted Damerau-Levenshtein distance with three rows; rows[i % 3][j] is the distance of the
 * first i bytes of a from the first j bytes of b. Both are at most DW_NEAREST_WORD_MAX long. */
static size_t distance(const char *a, size_t a_length, const char *b, size_t b_length)
{
    size_t rows[3][DW_NEAREST_WORD_MAX + 1];
    for (size_t j = 0; j <= b_length; j++)
        rows[0][j] = j;
    for (size_t i = 1; i <= a_length; i++) {
        size_t *now = rows[i % 3];
        const size_t *above = rows[(i - 1) % 3];
        now[0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            const size_t cost = a[i - 1] == b[j - 1] ? 0 : 1;
            now[j] = least(least(above[j] + 1, now[j - 1] + 1), above[j - 1] + cost);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                now[j] = least(now[j], rows[(i - 2) % 3][j - 2] + 1);
            }
        }
    }
    return rows[a_length % 3][b_length];
}

const char *dw_nearest_word(const char *word, const char *const *words, size_t count)
{
    if (word == NULL || words == NULL) return NULL;
    const size_t length = strlen(word);
    if (length > DW_NEAREST_WORD_MAX) return NULL;

    const char *best = NULL;
    size_t best_distance = DISTANCE_MAX + 1;
    for (size_t k = 0; k < count; k++) {
        if (words[k] == NULL) continue;
        const size_t other = strlen(words[k]);
        const size_t apart = other > length ? other - length : length - other;
        if (other > DW_NEAREST_WORD_MAX || apart > DISTANCE_MAX) continue;
        const size_t d = distance(word, length, words[k], other);
        if (d < best_distance && 2 * d < length) {
            best_distance = d;
            best = words[k];
        }
    }
    return best;
}

void dw_words_join(const char *const *word, size_t count, char *out, size_t size)
{
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < count; i++) {
        const char *before = i == 0 ? "" : i + 1 == count ? " or " : ", ";
        const size_t length = strlen(before) + strlen(word[i]);
        /* Room for "..." and the NUL is kept until the last word. */
        const size_t spare = i + 1 == count ? 1 : sizeof ", ...";
        if (used + length + spare > size) {
            (void)snprintf(out + used, size - used, ", ...");
            return;
        }
        used += (size_t)snprintf(out + used, size - used, "%s%s", before, word[i]);
    }
}
