#ifndef DW_KILN_EFFECT_H
#define DW_KILN_EFFECT_H

/**
 * @file kiln_effect.h
 * Which keys have an effect in a kiln, and why others have none.
 *
 * Layer: kiln. Pure. What a key needs is in the tables of keys (kiln_keys.c); here is what that means.
 *
 * @par Checked by tests/consistency/test_kiln_effect.c: every key of every example is moved, and
 * moves a result exactly when it is said to.
 */

#include "kiln_schema.h"

/** A key that waits for what is turned on and off while firing is not worth a note, nor is a fact
 *  about the place. */
#define DW_NEEDS_QUIET                                                                             \
    (DW_NEEDS_LIT | DW_NEEDS_UNLIT | DW_NEEDS_UNPLUGGED | DW_NEEDS_OPEN | DW_NEEDS_SHUTTER |       \
     DW_NEEDS_JET | DW_NEEDS_OUTSIDE_AIR)

/** Longest reason with its NUL. */
enum { DW_IDLE_SIZE = 100 };

/**
 * Looks whether a key changes nothing in this kiln.
 *
 * @param[in]  kiln    as read, not resolved: NaN says that something was not given.
 * @param[in]  index   of the burner, opening or flue; 0 for the rest.
 * @param[out] reason  a sentence without a capital, such as "there is no air jet".
 * @param[out] lacks   the bit of dw_needs that is not met, 0 for the kind of the object; may be NULL.
 * @return true when the key changes nothing.
 */
bool dw_key_idle(const dw_kiln *kiln, dw_object object, int index, const dw_key *key,
                 char reason[DW_IDLE_SIZE], unsigned *lacks);

#endif
