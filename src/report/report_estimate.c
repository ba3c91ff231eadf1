#include "finding_text.h"
#include "report_parts.h"

#include <math.h>

/* ---- findings ----------------------------------------------------------------------------- */

static const char *grade_label(dw_grade grade)
{
    switch (grade) {
    case DW_HAZARD: return "HAZARD";
    case DW_WARNING: return "WARNING";
    case DW_ERROR: return "ERROR";
    default: return "note";
    }
}

static void put_finding(const dw_maker *m, dw_item *prose, dw_item *list, const dw_finding *finding,
                        const dw_finding_words *words)
{
    dw_report *r = m->report;
    const dw_kiln *kiln = m->source->kiln;
    (void)dw_finding_line(r, prose, NULL, grade_label(words->grade), kiln, finding);
    dw_item *entry = dw_report_group(r, list, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_text(r, entry, "grade", NULL, dw_grade_text(words->grade));
    (void)dw_report_text(r, entry, "code", NULL, words->code);
    if (words->subject != DW_SUBJECT_KILN) {
        char name[DW_NAME_SIZE + 16];
        dw_finding_name(kiln, finding, name, sizeof name);
        (void)dw_report_text(r, entry, "name", NULL, name);
    }
    (void)dw_finding_line(r, entry, "text", NULL, kiln, finding);
}

static void put_findings(const dw_maker *m)
{
    dw_report *r = m->report;
    dw_item *root = dw_report_root(r);
    dw_item *list = dw_report_list(r, root, "diagnostics", NULL);
    if (!m->result->solved) {
        dw_item *entry = dw_report_group(r, list, NULL, NULL, DW_STYLE_SECTION);
        (void)dw_report_text(r, entry, "grade", NULL, dw_grade_text(DW_ERROR));
        (void)dw_report_text(r, entry, "code", NULL, "not-solved");
        (void)dw_report_text(r, entry, "text", NULL, m->result->reason);
        return;
    }
    if (m->result->finding_count == 0) return;
    dw_item *prose = dw_report_group(r, root, NULL, "Hazards, warnings and notes", DW_STYLE_PROSE);
    static const dw_grade order[] = {DW_HAZARD, DW_WARNING, DW_NOTE};
    for (size_t k = 0; k < sizeof order / sizeof order[0]; ++k) {
        for (int i = 0; i < m->result->finding_count; ++i) {
            dw_finding_words words;
            const dw_finding *finding = &m->result->finding[i];
            if (!dw_finding_words_of(finding->code, &words) || words.grade != order[k]) continue;
            put_finding(m, prose, list, finding, &words);
        }
    }
}

/* ---- what was asked ----------------------------------------------------------------------- */

#define TYPED(field_, number_) dw_number_typed(source, offsetof(dw_kiln, field_), (number_))

static void put_setting(const dw_maker *m)
{
    dw_report *r = m->report;
    const dw_kiln *kiln = m->source->kiln;
    const dw_site *site = &kiln->site;
    dw_item *group = dw_report_group(r, dw_report_root(r), "setting", "The setting",
                                     DW_STYLE_SECTION);
    (void)dw_report_text(r, group, "fuel", "fuel", kiln->fuel.name);
    const dw_report_source *source = m->source;
    (void)dw_report_number(
        r, group, "gas_pressure_pa", "gas pressure",
        TYPED(operating.gas_pressure_pa,
              dw_number_input(kiln->operating.gas_pressure_pa, DW_DIM_PRESSURE_GAUGE)));
    (void)dw_report_number(
        r, group, "air_pressure_pa", kiln->operating.air_pressure_pa > 0.0 ? "air pressure" : NULL,
        TYPED(operating.air_pressure_pa,
              dw_number_input(kiln->operating.air_pressure_pa, DW_DIM_PRESSURE_GAUGE)));
    (void)dw_report_number(r, group, "chamber_temperature_k", "thermocouple reading",
                           TYPED(operating.chamber_temperature_k,
                                 dw_number_temperature(kiln->operating.chamber_temperature_k)));
    (void)dw_report_number(
        r, group, "site_pressure_pa_abs", "air pressure here (absolute)",
        TYPED(site.pressure_pa_abs, dw_number_of(site->pressure_pa_abs, DW_DIM_PRESSURE_ABS, 4)));
    (void)dw_report_number(
        r, group, "air_temperature_k", NULL,
        TYPED(site.air_temperature_k, dw_number_temperature(site->air_temperature_k)));
    (void)dw_report_number(
        r, group, "room_temperature_k", "room temperature",
        TYPED(site.room_temperature_k, dw_number_temperature(site->room_temperature_k)));
    (void)dw_report_number(
        r, group, "outside_temperature_k", "outside temperature",
        TYPED(site.outside_temperature_k, dw_number_temperature(site->outside_temperature_k)));
    (void)dw_report_number(r, group, "relative_humidity", "relative humidity",
                           dw_number_input(site->relative_humidity, DW_DIM_RATIO));
    (void)dw_report_number(r, group, "room_pressure_pa",
                           site->room_pressure_pa != 0.0 ? "pressure of the room against outside"
                                                         : NULL,
                           TYPED(site.room_pressure_pa, dw_number_draft(site->room_pressure_pa)));
    bool several = false;
    for (int i = 0; i < kiln->flue_count; ++i)
        several = several || kiln->flue[i].count > 1;
    const dw_column columns[] = {
        {.key = "name", .label = "flue", .is_text = true},
        {.key = "open_frac", .label = "damper open", .number = dw_number_share(0.0, 3)},
        {.key = "area_m2",
         .label = several ? "area of each" : "flue area",
         .number = dw_number_of(0.0, DW_DIM_AREA, 3)},
        {.key = "count",
         .label = several ? "flues like this" : NULL,
         .number = dw_number_input(0.0, DW_DIM_NUMBER)}};
    dw_item *table = dw_report_table(r, group, "dampers", "", columns, 4);
    for (int i = 0; i < kiln->flue_count; ++i) {
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = kiln->flue[i].name;
        cell[1].si = kiln->flue[i].damper.open_frac;
        cell[2].si = kiln->flue[i].area_m2;
        cell[3].si = kiln->flue[i].count;
    }
}

void dw_build_estimate(dw_report *report, const dw_report_source *source, const dw_result *result)
{
    const dw_maker m = {report, source, result};
    dw_item *root = dw_report_root(report);
    dw_build_screen(report, source, result);
    dw_build_head(report, source);
    (void)dw_report_bool(report, root, "solved", NULL, result->solved);
    if (result->solved) {
        (void)dw_report_null(report, root, "reason", NULL, NULL);
    } else {
        (void)dw_report_text(report, root, "reason", NULL, result->reason);
    }
    put_findings(&m);
    put_setting(&m);
    dw_build_damper_words(&m);
    dw_build_sections(&m);
    dw_build_doubt(&m);
    dw_build_assumptions(&m);
}
