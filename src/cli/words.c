#include "words.h"

#include <stdio.h>
#include <string.h>

#include "nearest.h"
#include "say.h"

void dw_word_list(const char *const *words, size_t count, const char *dashes, const char *last,
                  char list[DW_WORD_LIST_SIZE])
{
    size_t used = 0;
    list[0] = '\0';
    for (size_t i = 0; i < count && used < DW_WORD_LIST_SIZE; ++i) {
        const bool is_last = last != NULL && i > 0 && i + 1 == count;
        (void)snprintf(list + used, DW_WORD_LIST_SIZE - used, "%s%s%s",
                       is_last ? last : i > 0 ? ", " : "", dashes, words[i]);
        used += strlen(list + used);
    }
}

void dw_word_unknown(const char *what, const char *word, const char *const *words,
                     const char *dashes)
{
    size_t count = 0;
    while (words[count] != NULL)
        ++count;
    const char *near = dw_nearest_word(word, words, count);
    if (near != NULL) {
        dw_say("unknown %s '%s%s', did you mean '%s%s'?", what, dashes, word, dashes, near);
        return;
    }
    char list[DW_WORD_LIST_SIZE];
    dw_word_list(words, count, dashes, NULL, list);
    dw_say("unknown %s '%s%s'; allowed: %s", what, dashes, word, list);
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
