#include "yaml_advice.h"

#include <stdio.h>
#include <string.h>

#include "ascii.h"

enum { OWN_MAX = 60, LOOK_BACK = 3, PLACE_SIZE = 60 };

/** One line of the text, without its end. */
typedef struct line {
    const char *text;
    size_t length;
    size_t indent; /* bytes of blanks, and of a dash with its blank */
} line;

static bool starts(const char *text, const char *with)
{
    return text != NULL && strncmp(text, with, strlen(with)) == 0;
}

static bool line_at(const dw_yaml_problem *p, size_t number, line *out)
{
    const char *at = p->text, *const end = p->text + p->length;
    for (; number > 0; number--) {
        const char *next = at < end ? memchr(at, '\n', (size_t)(end - at)) : NULL;
        if (next == NULL) return false;
        at = next + 1;
    }
    *out = (line){.text = at};
    while (at + out->length < end && at[out->length] != '\n' && at[out->length] != '\r')
        out->length++;
    while (out->indent < out->length && at[out->indent] == ' ')
        out->indent++;
    if (out->indent + 1 < out->length && at[out->indent] == '-' && at[out->indent + 1] == ' ') {
        for (out->indent++; out->indent < out->length && at[out->indent] == ' ';)
            out->indent++;
    }
    return true;
}

/* Bytes of the key that a line begins with: a word of letters, digits and _. */
static size_t key_length(const line *l)
{
    size_t n = 0;
    while (l->indent + n < l->length &&
           (dw_ascii_is_word(l->text[l->indent + n]) || l->text[l->indent + n] == '_'))
        n++;
    return n;
}

/* The rest of a line from a byte on, without a remark and blanks at both ends. */
static const char *rest_of(const line *l, size_t from, int *length)
{
    size_t end = l->length;
    while (from < end && l->text[from] == ' ')
        from++;
    for (size_t i = from; i + 1 < end; i++) {
        if (l->text[i] == ' ' && l->text[i + 1] == '#') end = i;
    }
    while (end > from && l->text[end - 1] == ' ')
        end--;
    *length = (int)(end - from < OWN_MAX ? end - from : OWN_MAX);
    return l->text + from;
}

/* `gas_pressure:7 in w.c.`, or a dash without its blank, at or before the problem. */
static bool missing_blank(dw_yaml_problem *p, char *out, size_t size)
{
    for (size_t back = 0; back < LOOK_BACK && back <= p->line; back++) {
        line l;
        int length;
        if (!line_at(p, p->line - back, &l)) continue;
        const size_t key = key_length(&l), colon = l.indent + key;
        if (key > 0 && colon + 1 < l.length && l.text[colon] == ':' && l.text[colon + 1] != ' ') {
            const char *rest = rest_of(&l, colon + 1, &length);
            (void)snprintf(out, size, "a space is missing after the colon; write %.*s: %.*s",
                           (int)(key < OWN_MAX ? key : OWN_MAX), l.text + l.indent, length, rest);
            p->line -= back;
            p->column = colon;
            return true;
        }
        if (l.indent + 1 < l.length && l.text[l.indent] == '-' &&
            dw_ascii_is_word(l.text[l.indent + 1])) {
            const char *rest = rest_of(&l, l.indent + 1, &length);
            (void)snprintf(out, size, "a space is missing after the dash; write - %.*s", length,
                           rest);
            p->line -= back;
            p->column = l.indent;
            return true;
        }
    }
    return false;
}

/* `name: kiln: big` */
static bool second_colon(const dw_yaml_problem *p, char *out, size_t size)
{
    line l;
    int length;
    if (!line_at(p, p->line, &l) || p->column >= l.length || l.text[p->column] != ':') return false;
    const size_t key = key_length(&l), colon = l.indent + key;
    const char *rest = rest_of(&l, colon + 1, &length);
    if (key == 0 || colon >= p->column || l.text[colon] != ':' || length == 0 ||
        strchr("{[\"'", rest[0]) != NULL) {
        (void)snprintf(out, size,
                       "a second colon is here; a comma is missing before its key, or a "
                       "text that contains a colon needs quotes, as in name: \"a: b\"");
        return true;
    }
    const int own = (int)(key < OWN_MAX ? key : OWN_MAX);
    (void)snprintf(out, size,
                   "a second colon is in this line; put a text that contains a colon in quotes: "
                   "%.*s: \"%.*s\", or a group of keys in braces: %.*s: {%.*s}",
                   own, l.text + l.indent, length, rest, own, l.text + l.indent, length, rest);
    return true;
}

/* The line of a block that has words without a colon: libyaml says so, or stops at the first colon
 * after it. */
static bool find_missing_colon(const dw_yaml_problem *p, size_t *number, size_t *column, line *l)
{
    if (starts(p->problem, "could not find expected ':'")) {
        *number = p->start_line;
        *column = p->start_column;
        return p->has_start && line_at(p, *number, l);
    }
    if (p->line == 0 || !line_at(p, p->line, l) || l->indent + key_length(l) != p->column ||
        !line_at(p, p->line - 1, l) || memchr(l->text, ':', l->length) != NULL) {
        return false;
    }
    *number = p->line - 1;
    *column = l->indent;
    return true;
}

