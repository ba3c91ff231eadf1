#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "yaml_tree.h"

static dw_tree *read_bytes(const char *text, size_t length)
{
    dw_diag_list *diag = dw_diag_list_create();
    dw_tree *tree = NULL;
    const dw_status status = dw_tree_read("case.yaml", text, length, diag, &tree);
    if (status != DW_OK) fail_msg("%s", dw_diag_count(diag) ? dw_diag_get(diag, 0)->text : "");
    assert_int_equal(dw_diag_count(diag), 0);
    dw_diag_list_destroy(diag);
    return tree;
}

static dw_tree *read_text(const char *text) { return read_bytes(text, strlen(text)); }

/* The text must be refused, and the messages, one a line, must be these. */
static void refused_bytes(const char *text, size_t length, const char *expected)
{
    dw_diag_list *diag = dw_diag_list_create();
    dw_tree *tree = (dw_tree *)diag;
    assert_int_equal(dw_tree_read("case.yaml", text, length, diag, &tree), DW_ERR_INPUT);
    assert_null(tree);
    char all[4000] = "";
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        char line[300];
        assert_true(dw_diag_format(dw_diag_get(diag, i), line, sizeof line) < sizeof line);
        (void)snprintf(all + strlen(all), sizeof all - strlen(all), "%s\n", line);
    }
    assert_string_equal(all, expected);
    dw_diag_list_destroy(diag);
    /* Without a list the answer is the same. */
    assert_int_equal(dw_tree_read("case.yaml", text, length, NULL, &tree), DW_ERR_INPUT);
}

static void refused(const char *text, const char *expected)
{
    refused_bytes(text, strlen(text), expected);
}

static void assert_place(dw_place place, int line, int column)
{
    assert_string_equal(place.file, "case.yaml");
    assert_int_equal(place.line, line);
    assert_int_equal(place.column, column);
}

static void nodes_know_where_they_stood(void **state)
{
    (void)state;
    dw_tree *tree = read_text("# a kiln\n"
                              "site: {elevation: 1500 m}\n"
                              "burners:\n"
                              "  - name: back flue\n"
                              "    lit: \"no\"\n"
                              "  - 7\n"
                              "empty:\n"
                              "none: []\n");
    const dw_node *root = dw_tree_root(tree);
    assert_int_equal(root->kind, DW_NODE_MAP);
    assert_null(root->parent);
    assert_null(root->key);
    assert_place(root->place, 2, 1);

    const dw_node *elevation = dw_node_get(dw_node_get(root, "site"), "elevation");
    assert_string_equal(elevation->text, "1500 m");
    assert_int_equal(elevation->length, 6);
    assert_false(elevation->quoted);
    assert_string_equal(elevation->key, "elevation");
    assert_place(elevation->key_place, 2, 8);
    assert_place(elevation->place, 2, 19);
    assert_ptr_equal(elevation->parent, dw_node_get(root, "site"));

    const dw_node *burners = dw_node_get(root, "burners");
    assert_int_equal(burners->kind, DW_NODE_LIST);
    assert_null(burners->text);
    assert_place(burners->key_place, 3, 1);
    const dw_node *first = burners->first;
    assert_null(first->key);
    assert_place(first->place, 4, 5);
    assert_string_equal(dw_node_get(first, "name")->text, "back flue");
    assert_true(dw_node_get(first, "lit")->quoted);
    assert_string_equal(dw_node_get(first, "lit")->text, "no");
    assert_place(dw_node_get(first, "lit")->place, 5, 10);
    assert_string_equal(first->next->text, "7");
    assert_place(first->next->place, 6, 5);
    assert_null(first->next->next);

    assert_string_equal(dw_node_get(root, "empty")->text, "");
    assert_int_equal(dw_node_get(root, "none")->kind, DW_NODE_LIST);
    assert_null(dw_node_get(root, "none")->first);
    assert_null(dw_node_get(root, "absent"));
    assert_null(dw_node_get(burners, "name"));
    assert_null(dw_node_get(NULL, "name"));
    dw_tree_destroy(tree);
}

