#include "read_kiln.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "kiln_effect.h"
#include "kiln_kinds.h"
#include "kiln_reader.h"
#include "kiln_typed.h"
#include "nearest.h"

enum { SETTING_PATH_SIZE = 512, CHECK_MESSAGE_SIZE = 300 };

static const dw_place set_place = {"--set", 0, 0};

/* Writes a setting's path from the top of the description: `kiln.` may be left out, and the short
 * names of --vary are allowed. False after a fault. */
static bool full_path(dw_kiln_reader *reader, const char *path, char out[SETTING_PATH_SIZE])
{
    for (const dw_short_name *s = dw_kiln_short_names; s->name != NULL; s++) {
        if (strcmp(path, s->name) == 0) {
            (void)snprintf(out, SETTING_PATH_SIZE, "%s", s->path);
            return true;
        }
    }
    const char *rest = path;
    char first[DW_PATH_SIZE];
    const bool has_step = dw_path_next(&rest, first, sizeof first, NULL);
    const dw_keys *file = dw_keys_of(DW_OBJECT_FILE), *kiln = dw_keys_of(DW_OBJECT_KILN);
    const bool in_kiln = has_step && dw_keys_row(kiln, first) != DW_NO_ROW;
    /* What is not a step is left to the tree, which says what is wrong with it. */
    if (has_step && !in_kiln && dw_keys_row(file, first) == DW_NO_ROW) {
        dw_words words;
        dw_path_first_words(rest[0] == '\0', &words);
        const char *nearest = dw_nearest_word(first, words.word, words.count);
        if (nearest == NULL) {
            char expected[SETTING_PATH_SIZE];
            dw_words_join(words.word, words.count, expected, sizeof expected);
            dw_kiln_fault(reader, set_place, "unknown-key",
                          "'%.150s': '%s' is not a key, expected %s", path, first, expected);
        } else {
            dw_kiln_fault(reader, set_place, "unknown-key",
                          "'%.150s': '%s' is not a key; did you mean '%s'?", path, first, nearest);
        }
        return false;
    }
    const int length = snprintf(out, SETTING_PATH_SIZE, "%s%s", in_kiln ? "kiln." : "", path);
    if (length >= 0 && length < SETTING_PATH_SIZE) return true;
    dw_kiln_fault(reader, set_place, "bad-path", "the path '%.60s...' is too long", path);
    return false;
}

static dw_status apply_settings(dw_kiln_reader *reader, dw_tree *tree, const dw_setting *settings,
                                size_t setting_count)
{
    for (size_t i = 0; i < setting_count; i++) {
        char path[SETTING_PATH_SIZE];
        if (settings[i].path == NULL || settings[i].value == NULL) return DW_ERR_ARG;
        if (!full_path(reader, settings[i].path, path)) continue;
        const dw_status status = dw_tree_set(tree, path, settings[i].value, reader->diag);
        if (status == DW_ERR_INPUT) {
            reader->error_count++;
        } else if (status != DW_OK) {
            return status;
        }
    }
    return DW_OK;
}

/* What some keys of the stack say about others: a diameter makes it round, a heat loss per kelvin or a wall
 * takes the place of the transfer units, and a wall that is not known leaves the
 * default of those. */
static void follow_up(dw_kiln_reader *reader, const dw_node *root, dw_kiln_file *file)
{
    dw_stack *stack = &file->kiln.stack;
    if (!stack->present) return;
    const dw_keys *keys = dw_keys_of(DW_OBJECT_STACK);
    const unsigned long long diameter = 1ULL << dw_keys_row(keys, "diameter");
    const unsigned long long section = 1ULL << dw_keys_row(keys, "section");
    if ((file->given.stack & diameter) != 0) {
        const dw_node *node = dw_node_get(dw_node_get(root, "kiln"), "stack");
        if ((file->given.stack & section) != 0 && !stack->round) {
            dw_kiln_fault(
                reader, dw_node_get(node, "section")->place, "both-given",
                "'kiln.stack' has a diameter and section: square, expected only one of them");
        }
        stack->round = true;
        file->given.stack |= section;
    }
    if (dw_stack_loses_by_ua(stack)) stack->heat_loss_ntu = NAN;
    const unsigned long long ntu = 1ULL << dw_keys_row(keys, "heat_loss_ntu");
    if (stack->wall == DW_WALL_UNKNOWN && (file->given.stack & ntu) == 0)
        file->given.stack &= ~(1ULL << dw_keys_row(keys, "wall"));
}

