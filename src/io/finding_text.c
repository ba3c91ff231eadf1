#include "finding_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define NO_NUMBER {.dim = DW_DIM_NUMBER, .digits = 3}
#define PLAIN {.dim = DW_DIM_NUMBER, .digits = 3}
#define SHARE {.dim = DW_DIM_RATIO, .digits = 3, .resolution_si = 1.0e-4}
#define DRAFT {.dim = DW_DIM_PRESSURE_GAUGE, .small = true, .digits = 2, .resolution_si = 0.01}
#define SUPPLY {.dim = DW_DIM_PRESSURE_GAUGE, .digits = 3}
#define TEMPERATURE {.dim = DW_DIM_TEMPERATURE, .digits = 4, .resolution_si = 1.0}
#define FLOW {.dim = DW_DIM_MASS_FLOW, .digits = 2}

/* Grade and code come from the one list in result.h; subject, number and words from here. */
#define DW_FINDING_AS_CODE(name, grade, code) [name] = (code),
#define DW_FINDING_AS_GRADE(name, grade, code) [name] = (grade),
static const char *const codes[DW_FINDING_CODE_COUNT] = {DW_FINDING_LIST(DW_FINDING_AS_CODE)};
static const dw_grade grades[DW_FINDING_CODE_COUNT] = {DW_FINDING_LIST(DW_FINDING_AS_GRADE)};

typedef struct phrases {
    dw_subject subject;
    dw_number number;
    const char *brief, *full;
} phrases;

