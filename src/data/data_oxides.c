#include <math.h>
#include <stdio.h>
#include <string.h>

#include "data_reader.h"
#include "ware_data.h"

/* Temperatures that any of these tables may speak of. */
static const double coldest_k = 250.0, hottest_k = 2500.0;

/* ---- metals ------------------------------------------------------------------------------- */

static void read_forms(dw_data_reader *reader, const dw_node *node, dw_metal *metal)
{
    static const char *const keys[] = {"name", "formula"};
    const dw_node *list = dw_data_member(reader, node, "forms", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *item = list->first; item != NULL; item = item->next) {
        if (metal->form_count == DW_OXIDE_FORM_MAX) {
            dw_data_fault(reader, item->place, "too-many", "more than %d forms",
                          DW_OXIDE_FORM_MAX);
            return;
        }
        dw_oxide_form *form = &metal->form[metal->form_count++];
        (void)dw_data_keys(reader, item, keys, DW_COUNT_OF(keys));
        if (item->kind != DW_NODE_MAP) continue;
        (void)dw_data_text(reader, item, "name", form->name, sizeof form->name);
        (void)dw_data_text(reader, item, "formula", form->formula, sizeof form->formula);
    }
    if (metal->form_count < 2) {
        dw_data_fault(reader, list->place, "too-few", "a metal needs at least two forms");
    }
}

