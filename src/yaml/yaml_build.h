#ifndef DW_YAML_BUILD_H
#define DW_YAML_BUILD_H

/**
 * @file yaml_build.h
 * Making the nodes of a tree: its arena, and libyaml's events turned into nodes.
 *
 * Layer: yaml. Shared by yaml_tree.c and yaml_path.c only.
 */

#include "yaml_tree.h"

typedef struct dw_arena_chunk dw_arena_chunk;

struct dw_tree {
    dw_arena_chunk *chunks;  /**< owned; newest first                          */
    size_t node_count;       /**< nodes made so far, replaced ones included    */
    int set_count;           /**< calls of dw_tree_set() so far                */
    dw_node *root;           /**< in the arena                                 */
    const char *file;        /**< in the arena                                 */
};

/** Zeroed memory that lives as long as the tree; NULL when out of memory. */
void *dw_tree_alloc(dw_tree *tree, size_t size);

/** Copy of length bytes with a NUL behind them, in the arena; NULL when out of memory. */
char *dw_tree_copy_text(dw_tree *tree, const char *text, size_t length);

/** Frees the arena. */
void dw_tree_free_chunks(dw_tree *tree);

/** What is parsed, and how places and messages speak of it. */
typedef struct dw_build_source {
    const char *text;     /**< borrowed; UTF-8 without a byte order mark               */
    size_t length;
    const char *file;     /**< for places; must live as long as the tree               */
    const char *subject;  /**< put before every message; NULL: none                    */
    bool placeless;       /**< nodes and messages get line 0: the text is no file      */
    int depth;            /**< containers around the root node                         */
} dw_build_source;

/**
 * Parses a text into nodes of the tree's arena. Up to 20 faults go to diag.
 *
 * @param[out] root  without parent and key; NULL on failure.
 * @retval DW_OK, DW_ERR_INPUT, DW_ERR_NOMEM
 */
DW_MUST_CHECK
dw_status dw_tree_build(dw_tree *tree, const dw_build_source *source, dw_diag_list *diag,
                        dw_node **root);

#endif
