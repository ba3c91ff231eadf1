#include "check.h"

#include <string.h>

#include "yaml_tree.h"

static const char kiln[] = "site: {elevation: 0 m}\n"
                           "fuel: propane\n"
                           "operating:\n"
                           "flues:\n"
                           "  - name: back flue\n"
                           "    damper: {open: 40 %}\n"
                           "  - name: no. 2\n"
                           "    damper: {open: 10 %}\n"
                           "  - name: \"1\"\n"
                           "    damper: {open: 20 %}\n"
                           "twins: [{name: a, x: 1}, {name: a, x: 2}]\n"
                           "mixed: [{a: {b: 1}}, {a: 7}]\n"
                           "none: []\n";

static dw_tree *read_kiln(void)
{
    dw_tree *tree = NULL;
    assert_int_equal(dw_tree_read("case.yaml", kiln, strlen(kiln), NULL, &tree), DW_OK);
    return tree;
}

static void set(dw_tree *tree, const char *path, const char *value)
{
    dw_diag_list *diag = dw_diag_list_create();
    if (dw_tree_set(tree, path, value, diag) != DW_OK) fail_msg("%s", dw_diag_get(diag, 0)->text);
    assert_int_equal(dw_diag_count(diag), 0);
    dw_diag_list_destroy(diag);
}

static void append(char *out, size_t size, const char *text)
{
    (void)snprintf(out + strlen(out), size - strlen(out), "%s", text);
}

/* The tree as flow text, and every link of it checked. */
static void write_node(const dw_node *node, char *out, size_t size)
{
    if (node->key != NULL) {
        append(out, size, node->key);
        append(out, size, ": ");
    }
    if (node->kind == DW_NODE_SCALAR) {
        assert_null(node->first);
        assert_int_equal(node->length, strlen(node->text));
        append(out, size, node->quoted ? "'" : "");
        append(out, size, node->text);
        append(out, size, node->quoted ? "'" : "");
        return;
    }
    assert_null(node->text);
    append(out, size, node->kind == DW_NODE_MAP ? "{" : "[");
    for (const dw_node *child = node->first; child != NULL; child = child->next) {
        assert_ptr_equal(child->parent, node);
        assert_true((child->key != NULL) == (node->kind == DW_NODE_MAP));
        write_node(child, out, size);
        if (child->next != NULL) append(out, size, ", ");
    }
    append(out, size, node->kind == DW_NODE_MAP ? "}" : "]");
}

static void assert_at(const dw_tree *tree, const char *key, const char *expected)
{
    char out[1000] = "";
    const dw_node *node =
        key[0] == '\0' ? dw_tree_root(tree) : dw_node_get(dw_tree_root(tree), key);
    assert_non_null(node);
    write_node(node, out, sizeof out);
    assert_string_equal(out, expected);
}

/* The setting must be refused with this one message and leave the tree as it was. */
static void refused(const char *path, const char *value, const char *expected)
{
    dw_tree *tree = read_kiln();
    char before[1000] = "", line[400];
    write_node(dw_tree_root(tree), before, sizeof before);
    dw_diag_list *diag = dw_diag_list_create();
    assert_int_equal(dw_tree_set(tree, path, value, diag), DW_ERR_INPUT);
    assert_int_equal(dw_diag_count(diag), 1);
    (void)dw_diag_format(dw_diag_get(diag, 0), line, sizeof line);
    assert_string_equal(line, expected);
    assert_at(tree, "", before);
    dw_diag_list_destroy(diag);
    dw_tree_destroy(tree);
}

static void keys_are_replaced_and_added(void **state)
{
    (void)state;
    dw_tree *tree = read_kiln();
    set(tree, "site.elevation", "1500 m");
    set(tree, "site.air_temperature", "'20 degC'");
    set(tree, "fuel", "{c3h8: 90 %, c4h10: [1, {x: 2}]}");
    set(tree, "operating.gas_pressure", "20 kPa");
    set(tree, "new.deep.key", "7");
    set(tree, "new.deep.other", "8");
    assert_at(tree, "site", "site: {elevation: 1500 m, air_temperature: '20 degC'}");
    assert_at(tree, "fuel", "fuel: {c3h8: 90 %, c4h10: [1, {x: 2}]}");
    assert_at(tree, "operating", "operating: {gas_pressure: 20 kPa}");
    assert_at(tree, "new", "new: {deep: {key: 7, other: 8}}");
    set(tree, "fuel", "butane");
    set(tree, "new.deep", "shallow");
    assert_at(tree, "fuel", "fuel: butane");
    assert_at(tree, "new", "new: {deep: shallow}");
    dw_tree_destroy(tree);
}

