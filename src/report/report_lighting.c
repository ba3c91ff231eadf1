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
    (void)dw_report_number(r, g, "purge_volumes", "chamber volumes to purge",
                           dw_number_plain(l->purge_volumes, 2));
    (void)dw_report_number(r, g, "purge_volume_m3", "air to purge with",
                           dw_number_of(l->purge_volume_m3, DW_DIM_VOLUME, 3));
    (void)dw_report_number(r, g, "cold_draft_pa", "draft of the cold stack",
                           dw_number_draft(l->cold_draft_pa));
    (void)dw_report_bool(r, g, "cold_stack_backwards", NULL, l->backwards);
    (void)dw_report_number(r, g, "natural_purge_m3_s", "air that this draft moves",
                           dw_number_of(l->natural_m3_s, DW_DIM_VOLUME_FLOW, 2));
    if (isfinite(l->natural_s)) {
        (void)dw_report_number(r, g, "natural_purge_s", NULL,
                               dw_number_of(l->natural_s, DW_DIM_TIME, 3));
    } else {
        (void)dw_report_null(r, g, "natural_purge_s", NULL, "no draft");
    }
    (void)dw_report_text(r, g, NULL, "time to purge by draft alone",
                         isfinite(l->natural_s) ? dw_people_duration(r, l->natural_s)
                                                : "never: the cold stack does not draw");
    if (isfinite(l->fan_s)) {
        (void)dw_report_number(r, g, "fan_purge_s", NULL,
                               dw_number_of(l->fan_s, DW_DIM_TIME, 3));
        (void)dw_report_text(r, g, NULL, "time to purge by the fan", dw_people_duration(r, l->fan_s));
    } else {
        (void)dw_report_null(r, g, "fan_purge_s", NULL, "no purge fan given");
    }
}

/* What holds of every kiln, whether its numbers are known or not. */
static dw_item *put_rule(dw_report *r)
{
    dw_item *prose = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_PLAIN);
    (void)dw_report_text(r, prose, NULL, "",
                         "Never relight without a purge. If a flame goes out, or does not light "
                         "within seconds: shut all gas off, find out why, and purge for the full "
                         "time. Then check that every other valve is shut, and light one burner, "
                         "flame first and gas second. Flame-failure protection is a job for a "
                         "licensed fitter.");
    return prose;
}

static void put_words(dw_report *r, const dw_kiln *kiln, const dw_lighting *l)
{
    dw_item *prose = put_rule(r);
    if (l->backwards) {
        (void)dw_report_text(r, prose, NULL, "",
                             "The cold stack flows DOWN here: outside air comes in through it, "
                             "and gas that is let in goes into the room. Stop the fan, let air "
                             "in, and warm the stack without a flame, for example with an "
                             "electric hot-air gun at its foot.");
    } else if (!(l->natural_s < too_long_s)) {
        (void)dw_report_text(r, prose, NULL, "",
                             "Opening the damper and waiting is not a purge here: a cold stack "
                             "draws next to nothing. Use a fan of known flow, and warm the stack "
                             "before the main gas comes on.");
    } else {
        (void)dw_report_text(r, prose, NULL, "",
                             "The time for a purge by draft assumes still air, open dampers and "
                             "burners, and a stack as cold as the room. Wind and a warmer day "
                             "change it: test with smoke, or use a fan of known flow.");
    }
    (void)dw_report_text(r, prose, NULL, "",
                         l->relative_density > 1.0
                             ? "This gas is heavier than air: it sinks and lies in pits, drains and "
                               "under the kiln. Vents must be low."
                             : "This gas is lighter than air: it rises and gathers under roofs and "
                               "in hoods. Vents must be high.");
    (void)dw_report_text(r, prose, NULL, "",
                         "The times assume that the gas mixes evenly and that none escapes. Near "
                         "the burner and in layers there is a mixture that burns within seconds.");
    if (kiln->chamber.packed_frac == 0.0) {
        (void)dw_report_text(r, prose, NULL, "",
                             "The chamber is counted as empty. Ware and shelves leave less room, "
                             "and the chamber fills sooner (see `packed`).");
    }
    if (l->limit_guessed) {
        (void)dw_report_text(r, prose, NULL, "",
                             "A gas in this fuel has no known limit; the lowest limit of all "
                             "gases is used for it.");
    }
}

void dw_build_lighting(dw_report *report, const dw_report_source *source, const dw_lighting *l)
{
    dw_report *r = report;
    dw_item *g = dw_report_group(r, dw_report_root(r), "lighting", "Lighting and relighting",
                                 DW_STYLE_SECTION);
    (void)dw_report_bool(r, g, "solved", NULL, l->solved);
    if (!l->solved) {
        (void)dw_report_text(r, g, "reason", "not available because", l->reason);
        (void)put_rule(r);
        return;
    }
    dw_number limit = dw_number_share(l->lean_x, 3);
    dw_item *item = dw_report_number(r, g, "lean_limit", "the gas burns in air from", limit);
    dw_report_note(r, item, "recalled, US Bureau of Mines Bulletin 627; mixtures by Le Chatelier");
    limit.si = l->rich_x;
    (void)dw_report_number(r, g, "rich_limit", "to", limit);
    (void)dw_report_bool(r, g, "limit_guessed", NULL, l->limit_guessed);
    (void)dw_report_number(r, g, "relative_density", "density of the gas / of air",
                           dw_number_plain(l->relative_density, 3));
    (void)dw_report_number(r, g, "free_volume_m3", "free volume of the chamber",
                           dw_number_of(l->free_volume_m3, DW_DIM_VOLUME, 3));
    (void)dw_report_number(r, g, "corner_volume_m3", "corner or pit of the room",
                           dw_number_typed(source, offsetof(dw_kiln, room.corner_volume_m3),
                                           dw_number_assumed(source->kiln->room.corner_volume_m3,
                                                             DW_DIM_VOLUME)));
    (void)dw_report_bool(r, g, "chamber_glows", NULL, l->glows);
    put_burners(r, g, source->kiln, l);
    put_purge(r, g, l);
    dw_number ratio = dw_number_plain(l->gas_ratio, 3);
    ratio.resolution_si = 1e-3;
    if (isfinite(l->gas_ratio)) {
        item = dw_report_number(r, g, "chamber_gas_over_limit", "chamber gas / its lean limit",
                                ratio);
        dw_report_note(r, item,
                       l->gas_ratio >= 1.0
                           ? "1 or more: the gas burns or explodes when it meets air, even cold"
                           : "below 1 the gas carries no flame when cold; above some 750 degC "
                             "any leak burns");
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
