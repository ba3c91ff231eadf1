#include "yaml_build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <yaml.h>

#include "ascii.h"
#include "yaml_advice.h"

enum { FAULT_MAX = 20 };

/* A map or list that is still open. */
typedef struct level {
    dw_node *node;
    dw_node *last;   /* its last child, NULL when it has none yet   */
    bool wants_key;  /* a map between two entries                   */
    bool flow;       /* a map in braces                             */
    const char *key; /* a map after a key: the key, "" a faulty one */
    dw_place key_place;
    size_t child_count;
} level;

typedef struct builder {
    dw_tree *tree;
    const dw_build_source *source;
    dw_diag_list *diag;
    level levels[DW_TREE_DEPTH_MAX];
    int depth;    /* open levels                                  */
    int skipping; /* open containers of something refused         */
    int faults;
    int documents;
    dw_status status; /* DW_ERR_NOMEM, or DW_ERR_INPUT to stop at once */
    dw_node *root;
} builder;

static dw_place place_from_mark(const builder *b, yaml_mark_t mark)
{
    if (b->source->placeless) return (dw_place){b->source->file, 0, 0};
    return (dw_place){b->source->file, (int)mark.line + 1, (int)mark.column + 1};
}

/* Notes a fault. text is complete; quoted is put in quotes before it when not NULL. */
static void fault(builder *b, const char *code, dw_place place, const char *quoted,
                  const char *text)
{
    const char *subject = b->source->subject;
    b->faults++;
    if (quoted != NULL) {
        dw_diag_add(b->diag, DW_ERROR, code, place, "%s%s'%.60s' %s",
                    subject != NULL ? subject : "", subject != NULL ? ": " : "", quoted, text);
    } else {
        dw_diag_add(b->diag, DW_ERROR, code, place, "%s%s%s", subject != NULL ? subject : "",
                    subject != NULL ? ": " : "", text);
    }
    if (b->faults == FAULT_MAX) {
        dw_diag_add(b->diag, DW_NOTE, "too-many", (dw_place){b->source->file, 0, 0},
                    "reading stopped after %d mistakes", FAULT_MAX);
        b->status = DW_ERR_INPUT;
    }
}

/* Takes a finished key or value into the level above. node is NULL for what was refused. */
static void attach(builder *b, dw_node *node)
{
    if (b->depth == 0) {
        b->root = node;
        return;
    }
    level *top = &b->levels[b->depth - 1];
    if (node != NULL) {
        node->parent = top->node;
        if (top->node->kind == DW_NODE_MAP) {
            node->key = top->key;
            node->key_place = top->key_place;
        }
        if (top->last == NULL) {
            top->node->first = node;
        } else {
            top->last->next = node;
        }
        top->last = node;
        top->child_count++;
    }
    top->wants_key = top->node->kind == DW_NODE_MAP;
}

static bool at_key(const builder *b) { return b->depth > 0 && b->levels[b->depth - 1].wants_key; }

static void take_key(builder *b, const char *key, dw_place place)
{
    level *top = &b->levels[b->depth - 1];
    top->key = key;
    top->key_place = place;
    top->wants_key = false;
}

/* Stands in for a key or value that was refused, so that reading goes on behind it. */
static void attach_refused(builder *b, dw_place place)
{
    if (at_key(b)) {
        take_key(b, "", place);
    } else {
        attach(b, NULL);
    }
}

static dw_node *new_node(builder *b, dw_node_kind kind, dw_place place)
{
    if (b->tree->node_count >= DW_TREE_NODE_MAX) {
        fault(b, "too-large", place, NULL, "there are more than 200000 values, which is the most");
        b->status = DW_ERR_INPUT;
        return NULL;
    }
    dw_node *node = dw_tree_alloc(b->tree, sizeof *node);
    if (node == NULL) {
        b->status = DW_ERR_NOMEM;
        return NULL;
    }
    b->tree->node_count++;
    node->kind = kind;
    node->place = place;
    return node;
}

static void refuse_anchor_and_tag(builder *b, const yaml_char_t *anchor, const yaml_char_t *tag,
                                  dw_place place)
{
    if (anchor != NULL) {
        fault(b, "anchor", place, (const char *)anchor,
              "is an anchor (&), which is not used here; write the value where it is needed");
    }
    if (tag != NULL) {
        fault(b, "tag", place, (const char *)tag, "is a tag (!), which is not used here");
    }
}

static void on_scalar(builder *b, const yaml_event_t *event, dw_place place)
{
    const char *text = (const char *)event->data.scalar.value;
    const size_t length = event->data.scalar.length;
    const yaml_scalar_style_t style = event->data.scalar.style;
    refuse_anchor_and_tag(b, event->data.scalar.anchor, event->data.scalar.tag, place);
    if (memchr(text, '\0', length) != NULL) {
        fault(b, "nul-byte", place, NULL, "a text may not contain a NUL byte");
        attach_refused(b, place);
        return;
    }

    char *copy = dw_tree_copy_text(b->tree, text, length);
    if (copy == NULL) {
        b->status = DW_ERR_NOMEM;
        return;
    }
    if (at_key(b)) {
        if (length == 0) fault(b, "bad-key", place, NULL, "a key is empty");
        take_key(b, copy, place);
        return;
    }
    dw_node *node = new_node(b, DW_NODE_SCALAR, place);
    if (node == NULL) return;
    node->text = copy;
    node->length = length;
    node->quoted = style != YAML_PLAIN_SCALAR_STYLE;
    attach(b, node);
}

