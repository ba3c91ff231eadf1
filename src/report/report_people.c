#include "report_exposure.h"

#include "finding_text.h"

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

static const char *const grade_labels[] = {
    [DW_NOTE] = "note", [DW_WARNING] = "WARNING", [DW_HAZARD] = "HAZARD", [DW_ERROR] = "ERROR"};

static dw_item *put_entry(dw_report *report, dw_item *list, dw_grade grade, const char *code)
{
    dw_item *entry = dw_report_group(report, list, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_text(report, entry, "grade", NULL, dw_grade_text(grade));
    (void)dw_report_text(report, entry, "code", NULL, code);
    return entry;
}

void dw_build_notice(dw_report *report, dw_item *prose, dw_item *list, dw_grade grade,
                     const char *code, const char *text)
{
    (void)dw_report_text(report, prose, NULL, grade_labels[grade], text);
    (void)dw_report_text(report, put_entry(report, list, grade, code), "text", NULL, text);
}

void dw_build_finding(dw_report *report, dw_item *prose, dw_item *list, const dw_kiln *kiln,
                      const dw_finding *finding, bool named)
{
    dw_finding_words words;
    if (!dw_finding_words_of(finding->code, &words)) return;
    (void)dw_finding_line(report, prose, NULL, grade_labels[words.grade], kiln, finding);
    dw_item *entry = put_entry(report, list, words.grade, words.code);
    if (named && words.subject != DW_SUBJECT_KILN) {
        char name[DW_NAME_SIZE + 16];
        dw_finding_name(kiln, finding, name, sizeof name);
        (void)dw_report_text(report, entry, "name", NULL, name);
    }
    (void)dw_finding_line(report, entry, "text", NULL, kiln, finding);
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
    dw_tell(report, screen, because != NULL ? because : meanings[verdict]);
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
    dw_add_text(report, line, limit_name(report, limit));
    /* In a sentence with its unit; in the table the heading has it. */
    dw_add_output(report, line, "exposure", "alarms.*.ppm", limit->ppm);
    dw_add_output(report, line, "exposure", "exposure.mean_ppm", x->limit[index].mean_ppm);
    dw_add_text(report, line, limit->provenance);
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
    dw_add_output(report, line, "exposure", "people.cohb_peak", peak);
    dw_add_output(report, line, "exposure", "people.cohb_start", x->start_frac);
    dw_add_text(report, line, effect);
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
    dw_add_text(report, line, dw_people_duration(report, x->alarm_must_s[must]));
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

void dw_build_limits(dw_report *report, const dw_data *data, const dw_exposure *x,
                     const dw_room_course *course)
{
    const dw_co_data *co = &data->co;
    static const char *const kinds[] = {"guideline", "work", "danger"};
    const bool known = x != NULL;
    dw_item *group = dw_report_group(report, dw_report_root(report), NULL,
                                     known ? "Limits, and how this air compares" : NULL,
                                     DW_STYLE_SECTION);
    const bool in_room = course != NULL;
    dw_item *table = dw_output_table(report, group, "exposure", "limits", known ? "" : NULL);
    if (table == NULL) return;
    dw_column *column = table->table->column;
    column[WORD].is_blank = true;
    column[WORD].tone = over;
    if (!in_room) column[LEVEL].key = column[FLOW].key = column[LEVEL_TEXT].label = column[FLOW].label = NULL;
    for (size_t i = 0; i < co->limit_count; i++) {
        const dw_co_limit *limit = &co->limit[i];
        dw_cell *cell = dw_report_row(report, table);
        if (cell == NULL) return;
        cell[BODY].text = limit->body;
        cell[NAME].text = limit->name;
        cell[LABEL].text = limit_name(report, limit);
        dw_output_fill(table->table, cell, data, DW_IN_LIMITS, co, i);
        if (known) {
            dw_output_fill(table->table, cell, data, DW_IN_EXPOSURE, x, i);
            const double crossed_s = x->limit[i].crossed_s;
            cell[WORD].text = x->limit[i].exceeded ? "OVER" : NULL;
            cell[CROSSED_TEXT].text =
                isfinite(crossed_s) ? dw_people_duration(report, crossed_s) : NULL;
        }
        if (known && in_room) {
            dw_output_fill(table->table, cell, data, DW_IN_COURSE, course, i);
            cell[LEVEL_TEXT].text = dw_people_duration(report, course->limit_level_s[i]);
        }
        cell[KIND].text = kinds[limit->kind];
        cell[YEAR].text = limit->year;
        cell[PROVENANCE].text = limit->provenance;
        cell[DOCUMENT].text = limit->document;
        cell[WHERE].text = limit->where;
    }
    if (!known) return;
    dw_item *text = dw_report_group(report, dw_report_root(report), NULL, NULL, DW_STYLE_PLAIN);
    dw_tell(report, text,
            "Here: the highest mean over the limit's own averaging time, or over the whole time if that is "
            "shorter (not averaged with unexposed hours). Used up: when the dose that the limit allows had "
            "been taken in. Recalled: from memory; look it up. Limits differ by country and change: yours "
            "count.");
}

void dw_build_alarms(dw_report *report, const dw_data *data, const dw_exposure *x)
{
    const dw_co_data *co = &data->co;
    const bool known = x != NULL;
    dw_item *group =
        dw_report_group(report, dw_report_root(report), NULL,
                        known ? "When a household alarm may and must sound" : NULL,
                        DW_STYLE_SECTION);
    dw_item *table = dw_output_table(report, group, "exposure", "alarms", known ? "" : NULL);
    for (size_t i = 0; i < co->alarm_count; i++) {
        const dw_co_alarm *alarm = &co->alarm[i];
        dw_cell *cell = dw_report_row(report, table);
        if (cell == NULL) return;
        cell[0].text = alarm->standard;
        dw_output_fill(table->table, cell, data, DW_IN_LIMITS, co, i);
        cell[4].text = dw_people_duration(report, alarm->from_s);
        cell[5].text = dw_people_duration(report, alarm->by_s);
        if (!known) continue;
        dw_output_fill(table->table, cell, data, DW_IN_EXPOSURE, x, i);
        cell[8].text = dw_people_duration(report, x->alarm_may_s[i]);
        cell[9].text = dw_people_duration(report, x->alarm_must_s[i]);
    }
    if (!known) return;
    dw_item *text = dw_report_group(report, dw_report_root(report), NULL, NULL, DW_STYLE_PLAIN);
    dw_tell(report, text,
            "At 20 to 50 ppm, the limits for work, a household alarm may stay silent for hours or for ever: "
            "it is made to save lives, not to keep limits. A meter with a display shows levels too low to "
            "set off an alarm.");
}

static const char *const activity_texts[] = {"rest", "light work", "heavy work"};

static void put_effects(dw_report *report, dw_item *group, const dw_data *data,
                        const dw_exposure *x)
{
    const dw_co_data *co = &data->co;
    const char *label = x != NULL ? "" : NULL;
    dw_item *table = dw_output_table(report, group, "exposure", "people.effects", label);
    for (size_t i = 0; i < co->effect_count; i++) {
        dw_cell *cell = dw_report_row(report, table);
        if (cell == NULL) return;
        dw_output_fill(table->table, cell, data, DW_IN_LIMITS, co, i);
        if (x != NULL) {
            dw_output_fill(table->table, cell, data, DW_IN_EXPOSURE, x, i);
            cell[2].text = dw_people_duration(report, x->effect_s[i]);
        }
        cell[3].text = co->effect[i].text;
    }
    table = dw_output_table(report, group, "exposure", "people.effects_by_ppm", label);
    for (size_t i = 0; i < co->ppm_effect_count; i++) {
        dw_cell *cell = dw_report_row(report, table);
        if (cell == NULL) return;
        dw_output_fill(table->table, cell, data, DW_IN_LIMITS, co, i);
        cell[1].text = co->ppm_effect[i].text;
    }
}

void dw_build_people(dw_report *report, const dw_data *data, const dw_exposure *x,
                     const dw_exposure_person *person)
{
    const bool known = x != NULL;
    dw_item *group = dw_report_group(report, dw_report_root(report), "people",
                                     known ? "What this air does to people" : NULL, DW_STYLE_SECTION);
    dw_report_output_text(report, group, "exposure", "people.activity",
                          known ? activity_texts[x->activity] : NULL);
    if (known && person->activity == DW_ROOM_ANY_ACTIVITY) {
        dw_tell(report, group, "not given: the worst case is assumed");
    }
    (void)dw_report_bool(report, group, "activity_given", NULL,
                         person->activity != DW_ROOM_ANY_ACTIVITY);
    (void)dw_report_bool(report, group, "smoker", NULL, person->smoker);
    if (known) {
        (void)dw_report_bool(report, group, "outside_promise", NULL, x->outside_promise);
    } else {
        (void)dw_report_null(report, group, "outside_promise", NULL, NULL);
    }
    /* Not known: null, and not in the text. */
    static const dw_exposure unknown = {.start_frac = NAN, .end_frac = {NAN, NAN, NAN},
                                        .peak_frac = {NAN, NAN, NAN}};
    dw_report_outputs(report, group, "exposure", "people.cohb_start", "people.cohb_peak", data,
                      known ? x : &unknown, known);
    put_effects(report, group, data, x);
}

void dw_build_people_notes(dw_report *report, dw_item *prose, const dw_co_data *co,
                           const dw_exposure *x, const dw_exposure_person *person)
{
    dw_tell(report, prose,
            "Carboxyhaemoglobin is worked out by the full Coburn-Forster-Kane equation for one average "
            "adult. In a child, an unborn child, or a small, pregnant, anaemic or ill person it rises "
            "faster or does harm at a lower level: these figures do not cover them. They are not a "
            "diagnosis; only a blood test is.");
    if (x->outside_promise) {
        dw_item *line = dw_report_line(report, prose, NULL, "",
                                       "This person is under {0} or {1}, outside the range that "
                                       "the equation was tested for. Take the true values as "
                                       "higher.");
        dw_add_number(report, line, dw_number_input(co->person.smallest_height_m, DW_DIM_LENGTH));
        dw_add_number(report, line, dw_number_input(co->person.smallest_mass_kg, DW_DIM_MASS));
    }
    if (!person->smoker) {
        dw_tell(report, prose, "The person is assumed not to smoke; a smoker starts with up to 10 % COHb.");
    }
}
