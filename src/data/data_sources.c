#include <string.h>

#include "data_reader.h"

static const char *const provenances[] = {"read", "recalled", "computed", "derived", "practice"};

/* Keys are used in comments and CSV files: lower case, digits, hyphens, underscores. */
static bool good_key(const char *key)
{
    return key[0] != '\0' && strspn(key, "abcdefghijklmnopqrstuvwxyz0123456789-_") == strlen(key);
}

static void read_source(dw_data_reader *reader, const dw_node *node, dw_data *data)
{
    static const char *const keys[] = {"key", "title", "provenance"};
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    dw_source *source = &data->source[data->source_count];
    (void)dw_data_text(reader, node, "title", source->title, sizeof source->title);
    if (dw_data_text(reader, node, "provenance", source->provenance, sizeof source->provenance)) {
        size_t i = 0;
        while (i < DW_COUNT_OF(provenances) && strcmp(provenances[i], source->provenance) != 0) {
            i++;
        }
        if (i == DW_COUNT_OF(provenances)) {
            dw_data_unknown(reader, dw_node_get(node, "provenance")->place, "bad-value",
                            "provenance", source->provenance, provenances,
                            DW_COUNT_OF(provenances));
        }
    }
    if (!dw_data_text(reader, node, "key", source->key, sizeof source->key)) return;
    if (!good_key(source->key)) {
        dw_data_fault(reader, dw_node_get(node, "key")->place, "bad-value",
                      "'key' is '%s', expected lower-case letters, digits, - and _", source->key);
    }
    for (size_t i = 0; i < data->source_count; i++) {
        if (strcmp(data->source[i].key, source->key) == 0) {
            dw_data_fault(reader, node->place, "listed-twice", "source '%s' is listed twice",
                          source->key);
        }
    }
    data->source_count++;
}

void dw_data_read_sources(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"sources"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    const dw_node *list = dw_data_member(reader, root, "sources", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (data->source_count == DW_SOURCE_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d sources", DW_SOURCE_MAX);
            return;
        }
        read_source(reader, node, data);
    }
}
