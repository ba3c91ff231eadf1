/* How far the CO of a room may be off; with a working the same as steps. */
#include "room_spread.h"

#include <math.h>

/* Ends of the inputs that doubt.h does not know: model.md 15; natural ventilation is rarely measured
 * (assumption). */
static const struct {
    double low, high;
    const char *text;
} more[] = {
    [DW_ROOM_DOUBT_UNMIXEDNESS - DW_DOUBT_COUNT] = {0.02, 0.2, "mixing of gas and air"},
    [DW_ROOM_DOUBT_QUENCH - DW_DOUBT_COUNT] = {1000.0, 1300.0, "temperature where the reactions stop"},
    [DW_ROOM_DOUBT_VENTILATION - DW_DOUBT_COUNT] = {0.5, 1.5, "natural ventilation"},
};

size_t dw_room_course_steps(const dw_room_air *air, double start_ppm, double duration_s,
                            dw_exposure_step *step)
{
    size_t count = (size_t)ceil(duration_s / 60.0);
    if (count < 24) count = 24;
    if (count > DW_COURSE_STEP_MAX) count = DW_COURSE_STEP_MAX;
    double from = start_ppm, from_s = 0.0;
    for (size_t i = 0; i < count; i++) {
        const double until_s = i + 1 == count ? duration_s
                                              : duration_s * (double)(i + 1) / (double)count;
        const double to = dw_room_air_ppm(air, start_ppm, until_s);
        step[i] = (dw_exposure_step){.until_s = until_s,
                                     .mean_ppm = dw_room_air_mean_ppm(air, from, until_s - from_s),
                                     .peak_ppm = fmax(from, to)};
        from = to;
        from_s = until_s;
    }
    return count;
}

const char *dw_room_doubt_text(int input)
{
    if (input < 0 || input >= DW_ROOM_DOUBT_COUNT) return "";
    return input < DW_DOUBT_COUNT ? dw_doubt_input_text((dw_doubt_input)input)
                                  : more[input - DW_DOUBT_COUNT].text;
}

/* Puts an input to an end; false when this kiln has no use for it. */
static bool put(dw_kiln *kiln, int input, bool high)
{
    if (input < DW_DOUBT_COUNT) return dw_doubt_put(kiln, (dw_doubt_input)input, high);
    const double end = high ? more[input - DW_DOUBT_COUNT].high : more[input - DW_DOUBT_COUNT].low;
    switch (input) {
    case DW_ROOM_DOUBT_UNMIXEDNESS: kiln->settings.unmixedness = end; return true;
    case DW_ROOM_DOUBT_QUENCH: kiln->settings.quench_temperature_k = end; return true;
    case DW_ROOM_DOUBT_VENTILATION:
        kiln->room.ventilation_m3_s *= end;
        kiln->room.leak_area_m2 *= end;
        return kiln->room.ventilation_m3_s > 0.0;
    default: return false;
    }
}

static void insert(dw_room_course *c, const dw_room_doubt_item *item)
{
    int at = c->doubt_count++;
    while (at > 0 && dw_doubt_reach(c->doubt[at - 1].low_ppm, c->doubt[at - 1].high_ppm, c->end_ppm) <
                         dw_doubt_reach(item->low_ppm, item->high_ppm, c->end_ppm)) {
        c->doubt[at] = c->doubt[at - 1];
        at--;
    }
    c->doubt[at] = *item;
}

/* CO of the room at the end with an input at one of its ends; NaN: not solved, or not known. */
static dw_status try_end(dw_course_work *k, const dw_model *model, const dw_kiln *kiln, int input, bool high,
                         bool *used, double *ppm)
{
    *ppm = NAN;
    k->kiln = *kiln;
    dw_kiln_resolve(&k->kiln);
    *used = put(&k->kiln, input, high);
    if (!*used) return DW_OK;
    const dw_status status =
        dw_room_solve(model, &k->kiln, k->course->room.pressure_pa, &k->result, &k->room);
    if (status == DW_ERR_NOMEM || status == DW_ERR_BUG) return status;
    if (status == DW_OK && k->room.unknown == DW_CO_KNOWN) {
        *ppm = dw_room_air_ppm(&k->room.air, k->room.air.outside_ppm, k->kiln.room.duration_s);
    }
    return DW_OK;
}

