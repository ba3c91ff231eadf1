#include "kiln_listing.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "format.h"
#include "kiln_kinds.h"

enum { VALUE_SIZE = 512, EXPECTED_SIZE = 600 };

/* A walk over a kiln: the numbers of the walk are the same for every object in it. */
typedef struct walk {
    const dw_kiln *kiln;
    dw_kiln_given given;
    const dw_species_table *species;
    dw_listing_take take;
    void *user;
    bool stopped;
} walk;

const char *dw_origin_text(dw_origin origin)
{
    static const char *const texts[] = {"given", "default", "derived"};
    return texts[origin];
}

const char *dw_need_text(dw_need need)
{
    static const char *const texts[] = {"required", "default", "derived", "optional"};
    return texts[need];
}

static bool is_given(unsigned long long word, int row) { return (word >> row & 1u) != 0; }

/* The row, or one that ends up in the same place, was given. */
static bool is_given_somehow(const dw_keys *keys, unsigned long long word, int row)
{
    for (int i = 0; i < keys->count; i++) {
        if (is_given(word, i) && dw_keys_target(keys, i) == row) return true;
    }
    return false;
}

/* A key of the same choice that goes to another place was given instead. */
static bool is_replaced(const dw_keys *keys, unsigned long long word, int row)
{
    const dw_key *key = &keys->key[row];
    if (key->choice == NULL || is_given_somehow(keys, word, row)) return false;
    for (int i = 0; i < keys->count; i++) {
        const dw_key *other = &keys->key[i];
        if (other->choice != NULL && strcmp(other->choice, key->choice) == 0 && is_given(word, i) &&
            other->offset != key->offset) {
            return key->need != DW_NEED_DERIVED;
        }
    }
    return false;
}

static double number_at(const dw_key *key, const void *object)
{
    double value;
    memcpy(&value, (const char *)object + key->offset, sizeof value);
    return value;
}

static int count_at(const void *object, size_t offset)
{
    int value;
    memcpy(&value, (const char *)object + offset, sizeof value);
    return value;
}

static void rows_text(const dw_damper *damper, char *out, size_t size)
{
    size_t used = 0;
    for (int i = 0; i < damper->row_count && used < size; i++) {
        const int length = dw_print(out + used, size - used, "%s[%.10g %%, %.10g]%s",
                                    i == 0 ? "[" : ", ", 100.0 * damper->row_open_frac[i],
                                    damper->row_loss[i], i + 1 == damper->row_count ? "]" : "");
        used += length > 0 ? (size_t)length : 0;
    }
}

/* Fills the value of a row that is no object, list or other form of a number. False when the key
 * has no value: an optional one that is absent. */
static bool value_of(const dw_key *key, const void *object, dw_listing_row *row,
                     char buffer[VALUE_SIZE])
{
    const char *at = (const char *)object + key->offset;
    *row = (dw_listing_row){.dim = DW_DIM_NUMBER, .si = NAN, .text = buffer, .help = key->help};
    buffer[0] = '\0';
    switch (key->kind) {
    case DW_KEY_DOWNSTREAM:
        if (((const dw_flue *)object)->downstream_is_plenum) {
            row->text = "plenum";
            return true;
        }
        /* fall through */
    case DW_KEY_NUMBER:
        row->is_number = true;
        row->text = NULL;
        row->dim = key->dim;
        row->si = number_at(key, object);
        return !isnan(row->si);
    case DW_KEY_COUNT:
        row->is_number = true;
        row->text = NULL;
        row->si = count_at(object, key->offset);
        return true;
    case DW_KEY_SWITCH: row->text = *(const bool *)at ? "yes" : "no"; return true;
    case DW_KEY_FLAG_WORD: row->text = key->words[*(const bool *)at ? 1 : 0]; return true;
    case DW_KEY_WORD: row->text = key->words[count_at(object, key->offset)]; return true;
    case DW_KEY_NAME: row->text = at; return true;
    case DW_KEY_FUEL: row->text = ((const dw_fuel *)(const void *)at)->name; return true;
    case DW_KEY_ROWS: rows_text(object, buffer, VALUE_SIZE); return buffer[0] != '\0';
    default: return false;
    }
}

static void hand_over(walk *w, const dw_listing_row *row)
{
    if (!w->stopped && w->take(w->user, row) != 0) w->stopped = true;
}

static void list_gases(walk *w, const char *path, dw_origin origin)
{
    for (size_t i = 0; i < w->species->count; i++) {
        if (!(w->kiln->fuel.x[i] > 0.0)) continue;
        char at[DW_PATH_SIZE];
        (void)dw_path_join_keys(at, sizeof at, path, w->species->species[i].name);
        const dw_listing_row row = {.path = at,
                                    .is_number = true,
                                    .dim = DW_DIM_SHARE,
                                    .si = w->kiln->fuel.x[i],
                                    .origin = origin,
                                    .row = DW_NO_ROW,
                                    .help = "share by mole"};
        hand_over(w, &row);
    }
}

static void list_object(walk *w, dw_object object, int index, const char *path, const void *base);

