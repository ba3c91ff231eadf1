#include <math.h>
#include <string.h>

#include "data_reader.h"

static void read_band(dw_data_reader *reader, const dw_node *node, dw_data *data)
{
    static const char *const keys[] = {"word", "phi_below", "meaning", "source"};
    dw_band *band = &data->band[data->band_count];
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    (void)dw_data_text(reader, node, "word", band->word, sizeof band->word);
    (void)dw_data_text(reader, node, "meaning", band->meaning, sizeof band->meaning);
    (void)dw_data_source(reader, node, "source", NULL, 0);
    for (size_t i = 0; i < data->band_count; i++) {
        if (band->word[0] != '\0' && strcmp(data->band[i].word, band->word) == 0) {
            dw_data_fault(reader, node->place, "listed-twice", "'%s' is listed twice", band->word);
        }
    }

    band->phi_below = INFINITY;
    if (node->next == NULL) {
        const dw_node *limit = dw_node_get(node, "phi_below");
        if (limit != NULL) {
            dw_data_fault(reader, limit->key_place, "bad-value",
                          "the last band has no upper limit; leave 'phi_below' out");
        }
    } else if (dw_data_number(reader, node, "phi_below", DW_DIM_NUMBER, 0.01, 100.0,
                              &band->phi_below)) {
        if (data->band_count > 0 && !(band->phi_below > band[-1].phi_below)) {
            dw_data_fault(reader, node->place, "not-rising",
                          "'phi_below' is not above that of the band before");
        }
    }
    data->band_count++;
}

static void read_bands(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    const dw_node *list = dw_data_member(reader, root, "bands", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (data->band_count == DW_BAND_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d bands", DW_BAND_MAX);
            return;
        }
        read_band(reader, node, data);
    }
    if (list->first == NULL) dw_data_fault(reader, list->place, "bad-value", "'bands' is empty");
}

/* Limits by gas; the list may be left out. */
static void read_aeration_of(dw_data_reader *reader, const dw_node *node, const dw_species_table *table,
                             double of[DW_SPECIES_MAX])
{
    for (int i = 0; i < DW_SPECIES_MAX; i++) of[i] = NAN;
    const dw_node *map = dw_node_get(node, "primary_aeration_of");
    if (map == NULL) return;
    map = dw_data_member(reader, node, "primary_aeration_of", DW_NODE_MAP);
    if (map == NULL || !reader->species_known) return;
    for (const dw_node *item = map->first; item != NULL; item = item->next) {
        const int i = dw_species_find(table, item->key);
        double share;
        if (!dw_data_number_of(reader, item, item->key, DW_DIM_RATIO, 0.0, 10.0, &share)) continue;
        if (i < 0 || table->species[i].condensed) {
            dw_data_fault(reader, item->key_place, "unknown-species", "'%s' is not a gas of species.yaml", item->key);
            continue;
        }
        of[i] = share;
    }
}

static void read_sooting(dw_data_reader *reader, const dw_node *root, const dw_species_table *table,
                         dw_sooting *sooting)
{
    static const char *const keys[] = {"phi_at_least", "primary_aeration_below", "primary_aeration_of",
                                       "phi_always",   "chamber_temperature_above",
                                       "meaning",      "source"};
    const dw_node *node = dw_data_member(reader, root, "sooting", DW_NODE_MAP);
    if (node == NULL) return;
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    bool good = dw_data_number(reader, node, "phi_at_least", DW_DIM_NUMBER, 0.01, 100.0,
                               &sooting->phi_at_least);
    (void)dw_data_number(reader, node, "primary_aeration_below", DW_DIM_RATIO, 0.0, 10.0,
                         &sooting->primary_aeration_below);
    read_aeration_of(reader, node, table, sooting->primary_aeration_of);
    good = dw_data_number(reader, node, "phi_always", DW_DIM_NUMBER, 0.01, 100.0,
                          &sooting->phi_always) &&
           good;
    (void)dw_data_number(reader, node, "chamber_temperature_above", DW_DIM_TEMPERATURE, 200.0,
                         2500.0, &sooting->chamber_temperature_above_k);
    (void)dw_data_text(reader, node, "meaning", sooting->meaning, sizeof sooting->meaning);
    (void)dw_data_source(reader, node, "source", NULL, 0);
    if (good && !(sooting->phi_always >= sooting->phi_at_least)) {
        dw_data_fault(reader, node->place, "not-rising", "'phi_always' is below 'phi_at_least'");
    }
}

