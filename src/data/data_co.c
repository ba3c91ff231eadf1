/* config/co.yaml: limits, alarm windows, people, and when gas can burn. */
#include <math.h>
#include <string.h>

#include "data_reader.h"

static const char *const activity_words[DW_ACTIVITY_COUNT] = {"rest", "light", "heavy"};

/* One of words, by its index; -1 after a fault. */
static int word_index(dw_data_reader *reader, const dw_node *map, const char *key,
                      const char *const *words, size_t count)
{
    const dw_node *node = dw_data_member(reader, map, key, DW_NODE_SCALAR);
    if (node == NULL) return -1;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(node->text, words[i]) == 0) return (int)i;
    }
    dw_data_unknown(reader, node->place, "bad-value", key, node->text, words, count);
    return -1;
}

/* A time, or the word that stands for one. */
static void read_time(dw_data_reader *reader, const dw_node *map, const char *key,
                      const char *word, double word_s, double *out_s)
{
    const dw_node *node = dw_data_member(reader, map, key, DW_NODE_SCALAR);
    *out_s = word_s;
    if (node == NULL || strcmp(node->text, word) == 0) return;
    (void)dw_data_number_of(reader, node, key, DW_DIM_TIME, 0.0, 1.0e8, out_s);
}

static void read_limit(dw_data_reader *reader, const dw_node *node, dw_co_data *co)
{
    static const char *const keys[] = {"body", "document", "name",       "over", "ppm",
                                       "mg_m3", "year",    "kind", "provenance", "where"};
    static const char *const kinds[] = {"guideline", "work", "danger"};
    static const char *const provenances[] = {"read", "recalled", "computed", "derived"};
    dw_co_limit *limit = &co->limit[co->limit_count];
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    (void)dw_data_text(reader, node, "body", limit->body, sizeof limit->body);
    (void)dw_data_text(reader, node, "document", limit->document, sizeof limit->document);
    (void)dw_data_text(reader, node, "name", limit->name, sizeof limit->name);
    (void)dw_data_text(reader, node, "year", limit->year, sizeof limit->year);
    (void)dw_data_text(reader, node, "where", limit->where, sizeof limit->where);
    if (word_index(reader, node, "provenance", provenances, DW_COUNT_OF(provenances)) >= 0) {
        (void)dw_data_text(reader, node, "provenance", limit->provenance,
                           sizeof limit->provenance);
    }
    read_time(reader, node, "over", "any time", 0.0, &limit->over_s);
    (void)dw_data_number(reader, node, "ppm", DW_DIM_NUMBER, 0.1, 1.0e6, &limit->ppm);
    limit->mg_m3 = NAN;
    if (dw_node_get(node, "mg_m3") != NULL) {
        (void)dw_data_number(reader, node, "mg_m3", DW_DIM_NUMBER, 0.1, 1.0e7, &limit->mg_m3);
    }
    const int kind = word_index(reader, node, "kind", kinds, DW_COUNT_OF(kinds));
    limit->kind = kind >= 0 ? (dw_limit_kind)kind : DW_LIMIT_DANGER;
    co->limit_count++;
}

static void read_alarm(dw_data_reader *reader, const dw_node *node, dw_co_data *co)
{
    static const char *const keys[] = {"standard", "ppm", "from", "by", "source"};
    dw_co_alarm *alarm = &co->alarm[co->alarm_count];
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    (void)dw_data_text(reader, node, "standard", alarm->standard, sizeof alarm->standard);
    (void)dw_data_number(reader, node, "ppm", DW_DIM_NUMBER, 0.1, 1.0e6, &alarm->ppm);
    read_time(reader, node, "from", "at once", 0.0, &alarm->from_s);
    read_time(reader, node, "by", "never", INFINITY, &alarm->by_s);
    (void)dw_data_source(reader, node, "source", NULL, 0);
    if (alarm->by_s < alarm->from_s) {
        dw_data_fault(reader, node->place, "not-rising", "'by' is before 'from'");
    }
    co->alarm_count++;
}

