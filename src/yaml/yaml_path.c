#include "yaml_tree.h"

#include <stdlib.h>
#include <string.h>

#include "nearest.h"
#include "strbuf.h"
#include "utf8.h"
#include "yaml_build.h"

enum { STEP_MAX = DW_TREE_DEPTH_MAX, NAMES_SHOWN_MAX = 40 };

static const dw_place set_place = {"--set", 0, 0};

typedef struct step {
    const char *text;  /* in the tree's arena                                    */
    bool quoted;       /* a name as it stands: neither `*` nor an index          */
    size_t start, end; /* bytes of the path that come before it and up to its end */
} step;

typedef struct setter {
    dw_tree *tree;
    const char *path;
    step steps[STEP_MAX];
    int count;
    const dw_node *value;
    dw_diag_list *diag;
} setter;

/* Reads one step at *at and moves *at behind it and the dot that follows. Returns NULL or what
 * is wrong. An allocation failure leaves step->text NULL. */
static const char *read_step(dw_tree *tree, const char *path, size_t *at, step *out)
{
    const size_t start = *at;
    const char *from = path + start, *end;
    size_t length;
    *out = (step){.start = start};
    if (*from == '"' || *from == '\'') {
        const char *close = strchr(from + 1, *from);
        if (close == NULL) return "a quote is not closed";
        if (close[1] != '.' && close[1] != '\0') return "a closing quote is not followed by a dot";
        out->quoted = true;
        length = (size_t)(close - from) - 1;
        end = close + 1;
        from++;
    } else {
        length = strcspn(from, ".");
        end = from + length;
    }
    if (length == 0) return "a step between two dots is empty";
    out->end = (size_t)(end - path);
    out->text = dw_tree_copy_text(tree, from, length);
    *at = out->end;
    if (*end == '.') {
        *at += 1;
        if (end[1] == '\0') return "it ends with a dot";
    }
    return NULL;
}

static dw_status read_path(setter *s)
{
    const size_t length = strlen(s->path);
    for (size_t i = 0, n; i < length; i += n) {
        n = dw_utf8_char(s->path + i, length - i);
        if (n == 0) {
            dw_diag_add(s->diag, DW_ERROR, "not-utf8", set_place,
                        "the path '%s' is not valid UTF-8", s->path);
            return DW_ERR_INPUT;
        }
    }
    const char *problem = length == 0 ? "it is empty" : NULL;
    for (size_t at = 0; at < length && problem == NULL;) {
        if (s->count == STEP_MAX) {
            problem = "it has more than 32 steps";
            break;
        }
        step *next = &s->steps[s->count];
        problem = read_step(s->tree, s->path, &at, next);
        if (problem == NULL && next->text == NULL) return DW_ERR_NOMEM;
        s->count++;
    }
    if (problem == NULL) return DW_OK;
    dw_diag_add(
        s->diag, DW_ERROR, "bad-path", set_place,
        "the path '%s' cannot be followed: %s; expected steps such as flues.back.damper.open",
        s->path, problem);
    return DW_ERR_INPUT;
}

static bool is_every(const step *s) { return !s->quoted && strcmp(s->text, "*") == 0; }

/* Index from 0, or -1 when the step is no plain number. */
static long index_from_step(const step *s)
{
    if (s->quoted || strlen(s->text) > 6) return -1;
    if (s->text[strspn(s->text, "0123456789")] != '\0') return -1;
    return strtol(s->text, NULL, 10);
}

static bool is_blank(const dw_node *node)
{
    return node->kind == DW_NODE_SCALAR && node->length == 0 && !node->quoted;
}

static dw_node *make_node(setter *s, const dw_node *parent, dw_status *status)
{
    if (s->tree->node_count >= DW_TREE_NODE_MAX) {
        dw_diag_add(s->diag, DW_ERROR, "too-large", set_place,
                    "'%s': there are more than %d values, which is the most", s->path,
                    DW_TREE_NODE_MAX);
        *status = DW_ERR_INPUT;
        return NULL;
    }
    dw_node *node = dw_tree_alloc(s->tree, sizeof *node);
    if (node == NULL) {
        *status = DW_ERR_NOMEM;
        return NULL;
    }
    s->tree->node_count++;
    node->parent = (dw_node *)parent;
    node->place = set_place;
    node->key_place = set_place;
    node->setting = s->tree->set_count;
    return node;
}

