#include "report_working.h"

#include <math.h>
#include <string.h>

#include "outputs.h"

typedef dw_work_maker maker;

/* A number of the description that was not given, and so is not in the report. */
static bool is_absent(const maker *m, const dw_output_row *row)
{
    double value;
    if (row->place != DW_IN_KILN || row->kind != DW_OUTPUT_NUMBER || row->read != NULL || row->stride > 0 ||
        m->source->kiln == NULL) {
        return false;
    }
    memcpy(&value, (const char *)m->source->kiln + row->offset, sizeof value);
    return isnan(value);
}

static void put_not_worked(const maker *m)
{
    dw_item *list = dw_report_list(m->r, m->root, "not_worked", NULL);
    dw_item *group = dw_report_group(m->r, m->root, NULL, "Keys of the JSON that have no working",
                                     DW_STYLE_STEPS);
    const dw_column columns[] = {{.label = "", .is_text = true}, {.label = "", .is_text = true}};
    dw_item *table = dw_report_table(m->r, group, NULL, "", columns, 2);
    for (const dw_output_list *const *l = dw_output_lists(m->source->command); *l != NULL; ++l) {
        for (size_t i = 0; i < (*l)->count; ++i) {
            const dw_output_row *row = &(*l)->row[i];
            if (row->not_worked == NULL || is_absent(m, row)) continue;
            dw_item *entry = dw_report_group(m->r, list, NULL, NULL, DW_STYLE_SECTION);
            (void)dw_report_text(m->r, entry, "key", NULL, row->key);
            (void)dw_report_text(m->r, entry, "reason", NULL, row->not_worked);
            dw_cell *cell = dw_report_row(m->r, table);
            if (cell == NULL) return;
            cell[0].text = row->key;
            cell[1].text = row->not_worked;
        }
    }
}

/* Does a step name the source, or a sentence in brackets? */
static bool is_used(const maker *m, const dw_source *s)
{
    for (size_t k = 0; k < dw_working_step_count(m->w); ++k) {
        if (strcmp(dw_working_step(m->w, k)->source, s->key) == 0) return true;
    }
    const size_t length = strlen(s->key);
    for (size_t k = 0; k < dw_working_item_count(m->w); ++k) {
        const char *p = dw_working_item(m->w, k)->text;
        while ((p = strchr(p, '[')) != NULL) {
            ++p;
            if (strncmp(p, s->key, length) == 0 && p[length] == ']') return true;
        }
    }
    return false;
}

static void put_sources(const maker *m)
{
    dw_item *group = dw_report_group(m->r, m->root, NULL, "Sources", DW_STYLE_PLAIN);
    const dw_data *data = m->source->data;
    for (size_t i = 0; i < data->source_count; ++i) {
        const dw_source *s = &data->source[i];
        if (!is_used(m, s)) continue;
        dw_tell(m->r, group, dw_report_keepf(m->r, "[%s] %s (%s)", s->key, s->title, s->provenance));
    }
}

/* Does a formula hold this? */
static bool holds(const dw_working *w, const char *part)
{
    for (size_t k = 0; k < dw_working_step_count(w); ++k) {
        if (strstr(dw_working_step(w, k)->formula, part) != NULL) return true;
    }
    return false;
}

static void put_how_to_read(const maker *m, const char *first_line)
{
    dw_item *group =
        dw_report_group(m->r, m->root, NULL, "How the numbers come about", DW_STYLE_PLAIN);
    if (first_line != NULL) {
        dw_tell(m->r, group, first_line);
    } else {
        dw_build_title(m->r, m->source, group);
    }
    dw_tell(m->r, group, "");
    static const struct {
        const char *text, *with;   /* only with a formula that holds this,
        `!`: without; NULL: always */
    } lines[] = {
        {"Every step gives its formula, the numbers put in with where they come from, and the "
         "result. All numbers are in SI units: metres, kilograms, seconds, kelvin, pascals, "
         "watts, moles. Unless a step says otherwise, pressures are relative to the room at the "
         "same height.", NULL},
        {"* means times, ^ to the power of, ln the natural and log10 the decimal logarithm; "
         "sum(...) adds up the rows of a table. Results have six digits; the numbers put in have "
         "as many digits as it takes to get that result.", NULL},
        {"largest(...) is the largest value in the rows of a table.", "largest("},
        {"betainc(x, a, b) is the share of a beta distribution below x, the regularised incomplete "
         "beta function; spreadsheets have it too.", "betainc("},
        {"Some numbers cannot be worked out directly: the pressure decides the flows, and the "
         "flows decide the pressure. The program tries values until a balance holds, and shows "
         "that balance with both its sides.", "sum(in) = sum(out)"},
        {"Some numbers cannot be worked out directly. The program tries values until a balance "
         "holds, and shows that balance with both its sides.", "!sum(in) = sum(out)"},
        {"The 0.01 in the flows through openings keeps the square root smooth where there is no "
         "pressure.", "^2 + 0.01^2"},
        {"[word] names the source; all sources are listed at the end.", NULL},
        {"", NULL}};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; ++i) {
        const char *with = lines[i].with;
        if (with != NULL && holds(m->w, with + (with[0] == '!')) == (with[0] == '!')) continue;
        dw_tell(m->r, group, lines[i].text);
    }
    dw_build_caution(m->r, group, "");
}

void dw_build_working(dw_report *report, const dw_report_source *source, const dw_working *w,
                      const char *first_line, const dw_report *of, dw_unit_system system)
{
    maker m = {.r = report, .source = source, .w = w, .of = of, .system = system};
    m.root = dw_report_root(report);
    dw_work_digits *digits = dw_work_digits_find(w);
    if (digits == NULL) {
        dw_report_fail(report);
        return;
    }
    m.digits = digits;
    dw_build_head(report, source);
    put_how_to_read(&m, first_line);
    m.steps = dw_report_list(report, m.root, "steps", NULL);
    m.tables = dw_report_list(report, m.root, "tables", NULL);
    dw_item *section = NULL;
    const char *title = "";
    for (size_t i = 0; i < dw_working_item_count(w); ++i) {
        const dw_work_item *item = dw_working_item(w, i);
        switch (item->kind) {
        case DW_WORK_SECTION:
            title = dw_report_keep(report, item->text);
            section = dw_report_group(report, m.root, NULL, title, DW_STYLE_PLAIN);
            break;
        case DW_WORK_TEXT:
            dw_tell(report, section, item->text);
            dw_tell(report, section, "");
            break;
        case DW_WORK_TABLE: dw_build_work_table(&m, section, item->index); break;
        case DW_WORK_LINE: dw_build_work_step(&m, section, title, item->index); break;
        }
    }
    if (of != NULL) put_not_worked(&m);
    put_sources(&m);
    dw_work_digits_free(digits);
}