static void read_effect(dw_data_reader *reader, const dw_node *node, const char *level_key,
                        dw_dim dim, double high, dw_co_effect *effect, size_t *count)
{
    const char *const keys[] = {level_key, "text", "source"};
    dw_co_effect *at = &effect[*count];
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    const bool good = dw_data_number(reader, node, level_key, dim, 0.0, high, &at->level);
    (void)dw_data_text(reader, node, "text", at->text, sizeof at->text);
    (void)dw_data_source(reader, node, "source", NULL, 0);
    if (good && *count > 0 && !(at->level > at[-1].level)) {
        dw_data_fault(reader, node->place, "not-rising", "'%s' is not above that of the row before",
                      level_key);
    }
    (*count)++;
}

/* Calls the reader of one row for every item of a list. */
static void read_lists(dw_data_reader *reader, const dw_node *root, dw_co_data *co)
{
    static const struct {
        const char *key;
        size_t max;
    } lists[] = {{"limits", DW_CO_LIMIT_MAX},
                 {"alarms", DW_CO_ALARM_MAX},
                 {"effects", DW_CO_EFFECT_MAX},
                 {"effects_by_ppm", DW_CO_EFFECT_MAX}};
    for (size_t i = 0; i < DW_COUNT_OF(lists); i++) {
        const dw_node *list = dw_data_member(reader, root, lists[i].key, DW_NODE_LIST);
        if (list == NULL) continue;
        if (list->first == NULL) {
            dw_data_fault(reader, list->place, "bad-value", "'%s' is empty", lists[i].key);
        }
        size_t row = 0;
        for (const dw_node *node = list->first; node != NULL; node = node->next, row++) {
            if (row == lists[i].max) {
                dw_data_fault(reader, node->place, "too-many", "more than %zu %s", lists[i].max,
                              lists[i].key);
                break;
            }
            switch (i) {
            case 0: read_limit(reader, node, co); break;
            case 1: read_alarm(reader, node, co); break;
            case 2:
                read_effect(reader, node, "cohb", DW_DIM_RATIO, 1.0, co->effect,
                            &co->effect_count);
                break;
            default:
                read_effect(reader, node, "ppm", DW_DIM_NUMBER, 1.0e6, co->ppm_effect,
                            &co->ppm_effect_count);
                break;
            }
        }
    }
}

static void read_person(dw_data_reader *reader, const dw_node *root, dw_co_person *p)
{
    static const char *const keys[] = {"haldane_ratio", "endogenous", "capillary_oxygen",
                                       "barometric",    "water",      "capacity",
                                       "blood",         "start",      "start_smoker",
                                       "smallest_mass", "smallest_height", "source"};
    const dw_node *node = dw_data_member(reader, root, "person", DW_NODE_MAP);
    if (node == NULL) return;
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    const struct {
        const char *key;
        dw_dim dim;
        double low, high;
        double *out;
    } numbers[] = {
        {"haldane_ratio", DW_DIM_NUMBER, 50.0, 500.0, &p->haldane_ratio},
        {"endogenous", DW_DIM_VOLUME_FLOW, 0.0, 1.0e-8, &p->endogenous_m3_s},
        {"capillary_oxygen", DW_DIM_PRESSURE_ABS, 2.0e3, 5.0e4, &p->capillary_o2_pa},
        {"barometric", DW_DIM_PRESSURE_ABS, 9.0e4, 1.1e5, &p->barometric_pa_abs},
        {"water", DW_DIM_PRESSURE_ABS, 1.0e3, 1.0e4, &p->water_pa},
        {"capacity", DW_DIM_RATIO, 0.05, 0.4, &p->capacity_m3_m3},
        {"blood", DW_DIM_VOLUME, 1.0e-3, 1.0e-2, &p->blood_m3},
        {"start", DW_DIM_RATIO, 0.0, 0.2, &p->start_frac},
        {"start_smoker", DW_DIM_RATIO, 0.0, 0.3, &p->start_smoker_frac},
        {"smallest_mass", DW_DIM_MASS, 20.0, 100.0, &p->smallest_mass_kg},
        {"smallest_height", DW_DIM_LENGTH, 1.0, 2.0, &p->smallest_height_m},
    };
    for (size_t i = 0; i < DW_COUNT_OF(numbers); i++) {
        (void)dw_data_number(reader, node, numbers[i].key, numbers[i].dim, numbers[i].low,
                             numbers[i].high, numbers[i].out);
    }
    (void)dw_data_source(reader, node, "source", NULL, 0);
}

