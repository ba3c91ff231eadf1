#include "diag.h"
#include "kiln_listing.h"
#include "kiln_typed.h"
#include "outputs.h"
#include "reports.h"
#include "rules.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- every input -------------------------------------------------------------------------- */

typedef struct listing {
    dw_report *report;
    const dw_report_source *source;
    dw_item *inputs;        /* JSON object and the sections in it */
    dw_item *origins;
    dw_item *section;       /* of the object the last row belonged to */
    char object[DW_PATH_SIZE];
    int count, taken;       /* rows, and those not given */
} listing;

/* Bytes of the path that name the object: `kiln.burners.left pair`, `kiln.stack`, `operating`.
 * The rest is the key, which may have a group in it (`jet.diameter`). */
static size_t object_length(const char *path)
{
    const char *rest = path;
    char step[DW_PATH_SIZE];
    if (!dw_path_next(&rest, step, sizeof step, NULL) || rest[0] == '\0') return 0;
    const char *after_first = rest;
    const int row = dw_keys_row(dw_keys_of(DW_OBJECT_FILE), step);
    const bool in_kiln = row != DW_NO_ROW &&
                         dw_keys_of(DW_OBJECT_FILE)->key[row].child == DW_OBJECT_KILN;
    if (in_kiln && dw_path_next(&rest, step, sizeof step, NULL) && rest[0] != '\0') {
        const dw_keys *keys = dw_keys_of(DW_OBJECT_KILN);
        const int inner = dw_keys_row(keys, step);
        if (inner != DW_NO_ROW && keys->key[inner].kind == DW_KEY_LIST) {
            (void)dw_path_next(&rest, step, sizeof step, NULL);
            return (size_t)(rest - path);
        }
        if (inner != DW_NO_ROW && keys->key[inner].kind == DW_KEY_OBJECT) {
            return (size_t)(rest - path);
        }
    }
    return (size_t)(after_first - path);
}

static const char *origin_mark(dw_origin origin)
{
    switch (origin) {
    case DW_ORIGIN_DEFAULT: return "default";
    case DW_ORIGIN_DERIVED: return "derived";
    default: return NULL;
    }
}

static void begin_object(listing *l, const char *path, size_t length)
{
    char object[DW_PATH_SIZE];
    (void)snprintf(object, sizeof object, "%.*s", (int)length, path);
    if (l->section != NULL && strcmp(object, l->object) == 0) return;
    memcpy(l->object, object, sizeof object);
    const size_t own = length > 0 && object[length - 1] == '.' ? length - 1 : length;
    const char *title = dw_report_keepf(l->report, "%.*s", (int)own, object);
    if (title == NULL) return;
    for (dw_item *old = l->inputs->first; old != NULL; old = old->next) {
        if (strcmp(old->label, title) == 0) {
            l->section = old;
            return;
        }
    }
    l->section = dw_report_group(l->report, l->inputs, NULL, title, DW_STYLE_SECTION);
}

