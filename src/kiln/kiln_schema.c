#include "kiln_schema.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Kinds are stored as enums and read as int through memcpy. */
_Static_assert(sizeof(dw_burner_kind) == sizeof(int), "enums of kinds are ints");
_Static_assert(sizeof(dw_gauge) == sizeof(int), "enums of words are ints");
_Static_assert(sizeof(dw_jet_kind) == sizeof(int), "enums of kinds are ints");
_Static_assert(sizeof(dw_leak_kind) == sizeof(int), "enums of kinds are ints");
_Static_assert(sizeof(dw_floor_kind) == sizeof(int), "enums of kinds are ints");
_Static_assert(sizeof(dw_opening_kind) == sizeof(int), "enums of kinds are ints");
_Static_assert(sizeof(dw_damper_kind) == sizeof(int), "enums of kinds are ints");
_Static_assert(sizeof(dw_stack_wall) == sizeof(int), "enums of words are ints");
_Static_assert(sizeof(dw_room_activity) == sizeof(int), "enums of words are ints");

const dw_keys *dw_keys_of(dw_object object) { return &dw_kiln_key_tables[object]; }

int dw_keys_row(const dw_keys *keys, const char *name)
{
    for (int i = 0; i < keys->count; i++) {
        if (strcmp(keys->key[i].name, name) == 0) return i;
    }
    return DW_NO_ROW;
}

/* Length of the group a name stands in; 0 when it stands in none. */
static size_t group_length(const char *name)
{
    const char *dot = strchr(name, '.');
    return dot != NULL ? (size_t)(dot - name) : 0;
}

static bool in_group(const char *name, const char *group)
{
    const size_t length = group_length(name);
    return length > 0 && length == strlen(group) && strncmp(name, group, length) == 0;
}

bool dw_keys_have_group(const dw_keys *keys, const char *group)
{
    for (int i = 0; i < keys->count; i++) {
        if (in_group(keys->key[i].name, group)) return true;
    }
    return false;
}

static void add_word(dw_words *words, const char *from, size_t length)
{
    if (words->count == DW_KEY_MAX || words->used + length + 1 > sizeof words->text) return;
    char *text = words->text + words->used;
    memcpy(text, from, length);
    text[length] = '\0';
    words->word[words->count++] = text;
    words->used += length + 1;
}

void dw_keys_words(const dw_keys *keys, const char *group, dw_words *words)
{
    words->count = words->used = 0;
    for (int i = 0; i < keys->count; i++) {
        const char *from = keys->key[i].name;
        size_t length = group_length(from);
        if (group != NULL) {
            if (!in_group(from, group)) continue;
            from += length + 1;
            length = 0;
        }
        if (length == 0) length = strlen(from);
        /* Keys of a group stand together: comparing with the last word finds repeats. */
        if (words->count > 0) {
            const char *last = words->word[words->count - 1];
            if (strlen(last) == length && strncmp(last, from, length) == 0) continue;
        }
        add_word(words, from, length);
    }
}

void dw_path_first_words(bool alone, dw_words *words)
{
    words->count = words->used = 0;
    for (const dw_short_name *n = dw_kiln_short_names; alone && n->name != NULL; n++) {
        add_word(words, n->name, strlen(n->name));
    }
    static const dw_object objects[] = {DW_OBJECT_FILE, DW_OBJECT_KILN};
    for (size_t k = 0; k < sizeof objects / sizeof objects[0]; k++) {
        dw_words steps;
        dw_keys_words(dw_keys_of(objects[k]), NULL, &steps);
        /* The first key of a file is its version, which no path changes. */
        for (size_t i = objects[k] == DW_OBJECT_FILE ? 1 : 0; i < steps.count; i++)
            add_word(words, steps.word[i], strlen(steps.word[i]));
    }
}

unsigned dw_object_kind(const dw_keys *keys, const void *object)
{
    if (keys->kind_row == DW_NO_ROW) return 0;
    int kind;
    memcpy(&kind, (const char *)object + keys->key[keys->kind_row].offset, sizeof kind);
    return (unsigned)kind;
}

bool dw_key_applies(const dw_key *key, unsigned kind)
{
    return key->applies == 0 || (key->applies & (1u << kind)) != 0;
}

bool dw_key_required(const dw_key *key, unsigned kind)
{
    return key->need == DW_NEED_REQUIRED && dw_key_applies(key, kind) &&
           (key->required_for == 0 || (key->required_for & (1u << kind)) != 0);
}

bool dw_key_is_plain_number(const dw_key *key)
{
    return key->kind == DW_KEY_NUMBER || key->kind == DW_KEY_DOWNSTREAM;
}

int dw_keys_target(const dw_keys *keys, int row)
{
    const dw_key *key = &keys->key[row];
    if (key->choice == NULL || dw_key_is_plain_number(key)) return row;
    for (int i = 0; i < keys->count; i++) {
        const dw_key *other = &keys->key[i];
        if (dw_key_is_plain_number(other) && other->offset == key->offset) return i;
    }
    return row;
}