static const phrases table[DW_FINDING_CODE_COUNT] = {
    [DW_FIND_BURNER_PUSHED_BACK] =
        {DW_SUBJECT_BURNER, DRAFT,
         "{0}: kiln pushes back into it ({1}). Gas off there, damper open",
         "{0} draws in no air: the kiln pushes back into it (chamber pressure there {1}). Gas or "
         "flame can come out at its air inlet. Shut its gas off, then open the damper, and do not "
         "relight until the chamber is purged. If it comes back, have a licensed gas fitter look "
         "at burner and flue."},
    [DW_FIND_POSITIVE_AT_OPENING] =
        {DW_SUBJECT_OPENING, DRAFT,
         "{0}: hot gas pushes out (up to {1}). Keep clear, ventilate",
         "Hot kiln gas pushes out at {0} (chamber pressure there {1}), and it carries carbon "
         "monoxide when the kiln is in reduction. Keep face and hands clear when you pull a bung, "
         "keep hood and ventilation running. More damper or less gas lowers the pressure."},
    [DW_FIND_SPILL] =
        {DW_SUBJECT_KILN, FLOW,
         "{1} of kiln gas leaks into the room. Hood, fan and CO alarm on",
         "{1} of kiln gas comes out of the kiln's openings into the room: cracks, ports, spyholes and "
         "gaps (an upper estimate: gas that burns at an opening is not taken off). It carries carbon "
         "monoxide. Keep the hood, ventilation with make-up air and a working CO alarm running. "
         "Leave the room if the alarm sounds or anyone has a headache."},
    [DW_FIND_SPILL_BURNT] =
        {DW_SUBJECT_KILN, FLOW,
         "{1} of burnt gas leaks into the room. Keep the ventilation running",
         "{1} of kiln gas comes out of the kiln's openings into the room. At this setting the gas is "
         "burnt and holds hardly any carbon monoxide, but it is hot, it holds carbon dioxide, and a "
         "small move of the damper changes that. Keep the ventilation and the CO alarm on."},
    [DW_FIND_FLUE_SPILL] =
        {DW_SUBJECT_KILN, FLOW,
         "{1} of kiln gas leaves by flues into the room. Run the hood's fan",
         "{1} of kiln gas leaves by the flues, and the flues end in the room: there is no stack to "
         "take it outside. It carries carbon monoxide. Only a hood with a running fan over the flues, "
         "or a flue to the open air, takes it away; let in as much air as the fan takes out, and keep "
         "a working CO alarm on. Leave the room if the alarm sounds or anyone has a headache."},
    [DW_FIND_FLUE_SPILL_BURNT] =
        {DW_SUBJECT_KILN, FLOW,
         "{1} of burnt gas leaves by flues into the room. Run the hood's fan",
         "{1} of kiln gas leaves by the flues, and the flues end in the room. At this setting the gas "
         "is burnt and holds hardly any carbon monoxide, but it is hot, it holds carbon dioxide, and a "
         "small move of the damper changes that. Keep the hood's fan, ventilation and a CO alarm on."},
    [DW_FIND_RELIEF_SPILLS] =
        {DW_SUBJECT_KILN, FLOW,
         "flue gas spills at the draft relief. Gas down, ventilate, leave",
         "Flue gas spills into the room from the draft relief opening at the foot of the stack "
         "({1}). Turn the gas down or off, ventilate and leave the room. The stack pulls too "
         "little: look for a cold stack, a blockage, or a room fan that works against it, and let "
         "a licensed fitter judge it."},
    [DW_FIND_STACK_REVERSED] =
        {DW_SUBJECT_KILN, FLOW,
         "the stack flows DOWN. Gas off, kiln open, ventilate, leave the room",
         "Outside air comes down the stack ({1}) and all kiln gas goes into the room. Shut the gas "
         "off, leave damper and openings open, ventilate and leave the room. Warm the stack and "
         "see that it draws before any gas is lit again; purge first."},
    [DW_FIND_FLUE_REVERSED] =
        {DW_SUBJECT_FLUE, FLOW,
         "{0}: gas flows back into the kiln. Gas down, damper open",
         "Gas flows backwards through {0} into the kiln ({1}); kiln gas leaves by the other "
         "openings instead. Turn the gas down, open the damper, ventilate, and find out what "
         "holds the stack back."},
    [DW_FIND_UNBURNT_GAS] =
        {DW_SUBJECT_KILN, PLAIN,
         "far too much gas for this air (equivalence ratio {1}). Gas down",
         "Far more gas goes in than the air can burn (equivalence ratio {1}). What leaves is rich "
         "in carbon monoxide and hydrogen and burns wherever it meets air. Turn the gas down "
         "first; letting air in first feeds the fire at the openings. Ventilate."},
    [DW_FIND_COLD_CHAMBER] =
        {DW_SUBJECT_KILN, TEMPERATURE,
         "at {1} a flame that goes out may not relight. Watch every one",
         "The chamber ({1}) is too cold to light gas by itself. This estimate takes it that every "
         "flame burns; nobody knows that but you. Watch the flames. If one goes out: gas off, all "
         "openings open, purge with several chamber volumes of air, and only then light again. A "
         "licensed fitter can add flame-failure valves."},
    [DW_FIND_CANDLING] =
        {DW_SUBJECT_KILN, TEMPERATURE,
         "at {1} a flame that goes out may not relight. Watch every one",
         "The chamber ({1}) is too cold to light gas by itself, as in candling. The flames have air to "
         "spare, and this estimate assumes that every one of them burns; only you can check. Watch the "
         "flames. If one goes out: shut all gas off, open all openings, purge with several chamber "
         "volumes of air, and only then light again."},
    [DW_FIND_SOOTING] =
        {DW_SUBJECT_KILN, PLAIN,
         "smoky flame, much CO likely. More primary air, or less gas",
         "The flames are likely to smoke (equivalence ratio {1}; a judgement, not a calculation). "
         "Smoke means soot on jets and flue and much carbon monoxide, and it adds nothing to "
         "the reduction. Give more primary air or less gas, and keep the ventilation running."},
    [DW_FIND_COLD_STACK_START] =
        {DW_SUBJECT_KILN, NO_NUMBER,
         "a cold stack may not start to draw: warm it, try it with smoke",
         "With these settings the stack draws once it is warm, but no flow at all balances too: a "
         "cold stack may not start. Warm the stack first, and see the smoke of a stick go in at a "
         "spyhole before the main gas comes on."},
    [DW_FIND_DAMPER_RANGE] =
        {DW_SUBJECT_FLUE, SHARE,
         "{0}: at {1} open the damper formula is rough",
         "The damper of {0} is {1} open; below 10 % and above 95 % the damper formula is outside "
         "the range it was measured in. Read flow and draft as rough."},
    [DW_FIND_DAMPER_LEAK] =
        {DW_SUBJECT_FLUE, SHARE,
         "{0}: damper shut; {1} of its area stays open through the gaps",
         "The damper of {0} is shut as far as it goes; {1} of its area stays open through the gaps "
         "round the plate (the `leak` of the damper)."},
    [DW_FIND_JET_CHOKED] =
        {DW_SUBJECT_BURNER, SUPPLY,
         "{0}: gas leaves the jet at the speed of sound ({1})",
         "Gas leaves the jet of {0} at the speed of sound ({1} gauge). The flow still grows with "
         "the pressure, in proportion to the absolute pressure."},
    [DW_FIND_QUENCHED] =
        {DW_SUBJECT_KILN, TEMPERATURE,
         "reactions taken as frozen at {1}: CO rough, some 20 % either way",
         "The chamber is colder than {1}, where the reactions between the gases are taken to "
         "freeze (an assumption, `quench_temperature`). It is worth some 20 % of the CO figure. "
         "Oxygen and probe are at the chamber's own temperature."},
    [DW_FIND_MOIST_AIR_RANGE] =
        {DW_SUBJECT_KILN, TEMPERATURE,
         "air at {1} is outside the published range of the humidity formula",
         "The air ({1}) is far outside the range the humidity formula was published for (15 to 27 "
         "degC, 600 to 1100 hPa). The water in the air is less certain; nothing else changes."},
    [DW_FIND_GRAPHITE] =
        {DW_SUBJECT_KILN, PLAIN,
         "solid carbon in the balance ({1} mol per kg of gas): expect soot",
         "At equilibrium the gas holds solid carbon ({1} mol per kg of gas): expect soot and "
         "carbon in the ware."},
    [DW_FIND_CLOSURE] =
        {DW_SUBJECT_KILN, PLAIN,
         "the balances close only to {1}: do not rely on these numbers",
         "A balance closes only to {1}, worse than it should. Do not rely on these numbers; this "
         "is a fault of the program worth reporting, with the kiln file."},
    [DW_FIND_SHUTTER_CLOSED] =
        {DW_SUBJECT_BURNER, NO_NUMBER,
         "{0}: the air shutter is shut, so there is no primary air",
         "The air shutter of {0} is shut: it draws in no primary air, and the flame has to find "
         "its air in the kiln."},
    [DW_FIND_SATURATED_ROOM] =
        {DW_SUBJECT_KILN, SHARE,
         "the room is too cold for that humidity: its air is taken as saturated",
         "The room is colder than the air the humidity ({1}) is given for, so that its air would "
         "be wetter than saturated; it is taken as just saturated."},
};

