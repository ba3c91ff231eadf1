/* Every key of the built-in data, spoilt in each way a hand can spoil it: the file is refused at that
 * line. Lists are taken by the first item that has a key, since all items are read alike. */
#define _XOPEN_SOURCE 700 /* mkdtemp */
#include "check.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "read_data.h"
#include "yaml_tree.h"

enum { PATH_SIZE = 200, SEEN_MAX = 600 };

typedef enum spoil {
    MISSPELT_KEY, LIST_FOR_VALUE, WORD_FOR_NUMBER, NO_SUCH_SOURCE, NUMBER_FOR_MAP, TOO_LARGE,
    EMPTIED, SPOIL_COUNT
} spoil;

static const char *const spoil_names[SPOIL_COUNT] = {"misspelt key", "list for value",
                                                     "word for number", "no such source",
                                                     "number for map", "too large",
                                                     "emptied"};

/* One built-in file being spoilt. */
typedef struct bench {
    const dw_embedded *file;
    char folder[64], path[128];
    dw_data *data;
    int tried[SPOIL_COUNT], bad;
    char seen[SEEN_MAX][PATH_SIZE];
    int seen_count;
} bench;

/* A text that happens to begin with a number. */
static bool may_be_so(spoil how, const char *path)
{
    return (how == WORD_FOR_NUMBER || how == TOO_LARGE) &&
           strcmp(path, "co.yaml.limits.*.document") == 0;
}

/* Somebody may have none of these. */
static bool may_be_empty(const char *path)
{
    static const char *const lists[] = {"bands.yaml.rules", "drills.yaml.sizes",
                                        "oxides.yaml.comparison", "oxides.yaml.windows",
                                        "glazes.yaml.glazes", "terms.yaml.terms"};
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        if (strcmp(path, lists[i]) == 0) return true;
    }
    return false;
}

static size_t offset_of(const dw_embedded *file, dw_place place)
{
    const char *text = (const char *)file->bytes, *line = text;
    for (int i = 1; i < place.line; i++) {
        line = strchr(line, '\n');
        assert_non_null(line);
        line++;
    }
    /* Columns count characters. */
    for (int i = 1; i < place.column; i++) {
        line++;
        while (((unsigned char)*line & 0xC0U) == 0x80U) line++;
    }
    return (size_t)(line - text);
}

/* Bytes of the number that a value begins with, 0 where it is none. */
static size_t number_length(const dw_node *node)
{
    char *end;
    if (node->kind != DW_NODE_SCALAR || node->quoted || node->length == 0) return 0;
    (void)strtod(node->text, &end);
    return (size_t)(end - node->text);
}

/* Where the spoilt piece begins and ends and what takes its place; false when that cannot be done. */
static bool piece(const bench *b, const dw_node *node, spoil how, size_t *at, size_t *end,
                  const char **with)
{
    const char *text = (const char *)b->file->bytes;
    *at = offset_of(b->file, how == MISSPELT_KEY ? node->key_place : node->place);
    *end = *at + node->length;
    switch (how) {
    case MISSPELT_KEY:
        if (node->key == NULL || text[*at] == '"') return false;
        *at = *end = *at + strlen(node->key);
        *with = "q";
        return true;
    case LIST_FOR_VALUE:
        *with = "[]";
        return node->kind == DW_NODE_SCALAR && !node->quoted && node->length > 0;
    case WORD_FOR_NUMBER:
        *with = "much";
        return number_length(node) > 0;
    case TOO_LARGE:
        *with = "9e99";
        *end = *at + number_length(node);
        return number_length(node) > 0;
    case EMPTIED:
        /* A list or map at the top, up to the next key. */
        if (node->kind == DW_NODE_SCALAR || node->parent->parent != NULL) return false;
        *with = node->kind == DW_NODE_LIST ? " []\n" : " {}\n";
        *at = offset_of(b->file, node->key_place) + strlen(node->key) + 1;
        *end = node->next != NULL ? offset_of(b->file, node->next->key_place) : b->file->length;
        return true;
    case NO_SUCH_SOURCE:
        *with = "nobody2000";
        return node->key != NULL && strcmp(node->key, "source") == 0 && node->kind == DW_NODE_SCALAR;
    case NUMBER_FOR_MAP:
        *with = "7";
        if (node->kind != DW_NODE_MAP || text[*at] != '{') return false;
        *end = *at + strcspn(text + *at, "}") + 1;
        return true;
    default: return false;
    }
}

