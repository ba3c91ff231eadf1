#ifndef DW_REPORT_PARTS_H
#define DW_REPORT_PARTS_H

/**
 * @file report_parts.h
 * What the files that build the report of an operating point share.
 *
 * Layer: report. Not for others: see reports.h.
 */

#include "reports.h"

/** A report in the making. All borrowed. */
typedef struct dw_maker {
    dw_report *report;
    const dw_report_source *source;
    const dw_result *result;
} dw_maker;

/** Fills the next hole of a sentence. */
void dw_fill_number(const dw_maker *m, dw_item *line, dw_number number);
void dw_fill_text(const dw_maker *m, dw_item *line, const char *text);

/** Temperatures to 1 K, heights to 1 cm, whatever their size. */
dw_number dw_number_temperature(double si);
dw_number dw_number_height(double si);

/** Key, label and number of a column for an input that is varied. */
const char *dw_axis_key(dw_report *report, const dw_kiln_field *field);
const char *dw_axis_label(const dw_kiln_field *field);
dw_number dw_axis_number(const dw_kiln_field *field);

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