bool dw_finding_words_of(dw_finding_code code, dw_finding_words *words)
{
    if ((int)code < 0 || code >= DW_FINDING_CODE_COUNT || table[code].brief == NULL) {
        *words = (dw_finding_words){0};
        return false;
    }
    *words = (dw_finding_words){.grade = grades[code],
                                .code = codes[code],
                                .subject = table[code].subject,
                                .number = table[code].number,
                                .brief = table[code].brief,
                                .full = table[code].full};
    words->number.low_si = words->number.high_si = NAN;
    return true;
}

static void put_name(const char *name, const char *noun, int index, char *out, size_t size)
{
    if (name[0] != '\0') {
        (void)snprintf(out, size, "%s", name);
    } else {
        (void)snprintf(out, size, "%s %d", noun, index + 1);
    }
}

void dw_finding_name(const dw_kiln *kiln, const dw_finding *finding, char *out, size_t size)
{
    dw_finding_words words;
    const int i = finding->index;
    (void)dw_finding_words_of(finding->code, &words);
    if (words.subject == DW_SUBJECT_BURNER && i >= 0 && i < kiln->burner_count) {
        put_name(kiln->burner[i].name, "burner", i, out, size);
    } else if (words.subject == DW_SUBJECT_OPENING && i >= 0 && i < kiln->opening_count) {
        put_name(kiln->opening[i].name, "opening", i, out, size);
    } else if (words.subject == DW_SUBJECT_FLUE && i >= 0 && i < kiln->flue_count) {
        put_name(kiln->flue[i].name, "flue", i, out, size);
    } else {
        (void)snprintf(out, size, "%s",
                       words.subject == DW_SUBJECT_OPENING ? "the gaps of the kiln" : "the kiln");
    }
}

static dw_item *add_line(dw_report *report, dw_item *parent, const char *key, const char *label,
                         const char *pattern, const char *name, dw_number number)
{
    dw_item *line = dw_report_line(report, parent, key, label, pattern);
    (void)dw_report_text(report, line, NULL, NULL, name);
    (void)dw_report_number(report, line, NULL, NULL, number);
    return line;
}

dw_item *dw_finding_line(dw_report *report, dw_item *parent, const char *key, const char *label,
                         const dw_kiln *kiln, const dw_finding *finding)
{
    dw_finding_words words;
    if (!dw_finding_words_of(finding->code, &words)) return NULL;
    char name[DW_NAME_SIZE + 16];
    dw_finding_name(kiln, finding, name, sizeof name);
    words.number.si = finding->value;
    return add_line(report, parent, key, label, words.full, name, words.number);
}

dw_item *dw_finding_brief(dw_report *report, dw_item *parent, const char *label,
                          const dw_kiln *kiln, const dw_result *result, dw_finding_code code)
{
    enum { NAMES_SHOWN = 3 };
    dw_finding_words words;
    if (!dw_finding_words_of(code, &words)) return NULL;
    char names[NAMES_SHOWN * (DW_NAME_SIZE + 20) + 32] = "";
    size_t used = 0;
    int count = 0;
    words.number.si = NAN;
    for (int i = 0; i < result->finding_count; ++i) {
        const dw_finding *finding = &result->finding[i];
        if (finding->code != code) continue;
        if (count < NAMES_SHOWN) {
            char name[DW_NAME_SIZE + 16];
            dw_finding_name(kiln, finding, name, sizeof name);
            used += (size_t)snprintf(names + used, sizeof names - used, "%s%s",
                                     count > 0 ? ", " : "", name);
        }
        ++count;
        if (!(fabs(finding->value) <= fabs(words.number.si))) words.number.si = finding->value;
    }
    if (count == 0) return NULL;
    if (count > NAMES_SHOWN) {
        (void)snprintf(names + used, sizeof names - used, " and %d more", count - NAMES_SHOWN);
    }
    return add_line(report, parent, NULL, label, words.brief, names, words.number);
}
