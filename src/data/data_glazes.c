#include "glaze_reader.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "nearest.h"

/* An analysis that leaves out loss on ignition and traces sums to a little off a hundred. */
static const double sum_tolerance = 0.03;

/* What glazes are made of beyond the oxides of the formulas. Boron, lead, zinc and lithium change
 * the melt most; none of these has a term. */
static const char *const unknown_to_formulas[] = {
    "B2O3", "PbO",  "ZnO",   "Li2O",  "BaO", "SrO", "ZrO2", "SnO2", "CuO", "CoO",
    "NiO",  "V2O5", "Cr2O3", "Sb2O3", "BeO", "F",   "Cl",   "SO3",  "Bi2O3", "CeO2"};

enum { UNKNOWN_COUNT = DW_COUNT_OF(unknown_to_formulas) };

static void read_oxide(dw_data_reader *reader, const dw_node *item, dw_glaze *glaze, double *sum)
{
    double share;
    if (!dw_data_number_of(reader, item, item->key, DW_DIM_RATIO, 0.0, 1.0, &share)) return;
    *sum += share;
    if (strcmp(item->key, "Fe2O3") == 0) {
        glaze->y[DW_MELT_FEO] += share * DW_FEO_PER_FE2O3;
        return;
    }
    const char *words[DW_MELT_OXIDE_COUNT + 1 + UNKNOWN_COUNT];
    size_t count = 0;
    for (int i = 0; i < DW_MELT_OXIDE_COUNT; i++) {
        words[count++] = dw_melt_oxide_name((dw_melt_oxide)i);
        if (strcmp(item->key, words[count - 1]) == 0) {
            glaze->y[i] += share;
            return;
        }
    }
    words[count++] = "Fe2O3";
    for (size_t i = 0; i < UNKNOWN_COUNT; i++) {
        words[count++] = unknown_to_formulas[i];
        if (strcmp(item->key, unknown_to_formulas[i]) == 0) {
            if (share > 0.0 && glaze->outside[0] == '\0') {
                (void)snprintf(glaze->outside, sizeof glaze->outside, "%s", item->key);
            }
            return;
        }
    }
    dw_data_unknown(reader, item->key_place, "unknown-oxide", "oxide", item->key, words, count);
}

bool dw_glaze_read_oxides(dw_data_reader *reader, const dw_node *map, dw_glaze *glaze)
{
    const int before = reader->fault_count;
    memset(glaze->y, 0, sizeof glaze->y);
    glaze->outside[0] = '\0';
    double sum = 0.0, known = 0.0;
    for (const dw_node *item = map->first; item != NULL; item = item->next) {
        read_oxide(reader, item, glaze, &sum);
    }
    if (reader->fault_count != before) return false;
    if (!(fabs(sum - 1.0) <= sum_tolerance)) {
        dw_data_fault(reader, map->place, "bad-sum",
                      "the oxides add up to %.6g %%, expected 100 %% by weight", 100.0 * sum);
        return false;
    }
    for (int i = 0; i < DW_MELT_OXIDE_COUNT; i++) known += glaze->y[i];
    if (!(known > 0.0)) {
        dw_data_fault(reader, map->place, "bad-value",
                      "a glaze needs some of the oxides that the formulas use, such as SiO2");
        return false;
    }
    for (int i = 0; i < DW_MELT_OXIDE_COUNT; i++) glaze->y[i] /= sum;
    return true;
}

static void read_glaze(dw_data_reader *reader, const dw_node *node, dw_data *data)
{
    static const char *const keys[] = {"name", "note", "source", "oxides"};
    dw_glaze *glaze = &data->glaze[data->glaze_count];
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    (void)dw_data_text(reader, node, "name", glaze->name, sizeof glaze->name);
    (void)dw_data_text(reader, node, "note", glaze->note, sizeof glaze->note);
    (void)dw_data_source(reader, node, "source", glaze->source, sizeof glaze->source);
    const dw_node *oxides = dw_data_member(reader, node, "oxides", DW_NODE_MAP);
    if (oxides != NULL) (void)dw_glaze_read_oxides(reader, oxides, glaze);
    for (size_t i = 0; i < data->glaze_count; i++) {
        if (glaze->name[0] != '\0' && strcmp(data->glaze[i].name, glaze->name) == 0) {
            dw_data_fault(reader, node->place, "listed-twice", "glaze '%s' is listed twice",
                          glaze->name);
        }
    }
    data->glaze_count++;
}

void dw_data_read_glazes(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"glazes"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    const dw_node *list = dw_data_member(reader, root, "glazes", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (data->glaze_count == DW_GLAZE_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d glazes", DW_GLAZE_MAX);
            return;
        }
        read_glaze(reader, node, data);
    }
}

/* A name, not a map. */
static dw_status find_glaze(const dw_data *data, const char *name, dw_diag_list *diag,
                            dw_glaze *glaze)
{
    const char *words[DW_GLAZE_MAX];
    for (size_t i = 0; i < data->glaze_count; i++) {
        words[i] = data->glaze[i].name;
        if (strcmp(words[i], name) == 0) {
            *glaze = data->glaze[i];
            return DW_OK;
        }
    }
    char expected[400];
    dw_words_join(words, data->glaze_count, expected, sizeof expected);
    const char *nearest = dw_nearest_word(name, words, data->glaze_count);
    dw_diag_add(
        diag, DW_ERROR, "unknown-glaze", (dw_place){"--glaze", 0, 0},
        "'%.60s' is not a glaze, expected %s, or its oxides such as {SiO2: 66 %%, ...}%s%s%s", name,
        expected, nearest != NULL ? "; did you mean '" : "", nearest != NULL ? nearest : "",
        nearest != NULL ? "'?" : "");
    return DW_ERR_INPUT;
}

dw_status dw_glaze_from_text(const dw_data *data, const char *text, dw_diag_list *diag,
                             dw_glaze *glaze)
{
    if (glaze == NULL) return DW_ERR_ARG;
    memset(glaze, 0, sizeof *glaze);
    if (data == NULL || text == NULL) return DW_ERR_ARG;
    if (text[strspn(text, " \t")] != '{') return find_glaze(data, text, diag, glaze);
    dw_tree *tree = NULL;
    const dw_status status = dw_tree_read("--glaze", text, strlen(text), diag, &tree);
    if (status != DW_OK) return status;
    dw_data_reader reader = {.diag = diag, .known = data};
    dw_glaze found = {.name = "glaze", .source = "given"};
    const bool good = dw_glaze_read_oxides(&reader, dw_tree_root(tree), &found);
    dw_tree_destroy(tree);
    if (!good) return DW_ERR_INPUT;
    *glaze = found;
    return DW_OK;
}