static void columns_count_characters(void **state)
{
    (void)state;
    dw_tree *tree = read_text("\xC3\xB6\xE2\x82\xAC: {a: 1}");
    const dw_node *node = dw_tree_root(tree)->first;
    assert_string_equal(node->key, "\xC3\xB6\xE2\x82\xAC");
    assert_place(node->first->key_place, 1, 6);
    dw_tree_destroy(tree);
}

static void byte_order_mark_and_crlf_are_fine(void **state)
{
    (void)state;
    dw_tree *tree = read_text("\xEF\xBB\xBF"
                              "a: 1\r\nb:\r\n  c: 2\r\n");
    const dw_node *root = dw_tree_root(tree);
    assert_place(root->first->key_place, 1, 1);
    assert_string_equal(root->first->text, "1");
    assert_place(dw_node_get(dw_node_get(root, "b"), "c")->place, 3, 6);
    dw_tree_destroy(tree);
}

static void words_stay_words(void **state)
{
    (void)state;
    dw_tree *tree = read_text("a: yes\nb: ~\n<<: {x: 1}\n\"c\": off\nd: |\n  two\n  lines\n");
    const dw_node *root = dw_tree_root(tree);
    assert_string_equal(dw_node_get(root, "a")->text, "yes");
    assert_string_equal(dw_node_get(root, "b")->text, "~");
    assert_string_equal(dw_node_get(dw_node_get(root, "<<"), "x")->text, "1");
    assert_null(dw_node_get(root, "x"));
    assert_string_equal(dw_node_get(root, "c")->text, "off");
    assert_string_equal(dw_node_get(root, "d")->text, "two\nlines\n");
    assert_true(dw_node_get(root, "d")->quoted);
    dw_tree_destroy(tree);
}

static void duplicate_keys_are_refused(void **state)
{
    (void)state;
    refused("a: 1\nb: {x: 1, y: 2, x: 3}\nc: 1\n\"a\": 2\na: 3\n",
            "case.yaml:2:17: error: 'x' is given twice, first at line 2, column 5 [duplicate-key]\n"
            "case.yaml:4:1: error: 'a' is given twice, first at line 1, column 1 [duplicate-key]\n"
            "case.yaml:5:1: error: 'a' is given twice, first at line 4, column 1 "
            "[duplicate-key]\n");
    refused("<<: 1\n<<: 2\n",
            "case.yaml:2:1: error: '<<' is given twice, first at line 1, column 1 "
            "[duplicate-key]\n");
    /* The same key in two maps is no duplicate. */
    dw_tree_destroy(read_text("- {a: 1}\n- {a: 1}\n"));
}

static void several_faults_come_at_once(void **state)
{
    (void)state;
    refused("a: &x 1\nb: *x\nc: !!int 7\n? {d: 1}\n: 2\n'': 3\nb: \"x\\0y\"\n",
            "case.yaml:1:4: error: 'x' is an anchor (&), which is not used here; write the value "
            "where it is needed [anchor]\n"
            "case.yaml:2:4: error: 'x' is an alias (*), which is not used here; write the value "
            "where it is needed [alias]\n"
            "case.yaml:3:4: error: 'tag:yaml.org,2002:int' is a tag (!), which is not used here "
            "[tag]\n"
            "case.yaml:4:3: error: a key is a map or a list, expected one word or name "
            "[bad-key]\n"
            "case.yaml:6:1: error: a key is empty [bad-key]\n"
            "case.yaml:7:4: error: a text may not contain a NUL byte [nul-byte]\n");
    refused("{a: [1, {b: *x, *y : 2}], [p, [q]]: {r: 1}, *z : [1]}",
            "case.yaml:1:13: error: 'x' is an alias (*), which is not used here; write the value "
            "where it is needed [alias]\n"
            "case.yaml:1:17: error: 'y' is an alias (*), which is not used here; write the value "
            "where it is needed [alias]\n"
            "case.yaml:1:27: error: a key is a map or a list, expected one word or name "
            "[bad-key]\n"
            "case.yaml:1:45: error: 'z' is an alias (*), which is not used here; write the value "
            "where it is needed [alias]\n");
}

