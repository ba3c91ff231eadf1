#include "report_room.h"

#include <math.h>

#include "report_people.h"

/* A purge longer than this nobody waits for [s]. */
static const double too_long_s = 3600.0;

static double finite_or_nan(double value)
{
    return isfinite(value) ? value : NAN;
}

static void put_burners(dw_report *r, dw_item *group, const dw_kiln *kiln, const dw_lighting *l)
{
    /* Litres a minute. */
    dw_number gas = dw_number_of(NAN, DW_DIM_VOLUME_FLOW, 3);
    gas.small = true;
    const dw_number time = dw_number_of(NAN, DW_DIM_TIME, 3);
    const dw_column columns[] = {
        {.key = "name", .label = "\nvalve open, no flame", .is_text = true},
        {.key = "gas_kg_s", .number = dw_number_of(NAN, DW_DIM_MASS_FLOW, 3)},
        {.key = "gas_m3_s", .label = "gas let\nin", .number = gas},
        {.key = "chamber_at_limit_s", .number = time},
        {.label = "chamber can\nburn after", .is_text = true},
        {.key = "corner_at_limit_s", .number = time},
        {.label = "corner can\nburn after", .is_text = true}};
    dw_item *table = dw_report_table(r, group, "burners", "", columns, 7);
    for (int i = 0; i <= l->burner_count; i++) {
        const dw_lighting_burner *b = i < l->burner_count ? &l->burner[i] : &l->all;
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = i < l->burner_count ? dw_report_keepf(r, "one of '%s'", kiln->burner[i].name)
                                           : "all burners";
        cell[1].si = b->gas_kg_s;
        cell[2].si = b->gas_m3_s;
        cell[3].si = finite_or_nan(b->chamber_s);
        cell[4].text = dw_people_duration(r, b->chamber_s);
        cell[5].si = finite_or_nan(b->corner_s);
        cell[6].text = dw_people_duration(r, b->corner_s);
    }
}

static void put_purge(dw_report *r, dw_item *g, const dw_lighting *l)
{
    (void)dw_report_number(r, g, "purge_volumes", "purge, chamber volumes",
                           dw_number_plain(l->purge_volumes, 2));
    (void)dw_report_number(r, g, "purge_volume_m3", "that is air",
                           dw_number_of(l->purge_volume_m3, DW_DIM_VOLUME, 3));
    (void)dw_report_number(r, g, "cold_draft_pa", "draft of the cold stack",
                           dw_number_draft(l->cold_draft_pa));
    (void)dw_report_bool(r, g, "cold_stack_backwards", NULL, l->backwards);
    (void)dw_report_number(r, g, "natural_purge_m3_s", "air through the cold kiln by it",
                           dw_number_of(l->natural_m3_s, DW_DIM_VOLUME_FLOW, 2));
    if (isfinite(l->natural_s)) {
        (void)dw_report_number(r, g, "natural_purge_s", NULL,
                               dw_number_of(l->natural_s, DW_DIM_TIME, 3));
    } else {
        (void)dw_report_null(r, g, "natural_purge_s", NULL, "no draft");
    }
    (void)dw_report_text(r, g, NULL, "purge by it alone",
                         isfinite(l->natural_s) ? dw_people_duration(r, l->natural_s)
                                                : "never: a cold stack here draws nothing");
    if (isfinite(l->fan_s)) {
        (void)dw_report_number(r, g, "fan_purge_s", NULL,
                               dw_number_of(l->fan_s, DW_DIM_TIME, 3));
        (void)dw_report_text(r, g, NULL, "purge by the fan", dw_people_duration(r, l->fan_s));
    } else {
        (void)dw_report_null(r, g, "fan_purge_s", NULL, "no purge fan given");
    }
}

