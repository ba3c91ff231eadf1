#include <string.h>

#include "constants.h"
#include "data_reader.h"

/* As far as the damper law goes (physics/damper.h); the slack is for the rounding of degrees. */
static const double last_angle_rad = 75.0 * DW_PI / 180.0 * (1.0 + 1.0e-12);

static void read_butterfly(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"rows"};
    static const char *const row_keys[] = {"angle", "loss", "source"};
    const dw_node *butterfly = dw_data_member(reader, root, "butterfly_damper", DW_NODE_MAP);
    if (butterfly == NULL) return;
    (void)dw_data_keys(reader, butterfly, keys, DW_COUNT_OF(keys));
    const dw_node *rows = dw_data_member(reader, butterfly, "rows", DW_NODE_LIST);
    if (rows == NULL) return;

    for (const dw_node *row = rows->first; row != NULL; row = row->next) {
        (void)dw_data_keys(reader, row, row_keys, DW_COUNT_OF(row_keys));
        if (row->kind != DW_NODE_MAP) continue;
        const size_t i = data->butterfly_count;
        if (i == DW_BUTTERFLY_ROW_MAX) {
            dw_data_fault(reader, row->place, "too-many", "more than %d rows",
                          DW_BUTTERFLY_ROW_MAX);
            return;
        }
        double angle_rad, loss;
        bool good =
            dw_data_number(reader, row, "angle", DW_DIM_ANGLE, 0.0, last_angle_rad, &angle_rad);
        good = dw_data_number(reader, row, "loss", DW_DIM_NUMBER, 1.0e-3, 1.0e6, &loss) && good;
        (void)dw_data_source(reader, row, "source", NULL, 0);
        if (!good) continue;
        if (i > 0 && !(angle_rad > data->butterfly_angle_rad[i - 1])) {
            dw_data_fault(reader, row->place, "not-rising",
                          "'angle' is not above that of the row before");
        }
        if (i > 0 && !(loss > data->butterfly_loss[i - 1])) {
            dw_data_fault(reader, row->place, "not-rising",
                          "'loss' is not above that of the row before");
        }
        data->butterfly_angle_rad[i] = angle_rad;
        data->butterfly_loss[i] = loss;
        data->butterfly_count++;
    }
    if (data->butterfly_count < 2) {
        dw_data_fault(reader, rows->place, "too-few", "a table needs at least two rows");
    } else if (data->butterfly_angle_rad[0] != 0.0) {
        dw_data_fault(reader, rows->place, "bad-value", "the first row is not at 0 deg");
    }
}

static void read_thick_plate(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"rows"};
    static const char *const row_keys[] = {"thickness_per_slot", "factor", "source"};
    const dw_node *plate = dw_data_member(reader, root, "thick_plate", DW_NODE_MAP);
    if (plate == NULL) return;
    (void)dw_data_keys(reader, plate, keys, DW_COUNT_OF(keys));
    const dw_node *rows = dw_data_member(reader, plate, "rows", DW_NODE_LIST);
    if (rows == NULL) return;

    for (const dw_node *row = rows->first; row != NULL; row = row->next) {
        (void)dw_data_keys(reader, row, row_keys, DW_COUNT_OF(row_keys));
        if (row->kind != DW_NODE_MAP) continue;
        const size_t i = data->thick_plate_count;
        if (i == DW_THICK_PLATE_ROW_MAX) {
            dw_data_fault(reader, row->place, "too-many", "more than %d rows", DW_THICK_PLATE_ROW_MAX);
            return;
        }
        double *ratio = &data->thick_plate_ratio[i], *factor = &data->thick_plate_factor[i];
        bool good = dw_data_number(reader, row, "thickness_per_slot", DW_DIM_NUMBER, 0.0, 100.0, ratio);
        good = dw_data_number(reader, row, "factor", DW_DIM_NUMBER, 0.1, 1.0, factor) && good;
        (void)dw_data_source(reader, row, "source", NULL, 0);
        if (!good) continue;
        if (i > 0 && !(*ratio > ratio[-1])) {
            dw_data_fault(reader, row->place, "not-rising",
                          "'thickness_per_slot' is not above that of the row before");
        }
        /* What closes must lose more: of a given plate, factor x ratio^2 up to here. */
        if (i > 0 && !(*factor <= factor[-1] && *factor * *ratio * *ratio > factor[-1] * ratio[-1] * ratio[-1])) {
            dw_data_fault(reader, row->place, "not-falling",
                          "'factor' rises, or falls so far that a damper would lose less when it closes");
        }
        data->thick_plate_count++;
    }
    if (data->thick_plate_count < 2) {
        dw_data_fault(reader, rows->place, "too-few", "a table needs at least two rows");
    }
}

/* A list of named values: linings with a roughness, caps with a loss. */
static void read_named(dw_data_reader *reader, const dw_node *root, const char *list_key,
                       const char *value_key, dw_dim dim, double high, dw_named_value *out,
                       size_t max, size_t *count)
{
    const char *const keys[] = {"name", value_key, "source"};
    const dw_node *list = dw_data_member(reader, root, list_key, DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
        if (node->kind != DW_NODE_MAP) continue;
        if (*count == max) {
            dw_data_fault(reader, node->place, "too-many", "more than %zu %s", max, list_key);
            return;
        }
        dw_named_value *entry = &out[*count];
        (void)dw_data_text(reader, node, "name", entry->name, sizeof entry->name);
        (void)dw_data_number(reader, node, value_key, dim, 0.0, high, &entry->value);
        (void)dw_data_source(reader, node, "source", NULL, 0);
        for (size_t i = 0; i < *count; i++) {
            if (entry->name[0] != '\0' && strcmp(out[i].name, entry->name) == 0) {
                dw_data_fault(reader, node->place, "listed-twice", "'%s' is listed twice in '%s'",
                              entry->name, list_key);
            }
        }
        (*count)++;
    }
    if (list->first == NULL) {
        dw_data_fault(reader, list->place, "bad-value", "'%s' is empty", list_key);
    }
}

void dw_data_read_flow(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"butterfly_damper", "thick_plate", "linings", "caps"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    read_butterfly(reader, root, data);
    read_thick_plate(reader, root, data);
    read_named(reader, root, "linings", "roughness", DW_DIM_LENGTH, 0.05, data->lining,
               DW_LINING_MAX, &data->lining_count);
    read_named(reader, root, "caps", "loss", DW_DIM_NUMBER, 50.0, data->cap, DW_CAP_MAX,
               &data->cap_count);
}
