#include "chamber_gas.h"
#include "kiln_listing.h"
#include "reports.h"
#include "show_number.h"

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

/* ---- the words inside the doubt ----------------------------------------------------------- */

static bool is_known(const dw_maker *m)
{
    return m->source->doubt != NULL && m->result->solved && m->source->doubt->count > 0;
}

static void words_within(const dw_maker *m, int *first, int *last)
{
    *first = dw_band_of(m->source->data, m->source->doubt->phi_from);
    *last = dw_band_of(m->source->data, m->source->doubt->phi_to);
}

int dw_doubt_word_count(const dw_maker *m)
{
    if (!is_known(m)) return 0;
    int first, last;
    words_within(m, &first, &last);
    return last - first + 1;
}

/* "oxidizing, neutral or light". */
static const char *words_text(const dw_maker *m)
{
    int first, last;
    words_within(m, &first, &last);
    const char *text = m->source->data->band[first].word;
    for (int i = first + 1; i <= last && text != NULL; ++i) {
        text = dw_report_keepf(m->report, "%s%s%s", text, i == last ? " or " : ", ",
                               m->source->data->band[i].word);
    }
    return text != NULL ? text : "";
}

/* What would narrow the doubt most; NULL when nothing would. */
static const char *best_reading(const dw_maker *m)
{
    const dw_settled *settled = &m->source->doubt->settled;
    switch (settled->reading) {
    case DW_READING_OXYGEN:
        if (settled->opened_frac >= 1.0) return "an oxygen reading in the flue with the damper fully open";
        if (settled->opened_frac > 0.0) {
            return dw_report_keepf(m->report, "an oxygen reading in the flue with the damper %.0f%c%% "
                                   "further open", 100.0 * settled->opened_frac, DW_GLUE);
        }
        return "an oxygen reading in the flue";
    case DW_READING_GAS: return "weighing or metering the gas for an hour";
    case DW_READING_SMOKE: return "the height where stick smoke turns";
    case DW_READING_NONE: break;
    }
    return NULL;
}

static const char contains_text[] =
    "Only what was not given is in doubt here; your own figures are taken as exact.";

void dw_add_doubt(const dw_maker *m, dw_item *screen)
{
    const dw_doubt *doubt = m->source->doubt;
    if (doubt == NULL || !m->result->solved) return;
    if (doubt->count == 0) {
        (void)dw_report_text(m->report, screen, NULL, "How sure",
                             "Your own figures are taken as exact, and nothing else is in doubt.");
        return;
    }
    const char *reading = best_reading(m);
    const bool sure = dw_doubt_word_count(m) == 1;
    dw_item *line = dw_report_line(
        m->report, screen, NULL, "How sure",
        sure              ? "The equivalence ratio may be {0} to {1}: {2} all the same. {4}"
        : reading != NULL ? "The equivalence ratio may be {0} to {1}: {2}. {3} would settle it best. {4}"
                          : "The equivalence ratio may be {0} to {1}: {2}. {4}");
    dw_add_output(m->report, line, "estimate", "doubt.equivalence_ratio_low", doubt->phi_from);
    dw_add_output(m->report, line, "estimate", "doubt.equivalence_ratio_high", doubt->phi_to);
    dw_add_text(m->report, line, words_text(m));
    dw_add_text(m->report, line, reading != NULL ? dw_sentence(m->report, reading) : "");
    dw_add_text(m->report, line, contains_text);
    if (line != NULL) line->max_lines = 4;
}

static void put_words_within(const dw_maker *m, dw_item *group)
{
    int first, last;
    words_within(m, &first, &last);
    dw_item *list = dw_report_list(m->report, group, "words_within", NULL);
    for (int i = first; i <= last; ++i) {
        dw_add_text(m->report, list, m->source->data->band[i].word);
    }
    (void)dw_report_text(m->report, group, NULL, "words inside the doubt", words_text(m));
    const dw_settled *settled = &m->source->doubt->settled;
    static const char *const names[] = {[DW_READING_OXYGEN] = "oxygen", [DW_READING_GAS] = "gas used",
                                        [DW_READING_SMOKE] = "smoke height"};
    const bool none = settled->reading == DW_READING_NONE;
    dw_report_output_text(m->report, group, "estimate", "doubt.best_reading",
                          none ? NULL : names[settled->reading]);
    if (!none) (void)dw_report_text(m->report, group, NULL, "settled best by", best_reading(m));
    dw_item *left = dw_report_output(m->report, group, "estimate", "doubt.left_after_best_reading",
                                     settled->left_share);
    if (left != NULL && none) left->label = NULL;
    (void)dw_report_text(m->report, group, "contains", NULL, contains_text);
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
    (void)dw_report_output(r, group, "estimate", "doubt.equivalence_ratio_low", doubt->phi_from);
    (void)dw_report_output(r, group, "estimate", "doubt.equivalence_ratio_high", doubt->phi_to);
    put_words_within(m, group);
    (void)dw_report_bool(r, group, "one_sided", NULL, doubt->one_sided);

    dw_item *table = dw_output_table(r, group, "estimate", "doubt.inputs", "");
    for (int i = 0; i < doubt->count; ++i) {
        const dw_doubt_item *item = &doubt->item[i];
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        dw_output_fill(table->table, cell, m->source->data, DW_IN_DOUBT, doubt, (size_t)i);
        cell[0].text = dw_doubt_input_text(item->input);
        cell[4].text = item->is_factor ? "times" : "";
    }
}
