/* What `check` asks back: of what was not given, that which would narrow the answer most. And what it says of the gas:
 * where the pressure is read, and how far the gauge may be off. */
#include "kiln_schema.h"
#include "reports.h"

#include <math.h>
#include <stddef.h>

/* ---- leaks --------------------------------------------------------------------------------- */

/* Whether the kiln as read has joints; the assumed leaks hold those too. */
static bool has_joints(const dw_kiln *kiln)
{
    for (int i = 0; i < kiln->opening_count; i++)
        if (kiln->opening[i].kind == DW_OPENING_JOINT) return true;
    return false;
}

static bool leaks_unknown(const dw_kiln *kiln)
{
    return isnan(kiln->chamber.leak_area_m2) && kiln->chamber.leak_kind == DW_LEAK_UNKNOWN;
}

static bool gaps_unknown(const dw_kiln *kiln)
{
    return isnan(kiln->chamber.leak_area_m2) && !has_joints(kiln);
}

static bool gaps_counted_twice(const dw_kiln *kiln)
{
    return isnan(kiln->chamber.leak_area_m2) && has_joints(kiln);
}

/* To add one: when it is asked, of the kiln as read; which key the answer goes to; the question. */
static const struct {
    bool (*asked)(const dw_kiln *as_read);
    const char *about, *text;
} questions[] = {
    {leaks_unknown, "kiln.chamber.leak_kind",
     "How does the door close? A door of bricks with mud in its joints leaks about a third of what one of dry "
     "bricks does. Give chamber.leak_kind: bricked-up and mudded, bricked-up dry, hinged, or lid."},
    {gaps_unknown, "kiln.openings",
     "Which gaps are 2 mm wide or more? With the kiln cold, try the shank of a 2 mm drill all round the door, at the "
     "arch and at the burner blocks. Give each gap that lets it in as an opening of the kind joint, with its width, its depth "
     "through the wall and its length. Narrower gaps let hardly anything through."},
    {gaps_counted_twice, "kiln.chamber.leak_area",
     "What is left of the leaks beside the joints that you gave? The assumed leak area holds all gaps of the "
     "kiln, so your joints are counted twice. Give chamber.leak_area for the rest; 0 cm2 if there is none."},
};

void dw_build_questions(dw_report *r, const dw_report_source *source)
{
    dw_item *root = dw_report_root(r), *prose = NULL;
    dw_item *list = dw_report_list(r, root, "questions", NULL);
    for (size_t i = 0; i < sizeof questions / sizeof questions[0]; i++) {
        if (!questions[i].asked(&source->file->kiln)) continue;
        dw_item *entry = dw_report_group(r, list, NULL, NULL, DW_STYLE_SECTION);
        (void)dw_report_text(r, entry, "about", NULL, questions[i].about);
        (void)dw_report_text(r, entry, "text", NULL, questions[i].text);
        if (prose == NULL) prose = dw_report_group(r, root, NULL, "What would help most", DW_STYLE_PROSE);
        dw_item *line = dw_report_line(r, prose, NULL, "question", "{0}");
        dw_add_text(r, line, questions[i].text);
    }
}

/* ---- gas and jets --------------------------------------------------------------------------- */

/* A dial of class 1.6 may be off by so much of its full scale [en837-1]. */
static const double DIAL_ERROR = 0.016;

/* The heading comes with the first line below it. */
typedef struct gas_section {
    dw_report *report;
    const dw_report_source *source;
    dw_item *prose;
} gas_section;

static dw_item *line_of(gas_section *s, const char *label, const char *pattern)
{
    if (s->prose == NULL) {
        s->prose = dw_report_group(s->report, dw_report_root(s->report), NULL, "The gas and its jets",
                                   DW_STYLE_PROSE);
    }
    return dw_report_line(s->report, s->prose, NULL, label, pattern);
}

/* In the unit of the pressure that was typed. */
static void add_pressure(const gas_section *s, dw_item *line, double si, int digits)
{
    dw_number number = dw_number_of(si, DW_DIM_PRESSURE_GAUGE, digits);
    number.trim = true;
    dw_add_number(s->report, line,
                  dw_number_typed(s->source, offsetof(dw_kiln, operating.gas_pressure_pa), number));
}

