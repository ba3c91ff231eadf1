#include <string.h>

#include "data_reader.h"
#include "spread.h"

static const char *const marks[] = {"read", "recalled", "derived", "judgement"};

/* The inputs that have kinds. To add one: a line here, and its rows in config/spreads.yaml. `kinds` are those
 * that the program asks for by name and that may not be missing; there may be more. */
static const struct known_input {
    const char *input;
    dw_dim dim;
    double low, high; /* what any of the three numbers may be, SI */
    const char *kinds[8];
} known[] = {
    {"burners.*.jet.discharge_coefficient", DW_DIM_NUMBER, 0.3, 1.0,
     {DW_KIND_UNKNOWN, "thin", "short", "plug", "drill point", "taper", "rounded"}},
    {"burners.*.jet.velocity_coefficient", DW_DIM_NUMBER, 0.5, 1.0,
     {DW_KIND_UNKNOWN, "thin", "short", "plug", "drill point", "taper", "rounded"}},
    {"burners.*.inlet_loss", DW_DIM_NUMBER, 0.0, 50.0, {DW_KIND_UNKNOWN}},
    {"burners.*.throat_friction", DW_DIM_NUMBER, 0.0, 2.0, {DW_KIND_UNKNOWN}},
    {"burners.*.diffuser_recovery", DW_DIM_NUMBER, 0.0, 0.95, {DW_KIND_UNKNOWN}},
    {"burners.*.port_loss", DW_DIM_NUMBER, 0.0, 20.0, {DW_KIND_UNKNOWN}},
    {"burners.*.port_temperature_ratio", DW_DIM_NUMBER, 0.5, 8.0, {DW_KIND_UNKNOWN}},
    {"chamber.leak_per_surface", DW_DIM_NUMBER, 0.0, 0.1,
     {DW_KIND_UNKNOWN, "bricked-up and mudded", "bricked-up dry", "hinged", "lid"}},
    {"openings.*.discharge_coefficient", DW_DIM_NUMBER, 0.3, 1.0, {DW_KIND_UNKNOWN, "thin", "deep"}},
    {"flues.*.floor_loss", DW_DIM_NUMBER, 0.0, 20.0, {DW_KIND_UNKNOWN, "flush", "chequer", "under floor"}},
    {"flues.*.damper.scale", DW_DIM_NUMBER, 0.1, 10.0, {"shelf"}},
    {"stack.wall_conductance", DW_DIM_NUMBER, 0.01, 100.0,
     {"single brick", "double brick", "insulating brick", "steel with fibre", "bare steel at 400 degC",
      "bare steel at 700 degC", "bare steel at 1000 degC"}},
};

const dw_spread_row *dw_spread_find(const dw_spreads *spreads, const char *input, const char *kind)
{
    for (size_t i = 0; i < spreads->count; i++) {
        const dw_spread_row *row = &spreads->row[i];
        if (strcmp(row->input, input) == 0 && strcmp(row->kind, kind) == 0) return row;
    }
    return NULL;
}

const char *dw_mark_text(dw_mark mark)
{
    return marks[mark];
}

/* Index of a word at a required key; -1 after a fault. */
static int read_word(dw_data_reader *reader, const dw_node *map, const char *key,
                     const char *const *words, size_t count)
{
    const dw_node *node = dw_data_member(reader, map, key, DW_NODE_SCALAR);
    if (node == NULL) return -1;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(words[i], node->text) == 0) return (int)i;
    }
    dw_data_unknown(reader, node->place, "bad-value", key, node->text, words, count);
    return -1;
}

static void read_row(dw_data_reader *reader, const dw_node *node, dw_spreads *spreads)
{
    static const char *const keys[] = {"input", "kind", "middle", "low", "high", "mark", "source"};
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    const char *inputs[DW_COUNT_OF(known)];
    for (size_t i = 0; i < DW_COUNT_OF(known); i++)
        inputs[i] = known[i].input;
    dw_spread_row *row = &spreads->row[spreads->count];
    const int input = read_word(reader, node, "input", inputs, DW_COUNT_OF(known));
    const int mark = read_word(reader, node, "mark", marks, DW_COUNT_OF(marks));
    bool good = dw_data_text(reader, node, "kind", row->kind, sizeof row->kind);
    good = dw_data_source(reader, node, "source", row->source, sizeof row->source) && good;
    if (input < 0) return;

    const struct known_input *k = &known[input];
    good = dw_data_number(reader, node, "middle", k->dim, k->low, k->high, &row->middle) && good;
    good = dw_data_number(reader, node, "low", k->dim, k->low, k->high, &row->low) && good;
    good = dw_data_number(reader, node, "high", k->dim, k->low, k->high, &row->high) && good;
    if (!good || mark < 0) return;
    row->mark = (dw_mark)mark;
    if (!(row->low <= row->middle && row->middle <= row->high)) {
        dw_data_fault(reader, node->place, "not-rising",
                      "'low', 'middle' and 'high' do not rise in this order");
    }
    if (dw_spread_find(spreads, k->input, row->kind) != NULL) {
        dw_data_fault(reader, node->place, "listed-twice", "'%s' of kind '%s' is listed twice", k->input,
                      row->kind);
    }
    memcpy(row->input, k->input, strlen(k->input) + 1);
    spreads->count++;
}

/* What the program asks for by name. */
static void check_kinds(dw_data_reader *reader, const dw_node *list, const dw_spreads *spreads)
{
    for (size_t i = 0; i < DW_COUNT_OF(known); i++) {
        for (size_t k = 0; k < DW_COUNT_OF(known[i].kinds) && known[i].kinds[k] != NULL; k++) {
            if (dw_spread_find(spreads, known[i].input, known[i].kinds[k]) != NULL) continue;
            dw_data_fault(reader, list->place, "missing-kind", "'%s' of kind '%s' is missing",
                          known[i].input, known[i].kinds[k]);
        }
    }
}

void dw_data_read_spreads(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"spreads"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    const dw_node *list = dw_data_member(reader, root, "spreads", DW_NODE_LIST);
    if (list == NULL) return;
    const int before = reader->fault_count;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (data->spreads.count == DW_SPREAD_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d rows", DW_SPREAD_MAX);
            return;
        }
        read_row(reader, node, &data->spreads);
    }
    /* A row with a fault of its own is not missing besides. */
    if (reader->fault_count == before) check_kinds(reader, list, &data->spreads);
}
