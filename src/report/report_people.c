#include "report_people.h"

#include <math.h>
#include <stdio.h>

/* ---- small parts --------------------------------------------------------------------------- */

const char *dw_people_duration(dw_report *report, double seconds)
{
    if (!isfinite(seconds)) return "never";
    const char *text;
    if (seconds < 90.0) {
        text = dw_report_keepf(report, "%.0f s", seconds);
    } else if (seconds < 2.0 * 3600.0 && fmod(seconds, 3600.0) != 0.0) {
        text = dw_report_keepf(report, "%.0f min", seconds / 60.0);
    } else if (seconds < 72.0 * 3600.0) {
        text = dw_report_keepf(report, "%.3g h", seconds / 3600.0);
    } else {
        text = dw_report_keepf(report, "%.3g days", seconds / 86400.0);
    }
    return text != NULL ? text : "";
}

dw_number dw_number_ppm(double ppm)
{
    dw_number number = dw_number_plain(ppm, 3);
    number.unit = "ppm";
    number.resolution_si = 0.1;
    return number;
}

dw_number dw_number_ppm_level(double ppm)
{
    dw_number number = dw_number_ppm(ppm);
    number.trim = true;
    return number;
}

dw_number dw_number_cohb(double frac)
{
    dw_number number = dw_number_of(frac, DW_DIM_RATIO, 3);
    number.resolution_si = 1e-3;
    return number;
}

static double finite_or_nan(double value)
{
    return isfinite(value) ? value : NAN;
}

static void fill_text(dw_report *r, dw_item *line, const char *text)
{
    (void)dw_report_text(r, line, NULL, NULL, text);
}

static void fill_number(dw_report *r, dw_item *line, dw_number number)
{
    (void)dw_report_number(r, line, NULL, NULL, number);
}