static void spoil_one(bench *b, const dw_node *node, const char *path, spoil how)
{
    size_t at, end;
    const char *with;
    if (!piece(b, node, how, &at, &end, &with) || may_be_so(how, path)) return;
    b->tried[how]++;
    FILE *stream = fopen(b->path, "wb");
    assert_non_null(stream);
    (void)fwrite(b->file->bytes, 1, at, stream);
    (void)fputs(with, stream);
    (void)fwrite(b->file->bytes + end, 1, b->file->length - end, stream);
    assert_int_equal(fclose(stream), 0);

    dw_diag_list *diag = dw_diag_list_create();
    const int line = how == MISSPELT_KEY || how == EMPTIED ? node->key_place.line : node->place.line;
    bool said = false;
    const dw_status status = dw_read_data(b->folder, diag, b->data);
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        const dw_diag *d = dw_diag_get(diag, i);
        said = said || (d->line == line && strcmp(d->file, b->path) == 0);
    }
    /* What is gone may be missed elsewhere: a source by the one who names it. */
    const bool good = how != EMPTIED         ? status == DW_ERR_INPUT && said
                      : may_be_empty(path) ? status == DW_OK
                                             : status == DW_ERR_INPUT && dw_diag_count(diag) > 0;
    if (!good) {
        b->bad++;
        print_error("%s:%d: %s at %s: status %d%s\n", b->file->name, line, spoil_names[how], path,
                    (int)status, said ? "" : ", nothing said of that line");
    }
    dw_diag_list_destroy(diag);
}

static bool seen(bench *b, const char *path)
{
    for (int i = 0; i < b->seen_count; i++) {
        if (strcmp(b->seen[i], path) == 0) return true;
    }
    assert_true(b->seen_count < SEEN_MAX);
    (void)snprintf(b->seen[b->seen_count++], PATH_SIZE, "%s", path);
    return false;
}

static void walk(bench *b, const dw_node *node, const char *path)
{
    const bool list = node->kind == DW_NODE_LIST;
    for (const dw_node *child = node->first; child != NULL; child = child->next) {
        char own[PATH_SIZE];
        (void)snprintf(own, sizeof own, "%s.%s", path, list ? "*" : child->key);
        walk(b, child, own);
        /* Each path once: with the first item that has it. */
        if (seen(b, own)) continue;
        for (int how = 0; how < SPOIL_COUNT; how++) spoil_one(b, child, own, (spoil)how);
    }
}

static void spoilt_data_is_refused_at_its_line(void **state)
{
    (void)state;
    static bench b;
    (void)snprintf(b.folder, sizeof b.folder, "/tmp/dw-data-slips-XXXXXX");
    assert_non_null(mkdtemp(b.folder));
    b.data = malloc(sizeof *b.data);
    assert_non_null(b.data);
    for (b.file = dw_embedded_files; b.file->name != NULL; b.file++) {
        (void)snprintf(b.path, sizeof b.path, "%s/%s", b.folder, b.file->name);
        dw_tree *tree;
        assert_int_equal(dw_tree_read(b.file->name, (const char *)b.file->bytes, b.file->length,
                                      NULL, &tree), DW_OK);
        b.seen_count = 0;
        walk(&b, dw_tree_root(tree), b.file->name);
        dw_tree_destroy(tree);
        assert_int_equal(remove(b.path), 0);
    }
    assert_int_equal(rmdir(b.folder), 0);
    free(b.data);
    for (int how = 0; how < SPOIL_COUNT; how++) {
        print_message("%s: %d\n", spoil_names[how], b.tried[how]);
        assert_true(b.tried[how] >= 10);
    }
    assert_int_equal(b.bad, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(spoilt_data_is_refused_at_its_line)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