static void put_words(dw_report *r, const dw_kiln *kiln, const dw_lighting *l)
{
    dw_item *prose = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_PLAIN);
    (void)dw_report_text(r, prose, NULL, "",
                         "Never relight without a purge. A flame that goes out, or does not light "
                         "within seconds: all gas off, find out why, purge for the full time, then "
                         "flame first and gas second, one burner, every other valve checked shut. "
                         "Flame-failure protection is for a licensed fitter.");
    if (l->backwards) {
        (void)dw_report_text(r, prose, NULL, "",
                             "The cold stack flows DOWN here: outside air comes in through it, and "
                             "gas that is let in goes into the room. Warm the stack, stop the fan, "
                             "let air in.");
    } else if (!(l->natural_s < too_long_s)) {
        (void)dw_report_text(r, prose, NULL, "",
                             "Opening the damper and waiting is no purge here: a cold stack draws "
                             "nearly nothing. Use a fan of known flow, and warm the stack before "
                             "the main gas comes on.");
    } else {
        (void)dw_report_text(r, prose, NULL, "",
                             "The purge by draft is for still air, dampers and burners open, the "
                             "stack as cold as the room. Wind and a warmer day change it: test "
                             "with smoke, or use a fan of known flow.");
    }
    (void)dw_report_text(r, prose, NULL, "",
                         l->relative_density > 1.0
                             ? "This gas is heavier than air: it sinks and lies in pits, drains and "
                               "under the kiln. Vents must be low."
                             : "This gas is lighter than air: it rises and gathers under roofs and "
                               "in hoods. Vents must be high.");
    (void)dw_report_text(r, prose, NULL, "",
                         "The times are for gas mixed evenly and nothing escaping. Near the burner "
                         "and in layers a mixture that burns is there within seconds.");
    if (kiln->chamber.packed_frac == 0.0) {
        (void)dw_report_text(r, prose, NULL, "",
                             "The chamber is counted as empty; ware and shelves leave less room, "
                             "and it fills sooner (`packed`).");
    }
    if (l->limit_guessed) {
        (void)dw_report_text(r, prose, NULL, "",
                             "A gas of this fuel has no known limit; the lowest of all gases is "
                             "taken for it.");
    }
}

void dw_build_lighting(dw_report *report, const dw_report_source *source, const dw_lighting *l)
{
    dw_report *r = report;
    dw_item *g = dw_report_group(r, dw_report_root(r), "lighting", "Lighting and relighting",
                                 DW_STYLE_SECTION);
    dw_number limit = dw_number_share(l->lean_x, 3);
    dw_item *item = dw_report_number(r, g, "lean_limit", "this gas burns in air from", limit);
    dw_report_note(r, item, "recalled, US Bureau of Mines Bulletin 627; mixtures by Le Chatelier");
    limit.si = l->rich_x;
    (void)dw_report_number(r, g, "rich_limit", "to", limit);
    (void)dw_report_bool(r, g, "limit_guessed", NULL, l->limit_guessed);
    (void)dw_report_number(r, g, "relative_density", "density / that of air",
                           dw_number_plain(l->relative_density, 3));
    (void)dw_report_number(r, g, "free_volume_m3", "chamber less ware and shelves",
                           dw_number_of(l->free_volume_m3, DW_DIM_VOLUME, 3));
    (void)dw_report_number(r, g, "corner_volume_m3", "corner or pit of the room",
                           dw_number_typed(source, offsetof(dw_kiln, room.corner_volume_m3),
                                           dw_number_assumed(source->kiln->room.corner_volume_m3,
                                                             DW_DIM_VOLUME)));
    (void)dw_report_bool(r, g, "chamber_glows", NULL, l->glows);
    put_burners(r, g, source->kiln, l);
    put_purge(r, g, l);
    dw_number ratio = dw_number_plain(l->gas_ratio, 3);
    if (isfinite(l->gas_ratio)) {
        item = dw_report_number(r, g, "chamber_gas_over_limit", "chamber gas / its lean limit",
                                ratio);
        dw_report_note(r, item,
                       l->gas_ratio >= 1.0
                           ? "1 or more: it burns or explodes once it meets air, also when cold"
                           : "below 1 it carries no flame when cold; above some 750 degC any leak "
                             "burns");
        (void)dw_report_number(r, g, "chamber_gas_limit", NULL,
                               dw_number_share(l->gas_limit_x, 3));
        ratio.si = l->gas_ratio_hot;
        if (isfinite(l->gas_ratio_hot)) {
            (void)dw_report_number(r, g, "chamber_gas_over_limit_hot",
                                   "the same at its temperature", ratio);
        } else {
            (void)dw_report_null(r, g, "chamber_gas_over_limit_hot", NULL,
                                 "too hot: any leak burns");
        }
    }
    put_words(r, source->kiln, l);
}
