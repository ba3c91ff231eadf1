#ifndef DW_KILN_KINDS_H
#define DW_KILN_KINDS_H

/**
 * @file kiln_kinds.h
 * Defaults that depend on the kind of a thing: what config/spreads.yaml says of it, put into a kiln as read.
 *
 * Layer: kiln. Pure.
 *
 * @par Checked by tests/unit/kiln/test_kiln_kinds.c
 */

#include "read_kiln.h"

/**
 * Default of an input of a kind: the middle of its row, or the default that stays in force for the kind unknown
 * whatever its row says. This is the one place where that is chosen.
 *
 * @param[in] input, kind  see dw_spread_find().
 * @return NaN when there is no such row.
 */
double dw_kind_default(const dw_spreads *spreads, const char *input, const char *kind);

/** Fills the inputs of a burner that have kinds and were not given; given: bit i for row i of its keys. A thin
 *  jet's discharge becomes NaN, for dw_kiln_resolve() to work out by the pressure. */
void dw_burner_take_kinds(dw_burner *burner, unsigned long long given, const dw_spreads *spreads);

/** Fills what a chamber's leak_kind decides: the leak for each area of surface. */
void dw_chamber_take_kinds(dw_chamber *chamber, const dw_spreads *spreads);

/** Fills what an opening's depth decides: the coefficient of a hole with a depth becomes NaN where it
 *  was not given, for dw_kiln_resolve() to work out; given as above. */
void dw_opening_take_kinds(dw_opening *opening, unsigned long long given, const dw_spreads *spreads);

/** Fills the floor_loss of a flue by its kind where it was not given; given as above. */
void dw_flue_take_kinds(dw_flue *flue, unsigned long long given, const dw_spreads *spreads);

/** Fills the scale of a shelf, where it was not given; other kinds of damper keep 1. given: bit i for row i of
 *  its keys. */
void dw_damper_take_kinds(dw_damper *damper, unsigned long long given, const dw_spreads *spreads);

/** Heat through the wall of a stack, where it is known: at one temperature, or at several for bare steel. */
void dw_stack_take_kinds(dw_stack *stack, const dw_spreads *spreads);

/** The same for all parts of a kiln as read. */
void dw_kiln_take_kinds(dw_kiln *kiln, const dw_kiln_given *given, const dw_spreads *spreads);

#endif
