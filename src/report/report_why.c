#include "reports.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "formula.h"
#include "nearest.h"
#include "show_number.h"
#include "strbuf.h"

enum { KEY_SIZE = 64, DIGITS = 3 };

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool same(const char *a, const char *b)
{
    while (*a != '\0' && lower(*a) == lower(*b)) {
        ++a;
        ++b;
    }
    return *a == '\0' && *b == '\0';
}

const dw_term *dw_term_find(const dw_terms *terms, const char *name, const char **near)
{
    const char *words[DW_TERM_MAX * (DW_TERM_ALIAS_MAX + 1)];
    size_t count = 0;
    *near = NULL;
    for (size_t i = 0; i < terms->count; ++i) {
        const dw_term *t = &terms->term[i];
        if (same(t->name, name)) return t;
        words[count++] = t->name;
        for (size_t k = 0; k < t->alias_count; ++k) {
            if (same(t->alias[k], name)) return t;
            words[count++] = t->alias[k];
        }
    }
    *near = dw_nearest_word(name, words, count);
    return NULL;
}

/* Where the numbers of a kiln are. */
typedef struct numbers {
    const dw_report *estimate;
    const dw_working *w;
    dw_unit_system system;
} numbers;

/* A number of the working as a person reads it: by the kind that its SI unit belongs to. */
static dw_number number_of(const dw_work_quantity *q)
{
    for (int dim = 0; dim < DW_DIM_COUNT_; ++dim) {
        if (q->unit[0] == '\0' || strcmp(dw_dim_si_unit((dw_dim)dim), q->unit) != 0) continue;
        dw_number number = dw_number_of(q->value[0], (dw_dim)dim, DIGITS);
        number.by_size = true;
        if (dim == DW_DIM_TEMPERATURE) {
            number.digits = 12;
            number.resolution_si = 1.0;
        }
        return number;
    }
    dw_number number = dw_number_plain(q->value[0], DIGITS);
    number.unit = q->unit;
    return number;
}

/* A number by key of the report or symbol of the working, as text; false when it has no value. */
static bool put_number(const numbers *n, const char *key, dw_strbuf *out)
{
    dw_found found;
    char shown[DW_SHOWN_SIZE];
    if (n->estimate != NULL && dw_report_find(n->estimate, key, &found)) {
        if (found.is_null) return false;
        if (found.is_number) {
            if (!isfinite(found.number.si)) return false;
            dw_show_number(&found.number, n->system, shown);
            dw_strbuf_puts(out, shown);
        } else if (found.text != NULL) {
            dw_strbuf_puts(out, found.text);
        }
        return true;
    }
    const dw_work_quantity *q = n->w != NULL ? dw_working_find(n->w, key) : NULL;
    if (q == NULL || !isfinite(q->value[0])) return false;
    const dw_number number = number_of(q);
    dw_show_number(&number, n->system, shown);
    dw_strbuf_puts(out, shown);
    return true;
}

/* The sentence with its holes filled; false when a hole has no value. */
static bool fill(const numbers *n, const char *text, dw_strbuf *out)
{
    for (const char *p = text; *p != '\0'; ++p) {
        const char *end = *p == '{' ? strchr(p, '}') : NULL;
        if (end == NULL) {
            dw_strbuf_add(out, p, 1);
            continue;
        }
        char key[KEY_SIZE];
        (void)snprintf(key, sizeof key, "%.*s", (int)(end - p - 1), p + 1);
        if (!put_number(n, key, out)) return false;
        p = end;
        /* A unit that ends in a full stop has it already. */
        const bool stop = !out->failed && out->length > 0 && out->text[out->length - 1] == '.';
        if (stop && p[1] == '.') ++p;
    }
    return true;
}

/* Numbers of conditions must outlive the look-up. */
typedef struct condition {
    const numbers *n;
    double value[8];
    size_t used;
} condition;

static bool look_up(void *user, const char *name, size_t length, dw_formula_value *value)
{
    condition *c = user;
    char key[KEY_SIZE];
    if (length >= sizeof key || c->used == sizeof c->value / sizeof c->value[0]) return false;
    memcpy(key, name, length);
    key[length] = '\0';
    dw_found found;
    double si;
    if (c->n->estimate != NULL && dw_report_find(c->n->estimate, key, &found)) {
        if (!found.is_number) return false;
        si = found.number.si;
    } else {
        const dw_work_quantity *q = c->n->w != NULL ? dw_working_find(c->n->w, key) : NULL;
        if (q == NULL) return false;
        si = q->value[0];
    }
    c->value[c->used] = si;
    *value = (dw_formula_value){&c->value[c->used++], 0};
    return true;
}

