/* Reports about the ware: keys of the JSON, words, the ladder and its drawing. */

#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "check.h"
#include "kit.h"
#include "report_oxides.h"
#include "svg.h"
#include "writers.h"

static dw_kiln_file file;
static dw_kiln resolved;
static dw_result result;
static dw_ware ware;
static dw_ware_boundary boundary[DW_BUFFER_MAX];
static int boundary_count;
static dw_ware_glaze glaze[DW_GLAZE_MAX];

static dw_report_source source_of(const char *command)
{
    return (dw_report_source){.version = "1.2.3", .command = command, .data = kit_data(),
                              .file = &file, .kiln = &resolved};
}

static void solve(double damper_open)
{
    kit_example("oxides-rushlight-hill", &file);
    file.kiln.flue[0].damper.open_frac = damper_open;
    resolved = file.kiln;
    dw_kiln_resolve(&resolved);
    assert_int_equal(dw_operating_point(kit_model(), &file.kiln, &result), DW_OK);
    assert_int_equal(dw_ware_of_point(kit_model(), &file.kiln, &result, &ware), DW_OK);
    assert_int_equal(dw_ware_boundaries(kit_model(), &ware, boundary, &boundary_count), DW_OK);
    for (size_t i = 0; i < kit_data()->glaze_count; i++) {
        dw_ware_glaze_at(&kit_data()->glaze[i], &ware, &glaze[i]);
    }
}

static dw_oxides_view view_of(void)
{
    return (dw_oxides_view){.result = &result, .ware = &ware, .boundary = boundary,
                            .boundary_count = boundary_count, .glaze = glaze,
                            .glaze_count = kit_data()->glaze_count};
}

typedef dw_status (*writer)(const dw_report *report, dw_strbuf *out);
static dw_status as_text(const dw_report *r, dw_strbuf *out)
{
    return dw_write_text(r, DW_UNITS_METRIC, out);
}
static dw_status as_csv(const dw_report *r, dw_strbuf *out)
{
    return dw_write_csv(r, DW_UNITS_METRIC, out);
}
static dw_status as_html(const dw_report *r, dw_strbuf *out)
{
    return dw_write_html(r, DW_UNITS_METRIC, out);
}

/* Takes and destroys the report. */
static char *written(dw_report *r, writer write)
{
    dw_strbuf out;
    dw_strbuf_init(&out);
    assert_int_equal(write(r, &out), DW_OK);
    dw_report_destroy(r);
    return dw_strbuf_take(&out);
}

static json_t *parsed(dw_report *r)
{
    char *text = written(r, dw_write_json);
    json_error_t error;
    json_t *j = json_loads(text, JSON_REJECT_DUPLICATES, &error);
    if (j == NULL) print_error("%s at line %d\n", error.text, error.line);
    assert_non_null(j);
    free(text);
    return j;
}

static dw_report *oxides_report(void)
{
    const dw_report_source source = source_of("oxides");
    const dw_oxides_view view = view_of();
    dw_report *r = dw_report_create();
    dw_build_oxides(r, &source, &view);
    return r;
}

static void the_json_holds_the_numbers(void **state)
{
    (void)state;
    solve(0.45);
    json_t *j = parsed(oxides_report());
    assert_close(json_real_value(json_object_get(j, "log10_po2_bar")), result.log10_po2_bar, 0.0,
                 1e-9);
    json_t *iron = json_object_get(json_object_get(j, "metals"), "iron");
    assert_true(json_is_true(json_object_get(iron, "mixed")));
    assert_string_equal(json_string_value(json_object_get(iron, "lean")), "hematite");
    assert_string_equal(json_string_value(json_object_get(iron, "rich")), "wustite");
    /* What does not reach this temperature is left out; what is for comparison stands apart. */
    const json_t *boundaries = json_object_get(j, "boundaries");
    for (size_t i = 0; i < json_array_size(boundaries); i++) {
        const json_t *b = json_array_get(boundaries, i);
        assert_string_not_equal(json_string_value(json_object_get(b, "buffer")), "hm-frost-low");
        const double gap = json_real_value(json_object_get(b, "gas_minus_log10"));
        assert_close(json_real_value(json_object_get(b, "log10_po2_bar")) + gap,
                     result.log10_po2_bar, 0.0, 1e-9);
    }
    assert_int_equal(json_array_size(boundaries), 13);
    assert_int_equal(json_array_size(json_object_get(j, "comparison")), 9);
    assert_int_equal(json_array_size(json_object_get(j, "parcels")), 5);
    json_t *g = json_array_get(json_object_get(j, "glazes"), 0);
    assert_close(json_real_value(json_object_get(g, "kress_ferrous")), glaze[0].iron.kress_share,
                 1e-9, 0.0);
    assert_true(json_real_value(json_object_get(g, "lean_ferrous_low")) <
                json_real_value(json_object_get(g, "ferrous_low")));
    json_t *w = json_array_get(json_object_get(j, "windows"), 3);
    assert_string_equal(json_string_value(json_object_get(w, "basis")), "common practice");
    assert_close(json_real_value(json_object_get(w, "from_k")), 973.15, 1e-9, 0.0);
    json_decref(j);
}

