#include <stdlib.h>
#include <string.h>

#include "data_reader.h"

enum { LAST_NUMBER = 80 };

/* 1..80 for a number size, -1..-26 for a letter, 0 for neither. */
static int size_number(const char *size)
{
    if (size[0] >= 'A' && size[0] <= 'Z' && size[1] == '\0') return -(size[0] - 'A' + 1);
    if (size[0] < '1' || size[0] > '9' || size[1] == '\0') {
        return size[0] >= '1' && size[0] <= '9' ? size[0] - '0' : 0;
    }
    if (size[1] < '0' || size[1] > '9' || size[2] != '\0') return 0;
    const int number = 10 * (size[0] - '0') + (size[1] - '0');
    return number <= LAST_NUMBER ? number : 0;
}

/* Higher numbers are thinner, later letters thicker: true when two sizes stand as they should. */
static bool in_order(int a, double a_m, int b, double b_m)
{
    if ((a > 0) != (b > 0)) return true;
    return abs(a) < abs(b) ? (a > 0 ? a_m > b_m : a_m < b_m) : (a > 0 ? a_m < b_m : a_m > b_m);
}

static void read_drill(dw_data_reader *reader, const dw_node *item, dw_data *data)
{
    if (item->kind != DW_NODE_LIST || dw_data_length(item) != 2) {
        dw_data_fault(reader, item->place, "wrong-length", "a drill is [size, diameter]");
        return;
    }
    dw_drill *drill = &data->drill[data->drill_count];
    const dw_node *size = item->first;
    if (!dw_data_text_of(reader, size, "size", drill->size, sizeof drill->size)) return;
    const int number = size_number(drill->size);
    if (number == 0) {
        dw_data_fault(reader, size->place, "bad-value",
                      "'%s' is not a drill size, expected 1 to %d or A to Z", drill->size,
                      LAST_NUMBER);
        return;
    }
    if (!dw_data_number_of(reader, size->next, "diameter", DW_DIM_LENGTH, 1.0e-4, 2.0e-2,
                           &drill->diameter_m)) {
        return;
    }
    for (size_t i = 0; i < data->drill_count; i++) {
        const dw_drill *other = &data->drill[i];
        const int other_number = size_number(other->size);
        if (other_number == number) {
            dw_data_fault(reader, size->place, "listed-twice", "drill '%s' is listed twice",
                          drill->size);
            return;
        }
        if (!in_order(other_number, other->diameter_m, number, drill->diameter_m)) {
            dw_data_fault(reader, item->place, "not-rising",
                          "drill '%s' is out of order: '%s' is %.4f mm", drill->size, other->size,
                          1.0e3 * other->diameter_m);
            return;
        }
    }
    data->drill_count++;
}

void dw_data_read_drills(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"source", "sizes"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    (void)dw_data_source(reader, root, "source", NULL, 0);
    const dw_node *list = dw_data_member(reader, root, "sizes", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *item = list->first; item != NULL; item = item->next) {
        if (data->drill_count == DW_DRILL_MAX) {
            dw_data_fault(reader, item->place, "too-many", "more than %d drills", DW_DRILL_MAX);
            return;
        }
        read_drill(reader, item, data);
    }
}
