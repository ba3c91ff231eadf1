#ifndef DW_YAML_TREE_H
#define DW_YAML_TREE_H

/**
 * @file yaml_tree.h
 * YAML text as a tree that remembers where everything was.
 *
 * Layer: yaml. The tree owns all its nodes and texts in one arena; destroying it frees them.
 * Built from libyaml events. Refused with a place: anchors and aliases, tags, more than one
 * document, duplicate keys in a map, keys that are maps, lists or empty, depth over
 * DW_TREE_DEPTH_MAX, texts over DW_TREE_BYTES_MAX, NUL bytes and invalid UTF-8. A decimal comma in
 * braces (`{diameter: 1,8 mm}`), which would part the number in two, is kept in the value's text.
 */

#include <stdbool.h>
#include <stddef.h>

#include "diag.h"
#include "dw_status.h"

enum {
    DW_TREE_DEPTH_MAX = 32,
    DW_TREE_BYTES_MAX = 4 * 1024 * 1024,
    DW_TREE_NODE_MAX = 200000
};

typedef enum dw_node_kind { DW_NODE_SCALAR, DW_NODE_MAP, DW_NODE_LIST } dw_node_kind;

/** One node. key is set when the node is the value of a map entry. All strings NUL-terminated. */
typedef struct dw_node {
    dw_node_kind kind;
    dw_place place;           /**< of the value                                     */
    const char *key;          /**< NULL in lists and at the root                    */
    dw_place key_place;
    const char *text;         /**< scalar only; NULL otherwise                      */
    size_t length;            /**< of text                                          */
    bool quoted;              /**< the scalar was in quotes or a block              */
    int setting;              /**< 0: as read; n: by the nth call of dw_tree_set()  */
    const char *replaced;     /**< scalar text that was here before it was set, or NULL */
    struct dw_node *parent;
    struct dw_node *first;    /**< map, list: first child; NULL when empty          */
    struct dw_node *next;     /**< next sibling                                     */
} dw_node;

typedef struct dw_tree dw_tree;

/**
 * Reads a YAML text.
 *
 * @param[in]  file    name used in places; copied.
 * @param[in]  text, length  the bytes; a UTF-8 byte order mark and CRLF are fine.
 * @param[in]  diag    receives errors with their places; may be NULL.
 * @param[out] tree    the tree, owned by the caller; NULL on failure.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM, DW_ERR_ARG
 */
DW_MUST_CHECK
dw_status dw_tree_read(const char *file, const char *text, size_t length, dw_diag_list *diag,
                       dw_tree **tree);

/** Frees a tree; NULL is allowed. */
void dw_tree_destroy(dw_tree *tree);

/** The root node; never NULL for a tree that was read. */
const dw_node *dw_tree_root(const dw_tree *tree);

/** Value of a key in a map; NULL when absent or when node is no map. */
const dw_node *dw_node_get(const dw_node *map, const char *key);

/**
 * Replaces or adds the value at a path: `operating.gas_pressure`, `flues.back flue.damper.open`,
 * `burners.0.lit`. A step selects a map key; in a list, the item whose `name` is the step, or the
 * item with that index from 0; `*` selects every item. A name with a dot in it may be quoted:
 * `flues."no. 2".damper.open`. Missing map keys on the way are created, missing list items are an
 * error that lists the names there are. Places of new nodes have file "--set", line 0, and the
 * reader's later errors quote the path.
 *
 * @param[in] value  YAML flow text of the new value: `40 %`, `{drill: 50}`.
 * @retval DW_OK, DW_ERR_INPUT (diag says why), DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_tree_set(dw_tree *tree, const char *path, const char *value, dw_diag_list *diag);

#endif
