#include "report_room.h"

#include <math.h>

#include "report_people.h"

/* A purge longer than this nobody waits for [s]. */
static const double too_long_s = 3600.0;

static dw_item *put(dw_report *r, dw_item *group, const dw_lighting *l, const char *key)
{
    const dw_output_row *row = dw_output_find("room", key);
    return dw_report_output(r, group, "room", key, dw_output_read(row, NULL, l, 0));
}

static void put_burners(dw_report *r, dw_item *group, const dw_kiln *kiln, const dw_lighting *l)
{
    const dw_column columns[] = {
        dw_output_column("room", "lighting.burners.*.name"),
        dw_output_column("room", "lighting.burners.*.gas_kg_s"),
        dw_output_column("room", "lighting.burners.*.gas_m3_s"),
        dw_output_column("room", "lighting.burners.*.chamber_at_limit_s"),
        {.label = "chamber can\nburn after", .is_text = true},
        dw_output_column("room", "lighting.burners.*.corner_at_limit_s"),
        {.label = "corner can\nburn after", .is_text = true}};
    dw_item *table = dw_report_table(r, group, "burners", "", columns, 7);
    for (int i = 0; i <= l->burner_count; i++) {
        const dw_lighting_burner *b = i < l->burner_count ? &l->burner[i] : &l->all;
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = i < l->burner_count ? dw_report_keepf(r, "one of '%s'", kiln->burner[i].name)
                                           : "all burners";
        dw_output_fill(table->table, cell, NULL, DW_IN_BURNER, b, 0);
        cell[4].text = dw_people_duration(r, b->chamber_s);
        cell[6].text = dw_people_duration(r, b->corner_s);
    }
}

static void put_purge(dw_report *r, dw_item *g, const dw_lighting *l)
{
    static const char *const keys[] = {
        "lighting.purge_volumes", "lighting.purge_volume_m3", "lighting.cold_draft_pa",
        "lighting.cold_stack_backwards", "lighting.natural_purge_m3_s", "lighting.natural_purge_s"};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; ++i) (void)put(r, g, l, keys[i]);
    (void)dw_report_text(r, g, NULL, "time to purge by draft alone",
                         isfinite(l->natural_s) ? dw_people_duration(r, l->natural_s)
                                                : "never: the cold stack does not draw");
    (void)put(r, g, l, "lighting.fan_purge_s");
    if (isfinite(l->fan_s)) {
        (void)dw_report_text(r, g, NULL, "time to purge by the fan", dw_people_duration(r, l->fan_s));
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
        dw_report_output_text(r, g, "room", "lighting.reason", l->reason);
        (void)put_rule(r);
        return;
    }
    static const char *const keys[] = {"lighting.lean_limit", "lighting.rich_limit",
                                       "lighting.limit_guessed", "lighting.relative_density",
                                       "lighting.free_volume_m3"};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; ++i) (void)put(r, g, l, keys[i]);
    const double corner_m3 = source->kiln->room.corner_volume_m3;
    dw_item *item = dw_report_output(r, g, "room", "lighting.corner_volume_m3", corner_m3);
    if (item != NULL) {
        item->number = dw_number_typed(source, offsetof(dw_kiln, room.corner_volume_m3), item->number);
    }
    (void)put(r, g, l, "lighting.chamber_glows");
    put_burners(r, g, source->kiln, l);
    put_purge(r, g, l);
    if (isfinite(l->gas_ratio)) {
        dw_report_note(r, put(r, g, l, "lighting.chamber_gas_over_limit"),
                       l->gas_ratio >= 1.0
                           ? "1 or more: the gas burns or explodes when it meets air, even cold"
                           : "below 1 the gas carries no flame when cold; above some 750 degC "
                             "any leak burns");
        (void)put(r, g, l, "lighting.chamber_gas_limit");
        item = put(r, g, l, "lighting.chamber_gas_over_limit_hot");
        if (item != NULL && !isfinite(l->gas_ratio_hot)) item->label = NULL;
    }
    put_words(r, source->kiln, l);
}