static void add_share(const gas_section *s, dw_item *line, double share)
{
    dw_add_number(s->report, line, dw_number_of(share, DW_DIM_RATIO, 2));
}

static void put_supply(gas_section *s, const dw_result *result)
{
    const dw_operating *o = &s->source->kiln->operating;
    for (int i = 0; o->gauge != DW_GAUGE_JET && i < result->finding_count; i++) {
        const dw_finding *f = &result->finding[i];
        if (f->code != DW_FIND_SUPPLY_LOSS) continue;
        dw_item *line = line_of(s, "supply",
                                "The gauge at the manifold reads {0}, and the jets get {1} at this flow: {2} of the "
                                "pressure is lost on the way.");
        add_pressure(s, line, o->gas_pressure_pa, 3);
        add_pressure(s, line, f->value, 3);
        add_share(s, line, 1.0 - f->value / o->gas_pressure_pa);
    }
}

static void put_gauge(gas_section *s)
{
    const dw_operating *o = &s->source->kiln->operating;
    if (!(o->gauge_end_pa > 0.0) || !(o->gas_pressure_pa > 0.0)) return;
    if (o->gas_pressure_pa > o->gauge_end_pa) {
        dw_item *beyond = line_of(s, "WARNING",
                                  "The gas pressure of {0} is beyond the end of the gauge's scale, {1}. Read the gauge "
                                  "again.");
        add_pressure(s, beyond, o->gas_pressure_pa, 3);
        add_pressure(s, beyond, o->gauge_end_pa, 3);
        return;
    }
    dw_item *line = line_of(s, "gauge",
                            "A dial that goes to {0} may be off by {1} at any reading (class 1.6: 1.6 % of the full "
                            "scale). That is {2} of the {3} read here, and about half as much of the gas. A gauge whose "
                            "scale ends nearer the reading is better.");
    const double error_pa = DIAL_ERROR * o->gauge_end_pa;
    add_pressure(s, line, o->gauge_end_pa, 3);
    add_pressure(s, line, error_pa, 2);
    add_share(s, line, error_pa / o->gas_pressure_pa);
    add_pressure(s, line, o->gas_pressure_pa, 3);
}

/* Nobody said what the jet is, nor how much it passes. */
static bool is_unknown(const dw_report_source *source, int i)
{
    const dw_burner *b = &source->kiln->burner[i];
    const int row = dw_keys_row(dw_keys_of(DW_OBJECT_BURNER), "jet.discharge_coefficient");
    return b->lit && b->jet_kind == DW_JET_UNKNOWN && (source->file->given.burner[i] >> row & 1u) == 0;
}

static void put_question(gas_section *s)
{
    const char *names = "";
    for (int i = 0; i < s->source->kiln->burner_count; i++) {
        if (!is_unknown(s->source, i)) continue;
        names = dw_report_keepf(s->report, "%s%s%s", names, names[0] != '\0' ? ", " : "",
                                s->source->kiln->burner[i].name);
        if (names == NULL) return;
    }
    if (names[0] == '\0') return;
    dw_item *line = line_of(s, "question",
                            "What kind of jet is it? With the gas shut off, take out a jet, or have your gas fitter do it "
                            "where that is a fitter's work, and look into its gas side. Is it a hole in sheet thinner than half the hole (thin), a straight hole half to one bore long "
                            "(short), a straight hole longer than it is wide, as drilled through a plug (plug), a wide bore "
                            "that ends in the cone of a drill, then the small hole (drill point), a smooth cone (taper), "
                            "or a rounded inlet (rounded)? Give that word as the jet.kind of {0}. No other answer that "
                            "costs nothing narrows the equivalence ratio as much. Test the joint with soapy water when "
                            "the jet is back in.");
    dw_add_text(s->report, line, names);
}

void dw_build_check_gas(dw_report *report, const dw_report_source *source, const dw_result *result)
{
    gas_section s = {report, source, NULL};
    put_question(&s);
    put_supply(&s, result);
    put_gauge(&s);
}
