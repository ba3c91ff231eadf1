#ifndef DW_FINDING_TEXT_H
#define DW_FINDING_TEXT_H

/**
 * @file finding_text.h
 * The words for what an operating point was found to be.
 *
 * Layer: report. Constant tables and pure functions; no state. All wording about hazards is here.
 */

#include "dw_diag.h"
#include "kiln.h"
#include "report_tree.h"
#include "result.h"

/** What a finding is about: which array of the kiln its index counts in. */
typedef enum dw_subject {
    DW_SUBJECT_KILN,
    DW_SUBJECT_BURNER,
    DW_SUBJECT_OPENING,
    DW_SUBJECT_FLUE
} dw_subject;

/** Grade, code word and sentences of one finding code. In the sentences `{0}` stands for the name
 *  or names, `{1}` for the value. Static storage. */
typedef struct dw_finding_words {
    dw_grade grade;
    const char *code;
    dw_subject subject;
    dw_number number;    /**< how the value is shown; si is not set                        */
    const char *brief;   /**< for the first screen: what it is, and the first thing to do  */
    const char *full;    /**< what it is, what it means, what to do                        */
} dw_finding_words;

/** The words of a code; false, and all zero, for a code that does not exist. */
bool dw_finding_words_of(dw_finding_code code, dw_finding_words *words);

/** Name of the burner, opening or flue a finding is about ("burner 2" when it has none); "the kiln"
 *  or, for an opening without index, "the gaps of the kiln". Writes at most size bytes. */
void dw_finding_name(const dw_kiln *kiln, const dw_finding *finding, char *out, size_t size);

/** Adds the full sentence of a finding to the tree. NULL after a failure or for a bad code. */
dw_item *dw_finding_line(dw_report *report, dw_item *parent, const char *key, const char *label,
                         const dw_kiln *kiln, const dw_finding *finding);

/**
 * Adds the brief sentence for all findings of one code: the names in a row (at most three, then
 * how many more), and the value that is largest in size.
 */
dw_item *dw_finding_brief(dw_report *report, dw_item *parent, const char *label,
                          const dw_kiln *kiln, const dw_result *result, dw_finding_code code);

#endif
