/* Faults in oxides.yaml and glazes.yaml are found on load, and a glaze that a person types. */
#define _XOPEN_SOURCE 700 /* mkdtemp */
#include "check.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "glaze_reader.h"
#include "kit.h"
#include "read_data.h"

/** A built-in file with one change, and what has to be said of it. */
typedef struct slip {
    const char *file, *from, *to, *code, *part;
} slip;

static const slip slips[] = {
    {"oxides.yaml", "band_log10: 0.3", "band_log10: -1", "out-of-range", "'band_log10'"},
    {"oxides.yaml", "band_log10: 0.3", "bandwidth: 0.3", "unknown-key", "'bandwidth'"},
    {"oxides.yaml", "log10: [-24930, 9.36]", "log10: [-24930]", "wrong-length", "2 to 3"},
    {"oxides.yaml", "potential: [-550915, 269.106, -16.9484]",
     "potential: [1, 2, 3, 4, 5, 6, 7]", "wrong-length", "2 to 6"},
    {"oxides.yaml", "metal: nickel, between: [nickel oxide, nickel metal], log10",
     "metal: zinc, between: [nickel oxide, nickel metal], log10", "unknown-metal", "'zinc'"},
    {"oxides.yaml", "between: [wustite, iron metal], log10: [-27489",
     "between: [hematite, iron metal], log10: [-27489", "bad-value", "follow each other"},
    {"oxides.yaml", "between: [wustite, iron metal], log10: [-27489",
     "between: [wustite], log10: [-27489", "wrong-length", "two forms"},
    {"oxides.yaml", "between: [wustite, iron metal], log10: [-27489",
     "between: [wustit, iron metal], log10: [-27489", "unknown-form", "'wustite'"},
    {"oxides.yaml", "from: 573 degC, to: 682 degC, used_from: 560 degC",
     "from: 573 degC, to: 682 degC, used_from: 600 degC", "not-rising", "used_from"},
    {"oxides.yaml", "key: hm-frost-low", "key: hm-frost", "listed-twice", "'hm-frost'"},
    {"oxides.yaml", "error: 0.055,", "error: -1,", "out-of-range", "'error'"},
    {"oxides.yaml", "  - name: copper\n", "  - name: iron\n", "listed-twice", "'iron'"},
    {"oxides.yaml", "      - {name: manganosite, formula: MnO}\n", "", "too-few", "two forms"},
    /* Wustite above magnetite at 1000 degC. */
    {"oxides.yaml", "log10: [-32807, 13.012]", "log10: [-32807, 33.012]", "bad-order", "iron"},
    {"oxides.yaml", "source: copper-red-study", "source: copper-red-studio", "unknown-source",
     "'copper-red-study'"},
    {"oxides.yaml", "    soot: yes", "    soot: yes\n    h2_h2o: 2", "bad-value", "expected only one of"},
    {"oxides.yaml", "    soot: yes", "    soot: maybe", "bad-value", "'soot'"},
    {"oxides.yaml", "oxidized_to: hematite\n    text: Some", "oxidized_to: rust\n    text: Some",
     "unknown-form", "'rust'"},
    {"oxides.yaml", "h2_h2o: 0.1", "h2_h2o: 0", "out-of-range", "'h2_h2o'"},
    {"oxides.yaml", "    from: 1050 degC\n", "    from: 1350 degC\n", "not-rising", "'to'"},
    {"oxides.yaml", "    stage: iron turns green\n", "", "missing-key", "'stage'"},
    {"glazes.yaml", "SiO2: 65.4 %", "SiO2: 85.4 %", "bad-sum", "120"},
    {"glazes.yaml", "SiO2: 65.4 %", "SiO3: 65.4 %", "unknown-oxide", "'SiO2'"},
    {"glazes.yaml", "SiO2: 65.4 %", "SiO2: 165.4 %", "out-of-range", "'SiO2'"},
    {"glazes.yaml", "name: tenmoku", "name: celadon", "listed-twice", "'celadon'"},
    {"glazes.yaml", "    note: A clear", "    notes: A clear", "unknown-key", "'notes'"},
};

static const char *built_in(const char *name)
{
    for (const dw_embedded *e = dw_embedded_files; e->name != NULL; e++) {
        if (strcmp(e->name, name) == 0) return (const char *)e->bytes;
    }
    fail_msg("%s is not built in", name);
    return NULL;
}

static void check_slip(const slip *s, const char *folder)
{
    char path[128];
    const char *text = built_in(s->file), *at = strstr(text, s->from);
    if (at == NULL) fail_msg("%s has no '%s'", s->file, s->from);
    (void)snprintf(path, sizeof path, "%s/%s", folder, s->file);
    FILE *out = fopen(path, "wb");
    assert_non_null(out);
    (void)fprintf(out, "%.*s%s%s", (int)(at - text), text, s->to, at + strlen(s->from));
    assert_int_equal(fclose(out), 0);
    dw_data *data = malloc(sizeof *data);
    dw_diag_list *diag = dw_diag_list_create();
    assert_true(data != NULL && diag != NULL);
    assert_int_equal(dw_read_data(folder, diag, data), DW_ERR_INPUT);
    bool seen = false;
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        const dw_diag *d = dw_diag_get(diag, i);
        seen = seen || (strcmp(d->code, s->code) == 0 && strstr(d->text, s->part) != NULL &&
                        d->line > 0);
    }
    if (!seen) {
        fail_msg("'%s': no %s with %s; first: %s", s->to, s->code, s->part,
                 dw_diag_count(diag) > 0 ? dw_diag_get(diag, 0)->text : "nothing");
    }
    /* Nothing half-read is handed out. */
    assert_int_equal(data->oxides.buffer_count, 0);
    dw_diag_list_destroy(diag);
    free(data);
    assert_int_equal(remove(path), 0);
}