static void faults_stop_at_twenty(void **state)
{
    (void)state;
    char text[400] = "";
    for (int i = 0; i < 30; i++)
        (void)strcat(text, "- *x\n");
    dw_diag_list *diag = dw_diag_list_create();
    dw_tree *tree;
    assert_int_equal(dw_tree_read("f", text, strlen(text), diag, &tree), DW_ERR_INPUT);
    assert_int_equal(dw_diag_count_grade(diag, DW_ERROR), 20);
    assert_string_equal(dw_diag_get(diag, 20)->code, "too-many");
    dw_diag_list_destroy(diag);
}

static void broken_yaml_is_placed(void **state)
{
    (void)state;
    refused("a: [1,\nb: 2\n",
            "case.yaml:3:1: error: the bracket [ opened at line 1, column 4 is not closed with ], "
            "or a comma between two values is missing [yaml]\n");
    refused("a:\n\tb: 1\n", "case.yaml:2:1: error: a tab is here; indent with spaces [yaml]\n");
    refused("a: 1\nb: c: 2\n",
            "case.yaml:2:5: error: a second colon is in this line; put a text that contains a "
            "colon in quotes: b: \"c: 2\", or a group of keys in braces: b: {c: 2} "
            "[yaml]\n");
    refused("\xC3\xB6: 1\nb: \x07\n", "case.yaml:2:4: error: a control character is here, which no "
                                      "text may contain; delete it [yaml]\n");
}

/* What people get wrong, where it is, and what they should write. */
static void slips_are_answered_with_what_to_write(void **state)
{
    (void)state;
    refused("a:\n  gas_pressure:7 in w.c.\n  b: 1\n",
            "case.yaml:2:15: error: a space is missing after the colon; write gas_pressure: 7 in "
            "w.c. [yaml]\n");
    refused("a:\n  b: 1\n  gas_pressure:7 kPa   # at the jet\n",
            "case.yaml:3:15: error: a space is missing after the colon; write gas_pressure: 7 kPa "
            "[yaml]\n");
    refused("a:\n  -name: x\n   b: 1\n",
            "case.yaml:2:3: error: a space is missing after the dash; write - name: x [yaml]\n");
    refused("name: kiln: big\n",
            "case.yaml:1:11: error: a second colon is in this line; put a text that contains a "
            "colon in quotes: name: \"kiln: big\", or a group of keys in braces: name: {kiln: big} "
            "[yaml]\n");
    refused(
        "a: {name: x: y, b: 1}\n",
        "case.yaml:1:12: error: a second colon is here; a comma is missing before its key, or a "
        "text that contains a colon needs quotes, as in name: \"a: b\" [yaml]\n");
    refused("a: {b: 1\nc: 2\n",
            "case.yaml:2:2: error: the brace { opened at line 1, column 4 is not closed with }, or "
            "a comma between two keys is missing [yaml]\n");
    refused("a:\n  fuel propane\n  b: 1\n",
            "case.yaml:2:3: error: a colon is missing; write fuel: propane [yaml]\n");
    refused(
        "a:\n  b: 1\n c: 2\n",
        "case.yaml:3:2: error: this line does not fit those above; what belongs together begins "
        "in the same column (this part begins at line 1, column 1) [yaml]\n");
    refused("a: {b: 1}}\n", "case.yaml:1:10: error: there is one '}' too many here [yaml]\n");
    refused("a: \"b\" c\n",
            "case.yaml:1:8: error: a text goes on after its closing quote; put all of it in quotes "
            "[yaml]\n");
    refused("a: @home\n", "case.yaml:1:4: error: a text cannot begin with @; put it in quotes "
                          "[yaml]\n");
    refused("a: &\n",
            "case.yaml:1:5: error: a text cannot begin with &; put it in quotes [yaml]\n");
    refused("a: \"b\nc: 2\n", "case.yaml:1:4: error: the quote that begins here is not closed "
                              "[yaml]\n");
    refused("a: {b: 1,, c: 2}\n", "case.yaml:1:10: error: a value is missing here, or there is a "
                                  "comma too many [yaml]\n");
    refused("a: - b\n",
            "case.yaml:1:4: error: a list cannot begin here; put each '- ' on a line of "
            "its own, or a text in quotes [yaml]\n");
}

