#include "kiln_reader.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ascii.h"
#include "constants.h"
#include "damper.h"
#include "format.h"
#include "nearest.h"

enum { MESSAGE_SIZE = 900, EXPECTED_SIZE = 600 };

static void add(dw_kiln_reader *reader, dw_grade grade, dw_place place, const char *code,
                const char *format, va_list arguments)
{
    char text[MESSAGE_SIZE];
    (void)dw_vprint(text, sizeof text, format, arguments);
    dw_diag_add(reader->diag, grade, code, place, "%s", text);
}

void dw_kiln_fault(dw_kiln_reader *reader, dw_place place, const char *code, const char *format,
                   ...)
{
    if (++reader->error_count > DW_KILN_ERROR_MAX) return;
    va_list arguments;
    va_start(arguments, format);
    add(reader, DW_ERROR, place, code, format, arguments);
    va_end(arguments);
}

void dw_kiln_doubt(dw_kiln_reader *reader, dw_place place, const char *code, const char *format,
                   ...)
{
    va_list arguments;
    va_start(arguments, format);
    add(reader, DW_WARNING, place, code, format, arguments);
    va_end(arguments);
}

void dw_kiln_no_word(dw_kiln_reader *reader, const dw_node *node, const char *path,
                     const char *const *words, size_t count)
{
    char expected[EXPECTED_SIZE];
    dw_words_join(words, count, expected, sizeof expected);
    const char *nearest = dw_nearest_word(node->text, words, count);
    dw_kiln_fault(reader, node->place, "unknown-word", "'%s' is '%.40s', expected %s%s%s%s", path,
                  node->text, expected, nearest != NULL ? "; did you mean '" : "",
                  nearest != NULL ? nearest : "", nearest != NULL ? "'?" : "");
}

bool dw_node_is_blank(const dw_node *node)
{
    return node->kind == DW_NODE_SCALAR && node->length == 0 && !node->quoted;
}

/* `gas_pressure:7 in w.c.` */
static bool lacks_space(const char *text)
{
    size_t n = 0;
    while (n < 40 && (dw_ascii_is_word(text[n]) || text[n] == '_'))
        n++;
    return n > 0 && text[n] == ':' && text[n + 1] != ' ' && text[n + 1] != '\0';
}

void dw_kiln_wrong_kind(dw_kiln_reader *reader, const dw_node *node, const char *path,
                        const char *expected)
{
    if (dw_node_is_blank(node)) {
        dw_kiln_fault(reader, node->place, "wrong-kind", "'%s' is empty, expected %s", path,
                      expected);
    } else if (node->kind == DW_NODE_SCALAR && strncmp(expected, "a map", 5) == 0 &&
               lacks_space(node->text)) {
        const char *colon = strchr(node->text, ':');
        dw_kiln_fault(reader, node->place, "missing-space",
                      "'%s' is '%.40s'; a space is missing after the colon: write %.*s: %.40s",
                      path, node->text, (int)(colon - node->text), node->text, colon + 1);
    } else if (node->kind == DW_NODE_SCALAR) {
        dw_kiln_fault(reader, node->place, "wrong-kind", "'%s' is '%.40s', expected %s", path,
                      node->text, expected);
    } else {
        dw_kiln_fault(reader, node->place, "wrong-kind", "'%s' is a %s, expected %s", path,
                      node->kind == DW_NODE_MAP ? "map" : "list", expected);
    }
}

static bool is_text(dw_kiln_reader *reader, const dw_node *node, const char *path,
                    const char *expected)
{
    if (node->kind == DW_NODE_SCALAR && !dw_node_is_blank(node)) return true;
    dw_kiln_wrong_kind(reader, node, path, expected);
    return false;
}

static double limit_si(const char *limit, dw_dim dim)
{
    const dw_key key = {.kind = DW_KEY_NUMBER, .dim = dim};
    return dw_key_limit(&key, limit);
}