static void list_children(walk *w, const dw_key *key, int index, const char *path,
                          const void *object)
{
    const char *first = (const char *)object + key->offset;
    if (key->kind == DW_KEY_OBJECT) {
        if (key->child == DW_OBJECT_STACK && !w->kiln->stack.present) return;
        if (key->child == DW_OBJECT_ROOM && !w->kiln->room.present) return;
        list_object(w, key->child, index, path, first);
        return;
    }
    const size_t size = dw_keys_of(key->child)->size;
    for (int i = 0; i < count_at(object, key->count_offset); i++) {
        /* The name is the first member of every item's struct. */
        const char *item = first + (size_t)i * size;
        char at[DW_PATH_SIZE];
        (void)dw_path_join(at, sizeof at, path, item);
        list_object(w, key->child, i, at, item);
    }
}

static void list_object(walk *w, dw_object object, int index, const char *path, const void *base)
{
    const dw_keys *keys = dw_keys_of(object);
    const unsigned kind = dw_object_kind(keys, base);
    const unsigned long long *word_at = dw_given_word(&w->given, object, index);
    const unsigned long long word = word_at != NULL ? *word_at : 0;
    for (int i = 0; i < keys->count && !w->stopped; i++) {
        const dw_key *key = &keys->key[i];
        char at[DW_PATH_SIZE], buffer[VALUE_SIZE];
        dw_listing_row row;
        (void)dw_path_join_keys(at, sizeof at, path, key->name);
        if (key->kind == DW_KEY_OBJECT || key->kind == DW_KEY_LIST) {
            list_children(w, key, index, at, base);
            continue;
        }
        if (!dw_key_applies(key, kind) || is_replaced(keys, word, i) ||
            !value_of(key, base, &row, buffer)) {
            continue;
        }
        row.path = at;
        row.object = object;
        row.index = index;
        row.row = i;
        row.origin = is_given_somehow(keys, word, i) ? DW_ORIGIN_GIVEN
                     : key->need == DW_NEED_DERIVED  ? DW_ORIGIN_DERIVED
                                                     : DW_ORIGIN_DEFAULT;
        hand_over(w, &row);
        if (key->kind == DW_KEY_FUEL) list_gases(w, at, row.origin);
    }
}

void dw_kiln_listing(const dw_kiln *resolved, const dw_kiln_given *given,
                     const dw_species_table *species, dw_listing_take take, void *user)
{
    walk w = {.kiln = resolved, .given = *given, .species = species, .take = take, .user = user};
    list_object(&w, DW_OBJECT_FILE, 0, "", resolved);
}

/* ------------------------------------------------------------------ the list of all keys */

/* Writes a number in the unit of the key's own limits; bare when they have none. */
static void number_text(const dw_key *key, double si, char *out, size_t size)
{
    const char *wanted = key->low != NULL ? strchr(key->low, ' ') : NULL;
    const char *unit;
    dw_dim dim;
    double factor, offset;
    for (size_t i = 0; wanted != NULL && dw_unit_row(i, &unit, &dim, &factor, &offset); i++) {
        if (dim != key->dim || strcmp(unit, wanted + 1) != 0) continue;
        (void)dw_print(out, size, "%.6g %s", si / factor - offset, unit);
        return;
    }
    (void)dw_print(out, size, "%.6g", si);
}

/* Writes a default. False when the key has none. */
static bool default_text(const dw_key *key, const void *object, char *out, size_t size)
{
    char buffer[VALUE_SIZE];
    dw_listing_row row;
    if (key->need != DW_NEED_DEFAULT || !value_of(key, object, &row, buffer)) return false;
    if (row.is_number) {
        number_text(key, row.si, out, size);
    } else {
        (void)snprintf(out, size, "%s", row.text);
    }
    return true;
}

static bool keys_of_object(const dw_data *data, dw_object object, const char *path,
                           const void *base, dw_key_take take, void *user)
{
    const dw_keys *keys = dw_keys_of(object);
    for (int i = 0; i < keys->count; i++) {
        const dw_key *key = &keys->key[i];
        char at[DW_PATH_SIZE], expected[EXPECTED_SIZE], fallback[VALUE_SIZE];
        (void)dw_path_join_keys(at, sizeof at, path, key->name);
        dw_key_expected(key, data, expected, sizeof expected);
        const dw_key_row row = {
            .path = at,
            .expected = expected,
            .need = key->need,
            .fallback = default_text(key, base, fallback, sizeof fallback) ? fallback : NULL,
            .help = key->help};
        if (take(user, &row) != 0) return false;
        if (key->kind != DW_KEY_OBJECT && key->kind != DW_KEY_LIST) continue;
        char item[DW_PATH_SIZE];
        (void)dw_path_join(item, sizeof item, at, "<name>");
        if (!keys_of_object(data, key->child, key->kind == DW_KEY_LIST ? item : at,
                            (const char *)base + key->offset, take, user)) {
            return false;
        }
    }
    return true;
}

void dw_kiln_keys(const dw_data *data, dw_key_take take, void *user)
{
    dw_kiln kiln;
    dw_kiln_init(&kiln);
    dw_burner_take_kinds(&kiln.burner[0], 0, &data->spreads);
    (void)keys_of_object(data, DW_OBJECT_FILE, "", &kiln, take, user);
}