void dw_build_notice(dw_report *report, dw_item *prose, dw_item *list, dw_grade grade,
                     const char *code, const char *text)
{
    static const char *const labels[] = {
        [DW_NOTE] = "note", [DW_WARNING] = "WARNING", [DW_HAZARD] = "HAZARD", [DW_ERROR] = "ERROR"};
    (void)dw_report_text(report, prose, NULL, labels[grade], text);
    dw_item *entry = dw_report_group(report, list, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_text(report, entry, "grade", NULL, dw_grade_text(grade));
    (void)dw_report_text(report, entry, "code", NULL, code);
    (void)dw_report_text(report, entry, "text", NULL, text);
}

/* ---- screen -------------------------------------------------------------------------------- */

void dw_build_verdict(dw_report *report, dw_item *screen, dw_verdict verdict, const char *because)
{
    static const char *const words[] = {"low estimate", "raised estimate", "dangerous estimate"};
    static const char *const meanings[] = {
        "Below every limit in the table, over its whole range. That is not a promise: a fault, "
        "wind or a closed door changes it, and only a meter can tell.",
        "At or above a limit for work or a guideline for the public. Ventilate more, use a hood, "
        "or keep people out of the room.",
        "At or above a level that harms people. Everybody out; shut the gas off; open the room "
        "doors. Find the cause before the next firing."};
    static const dw_tone tones[] = {DW_TONE_LOW, DW_TONE_RAISED, DW_TONE_BAD};
    dw_item *line = dw_report_text(report, screen, NULL, "Verdict", words[verdict]);
    if (line != NULL) line->tone = tones[verdict];
    (void)dw_report_text(report, screen, NULL, "", because != NULL ? because : meanings[verdict]);
}

/* "EU STEL over 15 min". */
static const char *limit_name(dw_report *r, const dw_co_limit *limit)
{
    const char *text =
        limit->over_s > 0.0
            ? dw_report_keepf(r, "%s %s over %s", limit->body, limit->name,
                              dw_people_duration(r, limit->over_s))
            : dw_report_keepf(r, "%s %s at any time", limit->body, limit->name);
    return text != NULL ? text : "";
}

void dw_build_deciding_limit(dw_report *report, dw_item *screen, const dw_co_data *co,
                             const dw_exposure *x, bool upper_end)
{
    const int index = x->decided_by >= 0 ? x->decided_by : x->nearest;
    if (index < 0) return;
    const dw_co_limit *limit = &co->limit[index];
    dw_item *line = dw_report_line(report, screen, NULL, "Limit",
                                   x->decided_by >= 0
                                       ? upper_end ? "{0}: {1} ({3}); here up to {2}"
                                                   : "{0}: {1} ({3}); here {2}"
                                   : upper_end ? "the nearest is {0}: {1} ({3}); here up to {2}"
                                               : "the nearest is {0}: {1} ({3}); here {2}");
    fill_text(report, line, limit_name(report, limit));
    fill_number(report, line, dw_number_ppm_level(limit->ppm));
    fill_number(report, line, dw_number_ppm(x->limit[index].mean_ppm));
    fill_text(report, line, limit->provenance);
}

void dw_build_blood_line(dw_report *report, dw_item *screen, const dw_co_data *co,
                         const dw_exposure *x)
{
    const double peak = x->peak_frac[x->activity];
    const char *effect = "";
    for (size_t i = 0; i < co->effect_count; i++) {
        if (peak >= co->effect[i].level) effect = co->effect[i].text;
    }
    dw_item *line = dw_report_line(report, screen, NULL, "Blood",
                                   "COHb {0} at most ({1} at the start). Typical effect: {2}");
    fill_number(report, line, dw_number_cohb(peak));
    fill_number(report, line, dw_number_cohb(x->start_frac));
    fill_text(report, line, effect);
}

static int first_alarm(const dw_co_data *co, const double *time_s)
{
    int first = -1;
    for (size_t i = 0; i < co->alarm_count; i++) {
        if (isfinite(time_s[i]) && (first < 0 || time_s[i] < time_s[first])) first = (int)i;
    }
    return first;
}

void dw_build_alarm_line(dw_report *report, dw_item *screen, const dw_co_data *co,
                         const dw_exposure *x)
{
    const int must = first_alarm(co, x->alarm_must_s);
    if (must < 0) {
        (void)dw_report_text(report, screen, NULL, "Alarm",
                             "a household alarm may stay silent at this level, so do not rely on it");
        return;
    }
    dw_item *line = dw_report_line(report, screen, NULL, "Alarm",
                                   "a household alarm may stay silent for {0}; do not rely on it");
    fill_text(report, line, dw_people_duration(report, x->alarm_must_s[must]));
}

/* ---- tables -------------------------------------------------------------------------------- */

/* A limit that is not kept. */
static dw_tone over(dw_cell word)
{
    return word.text != NULL ? DW_TONE_BAD : DW_TONE_PLAIN;
}

/* Columns of the table of limits. */
enum {
    BODY, NAME, LABEL, OVER, PPM, MG, MEAN, EXCEEDED, WORD, CROSSED, CROSSED_TEXT, LEVEL, LEVEL_TEXT,
    FLOW, KIND, YEAR, PROVENANCE, DOCUMENT, WHERE, COUNT
};

/* What an exposure, and a room when there is one, did to a limit. */
static void fill_finding(dw_report *report, const dw_limit_finding *found,
                         const dw_room_course *course, size_t i, dw_cell *cell)
{
    cell[MEAN].si = found->mean_ppm;
    cell[EXCEEDED].si = found->exceeded ? 1.0 : 0.0;
    cell[WORD].text = found->exceeded ? "OVER" : NULL;
    cell[CROSSED].si = finite_or_nan(found->crossed_s);
    cell[CROSSED_TEXT].text =
        isfinite(found->crossed_s) ? dw_people_duration(report, found->crossed_s) : NULL;
    if (course == NULL) return;
    cell[LEVEL].si = finite_or_nan(course->limit_level_s[i]);
    cell[LEVEL_TEXT].text = dw_people_duration(report, course->limit_level_s[i]);
    cell[FLOW].si = finite_or_nan(course->limit_flow_m3_s[i]);
}

void dw_build_limits(dw_report *report, const dw_co_data *co, const dw_exposure *x,
                     const dw_room_course *course)
{
    static const char *const kinds[] = {"guideline", "work", "danger"};
    const bool known = x != NULL;
    dw_item *group = dw_report_group(report, dw_report_root(report), NULL,
                                     known ? "Limits, and how this air compares" : NULL,
                                     DW_STYLE_SECTION);
    const dw_number ppm = dw_number_ppm(NAN);
    dw_number bare = ppm;
    bare.unit = NULL;
    dw_number level = dw_number_ppm_level(NAN);
    level.unit = NULL;
    const dw_number time = dw_number_of(NAN, DW_DIM_TIME, 3);
    const bool in_room = course != NULL;
    dw_column column[COUNT] = {
        [BODY] = {.key = "body", .is_text = true},
        [NAME] = {.key = "name", .is_text = true},
        [LABEL] = {.label = "\nlimit", .is_text = true},
        [OVER] = {.key = "averaging_time_s", .number = time},
        [PPM] = {.key = "ppm", .label = "ppm\nallowed", .number = level},
        [MG] = {.key = "mg_m3", .number = bare},
        [MEAN] = {.key = "mean_ppm", .label = "ppm\nhere", .number = bare},
        [EXCEEDED] = {.key = "exceeded", .is_truth = true},
        [WORD] = {.label = "\n", .is_text = true, .is_blank = true, .tone = over},
        [CROSSED] = {.key = "crossed_s", .number = time},
        [CROSSED_TEXT] = {.label = "used up\nafter", .is_text = true},
        [LEVEL] = {.key = in_room ? "air_reaches_it_s" : NULL, .number = time},
        [LEVEL_TEXT] = {.label = in_room ? "air at this\nlevel after" : NULL, .is_text = true},
        [FLOW] = {.key = in_room ? "ventilation_needed_m3_s" : NULL,
                  .label = in_room ? "ventilation\nneeded" : NULL,
                  .number = dw_number_of(NAN, DW_DIM_VOLUME_FLOW, 3)},
        [KIND] = {.key = "kind", .label = "\nkind", .is_text = true},
        [YEAR] = {.key = "year", .is_text = true},
        [PROVENANCE] = {.key = "provenance", .label = "\nvalue", .is_text = true},
        [DOCUMENT] = {.key = "document", .is_text = true},
        [WHERE] = {.key = "where", .is_text = true},
    };
    dw_item *table = dw_report_table(report, group, "limits", known ? "" : NULL, column, COUNT);
    for (size_t i = 0; i < co->limit_count; i++) {
        const dw_co_limit *limit = &co->limit[i];
        dw_cell *cell = dw_report_row(report, table);
        if (cell == NULL) return;
        cell[BODY].text = limit->body;
        cell[NAME].text = limit->name;
        cell[LABEL].text = limit_name(report, limit);
        cell[OVER].si = limit->over_s;
        cell[PPM].si = limit->ppm;
        cell[MG].si = limit->mg_m3;
        if (known) fill_finding(report, &x->limit[i], course, i, cell);
        cell[KIND].text = kinds[limit->kind];
        cell[YEAR].text = limit->year;
        cell[PROVENANCE].text = limit->provenance;
        cell[DOCUMENT].text = limit->document;
        cell[WHERE].text = limit->where;
    }
    if (!known) return;
    dw_item *text = dw_report_group(report, dw_report_root(report), NULL, NULL, DW_STYLE_PLAIN);
    (void)dw_report_text(
        report, text, NULL, "",
        "Here: the highest mean over the limit's own averaging time, or over the whole time if "
        "that is shorter (not averaged with unexposed hours). Used up: when the dose that the "
        "limit allows had been taken in. Recalled: from memory; look it up. Limits differ by "
        "country and change: yours count.");
}

void dw_build_alarms(dw_report *report, const dw_co_data *co, const dw_exposure *x)
{
    const bool known = x != NULL;
    dw_item *group =
        dw_report_group(report, dw_report_root(report), NULL,
                        known ? "When a household alarm may and must sound" : NULL,
                        DW_STYLE_SECTION);
    const dw_number time = dw_number_of(NAN, DW_DIM_TIME, 3);
    const dw_column columns[] = {
        {.key = "standard", .label = "\nstandard", .is_text = true},
        {.key = "ppm", .label = "level\nheld", .number = dw_number_ppm_level(NAN)},
        {.key = "window_from_s", .number = time},
        {.key = "window_by_s", .number = time},
        {.label = "not\nbefore", .is_text = true},
        {.label = "at the\nlatest", .is_text = true},
        {.key = "may_sound_s", .number = time},
        {.key = "must_sound_s", .number = time},
        {.label = "here it\nmay after", .is_text = true},
        {.label = "here it\nmust after", .is_text = true},
    };
    dw_item *table = dw_report_table(report, group, "alarms", known ? "" : NULL, columns,
                                     sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < co->alarm_count; i++) {
        const dw_co_alarm *alarm = &co->alarm[i];
        dw_cell *cell = dw_report_row(report, table);
        if (cell == NULL) return;
        cell[0].text = alarm->standard;
        cell[1].si = alarm->ppm;
        cell[2].si = alarm->from_s;
        cell[3].si = finite_or_nan(alarm->by_s);
        cell[4].text = dw_people_duration(report, alarm->from_s);
        cell[5].text = dw_people_duration(report, alarm->by_s);
        if (!known) continue;
        cell[6].si = finite_or_nan(x->alarm_may_s[i]);
        cell[7].si = finite_or_nan(x->alarm_must_s[i]);
        cell[8].text = dw_people_duration(report, x->alarm_may_s[i]);
        cell[9].text = dw_people_duration(report, x->alarm_must_s[i]);
    }
    if (!known) return;
    dw_item *text = dw_report_group(report, dw_report_root(report), NULL, NULL, DW_STYLE_PLAIN);
    (void)dw_report_text(report, text, NULL, "",
                         "At 20 to 50 ppm, the limits for work, a household alarm may stay "
                         "silent for hours or for ever: it is made to save lives, not to keep "
                         "limits. A meter with a display shows levels too low to set off an "
                         "alarm.");
}

static const char *const activity_texts[] = {"rest", "light work", "heavy work"};

/* A share of haemoglobin; not known: null, and not in the text. */
static void put_cohb(dw_report *report, dw_item *group, const char *key, const char *label,
                     const dw_exposure *x, double frac)
{
    (void)dw_report_number(report, group, key, x != NULL ? label : NULL, dw_number_cohb(frac));
}

static void put_effects(dw_report *report, dw_item *group, const dw_co_data *co,
                        const dw_exposure *x)
{
    const dw_column columns[] = {
        {.key = "cohb", .label = "\nCOHb", .number = dw_number_cohb(NAN)},
        {.key = "reached_s", .number = dw_number_of(NAN, DW_DIM_TIME, 3)},
        {.label = "reached\nafter", .is_text = true},
        {.key = "effect", .label = "\ntypical effect; people vary", .is_text = true}};
    const char *label = x != NULL ? "" : NULL;
    dw_item *table = dw_report_table(report, group, "effects", label, columns, 4);
    for (size_t i = 0; i < co->effect_count; i++) {
        dw_cell *cell = dw_report_row(report, table);
        if (cell == NULL) return;
        cell[0].si = co->effect[i].level;
        if (x != NULL) {
            cell[1].si = finite_or_nan(x->effect_s[i]);
            cell[2].text = dw_people_duration(report, x->effect_s[i]);
        }
        cell[3].text = co->effect[i].text;
    }
    const dw_column ppm_columns[] = {
        {.key = "ppm", .label = "\nCO in the air", .number = dw_number_ppm_level(NAN)},
        {.key = "effect", .label = "effect as commonly printed, for\nadults at rest", .is_text = true}};
    table = dw_report_table(report, group, "effects_by_ppm", label, ppm_columns, 2);
    for (size_t i = 0; i < co->ppm_effect_count; i++) {
        dw_cell *cell = dw_report_row(report, table);
        if (cell == NULL) return;
        cell[0].si = co->ppm_effect[i].level;
        cell[1].text = co->ppm_effect[i].text;
    }
}

void dw_build_people(dw_report *report, const dw_co_data *co, const dw_exposure *x,
                     const dw_exposure_person *person)
{
    const bool known = x != NULL;
    dw_item *group = dw_report_group(report, dw_report_root(report), "people",
                                     known ? "What this air does to people" : NULL, DW_STYLE_SECTION);
    if (known) {
        (void)dw_report_text(report, group, "activity", "activity", activity_texts[x->activity]);
    } else {
        (void)dw_report_null(report, group, "activity", NULL, NULL);
    }
    if (known && person->activity == DW_ROOM_ANY_ACTIVITY) {
        (void)dw_report_text(report, group, NULL, "", "not given: the worst case is assumed");
    }
    (void)dw_report_bool(report, group, "activity_given", NULL,
                         person->activity != DW_ROOM_ANY_ACTIVITY);
    (void)dw_report_bool(report, group, "smoker", NULL, person->smoker);
    if (known) {
        (void)dw_report_bool(report, group, "outside_promise", NULL, x->outside_promise);
    } else {
        (void)dw_report_null(report, group, "outside_promise", NULL, NULL);
    }
    put_cohb(report, group, "cohb_start", "carboxyhaemoglobin (COHb) at the start", x,
             known ? x->start_frac : NAN);
    static const char *const end_keys[] = {"cohb_end_rest", "cohb_end_light", "cohb_end_heavy"};
    static const char *const end_labels[] = {"COHb at the end, at rest", "COHb at the end, light work",
                                             "COHb at the end, heavy work"};
    for (int a = 0; a < DW_ACTIVITY_COUNT; a++) {
        put_cohb(report, group, end_keys[a], end_labels[a], x, known ? x->end_frac[a] : NAN);
    }
    put_cohb(report, group, "cohb_peak", "highest COHb", x,
             known ? x->peak_frac[x->activity] : NAN);
    put_effects(report, group, co, x);
}

void dw_build_people_notes(dw_report *report, dw_item *prose, const dw_co_data *co,
                           const dw_exposure *x, const dw_exposure_person *person)
{
    (void)dw_report_text(report, prose, NULL, "",
                         "Carboxyhaemoglobin is worked out by the full Coburn-Forster-Kane "
                         "equation for one average adult. In a child, an unborn child, or a "
                         "small, pregnant, anaemic or ill person it rises faster or does harm at "
                         "a lower level: these figures do not cover them. They are not a "
                         "diagnosis; only a blood test is.");
    if (x->outside_promise) {
        dw_item *line = dw_report_line(report, prose, NULL, "",
                                       "This person is under {0} or {1}, outside the range that "
                                       "the equation was tested for. Take the true values as "
                                       "higher.");
        (void)dw_report_number(report, line, NULL, NULL,
                               dw_number_input(co->person.smallest_height_m, DW_DIM_LENGTH));
        (void)dw_report_number(report, line, NULL, NULL,
                               dw_number_input(co->person.smallest_mass_kg, DW_DIM_MASS));
    }
    if (!person->smoker) {
        (void)dw_report_text(report, prose, NULL, "",
                             "The person is assumed not to smoke; a smoker starts with up to 10 "
                             "% COHb.");
    }
}
