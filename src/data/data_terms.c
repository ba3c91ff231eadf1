#include <string.h>

#include "data_reader.h"

/* Texts of a list at an optional key: up to max of size bytes each. */
static size_t read_words(dw_data_reader *reader, const dw_node *map, const char *key, char *out,
                         size_t size, size_t max)
{
    const dw_node *list = dw_node_get(map, key);
    if (list == NULL) return 0;
    if (list->kind != DW_NODE_LIST) {
        dw_data_fault(reader, list->place, "wrong-kind", "'%s' is not a list", key);
        return 0;
    }
    size_t count = 0;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (count == max) {
            dw_data_fault(reader, node->place, "too-many", "more than %zu in '%s'", max, key);
            break;
        }
        if (dw_data_text_of(reader, node, key, out + count * size, size)) count++;
    }
    return count;
}

static void read_sentence(dw_data_reader *reader, const dw_node *node, dw_term_sentence *s)
{
    static const char *const keys[] = {"when", "say"};
    if (node->kind == DW_NODE_SCALAR) {
        (void)dw_data_text_of(reader, node, "here", s->text, sizeof s->text);
        return;
    }
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    (void)dw_data_text(reader, node, "when", s->condition, sizeof s->condition);
    (void)dw_data_text(reader, node, "say", s->text, sizeof s->text);
}

static void read_here(dw_data_reader *reader, const dw_node *map, dw_term *term)
{
    const dw_node *list = dw_node_get(map, "here");
    if (list == NULL) return;
    if (list->kind != DW_NODE_LIST) {
        dw_data_fault(reader, list->place, "wrong-kind", "'here' is not a list");
        return;
    }
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (term->here_count == DW_TERM_SENTENCE_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d sentences",
                          DW_TERM_SENTENCE_MAX);
            return;
        }
        read_sentence(reader, node, &term->here[term->here_count++]);
    }
}

static void read_sources_of(dw_data_reader *reader, const dw_node *map, dw_term *term)
{
    term->source_count = read_words(reader, map, "sources", term->source[0],
                                    sizeof term->source[0], DW_TERM_SOURCE_MAX);
    if (term->source_count == 0) {
        dw_data_fault(reader, map->place, "missing", "'sources' is missing or empty");
    }
    for (size_t i = 0; i < term->source_count && reader->sources_known; i++) {
        bool known = false;
        for (size_t k = 0; k < reader->known->source_count && !known; k++) {
            known = strcmp(reader->known->source[k].key, term->source[i]) == 0;
        }
        if (!known) {
            dw_data_fault(reader, map->place, "unknown-source", "unknown source '%s'",
                          term->source[i]);
        }
    }
}

static bool is_named(const dw_term *term, const char *name)
{
    if (strcmp(term->name, name) == 0) return true;
    for (size_t i = 0; i < term->alias_count; i++) {
        if (strcmp(term->alias[i], name) == 0) return true;
    }
    return false;
}

static const dw_term *find_term(const dw_terms *terms, const char *name)
{
    for (size_t i = 0; i < terms->count; i++) {
        if (is_named(&terms->term[i], name)) return &terms->term[i];
    }
    return NULL;
}

static void read_term(dw_data_reader *reader, const dw_node *node, dw_terms *terms)
{
    static const char *const keys[] = {"term", "aliases", "text", "here", "see", "sources"};
    dw_term *term = &terms->term[terms->count];
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    if (!dw_data_text(reader, node, "term", term->name, sizeof term->name)) return;
    (void)dw_data_text(reader, node, "text", term->text, sizeof term->text);
    term->alias_count = read_words(reader, node, "aliases", term->alias[0], sizeof term->alias[0],
                                   DW_TERM_ALIAS_MAX);
    term->see_count =
        read_words(reader, node, "see", term->see[0], sizeof term->see[0], DW_TERM_ALIAS_MAX);
    read_here(reader, node, term);
    read_sources_of(reader, node, term);
    if (find_term(terms, term->name) != NULL) {
        dw_data_fault(reader, node->place, "listed-twice", "'%s' is listed twice", term->name);
    }
    for (size_t i = 0; i < term->alias_count; i++) {
        if (find_term(terms, term->alias[i]) != NULL) {
            dw_data_fault(reader, node->place, "listed-twice", "'%s' is listed twice",
                          term->alias[i]);
        }
    }
    terms->count++;
}

void dw_data_read_terms(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"terms"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    const dw_node *list = dw_data_member(reader, root, "terms", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (data->terms.count == DW_TERM_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d terms", DW_TERM_MAX);
            return;
        }
        read_term(reader, node, &data->terms);
    }
    for (size_t i = 0; i < data->terms.count; i++) {
        const dw_term *term = &data->terms.term[i];
        for (size_t k = 0; k < term->see_count; k++) {
            if (find_term(&data->terms, term->see[k]) != NULL) continue;
            dw_data_fault(reader, list->place, "unknown-term",
                          "'%s' refers to '%s', which is not a term", term->name, term->see[k]);
        }
    }
}
