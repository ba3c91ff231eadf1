#include "units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "format.h"
#include "nearest.h"
#include "number.h"
#include "unit_rows.h"
#include "utf8.h"

enum { UNIT_SIZE = 32, SHOWN_SIZE = 44, NUMBER_SIZE = 32, WORD_MAX = 160, FRACTION_DIGITS_MAX = 4 };

static const dw_dim_text no_dim = {"quantity", "a quantity", "", "", "", {"", ""}};

static const dw_dim_text *text_of(dw_dim dim)
{
    return (int)dim >= 0 && dim < DW_DIM_COUNT_ ? &dw_dim_texts[dim] : &no_dim;
}

const char *dw_dim_name(dw_dim dim) { return text_of(dim)->name; }

const char *dw_dim_si_unit(dw_dim dim) { return text_of(dim)->si_unit; }

const char *dw_dim_suffix(dw_dim dim) { return text_of(dim)->suffix; }

const char *dw_dim_examples(dw_dim dim) { return text_of(dim)->examples; }

/* Characters outside ASCII, and `^`, that people write for what the table spells in ASCII. */
static const struct {
    const char *from, *to;
} spellings[] = {
    {"\xC2\xB2", "2"},      /* superscript 2           */
    {"\xC2\xB3", "3"},      /* superscript 3           */
    {"^", ""},              /* m^2                     */
    {"\xC2\xB0", "deg"},    /* degree sign             */
    {"\xC2\xBA", "deg"},    /* masculine ordinal, often typed for it */
    {"\xE2\x80\xB3", "\""}, /* double prime            */
    {"\xE2\x80\x9D", "\""}, /* right double quote      */
    {"\xE2\x80\x9C", "\""}, /* left double quote       */
    {"\xE2\x80\xB2", "'"},  /* prime                   */
    {"\xE2\x80\x99", "'"},  /* right single quote      */
    {"\xC2\xA0", " "},      /* no-break space          */
    {"\xE2\x80\xAF", " "},  /* narrow no-break space   */
    {"\xE2\x80\x89", " "},  /* thin space              */
};

/* Bytes of white space at the start of text. */
static size_t space(const char *text, size_t length)
{
    if (length == 0) return 0;
    if (text[0] == ' ' || (text[0] >= '\t' && text[0] <= '\r')) return 1;
    for (size_t k = 0; k < sizeof spellings / sizeof spellings[0]; k++) {
        const size_t n = strlen(spellings[k].from);
        if (spellings[k].to[0] == ' ' && n <= length && memcmp(text, spellings[k].from, n) == 0) {
            return n;
        }
    }
    return 0;
}

/* The unit's text in the table's letters, any white space as one blank. False when it does not
 * fit. */
static int plain_unit(const char *text, size_t length, char unit[UNIT_SIZE])
{
    size_t used = 0;
    for (size_t i = 0, n; i < length; i += n) {
        const char *add = text + i;
        size_t add_length = 1;
        n = space(text + i, length - i);
        if (n > 0) {
            add = " ";
            add_length = used > 0 && unit[used - 1] == ' ' ? 0 : 1;
        }
        for (size_t k = 0; n == 0 && k < sizeof spellings / sizeof spellings[0]; k++) {
            const size_t from = strlen(spellings[k].from);
            if (from <= length - i && memcmp(text + i, spellings[k].from, from) == 0) {
                n = from;
                add = spellings[k].to;
                add_length = strlen(add);
            }
        }
        if (n == 0) n = 1;
        if (used + add_length >= UNIT_SIZE || (add_length > 0 && add[0] == '\0')) return 0;
        memcpy(unit + used, add, add_length);
        used += add_length;
    }
    unit[used] = '\0';
    return 1;
}

