/* Every key of every data file, mechanically: a key that nobody knows beside it, a value of the wrong
 * shape, and the file without it. What is broken so has to be refused at the right line. */
#define _XOPEN_SOURCE 700 /* mkdtemp */
#include "check.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "kit.h"
#include "read_data.h"

enum { KEY_SIZE = 40, KEY_MAX = 200, TEXT_SIZE = 60000 };

/* One key in the text of a file: where it begins, and its value up to where that ends. */
typedef struct key {
    char name[KEY_SIZE];
    size_t at, value, end;
    int line;
    bool flow;       /* in braces */
    bool scalar, list;
} key;

static char folder[] = "/tmp/dw-data-keys-XXXXXX";
static char path[80], text[TEXT_SIZE], changed[TEXT_SIZE + 200];
static dw_data *data;

static int set_up(void **state)
{
    (void)state;
    data = malloc(sizeof *data);
    return data == NULL || mkdtemp(folder) == NULL ? -1 : 0;
}

static int tear_down(void **state)
{
    (void)state;
    free(data);
    return rmdir(folder);
}

static size_t name_length(const char *p)
{
    size_t n = 0;
    if (!isalpha((unsigned char)p[0])) return 0;
    while (isalnum((unsigned char)p[n]) || p[n] == '_' || p[n] == '-') n++;
    return p[n] == ':' && (p[n + 1] == ' ' || p[n + 1] == '\n') && n < KEY_SIZE ? n : 0;
}

/* End of a value in braces: the comma or brace behind it. */
static size_t flow_end(size_t at)
{
    int depth = 0;
    for (bool quoted = false;; at++) {
        assert_true(text[at] != '\0');
        if (text[at] == '"') quoted = !quoted;
        if (quoted) continue;
        if (depth == 0 && (text[at] == ',' || text[at] == '}')) return at;
        depth += (text[at] == '[' || text[at] == '{') - (text[at] == ']' || text[at] == '}');
    }
}

/* The first place of each key of the text. */
static int find_keys(key *keys)
{
    int count = 0, line = 1, depth = 0, folded = -1;
    bool quoted = false;
    for (size_t i = 0, begin = 0; text[i] != '\0'; i++) {
        if (i == 0 || text[i - 1] == '\n') {
            begin = i;
            if (i > 0) line++;
            int indent = 0;
            while (text[i] == ' ') {
                i++;
                indent++;
            }
            /* Comments, and text that goes on over lines. */
            if (text[i] == '#' || text[i] == '\n' || (folded >= 0 && indent > folded)) {
                while (text[i] != '\n') i++;
                continue;
            }
            folded = -1;
            if (depth == 0 && text[i] == '-' && text[i + 1] == ' ') i += 2;
        } else if (quoted || text[i] == '"') {
            quoted = quoted != (text[i] == '"');
            continue;
        } else if (depth == 0 || !(text[i - 1] == '{' || text[i - 1] == ' ')) {
            depth += text[i] == '{';
            depth -= text[i] == '}';
            continue;
        }
        const size_t n = name_length(text + i);
        depth += text[i] == '{';
        depth -= text[i] == '}';
        if (n == 0) continue;
        key k = {.at = i, .value = i + n + 1, .line = line, .flow = depth > 0};
        memcpy(k.name, text + i, n);
        while (text[k.value] == ' ') k.value++;
        k.end = k.flow ? flow_end(k.value) : k.value + strcspn(text + k.value, "\n#");
        if (strncmp(text + k.value, ">-", 2) == 0) folded = (int)(i - begin);
        k.list = text[k.value] == '[' && text[k.end - 1] == ']';
        k.scalar = k.end > k.value && strchr("[{>|", text[k.value]) == NULL;
        bool known = false;
        for (int j = 0; j < count; j++) known = known || strcmp(keys[j].name, k.name) == 0;
        if (known) continue;
        assert_true(count < KEY_MAX);
        keys[count++] = k;
    }
    return count;
}

/* The file with a part put in place of another, read; the first message in said. */
static dw_status read_with(size_t from, size_t to, const char *part, char *said, size_t size)
{
    (void)snprintf(changed, sizeof changed, "%.*s%s%s", (int)from, text, part, text + to);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_true(fputs(changed, file) >= 0);
    assert_int_equal(fclose(file), 0);
    dw_diag_list *diag = dw_diag_list_create();
    const dw_status status = dw_read_data(folder, diag, data);
    said[0] = '\0';
    if (dw_diag_count(diag) > 0) (void)dw_diag_format(dw_diag_get(diag, 0), said, size);
    dw_diag_list_destroy(diag);
    return status;
}

static void load(const char *name)
{
    char from[80];
    size_t length;
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    (void)snprintf(from, sizeof from, "config/%s", name);
    char *all = kit_read_file(from, &length);
    assert_true(length < TEXT_SIZE);
    memcpy(text, all, length + 1);
    free(all);
}

static const char *const files[] = {"bands.yaml",  "co.yaml",     "drills.yaml", "flow.yaml",
                                    "fuels.yaml",  "glazes.yaml", "oxides.yaml", "sources.yaml",
                                    "species.yaml", "spreads.yaml", "terms.yaml"};
enum { FILES = sizeof files / sizeof files[0] };

