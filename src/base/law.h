#ifndef DW_LAW_H
#define DW_LAW_H

/**
 * @file law.h
 * A law written once: one piece of text is both the compiled function and the formula that a reader
 * sees.
 *
 *     DW_LAW(slide_narrowing, "Cc", "narrowing of the jet under the plate", "", "idelchik1994",
 *            (double f), 1.0 / (1.0 + 0.707 * pow(1.0 - f, 0.375)))
 *     ...
 *     const double Cc = DW_STEP(w, slide_narrowing, (f));
 *
 * Code that solves is called with w = NULL and pays nothing for it. The working is the same call with
 * a record: what was decided is what is shown.
 *
 * Layer: base. Pure functions but for what they add to the working.
 *
 * A law is an expression of its parameters, which bear the symbols that are shown, of numbers with a
 * decimal point (2.0/3.0, since 2/3 is 0: a test refuses such), of + - * / and of pow sqrt exp log log10
 * sin asin fabs fmax fmin. Laws stand in .c files, beside the code that chooses between them.
 *
 * @par Checked by  tests/unit/base/test_law.c, tests/support/build_rules.py
 */

#include "working_parts.h"

/** What is shown of a law. */
typedef struct dw_law {
    const char *symbol;     /**< of the result                                             */
    const char *meaning;
    const char *unit;       /**< SI; "" for none                                           */
    const char *source;     /**< key of config/sources.yaml                                */
    const char *text;       /**< the C of the expression                                   */
} dw_law;

#define DW_LAW(name, symbol_, meaning_, unit_, source_, parameters, ...)                            \
    static inline double name parameters { return __VA_ARGS__; }                                   \
    static const dw_law name##_law = {symbol_, meaning_, unit_, source_, #__VA_ARGS__};

/** The value of a law; a step of the working where there is one. */
#define DW_STEP(w, name, arguments) dw_law_step((w), "", NULL, NULL, &name##_law, name arguments)

/** The same with JSON keys, see dw_work_step. */
#define DW_STEP_FOR(w, keys, name, arguments)                                                      \
    dw_law_step((w), (keys), NULL, NULL, &name##_law, name arguments)

/** The same under other names, "dp>dp_f1 m>m_f1" (a symbol that is not named stays), and with another
 *  meaning (NULL: the law's own). */
#define DW_STEP_AS(w, keys, names, meaning, name, arguments)                                       \
    dw_law_step((w), (keys), (names), (meaning), &name##_law, name arguments)

/** A text for names, keys and meanings, made only where there is a working. */
#define DW_LAW_TEXT(w, ...) ((w) != NULL ? dw_work_keepf((w), __VA_ARGS__) : "")

/**
 * The formula of a law as it is shown: pow(a, b) as a^b, fmax as max, fmin as min, fabs as abs, log as
 * ln, 2.0 as 2; blanks around + and - alone.
 *
 * @param[in]  c      C of the expression.
 * @param[in]  names  see DW_STEP_AS; NULL: as they are.
 * @param[out] out    "" on failure.
 * @return false when it is no such expression, or size is too small.
 */
bool dw_law_formula(const char *c, const char *names, char *out, size_t size);

/** Writes down a step; see DW_STEP. value: what the law gave. */
void dw_law_write(dw_working *w, const char *keys, const char *names, const char *meaning,
                  const dw_law *law, double value);

/** Writes down a step of the table begun last, a value a row: what the law gave for it. Nothing without a
 *  working. */
void dw_law_column(dw_working *w, const char *keys, const char *names, const char *meaning,
                   const dw_law *law, const double *value);

static inline double dw_law_step(dw_working *w, const char *keys, const char *names,
                                 const char *meaning, const dw_law *law, double value)
{
    if (w != NULL) dw_law_write(w, keys, names, meaning, law, value);
    return value;
}

/** A number that is put in, and its value. */
static inline double dw_law_given(dw_working *w, dw_work_origin origin, const char *symbol,
                                  const char *meaning, const char *unit, double value)
{
    if (w != NULL) dw_work_put(w, origin, symbol, meaning, unit, value);
    return value;
}

#endif
