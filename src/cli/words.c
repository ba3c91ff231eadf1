#include "words.h"

#include <stdio.h>
#include <string.h>

#include "nearest.h"

void dw_word_unknown(const char *what, const char *word, const char *const *words,
                     const char *dashes)
{
    (void)fprintf(stderr, "damperwise: unknown %s '%s%s'", what, dashes, word);
    size_t count = 0;
    while (words[count] != NULL)
        ++count;
    const char *near = dw_nearest_word(word, words, count);
    if (near != NULL) {
        (void)fprintf(stderr, ", did you mean '%s%s'?\n", dashes, near);
        return;
    }
    (void)fputs("; allowed:", stderr);
    for (size_t i = 0; words[i] != NULL; ++i) {
        (void)fprintf(stderr, "%s %s%s", i > 0 ? "," : "", dashes, words[i]);
    }
    (void)fputs("\n", stderr);
}

int dw_word_index(const char *word, const char *const *words)
{
    for (int i = 0; words[i] != NULL; ++i) {
        if (strcmp(word, words[i]) == 0) return i;
    }
    return -1;
}

bool dw_word_choose(const char *what, const char *word, const char *const *words, int *index)
{
    *index = dw_word_index(word, words);
    if (*index < 0) dw_word_unknown(what, word, words, "");
    return *index >= 0;
}