static void read_activities(dw_data_reader *reader, const dw_node *root, dw_co_person *p)
{
    static const char *const keys[] = {"word", "ventilation", "uptake_at_1_mmhg", "source"};
    const dw_node *list = dw_data_member(reader, root, "activities", DW_NODE_LIST);
    double mmhg_pa;
    char message[DW_QUANTITY_MESSAGE_SIZE];
    if (list == NULL || dw_quantity_from_text("1 mmHg", 6, DW_DIM_PRESSURE_ABS, &mmhg_pa,
                                              message) != DW_OK) {
        return;
    }
    bool seen[DW_ACTIVITY_COUNT] = {false};
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
        if (node->kind != DW_NODE_MAP) continue;
        const int i = word_index(reader, node, "word", activity_words, DW_ACTIVITY_COUNT);
        if (i < 0) continue;
        seen[i] = true;
        double at_1_mmhg_m3_s = NAN;
        (void)dw_data_number(reader, node, "ventilation", DW_DIM_VOLUME_FLOW, 1.0e-5, 5.0e-3,
                             &p->ventilation_m3_s[i]);
        (void)dw_data_number(reader, node, "uptake_at_1_mmhg", DW_DIM_VOLUME_FLOW, 1.0e-8, 5.0e-6,
                             &at_1_mmhg_m3_s);
        p->diffusing_m3_s_pa[i] = at_1_mmhg_m3_s / mmhg_pa;
        (void)dw_data_source(reader, node, "source", NULL, 0);
    }
    for (int i = 0; i < DW_ACTIVITY_COUNT; i++) {
        if (seen[i]) continue;
        dw_data_fault(reader, list->place, "missing-row", "'activities' has no '%s'",
                      activity_words[i]);
    }
}

static void read_gas(dw_data_reader *reader, const dw_node *node, dw_data *data)
{
    static const char *const keys[] = {"gas", "lean", "rich", "ignites", "source"};
    dw_co_data *co = &data->co;
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return;
    const dw_node *gas = dw_data_member(reader, node, "gas", DW_NODE_SCALAR);
    if (gas == NULL) return;
    const int i = dw_species_find(&data->species, gas->text);
    if (i < 0) {
        if (reader->species_known) {
            dw_data_fault(reader, gas->place, "unknown-gas", "'%s' is not in species.yaml",
                          gas->text);
        }
        return;
    }
    const bool good =
        dw_data_number(reader, node, "lean", DW_DIM_RATIO, 1.0e-3, 1.0, &co->lean_x[i]) &&
        dw_data_number(reader, node, "rich", DW_DIM_RATIO, 1.0e-3, 1.0, &co->rich_x[i]);
    (void)dw_data_number(reader, node, "ignites", DW_DIM_TEMPERATURE, 300.0, 1500.0,
                         &co->ignites_k[i]);
    (void)dw_data_source(reader, node, "source", NULL, 0);
    if (good && !(co->rich_x[i] > co->lean_x[i])) {
        dw_data_fault(reader, node->place, "not-rising", "'rich' is not above 'lean'");
    }
}

