#include <stdio.h>
#include <string.h>

#include "kiln_reader.h"
#include "nearest.h"

enum { EXPECTED_SIZE = 600 };

/* One object being read: its keys, and the node of each key that is there. */
typedef struct object_read {
    const dw_keys *keys;
    const dw_node *node; /* the map */
    const char *path;
    const dw_node *seen[DW_KEY_MAX];
} object_read;

static bool is_override(const dw_node *node)
{
    return node->place.file != NULL && strcmp(node->place.file, "--set") == 0;
}

/* Where a message about an absent key points: at the key of the map that should have it. */
static dw_place place_of_map(const dw_node *map)
{
    return map->key != NULL && map->key_place.line > 0 ? map->key_place : map->place;
}

static void unknown_key(dw_kiln_reader *reader, const object_read *o, const char *group,
                        const dw_node *node)
{
    char within[DW_PATH_SIZE], path[DW_PATH_SIZE], expected[EXPECTED_SIZE];
    dw_words words;
    if (group != NULL) {
        (void)dw_path_join_keys(within, sizeof within, o->path, group);
    } else {
        (void)snprintf(within, sizeof within, "%s", o->path);
    }
    (void)dw_path_join(path, sizeof path, within, node->key);
    dw_keys_words(o->keys, group, &words);
    const char *colon = strchr(node->key, ':');
    for (size_t i = 0; colon != NULL && dw_node_is_blank(node) && i < words.count; i++) {
        const size_t length = (size_t)(colon - node->key);
        if (strlen(words.word[i]) != length || strncmp(words.word[i], node->key, length) != 0) {
            continue;
        }
        dw_kiln_fault(reader, node->key_place, "missing-space",
                      "'%s': a space is missing after the colon; write %s: %.40s", path,
                      words.word[i], colon + 1);
        return;
    }
    const char *nearest = dw_nearest_word(node->key, words.word, words.count);
    if (nearest != NULL) {
        dw_kiln_fault(reader, node->key_place, "unknown-key",
                      "'%s' is not a key; did you mean '%s'?", path, nearest);
        return;
    }
    dw_words_join(words.word, words.count, expected, sizeof expected);
    dw_kiln_fault(reader, node->key_place, "unknown-key", "'%s' is not a key, expected %s", path,
                  expected);
}

/* Finds the key of every child of a map; group is the map's name when it is one of a group. */
static void match_keys(dw_kiln_reader *reader, object_read *o, const dw_node *map,
                       const char *group)
{
    for (const dw_node *child = map->first; child != NULL; child = child->next) {
        char name[DW_PATH_SIZE];
        if (group == NULL && dw_keys_have_group(o->keys, child->key)) {
            if (child->kind == DW_NODE_MAP || dw_node_is_blank(child)) {
                match_keys(reader, o, child, child->key);
                continue;
            }
            char path[DW_PATH_SIZE], expected[EXPECTED_SIZE] = "a map with the keys ";
            const size_t length = strlen(expected);
            dw_words words;
            (void)dw_path_join_keys(path, sizeof path, o->path, child->key);
            dw_keys_words(o->keys, child->key, &words);
            dw_words_join(words.word, words.count, expected + length, sizeof expected - length);
            dw_kiln_wrong_kind(reader, child, path, expected);
            continue;
        }
        (void)dw_path_join_keys(name, sizeof name, group != NULL ? group : "", child->key);
        /* A key with a dot in it is no way to write a group. */
        const bool dotted = strchr(child->key, '.') != NULL;
        const int row = dotted ? DW_NO_ROW : dw_keys_row(o->keys, name);
        if (row == DW_NO_ROW) {
            unknown_key(reader, o, group, child);
        } else {
            o->seen[row] = child;
        }
    }
}

/* `wall: unknown` leaves the choice to the others. */
static bool says_nothing(const dw_key *key, const dw_node *node)
{
    return key->kind == DW_KEY_WORD && node->kind == DW_NODE_SCALAR &&
           strcmp(node->text, "unknown") == 0;
}

/* Of keys that exclude each other at most one may stay. One from --set takes the place of one from
 * the file. */
static void settle_choices(dw_kiln_reader *reader, object_read *o)
{
    for (int i = 0; i < o->keys->count; i++) {
        const dw_key *key = &o->keys->key[i];
        for (int k = i + 1; k < o->keys->count && key->choice != NULL; k++) {
            const dw_key *other = &o->keys->key[k];
            if (o->seen[i] == NULL) break;
            if (o->seen[k] == NULL || other->choice == NULL ||
                strcmp(other->choice, key->choice) != 0 || says_nothing(key, o->seen[i]) ||
                says_nothing(other, o->seen[k])) {
                continue;
            }
            if (is_override(o->seen[i]) != is_override(o->seen[k])) {
                o->seen[is_override(o->seen[i]) ? k : i] = NULL;
                continue;
            }
            dw_kiln_fault(reader, o->seen[k]->key_place, "both-given",
                          "'%s' has both %s and %s, expected only one of them", o->path, key->name,
                          other->name);
            o->seen[k] = NULL;
        }
    }
}