static int is_word(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

static char folded(char c) { return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c; }

/* True when a unit is this spelling of the table; letters of either case count as equal when fold
 * is set. A blank of the spelling may be missing, and one may stand beside a sign (`Btu / h`), but
 * none may part a word: `m m` is not `mm`. */
static int same_unit(const char *spelling, const char *unit, int fold)
{
    char before = '/';
    while (*spelling != '\0') {
        if (*spelling == ' ') {
            spelling++;
            if (*unit == ' ') unit++;
        } else if (*unit == ' ' && !(is_word(before) && is_word(unit[1]))) {
            unit++;
        } else {
            const int same = fold ? folded(*spelling) == folded(*unit) : *spelling == *unit;
            if (!same) return 0;
            before = *unit;
            spelling++;
            unit++;
        }
    }
    return *unit == '\0';
}

static const dw_unit *find_row(const char *unit, dw_dim dim)
{
    for (size_t i = 0; i < dw_unit_row_count; i++) {
        if (dw_unit_rows[i].dim == dim && same_unit(dw_unit_rows[i].spelling, unit, 0)) {
            return &dw_unit_rows[i];
        }
    }
    return NULL;
}

/* What the unit is a unit of, as a phrase; NULL when the table does not know it. */
static const char *phrase_of_unit(const char *unit)
{
    if (find_row(unit, DW_DIM_RATIO) != NULL) return "a percentage";
    if (find_row(unit, DW_DIM_PRESSURE_GAUGE) != NULL &&
        find_row(unit, DW_DIM_PRESSURE_ABS) != NULL) {
        return "a pressure";
    }
    for (int dim = 0; dim < DW_DIM_COUNT_; dim++) {
        if (find_row(unit, (dw_dim)dim) != NULL) return dw_dim_texts[dim].phrase;
    }
    return NULL;
}

/* The spelling of this kind that was probably meant, or NULL. */
static const char *near_spelling(const char *unit, dw_dim dim)
{
    const char *words[WORD_MAX];
    size_t count = 0;
    for (size_t i = 0; i < dw_unit_row_count; i++) {
        if (dw_unit_rows[i].dim != dim) continue;
        if (same_unit(dw_unit_rows[i].spelling, unit, 1)) return dw_unit_rows[i].spelling;
        if (count < WORD_MAX) words[count++] = dw_unit_rows[i].spelling;
    }
    return dw_nearest_word(unit, words, count);
}

/* The text as a message may show it: on one line, valid UTF-8, cut when long. */
static void show(const char *text, size_t length, char shown[SHOWN_SIZE])
{
    size_t used = 0;
    for (size_t i = 0, n; i < length; i += n) {
        n = dw_utf8_char(text + i, length - i);
        const int printable = n > 1 || (n == 1 && text[i] >= 0x20 && text[i] != 0x7F);
        if (used + (n > 0 ? n : 1) + 4 > SHOWN_SIZE) {
            memcpy(shown + used, "...", 3);
            used += 3;
            break;
        }
        if (printable) {
            memcpy(shown + used, text + i, n);
            used += n;
        } else {
            shown[used++] = '?';
            n = n > 0 ? n : 1;
        }
    }
    shown[used] = '\0';
}

/* What is being read: the text without white space around it, and the message to fill. */
typedef struct reading {
    const char *text;
    size_t length;
    dw_dim dim;
    char shown[SHOWN_SIZE];
    char *message;
    const char *unit; /* set when read: as the table spells it, "" for none */
} reading;

#define REFUSE(r, ...) (dw_print((r)->message, DW_QUANTITY_MESSAGE_SIZE, __VA_ARGS__), DW_ERR_INPUT)

/* A fraction `3/4` at the start of text: its bytes, or 0. */
static size_t read_fraction(const char *text, size_t length, double *value)
{
    long part[2] = {0, 0};
    size_t i = 0;
    for (int k = 0; k < 2; k++) {
        const size_t from = i;
        while (i < length && text[i] >= '0' && text[i] <= '9' && i - from < FRACTION_DIGITS_MAX) {
            part[k] = 10 * part[k] + (text[i++] - '0');
        }
        if (i == from) return 0;
        if (k == 0 && (i >= length || text[i++] != '/')) return 0;
    }
    if (part[1] == 0) return 0;
    *value = (double)part[0] / (double)part[1];
    return i;
}

static int is_digit(char c) { return c >= '0' && c <= '9'; }

static int only_digits(const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        if (!is_digit(text[i])) return 0;
    }
    return 1;
}