static int take_row(void *user, const dw_listing_row *row)
{
    listing *l = user;
    dw_report *r = l->report;
    const size_t length = object_length(row->path);
    begin_object(l, row->path, length);
    const char *label = dw_report_keep(r, row->path + length);
    dw_item *item;
    const char *key;
    if (row->is_number) {
        key = dw_report_keepf(r, "%s%s", row->path, dw_dim_suffix(row->dim));
        dw_number number = row->origin == DW_ORIGIN_GIVEN ? dw_number_input(row->si, row->dim)
                                                          : dw_number_assumed(row->si, row->dim);
        if (row->row != DW_NO_ROW) {
            number = dw_number_typed(l->source,
                                     dw_object_offset(row->object, row->index) +
                                         dw_keys_of(row->object)->key[row->row].offset,
                                     number);
        }
        item = dw_report_number(r, l->section, key, label, number);
    } else {
        key = dw_report_keep(r, row->path);
        /* The heading says the name of a burner, an opening or a flue. */
        const bool said = label != NULL && strcmp(label, "name") == 0 && strchr(l->object, '.') !=
                          strrchr(l->object, '.');
        item = dw_report_text(r, l->section, key, said ? NULL : label, row->text);
    }
    dw_report_mark(item, origin_mark(row->origin));
    if (row->object == DW_OBJECT_BURNER && row->origin == DW_ORIGIN_DERIVED && row->is_number &&
        row->dim == DW_DIM_PRESSURE_GAUGE && l->source->kiln->burner[row->index].gas_shared &&
        l->source->kiln->operating.gauge != DW_GAUGE_JET && label != NULL &&
        strcmp(label, "gas_pressure") == 0) {
        dw_report_mark(item, "at the gauge");
    }
    dw_report_note(r, item, row->help);
    char as[DW_TYPED_AS_SIZE];
    if (row->row != DW_NO_ROW &&
        dw_typed_as(l->source->file, row->object, row->index, row->row, as)) {
        dw_report_mark(item, dw_report_keepf(r, "given as %s", as));
    }
    (void)dw_report_text(r, l->origins, key, NULL, dw_origin_text(row->origin));
    ++l->count;
    l->taken += row->origin != DW_ORIGIN_GIVEN;
    return dw_report_failed(r);
}

/* ---- rules of thumb ----------------------------------------------------------------------- */

/* A plain ratio of two areas reads as 1.4, not as 140 %. */
static dw_number rule_number(const dw_rule *rule, double si)
{
    const dw_dim dim = rule->dim == DW_DIM_RATIO ? DW_DIM_NUMBER : rule->dim;
    dw_number number = dw_number_of(si, dim, 3);
    number.trim = true;
    return number;
}

static const char *state_word(dw_rule_state state)
{
    static const char *const words[] = {[DW_RULE_USUAL] = "usual",
                                        [DW_RULE_LOW] = "low",
                                        [DW_RULE_HIGH] = "high",
                                        [DW_RULE_UNKNOWN] = "unknown"};
    return words[state];
}

static const char *rule_subject(const dw_report_source *source, const dw_rule_finding *f)
{
    return f->burner >= 0 ? source->kiln->burner[f->burner].name : "the kiln";
}

/* What a rule's number is, as a potter says it; the key for a rule that is not known here. */
static const char *rule_label(const dw_rule *rule)
{
    static const struct {
        const char *key, *label;
    } labels[] = {
        {"heat_per_volume_w_m3", "net heat input / chamber volume"},
        {"flue_to_port_area", "flue area / port area"},
        {"throat_to_jet_diameter", "throat diameter / jet diameter"},
        {"port_to_throat_area", "port area / throat area"},
        {"stack_height_to_chamber_height", "stack height / chamber height"},
        {"stack_width_to_chamber_width", "stack width / chamber width"},
        {"stack_to_flue_area", "stack area / flue area"},
        {"gas_pressure_pa", "gas pressure"},
        {"leak_per_surface", "leak area / inside surface"},
        {"flue_area_per_net_power_m2_w", "flue area / net heat input"},
        {"primary_air_low_pressure", "primary air at low gas pressure"},
        {"primary_air_high_pressure", "primary air at high gas pressure"},
        {"primary_air_blown", "primary air of blown burners"},
        {"neutral_plane_to_chamber_height", "height of the neutral plane / chamber height"},
        {"draft_per_stack_height_pa_m", "draft at the stack base / stack height"},
    };
    for (size_t i = 0; i < sizeof labels / sizeof labels[0]; ++i) {
        if (strcmp(rule->key, labels[i].key) == 0) return labels[i].label;
    }
    return rule->key;
}

/* What it usually means that a kiln is outside the rule; NULL when it is not, or nothing is said. */
static const char *rule_meaning(const dw_rule_finding *f)
{
    const char *meaning = f->state == DW_RULE_LOW    ? f->rule->when_low
                          : f->state == DW_RULE_HIGH ? f->rule->when_high
                                                     : "";
    return meaning[0] != '\0' ? meaning : NULL;
}