dw_status dw_room_spread_find(dw_course_work *k, const dw_model *model, const dw_kiln *kiln,
                              const bool given[DW_DOUBT_COUNT])
{
    dw_room_course *course = k->course;
    for (int input = 0; input < DW_ROOM_DOUBT_COUNT; input++) {
        if (input < DW_DOUBT_COUNT && given[input]) continue;
        dw_room_doubt_item item = {.input = input};
        bool used = true;
        for (int side = 0; side < 2 && used; side++) {
            const dw_status status = try_end(k, model, kiln, input, side == 1, &used,
                                             side == 1 ? &item.high_ppm : &item.low_ppm);
            if (status != DW_OK) return status;
        }
        if (!used) continue;
        if (isnan(item.low_ppm) || isnan(item.high_ppm)) course->spread_incomplete = true;
        insert(course, &item);
    }
    return DW_OK;
}

static void put_ends(const dw_room_course *c, dw_working *w)
{
    double low[DW_ROOM_DOUBT_COUNT], high[DW_ROOM_DOUBT_COUNT];
    dw_work_text(w, "Each input that was not given is set to both ends of its usual range, one input at "
                    "a time, and kiln and room are worked out again.");
    dw_work_table_begin(w, "Carbon monoxide at the ends", "input", (size_t)c->doubt_count);
    for (int i = 0; i < c->doubt_count; i++) {
        dw_work_row(w, (size_t)i, "%s", dw_room_doubt_text(c->doubt[i].input));
        low[i] = c->doubt[i].low_ppm;
        high[i] = c->doubt[i].high_ppm;
    }
    dw_work_column(w, DW_WORK_SOLVED, "C_l", "ppm at the end, with the input at its lower end", "ppm", low);
    dw_work_column(w, DW_WORK_SOLVED, "C_h", "ppm at the end, with the input at its upper end", "ppm", high);
}

void dw_room_spread_sum(dw_course_work *k)
{
    dw_working *w = k->w;
    dw_room_course *c = k->course;
    const double end = c->end_ppm, richest = c->room.richest_ppm;
    double up = 0.0, down = 0.0;
    for (int i = 0; i < c->doubt_count; i++) {
        const dw_room_doubt_item *item = &c->doubt[i];
        const double rise = fmax(end, fmax(item->low_ppm, item->high_ppm)) - end;
        const double fall = end - fmin(end, fmin(item->low_ppm, item->high_ppm));
        up += rise * rise;
        down += fall * fall;
    }
    c->high_ppm = fmin(end + sqrt(up), richest);
    c->low_ppm = fmax(end - sqrt(down), c->room.air.outside_ppm);
    dw_work_section(w, "How sure the carbon monoxide is");
    if (c->spread_incomplete) {
        c->high_ppm = c->low_ppm = NAN;
        dw_work_text(w, "Each input that was not given is set to both ends of its usual range, one input at "
                        "a time, and kiln and room are worked out again. At one of these ends there is no "
                        "solution, or nobody knows the carbon monoxide: how far up the figure may go is "
                        "not known.");
        return;
    }
    if (w == NULL) return;
    if (c->doubt_count > 0) put_ends(c, w);
    const bool at_most = c->high_ppm == richest;
    if (at_most) {
        dw_work_put(w, DW_WORK_SOLVED, "C_rich",
                    "outside air and gas of this fuel, all its carbon burnt to CO: no room holds more", "ppm",
                    richest);
    }
    dw_work_step_is(w, "room.co_end_high_ppm", "C_hi", "all together, up to", "ppm",
                    c->doubt_count == 0 ? "C_end"
                    : at_most ? "min(C_end + sqrt(sum((max(C_end, max(C_l, C_h)) - C_end)^2)), C_rich)"
                              : "C_end + sqrt(sum((max(C_end, max(C_l, C_h)) - C_end)^2))",
                    c->high_ppm, "assumption");
    dw_work_step_is(w, "room.co_end_low_ppm", "C_lo",
                    "all inputs together: lower end, at least that of the outside air", "ppm",
                    c->doubt_count > 0
                        ? "max(C_end - sqrt(sum((C_end - min(C_end, min(C_l, C_h)))^2)), C_out)"
                        : "max(C_end, C_out)",
                    c->low_ppm, "assumption");
}

DW_LAW(upper_window, "W", "length of the window, which is the last part of the time, the worst", "s",
       "definition", (double over, double T_all), fmin(over, T_all))
DW_LAW(upper_begin, "t_w", "its beginning", "s", "definition", (double T_all, double W), T_all - W)

