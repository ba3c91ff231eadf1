#ifndef DW_REPORTS_H
#define DW_REPORTS_H

/**
 * @file reports.h
 * Builders: from a kiln and its results to the tree that the writers read.
 *
 * Layer: report. Builders choose what is shown, in which order and in which words; they do no physics.
 * They return nothing: the caller checks dw_report_failed() once. Keys are a promise to programs
 * that read the JSON: new ones may come, none may change its meaning.
 */

#include "damper_words.h"
#include "data.h"
#include "doubt.h"
#include "outputs.h"
#include "read_kiln.h"
#include "report_tree.h"
#include "result.h"
#include "ware.h"
#include "working.h"

/** Where a report comes from. All borrowed; they must outlive the tree. */
typedef struct dw_report_source {
    const char *version;        /**< of the program                                          */
    const char *command;        /**< "estimate", "sweep", "check"                            */
    const dw_data *data;
    const dw_kiln_file *file;   /**< as read                                                 */
    const dw_kiln *kiln;        /**< the same, resolved                                      */
    const dw_doubt *doubt;      /**< estimate: of the equivalence ratio; NULL: not worked out */
    const dw_damper_words *damper; /**< estimate: the words by damper; NULL: not worked out  */
    const dw_ware *ware;        /**< estimate: oxide states; NULL: not worked out            */
} dw_report_source;

/** A number in the unit that the user typed for the input at an offset of dw_kiln; as it is when it
 *  was not given. */
dw_number dw_number_typed(const dw_report_source *source, size_t offset, dw_number number);

/** Which of the inputs usually in doubt this kiln gives. */
void dw_doubt_given(const dw_report_source *source, bool given[DW_DOUBT_COUNT]);

/** Program, kiln, units and caution: the first keys of every JSON. Not in the text. */
void dw_build_head(dw_report *report, const dw_report_source *source);

/** The caution of the head, for a table that is written without its head. */
const char *dw_caution_text(void);

/** What the program asks back about inputs that were not given: `questions`, and a part of the text where there
 *  is any. */
void dw_build_questions(dw_report *report, const dw_report_source *source);

/** The two lines that end every first screen. label is that of the first line. */
void dw_build_caution(dw_report *report, dw_item *parent, const char *label);

/**
 * One operating point: first screen, then everything.
 *
 * When it is not solved: the reason, and every number of the result null.
 */
void dw_build_estimate(dw_report *report, const dw_report_source *source, const dw_result *result);

/** The first screen of an operating point alone: at most 24 lines of 80 columns with one hazard and one
 *  damper; with many hazards and several dampers at most 32. */
void dw_build_screen(dw_report *report, const dw_report_source *source, const dw_result *result);

/** The sentence that begins the screen: kiln, gas pressure, damper, temperature. */
void dw_build_title(dw_report *report, const dw_report_source *source, dw_item *parent);

/** "medium reduction": a band's word, with the noun where the band lies above phi 1. Kept by the
 *  tree; "" for a band that does not exist. */
const char *dw_reduction_phrase(dw_report *report, const dw_data *data, int band);

/** The same text with a capital at its start, where that is a letter from a to z; kept by the tree. */
const char *dw_sentence(dw_report *report, const char *text);

/** A sweep that grows by a row for each finished point. */
typedef struct dw_sweep_table {
    dw_report *report;
    const dw_report_source *source;
    dw_item *table;
    dw_item *count_item, *solved_item, *hazard_item; /**< filled in at the end                */
    size_t axis_count;
    size_t row_count, solved_count, hazard_count, warning_count;
} dw_sweep_table;

/** One quantity that was varied. */
typedef struct dw_sweep_axis {
    const dw_kiln_field *field;
    const double *value;     /**< SI                                                         */
    size_t count;
} dw_sweep_axis;

/** Begins a sweep report: head, axes, an empty table. */
void dw_build_sweep(dw_sweep_table *sweep, dw_report *report, const dw_report_source *source,
                    const dw_sweep_axis *axes, size_t axis_count);

