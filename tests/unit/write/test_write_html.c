/* The tree as a page: everything of the text is there, nothing of a name is markup. */
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "sample_numbers.h"
#include "show_number.h"
#include "writers.h"

static char *page_of(dw_report *r, dw_unit_system system)
{
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_html(r, system, &out), DW_OK);
    return dw_strbuf_take(&out);
}

static void has(const char *page, const char *part)
{
    if (strstr(page, part) == NULL) print_error("the page has no %s\n%s\n", part, page);
    assert_non_null(strstr(page, part));
}

static void has_not(const char *page, const char *part)
{
    if (strstr(page, part) != NULL) print_error("the page has %s\n%s\n", part, page);
    assert_null(strstr(page, part));
}

/* Every element that is opened is closed, in order. */
static void is_well_formed(const char *page)
{
    const char *open[64];
    size_t length[64], depth = 0;
    for (const char *p = strchr(page, '<'); p != NULL; p = strchr(p + 1, '<')) {
        const bool closes = p[1] == '/';
        const char *name = p + (closes ? 2 : 1);
        const size_t own = strcspn(name, " >");
        if (p[1] == '!' || strncmp(name, "meta", 4) == 0) continue;
        if (!closes) {
            assert_true(depth < 64);
            open[depth] = name;
            length[depth++] = own;
            continue;
        }
        assert_true(depth > 0);
        depth--;
        assert_int_equal(length[depth], own);
        assert_memory_equal(open[depth], name, own);
    }
    assert_int_equal(depth, 0);
}

static dw_report *sample(void)
{
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    (void)dw_report_text(r, root, "kiln", NULL, "Name of a kiln");
    dw_item *section = dw_report_group(r, root, NULL, "Some numbers", DW_STYLE_SECTION);
    dw_item *number = dw_report_number(r, section, "flow_kg_s", "flow",
                                       dw_number_of(0.0123456, DW_DIM_MASS_FLOW, 3));
    dw_report_note(r, number, "with a remark");
    (void)dw_report_bool(r, section, "yes", "is it so", true);
    (void)dw_report_null(r, section, "none", "not there", "no stack");
    (void)dw_report_number(r, section, "hidden", NULL, dw_number_plain(98765.4321, 9));
    dw_item *prose = dw_report_group(r, root, NULL, "Findings", DW_STYLE_PROSE);
    dw_item *line = dw_report_line(r, prose, NULL, "HAZARD", "about {0} of it");
    (void)dw_report_number(r, line, NULL, NULL, dw_number_of(0.25, DW_DIM_RATIO, 2));
    dw_item *steps = dw_report_group(r, root, NULL, NULL, DW_STYLE_STEPS);
    (void)dw_report_text(r, steps, NULL, "17", "a step");
    dw_item *formula = dw_report_text(r, steps, NULL, "", "a = b*c");
    if (formula != NULL) formula->is_code = true;
    (void)dw_report_text(r, steps, NULL, "", "");
    const dw_column columns[] = {
        {.key = "name", .label = "name", .is_text = true},
        {.key = "m", .label = "mass\nflow", .number = dw_number_of(0.0, DW_DIM_MASS_FLOW, 3)},
        {.label = "as text", .is_text = true, .is_right = true},
        {.key = "secret", .is_text = true}};
    dw_item *table = dw_report_table(r, root, "rows", "A table", columns, 4);
    dw_cell *cell = dw_report_row(r, table);
    cell[0].text = "first";
    cell[1].si = 0.005;
    cell[2].text = "7.25";
    cell[3].text = "unseen";
    cell = dw_report_row(r, table);
    cell[0].text = "second";
    return r;
}