static bool holds(const numbers *n, const char *formula)
{
    condition c = {.n = n};
    double value;
    return formula[0] == '\0' ||
           (dw_formula_evaluate(formula, look_up, &c, DW_FORMULA_NO_ROW, &value) == DW_OK &&
            value > 0.0);
}

static void put_here(dw_report *r, const dw_report_source *source, const dw_term *term,
                     const numbers *n)
{
    dw_item *root = dw_report_root(r);
    dw_item *list = dw_report_list(r, root, "here", NULL);
    dw_item *group = dw_report_group(r, root, NULL, source->kiln->name, DW_STYLE_PLAIN);
    int said = 0;
    for (size_t i = 0; i < term->here_count; ++i) {
        dw_strbuf text;
        dw_strbuf_init(&text);
        if (holds(n, term->here[i].condition) && fill(n, term->here[i].text, &text) &&
            text.text != NULL) {
            dw_tell(r, group, text.text);
            for (char *p = text.text; *p != '\0'; ++p) {
                if (*p == DW_GLUE) *p = ' ';
            }
            dw_add_text(r, list, text.text);
            ++said;
        }
        if (text.failed) dw_report_fail(r);
        dw_strbuf_free(&text);
    }
    if (said == 0) {
        dw_tell(r, group, "This is not available for this kiln at this setting.");
    } else {
        dw_tell(r, group, "How these numbers are worked out: damperwise estimate KILN.yaml --working");
    }
}

static void put_see(dw_report *r, const dw_term *term)
{
    if (term->see_count == 0) return;
    dw_strbuf text;
    dw_strbuf_init(&text);
    for (size_t i = 0; i < term->see_count; ++i) {
        dw_strbuf_printf(&text, "%s%s", i > 0 ? ", " : "See also: ", term->see[i]);
    }
    dw_item *group = dw_report_group(r, dw_report_root(r), NULL, "", DW_STYLE_PLAIN);
    dw_tell(r, group, "");
    if (text.text != NULL) dw_tell(r, group, text.text);
    if (text.failed) dw_report_fail(r);
    dw_strbuf_free(&text);
}

static void put_sources(dw_report *r, const dw_data *data, const dw_term *term)
{
    dw_item *list = dw_report_list(r, dw_report_root(r), "sources", NULL);
    dw_item *group = dw_report_group(r, dw_report_root(r), NULL, "", DW_STYLE_PLAIN);
    for (size_t i = 0; i < term->source_count; ++i) {
        dw_add_text(r, list, term->source[i]);
        for (size_t k = 0; k < data->source_count; ++k) {
            const dw_source *s = &data->source[k];
            if (strcmp(s->key, term->source[i]) != 0) continue;
            dw_tell(r, group, dw_report_keepf(r, "Source: %s (%s)", s->title, s->provenance));
        }
    }
    dw_tell(r, group, "");
    dw_build_caution(r, group, "");
}

void dw_build_why(dw_report *r, const dw_report_source *source, const dw_term *term,
                  const dw_report *estimate, const dw_working *w, dw_unit_system system)
{
    dw_item *root = dw_report_root(r);
    dw_build_head(r, source);
    (void)dw_report_text(r, root, "term", NULL, term->name);
    (void)dw_report_text(r, root, "text", NULL, term->text);
    dw_item *group = dw_report_group(r, root, NULL, term->name, DW_STYLE_PLAIN);
    dw_tell(r, group, term->text);
    if (estimate != NULL && source->kiln != NULL) {
        const numbers n = {estimate, w, system};
        put_here(r, source, term, &n);
    }
    put_see(r, term);
    put_sources(r, source->data, term);
}

void dw_build_terms(dw_report *r, const dw_report_source *source)
{
    dw_item *root = dw_report_root(r);
    dw_build_head(r, source);
    dw_item *group = dw_report_group(r, root, NULL, "Terms", DW_STYLE_PLAIN);
    dw_tell(r, group,
            "damperwise why TERM explains a term; damperwise why TERM KILN.yaml adds the numbers of that "
            "kiln.");
    dw_tell(r, group, "");
    const dw_column columns[] = {{.key = "term", .label = "term", .is_text = true},
                                 {.key = "aliases", .label = "also called", .is_text = true}};
    dw_item *table = dw_report_table(r, group, "terms", "", columns, 2);
    if (table != NULL) table->table->is_main = true;
    for (size_t i = 0; i < source->data->terms.count; ++i) {
        const dw_term *t = &source->data->terms.term[i];
        const char *also = "";
        for (size_t k = 0; k < t->alias_count; ++k) {
            also = dw_report_keepf(r, "%s%s%s", also, k > 0 ? ", " : "", t->alias[k]);
            if (also == NULL) return;
        }
        dw_cell *cell = dw_report_row(r, table);
        if (cell == NULL) return;
        cell[0].text = t->name;
        cell[1].text = also;
    }
}
