#include <string.h>

#include "data_reader.h"

/* Air, combustion and the gas tables name these. */
static const char *const needed[] = {"CO2", "H2O", "CO", "H2", "O2", "N2", "Ar"};

static const char *const element_names[DW_ELEMENT_COUNT] = {"C", "H", "O", "N", "Ar"};

static void read_atoms(dw_data_reader *reader, const dw_node *node, dw_species *species)
{
    const dw_node *atoms = dw_data_member(reader, node, "atoms", DW_NODE_MAP);
    if (atoms == NULL || !dw_data_keys(reader, atoms, element_names, DW_ELEMENT_COUNT)) return;
    if (atoms->first == NULL) {
        dw_data_fault(reader, atoms->place, "bad-value", "'atoms' is empty");
        return;
    }
    for (int e = 0; e < DW_ELEMENT_COUNT; e++) {
        const dw_node *count = dw_node_get(atoms, element_names[e]);
        if (count == NULL) continue;
        (void)dw_data_number_of(reader, count, element_names[e], DW_DIM_NUMBER, 1.0, 100.0,
                                &species->atoms[e]);
    }
}

static void read_range(dw_data_reader *reader, const dw_node *item, dw_nasa9_range *range)
{
    enum { COUNT = 2 + DW_NASA9_COEFF_COUNT };
    if (item->kind != DW_NODE_LIST || dw_data_length(item) != COUNT) {
        dw_data_fault(reader, item->place, "wrong-length",
                      "a range has two temperatures and %d coefficients", DW_NASA9_COEFF_COUNT);
        return;
    }
    const dw_node *number = item->first;
    (void)dw_data_number_of(reader, number, "range from", DW_DIM_NUMBER, 1.0, 20000.0,
                            &range->t_low_k);
    number = number->next;
    (void)dw_data_number_of(reader, number, "range to", DW_DIM_NUMBER, 1.0, 20000.0,
                            &range->t_high_k);
    for (int i = 0; i < DW_NASA9_COEFF_COUNT; i++) {
        number = number->next;
        (void)dw_data_number_of(reader, number, "coefficient", DW_DIM_NUMBER, -1.0e12, 1.0e12,
                                &range->coeff[i]);
    }
}

static void read_ranges(dw_data_reader *reader, const dw_node *node, dw_species *species)
{
    const dw_node *ranges = dw_data_member(reader, node, "ranges", DW_NODE_LIST);
    if (ranges == NULL) return;
    for (const dw_node *item = ranges->first; item != NULL; item = item->next) {
        if (species->range_count == DW_NASA9_RANGE_MAX) {
            dw_data_fault(reader, item->place, "too-many", "more than %d ranges",
                          DW_NASA9_RANGE_MAX);
            return;
        }
        read_range(reader, item, &species->range[species->range_count++]);
    }
}

static void read_iso6976(dw_data_reader *reader, const dw_node *species_node, dw_iso6976 *iso)
{
    const dw_node *node = dw_node_get(species_node, "iso6976");
    if (node == NULL) return;
    static const char *const keys[] = {"hhv_j_mol", "s", "source"};
    if (!dw_data_keys(reader, node, keys, DW_COUNT_OF(keys))) return;
    iso->present = true;
    (void)dw_data_numbers(reader, node, "hhv_j_mol", 4, 0.0, 1.0e8, iso->hhv_j_mol);
    (void)dw_data_numbers(reader, node, "s", 3, -1.0, 1.0, iso->summation_factor);
    if (dw_node_get(node, "source") != NULL) (void)dw_data_source(reader, node, "source", NULL, 0);
}

/* One species read into an empty entry; true when nothing was wrong with it. */
static bool read_one(dw_data_reader *reader, const dw_node *node, dw_species *species)
{
    const int before = reader->fault_count;
    static const char *const keys[] = {
        "name",   "condensed", "atoms", "molar_mass_kg_mol", "h_formation_j_mol", "equilibrium",
        "ranges", "iso6976",   "source"};
    (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
    if (node->kind != DW_NODE_MAP) return false;
    (void)dw_data_text(reader, node, "name", species->name, sizeof species->name);
    (void)dw_data_flag(reader, node, "condensed", &species->condensed);
    (void)dw_data_flag(reader, node, "equilibrium", &species->in_equilibrium);
    (void)dw_data_number(reader, node, "molar_mass_kg_mol", DW_DIM_NUMBER, 1.0e-4, 1.0,
                         &species->molar_mass_kg_mol);
    (void)dw_data_number(reader, node, "h_formation_j_mol", DW_DIM_NUMBER, -1.0e7, 1.0e7,
                         &species->h_formation_j_mol);
    read_atoms(reader, node, species);
    read_ranges(reader, node, species);
    read_iso6976(reader, node, &species->iso);
    if (dw_node_get(node, "source") != NULL) (void)dw_data_source(reader, node, "source", NULL, 0);
    if (species->condensed && species->in_equilibrium) {
        dw_data_fault(reader, node->place, "bad-value",
                      "'equilibrium' is for gases, '%s' is condensed", species->name);
    }
    return reader->fault_count == before;
}

/* The physics check of one species, so that its fault gets the place of that species. */
static void check_one(dw_data_reader *reader, const dw_node *node, const dw_species *species)
{
    dw_species_table alone;
    alone.count = 1;
    alone.species[0] = *species;
    char message[200];
    if (dw_species_table_check(&alone, message, sizeof message) != DW_OK) {
        dw_data_fault(reader, node->place, "bad-species", "%s", message);
    }
}

void dw_data_read_species(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"source", "iso6976_source", "species"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    (void)dw_data_source(reader, root, "source", NULL, 0);
    (void)dw_data_source(reader, root, "iso6976_source", NULL, 0);
    const dw_node *list = dw_data_member(reader, root, "species", DW_NODE_LIST);
    if (list == NULL) return;

    dw_species_table *table = &data->species;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (table->count == DW_SPECIES_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d species", DW_SPECIES_MAX);
            return;
        }
        dw_species *species = &table->species[table->count];
        memset(species, 0, sizeof *species); /* a refused one may have left something */
        if (!read_one(reader, node, species)) {
            /* The name stays known: what is wrong here need not show up as missing below. */
            if (species->name[0] != '\0') table->count++;
            continue;
        }
        if (dw_species_find(table, species->name) >= 0) {
            dw_data_fault(reader, node->place, "listed-twice", "species '%s' is listed twice",
                          species->name);
            continue;
        }
        check_one(reader, node, species);
        table->count++;
    }
    for (size_t i = 0; i < DW_COUNT_OF(needed); i++) {
        if (dw_species_find(table, needed[i]) < 0) {
            dw_data_fault(reader, list->place, "missing-species",
                          "species '%s' is missing: air and combustion need it", needed[i]);
        }
    }
}
