#ifndef DW_TEST_WORK_CHECK_H
#define DW_TEST_WORK_CHECK_H

/**
 * @file work_check.h
 * What must hold of any working: its formulas give the model's numbers, and hang together.
 */

#include "data.h"
#include "working.h"

/** Works out every formula with the model's numbers. @return how many are off by more than a tolerance
 *  on the scale of what is added up; each is printed. */
int work_check_steps(const dw_working *w, const char *name, double tolerance);

/** The same with every result worked out from results worked out before: only what is put in and what is
 *  found by solving comes from the model. */
int work_check_chain(const dw_working *w, const char *name, double tolerance);

/** Moves all numbers of one symbol by a factor where they are put in. @return how many steps then give
 *  something else than the model, by more than a part in a million; -1 when there is no such number. */
int work_check_moved(const dw_working *w, const char *symbol, double factor);

/** @return how many steps name a source that is not in the register; each is printed. */
int work_check_sources(const dw_working *w, const dw_data *data);

/** True when a sentence, a heading, a table or the meaning of a number begins with these words. */
bool work_says(const dw_working *w, const char *words);

/** The step that explains a key, `*` not replaced; NULL. */
const dw_work_step *work_step_of(const dw_working *w, const char *key);

#endif