/* Ends the read: libyaml's time grows with the square of the depth. */
static void refuse_depth(builder *b, dw_place place)
{
    fault(b, "too-deep", place, NULL, "maps and lists may be at most 32 levels deep");
    b->status = DW_ERR_INPUT;
}

static void on_start(builder *b, dw_node_kind kind, bool flow, const yaml_char_t *anchor,
                     const yaml_char_t *tag, dw_place place)
{
    refuse_anchor_and_tag(b, anchor, tag, place);
    if (at_key(b)) {
        fault(b, "bad-key", place, NULL, "a key is a map or a list, expected one word or name");
        b->skipping = 1;
        return;
    }
    if (b->source->depth + b->depth >= DW_TREE_DEPTH_MAX) {
        refuse_depth(b, place);
        return;
    }
    dw_node *node = new_node(b, kind, place);
    if (node == NULL) return;
    attach(b, node);
    b->levels[b->depth++] = (level){.node = node, .wants_key = kind == DW_NODE_MAP, .flow = flow};
}

static int compare_keys(const void *a, const void *b)
{
    const dw_node *x = *(const dw_node *const *)a, *y = *(const dw_node *const *)b;
    const int order = strcmp(x->key, y->key);
    if (order != 0) return order;
    if (x->key_place.line != y->key_place.line) {
        return x->key_place.line < y->key_place.line ? -1 : 1;
    }
    return (x->key_place.column > y->key_place.column) -
           (x->key_place.column < y->key_place.column);
}

/* By sorting, so that a map with very many keys takes no quadratic time. */
static void refuse_duplicate_keys(builder *b, const level *map)
{
    if (map->child_count < 2) return;
    const dw_node **nodes = malloc(map->child_count * sizeof(const dw_node *));
    if (nodes == NULL) {
        b->status = DW_ERR_NOMEM;
        return;
    }
    size_t count = 0;
    for (const dw_node *n = map->node->first; n != NULL; n = n->next)
        nodes[count++] = n;
    qsort(nodes, count, sizeof(const dw_node *), compare_keys);
    const char *subject = b->source->subject;
    for (size_t i = 1; i < count && b->status == DW_OK; i++) {
        /* A faulty key is an empty text and has its message already. */
        if (nodes[i]->key[0] == '\0' || strcmp(nodes[i - 1]->key, nodes[i]->key) != 0) continue;
        if (subject != NULL) {
            fault(b, "duplicate-key", nodes[i]->key_place, nodes[i]->key, "is given twice");
            continue;
        }
        const dw_place first = nodes[i - 1]->key_place;
        char text[80];
        (void)snprintf(text, sizeof text, "is given twice, first at line %d, column %d", first.line,
                       first.column);
        fault(b, "duplicate-key", nodes[i]->key_place, nodes[i]->key, text);
    }
    free(nodes);
}

static bool is_whole_number(const dw_node *node)
{
    if (node->kind != DW_NODE_SCALAR || node->quoted || node->length == 0) return false;
    const char *text = node->text + (node->text[0] == '-' || node->text[0] == '+' ? 1 : 0);
    if (text[0] == '\0') return false;
    for (; *text != '\0'; text++) {
        if (!dw_ascii_is_digit(*text)) return false;
    }
    return true;
}

/* In braces the comma of `{diameter: 1,8 mm}` ends the value, and `8 mm` becomes a key without a
 * value. The two are put together again, so that whoever reads the value sees what was typed. */
static void join_decimal_commas(builder *b, level *map)
{
    for (dw_node *node = map->node->first; node != NULL; node = node->next) {
        const dw_node *tail = node->next;
        if (tail == NULL || !is_whole_number(node) || !dw_ascii_is_digit(tail->key[0]) ||
            tail->kind != DW_NODE_SCALAR || tail->length > 0 || tail->quoted) {
            continue;
        }
        const size_t length = node->length + 1 + strlen(tail->key);
        char *text = dw_tree_alloc(b->tree, length + 1);
        if (text == NULL) {
            b->status = DW_ERR_NOMEM;
            return;
        }
        (void)snprintf(text, length + 1, "%s,%s", node->text, tail->key);
        node->text = text;
        node->length = length;
        node->next = tail->next;
        map->child_count--;
    }
}

static void on_end(builder *b)
{
    if (b->depth == 0) return;
    level *top = &b->levels[b->depth - 1];
    if (top->node->kind == DW_NODE_MAP) {
        if (top->flow) join_decimal_commas(b, top);
        refuse_duplicate_keys(b, top);
    }
    b->depth--; /* the node itself was attached when it opened */
}