static void the_text_says_it_in_words(void **state)
{
    (void)state;
    solve(0.45);
    char *text = written(oxides_report(), as_text);
    assert_non_null(strstr(text, "Mixed: hematite (Fe2O3) where the gas is leaner"));
    assert_non_null(strstr(text, "shows that the"));
    assert_non_null(strstr(text, "partly or nearly"));
    assert_non_null(strstr(text, "(common practice) [reduction-practice]"));
    free(text);
    solve(0.38);
    text = written(oxides_report(), as_text);
    assert_non_null(strstr(text, "Wustite (FeO)"));
    assert_null(strstr(text, "Mixed: hematite"));
    free(text);
    /* Near a boundary. */
    assert_int_equal(dw_ware_at(kit_model(), 1523.15, 101325.0, -8.44, &ware), DW_OK);
    dw_report *r = dw_report_create();
    assert_string_equal(dw_forms_long(r, &kit_data()->oxides.metal[0], &ware.metal[0]),
                        "magnetite (Fe3O4), near the boundary with wustite (FeO)");
    assert_string_equal(dw_forms_short(r, &kit_data()->oxides.metal[0], &ware.metal[0]),
                        "Fe3O4 or FeO");
    ware.metal[0].known = false;
    assert_null(dw_forms_short(r, &kit_data()->oxides.metal[0], &ware.metal[0]));
    dw_report_destroy(r);
}

static void reasons_stand_where_numbers_are_missing(void **state)
{
    (void)state;
    static const struct {
        dw_glaze_refusal refusal;
        const char *part;
    } reasons[] = {{DW_GLAZE_NO_OXYGEN, "oxygen"}, {DW_GLAZE_TOO_COLD, "1200 degC"},
                   {DW_GLAZE_TOO_HOT, "1630 degC"}, {DW_GLAZE_NO_IRON, "no iron"},
                   {DW_GLAZE_OUTSIDE, "has PbO"}};
    dw_glaze lead = {.name = "lead", .outside = "PbO"};
    dw_report *r = dw_report_create();
    for (size_t i = 0; i < sizeof reasons / sizeof reasons[0]; i++) {
        const dw_ware_glaze g = {.glaze = &lead, .refusal = reasons[i].refusal};
        assert_non_null(strstr(dw_glaze_reason(r, &g), reasons[i].part));
    }
    const dw_ware_glaze given = {.glaze = &lead, .refusal = DW_GLAZE_GIVEN};
    assert_null(dw_glaze_reason(r, &given));
    dw_report_destroy(r);
    /* Not solved: no numbers at all. */
    solve(0.40);
    result.solved = false;
    strcpy(result.reason, "the stack stalls");
    const dw_report_source source = source_of("oxides");
    const dw_oxides_view view = {.result = &result};
    r = dw_report_create();
    dw_build_oxides(r, &source, &view);
    json_t *j = parsed(r);
    assert_string_equal(json_string_value(json_object_get(j, "reason")), "the stack stalls");
    assert_null(json_object_get(j, "metals"));
    assert_null(json_object_get(j, "log10_po2_bar"));
    json_decref(j);
}