/* The key or another of its choice is there. Sets others to the names of the others. */
static bool has_one_of(const object_read *o, int row, char *others, size_t size)
{
    const dw_key *key = &o->keys->key[row];
    const char *names[DW_KEY_MAX];
    size_t count = 0;
    if (o->seen[row] != NULL) return true;
    for (int i = 0; i < o->keys->count && key->choice != NULL; i++) {
        const dw_key *other = &o->keys->key[i];
        if (i == row || other->choice == NULL || strcmp(other->choice, key->choice) != 0) continue;
        if (o->seen[i] != NULL) return true;
        names[count++] = other->name;
    }
    dw_words_join(names, count, others, size);
    return false;
}

/* What is absent, and what is there without any effect with the object's kind; of what is set,
 * dw_kiln_overrides() judges. */
static void check_presence(dw_kiln_reader *reader, const object_read *o, const void *object)
{
    const unsigned kind = dw_object_kind(o->keys, object);
    for (int i = 0; i < o->keys->count; i++) {
        const dw_key *key = &o->keys->key[i];
        char path[DW_PATH_SIZE], others[DW_PATH_SIZE], expected[EXPECTED_SIZE];
        (void)dw_path_join_keys(path, sizeof path, o->path, key->name);
        if (o->seen[i] != NULL && o->seen[i]->setting == 0 && !dw_key_applies(key, kind)) {
            const dw_key *kinds = &o->keys->key[o->keys->kind_row];
            dw_diag_add(reader->diag, DW_NOTE, "no-effect", o->seen[i]->key_place,
                        "'%s' has no effect: the kind is %s", path, kinds->words[kind]);
        }
        if (!dw_key_required(key, kind) || has_one_of(o, i, others, sizeof others)) continue;
        dw_key_expected(key, reader->data, expected, sizeof expected);
        dw_kiln_fault(reader, place_of_map(o->node), "missing-key",
                      "'%s' is missing, expected %s%s%s%s", path, expected,
                      others[0] != '\0' ? "; or give " : "", others,
                      others[0] != '\0' ? " instead" : "");
    }
}

/* Path of a list's item: by its name when it has a fit one, else by its number from 0. */
static void item_path(char out[DW_PATH_SIZE], const char *path, const dw_node *item, int i)
{
    const dw_node *name = dw_node_get(item, "name");
    char number[16];
    const bool named = name != NULL && name->kind == DW_NODE_SCALAR && name->length > 0 &&
                       name->length < DW_NAME_SIZE;
    (void)snprintf(number, sizeof number, "%d", i);
    (void)dw_path_join(out, DW_PATH_SIZE, path, named ? name->text : number);
}

/* Two items of one name could not be told apart in paths and reports. The name is the first member
 * of every item's struct. */
static void check_name(dw_kiln_reader *reader, const dw_key *key, const char *path,
                       const char *items, int i, const dw_node *node)
{
    const size_t size = dw_keys_of(key->child)->size;
    const char *name = items + (size_t)i * size;
    for (int k = 0; k < i && name[0] != '\0'; k++) {
        if (strcmp(items + (size_t)k * size, name) != 0) continue;
        dw_kiln_fault(reader, dw_node_get(node, "name")->place, "name-twice",
                      "'%s' has two entries called '%s', expected a different name for each", path,
                      name);
        return;
    }
}

_Static_assert(offsetof(dw_burner, name) == 0, "check_name() wants the name first");
_Static_assert(offsetof(dw_opening, name) == 0, "check_name() wants the name first");
_Static_assert(offsetof(dw_flue, name) == 0, "check_name() wants the name first");

static void read_list(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                      const char *path, void *base)
{
    char expected[EXPECTED_SIZE];
    dw_key_expected(key, reader->data, expected, sizeof expected);
    if (node->kind != DW_NODE_LIST && !dw_node_is_blank(node)) {
        dw_kiln_wrong_kind(reader, node, path, expected);
        return;
    }
    char *items = (char *)base + key->offset;
    int count = 0;
    for (const dw_node *item = node->first; item != NULL; item = item->next, count++) {
        if (count == key->list_max) {
            dw_kiln_fault(reader, item->place, "too-many",
                          "'%s' has more than %d entries, which is the most", path, key->list_max);
            break;
        }
        char at[DW_PATH_SIZE];
        item_path(at, path, item, count);
        dw_kiln_read_object(reader, key->child, count, item, at,
                            items + (size_t)count * dw_keys_of(key->child)->size);
        check_name(reader, key, path, items, count, item);
    }
    memcpy((char *)base + key->count_offset, &count, sizeof count);
    if (count == 0 && key->need == DW_NEED_REQUIRED) {
        dw_kiln_fault(reader, place_of_map(node), "empty-list", "'%s' is empty, expected %s", path,
                      expected);
    }
}

