#ifndef DW_TEST_KIT_H
#define DW_TEST_KIT_H

/**
 * @file kit.h
 * What many tests begin with: the built-in data, a model, an example kiln, random numbers.
 */

#include <stdbool.h>

#include "operating_point.h"
#include "read_kiln.h"

/** The built-in data and a model on it; loaded once per program. Ends the test on failure. */
const dw_data *kit_data(void);
const dw_model *kit_model(void);

/** Reads examples/<name>.yaml. Ends the test on failure. */
void kit_example(const char *name, dw_kiln_file *file);

/** The same in a room of 83 m3 with 1.7 changes an hour. @return the kiln in file. */
dw_kiln *kit_in_a_room(dw_kiln_file *file, const char *name);

/** Names of all example kilns, NULL at the end. */
extern const char *const kit_examples[];

/** Reads a whole file of the source tree; free() the text. Ends the test on failure. */
char *kit_read_file(const char *path, size_t *length);

/** Random numbers of a test, seeded and printed so that a failure can be repeated. */
typedef struct kit_random {
    unsigned long long state;
} kit_random;

/** Seed from the environment variable DW_SEED, else the given one; prints it. */
kit_random kit_seed(unsigned long long seed);
/** The numbers of this seed whatever the environment says, for cases picked out of them. */
kit_random kit_fixed(unsigned long long seed);
/** Uniform in [0, 1). */
double kit_uniform(kit_random *random);
/** Uniform between two numbers. */
double kit_between(kit_random *random, double low, double high);
/** Uniform in the logarithm. */
double kit_log_between(kit_random *random, double low, double high);
/** Whole number 0..count-1. */
int kit_pick(kit_random *random, int count);

/** How many random cases to try: the environment variable of that name, else the usual number. */
int kit_cases(const char *variable, int usual);

/** The simplest kiln, resolved, for calculations by hand: dry air of 20 degC at 101325 Pa, methane, no
 *  leak; one inspirating burner at 0.1 m, one hole of 40 cm2 at 0.3 m, one flue of 200 cm2 at 0.9 m
 *  that ends in the room; chamber 0.8 x 0.7 x 1 m at 1473.15 K. */
void kit_plain_kiln(dw_kiln *kiln);

/** A random kiln that makes sense: any number of burners, openings, flues, with or without a stack. */
void kit_random_kiln(kit_random *random, dw_kiln *kiln);

/** The same kiln without its joints: holes, cracks and tall openings in their place. */
void kit_random_kiln_without_joints(kit_random *random, dw_kiln *kiln);

/** A random kiln of which some inputs, up to a seventh, lie anywhere in what their key allows, a quarter of
 *  those at an end: allowed, if hardly sensible. Sound by dw_kiln_check(). */
void kit_extreme_kiln(kit_random *random, dw_kiln *kiln);

#endif