/* In braces a decimal comma parts a number in two; the value is put together again, so that its
 * reader can say what is wrong. */
static void decimal_commas_in_braces_stay_with_their_number(void **state)
{
    (void)state;
    dw_tree *tree = read_text("a: {diameter: 1,8 mm, open: 60 %}\n"
                              "b: {x: 1,8 mm, y: 2,8 mm, z: -3,5}\n"
                              "c: {x: 1, 8 mm: 2}\n"
                              "d: {x: '1',8 mm}\n"
                              "e: {x: one,8 mm}\n"
                              "f:\n  x: 1,8 mm\n");
    const dw_node *root = dw_tree_root(tree);
    const dw_node *a = dw_node_get(root, "a"), *b = dw_node_get(root, "b");
    assert_string_equal(dw_node_get(a, "diameter")->text, "1,8 mm");
    assert_int_equal(dw_node_get(a, "diameter")->length, 6);
    assert_int_equal(dw_node_get(a, "diameter")->place.column, 15);
    assert_null(dw_node_get(a, "8 mm"));
    assert_string_equal(dw_node_get(a, "open")->text, "60 %");
    assert_string_equal(dw_node_get(b, "x")->text, "1,8 mm");
    assert_string_equal(dw_node_get(b, "y")->text, "2,8 mm");
    assert_string_equal(dw_node_get(b, "z")->text, "-3,5");
    /* A key with a value, and a text that is no number, are left as they are. */
    assert_string_equal(dw_node_get(dw_node_get(root, "c"), "x")->text, "1");
    assert_non_null(dw_node_get(dw_node_get(root, "d"), "8 mm"));
    assert_non_null(dw_node_get(dw_node_get(root, "e"), "8 mm"));
    assert_string_equal(dw_node_get(dw_node_get(root, "f"), "x")->text, "1,8 mm");
    dw_tree_destroy(tree);
}

static void one_document_is_read(void **state)
{
    (void)state;
    refused("a: 1\n---\nb: 1\n",
            "case.yaml:2:1: error: a second document begins here; only one is read "
            "[second-document]\n");
    dw_tree_destroy(read_text("%YAML 1.1\n---\na: 1\n...\n"));
    const char *nothing = "case.yaml: error: there is nothing to read [empty]\n";
    refused("", nothing);
    refused("# only a comment\n", nothing);
    refused("---\n", nothing);
    dw_tree *tree = read_text("''");
    assert_string_equal(dw_tree_root(tree)->text, "");
    dw_tree_destroy(tree);
}

static void bytes_that_are_no_text_are_placed(void **state)
{
    (void)state;
    refused_bytes("a: 1\nb: \0", 9,
                  "case.yaml:2:4: error: a NUL byte is here; this is not a text in UTF-8 "
                  "[nul-byte]\n");
    refused("a: 1\r\n\xC3\xB6: \xE4\n",
            "case.yaml:2:4: error: the byte 0xE4 is not valid UTF-8; save the file as UTF-8 "
            "[not-utf8]\n");
    refused("\xFF\xFE"
            "a",
            "case.yaml:1:1: error: the byte 0xFF is not valid UTF-8; save the file as UTF-8 "
            "[not-utf8]\n");
}