/* The rules that `check` knows how to work out; the file says the usual intervals. */
static const struct {
    const char *key;
    dw_dim dim;
} known_rules[] = {
    {"heat_per_volume_w_m3", DW_DIM_POWER_PER_VOLUME},
    {"flue_to_port_area", DW_DIM_NUMBER},
    {"throat_to_jet_diameter", DW_DIM_NUMBER},
    {"port_to_throat_area", DW_DIM_NUMBER},
    {"stack_height_to_chamber_height", DW_DIM_NUMBER},
    {"stack_width_to_chamber_width", DW_DIM_NUMBER},
    {"stack_to_flue_area", DW_DIM_NUMBER},
    {"gas_pressure_pa", DW_DIM_PRESSURE_GAUGE},
    {"leak_per_surface", DW_DIM_NUMBER},
    {"flue_area_per_net_power_m2_w", DW_DIM_AREA_PER_POWER},
    {"primary_air_low_pressure", DW_DIM_SHARE},
    {"primary_air_high_pressure", DW_DIM_SHARE},
    {"primary_air_blown", DW_DIM_SHARE},
    {"neutral_plane_to_chamber_height", DW_DIM_NUMBER},
    {"draft_per_stack_height_pa_m", DW_DIM_PRESSURE_PER_LENGTH},
};

/* Index into known_rules; -1 after a fault. */
static int known_rule(dw_data_reader *reader, const dw_node *node)
{
    const dw_node *key = dw_data_member(reader, node, "key", DW_NODE_SCALAR);
    if (key == NULL) return -1;
    const char *words[DW_COUNT_OF(known_rules)];
    for (size_t i = 0; i < DW_COUNT_OF(known_rules); i++) {
        words[i] = known_rules[i].key;
        if (strcmp(words[i], key->text) == 0) return (int)i;
    }
    dw_data_unknown(reader, key->place, "unknown-rule", "rule", key->text, words,
                    DW_COUNT_OF(words));
    return -1;
}

/* What it usually means to be outside a rule; not every rule says so. */
static void read_meaning(dw_data_reader *reader, const dw_node *node, const char *key,
                         char out[DW_TEXT_SIZE])
{
    if (dw_node_get(node, key) != NULL) (void)dw_data_text(reader, node, key, out, DW_TEXT_SIZE);
}

static void read_rule(dw_data_reader *reader, const dw_node *node, dw_data *data)
{
    static const char *const keys[] = {"key", "low", "high", "text", "when_low", "when_high", "source"};
    dw_rule *rule = &data->rule[data->rule_count];
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    (void)dw_data_text(reader, node, "text", rule->text, sizeof rule->text);
    read_meaning(reader, node, "when_low", rule->when_low);
    read_meaning(reader, node, "when_high", rule->when_high);
    (void)dw_data_source(reader, node, "source", rule->source, sizeof rule->source);
    const int index = known_rule(reader, node);
    if (index < 0 || !dw_data_text(reader, node, "key", rule->key, sizeof rule->key)) return;

    rule->dim = known_rules[index].dim;
    bool good = dw_data_number(reader, node, "low", rule->dim, 0.0, 1.0e9, &rule->low);
    good = dw_data_number(reader, node, "high", rule->dim, 0.0, 1.0e9, &rule->high) && good;
    if (good && !(rule->low < rule->high)) {
        dw_data_fault(reader, node->place, "not-rising", "'high' is not above 'low'");
    }
    for (size_t i = 0; i < data->rule_count; i++) {
        if (strcmp(data->rule[i].key, rule->key) == 0) {
            dw_data_fault(reader, node->place, "listed-twice", "rule '%s' is listed twice",
                          rule->key);
            break;
        }
    }
    data->rule_count++;
}

static void read_rules(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    const dw_node *list = dw_data_member(reader, root, "rules", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (data->rule_count == DW_RULE_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d rules", DW_RULE_MAX);
            return;
        }
        read_rule(reader, node, data);
    }
}

void dw_data_read_bands(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"bands", "sooting", "rules"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    read_bands(reader, root, data);
    read_sooting(reader, root, &data->species, &data->sooting);
    read_rules(reader, root, data);
}