static void everything_of_the_text_is_on_the_page(void **state)
{
    (void)state;
    dw_report *r = sample();
    char *page = page_of(r, DW_UNITS_METRIC);
    is_well_formed(page);
    has(page, "<title>Name of a kiln</title>");
    has(page, "<h2>Some numbers</h2>");
    has(page, "<b>flow</b><span>44.4&nbsp;kg/h <small>with a remark</small></span>");
    has(page, "<b>is it so</b><span>yes</span>");
    has(page, "<b>not there</b><span>no stack</span>");
    has(page, "<b class=\"tone-bad\">HAZARD</b>about 25&nbsp;% of it");
    has(page, "<span class=\"n\">17</span>");
    has(page, "<code>a = b*c</code>");
    has(page, "<th scope=\"col\" class=\"num\">mass\nflow\nkg/h</th>");
    has(page, "<td class=\"word\" data-label=\"name\">first</td>"
              "<td class=\"num\" data-label=\"mass flow\" data-unit=\"kg/h\">18.0</td>"
              "<td class=\"num\" data-label=\"as text\">7.25</td>");
    has(page, "<td class=\"word\" data-label=\"name\">second</td>"
              "<td class=\"num\" data-label=\"mass flow\">-</td>");
    /* What is for programs alone stays with them. */
    has_not(page, "98765");
    has_not(page, "unseen");
    has_not(page, "<p></p>");
    free(page);
    page = page_of(r, DW_UNITS_US);
    has(page, "98.0&nbsp;lb/h");
    free(page);
    dw_report_destroy(r);
}

static void it_needs_nothing_else_and_fits_a_small_screen(void **state)
{
    (void)state;
    dw_report *r = sample();
    char *page = page_of(r, DW_UNITS_METRIC);
    has(page, "<!doctype html>\n<html lang=\"en\">");
    has(page, "<meta charset=\"utf-8\">");
    has(page, "width=device-width");
    has(page, "@media print");
    has(page, "<div class=\"wide fits\"><table>");
    has(page, "<main>");
    has_not(page, "http");
    has_not(page, "<script");
    has_not(page, "<link");
    has_not(page, "url(");
    free(page);
    dw_report_destroy(r);
}

static dw_tone bad(dw_cell cell)
{
    return strcmp(cell.text, "bad") == 0 ? DW_TONE_BAD : DW_TONE_RAISED;
}

/* A column that must be seen comes after the leading ones, with its tone; a page may call a column otherwise
 * than the text, leave it out, or have it alone. */
static void what_must_be_seen_comes_first(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    const dw_column columns[] = {
        {.key = "at", .label = "at", .number = dw_number_plain(0.0, 3)},
        {.label = "temper-\nature", .number = dw_number_of(0.0, DW_DIM_TEMPERATURE, 3)},
        {.label = "CO/\nCO2", .page_label = "CO over CO2", .number = dw_number_plain(0.0, 2)},
        {.label = "count", .page_label = "", .number = dw_number_plain(0.0, 3)},
        {.page_label = "what", .is_text = true, .page_first = true, .tone = bad},
        {.label = "", .is_text = true}};
    dw_item *table = dw_report_table(r, dw_report_root(r), "rows", "", columns, 6);
    table->table->lead_count = 1;
    for (int i = 0; i < 3; i++) {
        dw_cell *cell = dw_report_row(r, table);
        cell[0].si = i;
        cell[1].si = 1473.15;
        cell[2].si = 0.5;
        cell[3].si = 654.0;
        cell[4].text = i == 0 ? "bad" : i == 1 ? "less" : NULL;
    }
    dw_item *screen = dw_report_group(r, dw_report_root(r), NULL, NULL, DW_STYLE_SCREEN);
    dw_item *verdict = dw_report_text(r, screen, NULL, "Verdict", "look out");
    verdict->tone = DW_TONE_BAD;
    char *page = page_of(r, DW_UNITS_METRIC);
    is_well_formed(page);
    has(page, "<th scope=\"col\" class=\"num\">at</th><th scope=\"col\" class=\"text\">what</th>"
              "<th scope=\"col\" class=\"num\">temper-\nature\ndegC</th>"
              "<th scope=\"col\" class=\"num\">CO over CO2</th><td class=\"text\"></td>");
    has(page, "<tr class=\"bad\"><td class=\"num lead\" data-label=\"at\">0</td>"
              "<td class=\"word tone-bad\" data-label=\"what\">bad</td>"
              "<td class=\"num\" data-label=\"temperature\" data-unit=\"degC\">1200</td>");
    has(page, "<tr><td class=\"num lead\" data-label=\"at\">1.00</td>"
              "<td class=\"word tone-raised\" data-label=\"what\">less</td>");
    has(page, "<td class=\"text\" data-label=\"what\">-</td>");
    has(page, "<strong class=\"tone-bad\">look out</strong>");
    has_not(page, "654");
    free(page);
    dw_report_destroy(r);
}