double dw_key_limit(const dw_key *key, const char *limit)
{
    if (limit == NULL) return NAN;
    const bool counts = key->kind == DW_KEY_COUNT || key->kind == DW_KEY_VERSION;
    const dw_dim dim = counts ? DW_DIM_NUMBER : key->dim;
    char message[DW_QUANTITY_MESSAGE_SIZE];
    double si;
    return dw_quantity_from_text(limit, strlen(limit), dim, &si, message) == DW_OK ? si : NAN;
}

static void expected_words(const dw_key *key, char *out, size_t size)
{
    size_t count = 0;
    while (key->words[count] != NULL)
        count++;
    dw_words_join(key->words, count, out, size);
}

static void named_values(const dw_named_value *named, size_t named_count, const char *otherwise,
                         char *out, size_t size)
{
    const char *words[DW_LINING_MAX > DW_CAP_MAX ? DW_LINING_MAX : DW_CAP_MAX] = {NULL};
    for (size_t i = 0; i < named_count; i++)
        words[i] = named[i].name;
    dw_words_join(words, named_count, out, size);
    if (named_count == 0) (void)snprintf(out, size, "%s", otherwise);
}

static void expected_fuel(const dw_data *data, char *out, size_t size)
{
    char names[600];
    const char *words[DW_FUEL_MAX] = {NULL};
    const size_t count = data != NULL ? data->fuel_count : 0;
    for (size_t i = 0; i < count; i++)
        words[i] = data->fuel[i].name;
    dw_words_join(words, count, names, sizeof names);
    (void)snprintf(out, size, "%s; or a map of gases with their shares",
                   count > 0 ? names : "the name of a fuel");
}

void dw_key_expected(const dw_key *key, const dw_data *data, char *out, size_t size)
{
    switch (key->kind) {
    case DW_KEY_NUMBER:
    case DW_KEY_DIAMETER:
    case DW_KEY_ANGLE: (void)snprintf(out, size, "%s to %s", key->low, key->high); return;
    case DW_KEY_DOWNSTREAM:
        (void)snprintf(out, size, "%s to %s, or plenum", key->low, key->high);
        return;
    case DW_KEY_COUNT:
        (void)snprintf(out, size, "a whole number from %s to %s", key->low, key->high);
        return;
    case DW_KEY_VERSION: (void)snprintf(out, size, "%s", key->low); return;
    case DW_KEY_WORD:
    case DW_KEY_FLAG_WORD: expected_words(key, out, size); return;
    case DW_KEY_OBJECT: {
        dw_words words;
        const int length = snprintf(out, size, "a map with the keys ");
        if (length < 0 || (size_t)length >= size) return;
        dw_keys_words(dw_keys_of(key->child), NULL, &words);
        dw_words_join(words.word, words.count, out + length, size - (size_t)length);
        return;
    }
    case DW_KEY_SWITCH: (void)snprintf(out, size, "yes or no"); return;
    case DW_KEY_DRILL: (void)snprintf(out, size, "a drill size, 1 to 80 or A to Z"); return;
    case DW_KEY_LINING:
        named_values(data != NULL ? data->lining : NULL, data != NULL ? data->lining_count : 0,
                     "the name of a lining", out, size);
        return;
    case DW_KEY_CAP:
        named_values(data != NULL ? data->cap : NULL, data != NULL ? data->cap_count : 0,
                     "the name of a cap", out, size);
        return;
    case DW_KEY_NAME: (void)snprintf(out, size, "a name"); return;
    case DW_KEY_FUEL: expected_fuel(data, out, size); return;
    case DW_KEY_ROWS:
        (void)snprintf(out, size, "a list of 2 to %d pairs [open share, loss]", DW_DAMPER_ROW_MAX);
        return;
    case DW_KEY_LIST:
        (void)snprintf(out, size, "a list of 1 to %d maps that each begin with '- name:'",
                       key->list_max);
        return;
    }
}

size_t dw_object_offset(dw_object object, int index)
{
    const size_t i = (size_t)index;
    switch (object) {
    case DW_OBJECT_SITE: return offsetof(dw_kiln, site);
    case DW_OBJECT_CHAMBER: return offsetof(dw_kiln, chamber);
    case DW_OBJECT_BURNER: return offsetof(dw_kiln, burner) + i * sizeof(dw_burner);
    case DW_OBJECT_OPENING: return offsetof(dw_kiln, opening) + i * sizeof(dw_opening);
    case DW_OBJECT_FLUE: return offsetof(dw_kiln, flue) + i * sizeof(dw_flue);
    case DW_OBJECT_DAMPER:
        return offsetof(dw_kiln, flue) + i * sizeof(dw_flue) + offsetof(dw_flue, damper);
    case DW_OBJECT_STACK: return offsetof(dw_kiln, stack);
    case DW_OBJECT_MODEL: return offsetof(dw_kiln, settings);
    case DW_OBJECT_OPERATING: return offsetof(dw_kiln, operating);
    case DW_OBJECT_ROOM: return offsetof(dw_kiln, room);
    case DW_OBJECT_FILE:
    case DW_OBJECT_KILN:
    case DW_OBJECT_COUNT: break;
    }
    return 0;
}

unsigned long long *dw_given_word(dw_kiln_given *given, dw_object object, int index)
{
    const size_t offset = dw_kiln_key_tables[object].given;
    if (offset == DW_NO_GIVEN) return NULL;
    return (unsigned long long *)(void *)((char *)given + offset) + index;
}
