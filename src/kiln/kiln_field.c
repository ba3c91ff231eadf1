#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "format.h"
#include "kiln_schema.h"
#include "nearest.h"

enum { EXPECTED_SIZE = 300, ITEM_MAX = 64 };

#define FITS(max_)                                                                                 \
    _Static_assert((int)(max_) <= (int)ITEM_MAX && (int)(max_) <= (int)DW_FIELD_PLACE_MAX,         \
                   "names of the items fit, and every item is a place of a field")
FITS(DW_BURNER_MAX);
FITS(DW_OPENING_MAX);
FITS(DW_FLUE_MAX);

/* A path being followed through the tables and the kiln at once. */
typedef struct search {
    const dw_kiln *kiln;
    const char *asked; /* the whole path, for messages */
    dw_diag_list *diag;
    dw_kiln_field *field;
} search;

static dw_status refuse(const search *s, const char *code, const char *format, ...) DW_PRINTF(3, 4);

static dw_status refuse(const search *s, const char *code, const char *format, ...)
{
    char text[EXPECTED_SIZE + DW_PATH_SIZE];
    va_list arguments;
    va_start(arguments, format);
    (void)dw_vprint(text, sizeof text, format, arguments);
    va_end(arguments);
    dw_diag_add(s->diag, DW_ERROR, code, (dw_place){"--vary", 0, 0}, "'%.150s' %s", s->asked, text);
    return DW_ERR_INPUT;
}

static dw_status refuse_word(const search *s, const char *what, const char *word,
                             const char *const *words, size_t count)
{
    char expected[EXPECTED_SIZE];
    const char *nearest = dw_nearest_word(word, words, count);
    if (nearest != NULL) {
        return refuse(s, "unknown-key", "has no %s '%.40s'; did you mean '%s'?", what, word,
                      nearest);
    }
    dw_words_join(words, count, expected, sizeof expected);
    return refuse(s, "unknown-key", "has no %s '%.40s', expected %s", what, word, expected);
}

static double number_at(const dw_kiln *kiln, size_t offset)
{
    double value;
    memcpy(&value, (const char *)kiln + offset, sizeof value);
    return value;
}

/* Another key of the choice is in use, so that moving this one would change nothing. */
static const dw_key *taken_by(const search *s, const dw_keys *keys, const dw_key *key, size_t base)
{
    for (int i = 0; i < keys->count && key->choice != NULL; i++) {
        const dw_key *other = &keys->key[i];
        if (other->choice == NULL || strcmp(other->choice, key->choice) != 0) continue;
        if (!dw_key_is_plain_number(other) || other->offset == key->offset) continue;
        /* A default stands back for what is optional or derived, not the other way round. */
        if (other->need == DW_NEED_DEFAULT) continue;
        if (!isnan(number_at(s->kiln, base + other->offset))) return other;
    }
    return NULL;
}

static dw_status take_key(const search *s, dw_object object_kind, int index, int row, size_t base)
{
    const dw_keys *keys = dw_keys_of(object_kind);
    const dw_key *key = &keys->key[row];
    const void *object = (const char *)s->kiln + base;
    if (!dw_key_is_plain_number(key)) {
        const int target = dw_keys_target(keys, row);
        if (target != row) {
            return refuse(s, "not-a-number", "cannot be varied; vary '%s' instead",
                          keys->key[target].name);
        }
        char expected[EXPECTED_SIZE];
        dw_key_expected(key, NULL, expected, sizeof expected);
        return refuse(s, "not-a-number", "cannot be varied: its value is %s, not a quantity",
                      expected);
    }
    const unsigned kind = dw_object_kind(keys, object);
    if (!dw_key_applies(key, kind)) {
        return refuse(s, "no-effect", "has no effect: the kind is %s",
                      keys->key[keys->kind_row].words[kind]);
    }
    const dw_key *taken = taken_by(s, keys, key, base);
    if (taken != NULL) return refuse(s, "no-effect", "has no effect: '%s' is given", taken->name);
    if (key->kind == DW_KEY_DOWNSTREAM && ((const dw_flue *)object)->downstream_is_plenum) {
        return refuse(s, "no-effect", "has no effect: a plenum is given");
    }
    dw_kiln_field *field = s->field;
    field->dim = key->dim;
    field->low = dw_key_limit(key, key->low);
    field->high = dw_key_limit(key, key->high);
    field->object = (int)object_kind;
    field->row = row;
    field->index[field->place_count] = index;
    field->offset[field->place_count++] = base + key->offset;
    return DW_OK;
}

static dw_status follow(const search *s, dw_object object, int index, size_t base,
                        const char *rest);

