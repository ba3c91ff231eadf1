#include "kiln_listing.h"
#include "report_parts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

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
    (void)dw_report_text(r, c.section, NULL, "",
                         "The model leaves out wind, and gas that burns after it has left the "
                         "chamber.");
}