static void items_go_by_name_index_and_star(void **state)
{
    (void)state;
    dw_tree *tree = read_kiln();
    set(tree, "flues.back flue.damper.open", "41 %");
    set(tree, "flues.\"no. 2\".damper.open", "11 %");
    /* A name that looks like an index is a name first: the third flue, not the second. */
    set(tree, "flues.1.damper.open", "21 %");
    set(tree, "flues.0.height", "5 m");
    set(tree, "flues.'back flue'.cap", "no");
    assert_at(tree, "flues",
              "flues: [{name: back flue, damper: {open: 41 %}, height: 5 m, cap: no}, "
              "{name: no. 2, damper: {open: 11 %}}, {name: '1', damper: {open: 21 %}}]");
    set(tree, "flues.*.damper", "{open: 3 %, kind: [plate]}");
    set(tree, "flues.0.damper.open", "4 %");
    assert_at(tree, "flues",
              "flues: [{name: back flue, damper: {open: 4 %, kind: [plate]}, height: 5 m, cap: "
              "no}, {name: no. 2, damper: {open: 3 %, kind: [plate]}}, {name: '1', damper: {open: "
              "3 %, kind: [plate]}}]");
    set(tree, "twins.1.x", "3");
    assert_at(tree, "twins", "twins: [{name: a, x: 1}, {name: a, x: 3}]");
    set(tree, "twins.0", "plain");
    assert_at(tree, "twins", "twins: [plain, {name: a, x: 3}]");
    dw_tree_destroy(tree);
}

static void new_nodes_have_the_place_of_settings(void **state)
{
    (void)state;
    dw_tree *tree = read_kiln();
    set(tree, "site.elevation", "{a: 1}");
    set(tree, "site.more.b", "2");
    const dw_node *site = dw_node_get(dw_tree_root(tree), "site");
    const dw_node *elevation = dw_node_get(site, "elevation"), *more = dw_node_get(site, "more");
    assert_string_equal(elevation->place.file, "--set");
    assert_int_equal(elevation->place.line, 0);
    assert_string_equal(elevation->first->place.file, "--set");
    assert_string_equal(elevation->first->key_place.file, "--set");
    assert_int_equal(elevation->first->key_place.line, 0);
    /* The key itself still stands in the file. */
    assert_string_equal(elevation->key_place.file, "case.yaml");
    assert_int_equal(elevation->key_place.column, 8);
    assert_string_equal(more->key_place.file, "--set");
    assert_string_equal(more->first->place.file, "--set");
    dw_tree_destroy(tree);
}

static void unknown_items_are_refused_with_the_names(void **state)
{
    (void)state;
    refused("flues.bak flue.x", "1",
            "--set: error: 'flues.bak flue.x': 'flues' has no item called 'bak flue'; it has 3 "
            "items called back flue, \"no. 2\", 1; did you mean 'back flue'? [unknown-item]");
    refused("flues.no. 2.x", "1",
            "--set: error: 'flues.no. 2.x': 'flues' has no item called 'no'; it has 3 items called "
            "back "
            "flue, \"no. 2\", 1 [unknown-item]");
    refused(
        "flues.3", "1",
        "--set: error: 'flues.3': 'flues' has no item called '3'; it has 3 items called back flue, "
        "\"no. 2\", 1 [unknown-item]");
    refused(
        "flues.\"0\".x", "1",
        "--set: error: 'flues.\"0\".x': 'flues' has no item called '0'; it has 3 items called back "
        "flue, \"no. 2\", 1 [unknown-item]");
    refused(
        "flues.\"*\".x", "1",
        "--set: error: 'flues.\"*\".x': 'flues' has no item called '*'; it has 3 items called back "
        "flue, \"no. 2\", 1 [unknown-item]");
    refused("none.0", "1",
            "--set: error: 'none.0': 'none' has no item called '0'; it has 0 items [unknown-item]");
    refused("twins.a.x", "1",
            "--set: error: 'twins.a.x': more than one item is called 'a'; use its number, counted "
            "from 0 "
            "[ambiguous-item]");
}

