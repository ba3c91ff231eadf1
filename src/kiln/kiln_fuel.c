#include <math.h>
#include <stdio.h>
#include <string.h>

#include "ascii.h"
#include "kiln_reader.h"
#include "nearest.h"

enum { GASES_SIZE = 300, EXPECTED_SIZE = 600 };

/* Shares typed with a digit or two; a sum further off than this is a slip and not rounding. */
#define SUM_TOLERANCE 1.0e-3
/* Below this a sum is what decimal fractions leave, not worth a note. */
#define SUM_EXACT 1.0e-9

/* Gases that turn up in fuels without being a component of ISO 6976. */
static bool is_usual(const dw_species *species)
{
    static const char *const others[] = {"O2", "Ar", "H2O", "C2H2", "C2H4"};
    if (species->iso.present) return true;
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        if (strcmp(species->name, others[i]) == 0) return true;
    }
    return false;
}

static void read_share(dw_kiln_reader *reader, const dw_node *node, const char *path, dw_fuel *fuel)
{
    const dw_species_table *table = &reader->data->species;
    const char *gases[DW_SPECIES_MAX];
    size_t gas_count = 0;
    for (size_t i = 0; i < table->count; i++) {
        if (!table->species[i].condensed && is_usual(&table->species[i])) {
            gases[gas_count++] = table->species[i].name;
        }
    }
    const int i = dw_species_find(table, node->key);
    char share_path[DW_PATH_SIZE];
    (void)dw_path_join(share_path, sizeof share_path, path, node->key);
    if (i < 0 || table->species[i].condensed) {
        char expected[GASES_SIZE];
        dw_words_join(gases, gas_count, expected, sizeof expected);
        const char *nearest = dw_nearest_word(node->key, gases, gas_count);
        dw_kiln_fault(reader, node->key_place, "unknown-gas",
                      "'%s' is not a gas, expected %s%s%s%s", share_path, expected,
                      nearest != NULL ? "; did you mean '" : "", nearest != NULL ? nearest : "",
                      nearest != NULL ? "'?" : "");
        return;
    }
    if (!dw_kiln_quantity(reader, node, share_path, DW_DIM_SHARE, "0 %", "100 %", &fuel->x[i])) {
        return;
    }
    if (fuel->x[i] > 0.0 && !is_usual(&table->species[i])) {
        dw_kiln_doubt(reader, node->key_place, "odd-gas", "'%s' is not usually part of a fuel gas",
                      share_path);
    }
}

static void read_mixture(dw_kiln_reader *reader, const dw_node *node, const char *path,
                         dw_fuel *fuel)
{
    const int before = reader->error_count;
    (void)snprintf(fuel->name, sizeof fuel->name, "mixture");
    for (const dw_node *child = node->first; child != NULL; child = child->next) {
        read_share(reader, child, path, fuel);
    }
    if (reader->error_count != before) return;

    double sum = 0.0;
    for (size_t i = 0; i < reader->data->species.count; i++)
        sum += fuel->x[i];
    if (!(fabs(sum - 1.0) <= SUM_TOLERANCE)) {
        dw_kiln_fault(reader, node->place, "bad-sum",
                      "'%s' has shares that add up to %.6g %%, expected 100 %%", path, 100.0 * sum);
        return;
    }
    if (fabs(sum - 1.0) > SUM_EXACT) {
        dw_diag_add(reader->diag, DW_NOTE, "shares-scaled", node->place,
                    "'%s' has shares that add up to %.6g %%; they are scaled to 100 %%", path,
                    100.0 * sum);
    }
    for (size_t i = 0; i < reader->data->species.count; i++)
        fuel->x[i] /= sum;
}

/* What people call a gas, and the name it probably has here. */
static const struct {
    const char *said, *fuel;
} other_names[] = {
    {"lpg", "propane"},          {"lp gas", "propane"},           {"lp", "propane"},
    {"bottled gas", "propane"},  {"bottle gas", "propane"},       {"cylinder gas", "propane"},
    {"tank gas", "propane"},     {"liquid gas", "propane"},       {"mains gas", "natural gas"},
    {"main gas", "natural gas"}, {"mains", "natural gas"},        {"city gas", "natural gas"},
    {"grid gas", "natural gas"}, {"pipeline gas", "natural gas"}, {"piped gas", "natural gas"},
    {"line gas", "natural gas"}, {"street gas", "natural gas"},   {"ng", "natural gas"},
    {"gas", "natural gas"},      {"coal gas", "town gas"},        {"manufactured gas", "town gas"},
};

/* Letters of either case, and `_`, `-` for a blank, count as equal. */
static bool same_name(const char *a, const char *b)
{
    for (; *a != '\0' && *b != '\0'; a++, b++) {
        const char x = *a == '_' || *a == '-' ? ' ' : dw_ascii_small(*a);
        if (x != dw_ascii_small(*b)) return false;
    }
    return *a == *b;
}

/* The fuel of the data that was probably meant; NULL when nothing comes near. */
static const char *probable_fuel(const dw_data *data, const char *said)
{
    const char *want = said;
    for (size_t i = 0; i < sizeof other_names / sizeof other_names[0]; i++) {
        if (same_name(said, other_names[i].said)) want = other_names[i].fuel;
    }
    for (size_t i = 0; i < data->fuel_count; i++) {
        if (same_name(want, data->fuel[i].name)) return data->fuel[i].name;
    }
    return NULL;
}

static void refuse_fuel(dw_kiln_reader *reader, const dw_node *node, const char *path)
{
    char expected[EXPECTED_SIZE];
    const char *names[DW_FUEL_MAX];
    for (size_t i = 0; i < reader->data->fuel_count; i++)
        names[i] = reader->data->fuel[i].name;
    const char *meant = probable_fuel(reader->data, node->text);
    if (meant == NULL) meant = dw_nearest_word(node->text, names, reader->data->fuel_count);
    const dw_key as_key = {.kind = DW_KEY_FUEL};
    dw_key_expected(&as_key, reader->data, expected, sizeof expected);
    dw_kiln_fault(reader, node->place, "unknown-word", "'%s' is '%.40s', expected %s%s%s%s", path,
                  node->text, expected, meant != NULL ? ". Did you mean '" : "",
                  meant != NULL ? meant : "", meant != NULL ? "'?" : "");
}

/* Where the mains carry natural gas today, people still say town gas. */
static void doubt_town_gas(dw_kiln_reader *reader, const dw_node *node, const char *path)
{
    if (!same_name(node->text, "town gas")) return;
    dw_diag_add(
        reader->diag, DW_NOTE, "town-gas", node->place,
        "'%s' is town gas: manufactured gas, about half of it hydrogen; if the mains where you "
        "are carry natural gas, write natural gas",
        path);
}

void dw_kiln_read_fuel(dw_kiln_reader *reader, const dw_node *node, const char *path, dw_fuel *fuel)
{
    if (node->kind == DW_NODE_MAP) {
        read_mixture(reader, node, path, fuel);
        return;
    }
    if (node->kind == DW_NODE_LIST || dw_node_is_blank(node)) {
        dw_kiln_wrong_kind(reader, node, path,
                           "the name of a fuel, or a map of gases with their shares");
        return;
    }
    for (size_t i = 0; i < reader->data->fuel_count; i++) {
        if (strcmp(reader->data->fuel[i].name, node->text) == 0) {
            *fuel = reader->data->fuel[i];
            doubt_town_gas(reader, node, path);
            return;
        }
    }
    refuse_fuel(reader, node, path);
}