static void put_rule_text(dw_report *r, dw_item *prose, const dw_report_source *source,
                          const dw_rule_finding *f)
{
    static const char *const patterns[] = {
        [DW_RULE_USUAL] = "{0} {1} (usual {3#} to {4}). {2}",
        [DW_RULE_LOW] = "{0} {1} is below the usual {3#} to {4}. {2} This is common practice, not "
                        "a law; check the inputs.",
        [DW_RULE_HIGH] = "{0} {1} is above the usual {3#} to {4}. {2} This is common practice, not "
                         "a law; check the inputs.",
        [DW_RULE_UNKNOWN] = "{0}: not available for this kiln. {2}"};
    /* Only the neutral plane is outside without a number. */
    static const char *const beyond[] = {
        [DW_RULE_LOW] = "{0}: none, every opening pushes gas out (usual {3#} to {4}). {2} This is common "
                        "practice, not a law; check the inputs.",
        [DW_RULE_HIGH] = "{0}: none, every opening draws air in (usual {3#} to {4}). {2} This is common "
                         "practice, not a law; check the inputs."};
    const bool outside = f->state == DW_RULE_LOW || f->state == DW_RULE_HIGH;
    dw_item *line = dw_report_line(r, prose, NULL, outside ? "WARNING" : "usual",
                                   outside && isnan(f->value) ? beyond[f->state]
                                                              : patterns[f->state]);
    const char *label = rule_label(f->rule);
    if (f->burner >= 0) {
        label = dw_report_keepf(r, "%s: %s", source->kiln->burner[f->burner].name, label);
    }
    dw_add_text(r, line, label);
    dw_add_number(r, line, rule_number(f->rule, f->value));
    const char *meaning = rule_meaning(f);
    dw_add_text(r, line, meaning == NULL ? f->rule->text
                                         : dw_report_keepf(r, "%s %s", f->rule->text, meaning));
    dw_add_number(r, line, rule_number(f->rule, f->rule->low));
    dw_add_number(r, line, rule_number(f->rule, f->rule->high));
}

static void put_rule_json(dw_report *r, dw_item *list, const dw_report_source *source,
                          const dw_rule_finding *f)
{
    dw_item *entry = dw_report_group(r, list, NULL, NULL, DW_STYLE_SECTION);
    (void)dw_report_text(r, entry, "rule", NULL, f->rule->key);
    (void)dw_report_text(r, entry, "name", NULL, rule_subject(source, f));
    const char *suffix = dw_dim_suffix(rule_number(f->rule, 0.0).dim);
    (void)dw_report_number(r, entry, dw_report_keepf(r, "value%s", suffix), NULL,
                           rule_number(f->rule, f->value));
    (void)dw_report_number(r, entry, dw_report_keepf(r, "low%s", suffix), NULL,
                           rule_number(f->rule, f->rule->low));
    (void)dw_report_number(r, entry, dw_report_keepf(r, "high%s", suffix), NULL,
                           rule_number(f->rule, f->rule->high));
    (void)dw_report_text(r, entry, "state", NULL, state_word(f->state));
    (void)dw_report_text(r, entry, "standing", NULL, "common practice");
    (void)dw_report_text(r, entry, "text", NULL, f->rule->text);
    (void)dw_report_text(r, entry, "meaning", NULL, rule_meaning(f));
    (void)dw_report_text(r, entry, "source", NULL, f->rule->source);
}

static bool is_outside(const dw_rule_finding *f)
{
    return f->state == DW_RULE_LOW || f->state == DW_RULE_HIGH;
}