/* The sum of what a setting replaced and what it says, with the unit typed, when it is allowed. */
static bool put_sum(const dw_node *node, dw_dim dim, const char *low, const char *high, char *out,
                    size_t size)
{
    char message[DW_QUANTITY_MESSAGE_SIZE];
    double before, change, sum;
    const char *unit = dw_quantity_unit(node->text, node->length, dim);
    if (node->replaced == NULL || unit == NULL ||
        dw_quantity_from_text(node->replaced, strlen(node->replaced), dim, &before, message) !=
            DW_OK ||
        dw_quantity_from_text(node->text, node->length, dim, &change, message) != DW_OK) {
        return false;
    }
    (void)dw_print(out, size, "%.10g %s",
                   dw_quantity_in(before, dim, unit) + dw_quantity_in(change, dim, unit), unit);
    return dw_quantity_from_text(out, strlen(out), dim, &sum, message) == DW_OK &&
           sum >= limit_si(low, dim) && sum <= limit_si(high, dim);
}

/* A plus sign before what cannot be negative is a change in disguise, and would be taken for the
 * value itself. True after a fault. */
static bool refuse_plus(dw_kiln_reader *reader, const dw_node *node, const char *path, dw_dim dim,
                        const char *low, const char *high)
{
    char sum[EXPECTED_SIZE];
    const char *typed = node->text + strspn(node->text, " \t");
    if (typed[0] != '+' || low[0] == '-') return false;
    if (put_sum(node, dim, low, high, sum, sizeof sum)) {
        dw_kiln_fault(reader, node->place, "plus-sign",
                      "'%s' is '%.40s'; a change cannot be given, write the new value: %s", path,
                      typed, sum);
    } else {
        dw_kiln_fault(reader, node->place, "plus-sign",
                      "'%s' is '%.40s'; a change cannot be given, write the value without a plus "
                      "sign: %.40s",
                      path, typed, typed + 1 + strspn(typed + 1, " \t"));
    }
    return true;
}

bool dw_kiln_quantity(dw_kiln_reader *reader, const dw_node *node, const char *path, dw_dim dim,
                      const char *low, const char *high, double *si)
{
    char message[DW_QUANTITY_MESSAGE_SIZE], expected[EXPECTED_SIZE];
    (void)snprintf(expected, sizeof expected, "%s to %s", low, high);
    *si = NAN;
    if (!is_text(reader, node, path, expected)) return false;
    if (dw_quantity_from_text(node->text, node->length, dim, si, message) != DW_OK) {
        dw_kiln_fault(reader, node->place, "bad-quantity", "'%s': %s", path, message);
        return false;
    }
    if (refuse_plus(reader, node, path, dim, low, high)) {
        *si = NAN;
        return false;
    }
    if (*si >= limit_si(low, dim) && *si <= limit_si(high, dim)) return true;
    dw_kiln_fault(reader, node->place, "out-of-range", "'%s' is %.40s, expected %s", path,
                  node->text, expected);
    *si = NAN;
    return false;
}

/* A quantity within the key's limits; a warning when outside what is usual. */
static bool read_quantity(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                          const char *path, double *si)
{
    if (!dw_kiln_quantity(reader, node, path, key->dim, key->low, key->high, si)) return false;
    if (key->usual_low != NULL &&
        !(*si >= dw_key_limit(key, key->usual_low) && *si <= dw_key_limit(key, key->usual_high))) {
        dw_kiln_doubt(reader, node->place, "unusual-value",
                      "'%s' is %.40s, outside the usual %s to %s", path, node->text, key->usual_low,
                      key->usual_high);
    }
    return true;
}

static void read_number(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                        const char *path, double *out)
{
    double si;
    if (!read_quantity(reader, key, node, path, &si)) return;
    switch (key->kind) {
    case DW_KEY_DIAMETER: *out = 0.25 * DW_PI * si * si; break;
    case DW_KEY_ANGLE: *out = dw_butterfly_open_frac(si); break;
    default: *out = si; break;
    }
}

static void read_downstream(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                            const char *path, dw_flue *flue)
{
    if (node->kind == DW_NODE_SCALAR && strcmp(node->text, "plenum") == 0) {
        flue->downstream_is_plenum = true;
        return;
    }
    read_number(reader, key, node, path, &flue->downstream_area_m2);
}

