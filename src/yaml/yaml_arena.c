/* The memory of a tree: chunks that are freed together. */
#include "yaml_build.h"

#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { CHUNK_SIZE = 32 * 1024 };

struct dw_arena_chunk {
    struct dw_arena_chunk *next;
    size_t used, size;
    max_align_t bytes[];
};

void *dw_tree_alloc(dw_tree *tree, size_t size)
{
    const size_t unit = sizeof(max_align_t);
    if (size > SIZE_MAX - CHUNK_SIZE) return NULL;
    size = (size + unit - 1) / unit * unit;
    dw_arena_chunk *chunk = tree->chunks;
    if (chunk == NULL || chunk->size - chunk->used < size) {
        const size_t chunk_size = size > CHUNK_SIZE ? size : CHUNK_SIZE;
        chunk = calloc(1, sizeof *chunk + chunk_size);
        if (chunk == NULL) return NULL;
        chunk->size = chunk_size;
        chunk->next = tree->chunks;
        tree->chunks = chunk;
    }
    void *memory = chunk->bytes + chunk->used / unit;
    chunk->used += size;
    return memory;
}

char *dw_tree_copy_text(dw_tree *tree, const char *text, size_t length)
{
    char *copy = dw_tree_alloc(tree, length + 1);
    if (copy != NULL && length > 0) memcpy(copy, text, length);
    return copy;
}

void dw_tree_free_chunks(dw_tree *tree)
{
    for (dw_arena_chunk *chunk = tree->chunks, *next; chunk != NULL; chunk = next) {
        next = chunk->next;
        free(chunk);
    }
    tree->chunks = NULL;
}