static void put_rules(dw_report *r, const dw_report_source *source, const dw_result *result,
                      dw_diag_list *diag)
{
    dw_rule_finding *findings = calloc(DW_RULE_FINDING_MAX, sizeof *findings);
    if (findings == NULL) {
        dw_report_fail(r);
        return;
    }
    const size_t count = dw_rules_look(source->data, source->kiln, result, NULL, findings);
    dw_item *root = dw_report_root(r);
    dw_item *prose = dw_report_group(
        r, root, NULL, "Compared with rules of thumb (common practice)", DW_STYLE_PROSE);
    dw_item *list = dw_report_list(r, root, "rules", NULL);
    for (size_t i = 0; i < count; ++i) {
        if (is_outside(&findings[i])) put_rule_text(r, prose, source, &findings[i]);
    }
    for (size_t i = 0; i < count; ++i) {
        if (findings[i].state == DW_RULE_USUAL) put_rule_text(r, prose, source, &findings[i]);
        put_rule_json(r, list, source, &findings[i]);
        if (!is_outside(&findings[i])) continue;
        dw_diag_add(diag, DW_WARNING, "rule-of-thumb", (dw_place){NULL, 0, 0},
                    "%s is %s for %s: %s", findings[i].rule->key, state_word(findings[i].state),
                    rule_subject(source, &findings[i]), findings[i].rule->text);
    }
    if (!result->solved) {
        dw_item *line = dw_report_line(r, prose, NULL, "note",
                                       "This setting has no solution, so its heat input, air and "
                                       "draft are not compared: {0}.");
        dw_add_text(r, line, result->reason);
    }
    free(findings);
}

void dw_build_check(dw_report *report, const dw_report_source *source, const dw_result *result,
                    dw_diag_list *diag)
{
    dw_item *root = dw_report_root(report);
    dw_item *top = dw_report_group(report, root, NULL, NULL, DW_STYLE_PLAIN);
    dw_item *line = dw_report_line(report, top, NULL, "",
                                   "{0}: {1} inputs; {2} of them were not given and are marked.");
    dw_add_text(report, line, source->kiln->name);
    dw_item *count = dw_report_integer(report, line, NULL, NULL, 0);
    dw_item *taken = dw_report_integer(report, line, NULL, NULL, 0);
    dw_tell(report, top,
            "[default]: a usual value that the program assumes; measure your own and give it where you can. "
            "[derived]: worked out from other inputs.");
    dw_build_head(report, source);
    dw_build_check_gas(report, source, result);
    put_rules(report, source, result, diag);
    dw_build_questions(report, source);
    listing l = {.report = report, .source = source};
    l.inputs = dw_report_group(report, root, "inputs", "", DW_STYLE_SECTION);
    l.origins = dw_report_group(report, root, "origins", NULL, DW_STYLE_SECTION);
    dw_kiln_listing(source->kiln, &source->file->given, &source->data->species, take_row, &l);
    if (count != NULL) count->integer = l.count;
    if (taken != NULL) taken->integer = l.taken;
    dw_item *end = dw_report_group(report, root, NULL, NULL, DW_STYLE_PLAIN);
    dw_tell(report, end, "");
    dw_build_caution(report, end, "");
}

/* ---- the list of keys --------------------------------------------------------------------- */

typedef struct key_list {
    dw_report *report;
    dw_item *section, *table;
} key_list;

static int take_key(void *user, const dw_key_row *row)
{
    const key_list *k = user;
    dw_report *r = k->report;
    const char *need = dw_need_text(row->need);
    dw_cell *cell = dw_report_row(r, k->table);
    if (cell == NULL) return 1;
    cell[0].text = dw_report_keep(r, row->path);
    cell[1].text = dw_report_keep(r, row->expected);
    cell[2].text = need;
    cell[3].text = dw_report_keep(r, row->fallback);
    cell[4].text = dw_report_keep(r, row->help);
    const char *pattern = row->fallback != NULL ? "{0} [{1} {2}]   {3}" : "{0} [{1}{2}]   {3}";
    dw_item *line = dw_report_line(r, k->section, NULL, cell[0].text, pattern);
    dw_add_text(r, line, row->expected);
    dw_add_text(r, line, need);
    dw_add_text(r, line, row->fallback != NULL ? row->fallback : "");
    dw_add_text(r, line, row->help);
    return dw_report_failed(r);
}

