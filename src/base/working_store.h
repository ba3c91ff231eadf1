#ifndef DW_WORKING_STORE_H
#define DW_WORKING_STORE_H

/**
 * @file working_store.h
 * What a working holds, for the files that keep it (working.c) and write it down (working_parts.c).
 *
 * Layer: base. Not for others: see working.h.
 */

#include "working_parts.h"

typedef struct dw_work_chunk dw_work_chunk;

struct dw_working {
    dw_work_chunk *chunks;
    dw_status status;
    const dw_work_rename *rename;   /**< of keys; borrowed                                 */
    size_t rename_count;
    bool renames;
    size_t item_count, item_room, step_count, step_room, table_count, table_room;
    size_t quantity_count, quantity_room;
    dw_work_item *item;
    dw_work_step *step;
    dw_work_table *table;
    dw_work_quantity *quantity;
};

/** Memory that lives as long as the working, all nought; NULL after a failure. */
void *dw_work_take(dw_working *w, size_t size);

/** Room for one more entry of an array; false when out of memory. */
bool dw_work_grow(dw_working *w, void **array, size_t count, size_t *room, size_t size);

/** A copy of a text; "" after a failure. */
const char *dw_work_keep(dw_working *w, const char *text);

/** Index of the last quantity of a symbol; DW_WORK_NONE. */
size_t dw_work_index_of(const dw_working *w, const char *symbol, size_t length);

#endif
