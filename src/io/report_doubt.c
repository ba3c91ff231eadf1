#include "kiln_listing.h"
#include "report_parts.h"

#include <math.h>
#include <string.h>

/* Which keys stand behind an input of the doubt: where the path begins, how it ends. */
static const struct {
    dw_doubt_input input;
    const char *begin, *end;
} keys[] = {
    {DW_DOUBT_LEAK_AREA, "kiln.chamber.", ".leak_area"},
    {DW_DOUBT_DAMPER_SCALE, "kiln.flues.", ".damper.scale"},
    {DW_DOUBT_DAMPER_LEAK, "kiln.flues.", ".damper.leak"},
    {DW_DOUBT_JET_DISCHARGE, "kiln.burners.", ".jet.discharge_coefficient"},
    {DW_DOUBT_PORT_TEMPERATURE, "kiln.burners.", ".port_temperature_ratio"},
    {DW_DOUBT_MIXING_LOSS, "kiln.burners.", ".throat_friction"},
    {DW_DOUBT_MIXING_LOSS, "kiln.burners.", ".port_loss"},
    {DW_DOUBT_OPENING_DISCHARGE, "kiln.openings.", ".discharge_coefficient"},
    {DW_DOUBT_STACK_HEAT_LOSS, "kiln.stack.", ".heat_loss_ntu"},
};

static bool ends_with(const char *text, const char *end)
{
    const size_t a = strlen(text), b = strlen(end);
    return a >= b && strcmp(text + a - b, end) == 0;
}

static int take_row(void *user, const dw_listing_row *row)
{
    bool *given = user;
    if (row->origin != DW_ORIGIN_GIVEN) return 0;
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; ++i) {
        if (strncmp(row->path, keys[i].begin, strlen(keys[i].begin)) == 0 &&
            ends_with(row->path, keys[i].end)) {
            given[keys[i].input] = true;
        }
    }
    return 0;
}

void dw_doubt_given(const dw_report_source *source, bool given[DW_DOUBT_COUNT])
{
    for (int i = 0; i < DW_DOUBT_COUNT; ++i) given[i] = false;
    dw_kiln_listing(source->kiln, &source->file->given, &source->data->species, take_row, given);
}

void dw_build_doubt(const dw_maker *m)
{
    const dw_doubt *doubt = m->source->doubt;
    dw_report *r = m->report;
    if (doubt == NULL || doubt->count == 0) {
        (void)dw_report_null(r, dw_report_root(r), "doubt", NULL, NULL);
        return;
    }
    dw_item *group = dw_report_group(r, dw_report_root(r), "doubt",
                                     "How sure the equivalence ratio is", DW_STYLE_SECTION);
    dw_number ratio = dw_number_plain(NAN, 4);
    ratio.resolution_si = 1.0e-3;
    ratio.si = doubt->phi_from;
    (void)dw_report_number(r, group, "equivalence_ratio_low", "all together, from", ratio);
    ratio.si = doubt->phi_to;
    dw_item *to = dw_report_number(r, group, "equivalence_ratio_high", "to", ratio);
    dw_report_note(r, to, "a first idea of the spread, from inputs that were not given: one at a "
                          "time to the ends of its usual range, then the root of the squares");
    (void)dw_report_bool(r, group, "one_sided", NULL, doubt->one_sided);

    const dw_number plain = dw_number_plain(NAN, 3);
    const dw_column columns[] = {
        {.key = "input", .label = "\nnot given", .is_text = true},
        {.key = "low", .label = "tried\nfrom", .number = plain},
        {.key = "high", .label = "\nto", .number = plain},
        {.key = "is_factor", .is_truth = true},
        {.key = NULL, .label = "\n", .is_text = true},
        {.key = "equivalence_ratio_at_low", .label = "equivalence\nratio then", .number = ratio},
        {.key = "equivalence_ratio_at_high", .label = "\nand then", .number = ratio}};
    dw_item *table = dw_report_table(r, group, "inputs", "", columns,
                                     sizeof columns / sizeof columns[0]);
    for (int i = 0; i < doubt->count; ++i) {
        const dw_doubt_item *item = &doubt->item[i];
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = dw_doubt_input_text(item->input);
        cell[1].si = item->low;
        cell[2].si = item->high;
        cell[3].si = item->is_factor ? 1.0 : 0.0;
        cell[4].text = item->is_factor ? "times" : "";
        cell[5].si = item->phi_low;
        cell[6].si = item->phi_high;
    }
}