/* Gives node the content of value: texts are shared, children copied. Depth is bounded by the
 * builder. */
static dw_status copy_content(setter *s, dw_node *node, const dw_node *value)
{
    node->replaced = node->kind == DW_NODE_SCALAR ? node->text : NULL;
    node->setting = s->tree->set_count;
    node->kind = value->kind;
    node->place = value->place;
    node->text = value->text;
    node->length = value->length;
    node->quoted = value->quoted;
    node->first = NULL;
    dw_node **link = &node->first;
    for (const dw_node *child = value->first; child != NULL; child = child->next) {
        dw_status status = DW_OK;
        dw_node *copy = make_node(s, node, &status);
        if (copy == NULL) return status;
        copy->key = child->key;
        status = copy_content(s, copy, child);
        if (status != DW_OK) return status;
        *link = copy;
        link = &copy->next;
    }
    return DW_OK;
}

static const char *name_of(const dw_node *item)
{
    const dw_node *name = dw_node_get(item, "name");
    return name != NULL && name->kind == DW_NODE_SCALAR ? name->text : NULL;
}

/* No item is called so: say which ones there are, spelt as a path wants them. */
static dw_status refuse_item(const setter *s, const dw_node *list, const step *at)
{
    const char *names[NAMES_SHOWN_MAX];
    size_t name_count = 0, item_count = 0;
    for (const dw_node *item = list->first; item != NULL; item = item->next) {
        const char *name = name_of(item);
        item_count++;
        if (name != NULL && name_count < NAMES_SHOWN_MAX) names[name_count++] = name;
    }
    dw_strbuf there;
    dw_strbuf_init(&there);
    for (size_t i = 0; i < name_count; i++) {
        const char *quote = strchr(names[i], '.') == NULL   ? ""
                            : strchr(names[i], '"') == NULL ? "\""
                                                            : "'";
        dw_strbuf_printf(&there, "%s%s%s%s", i > 0 ? ", " : " called ", quote, names[i], quote);
    }
    const char *nearest = dw_nearest_word(at->text, names, name_count);
    if (nearest != NULL) dw_strbuf_printf(&there, "; did you mean '%s'?", nearest);
    char *list_text = dw_strbuf_take(&there);
    if (list_text == NULL) return DW_ERR_NOMEM;
    const int before = at->start > 0 ? (int)at->start - 1 : 0;
    dw_diag_add(s->diag, DW_ERROR, "unknown-item", set_place,
                "'%s': '%.*s' has no item called '%s'; it has %zu%s%s", s->path, before, s->path,
                at->text, item_count, item_count == 1 ? " item" : " items", list_text);
    free(list_text);
    return DW_ERR_INPUT;
}

/* The item a step selects; NULL with a status when there is not exactly one. */
static dw_node *find_item(const setter *s, dw_node *list, const step *at, dw_status *status)
{
    dw_node *named = NULL, *numbered = NULL;
    const long index = index_from_step(at);
    long i = 0;
    for (dw_node *item = list->first; item != NULL; item = item->next, i++) {
        const char *name = name_of(item);
        if (i == index) numbered = item;
        if (name == NULL || strcmp(name, at->text) != 0) continue;
        if (named != NULL) {
            dw_diag_add(s->diag, DW_ERROR, "ambiguous-item", set_place,
                        "'%s': more than one item is called '%s'; use its number, counted from 0",
                        s->path, at->text);
            *status = DW_ERR_INPUT;
            return NULL;
        }
        named = item;
    }
    if (named != NULL) return named;
    if (numbered != NULL) return numbered;
    *status = refuse_item(s, list, at);
    return NULL;
}

static dw_status refuse_every(const setter *s, const char *why)
{
    dw_diag_add(s->diag, DW_ERROR, "bad-path", set_place,
                "'%s': '*' selects every item of a list, %s", s->path, why);
    return DW_ERR_INPUT;
}

