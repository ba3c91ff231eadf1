/* What the program asks back: of the inputs that were not given, those that would narrow the answer most. */
#include "reports.h"

#include <math.h>

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
     "Which gaps are 2 mm wide or more? Try the shank of a 2 mm drill all round the door, at the arch and at the "
     "burner blocks. Give each gap that lets it in as an opening of the kind joint, with its width, its depth "
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
