#ifndef DW_WARE_STATE_H
#define DW_WARE_STATE_H

/**
 * @file ware_state.h
 * What the questions about the ware share: the glazes that are asked about, one state with all that is
 * said of it, and an oxygen that is given without a kiln.
 *
 * Layer: ask. Not for others, not installed.
 */

#include "facade.h"
#include "gas_match.h"
#include "report_oxides.h"
#include "working_ware.h"

/** The glazes that are asked about: one, or all of the data. */
typedef struct dw_glazes {
    dw_glaze one;
    const dw_glaze *first;
    size_t count;
} dw_glazes;

/** @param[in] text  as glaze of dw_case_oxides(); what is wrong goes to diag. */
DW_MUST_CHECK
dw_status dw_glazes_read(const dw_engine *engine, const char *text, dw_diag_list *diag,
                         dw_glazes *g);

/** Everything about one state; too much for a thread's stack. */
typedef struct dw_ware_state {
    dw_glazes glazes;
    dw_result result;
    dw_ware ware;
    dw_ware_boundary boundary[DW_BUFFER_MAX];
    int boundary_count;
    dw_ware_glaze glaze[DW_GLAZE_MAX];
    dw_matched_gas gas;        /**< without a kiln                                          */
} dw_ware_state;

/** Boundaries and glazes of the ware that stands in the state. */
DW_MUST_CHECK
dw_status dw_ware_state_look(const dw_engine *engine, dw_ware_state *s);

dw_oxides_view dw_ware_state_view(const dw_ware_state *s);

/** A temperature, or many, and an oxygen, read from a request. */
typedef struct dw_ware_query {
    dw_ware_given given;
    double *temperature_k;   /**< owned                                                    */
    size_t count;
    char asked[80];          /**< "CO/CO2 0.12"                                            */
} dw_ware_query;

/** @param[out] q  freed with dw_ware_query_free() whatever the answer. */
DW_MUST_CHECK
dw_status dw_ware_query_read(const dw_engine *engine, const dw_oxides_request *request,
                             dw_diag_list *diag, dw_ware_query *q);
void dw_ware_query_free(dw_ware_query *q);

/** Ware and gas of one temperature of a query. */
DW_MUST_CHECK
dw_status dw_ware_query_at(const dw_engine *engine, const dw_ware_query *q, double temperature_k,
                           dw_ware_state *s);

#endif
