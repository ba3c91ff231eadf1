#ifndef DW_ROOM_COURSE_H
#define DW_ROOM_COURSE_H

/**
 * @file room_course.h
 * A kiln in its room over time: the air, the person in it, the spread of the estimate, the verdict.
 *
 * Layer: room. Work space is freed again; the course is owned by the caller.
 */

#include "doubt.h"
#include "exposure.h"
#include "room.h"

enum {
    DW_COURSE_ROW_MAX = 25,   /**< rows for a table: the start and 24 more       */
    DW_COURSE_STEP_MAX = 4000 /**< steps that limits and blood are looked at with */
};

/** What else can be off in the CO of a room, beside the inputs of doubt.h. */
typedef enum dw_room_doubt_input {
    DW_ROOM_DOUBT_UNMIXEDNESS = DW_DOUBT_COUNT,
    DW_ROOM_DOUBT_QUENCH,
    DW_ROOM_DOUBT_VENTILATION,
    DW_ROOM_DOUBT_COUNT
} dw_room_doubt_input;

/** One input's share of the doubt in the CO of the room. */
typedef struct dw_room_doubt_item {
    int input;                    /**< dw_doubt_input or dw_room_doubt_input           */
    double low_ppm, high_ppm;     /**< at the two ends; NaN: not solved, or not known   */
} dw_room_doubt_item;

typedef struct dw_course_row {
    double time_s, ppm, cohb_frac;
} dw_course_row;

/** Why a verdict is worse than the CO figure alone: the figure does not know everything. */
typedef enum dw_verdict_lift {
    DW_LIFT_NONE,
    DW_LIFT_SPREAD,        /**< an end of the spread has no solution, or no known CO, and the figure
                                alone is not dangerous: dangerous, and no figure            */
    DW_LIFT_COLD,          /**< flames in a cold chamber burn badly or go out: raised       */
    DW_LIFT_RICH,          /**< smoky, far too rich, or a flue runs backwards: raised       */
    DW_LIFT_TURNING,       /**< the stack turns round at the room's pressure: dangerous     */
    DW_LIFT_PUSHED_OUT     /**< a burner is pushed back, lit or not, the relief spills or the stack
                                runs backwards: dangerous                                   */
} dw_verdict_lift;

/** Where CO is not known (room.unknown) no number of it is: every field of the room and its places that counts
 *  CO, H2 or gas that burns, the levels, times and spread are NaN, there are no rows and no doubts, the
 *  exposures are all zero. */
typedef struct dw_room_course {
    dw_room_result room;
    dw_result kiln;               /**< at the room's pressure                           */
    dw_exposure exposure;         /**< of the estimate as it stands                     */
    int row_count;
    dw_course_row row[DW_COURSE_ROW_MAX];
    double end_ppm;               /**< after the duration                               */
    double limit_level_s[DW_CO_LIMIT_MAX]; /**< time until the air holds each limit; infinite */
    double limit_flow_m3_s[DW_CO_LIMIT_MAX]; /**< ventilation that keeps it below; infinite  */
    double closure_co;            /**< CO over the duration, by the steps: |in + there at the beginning -
                                       out - there at the end| / (in + there at the beginning) */

    double low_ppm, high_ppm;     /**< spread of end_ppm                                */
    bool has_spread;              /**< false: both are end_ppm                          */
    bool spread_incomplete;       /**< at an end there is no solution, or no known CO: low_ppm and
                                       high_ppm are NaN, and worst is exposure          */
    int doubt_count;
    dw_room_doubt_item doubt[DW_ROOM_DOUBT_COUNT]; /**< the largest first                */
    dw_exposure worst;            /**< at the upper end                                 */
    dw_verdict verdict;           /**< of the upper end; raised by the state of the kiln          */
    dw_verdict_lift lift;         /**< what raised it above that of the upper end                 */
} dw_room_course;

/** How much of the spread is worked out; it is most of the work. */
typedef enum dw_spread {
    DW_SPREAD_FOR_VERDICT, /**< only where the verdict is not dangerous without it */
    DW_SPREAD_FULL
} dw_spread;

/** What an input of the spread is called; never NULL. */
const char *dw_room_doubt_text(int input);

/**
 * Works it all out.
 *
 * The spread: each input that was not given goes to both ends of its usual range, the kiln is solved
 * again in its room, and the rises and falls of the CO are added as root of the sum of squares.
 *
 * @param[in]  given   for each input of doubt.h: the user gave it.
 * @param[out] course  always set; course->room.reason says why it is not solved.
 * @retval DW_OK, or as dw_room_solve(); DW_ERR_NO_CONVERGE also when the CO does not add up to 1e-9; DW_ERR_DOMAIN also when the person's size is out of range.
 *
 * @par Checked by  tests/consistency/test_room_laws.c
 */
DW_MUST_CHECK
dw_status dw_room_course_find(const dw_model *model, const dw_kiln *kiln,
                              const bool given[DW_DOUBT_COUNT], dw_spread spread,
                              dw_room_course *course);

/**
 * The working of it. Adds to a working that holds what working_room.h leaves; the keys of the steps are those of
 * `room`.
 *
 * @param[in] co        limits, alarms, people.
 * @param[in] resolved  kiln with its room.
 * @param[in] course    of it, with its full spread.
 * @retval DW_OK, DW_ERR_DOMAIN (the person), DW_ERR_NOMEM, DW_ERR_BUG
 * @par Source      [room-balance], [cfk1965]
 * @par Checked by  tests/unit/room/test_working_room_course.c, tests/golden/test_working_commands.py
 */
DW_MUST_CHECK
dw_status dw_working_room_course(const dw_co_data *co, const dw_kiln *resolved,
                                 const dw_room_course *course, dw_working *w);

#endif
