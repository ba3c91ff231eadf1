#ifndef DW_KILN_READER_H
#define DW_KILN_READER_H

/**
 * @file kiln_reader.h
 * What the readers of a kiln description share: where faults go, and the reading of one value.
 *
 * Layer: kiln, private to read_kiln.c, kiln_objects.c, kiln_value.c and kiln_fuel.c. State lives in
 * the caller's dw_kiln_reader.
 *
 * Every fault is added with its place and counted; reading goes on, so that one run shows all.
 */

#include <stdbool.h>

#include "kiln_schema.h"
#include "yaml_tree.h"

/** Errors shown before they are only counted. */
enum { DW_KILN_ERROR_MAX = 20 };

typedef struct dw_kiln_reader {
    const dw_data *data;  /**< borrowed                                           */
    dw_diag_list *diag;   /**< borrowed; may be NULL                              */
    int error_count;      /**< found, shown or not                                */
    dw_kiln_given *given; /**< borrowed: marked as keys are read                  */
    dw_kiln_file *file;   /**< borrowed: what was typed goes there                */
    const dw_node **typed_node; /**< of each of file->typed                       */
} dw_kiln_reader;

/** Adds an error, or only counts it when many were shown already. */
void dw_kiln_fault(dw_kiln_reader *reader, dw_place place, const char *code, const char *format,
                   ...) DW_PRINTF(4, 5);

/** Adds a warning: allowed, but odd. */
void dw_kiln_doubt(dw_kiln_reader *reader, dw_place place, const char *code, const char *format,
                   ...) DW_PRINTF(4, 5);

/** Adds the error of a word that is none of words: what was read, what is allowed, and the word
 *  that was probably meant. */
void dw_kiln_no_word(dw_kiln_reader *reader, const dw_node *node, const char *path,
                     const char *const *words, size_t count);

/** True for `key:` with nothing behind it. */
bool dw_node_is_blank(const dw_node *node);

/** Adds the error of a map, list or empty value in the place of something else. */
void dw_kiln_wrong_kind(dw_kiln_reader *reader, const dw_node *node, const char *path,
                        const char *expected);

/** True for a text that is not empty; else adds the error. expected is for the message. */
bool dw_kiln_is_text(dw_kiln_reader *reader, const dw_node *node, const char *path,
                     const char *expected);

/** SI number of a node within limits (texts with unit, ends included); expected is for the message.
 *  False after a fault. */
bool dw_kiln_quantity(dw_kiln_reader *reader, const dw_node *node, const char *path, dw_dim dim,
                      const char *low, const char *high, double *si);

/** Reads the value of a key that is no object and no list into its place in object. */
void dw_kiln_read_value(dw_kiln_reader *reader, const dw_key *key, const dw_node *node,
                        const char *path, void *object);

/** Reads a fuel: the name of one in the data, or a map of gases. */
void dw_kiln_read_fuel(dw_kiln_reader *reader, const dw_node *node, const char *path,
                       dw_fuel *fuel);

/** Reads the object of a node and all below it (kiln_objects.c). index is that of the burner,
 *  opening or flue it is or belongs to. */
void dw_kiln_read_object(dw_kiln_reader *reader, dw_object object, int index, const dw_node *node,
                         const char *path, void *base);

#endif
