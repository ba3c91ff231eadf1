#include "data_reader.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "format.h"
#include "nearest.h"
#include "number.h"

static const char *kind_name(dw_node_kind kind)
{
    switch (kind) {
    case DW_NODE_SCALAR: return "a single value";
    case DW_NODE_MAP: return "a map";
    case DW_NODE_LIST: return "a list";
    }
    return "something else";
}

void dw_data_fault(dw_data_reader *reader, dw_place place, const char *code, const char *format,
                   ...)
{
    char text[512];
    va_list args;
    va_start(args, format);
    (void)dw_vprint(text, sizeof text, format, args);
    va_end(args);
    dw_diag_add(reader->diag, DW_ERROR, code, place, "%s", text);
    reader->fault_count++;
}

void dw_data_unknown(dw_data_reader *reader, dw_place place, const char *code, const char *what,
                     const char *word, const char *const *words, size_t count)
{
    const char *nearest = dw_nearest_word(word, words, count);
    if (nearest != NULL) {
        dw_data_fault(reader, place, code, "unknown %s '%.60s'; did you mean '%s'?", what, word,
                      nearest);
    } else {
        dw_data_fault(reader, place, code, "unknown %s '%.60s'", what, word);
    }
}

static bool is_kind(dw_data_reader *reader, const dw_node *node, const char *what,
                    dw_node_kind kind)
{
    if (node->kind == kind) return true;
    dw_data_fault(reader, node->place, "wrong-kind", "'%s' is %s, expected %s", what,
                  kind_name(node->kind), kind_name(kind));
    return false;
}

/* What to call a node in a fault: its key, or what it is an item of. */
static const char *name_of(const dw_node *node)
{
    if (node->key != NULL) return node->key;
    if (node->parent != NULL && node->parent->key != NULL) return node->parent->key;
    return "the file";
}

bool dw_data_keys(dw_data_reader *reader, const dw_node *node, const char *const *keys,
                  size_t count)
{
    if (!is_kind(reader, node, name_of(node), DW_NODE_MAP)) return false;
    bool good = true;
    for (const dw_node *child = node->first; child != NULL; child = child->next) {
        size_t i = 0;
        while (i < count && strcmp(keys[i], child->key) != 0)
            i++;
        if (i < count) continue;
        dw_data_unknown(reader, child->key_place, "unknown-key", "key", child->key, keys, count);
        good = false;
    }
    return good;
}

const dw_node *dw_data_member(dw_data_reader *reader, const dw_node *map, const char *key,
                              dw_node_kind kind)
{
    const dw_node *node = dw_node_get(map, key);
    if (node == NULL) {
        dw_data_fault(reader, map->place, "missing-key", "'%s' is missing", key);
        return NULL;
    }
    return is_kind(reader, node, key, kind) ? node : NULL;
}

size_t dw_data_length(const dw_node *node)
{
    size_t count = 0;
    for (const dw_node *child = node->first; child != NULL; child = child->next)
        count++;
    return count;
}

bool dw_data_number_of(dw_data_reader *reader, const dw_node *node, const char *what, dw_dim dim,
                       double low, double high, double *si)
{
    *si = NAN;
    if (!is_kind(reader, node, what, DW_NODE_SCALAR)) return false;
    char message[DW_QUANTITY_MESSAGE_SIZE];
    double value;
    /* Most of config/ is plain numbers; the units' reader is asked about what is not one. */
    const bool plain = dim == DW_DIM_NUMBER && node->length > 0 &&
                       dw_number_read(node->text, node->length, &value) == node->length &&
                       isfinite(value);
    if (!plain && dw_quantity_from_text(node->text, node->length, dim, &value, message) != DW_OK) {
        dw_data_fault(reader, node->place, "bad-value", "'%s': %s", what, message);
        return false;
    }
    if (!(value >= low && value <= high)) {
        const char *unit = dw_dim_si_unit(dim);
        const bool bare = strcmp(unit, "1") == 0;
        dw_data_fault(reader, node->place, "out-of-range", "'%s' is %.40s, expected %g to %g%s%s",
                      what, node->text, low, high, bare ? "" : " ", bare ? "" : unit);
        return false;
    }
    *si = value;
    return true;
}

bool dw_data_number(dw_data_reader *reader, const dw_node *map, const char *key, dw_dim dim,
                    double low, double high, double *si)
{
    *si = NAN;
    const dw_node *node = dw_data_member(reader, map, key, DW_NODE_SCALAR);
    return node != NULL && dw_data_number_of(reader, node, key, dim, low, high, si);
}

bool dw_data_numbers(dw_data_reader *reader, const dw_node *map, const char *key, size_t count,
                     double low, double high, double *out)
{
    const dw_node *list = dw_data_member(reader, map, key, DW_NODE_LIST);
    if (list == NULL) return false;
    const size_t length = dw_data_length(list);
    if (length != count) {
        dw_data_fault(reader, list->place, "wrong-length", "'%s' has %zu numbers, expected %zu",
                      key, length, count);
        return false;
    }
    bool good = true;
    size_t i = 0;
    for (const dw_node *item = list->first; item != NULL; item = item->next) {
        good = dw_data_number_of(reader, item, key, DW_DIM_NUMBER, low, high, &out[i++]) && good;
    }
    return good;
}

bool dw_data_text_of(dw_data_reader *reader, const dw_node *node, const char *what, char *out,
                     size_t size)
{
    if (!is_kind(reader, node, what, DW_NODE_SCALAR)) return false;
    if (node->length == 0) {
        dw_data_fault(reader, node->place, "bad-value", "'%s' is empty", what);
        return false;
    }
    if (node->length >= size) {
        dw_data_fault(reader, node->place, "bad-value",
                      "'%s' is %zu bytes long, expected at most %zu", what, node->length, size - 1);
        return false;
    }
    memcpy(out, node->text, node->length + 1);
    return true;
}

bool dw_data_text(dw_data_reader *reader, const dw_node *map, const char *key, char *out,
                  size_t size)
{
    const dw_node *node = dw_data_member(reader, map, key, DW_NODE_SCALAR);
    return node != NULL && dw_data_text_of(reader, node, key, out, size);
}

bool dw_data_flag(dw_data_reader *reader, const dw_node *map, const char *key, bool *out)
{
    const dw_node *node = dw_node_get(map, key);
    if (node == NULL) return true;
    if (!is_kind(reader, node, key, DW_NODE_SCALAR)) return false;
    if (strcmp(node->text, "yes") == 0 || strcmp(node->text, "true") == 0) {
        *out = true;
        return true;
    }
    if (strcmp(node->text, "no") == 0 || strcmp(node->text, "false") == 0) {
        *out = false;
        return true;
    }
    dw_data_fault(reader, node->place, "bad-value", "'%s' is '%.40s', expected yes or no", key,
                  node->text);
    return false;
}

bool dw_data_source(dw_data_reader *reader, const dw_node *map, const char *key, char *out,
                    size_t size)
{
    const dw_node *node = dw_data_member(reader, map, key, DW_NODE_SCALAR);
    if (node == NULL) return false;
    if (out != NULL && !dw_data_text_of(reader, node, key, out, size)) return false;
    if (!reader->sources_known) return true;

    const char *words[DW_SOURCE_MAX];
    for (size_t i = 0; i < reader->known->source_count; i++) {
        words[i] = reader->known->source[i].key;
        if (strcmp(words[i], node->text) == 0) return true;
    }
    dw_data_unknown(reader, node->place, "unknown-source", "source", node->text, words,
                    reader->known->source_count);
    return false;
}
