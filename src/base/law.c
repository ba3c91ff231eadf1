#include "law.h"

#include <string.h>

#include "ascii.h"
#include "working_store.h"

enum { FORMULA_SIZE = 600 };

/* Where the text is read and written. */
typedef struct shown {
    const char *at;
    const char *names;
    char *out;
    size_t used, size;
    bool failed;
} shown;

static void put(shown *s, const char *text, size_t length)
{
    if (s->used + length + 1 > s->size) {
        s->failed = true;
        return;
    }
    memcpy(s->out + s->used, text, length);
    s->used += length;
    s->out[s->used] = '\0';
}

static void put_text(shown *s, const char *text) { put(s, text, strlen(text)); }

static void skip_blanks(shown *s)
{
    while (*s->at == ' ') s->at++;
}

static bool take(shown *s, char c)
{
    skip_blanks(s);
    if (*s->at != c) return false;
    s->at++;
    return true;
}

static bool is(const char *word, size_t length, const char *text)
{
    return strlen(text) == length && memcmp(word, text, length) == 0;
}

static bool is_word(char c) { return dw_ascii_is_word(c) || c == '_'; }

/* Names as "from>to from>to". */
static void put_name(shown *s, const char *name, size_t length)
{
    for (const char *p = s->names; p != NULL && *p != '\0';) {
        const size_t from = strcspn(p, "> "), to = p[from] == '>' ? strcspn(p + from + 1, " ") : 0;
        if (from == length && memcmp(p, name, length) == 0) {
            put(s, p + from + 1, to);
            return;
        }
        p += from + (p[from] == '>' ? 1 + to : 0);
        p += strspn(p, " ");
    }
    put(s, name, length);
}

static void put_sum(shown *s);

/* One argument of pow(): in brackets unless it is a name, a number or a call. */
static void put_operand(shown *s)
{
    const size_t begin = s->used;
    put_sum(s);
    size_t depth = 0;
    bool plain = true;
    for (size_t i = begin; i < s->used; i++) {
        const char c = s->out[i];
        if (c == '(') depth++;
        if (c == ')') depth--;
        if (depth == 0 && strchr("+-*/^ ", c) != NULL) plain = false;
    }
    if (plain) return;
    if (s->used + 3 > s->size) {
        s->failed = true;
        return;
    }
    memmove(s->out + begin + 1, s->out + begin, s->used - begin);
    s->out[begin] = '(';
    s->used++;
    put_text(s, ")");
}

static void put_call(shown *s, const char *name, size_t length)
{
    static const struct {
        const char *c, *shown;
    } called[] = {{"fmax", "max"}, {"fmin", "min"}, {"fabs", "abs"}, {"log", "ln"},
                  {"sqrt", "sqrt"}, {"exp", "exp"}, {"log10", "log10"}, {"sin", "sin"},
                  {"asin", "asin"}};
    if (is(name, length, "pow")) {
        put_operand(s);
        if (!take(s, ',')) s->failed = true;
        put_text(s, "^");
        put_operand(s);
    } else {
        size_t i = 0;
        while (i < sizeof called / sizeof called[0] && !is(name, length, called[i].c)) i++;
        if (i == sizeof called / sizeof called[0]) {
            s->failed = true;
            return;
        }
        put_text(s, called[i].shown);
        put_text(s, "(");
        put_sum(s);
        while (!s->failed && take(s, ',')) {
            put_text(s, ", ");
            put_sum(s);
        }
        put_text(s, ")");
    }
    if (!take(s, ')')) s->failed = true;
}

static void put_value(shown *s)
{
    skip_blanks(s);
    while (!s->failed && (*s->at == '-' || *s->at == '+')) {
        put(s, s->at++, 1);
        skip_blanks(s);
    }
    const char *begin = s->at;
    if (take(s, '(')) {
        put_text(s, "(");
        put_sum(s);
        put_text(s, ")");
        if (!take(s, ')')) s->failed = true;
    } else if (dw_ascii_is_digit(*begin)) {
        while (is_word(*s->at) || *s->at == '.' ||
               ((*s->at == '-' || *s->at == '+') && (s->at[-1] == 'e' || s->at[-1] == 'E'))) {
            s->at++;
        }
        const size_t length = (size_t)(s->at - begin);
        const bool whole = length > 2 && memcmp(s->at - 2, ".0", 2) == 0 && strcspn(begin, ".") == length - 2;
        put(s, begin, whole ? length - 2 : length);
    } else if (is_word(*begin)) {
        while (is_word(*s->at)) s->at++;
        const size_t length = (size_t)(s->at - begin);
        if (take(s, '(')) {
            put_call(s, begin, length);
        } else {
            put_name(s, begin, length);
        }
    } else {
        s->failed = true;
    }
}

/* Values with operators between them, up to a bracket, a comma or the end. */
static void put_sum(shown *s)
{
    put_value(s);
    for (;;) {
        skip_blanks(s);
        const char c = *s->at;
        if (s->failed || c == '\0' || c == ',' || c == ')') return;
        if (strchr("+-*/", c) == NULL) {
            s->failed = true;
            return;
        }
        const char between[] = {' ', c, ' ', '\0'};
        if (c == '+' || c == '-') {
            put_text(s, between);
        } else {
            put(s, s->at, 1);
        }
        s->at++;
        put_value(s);
    }
}

bool dw_law_formula(const char *c, const char *names, char *out, size_t size)
{
    if (size == 0) return false;
    out[0] = '\0';
    shown s = {.at = c, .names = names, .out = out, .size = size};
    put_sum(&s);
    if (*s.at != '\0') s.failed = true;
    if (s.failed) out[0] = '\0';
    return !s.failed;
}

/* Formula and symbol under their names; false when that is not one, which the working then says. */
static bool name_law(dw_working *w, const dw_law *law, const char *names,
                     char formula[FORMULA_SIZE], char symbol[FORMULA_SIZE])
{
    if (dw_working_status(w) != DW_OK) return false;
    if (dw_law_formula(law->text, names, formula, FORMULA_SIZE) &&
        dw_law_formula(law->symbol, names, symbol, FORMULA_SIZE)) {
        return true;
    }
    w->status = DW_ERR_BUG;
    return false;
}

void dw_law_write(dw_working *w, const char *keys, const char *names, const char *meaning,
                  const dw_law *law, double value)
{
    char formula[FORMULA_SIZE], symbol[FORMULA_SIZE];
    if (!name_law(w, law, names, formula, symbol)) return;
    if (meaning == NULL) meaning = law->meaning;
    dw_work_step_is(w, keys, symbol, meaning, law->unit, formula, value, law->source);
}

void dw_law_column(dw_working *w, const char *keys, const char *names, const char *meaning,
                   const dw_law *law, const double *value)
{
    char formula[FORMULA_SIZE], symbol[FORMULA_SIZE];
    if (w == NULL || !name_law(w, law, names, formula, symbol)) return;
    if (meaning == NULL) meaning = law->meaning;
    dw_work_column_is(w, keys, symbol, meaning, law->unit, formula, value, law->source);
}
