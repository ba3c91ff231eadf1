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

enum { EXPECTED_SIZE = 600 };

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
    if (!dw_kiln_is_text(reader, node, path, expected)) return;
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
    if (!dw_kiln_is_text(reader, node, path, "yes or no")) return;
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
    if (!dw_kiln_is_text(reader, node, path, expected)) return -1;
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
    const char *words[DW_LINING_MAX > DW_CAP_MAX ? DW_LINING_MAX : DW_CAP_MAX] = {NULL};
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
    if (!dw_kiln_is_text(reader, node, path, expected)) return;
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
        if (!dw_kiln_is_text(reader, node, path, "1") || strcmp(node->text, key->low) == 0) break;
        dw_kiln_fault(reader, node->place, "bad-version",
                      "'%s' is %.40s, expected %s, the version of these keys", path, node->text,
                      key->low);
        break;
    case DW_KEY_OBJECT:
    case DW_KEY_LIST: break; /* kiln_objects.c */
    }
}