void dw_build_keys(dw_report *report, const char *version, const dw_data *data)
{
    const dw_report_source source = {.version = version, .command = "check --keys"};
    dw_item *root = dw_report_root(report);
    dw_build_head(report, &source);
    key_list k = {.report = report};
    k.section = dw_report_group(report, root, NULL, "Keys of a kiln description", DW_STYLE_SECTION);
    const dw_column columns[] = {{.key = "path", .is_text = true},
                                 {.key = "expected", .is_text = true},
                                 {.key = "need", .is_text = true},
                                 {.key = "default", .is_text = true},
                                 {.key = "help", .is_text = true}};
    k.table = dw_report_table(report, root, "keys", NULL, columns, 5);
    if (k.table != NULL) k.table->table->is_main = true;
    dw_kiln_keys(data, take_key, &k);
    dw_item *names = dw_report_group(report, root, "short_names",
                                     "Short names for --set and --vary", DW_STYLE_SECTION);
    for (const dw_short_name *n = dw_kiln_short_names; n->name != NULL; ++n) {
        (void)dw_report_text(report, names, n->name, n->name, n->path);
    }
}

/* ---- the list of outputs ---------------------------------------------------------------------- */

/* So many digits leave it to the step alone. */
enum { WHATEVER_DIGITS = 12 };

static const char *digits_text(dw_report *r, const dw_number *n)
{
    if (!(n->resolution_si > 0.0)) return dw_report_keepf(r, "%d", n->digits);
    if (n->digits == WHATEVER_DIGITS) return dw_report_keepf(r, "to %g", n->resolution_si);
    return dw_report_keepf(r, "%d, to %g", n->digits, n->resolution_si);
}

/* A heading in one line: "temper-\nature" is "temperature". */
static const char *one_line(dw_report *r, const char *heading)
{
    const char *text = "";
    while (heading != NULL && text != NULL && *heading != '\0') {
        const size_t length = strcspn(heading, "\n");
        const bool broken = length > 1 && heading[length] == '\n' && heading[length - 1] == '-';
        text = dw_report_keepf(r, "%s%.*s%s", text, (int)(length - broken), heading,
                               length > 0 && heading[length] == '\n' && !broken ? " " : "");
        heading += length + (heading[length] == '\n');
    }
    return text;
}

void dw_build_outputs(dw_report *report, const char *version)
{
    const dw_report_source source = {.version = version, .command = "outputs"};
    dw_item *root = dw_report_root(report);
    dw_build_head(report, &source);
    const dw_column columns[] = {{.key = "command", .label = "command", .is_text = true},
                                 {.key = "key", .label = "key", .is_text = true},
                                 {.key = "label", .label = "name", .is_text = true, .is_blank = true},
                                 {.key = "unit", .label = "unit", .is_text = true, .is_blank = true},
                                 {.key = "digits", .label = "digits", .is_text = true, .is_blank = true},
                                 {.key = "not_worked", .label = "no working because", .is_text = true,
                                  .is_blank = true}};
    dw_item *table = dw_report_table(report, root, "outputs", "Outputs", columns, 6);
    if (table != NULL) table->table->is_main = true;
    const char *command;
    for (size_t k = 0; (command = dw_output_command(k)) != NULL; ++k) {
        for (const dw_output_list *const *list = dw_output_lists(command); *list != NULL; ++list) {
            for (size_t i = 0; i < (*list)->count; ++i) {
                const dw_output_row *row = &(*list)->row[i];
                const bool number = row->kind == DW_OUTPUT_NUMBER;
                if (row->kind == DW_OUTPUT_SHOWN) continue;
                dw_cell *cell = dw_report_row(report, table);
                if (cell == NULL) return;
                cell[0].text = command;
                cell[1].text = row->key;
                cell[2].text = row->label != NULL ? row->label : one_line(report, row->heading);
                cell[3].text = number ? dw_dim_si_unit(row->number.dim) : NULL;
                cell[4].text = number ? digits_text(report, &row->number) : NULL;
                cell[5].text = dw_output_not_worked(command, row->key);
            }
        }
    }
}
