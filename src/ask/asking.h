#ifndef DW_ASKING_H
#define DW_ASKING_H

/**
 * @file asking.h
 * A question while it is answered, and what every kind of question is made of.
 *
 * Layer: ask. Not for others, not installed.
 *
 * Each kind of question is a file, ask_x.c, with one dw_question_kind in it, and all of them are in one
 * table (questions.h). What belongs to no kind is in ask.c: rows, one row of many, workings, writing.
 */

#include <stdbool.h>

#include "axes.h"
#include "reports.h"
#include "working.h"

#ifndef DW_VERSION
#error "the build defines DW_VERSION, the project's version as a string"
#endif

typedef struct dw_asking {
    const dw_engine *engine;
    const dw_case *kiln;         /**< of rows: as read; NULL: asked without a kiln               */
    const dw_question *question;
    dw_output output;
    dw_diag_list *diag;
    void *state;                 /**< what the kind keeps meanwhile; all bytes 0 at first        */
    dw_axes axes;                /**< count 0: one point is asked, else rows                     */
    double at[DW_SWEEP_AXIS_MAX]; /**< of rows one that is asked alone: its values               */
    dw_report *report;           /**< the answer                                                 */
    dw_report_source source;     /**< what it says of itself                                     */
    const dw_item *table;        /**< of rows: where they go in the report                       */
    dw_working *w;               /**< NULL: no working is asked                                  */
    dw_report *steps;            /**< the working as a report; NULL likewise                     */
    const char *first_line;      /**< of steps; NULL: kiln and setting                           */
} dw_asking;

/** Does a kind need a kiln? */
typedef enum dw_kiln_need { DW_KILN_NONE, DW_KILN_MAYBE, DW_KILN_NEEDED } dw_kiln_need;

/**
 * A kind of question. Where a function answers, DW_ERR_NO_CONVERGE is an answer too: the report says why,
 * and so does diag.
 */
typedef struct dw_question_kind {
    const char *name;
    dw_kiln_need kiln;
    bool has_working;
    const char *const *options;  /**< closed by NULL                                             */
    size_t state_size;
    /** Reads the options into the state; without a kiln it may set axes, of which one row alone is one point.
     *  NULL: there is nothing to read. */
    dw_status (*read)(dw_asking *a);
    /** One point, into the report; with w also how it is worked out. */
    dw_status (*build)(dw_asking *a);
    /** Rows: the report up to its table; a row (kiln NULL without one, not solved is a row too); the rest of
     *  the report, once. NULL: nothing can be varied. */
    void (*begin_rows)(dw_asking *a);
    dw_status (*add_row)(dw_asking *a, const double *values, const dw_kiln *kiln);
    dw_status (*end_rows)(dw_asking *a);
    /** Frees what the state owns; NULL: nothing. */
    void (*release)(void *state);
} dw_question_kind;

/** Value of an option; NULL when it is not given. */
const char *dw_asked(const dw_asking *a, const char *option);
/** The same with the number of its bytes. */
const char *dw_asked_bytes(const dw_asking *a, const char *option, size_t *length);

/** Solves a kiln as far as asked. Not solved is an answer, whatever the reason (DW_ERR_NO_CONVERGE): only what is no answer at
 *  all stays another error. */
DW_MUST_CHECK
dw_status dw_asked_point(const dw_asking *a, const dw_kiln *kiln, dw_extent extent,
                         dw_result *result);

/** What can only fail for want of memory once a point is solved: any other failure is a mistake of ours. */
static inline dw_status dw_asked_sure(dw_status status)
{
    return status == DW_ERR_DOMAIN || status == DW_ERR_NO_CONVERGE ? DW_ERR_BUG : status;
}

/** Says what was found at a point, in brief sentences, or why it is not solved. @return solved, or
 *  DW_ERR_NOMEM */
DW_MUST_CHECK
dw_status dw_asked_findings(const dw_asking *a, dw_status solved, const dw_result *result);

/** Says why nothing is solved. @return DW_ERR_NO_CONVERGE */
dw_status dw_asked_not_solved(const dw_asking *a, const char *reason);

/** Says of rows how many have no solution. @return DW_OK, or DW_ERR_NO_CONVERGE when none has one */
dw_status dw_asked_unsolved_rows(const dw_asking *a, size_t rows, size_t solved);

/** The units of an output, as builders know them. */
dw_unit_system dw_asked_units(dw_output output);

#endif
