#ifndef DW_REPORT_PARTS_H
#define DW_REPORT_PARTS_H

/**
 * @file report_parts.h
 * What the files that build the report of an operating point share.
 *
 * Layer: report. Not for others: see reports.h.
 */

#include "outputs.h"
#include "reports.h"

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

#endif