static void read_row(dw_kiln_reader *reader, const dw_key *key, int index, const dw_node *node,
                     const char *path, void *object)
{
    switch (key->kind) {
    case DW_KEY_OBJECT:
        /* `stack: none` takes the stack away with --set. */
        if (key->child == DW_OBJECT_STACK) {
            if (node->kind == DW_NODE_SCALAR && strcmp(node->text, "none") == 0) return;
            ((dw_kiln *)object)->stack.present = true;
        }
        if (key->child == DW_OBJECT_ROOM) ((dw_kiln *)object)->room.present = true;
        dw_kiln_read_object(reader, key->child, index, node, path, (char *)object + key->offset);
        break;
    case DW_KEY_LIST: read_list(reader, key, node, path, object); break;
    default: dw_kiln_read_value(reader, key, node, path, object); break;
    }
}

/* The unit of a number as typed, or the word used in place of a number. */
static const char *typed_unit(const dw_data *data, const dw_key *key, const dw_node *node)
{
    if (node->kind != DW_NODE_SCALAR) return NULL;
    switch (key->kind) {
    case DW_KEY_NUMBER:
    case DW_KEY_DIAMETER:
    case DW_KEY_ANGLE:
    case DW_KEY_DOWNSTREAM: return dw_quantity_unit(node->text, node->length, key->dim);
    case DW_KEY_DRILL:
        for (size_t i = 0; i < data->drill_count; i++) {
            if (strcmp(data->drill[i].size, node->text) == 0) return data->drill[i].size;
        }
        return NULL;
    case DW_KEY_LINING:
        for (size_t i = 0; i < data->lining_count; i++) {
            if (strcmp(data->lining[i].name, node->text) == 0) return data->lining[i].name;
        }
        return NULL;
    case DW_KEY_CAP:
        for (size_t i = 0; i < data->cap_count; i++) {
            if (strcmp(data->cap[i].name, node->text) == 0) return data->cap[i].name;
        }
        return NULL;
    default: return NULL;
    }
}

static void note_typed(dw_kiln_reader *reader, dw_object object, int index, int row,
                       const dw_node *node)
{
    dw_kiln_file *file = reader->file;
    if (file->typed_count == DW_TYPED_MAX) return;
    reader->typed_node[file->typed_count] = node;
    file->typed[file->typed_count++] =
        (dw_typed){.object = (unsigned char)object,
                   .index = (short)index,
                   .row = (short)row,
                   .setting = (short)node->setting,
                   .unit = typed_unit(reader->data, &dw_keys_of(object)->key[row], node)};
}

void dw_kiln_read_object(dw_kiln_reader *reader, dw_object object, int index, const dw_node *node,
                         const char *path, void *base)
{
    object_read o = {.keys = dw_keys_of(object), .node = node, .path = path};
    if (node->kind != DW_NODE_MAP && !dw_node_is_blank(node)) {
        char expected[EXPECTED_SIZE];
        const dw_key as_key = {.kind = DW_KEY_OBJECT, .child = object};
        dw_key_expected(&as_key, reader->data, expected, sizeof expected);
        dw_kiln_wrong_kind(reader, node, path[0] != '\0' ? path : "the description", expected);
        return;
    }
    match_keys(reader, &o, node, NULL);
    settle_choices(reader, &o);
    unsigned long long *given = dw_given_word(reader->given, object, index);
    bool kind_known = true;
    for (int i = 0; i < o.keys->count; i++) {
        if (o.seen[i] == NULL) continue;
        char at[DW_PATH_SIZE];
        (void)dw_path_join_keys(at, sizeof at, path, o.keys->key[i].name);
        if (given != NULL) *given |= 1ULL << i;
        note_typed(reader, object, index, i, o.seen[i]);
        const int errors = reader->error_count;
        read_row(reader, &o.keys->key[i], index, o.seen[i], at, base);
        if (i == o.keys->kind_row && reader->error_count > errors) kind_known = false;
    }
    /* Which keys an object of unknown kind needs cannot be said. */
    if (kind_known) check_presence(reader, &o, base);
}