/* The number a quantity begins with, `1/2` and `1 1/2` included: its bytes, or 0. */
static size_t read_number(const reading *r, double *value, int *fraction)
{
    const char *text = r->text;
    *fraction = 0;
    const size_t sign = r->length > 0 && (text[0] == '-' || text[0] == '+') ? 1 : 0;
    double part = 0.0;
    size_t used = read_fraction(text + sign, r->length - sign, &part);
    if (used > 0) {
        *fraction = 1;
        *value = sign == 1 && text[0] == '-' ? -part : part;
        return sign + used;
    }
    used = dw_number_read(text, r->length, value);
    /* A whole number, white space and a fraction: a mixed number. */
    size_t next = used, gap;
    while ((gap = space(text + next, r->length - next)) > 0)
        next += gap;
    if (used == 0 || next == used || !only_digits(text + sign, used - sign)) return used;
    const size_t more = read_fraction(text + next, r->length - next, &part);
    if (more == 0) return used;
    *fraction = 1;
    *value += text[0] == '-' ? -part : part;
    return next + more;
}

static dw_status refuse_number(const reading *r)
{
    const char *want = text_of(r->dim)->phrase;
    if (r->length == 0)
        return REFUSE(r, "is empty, expected %s: %s", want, dw_dim_examples(r->dim));
    return REFUSE(r, "'%s' does not begin with a number, expected %s: %s", r->shown, want,
                  dw_dim_examples(r->dim));
}

/* A comma where a decimal point or nothing should be. */
static dw_status refuse_comma(const reading *r, const char *rest, size_t rest_length)
{
    size_t digits = 0;
    while (1 + digits < rest_length && is_digit(rest[1 + digits]))
        digits++;
    const int whole = (int)(rest - r->text), tail = (int)(rest_length - 1);
    if (digits == 0 || r->length > SHOWN_SIZE - 4) {
        return REFUSE(r, "'%s' has a comma; the decimal mark is a point", r->shown);
    }
    if (digits == 3) {
        return REFUSE(r,
                      "'%s' has a comma; the decimal mark is a point: write %.*s.%.*s, or %.*s%.*s "
                      "if the comma marks thousands",
                      r->shown, whole, r->text, tail, rest + 1, whole, r->text, tail, rest + 1);
    }
    return REFUSE(r, "'%s' has a comma; the decimal mark is a point: write %.*s.%.*s", r->shown,
                  whole, r->text, tail, rest + 1);
}

/* A share without its sign: one person's 0.6 is 60 %, another's is 0.6 %. */
static dw_status refuse_bare_share(const reading *r, double value)
{
    char hundredfold[NUMBER_SIZE];
    (void)dw_print(hundredfold, sizeof hundredfold, "%.10g", 100.0 * value);
    if (value == 1.0) return REFUSE(r, "'%s' has no unit: write 1 %% or 100 %%", r->shown);
    if (value > 0.0 && value < 1.0) {
        return REFUSE(r, "'%s' has no unit: write %s %% or %s %%", r->shown, hundredfold, r->shown);
    }
    if (value >= 0.0 && value <= 100.0) {
        return REFUSE(r, "'%s' has no unit: write %s %%", r->shown, r->shown);
    }
    return REFUSE(r, "'%s' has no unit, expected %s: %s", r->shown, text_of(r->dim)->phrase,
                  dw_dim_examples(r->dim));
}

static dw_status refuse_unit(const reading *r, const char *rest, size_t rest_length,
                             const char *unit)
{
    const dw_dim_text *want = text_of(r->dim);
    if (rest[0] == ',') return refuse_comma(r, rest, rest_length);
    if (rest[0] == 'x' || rest[0] == 'X') {
        return REFUSE(r, "'%s' is not a decimal number, expected %s: %s", r->shown, want->phrase,
                      want->examples);
    }
    if (unit != NULL && r->dim == DW_DIM_TEMPERATURE_DIFF &&
        find_row(unit, DW_DIM_TEMPERATURE) != NULL) {
        return REFUSE(r, "'%s' is a temperature on a scale, expected %s: %s", r->shown,
                      want->phrase, want->examples);
    }
    const char *is = unit != NULL ? phrase_of_unit(unit) : NULL;
    if (is != NULL) {
        return REFUSE(r, "'%s' is %s, expected %s: %s", r->shown, is, want->phrase, want->examples);
    }
    for (size_t i = 0; unit != NULL && i < dw_unit_hint_count; i++) {
        if (strcmp(dw_unit_hints[i].spelling, unit) == 0) {
            return REFUSE(r, "'%s': the unit '%s' %s", r->shown, unit, dw_unit_hints[i].reason);
        }
    }
    char shown_unit[SHOWN_SIZE];
    show(rest, rest_length < 24 ? rest_length : 24, shown_unit);
    const char *near = unit != NULL ? near_spelling(unit, r->dim) : NULL;
    if (near != NULL) {
        return REFUSE(r, "'%s' has the unknown unit '%s'; did you mean '%s'? Expected: %s",
                      r->shown, shown_unit, near, want->examples);
    }
    return REFUSE(r, "'%s' has the unknown unit '%s', expected %s: %s", r->shown, shown_unit,
                  want->phrase, want->examples);
}

