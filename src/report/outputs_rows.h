#ifndef DW_OUTPUTS_ROWS_H
#define DW_OUTPUTS_ROWS_H

/**
 * @file outputs_rows.h
 * What the tables of outputs are written with: places, and how finely each kind of quantity is shown.
 *
 * Layer: report. Not for others: see outputs.h.
 */

#include <math.h>

#include "outputs.h"

/* To add an output: a row here with the words below, and dw_report_output() or a column in its builder. */
#define LABEL(text) .label = (text)
#define HEADING(text) .heading = (text)
#define NOTE(text) .note = (text)
#define NO_WORKING(why) .not_worked = (why)
#define IN_SWEEP .in_sweep = true
#define ALIGNED(step_si) .column_step_si = (step_si)

#define NUMBER(dim_, digits_)                                                                       \
    .kind = DW_OUTPUT_NUMBER, .number.dim = DW_DIM_##dim_, .number.digits = (digits_),              \
    .number.low_si = NAN, .number.high_si = NAN
#define STEP(si_) .number.resolution_si = (si_)
#define UNIT(text) .number.unit = (text)
#define SMALL .number.small = true
#define TRIM .number.trim = true
#define TRACE .number.trace = true
#define COUNT .kind = DW_OUTPUT_COUNT
#define YES_NO .kind = DW_OUTPUT_YES_NO
#define WORD .kind = DW_OUTPUT_WORD
#define SHOWN .kind = DW_OUTPUT_SHOWN
#define PUT_IN NO_WORKING("what was put in")
#define A_NAME WORD, NO_WORKING("a name")
#define A_WORD WORD, NO_WORKING("a word")
#define WORDS WORD, NO_WORKING("words")
#define A_COUNT COUNT, NO_WORKING("a count")
#define ASKED YES_NO, NO_WORKING("yes or no")

/* Where a number is. */
#define AT(place_, type, field) .place = (place_), .offset = offsetof(type, field)
#define EACH(place_, type, list, field, counter)                                                    \
    AT(place_, type, list[0].field), .stride = sizeof(((type *)0)->list[0]),                        \
        .count_offset = offsetof(type, counter)
/* A list as long as one of the data. */
#define EACH_OF(place_, type, list, field, counter)                                                 \
    AT(place_, type, list[0] field), .stride = sizeof(((type *)0)->list[0]),                        \
        .count_in_data = true, .count_offset = offsetof(dw_data, counter)
#define READ(place_, function) .place = (place_), .read = (function)

/* The rounding rule: one for each kind of quantity. So many digits mean something, and no step finer than
 * the one given; twelve digits leave it to the step alone. */
#define RATIO NUMBER(NUMBER, 4), STEP(1.0e-3)                  /* air ratio, equivalence ratio */
#define RATIO_COLUMN RATIO, ALIGNED(1.0e-3)
#define SLOPE NUMBER(NUMBER, 3)
#define SHARE(digits_) NUMBER(RATIO, digits_), STEP(1.0e-5)
#define GAS SHARE(3)                                           /* what an analyser shows */
#define GAS_COLUMN GAS, ALIGNED(1.0e-4)
#define MATCHED_SHARE NUMBER(RATIO, 2), STEP(1.0e-4)           /* found from a sensor alone */
#define FINE_SHARE NUMBER(RATIO, 12), STEP(1.0e-3)             /* damper positions */
#define FERROUS NUMBER(RATIO, 12), STEP(0.01)
#define GAS_RATIO NUMBER(NUMBER, 3)
#define WARE_RATIO NUMBER(NUMBER, 2)                           /* at equilibrium: two digits are all it is good for */
#define LOG10 NUMBER(NUMBER, 12), STEP(0.01)
#define VOLTS NUMBER(VOLTAGE, 3)
#define TEMPERATURE NUMBER(TEMPERATURE, 12), STEP(1.0)
#define HEIGHT NUMBER(LENGTH, 12), STEP(0.01)
#define DRAFT NUMBER(PRESSURE_GAUGE, 3), SMALL, STEP(0.01)
#define FLOW NUMBER(MASS_FLOW, 3)
#define AIR_FLOW NUMBER(VOLUME_FLOW, 3)
#define CO_FLOW NUMBER(VOLUME_FLOW, 2), STEP(1.0e-4 / 3600.0), TRACE /* a ppm or so in a room with hardly any air */
#define POWER NUMBER(POWER, 3)
#define VOLUME NUMBER(VOLUME, 3)
#define TIME NUMBER(TIME, 3)
#define CLOSURE NUMBER(NUMBER, 2)
#define BARE_PPM NUMBER(NUMBER, 3), STEP(0.1)
#define PPM BARE_PPM, UNIT("ppm")
#define PPM_LEVEL PPM, TRIM                                    /* set by somebody: 50 ppm and not 50.0 */
#define COHB NUMBER(RATIO, 3), STEP(1.0e-3)
/* A number that a person gave, shown as short as it can be. Four digits: more come of changing the unit. */
#define GIVEN(dim_)                                                                                 \
    .kind = DW_OUTPUT_NUMBER, .number.dim = DW_DIM_##dim_, .number.digits = 4, .number.low_si = NAN, \
    .number.high_si = NAN, TRIM, .number.by_size = true

extern const dw_output_list dw_output_head, dw_output_point, dw_output_sweep;
extern const dw_output_list dw_output_room, dw_output_people, dw_output_room_kiln, dw_output_room_sweep,
    dw_output_exposure;
extern const dw_output_list dw_output_oxides, dw_output_oxides_sweep, dw_output_ladder;
extern const dw_output_list dw_output_check, dw_output_keys, dw_output_why;

#define LIST(name, rows) const dw_output_list name = {rows, sizeof(rows) / sizeof((rows)[0])}

#endif