static bool names_item(const dw_node *item, const char *step, int i)
{
    const dw_node *name = dw_node_get(item, "name");
    char number[16];
    (void)snprintf(number, sizeof number, "%d", i);
    return (name != NULL && name->kind == DW_NODE_SCALAR && strcmp(name->text, step) == 0) ||
           strcmp(number, step) == 0;
}

/* Place of the deepest node that a path quoted at the start of a message leads to. */
static dw_place place_of_message(const dw_node *root, const char *message)
{
    char path[CHECK_MESSAGE_SIZE], step[DW_PATH_SIZE];
    dw_place place = root->place;
    if (message[0] != '\'') return place;
    /* An apostrophe in a name is followed by a letter, the quote at the end is not. */
    const char *end = message + 1;
    while (*end != '\0' && !(*end == '\'' && (end[1] == ' ' || end[1] == ':')))
        end++;
    (void)snprintf(path, sizeof path, "%.*s", (int)(end - message - 1), message + 1);

    const char *rest = path;
    const dw_node *node = root;
    while (node != NULL && dw_path_next(&rest, step, sizeof step, NULL)) {
        const dw_node *child = node->first;
        for (int i = 0; child != NULL; child = child->next, i++) {
            if (node->kind == DW_NODE_MAP ? strcmp(child->key, step) == 0
                                          : names_item(child, step, i)) {
                break;
            }
        }
        if (child != NULL) {
            place = child->kind != DW_NODE_SCALAR && child->key != NULL && child->key_place.line > 0
                        ? child->key_place
                        : child->place;
        }
        node = child;
    }
    return place;
}

static void check_sense(dw_kiln_reader *reader, const dw_node *root, const dw_kiln *as_read)
{
    char message[CHECK_MESSAGE_SIZE];
    dw_kiln resolved = *as_read;
    dw_kiln_resolve(&resolved);
    if (dw_kiln_check(&resolved, &reader->data->species, message, sizeof message) != DW_OK) {
        dw_kiln_fault(reader, place_of_message(root, message), "no-sense", "%s", message);
    }
}

/* `air_pressure: 0 kPa` says that there is none, and has no effect because there is none. */
static bool says_none(const dw_kiln *kiln, dw_object object, int index, const dw_key *key)
{
    double value;
    if (key->kind != DW_KEY_NUMBER || key->dim == DW_DIM_TEMPERATURE) return false;
    memcpy(&value, (const char *)kiln + dw_object_offset(object, index) + key->offset,
           sizeof value);
    return value == 0.0;
}

/* Keys of the file that change nothing in this kiln, though they fit the kind of their object. What
 * is only turned off is left alone, and overrides are judged by dw_kiln_overrides(), when it is known
 * what is varied. */
static void note_idle_keys(const dw_kiln_reader *reader)
{
    const dw_kiln_file *file = reader->file;
    for (int i = 0; i < file->typed_count; i++) {
        const dw_typed *t = &file->typed[i];
        const dw_object object = (dw_object)t->object;
        const dw_key *key = &dw_keys_of(object)->key[t->row];
        char reason[DW_IDLE_SIZE], path[DW_PATH_SIZE];
        unsigned lacks;
        if (t->setting > 0 || !dw_key_idle(&file->kiln, object, t->index, key, reason, &lacks) ||
            lacks == 0 || (lacks & DW_NEEDS_QUIET) != 0 ||
            says_none(&file->kiln, object, t->index, key)) {
            continue;
        }
        dw_typed_path(&file->kiln, object, t->index, key, path);
        dw_diag_add(reader->diag, DW_NOTE, "no-effect", reader->typed_node[i]->key_place,
                    "'%s' has no effect: %s", path, reason);
    }
}

/* Burner ports, spyholes and the gap of the door are never all absent. */
static void doubt_openings(dw_kiln_reader *reader, const dw_node *root)
{
    if (reader->file->kiln.opening_count > 0) return;
    const dw_node *kiln = dw_node_get(root, "kiln"), *list = dw_node_get(kiln, "openings");
    const dw_node *at = list != NULL ? list : kiln;
    dw_kiln_doubt(reader, at->key_place, "no-openings",
                  "'kiln.openings' is missing, but no kiln is without any: measure the gaps round "
                  "the burner ports, the spyholes and the gap of the door, and give each of them");
}

static bool same_number(double a, double b)
{
    return (isnan(a) && isnan(b)) || fabs(a - b) <= 1e-9 * fabs(b);
}