static void rows_keep_their_place(void **state)
{
    (void)state;
    solve(0.40);
    const dw_report_source source = source_of("oxides");
    dw_report *r = dw_report_create();
    dw_oxides_table table;
    const double cold = 1000.0, hot = ware.temperature_k;
    dw_build_oxides_table(&table, r, &source, NULL, 0, &kit_data()->glaze[0], NULL, NULL);
    dw_build_oxides_row(&table, &hot, &result, NULL, &ware, &glaze[0], NULL);
    dw_build_oxides_row(&table, &cold, NULL, NULL, NULL, NULL, "the stack stalls");
    dw_build_oxides_table_end(&table);
    assert_int_equal(table.row_count, 2);
    assert_int_equal(table.solved_count, 1);
    json_t *j = parsed(r);
    const json_t *rows = json_object_get(j, "rows");
    const json_t *first = json_array_get(rows, 0), *second = json_array_get(rows, 1);
    assert_close(json_real_value(json_object_get(first, "kress_ferrous")),
                 glaze[0].iron.kress_share, 1e-9, 0.0);
    assert_string_equal(json_string_value(json_object_get(first, "iron")), "wustite");
    assert_string_equal(json_string_value(json_object_get(first, "nickel")), "nickel metal");
    assert_non_null(strstr(json_string_value(json_object_get(first, "stages")), "copper red: yes"));
    assert_true(json_is_null(json_object_get(first, "reason")));
    assert_string_equal(json_string_value(json_object_get(second, "reason")), "the stack stalls");
    assert_true(json_is_null(json_object_get(second, "log10_po2_bar")));
    assert_true(json_is_false(json_object_get(second, "solved")));
    json_decref(j);
}

static dw_ladder ladder;
static dw_rung rung[DW_LADDER_RUNG_COUNT];

static dw_report *ladder_report(bool chart)
{
    char reason[DW_REASON_SIZE];
    solve(0.40);
    assert_int_equal(dw_ladder_init(&ladder, kit_model(), &file.kiln, reason), DW_OK);
    for (int i = 0; i < DW_LADDER_RUNG_COUNT; i++) {
        assert_int_equal(dw_ladder_rung(&ladder, dw_ladder_ratio[i], &rung[i]), DW_OK);
    }
    const dw_report_source source = source_of("ladder");
    const dw_ladder_view view = {.temperature_k = ware.temperature_k,
                                 .composition_temperature_k = ware.temperature_k,
                                 .composition_rich_k = ware.temperature_k,
                                 .spread = 0.05, .fuel = "<fuel> & \"air\"", .rung = rung,
                                 .rung_count = DW_LADDER_RUNG_COUNT, .curve = chart ? rung : NULL,
                                 .curve_count = chart ? DW_LADDER_RUNG_COUNT : 0,
                                 .boundary = boundary, .boundary_count = boundary_count};
    dw_report *r = dw_report_create();
    dw_build_ladder(r, &source, &view);
    return r;
}

static size_t count_of(const char *text, const char *part)
{
    size_t count = 0;
    for (const char *p = strstr(text, part); p != NULL; p = strstr(p + 1, part)) count++;
    return count;
}

static void the_ladder_is_table_and_drawing(void **state)
{
    (void)state;
    json_t *j = parsed(ladder_report(false));
    const json_t *rows = json_object_get(j, "rungs");
    assert_int_equal(json_array_size(rows), DW_LADDER_RUNG_COUNT);
    for (int i = 0; i < DW_LADDER_RUNG_COUNT; i++) {
        const json_t *row = json_array_get(rows, (size_t)i);
        assert_close(json_real_value(json_object_get(row, "equivalence_ratio")),
                     dw_ladder_ratio[i], 1e-9, 0.0);
        assert_close(json_real_value(json_object_get(row, "air_ratio")), 1.0 / dw_ladder_ratio[i],
                     1e-9, 0.0);
        /* The words of config/bands.yaml begin at 0.98, 1.01, 1.05 and 1.15. */
        const double phi = dw_ladder_ratio[i];
        assert_string_equal(json_string_value(json_object_get(row, "reduction_word")),
                            phi < 0.98   ? "oxidizing"
                            : phi < 1.01 ? "neutral"
                            : phi < 1.05 ? "light"
                            : phi < 1.15 ? "medium"
                                         : "heavy");
        assert_close(json_real_value(json_object_get(row, "co_dry")), rung[i].unmixed.co, 1e-9,
                     1e-15);
        assert_close(json_real_value(json_object_get(row, "co_dry_mixed")), rung[i].mixed.co, 1e-9,
                     1e-15);
        assert_close(json_real_value(json_object_get(row, "h2_dry")), rung[i].unmixed.h2, 1e-9,
                     1e-15);
        assert_close(json_real_value(json_object_get(row, "probe_emf_v")),
                     rung[i].ware.probe_emf_v, 1e-9, 0.0);
    }
    json_decref(j);
    /* The drawing is in the page alone; what people wrote cannot become markup there. */
    char *text = written(ladder_report(true), as_text);
    assert_null(strstr(text, "<svg"));
    static const char *const words[] = {"oxidizing", "neutral", "light", "medium", "heavy"};
    for (size_t i = 0; i < 5; i++) assert_true(count_of(text, words[i]) >= 3);
    free(text);
    text = written(ladder_report(true), as_csv);
    assert_null(strstr(text, "<svg"));
    free(text);
    text = written(ladder_report(true), as_html);
    assert_int_equal(count_of(text, "<svg"), 1);
    assert_int_equal(count_of(text, "</svg>"), 1);
    assert_null(strstr(text, "<script"));
    assert_null(strstr(text, "<fuel>"));
    assert_non_null(strstr(text, "&lt;fuel&gt; &amp; &quot;air&quot;"));
    /* Two bands of iron and one of copper at least, with both their forms beside them. */
    assert_true(count_of(text, "class=\"feb\"") >= 2);
    assert_true(count_of(text, "class=\"cub\"") >= 1);
    assert_non_null(strstr(text, ">Cu2O</text>"));
    assert_null(strstr(text, "nan"));
    free(text);
}

