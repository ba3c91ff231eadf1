#ifndef DW_YAML_ADVICE_H
#define DW_YAML_ADVICE_H

/**
 * @file yaml_advice.h
 * What is wrong with a text that is not YAML, in words that say what to do about it.
 *
 * Layer: yaml. Pure; no allocation, no state. libyaml names a rule of its grammar and often a place
 * behind the mistake; here the lines are looked at for the slips that people make.
 *
 * @par Checked by tests/unit/yaml/test_yaml_tree.c
 */

#include <stdbool.h>
#include <stddef.h>

/** What libyaml says. Lines and columns count from 0. */
typedef struct dw_yaml_problem {
    const char *text; /**< all that was being read       */
    size_t length;
    const char *problem; /**< libyaml's words               */
    const char *context; /**< what it was doing; may be NULL */
    size_t line, column; /**< of the problem                */
    bool has_start;      /**< context has a place           */
    size_t start_line, start_column;
    bool placeless; /**< the text is not a file: lines are not named */
} dw_yaml_problem;

/** Writes the message and moves line and column to where the mistake is. */
void dw_yaml_advise(dw_yaml_problem *problem, char *out, size_t size);

#endif