static void an_unknown_key_is_refused_everywhere(void **state)
{
    (void)state;
    static key keys[KEY_MAX];
    int tried = 0;
    for (int f = 0; f < FILES; f++) {
        load(files[f]);
        const int count = find_keys(keys);
        for (int i = 0; i < count; i++) {
            const key *k = &keys[i];
            /* Oxides of a glaze may have names of their own. */
            if (strcmp(files[f], "glazes.yaml") == 0 && k->flow) continue;
            size_t column = 0;
            while (k->at > column && text[k->at - column - 1] != '\n') column++;
            char part[120], said[400], where[40];
            (void)snprintf(part, sizeof part, k->flow ? "zz_unknown: 1, " : "zz_unknown: 1\n%*s",
                           (int)column, "");
            const dw_status status = read_with(k->at, k->at, part, said, sizeof said);
            (void)snprintf(where, sizeof where, "%s:%d:%zu:", files[f], k->line, column + 1);
            if (status != DW_ERR_INPUT || strstr(said, "zz_unknown") == NULL ||
                strstr(said, where) == NULL) {
                fail_msg("%s, beside '%s': status %d, %s", where, k->name, (int)status, said);
            }
            tried++;
        }
        assert_int_equal(remove(path), 0);
    }
    print_message("%d keys\n", tried);
    assert_true(tried > 80);
}

static void a_value_of_the_wrong_shape_is_refused(void **state)
{
    (void)state;
    static key keys[KEY_MAX];
    int tried = 0;
    for (int f = 0; f < FILES; f++) {
        load(files[f]);
        const int count = find_keys(keys);
        for (int i = 0; i < count; i++) {
            const key *k = &keys[i];
            char said[400], where[40];
            static const char *const instead[] = {"{zz: 1}", "[[1], [2]]", "zz"};
            for (int shape = 0; shape < 3; shape++) {
                if (!(shape < 2 ? k->scalar : k->list)) continue;
                const dw_status status = read_with(k->value, k->end, instead[shape], said, sizeof said);
                (void)snprintf(where, sizeof where, "%s:%d:", files[f], k->line);
                if (status != DW_ERR_INPUT || strstr(said, where) == NULL) {
                    fail_msg("%s '%s' as %s: status %d, %s", where, k->name, instead[shape],
                             (int)status, said);
                }
                tried++;
            }
        }
        assert_int_equal(remove(path), 0);
    }
    print_message("%d values\n", tried);
    assert_true(tried > 120);
}

static void a_source_that_nobody_lists_is_refused(void **state)
{
    (void)state;
    static key keys[KEY_MAX];
    int tried = 0;
    for (int f = 0; f < FILES; f++) {
        load(files[f]);
        const int count = find_keys(keys);
        for (int i = 0; i < count; i++) {
            const key *k = &keys[i];
            if (strstr(k->name, "source") == NULL || !(k->scalar || k->list)) continue;
            char said[400], where[40];
            const dw_status status = read_with(k->value, k->end, k->list ? "[zz_none]" : "zz_none",
                                               said, sizeof said);
            (void)snprintf(where, sizeof where, "%s:", files[f]);
            if (status != DW_ERR_INPUT || strstr(said, where) == NULL ||
                strstr(said, "unknown source 'zz_none'") == NULL) {
                fail_msg("%s%d '%s': status %d, %s", where, k->line, k->name, (int)status, said);
            }
            tried++;
        }
        (void)remove(path); /* a file without sources was not written */
    }
    print_message("%d sources\n", tried);
    assert_true(tried >= 10);
}

/* Keys that may be left out, where the file says so. */
static const char *const optional[] = {
    "bands.yaml CH4",      "bands.yaml C3H8",     /* a gas without a limit of its own has the general one */
    "bands.yaml n-C4H10",  "bands.yaml i-C4H10",
    "bands.yaml when_low", "bands.yaml when_high", /* not every rule says it */
    "co.yaml mg_m3",       /* not every body says it */
    "glazes.yaml TiO2",    "glazes.yaml Fe2O3",   "glazes.yaml MgO",  "glazes.yaml Na2O",
    "glazes.yaml P2O5",    /* what a glaze lacks is none of it */
    "oxides.yaml used_to", "oxides.yaml used_from", "oxides.yaml error",
    /* A stage may want nothing of the gas. */
    "oxides.yaml reduced_to", "oxides.yaml oxidized_to", "oxides.yaml h2_h2o", "oxides.yaml soot",
    "species.yaml equilibrium", "species.yaml condensed", /* no */
    "terms.yaml aliases",  "terms.yaml see"};

static bool may_be_left_out(const char *file, const char *name)
{
    const size_t n = strlen(file);
    for (size_t i = 0; i < sizeof optional / sizeof optional[0]; i++) {
        if (strncmp(optional[i], file, n) == 0 && strcmp(optional[i] + n + 1, name) == 0) return true;
    }
    return false;
}

static void what_must_be_there_is_missed(void **state)
{
    (void)state;
    static key keys[KEY_MAX];
    int bad = 0, refused = 0;
    for (int f = 0; f < FILES; f++) {
        load(files[f]);
        const int count = find_keys(keys);
        for (int i = 0; i < count; i++) {
            const key *k = &keys[i];
            if (!k->scalar && !k->list) continue;
            /* Taken out of its braces, or made a comment. */
            size_t from = k->at, to = k->end;
            if (k->flow && text[to] == ',') to += 2;
            char said[400];
            const char *part = k->flow ? "" : "# ";
            if (!k->flow && from >= 2 && text[from - 2] == '-') continue; /* the item's first */
            if (!k->flow) to = from;
            const dw_status status = read_with(from, to, part, said, sizeof said);
            refused += status != DW_OK;
            if ((status == DW_OK) != may_be_left_out(files[f], k->name)) {
                print_message("\"%s %s\", %d %s\n", files[f], k->name, (int)status, said);
                bad++;
            }
        }
        assert_int_equal(remove(path), 0);
    }
    print_message("%d missed\n", refused);
    assert_int_equal(bad, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_unknown_key_is_refused_everywhere),
        cmocka_unit_test(a_value_of_the_wrong_shape_is_refused),
        cmocka_unit_test(a_source_that_nobody_lists_is_refused),
        cmocka_unit_test(what_must_be_there_is_missed),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