static bool same_value(const dw_key *key, const char *a, const char *b)
{
    double x, y;
    switch (key->kind) {
    case DW_KEY_SWITCH:
    case DW_KEY_FLAG_WORD: return *(const bool *)a == *(const bool *)b;
    case DW_KEY_COUNT:
    case DW_KEY_WORD: return memcmp(a, b, sizeof(int)) == 0;
    case DW_KEY_NUMBER:
    case DW_KEY_DIAMETER:
    case DW_KEY_ANGLE:
    case DW_KEY_DRILL:
    case DW_KEY_LINING:
    case DW_KEY_CAP:
        memcpy(&x, a, sizeof x);
        memcpy(&y, b, sizeof y);
        return same_number(x, y);
    default: return false;
    }
}

/* Marks the overrides that say what holds without them. */
static void mark_repeated(dw_kiln_file *file, const dw_kiln *without)
{
    for (int i = 0; i < file->typed_count; i++) {
        dw_typed *t = &file->typed[i];
        const dw_object object = (dw_object)t->object;
        const dw_key *key = &dw_keys_of(object)->key[t->row];
        const size_t offset = dw_object_offset(object, t->index) + key->offset;
        t->repeated = t->setting > 0 && same_value(key, (const char *)&file->kiln + offset,
                                                   (const char *)without + offset);
    }
}

/* The kiln of the file alone, as far as it can be read. */
static void read_without_settings(const dw_kiln_reader *like, const dw_node *root, dw_kiln *out)
{
    dw_kiln_reader reader = *like;
    reader.diag = NULL;
    dw_kiln_read_object(&reader, DW_OBJECT_FILE, 0, root, "", &reader.file->kiln);
    dw_kiln_take_kinds(&reader.file->kiln, &reader.file->given, &reader.data->spreads);
    *out = reader.file->kiln;
    memset(reader.file, 0, sizeof *reader.file);
    dw_kiln_init(&reader.file->kiln);
}

dw_status dw_read_kiln(const dw_data *data, const char *file, const char *text, size_t length,
                       const dw_setting *settings, size_t setting_count, dw_diag_list *diag,
                       dw_kiln_file *out)
{
    if (data == NULL || file == NULL || out == NULL || (text == NULL && length > 0) ||
        (settings == NULL && setting_count > 0)) {
        return DW_ERR_ARG;
    }
    dw_tree *tree = NULL;
    /* Of the lists only what is filled is ever touched: a process that reads one kiln feels it. */
    dw_kiln_file *made = malloc(sizeof *made);
    dw_kiln *without = setting_count > 0 ? calloc(1, sizeof *without) : NULL;
    /* An array of pointers is what is meant. NOLINTNEXTLINE(bugprone-sizeof-expression) */
    const dw_node **typed_node = malloc(DW_TYPED_MAX * sizeof *typed_node);
    dw_status status = made != NULL && (without != NULL || setting_count == 0) && typed_node != NULL
                           ? dw_tree_read(file, text, length, diag, &tree)
                           : DW_ERR_NOMEM;
    if (status != DW_OK) {
        free(typed_node);
        free(without);
        free(made);
        return status;
    }
    memset(made, 0, offsetof(dw_kiln_file, typed));
    dw_kiln_init(&made->kiln);
    dw_kiln_reader reader = {
        .data = data, .diag = diag, .given = &made->given, .file = made, .typed_node = typed_node};
    if (setting_count > 0) read_without_settings(&reader, dw_tree_root(tree), without);
    status = apply_settings(&reader, tree, settings, setting_count);
    if (status == DW_OK) {
        const dw_node *root = dw_tree_root(tree);
        dw_kiln_read_object(&reader, DW_OBJECT_FILE, 0, root, "", &made->kiln);
        dw_kiln_take_kinds(&made->kiln, &made->given, &data->spreads);
        follow_up(&reader, root, made);
        if (reader.error_count == 0) check_sense(&reader, root, &made->kiln);
        if (reader.error_count > DW_KILN_ERROR_MAX) {
            dw_diag_add(diag, DW_ERROR, "more-errors", (dw_place){file, 0, 0},
                        "%d more errors are not shown", reader.error_count - DW_KILN_ERROR_MAX);
        }
        if (reader.error_count == 0) {
            if (without != NULL) mark_repeated(made, without);
            note_idle_keys(&reader);
            doubt_openings(&reader, root);
            memcpy(out, made, offsetof(dw_kiln_file, typed) + (size_t)made->typed_count * sizeof made->typed[0]);
        } else {
            status = DW_ERR_INPUT;
        }
    }
    dw_tree_destroy(tree);
    free(typed_node);
    free(without);
    free(made);
    return status;
}