/* From which width on rows lie side by side goes by what is in the table. */
static void the_class_of_a_table_goes_by_its_width(void **state)
{
    (void)state;
    static const struct {
        size_t columns;
        const char *css_class;
    } row[] = {{1, "wide fits\""},    {5, "wide from36\""},  {7, "wide from48\""},
               {9, "wide from64\""},  {11, "wide from74\""}, {12, "wide scrolls\" tabindex=\"0\""}};
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        dw_column columns[12];
        dw_report *r = dw_report_create();
        for (size_t c = 0; c < row[i].columns; c++) {
            columns[c] = (dw_column){.label = "x", .is_text = true};
        }
        dw_item *table =
            dw_report_table(r, dw_report_root(r), "rows", "", columns, row[i].columns);
        dw_cell *cell = dw_report_row(r, table);
        for (size_t c = 0; c < row[i].columns; c++) cell[c].text = "nine char";
        char *page = page_of(r, DW_UNITS_METRIC);
        has(page, row[i].css_class);
        free(page);
        dw_report_destroy(r);
    }
}

static void names_cannot_become_markup(void **state)
{
    (void)state;
    static const char evil[] = "</title><script>x('&\"')</script>\x1b[2J\x7f\xc2\x9b\xc3\xa9";
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    (void)dw_report_text(r, root, "kiln", NULL, evil);
    dw_item *section = dw_report_group(r, root, NULL, evil, DW_STYLE_SECTION);
    dw_item *item = dw_report_text(r, section, "k", evil, evil);
    dw_report_note(r, item, evil);
    dw_report_mark(item, evil);
    const dw_column columns[] = {{.label = evil, .is_text = true}};
    dw_cell *cell = dw_report_row(r, dw_report_table(r, section, "t", evil, columns, 1));
    cell[0].text = evil;
    char *page = page_of(r, DW_UNITS_METRIC);
    is_well_formed(page);
    has_not(page, "<script");
    has(page, "&lt;script&gt;x(&#39;&amp;&quot;&#39;)&lt;/script&gt; [2J  \xc3\xa9");
    has_not(page, "\x1b");
    has_not(page, "\xc2\x9b");
    free(page);
    dw_report_destroy(r);
}