/** Adds a finished point. */
void dw_build_sweep_row(dw_sweep_table *sweep, const double *values, const dw_result *x);

/** Fills in what can be said once all points are there, or the run was stopped. */
void dw_build_sweep_end(dw_sweep_table *sweep);

/** What `check` says of the gas: pressure at the jets, error of the gauge, the kind of jet. Nothing when there
 *  is nothing to say. */
void dw_build_check_gas(dw_report *report, const dw_report_source *source, const dw_result *result);

/**
 * The resolved description with defaults marked, and how the kiln stands to rules of thumb.
 *
 * @param[in]  result  the operating point the kiln describes, for its heat input.
 * @param[in]  diag    receives a warning for each rule the kiln lies outside of; may be NULL.
 */
void dw_build_check(dw_report *report, const dw_report_source *source, const dw_result *result,
                    dw_diag_list *diag);

/** Every key a kiln description may have, with its kind, default and help. data names the fuels,
 *  linings and caps there are. */
void dw_build_keys(dw_report *report, const char *version, const dw_data *data);

/** Every output there is: command, key, label, unit, digits, and why it has no working when it has none. */
void dw_build_outputs(dw_report *report, const char *version);

/* ---- shared by the files that build the report of an operating point, and sweeps ------------ */

/** A report in the making. All borrowed. */
typedef struct dw_maker {
    dw_report *report;
    const dw_report_source *source;
    const dw_result *result;
} dw_maker;

/** Fills the next hole of a sentence with a number of the operating point, by its key. */
void dw_fill(const dw_maker *m, dw_item *line, const char *key);

/** An input of the kiln by its key in `setting` of `estimate`, in the unit that was typed. */
dw_number dw_number_setting(const dw_report_source *source, const char *key);

/** Most inputs that are varied at once. */
enum { DW_AXIS_MAX = 2 };

/** Key and number of a column for an input that is varied. */
const char *dw_axis_key(dw_report *report, const dw_kiln_field *field);
dw_number dw_axis_number(const dw_kiln_field *field);

/** Columns for the inputs that are varied; returns how many. */
size_t dw_axis_columns(dw_report *report, const dw_sweep_axis *axes, size_t count, dw_column *column);

/** A table of settings: what its rows say when they have no numbers, and what CSV ends with. */
void dw_rows_table(dw_item *table, size_t lead_count, size_t reason_column, const char *reason_lead);

/** All sections of numbers of an operating point; keys with null when it is not solved. */
void dw_build_sections(const dw_maker *m);

/** How sure the word is, on the first screen; nothing when the doubt was not worked out. */
void dw_add_doubt(const dw_maker *m, dw_item *screen);

/** How many words of reduction strength lie inside the doubt; 0 when it was not worked out. */
int dw_doubt_word_count(const dw_maker *m);

/** The words by damper, on the first screen and as sections; nothing, or null, when not worked out. */
void dw_add_damper_words(const dw_maker *m, dw_item *screen);
void dw_build_damper_words(const dw_maker *m);

/** How sure the equivalence ratio is: "doubt", and a section; nothing when it was not worked out. */
void dw_build_doubt(const dw_maker *m);

/** The inputs that were not given, as a section and as "assumptions". */
void dw_build_assumptions(const dw_maker *m);

/* ---- terms ------------------------------------------------------------------------------- */

/** The term of a name or alias, whatever its capitals; NULL, and the nearest name or NULL. */
const dw_term *dw_term_find(const dw_terms *terms, const char *name, const char **near);

/** All terms, each with the beginning of its explanation. */
void dw_build_terms(dw_report *report, const dw_report_source *source);

/**
 * One term.
 *
 * @param[in] estimate  report of the kiln, its numbers; NULL: none.
 * @param[in] w         its working; NULL: none.
 */
void dw_build_why(dw_report *report, const dw_report_source *source, const dw_term *term,
                  const dw_report *estimate, const dw_working *w, dw_unit_system system);

#endif