static void read_count(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                       const char *path, int *out)
{
    char expected[EXPECTED_SIZE];
    dw_key_expected(key, reader->data, expected, sizeof expected);
    if (!is_text(reader, node, path, expected)) return;
    char *end;
    const long value = dw_ascii_is_digit(node->text[0]) ? strtol(node->text, &end, 10) : -1;
    if (value < 0 || *end != '\0' || value < (long)dw_key_limit(key, key->low) ||
        value > (long)dw_key_limit(key, key->high)) {
        dw_kiln_fault(reader, node->place, "out-of-range", "'%s' is %.40s, expected %s", path,
                      node->text, expected);
        return;
    }
    *out = (int)value;
}

static void read_switch(dw_kiln_reader *reader, const dw_node *node, const char *path, bool *out)
{
    static const char *const on[] = {"yes", "true", "on"}, *const off[] = {"no", "false", "off"};
    if (!is_text(reader, node, path, "yes or no")) return;
    for (size_t i = 0; i < sizeof on / sizeof on[0]; i++) {
        if (strcmp(node->text, on[i]) == 0 || strcmp(node->text, off[i]) == 0) {
            *out = strcmp(node->text, on[i]) == 0;
            return;
        }
    }
    dw_kiln_fault(reader, node->place, "unknown-word", "'%s' is '%.40s', expected yes or no", path,
                  node->text);
}

/* Index of the word a node holds; -1 after a fault. */
static int read_word(dw_kiln_reader *reader, const dw_node *node, const char *path,
                     const char *const *words, size_t count)
{
    char expected[EXPECTED_SIZE];
    dw_words_join(words, count, expected, sizeof expected);
    if (!is_text(reader, node, path, expected)) return -1;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(node->text, words[i]) == 0) return (int)i;
    }
    dw_kiln_no_word(reader, node, path, words, count);
    return -1;
}

static int read_own_word(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                         const char *path)
{
    size_t count = 0;
    while (key->words[count] != NULL)
        count++;
    return read_word(reader, node, path, key->words, count);
}

/* A lining or a cap. */
static void read_named(dw_kiln_reader *reader, const dw_node *node, const char *path,
                       const dw_named_value *named, size_t named_count, double *out)
{
    const char *words[DW_LINING_MAX > DW_CAP_MAX ? DW_LINING_MAX : DW_CAP_MAX];
    for (size_t i = 0; i < named_count; i++)
        words[i] = named[i].name;
    const int i = read_word(reader, node, path, words, named_count);
    if (i >= 0) *out = named[i].value;
}

static void read_drill(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                       const char *path, double *out)
{
    char expected[EXPECTED_SIZE];
    dw_key_expected(key, reader->data, expected, sizeof expected);
    if (!is_text(reader, node, path, expected)) return;
    for (size_t i = 0; i < reader->data->drill_count; i++) {
        const dw_drill *drill = &reader->data->drill[i];
        if (strcmp(drill->size, node->text) == 0) {
            *out = drill->diameter_m;
            return;
        }
    }
    dw_kiln_fault(reader, node->place, "unknown-word", "'%s' is '%.40s', expected %s", path,
                  node->text, expected);
}

static void read_name(dw_kiln_reader *reader, const dw_node *node, const char *path, char *out)
{
    if (node->kind != DW_NODE_SCALAR || dw_node_is_blank(node)) {
        dw_kiln_wrong_kind(reader, node, path, "a name");
        return;
    }
    if (node->length >= DW_NAME_SIZE) {
        dw_kiln_fault(reader, node->place, "bad-name",
                      "'%s' has %zu bytes, expected at most %d: '%.40s...'", path, node->length,
                      DW_NAME_SIZE - 1, node->text);
        return;
    }
    /* Names are steps of paths: no control characters, no double quotes that a path needs for
     * itself, and something to say besides `*`. */
    bool speakable = false, clean = true;
    for (size_t i = 0; i < node->length; i++) {
        const unsigned char c = (unsigned char)node->text[i];
        if (dw_ascii_is_word(node->text[i]) || c >= 0x80u) speakable = true;
        if (c < 0x20u || c == 0x7Fu || c == '"') clean = false;
    }
    if (!speakable || !clean) {
        dw_kiln_fault(reader, node->place, "bad-name",
                      "'%s' is '%.40s', expected a name with a letter or digit and without double "
                      "quotes",
                      path, node->text);
        return;
    }
    memcpy(out, node->text, node->length + 1);
}

