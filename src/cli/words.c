#include "words.h"

#include <stdio.h>
#include <string.h>

#include "nearest.h"
#include "say.h"

enum { LIST_SIZE = 700 };

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
    char list[LIST_SIZE] = "";
    size_t used = 0;
    for (size_t i = 0; i < count; ++i) {
        const size_t own = strlen(dashes) + strlen(words[i]) + 2;
        if (used + own >= sizeof list) break;
        (void)snprintf(list + used, sizeof list - used, "%s%s%s", i > 0 ? ", " : "", dashes, words[i]);
        used += strlen(list + used);
    }
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