static void paths_that_lead_nowhere_are_refused(void **state)
{
    (void)state;
    refused("fuel.x.y", "1",
            "--set: error: 'fuel.x.y': 'fuel' is 'propane', so there is no 'x' in it to set "
            "[bad-path]");
    refused("flues.*.name.x", "1",
            "--set: error: 'flues.*.name.x': 'flues.*.name' is 'back flue', so there is no 'x' in "
            "it to set [bad-path]");
    /* The first item could take the key; it does not get it when the second cannot. */
    refused("mixed.*.a.b", "2",
            "--set: error: 'mixed.*.a.b': 'mixed.*.a' is '7', so there is no 'b' in it to set "
            "[bad-path]");
    refused(
        "site.*", "1",
        "--set: error: 'site.*': '*' selects every item of a list, but this is a map [bad-path]");
    refused("none.*.x", "1",
            "--set: error: 'none.*.x': '*' selects every item of a list, but this list is empty "
            "[bad-path]");
    refused("site.new.*.x", "1",
            "--set: error: 'site.new.*.x': '*' selects every item of a list, and there is no list "
            "at this place [bad-path]");
}

static void malformed_paths_are_refused(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"", "it is empty"},
        {".site", "a step between two dots is empty"},
        {"site..x", "a step between two dots is empty"},
        {"site.", "it ends with a dot"},
        {"site.''", "a step between two dots is empty"},
        {"flues.\"no. 2.x", "a quote is not closed"},
        {"flues.'a'b.x", "a closing quote is not followed by a dot"},
        {"a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a",
         "it has more than 32 steps"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char expected[300];
        (void)snprintf(expected, sizeof expected,
                       "--set: error: the path '%s' cannot be followed: %s; expected steps such as "
                       "flues.back.damper.open [bad-path]",
                       cases[i][0], cases[i][1]);
        refused(cases[i][0], "1", expected);
    }
    refused("a\xFF", "1", "--set: error: the path 'a\\xff' is not valid UTF-8 [not-utf8]");
}

static void malformed_values_are_refused(void **state)
{
    (void)state;
    refused("site.x", "{a",
            "--set: error: 'site.x': the brace { opened is not closed with }, or a comma between "
            "two keys is missing [yaml]");
    refused("site.x", "", "--set: error: 'site.x': there is nothing to read [empty]");
    refused("site.x", "{a: 1, a: 2}", "--set: error: 'site.x': 'a' is given twice [duplicate-key]");
    refused("site.x", "*a",
            "--set: error: 'site.x': 'a' is an alias (*), which is not used here; write the value "
            "where it is needed [alias]");
    refused("site.x", "[1]\n--- 2",
            "--set: error: 'site.x': a second document begins here; only one is read "
            "[second-document]");
    refused("site.x", "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
            "--set: error: 'site.x': maps and lists may be at most 32 levels deep "
            "[too-deep]");
}

static void null_arguments_are_told_apart(void **state)
{
    (void)state;
    dw_tree *tree = read_kiln();
    assert_int_equal(dw_tree_set(NULL, "a", "1", NULL), DW_ERR_ARG);
    assert_int_equal(dw_tree_set(tree, NULL, "1", NULL), DW_ERR_ARG);
    assert_int_equal(dw_tree_set(tree, "a", NULL, NULL), DW_ERR_ARG);
    assert_int_equal(dw_tree_set(tree, "a.", "1", NULL), DW_ERR_INPUT);
    dw_tree_destroy(tree);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keys_are_replaced_and_added),
        cmocka_unit_test(items_go_by_name_index_and_star),
        cmocka_unit_test(new_nodes_have_the_place_of_settings),
        cmocka_unit_test(unknown_items_are_refused_with_the_names),
        cmocka_unit_test(paths_that_lead_nowhere_are_refused),
        cmocka_unit_test(malformed_paths_are_refused),
        cmocka_unit_test(malformed_values_are_refused),
        cmocka_unit_test(null_arguments_are_told_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