/* Adds the rest of the path, from step i on, as new keys under a map. */
static dw_status add_key(setter *s, dw_node *map, int i, bool check)
{
    for (int k = i; k < s->count; k++) {
        if (is_every(&s->steps[k])) return refuse_every(s, "and there is no list at this place");
    }
    if (check) return DW_OK;
    for (; i < s->count; i++) {
        dw_status status = DW_OK;
        dw_node *node = make_node(s, map, &status);
        if (node == NULL) return status;
        node->kind = DW_NODE_MAP;
        node->key = s->steps[i].text;
        if (i == s->count - 1) {
            status = copy_content(s, node, s->value);
            if (status != DW_OK) return status;
        }
        dw_node **link = &map->first;
        while (*link != NULL)
            link = &(*link)->next;
        *link = node;
        map = node;
    }
    return DW_OK;
}

/* Follows the path from step i under node. With check nothing is changed: a first pass finds
 * every fault of the path, so that no fault leaves the tree half set. */
static dw_status follow(setter *s, dw_node *node, int i, bool check)
{
    if (i == s->count) return check ? DW_OK : copy_content(s, node, s->value);
    const step *at = &s->steps[i];
    dw_status status = DW_OK;
    switch (node->kind) {
    case DW_NODE_LIST:
        if (is_every(at)) {
            if (node->first == NULL) return refuse_every(s, "but this list is empty");
            for (dw_node *item = node->first; item != NULL && status == DW_OK; item = item->next) {
                status = follow(s, item, i + 1, check);
            }
            return status;
        }
        dw_node *item = find_item(s, node, at, &status);
        return item != NULL ? follow(s, item, i + 1, check) : status;
    case DW_NODE_MAP:
        if (is_every(at)) return refuse_every(s, "but this is a map");
        for (dw_node *child = node->first; child != NULL; child = child->next) {
            if (strcmp(child->key, at->text) == 0) return follow(s, child, i + 1, check);
        }
        return add_key(s, node, i, check);
    case DW_NODE_SCALAR:
        /* `site:` with nothing behind it is a map without keys. */
        if (is_blank(node)) {
            if (!check) {
                node->kind = DW_NODE_MAP;
                node->text = NULL;
            }
            return add_key(s, node, i, check);
        }
        break;
    }
    dw_diag_add(s->diag, DW_ERROR, "bad-path", set_place,
                "'%s': '%.*s' is '%.60s', so there is no '%s' in it to set", s->path,
                (int)(at->start > 0 ? at->start - 1 : 0), s->path, node->text, at->text);
    return DW_ERR_INPUT;
}

/* Parses the value into nodes of the tree's arena, every message beginning with the path. */
static dw_status read_value(setter *s, const char *value)
{
    const size_t length = strlen(value);
    if (length > DW_TREE_BYTES_MAX) {
        dw_diag_add(s->diag, DW_ERROR, "too-large", set_place,
                    "'%s': the value has %zu bytes, expected at most %d", s->path, length,
                    DW_TREE_BYTES_MAX);
        return DW_ERR_INPUT;
    }
    dw_strbuf subject;
    dw_strbuf_init(&subject);
    dw_strbuf_printf(&subject, "'%s'", s->path);
    if (subject.failed) {
        dw_strbuf_free(&subject);
        return DW_ERR_NOMEM;
    }
    const dw_build_source source = {.text = value,
                                    .length = length,
                                    .file = set_place.file,
                                    .subject = subject.text,
                                    .placeless = true,
                                    .depth = s->count};
    dw_node *root = NULL;
    const dw_status status = dw_tree_build(s->tree, &source, s->diag, &root);
    s->value = root;
    dw_strbuf_free(&subject);
    return status;
}

dw_status dw_tree_set(dw_tree *tree, const char *path, const char *value, dw_diag_list *diag)
{
    if (tree == NULL || path == NULL || value == NULL) return DW_ERR_ARG;
    setter s = {.tree = tree, .path = path, .diag = diag};
    tree->set_count++;
    dw_status status = read_path(&s);
    if (status == DW_OK) status = read_value(&s, value);
    if (status == DW_OK) status = follow(&s, tree->root, 0, true);
    if (status == DW_OK) status = follow(&s, tree->root, 0, false);
    return status;
}