/* The limit of the first screen: its highest mean with the source that gives the upper end. */
static void put_upper_end(const dw_course_work *k, const dw_room_air *air)
{
    dw_working *w = k->w;
    const dw_room_course *c = k->course;
    const int index = c->worst.decided_by >= 0 ? c->worst.decided_by : c->worst.nearest;
    if (index < 0) return;
    const dw_co_limit *limit = &k->breath.co->limit[index];
    const double all_s = k->resolved->room.duration_s, mean = c->worst.limit[index].mean_ppm;
    const dw_law *level = dw_room_air_law(DW_ROOM_AIR_LEVEL, air, all_s);
    dw_work_section(w, "The limit on the first screen, at the upper end");
    dw_law_write(w, "", "G>G_w C>C_hi t>T_all", "flow of carbon monoxide that brings the room to C_hi",
                 dw_room_air_law(DW_ROOM_AIR_SOURCE, air, all_s), air->source_m3_s);
    const char *name = dw_work_keepf(w, "%s %s: highest mean", limit->body, limit->name);
    if (limit->over_s <= 0.0) {
        dw_law_write(w, "", "C>C_here G>G_w t>T_all", name, level, mean);
        return;
    }
    /* It rises, so that the last stretch of time is the worst; the step that holds the beginning counts with its
     * mean, as in the table. */
    const double over_s = dw_law_given(w, DW_WORK_DATA, "over", "averaging time of the limit", "s", limit->over_s);
    const double window_s = DW_STEP(w, upper_window, (over_s, all_s));
    const double begin_s = DW_STEP(w, upper_begin, (all_s, window_s));
    size_t i = 0;
    while (i + 1 < k->breath.count && k->step[i].until_s <= begin_s) i++;
    const double from_s = dw_breath_from_s(&k->breath, i), until_s = k->step[i].until_s;
    const bool goes_on = until_s < all_s;
    dw_work_put(w, DW_WORK_STEP, "t_i", "beginning of the stretch in which the window begins", "s", from_s);
    dw_work_put(w, DW_WORK_STEP, "t_j", "end of that stretch", "s", until_s);
    dw_work_put(w, DW_WORK_INPUT, "t_e", "the end", "s", all_s);
    static const char ends[] = "ije";
    for (int n = 0; n < 3; n++) {
        dw_law_write(w, "", dw_work_keepf(w, "C>C_%c G>G_w t>t_%c", ends[n], ends[n]),
                     dw_work_keepf(w, "level at t_%c", ends[n]), level, NAN);
    }
    /* Of a source, however little. */
    dw_room_air some = *air;
    some.source_m3_s = 1.0;
    dw_law_write(w, "", "C_m>M_1 G>G_w C_0>C_i C_1>C_j t_0>t_i t_1>t_j", "mean of that stretch",
                 dw_room_air_law(DW_ROOM_AIR_MEAN, &some, until_s - from_s), NAN);
    if (goes_on) {
        dw_law_write(w, "", "C_m>M_2 G>G_w C_0>C_j C_1>C_e t_0>t_j t_1>t_e", "mean of the time after that stretch",
                     dw_room_air_law(DW_ROOM_AIR_MEAN, &some, all_s - until_s), NAN);
    }
    dw_work_step_is(w, "", "C_here", name, "ppm", goes_on ? "((t_j - t_w)*M_1 + (t_e - t_j)*M_2)/W" : "M_1", mean,
                    "definition");
}

dw_status dw_room_spread_worst(dw_course_work *k)
{
    dw_room_course *c = k->course;
    /* Without an upper end the screen has the mean of the estimate, which has its steps. */
    if (c->spread_incomplete) {
        c->worst = c->exposure;
        return DW_OK;
    }
    dw_room_air air = c->room.air;
    const double duration_s = k->resolved->room.duration_s;
    const dw_room_air unit = {air.volume_m3, air.flow_m3_s, 1.0, 0.0};
    air.source_m3_s = (c->high_ppm - air.outside_ppm) / dw_room_air_ppm(&unit, 0.0, duration_s);
    dw_breath breath = k->breath;
    breath.w = NULL;
    breath.count = dw_room_course_steps(&air, air.outside_ppm, duration_s, k->step);
    const dw_status status = dw_exposure_look(&breath, NULL, &c->worst);
    if (status == DW_OK && k->w != NULL) put_upper_end(k, &air);
    return status;
}