/* Goes past the inside of a refused map or list. True while it lasts. */
static bool skip(builder *b, const yaml_event_t *event)
{
    if (b->skipping == 0) return false;
    if (event->type == YAML_MAPPING_START_EVENT || event->type == YAML_SEQUENCE_START_EVENT) {
        b->skipping++;
        if (b->source->depth + b->depth + b->skipping > DW_TREE_DEPTH_MAX) {
            refuse_depth(b, place_from_mark(b, event->start_mark));
        }
    }
    if (event->type == YAML_MAPPING_END_EVENT || event->type == YAML_SEQUENCE_END_EVENT) {
        b->skipping--;
        if (b->skipping == 0) attach_refused(b, place_from_mark(b, event->start_mark));
    }
    return true;
}

static void on_event(builder *b, const yaml_event_t *event)
{
    const dw_place place = place_from_mark(b, event->start_mark);
    if (skip(b, event)) return;
    switch (event->type) {
    case YAML_DOCUMENT_START_EVENT:
        if (++b->documents > 1) {
            fault(b, "second-document", place, NULL,
                  "a second document begins here; only one is read");
            b->status = DW_ERR_INPUT;
        }
        break;
    case YAML_ALIAS_EVENT:
        fault(b, "alias", place, (const char *)event->data.alias.anchor,
              "is an alias (*), which is not used here; write the value where it is needed");
        attach_refused(b, place);
        break;
    case YAML_SCALAR_EVENT: on_scalar(b, event, place); break;
    case YAML_MAPPING_START_EVENT:
        on_start(b, DW_NODE_MAP, event->data.mapping_start.style == YAML_FLOW_MAPPING_STYLE,
                 event->data.mapping_start.anchor, event->data.mapping_start.tag, place);
        break;
    case YAML_SEQUENCE_START_EVENT:
        on_start(b, DW_NODE_LIST, false, event->data.sequence_start.anchor,
                 event->data.sequence_start.tag, place);
        break;
    case YAML_MAPPING_END_EVENT:
    case YAML_SEQUENCE_END_EVENT: on_end(b); break;
    case YAML_NO_EVENT:
    case YAML_STREAM_START_EVENT:
    case YAML_STREAM_END_EVENT:
    case YAML_DOCUMENT_END_EVENT: break;
    }
}

/* libyaml gives reader errors by byte, without a line. */
static yaml_mark_t mark_from_offset(const builder *b, size_t offset)
{
    yaml_mark_t mark = {0, 0, 0};
    for (size_t i = 0; i < offset && i < b->source->length; i++) {
        const unsigned char c = (unsigned char)b->source->text[i];
        if (c == '\n') {
            mark.line++;
            mark.column = 0;
        } else if ((c & 0xC0u) != 0x80u) {
            mark.column++;
        }
    }
    return mark;
}

static void on_parser_error(builder *b, const yaml_parser_t *parser)
{
    if (parser->error == YAML_MEMORY_ERROR) {
        b->status = DW_ERR_NOMEM;
        return;
    }
    yaml_mark_t mark = parser->problem_mark;
    const bool reader = parser->error == YAML_READER_ERROR;
    if (reader) mark = mark_from_offset(b, parser->problem_offset);
    dw_yaml_problem problem = {.text = b->source->text,
                               .length = b->source->length,
                               .problem =
                                   parser->problem != NULL ? parser->problem : "no reason is known",
                               .context = reader ? NULL : parser->context,
                               .line = mark.line,
                               .column = mark.column,
                               .has_start = !reader && parser->context != NULL,
                               .start_line = parser->context_mark.line,
                               .start_column = parser->context_mark.column,
                               .placeless = b->source->placeless};
    char text[400];
    dw_yaml_advise(&problem, text, sizeof text);
    mark.line = problem.line;
    mark.column = problem.column;
    fault(b, "yaml", place_from_mark(b, mark), NULL, text);
    b->status = DW_ERR_INPUT;
}

static void parse_all(builder *b, yaml_parser_t *parser)
{
    bool ended = false;
    while (!ended && b->status == DW_OK) {
        yaml_event_t event;
        if (!yaml_parser_parse(parser, &event)) {
            on_parser_error(b, parser);
            return;
        }
        on_event(b, &event);
        ended = event.type == YAML_STREAM_END_EVENT;
        yaml_event_delete(&event);
    }
}

dw_status dw_tree_build(dw_tree *tree, const dw_build_source *source, dw_diag_list *diag,
                        dw_node **root)
{
    *root = NULL;
    yaml_parser_t parser;
    if (!yaml_parser_initialize(&parser)) return DW_ERR_NOMEM;
    yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&parser, (const unsigned char *)source->text, source->length);

    builder b = {.tree = tree, .source = source, .diag = diag, .status = DW_OK};
    parse_all(&b, &parser);
    yaml_parser_delete(&parser);
    if (b.status != DW_OK) return b.status;

    const bool empty = b.root == NULL ||
                       (b.root->kind == DW_NODE_SCALAR && b.root->length == 0 && !b.root->quoted);
    if (empty && b.faults == 0) {
        fault(&b, "empty", (dw_place){source->file, 0, 0}, NULL, "there is nothing to read");
    }
    if (b.faults > 0) return DW_ERR_INPUT;
    *root = b.root;
    return DW_OK;
}