/* Carbon monoxide, hydrogen and methane come out of every rich kiln. */
static void need_gases(dw_data_reader *reader, const dw_node *list, const dw_data *data)
{
    static const char *const needed[] = {"CO", "H2", "CH4"};
    for (size_t k = 0; k < DW_COUNT_OF(needed) && reader->species_known; k++) {
        const int i = dw_species_find(&data->species, needed[k]);
        if (i < 0 || !isnan(data->co.lean_x[i])) continue;
        dw_data_fault(reader, list->place, "missing-row", "'gases' has no '%s'", needed[k]);
    }
}

static void read_flammability(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"lean_falls_per_kelvin", "lean_falls_source", "gases"};
    for (int i = 0; i < DW_SPECIES_MAX; i++) {
        data->co.lean_x[i] = data->co.rich_x[i] = data->co.ignites_k[i] = NAN;
    }
    const dw_node *node = dw_data_member(reader, root, "flammability", DW_NODE_MAP);
    if (node == NULL) return;
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    (void)dw_data_number(reader, node, "lean_falls_per_kelvin", DW_DIM_NUMBER, 1.0e-5, 1.2e-3,
                         &data->co.lean_falls_per_k);
    (void)dw_data_source(reader, node, "lean_falls_source", NULL, 0);
    const dw_node *list = dw_data_member(reader, node, "gases", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *gas = list->first; gas != NULL; gas = gas->next) {
        read_gas(reader, gas, data);
    }
    need_gases(reader, list, data);
}

static void read_small(dw_data_reader *reader, const dw_node *root, dw_co_data *co)
{
    static const char *const verdict_keys[] = {"raised", "dangerous", "source"};
    static const char *const lighting_keys[] = {"purge_volumes", "glow", "source"};
    static const char *const spillage_keys[] = {"room_pressure", "source"};
    const dw_node *node = dw_data_member(reader, root, "verdict", DW_NODE_MAP);
    if (node != NULL) {
        (void)dw_data_keys(reader, node, verdict_keys, DW_COUNT_OF(verdict_keys));
        bool good =
            dw_data_number(reader, node, "raised", DW_DIM_RATIO, 0.0, 0.1, &co->cohb_raised_frac);
        good = dw_data_number(reader, node, "dangerous", DW_DIM_RATIO, 0.0, 0.2,
                              &co->cohb_dangerous_frac) &&
               good;
        (void)dw_data_source(reader, node, "source", NULL, 0);
        if (good && !(co->cohb_dangerous_frac > co->cohb_raised_frac)) {
            dw_data_fault(reader, node->place, "not-rising", "'dangerous' is not above 'raised'");
        }
    }
    node = dw_data_member(reader, root, "lighting", DW_NODE_MAP);
    if (node != NULL) {
        (void)dw_data_keys(reader, node, lighting_keys, DW_COUNT_OF(lighting_keys));
        (void)dw_data_number(reader, node, "purge_volumes", DW_DIM_NUMBER, 1.0, 100.0,
                             &co->purge_volumes);
        (void)dw_data_number(reader, node, "glow", DW_DIM_TEMPERATURE, 900.0, 1500.0,
                             &co->glow_k);
        (void)dw_data_source(reader, node, "source", NULL, 0);
    }
    node = dw_data_member(reader, root, "spillage", DW_NODE_MAP);
    if (node != NULL) {
        (void)dw_data_keys(reader, node, spillage_keys, DW_COUNT_OF(spillage_keys));
        (void)dw_data_number(reader, node, "room_pressure", DW_DIM_PRESSURE_GAUGE, -100.0, 0.0,
                             &co->spillage_pa);
        (void)dw_data_source(reader, node, "source", NULL, 0);
    }
}

void dw_data_read_co(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"limits",   "alarms",     "effects", "effects_by_ppm",
                                       "person",   "activities", "verdict", "flammability",
                                       "lighting", "spillage"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    read_lists(reader, root, &data->co);
    read_person(reader, root, &data->co.person);
    read_activities(reader, root, &data->co.person);
    read_flammability(reader, root, data);
    read_small(reader, root, &data->co);
}
