#include <math.h>
#include <string.h>

#include "data_reader.h"
#include "elements.h"

/* Shares are typed by people; a sum further off than this is a slip and not rounding. */
static const double sum_tolerance = 1.0e-6;

static void read_share(dw_data_reader *reader, const dw_node *item, const dw_species_table *table,
                       dw_fuel *fuel)
{
    double share;
    if (!dw_data_number_of(reader, item, item->key, DW_DIM_RATIO, 0.0, 1.0, &share)) return;
    const int i = dw_species_find(table, item->key);
    if (i < 0) {
        const char *words[DW_SPECIES_MAX];
        for (size_t k = 0; k < table->count; k++)
            words[k] = table->species[k].name;
        dw_data_unknown(reader, item->key_place, "unknown-species", "species", item->key, words,
                        table->count);
        return;
    }
    if (table->species[i].condensed) {
        dw_data_fault(reader, item->key_place, "bad-value", "'%s' is not a gas", item->key);
        return;
    }
    fuel->x[i] = share;
}

static void read_moles(dw_data_reader *reader, const dw_node *node, const dw_species_table *table,
                       dw_fuel *fuel)
{
    const dw_node *moles = dw_data_member(reader, node, "moles", DW_NODE_MAP);
    if (moles == NULL || !reader->species_known) return;
    const int before = reader->fault_count;
    for (const dw_node *item = moles->first; item != NULL; item = item->next) {
        read_share(reader, item, table, fuel);
    }
    if (reader->fault_count != before) return;

    double sum = 0.0;
    for (size_t i = 0; i < table->count; i++)
        sum += fuel->x[i];
    if (!(fabs(sum - 1.0) <= sum_tolerance)) {
        dw_data_fault(reader, moles->place, "bad-sum",
                      "the shares add up to %.8g %%, expected 100 %%", 100.0 * sum);
        return;
    }
    for (size_t i = 0; i < table->count; i++)
        fuel->x[i] /= sum;
    if (!(dw_elements_from_moles(table, fuel->x).excess_o < 0.0)) {
        dw_data_fault(reader, moles->place, "no-fuel", "this gas needs no air to burn");
    }
}

void dw_data_read_fuels(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const top_keys[] = {"fuels"};
    static const char *const keys[] = {"name", "note", "source", "moles"};
    (void)dw_data_keys(reader, root, top_keys, DW_COUNT_OF(top_keys));
    if (root->kind != DW_NODE_MAP) return;
    const dw_node *list = dw_data_member(reader, root, "fuels", DW_NODE_LIST);
    if (list == NULL) return;

    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
        if (node->kind != DW_NODE_MAP) continue;
        if (data->fuel_count == DW_FUEL_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d fuels", DW_FUEL_MAX);
            return;
        }
        dw_fuel *fuel = &data->fuel[data->fuel_count];
        (void)dw_data_text(reader, node, "name", fuel->name, sizeof fuel->name);
        (void)dw_data_text(reader, node, "note", data->fuel_note[data->fuel_count],
                           sizeof data->fuel_note[0]);
        (void)dw_data_source(reader, node, "source", NULL, 0);
        read_moles(reader, node, &data->species, fuel);
        for (size_t i = 0; i < data->fuel_count; i++) {
            if (fuel->name[0] != '\0' && strcmp(data->fuel[i].name, fuel->name) == 0) {
                dw_data_fault(reader, node->place, "listed-twice", "fuel '%s' is listed twice",
                              fuel->name);
            }
        }
        data->fuel_count++;
    }
    if (list->first == NULL) dw_data_fault(reader, list->place, "bad-value", "'fuels' is empty");
}