static void a_drawing_escapes_and_breaks_its_lines(void **state)
{
    (void)state;
    dw_strbuf out;
    dw_strbuf_init(&out);
    const double x[] = {1.0, 2.0, 3.0, 4.5}, y[] = {1.25, NAN, 3.0, 4.0};
    dw_svg_begin(&out, 10.0, 20.0, "a \"b\"", ".c{}");
    dw_svg_curve(&out, "c", x, y, 4);
    dw_svg_text(&out, "n", DW_SVG_END, 1.0, 2.0, "<&>\x01");
    dw_svg_box(&out, "r", 1.0, 2.0, 3.0, 4.0);
    dw_svg_line(&out, "l", 1.0, 2.0, 3.0, 4.0);
    dw_svg_end(&out);
    assert_non_null(strstr(out.text, "aria-label=\"a &quot;b&quot;\""));
    assert_non_null(strstr(out.text, "d=\"M1.0 1.2M3.0 3.0L4.5 4.0\""));
    assert_non_null(strstr(out.text, "text-anchor=\"end\">&lt;&amp;&gt; </text>"));
    assert_non_null(strstr(out.text, "width=\"3.0\" height=\"4.0\""));
    assert_non_null(strstr(out.text, "d=\"M1.0 2.0L3.0 4.0\""));
    dw_strbuf_free(&out);
    /* Nothing to draw leaves nothing behind. */
    dw_strbuf_init(&out);
    dw_svg_curve(&out, "c", x + 1, y + 1, 1);
    assert_int_equal(out.length, 0);
    dw_strbuf_free(&out);
}

static void the_estimate_has_the_words(void **state)
{
    (void)state;
    solve(0.40);
    dw_report_source source = source_of("estimate");
    source.ware = &ware;
    dw_report *r = dw_report_create();
    dw_build_estimate(r, &source, &result);
    json_t *j = parsed(r);
    const json_t *oxides = json_object_get(j, "oxides");
    assert_string_equal(json_string_value(json_object_get(oxides, "iron")), "wustite (FeO)");
    assert_string_equal(json_string_value(json_object_get(oxides, "copper")), "copper metal (Cu)");
    json_decref(j);
    source.ware = NULL;
    r = dw_report_create();
    dw_build_estimate(r, &source, &result);
    j = parsed(r);
    assert_true(json_is_null(json_object_get(json_object_get(j, "oxides"), "iron")));
    json_decref(j);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_json_holds_the_numbers),
        cmocka_unit_test(the_text_says_it_in_words),
        cmocka_unit_test(reasons_stand_where_numbers_are_missing),
        cmocka_unit_test(rows_keep_their_place),
        cmocka_unit_test(the_ladder_is_table_and_drawing),
        cmocka_unit_test(a_drawing_escapes_and_breaks_its_lines),
        cmocka_unit_test(the_estimate_has_the_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
