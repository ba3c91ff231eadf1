#ifndef DW_DATA_READER_H
#define DW_DATA_READER_H

/**
 * @file data_reader.h
 * What the readers of config/ share: members of a map by key, with the fault and its place when
 * they are absent, of the wrong kind, or out of range.
 *
 * Layer: data, private to read_data.c and data_*.c. State lives in the caller's dw_data_reader.
 *
 * Every function that can find a fault adds it to the list, counts it and returns false (or
 * NULL); reading goes on, so that one run shows all faults.
 */

#include <stdbool.h>
#include <stddef.h>

#include "data.h"
#include "diag.h"
#include "yaml_tree.h"

/** Where faults go, and what was read before and can be referred to. */
typedef struct dw_data_reader {
    dw_diag_list *diag;              /**< borrowed; may be NULL                             */
    const dw_data *known;            /**< borrowed: sources and species read so far         */
    bool sources_known;              /**< false: sources.yaml had faults, keys go unchecked */
    bool species_known;              /**< false: species.yaml had faults, likewise          */
    int fault_count;
} dw_data_reader;

/** Adds an error at a place. */
void dw_data_fault(dw_data_reader *reader, dw_place place, const char *code, const char *format,
                   ...) DW_PRINTF(4, 5);

/** Adds "<message>; did you mean ..." for a word that is none of words. */
void dw_data_unknown(dw_data_reader *reader, dw_place place, const char *code, const char *what,
                     const char *word, const char *const *words, size_t count);

/** True when node is a map whose keys are all among keys; the node itself may not be NULL. */
bool dw_data_keys(dw_data_reader *reader, const dw_node *node, const char *const *keys,
                  size_t count);

/** Value of a required key, of the wanted kind; NULL after a fault. */
const dw_node *dw_data_member(dw_data_reader *reader, const dw_node *map, const char *key,
                              dw_node_kind kind);

/** Number of children of a list or map. */
size_t dw_data_length(const dw_node *node);

/** SI number of a scalar node, within low..high (SI, ends included); what names it in faults. */
bool dw_data_number_of(dw_data_reader *reader, const dw_node *node, const char *what, dw_dim dim,
                       double low, double high, double *si);

/** The same for a required key of a map. */
bool dw_data_number(dw_data_reader *reader, const dw_node *map, const char *key, dw_dim dim,
                    double low, double high, double *si);

/** Exactly count plain numbers of a list at a required key. */
bool dw_data_numbers(dw_data_reader *reader, const dw_node *map, const char *key, size_t count,
                     double low, double high, double *out);

/** Text of a scalar node, not empty and short enough for out with its NUL. */
bool dw_data_text_of(dw_data_reader *reader, const dw_node *node, const char *what, char *out,
                     size_t size);

/** The same for a required key of a map. */
bool dw_data_text(dw_data_reader *reader, const dw_node *map, const char *key, char *out,
                  size_t size);

/** yes, no, true or false of an optional key; *out is left alone when the key is absent. */
bool dw_data_flag(dw_data_reader *reader, const dw_node *map, const char *key, bool *out);

/** A required source key that sources.yaml must hold; copied to out unless out is NULL. */
bool dw_data_source(dw_data_reader *reader, const dw_node *map, const char *key, char *out,
                    size_t size);

/** Readers of one file each, called in this order; root is the file's top node. */
void dw_data_read_sources(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_species(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_fuels(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_flow(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_bands(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_drills(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_spreads(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_terms(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_co(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_oxides(dw_data_reader *reader, const dw_node *root, dw_data *data);
void dw_data_read_glazes(dw_data_reader *reader, const dw_node *root, dw_data *data);

/** Number of entries of an array literal of constant words. */
#define DW_COUNT_OF(array) (sizeof(array) / sizeof((array)[0]))

#endif
