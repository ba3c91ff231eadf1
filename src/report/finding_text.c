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
         "{0}: the kiln pushes back into it ({1}). Shut its gas",
         "{0} draws in no air: the kiln pushes back into it (chamber pressure there {1}). Gas or "
         "flame can come out at its air inlet. Keep clear, shut its gas off, then open the "
         "damper. Do not relight it before the chamber is purged. If this happens again, have a "
         "licensed gas fitter look at the burner and the flue."},
    [DW_FIND_POSITIVE_AT_OPENING] =
        {DW_SUBJECT_OPENING, DRAFT,
         "{0}: hot gas pushes out (up to {1}). Keep clear, ventilate",
         "Hot kiln gas pushes out at {0} (chamber pressure there {1}). It carries carbon "
         "monoxide when the kiln is in reduction. Keep face and hands clear when you pull a "
         "bung, and keep the hood and the ventilation running. To lower the pressure, open the "
         "damper further or turn the gas down."},
    [DW_FIND_SPILL] =
        {DW_SUBJECT_KILN, FLOW,
         "{1} of kiln gas leaks into the room. Hood, fan and CO alarm on",
         "{1} of kiln gas comes out of the kiln's openings into the room: cracks, ports, "
         "spyholes and gaps (an upper estimate: gas that burns at an opening is not taken off). "
         "It carries carbon monoxide. Keep the hood and the ventilation running, let in as much "
         "air as they take out, and keep a working CO alarm on. Leave the room if the alarm "
         "sounds or anyone has a headache."},
    [DW_FIND_SPILL_BURNT] =
        {DW_SUBJECT_KILN, FLOW,
         "{1} of burnt gas leaks into the room. Keep the ventilation running",
         "{1} of kiln gas comes out of the kiln's openings into the room. At this setting the gas is "
         "burnt and holds hardly any carbon monoxide, but it is hot, it holds carbon dioxide, and a "
         "small move of the damper changes that. Keep the ventilation and the CO alarm on."},
    [DW_FIND_FLUE_SPILL] =
        {DW_SUBJECT_KILN, FLOW,
         "{1} of kiln gas leaves by flues into the room. Run the hood's fan",
         "{1} of kiln gas leaves by the flues, and the flues end in the room: no stack takes it "
         "outside. It carries carbon monoxide. Only a hood with a running fan over the flues, or "
         "a flue to the open air, takes it away. Let in as much air as the fan takes out, and "
         "keep a working CO alarm on. Leave the room if the alarm sounds or anyone has a "
         "headache."},
    [DW_FIND_FLUE_SPILL_BURNT] =
        {DW_SUBJECT_KILN, FLOW,
         "{1} of burnt gas leaves by flues into the room. Run the hood's fan",
         "{1} of kiln gas leaves by the flues, and the flues end in the room. At this setting the gas "
         "is burnt and holds hardly any carbon monoxide, but it is hot, it holds carbon dioxide, and a "
         "small move of the damper changes that. Keep the hood's fan, ventilation and a CO alarm on."},
    [DW_FIND_RELIEF_SPILLS] =
        {DW_SUBJECT_KILN, FLOW,
         "flue gas comes out of the draft relief. Everybody out, gas off",
         "Flue gas comes into the room from the draft relief opening at the foot of the stack "
         "({1}). Everybody out of the room; shut the gas off; ventilate. The stack pulls too "
         "little: look for a cold stack, a blockage, or a room fan that works against the stack, "
         "and have a licensed fitter look at it."},
    [DW_FIND_STACK_REVERSED] =
        {DW_SUBJECT_KILN, FLOW,
         "the stack flows DOWN. Everybody out, gas off, room doors open",
         "Outside air comes down the stack ({1}), and all kiln gas goes into the room. Everybody "
         "out of the room; shut the gas off; open the doors of the room; leave the kiln's damper "
         "and openings open. Before you light any gas again, purge the chamber, and "
         "see with smoke that the stack draws."},
    [DW_FIND_FLUE_REVERSED] =
        {DW_SUBJECT_FLUE, FLOW,
         "{0}: gas flows back into the kiln. Gas down, open the damper",
         "Gas flows backwards through {0} into the kiln ({1}), and kiln gas leaves by the other "
         "openings instead. Turn the gas down, open the damper, ventilate, and find out what "
         "keeps this flue from drawing."},
    [DW_FIND_UNBURNT_GAS] =
        {DW_SUBJECT_KILN, PLAIN,
         "far too much gas for this air (equivalence ratio {1}). Turn gas down",
         "Far more gas goes in than the air can burn (equivalence ratio {1}). The gas that "
         "leaves is rich in carbon monoxide and hydrogen, and burns wherever it meets air. Turn "
         "the gas down first; air that is let in first feeds the fire at the openings. Ventilate."},
    [DW_FIND_COLD_CHAMBER] =
        {DW_SUBJECT_KILN, TEMPERATURE,
         "at {1} a flame that goes out may not relight. Watch every one",
         "The chamber ({1}) is too cold to light gas by itself. This estimate assumes that every "
         "flame burns; only you can check. Watch the flames. If one goes out: shut all gas off, "
         "open all openings, purge with several chamber volumes of air, and only then light "
         "again. A licensed fitter can add flame-failure valves."},
    [DW_FIND_CANDLING] =
        {DW_SUBJECT_KILN, TEMPERATURE,
         "at {1} a flame that goes out may not relight. Watch every one",
         "The chamber ({1}) is too cold to light gas by itself, as in candling. The flames have air to "
         "spare, and this estimate assumes that every one of them burns; only you can check. Watch the "
         "flames. If one goes out: shut all gas off, open all openings, purge with several chamber "
         "volumes of air, and only then light again."},
    [DW_FIND_SOOTING] =
        {DW_SUBJECT_KILN, PLAIN,
         "smoky flame, much CO likely. Give more primary air or less gas",
         "The flames are likely to smoke (equivalence ratio {1}; this is a judgement, not a "
         "calculation). Smoke means soot on the jets and in the flue, and much carbon monoxide; "
         "it adds nothing to the reduction. Give more primary air or less gas, and keep the "
         "ventilation running."},
    [DW_FIND_COLD_STACK_START] =
        {DW_SUBJECT_KILN, NO_NUMBER,
         "a cold stack may not start to draw: warm it, and test it with smoke",
         "With these settings the stack draws once it is warm. While it is cold, it may also "
         "stay still. Warm the stack first, and see that the smoke of a stick goes in at a "
         "spyhole before the main gas comes on."},
    [DW_FIND_DAMPER_RANGE] =
        {DW_SUBJECT_FLUE, SHARE,
         "{0}: the damper formula is rough at {1} open",
         "The damper of {0} is {1} open. Below 10 % and above 95 % open, the damper formula is "
         "outside the range it was measured in. Take the flow and the draft as rough."},
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
    [DW_FIND_SUPPLY_LOSS] =
        {DW_SUBJECT_KILN, SUPPLY,
         "gas pressure at the jets: {1}, less than at the manifold",
         "The gauge is at the manifold, and pressure is lost between it and the jets. At this flow the "
         "jets get {1} gauge, and everything is worked out with that."},
    [DW_FIND_QUENCHED] =
        {DW_SUBJECT_KILN, TEMPERATURE,
         "reactions assumed to stop at {1}: CO is good to some 20 %",
         "The chamber is colder than {1}, the temperature at which the reactions between the "
         "gases are assumed to stop (`quench_temperature`). This assumption changes the CO "
         "figure by some 20 %. The figures for oxygen and the probe are for the chamber's own "
         "temperature."},
    [DW_FIND_MOIST_AIR_RANGE] =
        {DW_SUBJECT_KILN, TEMPERATURE,
         "air at {1} is outside the published range of the humidity formula",
         "The air ({1}) is far outside the range that the humidity formula was published for (15 "
         "to 27 degC, 600 to 1100 hPa). The water in the air is less certain; nothing else "
         "changes."},
    [DW_FIND_GRAPHITE] =
        {DW_SUBJECT_KILN, PLAIN,
         "solid carbon at equilibrium ({1} mol per kg of gas): expect soot",
         "At equilibrium there is solid carbon in the gas ({1} mol per kg of gas): expect soot, "
         "and carbon in the ware."},
    [DW_FIND_CLOSURE] =
        {DW_SUBJECT_KILN, PLAIN,
         "the balances close only to {1}: do not rely on these numbers",
         "A balance closes only to {1}, which is worse than it should be. Do not rely on these "
         "numbers. This is a fault in the program; please report it, with the kiln file."},
    [DW_FIND_SHUTTER_CLOSED] =
        {DW_SUBJECT_BURNER, NO_NUMBER,
         "{0}: the air shutter is shut, so there is no primary air",
         "The air shutter of {0} is shut: the burner draws in no primary air, and the flame has "
         "to find its air in the kiln."},
    [DW_FIND_SATURATED_ROOM] =
        {DW_SUBJECT_KILN, SHARE,
         "the room is too cold for this humidity: its air counts as saturated",
         "The room is colder than the air that the humidity ({1}) is given for, so its air would "
         "be wetter than saturated. It is counted as just saturated."},
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
    dw_add_text(report, line, name);
    dw_add_number(report, line, number);
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