static void depth_is_bounded(void **state)
{
    (void)state;
    char text[3 * 64] = "";
    for (int i = 0; i < DW_TREE_DEPTH_MAX; i++)
        (void)strcat(text, "[");
    for (int i = 0; i < DW_TREE_DEPTH_MAX; i++)
        (void)strcat(text, "]");
    dw_tree_destroy(read_text(text));
    text[0] = '\0';
    for (int i = 0; i < DW_TREE_DEPTH_MAX + 1; i++)
        (void)strcat(text, "[");
    for (int i = 0; i < DW_TREE_DEPTH_MAX + 1; i++)
        (void)strcat(text, "]");
    refused(text, "case.yaml:1:33: error: maps and lists may be at most 32 levels deep "
                  "[too-deep]\n");
    /* Within a key that is refused anyway, too. */
    refused("? [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[",
            "case.yaml:1:3: error: a key is a map or a list, expected one word or name "
            "[bad-key]\n"
            "case.yaml:1:34: error: maps and lists may be at most 32 levels deep "
            "[too-deep]\n");
}

static void size_is_bounded(void **state)
{
    (void)state;
    const size_t size = DW_TREE_BYTES_MAX + 1;
    char *text = malloc(size);
    assert_non_null(text);
    memset(text, '#', size);
    refused_bytes(text, size,
                  "case.yaml: error: it has 4194305 bytes, expected at most 4194304 [too-large]\n");
    memcpy(text, "a\n#", 3);
    dw_tree_destroy(read_bytes(text, size - 1));

    /* Very many keys: read in time, and every one looked at. */
    size_t used = 0;
    for (int i = 0; i < 150000; i++) {
        used += (size_t)snprintf(text + used, size - used, "k%d: 1\n", i);
    }
    dw_tree_destroy(read_bytes(text, used));
    used += (size_t)snprintf(text + used, size - used, "k77777: 1\n");
    refused_bytes(text, used,
                  "case.yaml:150001:1: error: 'k77777' is given twice, first at line 77778, column "
                  "1 [duplicate-key]\n");
    used = 0;
    for (int i = 0; i < DW_TREE_NODE_MAX; i++) {
        memcpy(text + used, "- 1\n", 4);
        used += 4;
    }
    refused_bytes(text, used,
                  "case.yaml:200000:3: error: there are more than 200000 values, which is the most "
                  "[too-large]\n");
    free(text);
}

static void null_arguments_are_told_apart(void **state)
{
    (void)state;
    dw_tree *tree;
    assert_int_equal(dw_tree_read("f", NULL, 3, NULL, &tree), DW_ERR_ARG);
    assert_null(tree);
    assert_int_equal(dw_tree_read(NULL, "a", 1, NULL, &tree), DW_ERR_ARG);
    assert_int_equal(dw_tree_read("f", "a", 1, NULL, NULL), DW_ERR_ARG);
    assert_int_equal(dw_tree_read("f", NULL, 0, NULL, &tree), DW_ERR_INPUT);
    dw_tree_destroy(NULL);
    assert_null(dw_tree_root(NULL));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nodes_know_where_they_stood),
        cmocka_unit_test(columns_count_characters),
        cmocka_unit_test(byte_order_mark_and_crlf_are_fine),
        cmocka_unit_test(words_stay_words),
        cmocka_unit_test(duplicate_keys_are_refused),
        cmocka_unit_test(several_faults_come_at_once),
        cmocka_unit_test(faults_stop_at_twenty),
        cmocka_unit_test(broken_yaml_is_placed),
        cmocka_unit_test(slips_are_answered_with_what_to_write),
        cmocka_unit_test(decimal_commas_in_braces_stay_with_their_number),
        cmocka_unit_test(one_document_is_read),
        cmocka_unit_test(bytes_that_are_no_text_are_placed),
        cmocka_unit_test(depth_is_bounded),
        cmocka_unit_test(size_is_bounded),
        cmocka_unit_test(null_arguments_are_told_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