static void every_kind_of_value_has_its_form(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    dw_item *plain = dw_report_group(r, root, NULL, "Plain", DW_STYLE_PLAIN);
    (void)dw_report_bool(r, plain, "lit", "burner lit", true);
    (void)dw_report_null(r, plain, "phi", "ratio", "nobody knows");
    dw_item *section = dw_report_group(r, root, NULL, "Section", DW_STYLE_SECTION);
    dw_number spread = dw_number_of(293.15, DW_DIM_TEMPERATURE, 4);
    spread.low_si = 283.15;
    spread.high_si = 313.15;
    (void)dw_report_number(r, section, "t_k", "room", spread);
    spread.high_si = INFINITY;
    (void)dw_report_number(r, section, "u_k", "attic", spread);
    (void)dw_report_integer(r, section, "n", "burners", 4);
    (void)dw_report_bool(r, section, "dead", "out", false);
    const dw_column columns[] = {{.key = "solved", .label = "solved", .is_truth = true}};
    dw_item *table = dw_report_table(r, section, "rows", "", columns, 1);
    for (int i = 0; i < 3; i++) dw_report_row(r, table)->si = i == 2 ? (double)NAN : (double)i;
    char *page = page_of(r, DW_UNITS_METRIC);
    is_well_formed(page);
    has(page, "<p>burner lit yes</p>");
    has(page, "<p>ratio nobody knows</p>");
    has(page, "<b>room</b><span>20.00&nbsp;degC (10.00&nbsp;degC to 40.00&nbsp;degC)</span>");
    has(page, "<b>attic</b><span>20.00&nbsp;degC</span>");
    has(page, "<b>burners</b><span>4</span>");
    has(page, "<b>out</b><span>no</span>");
    const char *no = strstr(page, ">no</td></tr>\n<tr><td"), *yes = strstr(page, ">yes</td></tr>\n");
    assert_true(no != NULL && yes != NULL && no < yes);
    has(page, "-</td></tr>\n</tbody>");
    free(page);
    dw_report_destroy(r);
}

static void words_of_the_command_line_stand_out(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    dw_item *root = dw_report_root(r);
    (void)dw_report_text(r, root, "kiln", NULL, "a `b` c");
    dw_item *section = dw_report_group(r, root, NULL, "Texts", DW_STYLE_PROSE);
    (void)dw_report_text(r, section, NULL, "note", "`room` and `check <x>`; one ` alone");
    char *page = page_of(r, DW_UNITS_METRIC);
    is_well_formed(page);
    has(page, "<code>room</code> and <code>check &lt;x&gt;</code>; one ` alone");
    has_not(page, "<title>a <code>");
    free(page);
    dw_report_destroy(r);
}

static void an_empty_or_broken_tree(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    char *page = page_of(r, DW_UNITS_METRIC);
    has(page, "<title>damperwise</title>");
    is_well_formed(page);
    free(page);
    dw_report_fail(r);
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(dw_write_html(r, DW_UNITS_METRIC, &out), DW_ERR_NOMEM);
    dw_strbuf_free(&out);
    dw_report_destroy(r);
}

static void rows_with_a_reason_say_it(void **state)
{
    (void)state;
    dw_report *r = dw_report_create();
    const dw_column columns[] = {{.label = "damper", .number = dw_number_share(0.0, 3)},
                                 {.label = "ratio", .number = dw_number_plain(0.0, 3)},
                                 {.label = "word", .is_text = true},
                                 {.key = "reason", .is_text = true}};
    dw_item *table = dw_report_table(r, dw_report_root(r), "rows", "", columns, 4);
    table->table->lead_count = 1;
    table->table->reason_column = 3;
    table->table->reason_lead = "no: ";
    dw_cell *cell = dw_report_row(r, table);
    cell[0].si = 0.35;
    cell[3].text = "the stack stalls";
    char *page = page_of(r, DW_UNITS_METRIC);
    has(page, "data-unit=\"%\">35.0</td><td class=\"reason\" data-label=\"\" colspan=\"2\">no: the stack "
              "stalls</td>");
    free(page);
    dw_report_destroy(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(everything_of_the_text_is_on_the_page),
        cmocka_unit_test(it_needs_nothing_else_and_fits_a_small_screen),
        cmocka_unit_test(what_must_be_seen_comes_first),
        cmocka_unit_test(the_class_of_a_table_goes_by_its_width),
        cmocka_unit_test(names_cannot_become_markup),
        cmocka_unit_test(every_kind_of_value_has_its_form),
        cmocka_unit_test(words_of_the_command_line_stand_out),
        cmocka_unit_test(an_empty_or_broken_tree),
        cmocka_unit_test(rows_with_a_reason_say_it),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
