#include "yaml_tree.h"

#include <stdlib.h>
#include <string.h>

#include "utf8.h"
#include "yaml_build.h"

/* What libyaml would report without a line, or not at all. True when the text may be parsed. */
static bool check_bytes(const char *file, const char *text, size_t length, dw_diag_list *diag)
{
    dw_place place = {file, 1, 1};
    for (size_t i = 0; i < length;) {
        if (text[i] == '\0') {
            dw_diag_add(diag, DW_ERROR, "nul-byte", place,
                        "a NUL byte is here; this is not a text in UTF-8");
            return false;
        }
        const size_t n = dw_utf8_char(text + i, length - i);
        if (n == 0) {
            dw_diag_add(diag, DW_ERROR, "not-utf8", place,
                        "the byte 0x%02X is not valid UTF-8; save the file as UTF-8",
                        (unsigned)(unsigned char)text[i]);
            return false;
        }
        /* A line ends at LF, CRLF or a lone CR. */
        const bool line_end =
            text[i] == '\n' || (text[i] == '\r' && !(i + 1 < length && text[i + 1] == '\n'));
        if (line_end) {
            place.line++;
            place.column = 1;
        } else {
            place.column++;
        }
        i += n;
    }
    return true;
}

dw_status dw_tree_read(const char *file, const char *text, size_t length, dw_diag_list *diag,
                       dw_tree **tree)
{
    if (tree == NULL) return DW_ERR_ARG;
    *tree = NULL;
    if (file == NULL || (text == NULL && length > 0)) return DW_ERR_ARG;
    if (text == NULL) text = "";
    if (length > DW_TREE_BYTES_MAX) {
        dw_diag_add(diag, DW_ERROR, "too-large", (dw_place){file, 0, 0},
                    "it has %zu bytes, expected at most %d", length, DW_TREE_BYTES_MAX);
        return DW_ERR_INPUT;
    }
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        length -= 3;
    }
    if (!check_bytes(file, text, length, diag)) return DW_ERR_INPUT;

    dw_tree *made = calloc(1, sizeof *made);
    if (made == NULL) return DW_ERR_NOMEM;
    dw_status status = DW_ERR_NOMEM;
    made->file = dw_tree_copy_text(made, file, strlen(file));
    if (made->file != NULL) {
        const dw_build_source source = {.text = text, .length = length, .file = made->file};
        status = dw_tree_build(made, &source, diag, &made->root);
    }
    if (status != DW_OK) {
        dw_tree_destroy(made);
        return status;
    }
    *tree = made;
    return DW_OK;
}

void dw_tree_destroy(dw_tree *tree)
{
    if (tree == NULL) return;
    dw_tree_free_chunks(tree);
    free(tree);
}

const dw_node *dw_tree_root(const dw_tree *tree) { return tree != NULL ? tree->root : NULL; }

const dw_node *dw_node_get(const dw_node *map, const char *key)
{
    if (map == NULL || key == NULL || map->kind != DW_NODE_MAP) return NULL;
    for (const dw_node *n = map->first; n != NULL; n = n->next) {
        if (strcmp(n->key, key) == 0) return n;
    }
    return NULL;
}