static void read_metals(dw_data_reader *reader, const dw_node *root, dw_oxide_table *table)
{
    static const char *const keys[] = {"name", "forms"};
    const dw_node *list = dw_data_member(reader, root, "metals", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (table->metal_count == DW_METAL_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d metals", DW_METAL_MAX);
            return;
        }
        dw_metal *metal = &table->metal[table->metal_count];
        (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
        if (node->kind != DW_NODE_MAP) continue;
        if (dw_data_text(reader, node, "name", metal->name, sizeof metal->name) &&
            dw_metal_find(table, metal->name) >= 0) {
            dw_data_fault(reader, node->place, "listed-twice", "'%s' is listed twice",
                          metal->name);
        }
        read_forms(reader, node, metal);
        table->metal_count++;
    }
}

/* Index of a form of a metal by name, with a fault when there is none. */
static int find_form(dw_data_reader *reader, const dw_node *node, const dw_metal *metal)
{
    const char *words[DW_OXIDE_FORM_MAX];
    for (int i = 0; i < metal->form_count; i++) {
        words[i] = metal->form[i].name;
        if (node->kind == DW_NODE_SCALAR && strcmp(node->text, words[i]) == 0) return i;
    }
    dw_data_unknown(reader, node->place, "unknown-form", "form",
                    node->kind == DW_NODE_SCALAR ? node->text : "", words,
                    (size_t)metal->form_count);
    return -1;
}

/* ---- buffers ------------------------------------------------------------------------------ */

static void read_coefficients(dw_data_reader *reader, const dw_node *node, dw_buffer *buffer)
{
    static const struct {
        const char *key;
        size_t least, most;
    } forms[] = {[DW_BUFFER_LOG10] = {"log10", 2, 3}, [DW_BUFFER_POTENTIAL] = {"potential", 2, 6}};
    const bool is_log10 = dw_node_get(node, forms[DW_BUFFER_LOG10].key) != NULL;
    buffer->form = is_log10 ? DW_BUFFER_LOG10 : DW_BUFFER_POTENTIAL;
    const char *key = forms[buffer->form].key;
    const dw_node *list = dw_data_member(reader, node, key, DW_NODE_LIST);
    if (list == NULL) return;
    const size_t length = dw_data_length(list);
    if (length < forms[buffer->form].least || length > forms[buffer->form].most) {
        dw_data_fault(reader, list->place, "wrong-length",
                      "'%s' has %zu numbers, expected %zu to %zu", key, length,
                      forms[buffer->form].least, forms[buffer->form].most);
        return;
    }
    (void)dw_data_numbers(reader, node, key, length, -1.0e9, 1.0e9, buffer->coeff);
}

static double optional_temperature(dw_data_reader *reader, const dw_node *node, const char *key,
                                   double fallback)
{
    double si;
    if (dw_node_get(node, key) == NULL) return fallback;
    (void)dw_data_number(reader, node, key, DW_DIM_TEMPERATURE, coldest_k, hottest_k, &si);
    return si;
}

static void read_range(dw_data_reader *reader, const dw_node *node, dw_buffer *buffer)
{
    bool good = dw_data_number(reader, node, "from", DW_DIM_TEMPERATURE, coldest_k, hottest_k,
                               &buffer->from_k);
    good = dw_data_number(reader, node, "to", DW_DIM_TEMPERATURE, coldest_k, hottest_k,
                          &buffer->to_k) &&
           good;
    buffer->used_from_k = optional_temperature(reader, node, "used_from", buffer->from_k);
    buffer->used_to_k = optional_temperature(reader, node, "used_to", buffer->to_k);
    if (good && !(buffer->used_from_k <= buffer->from_k && buffer->from_k < buffer->to_k &&
                  buffer->to_k <= buffer->used_to_k)) {
        dw_data_fault(reader, node->place, "not-rising",
                      "the temperatures are not in the order used_from, from, to, used_to");
    }
}

static void read_between(dw_data_reader *reader, const dw_node *node, const dw_oxide_table *table,
                         dw_buffer *buffer)
{
    char name[sizeof table->metal[0].name];
    if (!dw_data_text(reader, node, "metal", name, sizeof name)) return;
    buffer->metal = dw_metal_find(table, name);
    if (buffer->metal < 0) {
        const char *words[DW_METAL_MAX];
        for (int i = 0; i < table->metal_count; i++) words[i] = table->metal[i].name;
        dw_data_unknown(reader, dw_node_get(node, "metal")->place, "unknown-metal", "metal", name,
                        words, (size_t)table->metal_count);
        return;
    }
    const dw_metal *metal = &table->metal[buffer->metal];
    const dw_node *pair = dw_data_member(reader, node, "between", DW_NODE_LIST);
    if (pair == NULL) return;
    if (dw_data_length(pair) != 2) {
        dw_data_fault(reader, pair->place, "wrong-length", "'between' needs two forms");
        return;
    }
    const int upper = find_form(reader, pair->first, metal);
    const int lower = find_form(reader, pair->first->next, metal);
    if (upper < 0 || lower < 0) return;
    if (lower != upper + 1) {
        dw_data_fault(
            reader, pair->place, "bad-value",
            "'between' needs two forms that follow each other, the richer in oxygen first");
        return;
    }
    buffer->boundary = upper;
    char joined[sizeof buffer->name] = "";
    (void)snprintf(joined, sizeof joined, "%s-%s", metal->form[upper].formula,
                   metal->form[lower].formula);
    memcpy(buffer->name, joined, sizeof joined);
}

static void read_buffers(dw_data_reader *reader, const dw_node *root, const char *list_key,
                         bool decides, dw_oxide_table *table)
{
    static const char *const keys[] = {"key",    "metal", "between", "log10",   "potential",
                                       "from",   "to",    "used_from", "used_to", "error",
                                       "source"};
    static const char *const compared_keys[] = {"key", "name", "log10", "potential", "source"};
    const dw_node *list = dw_data_member(reader, root, list_key, DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (table->buffer_count == DW_BUFFER_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d buffers", DW_BUFFER_MAX);
            return;
        }
        (void)dw_data_keys(reader, node, decides ? keys : compared_keys,
                           decides ? DW_COUNT_OF(keys) : DW_COUNT_OF(compared_keys));
        if (node->kind != DW_NODE_MAP) continue;
        dw_buffer *buffer = &table->buffer[table->buffer_count];
        /* The rest is nought, and so are the bytes between: they are packed into the program. */
        buffer->metal = buffer->boundary = -1;
        buffer->from_k = buffer->to_k = buffer->used_from_k = buffer->used_to_k = NAN;
        buffer->error_log10 = NAN;
        if (dw_data_text(reader, node, "key", buffer->key, sizeof buffer->key) &&
            dw_buffer_find(table, buffer->key) != NULL) {
            dw_data_fault(reader, node->place, "listed-twice", "buffer '%s' is listed twice",
                          buffer->key);
        }
        read_coefficients(reader, node, buffer);
        (void)dw_data_source(reader, node, "source", buffer->source, sizeof buffer->source);
        if (decides) {
            read_between(reader, node, table, buffer);
            read_range(reader, node, buffer);
            if (dw_node_get(node, "error") != NULL) {
                (void)dw_data_number(reader, node, "error", DW_DIM_NUMBER, 0.0, 10.0,
                                     &buffer->error_log10);
            }
        } else {
            (void)dw_data_text(reader, node, "name", buffer->name, sizeof buffer->name);
        }
        table->buffer_count++;
    }
}

/* Every boundary has a calibration at 1000 degC, and those of a metal fall in order there. */
static void check_order(dw_data_reader *reader, dw_place place, const dw_oxide_table *table)
{
    const double t = 1273.15;
    for (int m = 0; m < table->metal_count; m++) {
        double before = INFINITY;
        for (int k = 0; k + 1 < table->metal[m].form_count; k++) {
            double here = NAN;
            for (int i = 0; i < table->buffer_count && isnan(here); i++) {
                const dw_buffer *b = &table->buffer[i];
                if (b->metal == m && b->boundary == k && dw_buffer_reach_at(b, t) != DW_BUFFER_OUT) {
                    here = dw_buffer_log10_po2_bar(b, t);
                }
            }
            if (!(here < before)) {
                dw_data_fault(reader, place, "bad-order",
                              "%s: the boundary below '%s' has no buffer at 1000 degC, or one above "
                              "the boundary before it",
                              table->metal[m].name, table->metal[m].form[k].name);
            }
            before = here;
        }
    }
}

/* ---- windows ------------------------------------------------------------------------------ */

/* The metal whose form this is: forms of all metals have different names. */
static void read_form_wanted(dw_data_reader *reader, const dw_node *node,
                             const dw_oxide_table *table, dw_window *window)
{
    const char *words[DW_METAL_MAX * DW_OXIDE_FORM_MAX];
    size_t count = 0;
    for (int m = 0; m < table->metal_count; m++) {
        for (int i = 0; i < table->metal[m].form_count; i++) {
            words[count++] = table->metal[m].form[i].name;
            if (node->kind == DW_NODE_SCALAR && strcmp(node->text, words[count - 1]) == 0) {
                window->metal = m;
                window->form = i;
                return;
            }
        }
    }
    dw_data_unknown(reader, node->place, "unknown-form", "form",
                    node->kind == DW_NODE_SCALAR ? node->text : "", words, count);
}

static void read_need(dw_data_reader *reader, const dw_node *node, const dw_oxide_table *table,
                      dw_window *window)
{
    const dw_node *reduced = dw_node_get(node, "reduced_to");
    const dw_node *oxidized = dw_node_get(node, "oxidized_to");
    const dw_node *h2 = dw_node_get(node, "h2_h2o");
    bool soot = false;
    (void)dw_data_flag(reader, node, "soot", &soot);
    if ((reduced != NULL) + (oxidized != NULL) + (h2 != NULL) + soot > 1) {
        dw_data_fault(reader, node->place, "bad-value",
                      "expected only one of reduced_to, oxidized_to, h2_h2o and soot");
        return;
    }
    if (reduced != NULL || oxidized != NULL) {
        window->need = reduced != NULL ? DW_WARE_REDUCED_TO : DW_WARE_OXIDIZED_TO;
        read_form_wanted(reader, reduced != NULL ? reduced : oxidized, table, window);
    } else if (h2 != NULL) {
        window->need = DW_WARE_H2_H2O;
        (void)dw_data_number(reader, node, "h2_h2o", DW_DIM_NUMBER, 1.0e-6, 1.0e3,
                             &window->h2_h2o_ratio);
    } else if (soot) {
        window->need = DW_WARE_SOOT;
    }
}

static void read_windows(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"subject",     "stage",  "from", "to",   "reduced_to",
                                       "oxidized_to", "h2_h2o", "soot", "text", "source"};
    const dw_node *list = dw_data_member(reader, root, "windows", DW_NODE_LIST);
    if (list == NULL) return;
    for (const dw_node *node = list->first; node != NULL; node = node->next) {
        if (data->window_count == DW_WINDOW_MAX) {
            dw_data_fault(reader, node->place, "too-many", "more than %d windows", DW_WINDOW_MAX);
            return;
        }
        (void)dw_data_keys(reader, node, keys, DW_COUNT_OF(keys));
        if (node->kind != DW_NODE_MAP) continue;
        dw_window *window = &data->window[data->window_count++];
        window->metal = window->form = -1;
        window->h2_h2o_ratio = NAN;
        (void)dw_data_text(reader, node, "subject", window->subject, sizeof window->subject);
        (void)dw_data_text(reader, node, "stage", window->stage, sizeof window->stage);
        (void)dw_data_text(reader, node, "text", window->text, sizeof window->text);
        (void)dw_data_source(reader, node, "source", window->source, sizeof window->source);
        bool good = dw_data_number(reader, node, "from", DW_DIM_TEMPERATURE, coldest_k, hottest_k,
                                   &window->from_k);
        good = dw_data_number(reader, node, "to", DW_DIM_TEMPERATURE, coldest_k, hottest_k,
                              &window->to_k) &&
               good;
        if (good && !(window->from_k < window->to_k)) {
            dw_data_fault(reader, node->place, "not-rising", "'to' is not above 'from'");
        }
        read_need(reader, node, &data->oxides, window);
    }
}

void dw_data_read_oxides(dw_data_reader *reader, const dw_node *root, dw_data *data)
{
    static const char *const keys[] = {"band_log10", "metals", "buffers", "comparison", "windows"};
    (void)dw_data_keys(reader, root, keys, DW_COUNT_OF(keys));
    if (root->kind != DW_NODE_MAP) return;
    const int before = reader->fault_count;
    (void)dw_data_number(reader, root, "band_log10", DW_DIM_NUMBER, 0.0, 2.0,
                         &data->oxides.band_log10);
    read_metals(reader, root, &data->oxides);
    read_buffers(reader, root, "buffers", true, &data->oxides);
    read_buffers(reader, root, "comparison", false, &data->oxides);
    if (reader->fault_count == before) check_order(reader, root->place, &data->oxides);
    read_windows(reader, root, data);
}
