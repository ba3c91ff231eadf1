#include <math.h>
#include <stdio.h>
#include <string.h>

#include "finding_text.h"
#include "report_exposure.h"
#include "kiln_listing.h"

enum { SEEN_MAX = 64 };

/** An input that was not given, under the path without the name of its burner, opening or flue. */
typedef struct seen {
    char path[DW_PATH_SIZE];
    double si;
} seen;

typedef struct collector {
    dw_report *report;
    dw_item *section, *list;
    int count;
    seen rows[SEEN_MAX];
} collector;

/* `kiln.burners.left pair.inlet_loss` -> `burners: inlet_loss`: the text lists what six burners
 * have in common once. */
static void common_path(const char *path, char out[DW_PATH_SIZE])
{
    const char *rest = path;
    char step[DW_PATH_SIZE] = "", object[DW_PATH_SIZE];
    (void)dw_path_next(&rest, object, sizeof object, NULL);
    const dw_keys *keys = dw_keys_of(DW_OBJECT_KILN);
    const char *before = rest;
    if (strcmp(object, "kiln") == 0 && dw_path_next(&rest, step, sizeof step, NULL)) {
        const int row = dw_keys_row(keys, step);
        const dw_key_kind kind = row != DW_NO_ROW ? keys->key[row].kind : DW_KEY_NUMBER;
        if (kind == DW_KEY_LIST) {
            memcpy(object, step, sizeof object);
            (void)dw_path_next(&rest, step, sizeof step, NULL);
        } else if (kind == DW_KEY_OBJECT) {
            memcpy(object, step, sizeof object);
        } else {
            rest = before;
        }
    }
    (void)snprintf(out, DW_PATH_SIZE, "%.40s: %.120s", object, rest);
}

static bool is_new(collector *c, const char *path, double si)
{
    for (int i = 0; i < c->count; ++i) {
        if (strcmp(c->rows[i].path, path) == 0 && c->rows[i].si == si) return false;
    }
    if (c->count == SEEN_MAX) return true;
    seen *row = &c->rows[c->count++];
    (void)snprintf(row->path, sizeof row->path, "%s", path);
    row->si = si;
    return true;
}

static int take_row(void *user, const dw_listing_row *row)
{
    collector *c = user;
    dw_report *r = c->report;
    if (row->origin != DW_ORIGIN_DEFAULT || !row->is_number) return 0;
    dw_item *entry = dw_report_group(r, c->list, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_text(r, entry, "path", NULL, row->path);
    (void)dw_report_number(r, entry, dw_report_keepf(r, "value%s", dw_dim_suffix(row->dim)), NULL,
                           dw_number_of(row->si, row->dim, 5));

    char path[DW_PATH_SIZE];
    common_path(row->path, path);
    if (!is_new(c, path, row->si)) return 0;
    dw_item *item = dw_report_number(r, c->section, NULL, dw_report_keep(r, path),
                                     dw_number_assumed(row->si, row->dim));
    dw_report_note(r, item, row->help);
    return dw_report_failed(r);
}

void dw_build_assumptions(const dw_maker *m)
{
    dw_report *r = m->report;
    dw_item *root = dw_report_root(r);
    collector c = {.report = r};
    c.section = dw_report_group(r, root, NULL,
                                "Assumed because they were not given (`check` lists all inputs)",
                                DW_STYLE_SECTION);
    c.list = dw_report_list(r, root, "assumptions", NULL);
    dw_kiln_listing(m->source->kiln, &m->source->file->given, &m->source->data->species, take_row,
                    &c);
    dw_tell(r, c.section,
            isnan(m->source->kiln->stack.wind_coeff) || !dw_kiln_ends_outside(m->source->kiln)
                ? "The model leaves out wind, and gas that burns after it has left the chamber."
                : "Wind is taken as steady, on the stack alone; real wind comes in gusts. The model leaves out gas "
                  "that burns after it has left the chamber.");
}

/* ---- findings ----------------------------------------------------------------------------- */

static void put_findings(const dw_maker *m)
{
    dw_report *r = m->report;
    dw_item *root = dw_report_root(r);
    dw_item *list = dw_report_list(r, root, "diagnostics", NULL);
    if (!m->result->solved) {
        dw_build_notice(r, NULL, list, DW_ERROR, "not-solved", m->result->reason);
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
            dw_build_finding(r, prose, list, m->source->kiln, finding, true);
        }
    }
}

/* ---- what was asked ----------------------------------------------------------------------- */

static void put_setting(const dw_maker *m)
{
    static const struct {
        const char *key;
        bool only_if_set; /* in the text only when it is not 0 */
    } numbers[] = {{"setting.gas_pressure_pa", false},       {"setting.air_pressure_pa", true},
                   {"setting.chamber_temperature_k", false}, {"setting.site_pressure_pa_abs", false},
                   {"setting.air_temperature_k", false},     {"setting.room_temperature_k", false},
                   {"setting.outside_temperature_k", false}, {"setting.relative_humidity", false},
                   {"setting.room_pressure_pa", true},       {"setting.wind_speed_m_s", true}};
    dw_report *r = m->report;
    const dw_kiln *kiln = m->source->kiln;
    dw_item *group = dw_report_group(r, dw_report_root(r), "setting", "The setting",
                                     DW_STYLE_SECTION);
    dw_report_output_text(r, group, "estimate", "setting.fuel", kiln->fuel.name);
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; ++i) {
        const dw_number number = dw_number_setting(m->source, numbers[i].key);
        if (isnan(number.si)) continue;
        dw_item *item = dw_report_output(r, group, "estimate", numbers[i].key, number.si);
        if (item == NULL) return;
        item->number = number;
        if (numbers[i].only_if_set && number.si == 0.0) item->label = NULL;
    }
    bool several = false;
    for (int i = 0; i < kiln->flue_count; ++i)
        several = several || kiln->flue[i].count > 1;
    dw_item *table = dw_output_table(r, group, "estimate", "setting.dampers", "");
    if (table == NULL) return;
    if (several) table->table->column[2].label = "area of each";
    if (!several) table->table->column[3].label = NULL;
    for (int i = 0; i < kiln->flue_count; ++i) {
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        dw_output_fill(table->table, cell, m->source->data, DW_IN_KILN, kiln, (size_t)i);
        cell[0].text = kiln->flue[i].name;
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
    dw_report_output_text(report, root, "estimate", "reason", result->solved ? NULL : result->reason);
    put_findings(&m);
    put_setting(&m);
    dw_build_damper_words(&m);
    dw_build_sections(&m);
    dw_build_doubt(&m);
    dw_build_assumptions(&m);
}