/* True when the digits of a number spell more than zero. */
static int has_nonzero_digit(const char *text, size_t length)
{
    for (size_t i = 0; i < length && text[i] != 'e' && text[i] != 'E'; i++) {
        if (text[i] >= '1' && text[i] <= '9') return 1;
    }
    return 0;
}

static dw_status convert(reading *r, double *si)
{
    double value = NAN;
    int fraction = 0;
    const size_t used = read_number(r, &value, &fraction);
    if (used == 0) return refuse_number(r);
    if (fraction && r->dim != DW_DIM_LENGTH) {
        return REFUSE(r, "'%s' is a fraction, which only a length may be; write a decimal number",
                      r->shown);
    }

    const char *rest = r->text + used;
    size_t rest_length = r->length - used;
    for (size_t gap; (gap = space(rest, rest_length)) > 0; rest_length -= gap)
        rest += gap;

    const int bare_allowed = r->dim == DW_DIM_RATIO || r->dim == DW_DIM_NUMBER;
    if (rest_length == 0 && r->dim == DW_DIM_SHARE) return refuse_bare_share(r, value);
    if (rest_length == 0 && !bare_allowed) {
        return REFUSE(r, "'%s' has no unit, expected %s: %s", r->shown, text_of(r->dim)->phrase,
                      dw_dim_examples(r->dim));
    }
    double result = value + 0.0; /* no minus zero */
    if (rest_length > 0) {
        char unit[UNIT_SIZE];
        const int fits = plain_unit(rest, rest_length, unit);
        const dw_unit *row = fits ? find_row(unit, r->dim) : NULL;
        if (row == NULL) return refuse_unit(r, rest, rest_length, fits ? unit : NULL);
        r->unit = row->spelling;
        result = (value + row->offset) * row->numerator / row->denominator;
    }
    if (!isfinite(result)) return REFUSE(r, "'%s' is too large a number", r->shown);
    if (!fraction && !isnormal(value) && has_nonzero_digit(r->text, used)) {
        return REFUSE(r, "'%s' is too small a number", r->shown);
    }
    *si = result;
    return DW_OK;
}

/* Reads a text; *unit is the table's spelling. */
static dw_status read_quantity(const char *text, size_t length, dw_dim dim, double *si,
                               char message[DW_QUANTITY_MESSAGE_SIZE], const char **unit)
{
    *si = NAN;
    message[0] = '\0';
    if ((text == NULL && length > 0) || (int)dim < 0 || dim >= DW_DIM_COUNT_) return DW_ERR_ARG;
    if (text == NULL) text = "";

    for (size_t gap; (gap = space(text, length)) > 0; length -= gap)
        text += gap;
    reading r = {.text = text, .length = 0, .dim = dim, .message = message, .unit = ""};
    for (size_t i = 0, gap; i<length; i += gap> 0 ? gap : 1) {
        gap = space(text + i, length - i);
        if (gap == 0) r.length = i + 1;
    }
    show(r.text, r.length, r.shown);
    const dw_status status = convert(&r, si);
    *unit = r.unit;
    return status;
}

dw_status dw_quantity_from_text(const char *text, size_t length, dw_dim dim, double *si,
                                char message[DW_QUANTITY_MESSAGE_SIZE])
{
    const char *unit;
    if (si == NULL || message == NULL) return DW_ERR_ARG;
    return read_quantity(text, length, dim, si, message, &unit);
}

const char *dw_quantity_unit(const char *text, size_t length, dw_dim dim)
{
    char message[DW_QUANTITY_MESSAGE_SIZE];
    const char *unit;
    double si;
    return read_quantity(text, length, dim, &si, message, &unit) == DW_OK ? unit : NULL;
}