static void read_rows(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                      const char *path, dw_damper *damper)
{
    char expected[EXPECTED_SIZE];
    dw_key_expected(key, reader->data, expected, sizeof expected);
    if (node->kind != DW_NODE_LIST) {
        dw_kiln_wrong_kind(reader, node, path, expected);
        return;
    }
    int count = 0;
    for (const dw_node *row = node->first; row != NULL; row = row->next, count++) {
        char row_path[DW_PATH_SIZE];
        (void)snprintf(row_path, sizeof row_path, "%s.%d", path, count);
        const dw_node *open = row->kind == DW_NODE_LIST ? row->first : NULL;
        const dw_node *loss = open != NULL ? open->next : NULL;
        if (count == DW_DAMPER_ROW_MAX || loss == NULL || loss->next != NULL) {
            dw_kiln_fault(reader, row->place, "bad-rows",
                          "'%s' is %s, expected %s; the decimal mark is a point", row_path,
                          count == DW_DAMPER_ROW_MAX ? "one row too many" : "not a pair", expected);
            return;
        }
        if (!dw_kiln_quantity(reader, open, row_path, DW_DIM_SHARE, "0 %", "100 %",
                              &damper->row_open_frac[count]) ||
            !dw_kiln_quantity(reader, loss, row_path, DW_DIM_NUMBER, "0", "1000000",
                              &damper->row_loss[count])) {
            return;
        }
    }
    damper->row_count = count;
    if (count < 2) {
        dw_kiln_fault(reader, node->place, "bad-rows", "'%s' has %d pair%s, expected %s", path,
                      count, count == 1 ? "" : "s", expected);
    }
}

void dw_kiln_read_value(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                        const char *path, void *object)
{
    void *out = (char *)object + key->offset;
    const dw_data *data = reader->data;
    int word;
    switch (key->kind) {
    case DW_KEY_NUMBER:
    case DW_KEY_DIAMETER:
    case DW_KEY_ANGLE: read_number(reader, key, node, path, out); break;
    case DW_KEY_DOWNSTREAM: read_downstream(reader, key, node, path, object); break;
    case DW_KEY_DRILL: read_drill(reader, key, node, path, out); break;
    case DW_KEY_LINING:
        read_named(reader, node, path, data->lining, data->lining_count, out);
        break;
    case DW_KEY_CAP: read_named(reader, node, path, data->cap, data->cap_count, out); break;
    case DW_KEY_COUNT: read_count(reader, key, node, path, out); break;
    case DW_KEY_SWITCH: read_switch(reader, node, path, out); break;
    case DW_KEY_WORD:
        word = read_own_word(reader, key, node, path);
        if (word >= 0) memcpy(out, &word, sizeof word);
        break;
    case DW_KEY_FLAG_WORD:
        word = read_own_word(reader, key, node, path);
        if (word >= 0) *(bool *)out = word == 1;
        break;
    case DW_KEY_NAME: read_name(reader, node, path, out); break;
    case DW_KEY_FUEL: dw_kiln_read_fuel(reader, node, path, out); break;
    case DW_KEY_ROWS: read_rows(reader, key, node, path, object); break;
    case DW_KEY_VERSION:
        if (!is_text(reader, node, path, "1") || strcmp(node->text, key->low) == 0) break;
        dw_kiln_fault(reader, node->place, "bad-version",
                      "'%s' is %.40s, expected %s, the version of these keys", path, node->text,
                      key->low);
        break;
    case DW_KEY_OBJECT:
    case DW_KEY_LIST: break; /* kiln_objects.c */
    }
}