static bool missing_colon(dw_yaml_problem *p, char *out, size_t size)
{
    line l;
    int length;
    size_t number, column;
    if (!find_missing_colon(p, &number, &column, &l)) return false;
    const size_t key = key_length(&l);
    const char *rest = rest_of(&l, l.indent + key, &length);
    if (key == 0) return false;
    (void)snprintf(out, size, "a colon is missing; write %.*s:%s%.*s",
                   (int)(key < OWN_MAX ? key : OWN_MAX), l.text + l.indent, length > 0 ? " " : "",
                   length, rest);
    p->line = number;
    p->column = column;
    return true;
}

static char char_at(const dw_yaml_problem *p, size_t number, size_t column)
{
    line l;
    return line_at(p, number, &l) && column < l.length ? l.text[column] : '\0';
}

static void put_place(const dw_yaml_problem *p, char out[PLACE_SIZE])
{
    out[0] = '\0';
    if (p->placeless || !p->has_start) return;
    (void)snprintf(out, PLACE_SIZE, " at line %zu, column %zu", p->start_line + 1,
                   p->start_column + 1);
}

static bool unclosed(const dw_yaml_problem *p, char *out, size_t size)
{
    char place[PLACE_SIZE];
    const bool map = strstr(p->problem, "'}'") != NULL, list = strstr(p->problem, "']'") != NULL;
    if (!map && !list) return false;
    put_place(p, place);
    (void)snprintf(out, size,
                   "the %s opened%s is not closed with %s, or a comma between two %s is missing",
                   map ? "brace {" : "bracket [", place, map ? "}" : "]", map ? "keys" : "values");
    return true;
}

/* A line whose key does not fit the ones above it. */
static bool misfit(const dw_yaml_problem *p, char *out, size_t size)
{
    if (strstr(p->problem, "expected key") == NULL && strstr(p->problem, "'-' indicator") == NULL) {
        return false;
    }
    const char here = char_at(p, p->line, p->column);
    size_t before = p->column;
    while (before > 0 && char_at(p, p->line, before - 1) == ' ')
        before--;
    const char last = before > 0 ? char_at(p, p->line, before - 1) : '\0';
    char place[PLACE_SIZE];
    put_place(p, place);
    if (here == '}' || here == ']') {
        (void)snprintf(out, size, "there is one '%c' too many here", here);
    } else if (last == '"' || last == '\'') {
        (void)snprintf(out, size,
                       "a text goes on after its closing quote; put all of it in quotes");
    } else {
        (void)snprintf(out, size,
                       "this line does not fit those above; what belongs together begins in the "
                       "same column (this part begins%s)",
                       place[0] != '\0' ? place : " further up");
    }
    return true;
}

static bool bad_start(const dw_yaml_problem *p, char *out, size_t size)
{
    const bool token = strstr(p->problem, "cannot start any token") != NULL;
    const bool mark = starts(p->context, "while scanning an anchor") ||
                      starts(p->context, "while scanning an alias") ||
                      starts(p->context, "while parsing a tag");
    if (!token && !mark) return false;
    const char here = token || !p->has_start ? char_at(p, p->line, p->column)
                                             : char_at(p, p->start_line, p->start_column);
    if (here == '\t') {
        (void)snprintf(out, size, "a tab is here; indent with spaces");
    } else {
        (void)snprintf(out, size, "a text cannot begin with %c; put it in quotes",
                       here > ' ' && here < 0x7F ? here : '?');
    }
    return true;
}

static bool unclosed_quote(dw_yaml_problem *p, char *out, size_t size)
{
    if (!starts(p->context, "while scanning a quoted scalar")) return false;
    (void)snprintf(out, size, "the quote that begins here is not closed");
    if (p->has_start) {
        p->line = p->start_line;
        p->column = p->start_column;
    }
    return true;
}

static bool known_words(const dw_yaml_problem *p, char *out, size_t size)
{
    static const struct {
        const char *problem, *words;
    } known[] = {
        {"did not find expected node content",
         "a value is missing here, or there is a comma too many"},
        {"found unknown escape character",
         "a backslash begins an escape in double quotes; write two of them, or use single quotes"},
        {"block sequence entries are not allowed",
         "a list cannot begin here; put each '- ' on a line of its own, or a text in quotes"},
        {"did not find expected <document start>",
         "there is text after the end mark '...'; only one description is read"},
        {"control characters are not allowed",
         "a control character is here, which no text may contain; delete it"},
        {"found a tab character", "a tab is here; indent with spaces"},
    };
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        if (!starts(p->problem, known[i].problem)) continue;
        (void)snprintf(out, size, "%s", known[i].words);
        return true;
    }
    return false;
}

void dw_yaml_advise(dw_yaml_problem *p, char *out, size_t size)
{
    const bool colon = starts(p->problem, "mapping values are not allowed") ||
                       starts(p->problem, "could not find expected ':'");
    if (char_at(p, p->line, p->column) == '\t' && !unclosed_quote(p, out, size)) {
        (void)snprintf(out, size, "a tab is here; indent with spaces");
        return;
    }
    if (colon && missing_blank(p, out, size)) return;
    if (colon && missing_colon(p, out, size)) return;
    /* In braces that go on over lines, the brace is the likelier slip. */
    const bool in_line = strstr(p->problem, "',' or") != NULL && p->start_line == p->line;
    if ((colon || in_line) && second_colon(p, out, size)) return;
    if (unclosed(p, out, size) || misfit(p, out, size) || bad_start(p, out, size) ||
        unclosed_quote(p, out, size) || known_words(p, out, size)) {
        return;
    }
    (void)snprintf(out, size, "this cannot be read as YAML: %s%s%s",
                   p->context != NULL ? p->context : "", p->context != NULL ? ", " : "",
                   p->problem);
}