static void faults_are_found_on_load(void **state)
{
    (void)state;
    char folder[] = "/tmp/dw-data-oxides-XXXXXX";
    assert_non_null(mkdtemp(folder));
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) check_slip(&slips[i], folder);
    assert_int_equal(rmdir(folder), 0);
}

static void the_built_in_tables_are_whole(void **state)
{
    (void)state;
    const dw_oxide_table *t = &kit_data()->oxides;
    assert_int_equal(t->metal_count, 4);
    assert_string_equal(t->metal[0].form[2].formula, "FeO");
    const dw_buffer *b = dw_buffer_find(t, "mn-robie");
    assert_non_null(b);
    assert_int_equal(b->form, DW_BUFFER_POTENTIAL);
    assert_close(b->coeff[5], 34308.0, 0.0, 0.0);
    assert_close(b->used_to_k, 1623.15, 1e-12, 0.0);
    assert_close(b->to_k, 1400.15, 1e-12, 0.0);
    assert_true(isnan(b->error_log10));
    assert_string_equal(b->name, "Mn3O4-MnO");
    assert_close(dw_buffer_find(t, "iw-myers-eugster")->error_log10, 0.058, 0.0, 0.0);
    assert_int_equal(dw_buffer_find(t, "qif")->metal, -1);
    /* Every source of a window is one of the register. */
    for (size_t i = 0; i < kit_data()->window_count; i++) {
        bool known = false;
        for (size_t k = 0; k < kit_data()->source_count; k++) {
            known = known ||
                    strcmp(kit_data()->source[k].key, kit_data()->window[i].source) == 0;
        }
        assert_true(known);
    }
}

static dw_status typed(const char *text, dw_glaze *glaze, char *message, size_t size)
{
    dw_diag_list *diag = dw_diag_list_create();
    assert_non_null(diag);
    const dw_status status = dw_glaze_from_text(kit_data(), text, diag, glaze);
    message[0] = '\0';
    if (dw_diag_count(diag) > 0) (void)snprintf(message, size, "%s", dw_diag_get(diag, 0)->text);
    dw_diag_list_destroy(diag);
    return status;
}

static void a_glaze_is_named_or_written_out(void **state)
{
    (void)state;
    dw_glaze g;
    char why[400];
    assert_int_equal(typed("tenmoku", &g, why, sizeof why), DW_OK);
    assert_string_equal(g.name, "tenmoku");
    assert_close(g.y[DW_MELT_FEO], 0.084 * 0.899810, 1e-5, 0.0);
    assert_int_equal(typed(" {SiO2: 70 %, Fe2O3: 2 %, FeO: 1 %, CaO: 26 %}", &g, why, sizeof why),
                     DW_OK);
    /* 99 % is scaled to the whole; all iron counts as FeO. */
    assert_close(g.y[DW_MELT_SIO2], 0.70 / 0.99, 1e-12, 0.0);
    assert_close(g.y[DW_MELT_FEO], (0.02 * DW_FEO_PER_FE2O3 + 0.01) / 0.99, 1e-12, 0.0);
    assert_string_equal(g.outside, "");
    assert_int_equal(typed("{SiO2: 60 %, B2O3: 10 %, ZnO: 0 %, CaO: 30 %}", &g, why, sizeof why),
                     DW_OK);
    assert_string_equal(g.outside, "B2O3");
    assert_int_equal(typed("{SiO2: 70 %, ZnO: 0 %, CaO: 30 %}", &g, why, sizeof why), DW_OK);
    assert_string_equal(g.outside, "");
}

static void a_glaze_that_is_none_is_refused(void **state)
{
    (void)state;
    dw_glaze g;
    char why[400];
    assert_int_equal(typed("celadom", &g, why, sizeof why), DW_ERR_INPUT);
    assert_non_null(strstr(why, "did you mean 'celadon'?"));
    assert_int_equal(g.name[0], '\0');
    assert_int_equal(typed("{SiO2: 60 %}", &g, why, sizeof why), DW_ERR_INPUT);
    assert_non_null(strstr(why, "60 %"));
    assert_int_equal(typed("{SiO2: 60, CaO: 40 %}", &g, why, sizeof why), DW_ERR_INPUT);
    assert_int_equal(typed("{SiO2: [60 %], CaO: 40 %}", &g, why, sizeof why), DW_ERR_INPUT);
    assert_int_equal(typed("{SiO2: 60 %", &g, why, sizeof why), DW_ERR_INPUT);
    assert_int_equal(typed("{}", &g, why, sizeof why), DW_ERR_INPUT);
    assert_int_equal(typed("{B2O3: 100 %}", &g, why, sizeof why), DW_ERR_INPUT);
    assert_int_equal(typed("", &g, why, sizeof why), DW_ERR_INPUT);
    assert_int_equal(dw_glaze_from_text(NULL, "celadon", NULL, &g), DW_ERR_ARG);
    assert_int_equal(dw_glaze_from_text(kit_data(), NULL, NULL, &g), DW_ERR_ARG);
    assert_int_equal(dw_glaze_from_text(kit_data(), "celadon", NULL, NULL), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(faults_are_found_on_load),
        cmocka_unit_test(the_built_in_tables_are_whole),
        cmocka_unit_test(a_glaze_is_named_or_written_out),
        cmocka_unit_test(a_glaze_that_is_none_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
