/* Faults, and what every value needs: that it is a text, and a quantity within limits. */
#include "kiln_reader.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "ascii.h"
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

bool dw_kiln_is_text(dw_kiln_reader *reader, const dw_node *node, const char *path,
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
    if (!dw_kiln_is_text(reader, node, path, expected)) return false;
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