static dw_status follow_list(const search *s, const dw_key *key, size_t base, const char *rest)
{
    const size_t first = base + key->offset, size = dw_keys_of(key->child)->size;
    int count;
    memcpy(&count, (const char *)s->kiln + base + key->count_offset, sizeof count);
    if (count == 0)
        return refuse(s, "unknown-item", "cannot be found: the list '%s' is empty", key->name);
    char step[DW_PATH_SIZE];
    bool quoted;
    if (!dw_path_next(&rest, step, sizeof step, &quoted)) {
        return refuse(s, "bad-path", "needs the name of an item after '%s', or *", key->name);
    }
    /* The name is the first member of every item's struct. */
    const char *names[ITEM_MAX];
    int named = -1, numbered = -1;
    for (int i = 0; i < count; i++) {
        char number[16];
        names[i] = (const char *)s->kiln + first + (size_t)i * size;
        (void)snprintf(number, sizeof number, "%d", i);
        if (strcmp(names[i], step) == 0) named = i;
        if (!quoted && strcmp(number, step) == 0) numbered = i;
    }
    const int found = named >= 0 ? named : numbered;
    if (found >= 0) {
        return follow(s, key->child, found, first + (size_t)found * size, rest);
    }
    if (quoted || strcmp(step, "*") != 0) {
        return refuse_word(s, "item", step, names, (size_t)count);
    }
    for (int i = 0; i < count; i++) {
        const dw_status status = follow(s, key->child, i, first + (size_t)i * size, rest);
        if (status != DW_OK) return status;
    }
    return DW_OK;
}

static dw_status follow(const search *s, dw_object object, int index, size_t base, const char *rest)
{
    const dw_keys *keys = dw_keys_of(object);
    dw_words words;
    char step[DW_PATH_SIZE];
    dw_keys_words(keys, NULL, &words);
    if (!dw_path_next(&rest, step, sizeof step, NULL)) {
        char expected[EXPECTED_SIZE];
        dw_words_join(words.word, words.count, expected, sizeof expected);
        return refuse(s, "bad-path", "does not lead to a quantity, expected %s next", expected);
    }
    int row = dw_keys_row(keys, step);
    if (row == DW_NO_ROW && dw_keys_have_group(keys, step)) {
        char second[DW_PATH_SIZE], name[2 * DW_PATH_SIZE];
        dw_keys_words(keys, step, &words);
        if (!dw_path_next(&rest, second, sizeof second, NULL)) second[0] = '\0';
        (void)snprintf(name, sizeof name, "%s.%s", step, second);
        row = dw_keys_row(keys, name);
        (void)snprintf(step, sizeof step, "%s", second);
    }
    if (row == DW_NO_ROW) {
        /* Where a path begins, more is allowed than one object's keys. */
        if (object == DW_OBJECT_KILN && strncmp(s->asked, step, strlen(step)) == 0) {
            dw_path_first_words(rest[0] == '\0', &words);
        }
        return refuse_word(s, "key", step, words.word, words.count);
    }

    const dw_key *key = &keys->key[row];
    if (key->kind == DW_KEY_LIST) return follow_list(s, key, base, rest);
    if (key->kind == DW_KEY_OBJECT) {
        if (key->child == DW_OBJECT_STACK && !s->kiln->stack.present) {
            return refuse(s, "unknown-item", "cannot be found: the kiln has no stack");
        }
        if (key->child == DW_OBJECT_ROOM && !s->kiln->room.present) {
            return refuse(s, "unknown-item", "cannot be found: no room is described");
        }
        return follow(s, key->child, index, base + key->offset, rest);
    }
    if (rest[0] != '\0' && key->kind != DW_KEY_FUEL) {
        return refuse(s, "bad-path", "goes on after the key '%s'", key->name);
    }
    return take_key(s, object, index, row, base);
}

dw_status dw_kiln_field_find(const dw_kiln *kiln, const char *path, dw_diag_list *diag,
                             dw_kiln_field *field)
{
    if (kiln == NULL || path == NULL || field == NULL) return DW_ERR_ARG;
    *field = (dw_kiln_field){.low = NAN, .high = NAN};
    const search s = {.kiln = kiln, .asked = path, .diag = diag, .field = field};
    const size_t length = strlen(path);
    if (length >= sizeof field->path) return refuse(&s, "bad-path", "is too long for a path");
    memcpy(field->path, path, length + 1);

    const char *full = path;
    for (const dw_short_name *n = dw_kiln_short_names; n->name != NULL; n++) {
        if (strcmp(path, n->name) == 0) full = n->path;
    }
    /* `kiln.` may be left out. */
    const char *rest = full;
    char first[DW_PATH_SIZE];
    const bool in_file = dw_path_next(&rest, first, sizeof first, NULL) &&
                         dw_keys_row(dw_keys_of(DW_OBJECT_FILE), first) != DW_NO_ROW;
    const dw_status status = follow(&s, in_file ? DW_OBJECT_FILE : DW_OBJECT_KILN, 0, 0, full);
    if (status != DW_OK) field->place_count = 0;
    return status;
}

void dw_kiln_field_put(const dw_kiln_field *field, dw_kiln *kiln, double si)
{
    for (int i = 0; i < field->place_count; i++) {
        memcpy((char *)kiln + field->offset[i], &si, sizeof si);
    }
}
