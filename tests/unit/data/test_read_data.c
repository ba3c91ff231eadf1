#define _XOPEN_SOURCE 700 /* mkdtemp */
#include "check.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "read_data.h"
#include "yaml_tree.h"

/* A fresh empty directory for one test; removed with all files of ours in it. */
typedef struct folder {
    char path[64];
} folder;

static const char *const names[] = {"species.yaml", "fuels.yaml",  "flow.yaml",
                                    "bands.yaml",   "drills.yaml", "sources.yaml"};

static folder make_folder(void)
{
    folder f = {"/tmp/dw-read-data-XXXXXX"};
    assert_non_null(mkdtemp(f.path));
    return f;
}

static void remove_folder(folder f)
{
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char path[128];
        (void)snprintf(path, sizeof path, "%s/%s", f.path, names[i]);
        (void)remove(path);
    }
    assert_int_equal(rmdir(f.path), 0);
}

static void put_file(folder f, const char *name, const char *text, size_t length)
{
    char path[128];
    (void)snprintf(path, sizeof path, "%s/%s", f.path, name);
    FILE *stream = fopen(path, "wb");
    assert_non_null(stream);
    assert_int_equal(fwrite(text, 1, length, stream), length);
    assert_int_equal(fclose(stream), 0);
}

static const char *built_in(const char *name, size_t *length)
{
    for (const dw_embedded *e = dw_embedded_files; e->name != NULL; e++) {
        if (strcmp(e->name, name) != 0) continue;
        *length = e->length;
        return (const char *)e->bytes;
    }
    fail_msg("%s is not built in", name);
    return NULL;
}

static dw_data *new_data(void)
{
    dw_data *data = malloc(sizeof *data);
    assert_non_null(data);
    return data;
}

static void print_all(const dw_diag_list *diag)
{
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        char line[600];
        (void)dw_diag_format(dw_diag_get(diag, i), line, sizeof line);
        print_error("%s\n", line);
    }
}

static double share(const dw_data *data, const dw_fuel *fuel, const char *species)
{
    return fuel->x[dw_species_find(&data->species, species)];
}

static const dw_fuel *fuel_named(const dw_data *data, const char *name)
{
    for (size_t i = 0; i < data->fuel_count; i++) {
        if (strcmp(data->fuel[i].name, name) == 0) return &data->fuel[i];
    }
    return NULL;
}

static void built_in_data_loads(void **state)
{
    (void)state;
    dw_diag_list *diag = dw_diag_list_create();
    dw_data *data = new_data();
    const dw_status status = dw_read_data(NULL, diag, data);
    print_all(diag);
    assert_int_equal(status, DW_OK);
    assert_int_equal(dw_diag_count(diag), 0);

    assert_int_equal(data->species.count, 38);
    const dw_species *co = &data->species.species[dw_species_find(&data->species, "CO")];
    assert_close(co->molar_mass_kg_mol, 28.0101e-3, 1e-15, 0.0);
    assert_close(co->h_formation_j_mol, -110535.196, 0.0, 0.0);
    assert_true(co->in_equilibrium && !co->condensed && co->iso.present);
    assert_int_equal(co->range_count, 2);
    assert_close(co->range[1].t_high_k, 6000.0, 0.0, 0.0);
    assert_close(co->range[0].coeff[0], 1.489045326e+04, 0.0, 0.0);
    assert_close(co->range[1].coeff[8], -1.387413108e+01, 0.0, 0.0);
    assert_close(co->iso.hhv_j_mol[3], 282980.0, 0.0, 0.0);
    assert_close(co->iso.summation_factor[1], 0.0224, 0.0, 0.0);
    assert_close(co->atoms[DW_C] + 10.0 * co->atoms[DW_O] + co->atoms[DW_H], 11.0, 0.0, 0.0);
    const dw_species *c = &data->species.species[dw_species_find(&data->species, "C(gr)")];
    assert_true(c->condensed && !c->in_equilibrium && !c->iso.present);
    assert_int_equal(c->range_count, 3);
    size_t products = 0;
    for (size_t i = 0; i < data->species.count; i++) {
        products += data->species.species[i].in_equilibrium;
    }
    assert_int_equal(products, 29);

    const dw_fuel *gas = fuel_named(data, "natural gas");
    assert_non_null(gas);
    assert_close(share(data, gas, "CH4"), 0.93, 1e-15, 0.0);
    assert_close(share(data, gas, "C2H6"), 0.04, 1e-15, 0.0);
    for (size_t i = 0; i < data->fuel_count; i++) {
        double sum = 0.0;
        for (size_t k = 0; k < data->species.count; k++)
            sum += data->fuel[i].x[k];
        assert_close(sum, 1.0, 1e-15, 0.0);
        assert_true(data->fuel_note[i][0] != '\0');
    }

    assert_int_equal(data->butterfly_count, 9);
    assert_int_equal(data->thick_plate_count, 4);
    static const double ratio[4] = {0.5, 1.0, 2.0, 4.0}, factor[4] = {1.0, 0.83, 0.61, 0.55};
    for (int i = 0; i < 4; i++) {
        assert_close(data->thick_plate_ratio[i], ratio[i], 0.0, 0.0);
        assert_close(data->thick_plate_factor[i], factor[i], 0.0, 0.0);
    }
    assert_close(data->butterfly_angle_rad[4], 0.523598775598299, 1e-14, 0.0);
    assert_close(data->butterfly_loss[4], 3.91, 0.0, 0.0);
    assert_string_equal(data->lining[0].name, "brick");
    assert_close(data->lining[0].value, 3.0e-3, 1e-15, 0.0);
    assert_string_equal(data->cap[1].name, "low-resistance");
    assert_close(data->cap[1].value, 0.5, 0.0, 0.0);

    assert_int_equal(data->band_count, 5);
    assert_string_equal(data->band[3].word, "medium");
    assert_close(data->band[3].phi_below, 1.15, 0.0, 0.0);
    assert_true(isinf(data->band[4].phi_below));
    assert_close(data->sooting.chamber_temperature_above_k, 873.15, 1e-12, 0.0);
    assert_close(data->sooting.primary_aeration_below, 0.5, 1e-15, 0.0);
    const double *of = data->sooting.primary_aeration_of;
    assert_close(of[dw_species_find(&data->species, "CH4")], 0.3, 1e-15, 0.0);
    assert_close(of[dw_species_find(&data->species, "C3H8")], 0.6, 1e-15, 0.0);
    assert_close(of[dw_species_find(&data->species, "i-C4H10")], 0.6, 1e-15, 0.0);
    assert_true(isnan(of[dw_species_find(&data->species, "C2H6")]));
    assert_string_equal(data->rule[0].key, "heat_per_volume_w_m3");
    assert_close(data->rule[0].high, 310.0e3, 1e-12, 0.0);
    assert_int_equal(data->rule[0].dim, DW_DIM_POWER_PER_VOLUME);
    assert_string_equal(data->rule[0].source, "potters-practice");
    assert_string_equal(data->rule[0].when_low, "");
    assert_string_equal(data->rule[0].when_high, "");
    const dw_rule *flues = &data->rule[9];
    assert_string_equal(flues->key, "flue_area_per_net_power_m2_w");
    assert_close(flues->low, 1.5e-7, 1e-12, 0.0);
    assert_memory_equal(flues->when_low, "There is less flue", 18);
    assert_memory_equal(flues->when_high, "There is more flue", 18);

    assert_int_equal(data->drill_count, 106);
    assert_string_equal(data->drill[105].size, "Z");
    assert_close(data->drill[105].diameter_m, 10.4902e-3, 1e-14, 0.0);
    assert_string_equal(data->source[0].key, "nasa9");
    assert_string_equal(data->source[0].provenance, "read");
    free(data);
    dw_diag_list_destroy(diag);
}

static void a_file_in_the_directory_replaces_the_built_in_one(void **state)
{
    (void)state;
    static const char text[] = "fuels:\n"
                               "  - name: test gas\n"
                               "    note: for a test\n"
                               "    source: invented\n"
                               "    moles: {CH4: 81.7 %, CO2: 18.3 %}\n";
    const folder f = make_folder();
    put_file(f, "fuels.yaml", text, sizeof text - 1);
    dw_data *data = new_data();
    dw_diag_list *diag = dw_diag_list_create();
    const dw_status status = dw_read_data(f.path, diag, data);
    print_all(diag);
    assert_int_equal(status, DW_OK);
    assert_int_equal(data->fuel_count, 1);
    assert_close(share(data, &data->fuel[0], "CO2"), 0.183, 1e-15, 0.0);
    assert_string_equal(data->fuel_note[0], "for a test");
    assert_int_equal(data->drill_count, 106); /* from the built-in file */

    /* A slash at the end of the directory is the same directory. */
    char with_slash[80];
    (void)snprintf(with_slash, sizeof with_slash, "%s/", f.path);
    assert_int_equal(dw_read_data(with_slash, NULL, data), DW_OK);
    assert_int_equal(data->fuel_count, 1);
    dw_diag_list_destroy(diag);
    free(data);
    remove_folder(f);
}

/* One change to one built-in file. `to` replaces the first `from`; the @ in it is not written,
 * it marks the place that the fault must name. */
typedef struct slip {
    const char *file, *from, *to, *code, *text;
} slip;

#define TENFOLD(x) x x x x x x x x x x
static const slip slips[] = {
    /* the file as such */
    {"flow.yaml", "butterfly_damper:", "@[butterfly_damper:", "", ""},
    {"flow.yaml", "{thickness_per_slot: 1, f", "@{thickness_per_slot: 0.4, f", "not-rising", "'thickness_per_slot'"},
    {"flow.yaml", "factor: 0.83", "factor: @1.2", "out-of-range", "'factor' is 1.2"},
    {"flow.yaml", "{thickness_per_slot: 4, factor: 0.55", "@{thickness_per_slot: 4, factor: 0.62", "not-falling",
     "'factor' rises"},
    {"flow.yaml", "{thickness_per_slot: 4, factor: 0.55", "@{thickness_per_slot: 2.1, factor: 0.55", "not-falling",
     "would lose less when it closes"},
    {"drills.yaml", "\nsizes:", "\n@sizs:", "unknown-key", "did you mean 'sizes'"},
    {"drills.yaml", "\nsizes:\n", "\nsizes: @{a: 1}\nrest:\n", "wrong-kind", "'sizes' is a map"},
    /* species */
    {"species.yaml", "    atoms: {C: 1, H: 4}", "    @atom: {C: 1, H: 4}", "unknown-key",
     "did you mean 'atoms'"},
    {"species.yaml", "{C: 1, H: 4}", "{C: 1, @S: 4}", "unknown-key", "'S'"},
    {"species.yaml", "{C: 1, H: 4}", "@{C: 1, H: 5}", "", ""},
    {"species.yaml", "{C: 1, H: 4}", "@{}", "bad-value", "'atoms' is empty"},
    {"species.yaml", "{C: 1, H: 4}", "{C: @-1, H: 4}", "out-of-range", "'C' is -1"},
    {"species.yaml", "molar_mass_kg_mol: 0.01604246", "molar_mass_kg_mol: @16.04246",
     "out-of-range", "kg"},
    {"species.yaml", "h_formation_j_mol: -74600", "h_formation_j_mol: @nan", "bad-value",
     "'h_formation_j_mol'"},
    {"species.yaml", "  - name: C2H6", "  - @name: CH4", "listed-twice", "'CH4'"},
    {"species.yaml", "  - name: C2H6", "  - name: @Name-of-16-bytes", "bad-value",
     "16 bytes long, expected at most 15"},
    {"species.yaml", "-1.766850998e+05", "@-1.766850998e+05 K", "bad-value", "'coefficient'"},
    {"species.yaml", "[200, 1000, -1.766850998e+05, ", "@[200, 1000, ", "wrong-length", "9"},
    {"species.yaml", "  - name: C2H6", "  - @name: C2H6\n    equilibrium: no", "duplicate-key",
     "!other place"},
    {"species.yaml", "    equilibrium: yes", "    equilibrium: @maybe", "bad-value",
     "expected yes or no"},
    {"species.yaml", "[892920, 891510, 891050, 890580]", "@[892920, 891510, 891050]",
     "wrong-length", "'hhv_j_mol' has 3 numbers, expected 4"},
    {"species.yaml", "s: [0.04886,", "s: [@4.886,", "out-of-range", "'s'"},
    {"species.yaml", "source: nasa9", "source: @nasa8", "unknown-source", "did you mean 'nasa9'"},
    {"species.yaml", "  - name: Ar ", "  - name: Xe ", "missing-species", "!other place"},
    {"species.yaml", "    condensed: yes", "    condensed: yes\n    equilibrium: yes", "bad-value",
     "!other place"},
    /* the physics check of species: coefficient, join, formation enthalpy, molar mass */
    {"species.yaml",
     "  - name: CH4  # g 8/99; Gurvich,1991 pt1 p44 pt2 p36.\n"
     "    atoms: {C: 1, H: 4}\n    molar_mass_kg_mol: 0.01604246",
     "  - @name: CH4\n    atoms: {C: 1, H: 4}\n    molar_mass_kg_mol: 0.01614246", "bad-species",
     "CH4: molar mass"},
    {"species.yaml", "2.786181020e+03", "2.787181020e+03", "bad-species", "!other place"},
    {"species.yaml", "-1.383501485e+04", "-1.373501485e+04", "bad-species", "!other place"},
    /* fuels */
    {"fuels.yaml", "C3H6: 3 %", "@C3H9: 3 %", "unknown-species", "did you mean 'C3H"},
    {"fuels.yaml", "C3H6: 3 %", "C3H6: @3", "out-of-range", "'C3H6' is 3"},
    {"fuels.yaml", "C3H6: 3 %", "C3H6: @3 kPa", "bad-value", "'C3H6'"},
    {"fuels.yaml", "C3H6: 3 %", "C3H6: @[3 %]", "wrong-kind", "'C3H6' is a list"},
    {"fuels.yaml", "{C3H8: 93 %, C3H6: 3 %", "@{C3H8: 93 %, C3H6: 2.999 %", "bad-sum", "99.999 %"},
    {"fuels.yaml", "{C3H8: 100 %}", "@{N2: 79 %, O2: 21 %}", "no-fuel", "no air"},
    {"fuels.yaml", "{C3H8: 100 %}", "@{N2: 100 %}", "no-fuel", "no air"},
    {"fuels.yaml", "    moles: {C3H8: 100 %}\n", "", "missing-key", "!other place"},
    {"fuels.yaml", "{C3H8: 100 %}", "{@C(gr): 100 %}", "bad-value", "not a gas"},
    {"fuels.yaml", "  - name: butane", "  - @name: propane", "listed-twice", "'propane'"},
    {"fuels.yaml", "    note: pure propane\n", "    note: @''\n", "bad-value", "'note' is empty"},
    {"fuels.yaml", "    source: definition\n    moles", "    sorce: definition\n    moles",
     "unknown-key", "!other place"},
    {"fuels.yaml", "name: propane", "name: @" TENFOLD("gas") TENFOLD("gas") "12345", "bad-value",
     "65 bytes long, expected at most 63"},
    /* flow */
    {"flow.yaml", "- {angle: 20 deg", "- @{angle: 9 deg", "not-rising", "'angle'"},
    {"flow.yaml", "- {angle: 20 deg, loss: 1.54", "- @{angle: 20 deg, loss: 0.51", "not-rising",
     "'loss'"},
    {"flow.yaml", "- {angle: 20 deg", "- @{angle: 10 deg", "not-rising", "'angle'"},
    {"flow.yaml", "- {angle: 20 deg, loss: 1.54", "- @{angle: 20 deg, loss: 0.52", "not-rising",
     "'loss'"},
    {"flow.yaml", "angle: 70 deg", "angle: @76 deg", "out-of-range", "76 deg"},
    {"flow.yaml", "angle: 70 deg", "angle: @70", "bad-value", "'angle'"},
    {"flow.yaml", "loss: 751", "loss: @751 %", "bad-value", "'loss'"},
    {"flow.yaml", "    - {angle: 0 deg, loss: 0.20, source: smacna-a15}", "   ", "bad-value",
     "!other place"},
    {"flow.yaml", "  rows:\n", "  rows: @[{angle: 0 deg, loss: 1, source: definition}]\nrest:\n",
     "too-few", "two rows"},
    {"flow.yaml", "\ncaps:\n", "\ncaps: @[]\nrest:\n", "bad-value", "'caps' is empty"},
    {"flow.yaml", "{name: castable", "@{name: brick", "listed-twice", "'linings'"},
    {"flow.yaml", "roughness: 1 mm", "roughness: @1 m", "out-of-range", "'roughness' is 1 m"},
    {"flow.yaml", "roughness: 1 mm", "@rougness: 1 mm", "unknown-key", "'roughness'"},
    {"flow.yaml", "loss: 0, source: ashrae-chimney", "loss: 0, source: @ashrae", "unknown-source",
     "'ashrae'"},
    {"flow.yaml", "{name: open, loss: 0,", "@{name: open,", "missing-key", "'loss'"},
    /* bands */
    {"bands.yaml", "  - word: light\n    phi_below: 1.05", "  - @word: light\n    phi_below: 1.005",
     "not-rising", "'phi_below'"},
    {"bands.yaml", "  - word: light\n    phi_below: 1.05", "  - @word: light\n    phi_below: 1.01",
     "not-rising", "'phi_below'"},
    {"bands.yaml", "  - word: light\n    phi_below: 1.05", "  - @word: light", "missing-key",
     "'phi_below'"},
    {"bands.yaml", "  - word: heavy\n", "  - word: heavy\n    @phi_below: 3\n", "bad-value",
     "no upper limit"},
    {"bands.yaml", "  - word: heavy", "  - @word: light", "listed-twice", "'light'"},
    {"bands.yaml", "phi_always: 1.6", "phi_always: 1.1", "not-rising", "!other place"},
    {"bands.yaml", "chamber_temperature_above: 600 degC", "chamber_temperature_above: @600",
     "bad-value", "'chamber_temperature_above'"},
    {"bands.yaml", "key: flue_to_port_area", "key: @flue_to_port_are", "unknown-rule",
     "did you mean 'flue_to_port_area'"},
    {"bands.yaml", "key: flue_to_port_area", "key: heat_per_volume_w_m3", "listed-twice",
     "!other place"},
    {"bands.yaml", "low: 100 kW/m3", "low: @100 kW", "bad-value", "'low'"},
    {"bands.yaml", "low: 100 kW/m3", "low: 400 kW/m3", "not-rising", "!other place"},
    /* drills */
    {"drills.yaml", "[\"2\", 5.6134 mm]", "[@\"1\", 5.6134 mm]", "listed-twice", "'1'"},
    {"drills.yaml", "[\"2\", 5.6134 mm]", "@[\"2\", 5.8134 mm]", "not-rising", "5.7912 mm"},
    {"drills.yaml", "[\"B\", 6.0452 mm]", "@[\"B\", 5.9 mm]", "not-rising", "'A'"},
    {"drills.yaml", "[\"2\", 5.6134 mm]", "@[\"2\", 5.7912 mm]", "not-rising", "5.7912 mm"},
    {"drills.yaml", "[\"2\", 5.6134 mm]", "@[\"2\", 5.4 mm]", "", ""},
    {"drills.yaml", "[\"B\", 6.0452 mm]", "@[\"B\", 5.9436 mm]", "not-rising", "'A'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"1/\", 0.3429 mm]", "bad-value", "'1/'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"801\", 0.3429 mm]", "bad-value", "'801'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"81\", 0.3429 mm]", "bad-value", "'81'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"a\", 0.3429 mm]", "bad-value", "'a'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"08\", 0.3429 mm]", "bad-value", "'08'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"8x\", 0.3429 mm]", "bad-value", "'8x'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"0\", 0.3429 mm]", "bad-value", "'0'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"\", 0.3429 mm]", "", "!"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"AA\", 0.3429 mm]", "bad-value", "'AA'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"[\", 0.3429 mm]", "bad-value", "'['"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"A8\", 0.3429 mm]", "bad-value", "'A8'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\":\", 0.3429 mm]", "bad-value", "':'"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"8:\", 0.3429 mm]", "bad-value", "'8:'"},
    {"drills.yaml", "[\"A\", 5.9436 mm]", "@7", "wrong-length", "[size, diameter]"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "@[\"80\"]", "wrong-length", "[size, diameter]"},
    {"drills.yaml", "[\"80\", 0.3429 mm]", "[\"80\", @0.3429 m]", "out-of-range", "0.3429 m"},
    /* sources */
    {"sources.yaml", "\n    provenance: read", "\n    provenance: @reed", "bad-value",
     "did you mean 'read'"},
    {"sources.yaml", "key: rp1311", "key: @RP-1311", "bad-value", "'RP-1311'"},
    {"sources.yaml", "  - key: rp1311", "  - @key: nasa9", "listed-twice", "'nasa9'"},
    {"sources.yaml", "    title: NASA RP", "    @titel: NASA RP", "unknown-key", "'title'"},
};

/* The text of a built-in file with a slip in it, and where its mark stood (0 without a mark). */
static char *with_slip(const slip *s, size_t *length, int *line, int *column)
{
    size_t old_length = 0;
    const char *old = built_in(s->file, &old_length);
    const char *at = strstr(old, s->from);
    if (at == NULL) fail_msg("'%s' is not in %s", s->from, s->file);
    const size_t before = (size_t)(at - old);
    char *text = malloc(old_length + strlen(s->to) + 1);
    assert_non_null(text);
    memcpy(text, old, before);
    size_t n = before;
    *line = 0;
    *column = 0;
    for (const char *c = s->to; *c != '\0'; c++) {
        if (*c != '@') {
            text[n++] = *c;
            continue;
        }
        *line = 1;
        *column = 1;
        for (size_t i = 0; i < n; i++) {
            *column = text[i] == '\n' ? 1 : *column + 1;
            *line += text[i] == '\n';
        }
    }
    const char *rest = at + strlen(s->from);
    memcpy(text + n, rest, old_length - (size_t)(rest - old));
    *length = n + old_length - (size_t)(rest - old);
    return text;
}

static int has_fault(const dw_diag_list *diag, const slip *s, const char *path, int line,
                     int column)
{
    const int any_place = s->text[0] == '!';
    for (size_t i = 0; i < dw_diag_count(diag); i++) {
        const dw_diag *d = dw_diag_get(diag, i);
        if (d->grade != DW_ERROR || strcmp(d->file, path) != 0) continue;
        if (s->code[0] != '\0' && strcmp(d->code, s->code) != 0) continue;
        if (any_place && d->line > 0 && d->column > 0) return 1;
        if (!any_place && strstr(d->text, s->text) == NULL) continue;
        if (s->code[0] == '\0') return d->line > 0;
        if (!any_place && d->line == line && d->column == column) return 1;
    }
    return 0;
}

static void every_slip_is_refused_at_its_place(void **state)
{
    (void)state;
    const folder f = make_folder();
    dw_data *data = new_data();
    int missed = 0;
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        size_t length;
        int line, column;
        char *text = with_slip(&slips[i], &length, &line, &column);
        put_file(f, slips[i].file, text, length);
        free(text);
        char path[128];
        (void)snprintf(path, sizeof path, "%s/%s", f.path, slips[i].file);

        dw_diag_list *diag = dw_diag_list_create();
        memset(data, 0x5a, sizeof *data);
        const dw_status status = dw_read_data(f.path, diag, data);
        if (status != DW_ERR_INPUT || !has_fault(diag, &slips[i], path, line, column) ||
            data->species.count != 0 || data->source_count != 0) {
            missed++;
            print_error("slip %zu: %s: '%s': status %d, expected %d:%d [%s] '%s', got:\n", i,
                        slips[i].file, slips[i].to, (int)status, line, column, slips[i].code,
                        slips[i].text);
            print_all(diag);
        }
        dw_diag_list_destroy(diag);
        assert_int_equal(remove(path), 0);
    }
    assert_int_equal(missed, 0);
    free(data);
    remove_folder(f);
}

static void a_gas_can_be_taken_out_of_the_equilibrium(void **state)
{
    (void)state;
    static const slip change = {"species.yaml", "    equilibrium: yes", "    equilibrium: no", "",
                                ""};
    const folder f = make_folder();
    dw_data *data = new_data();
    size_t length;
    int line, column;
    char *text = with_slip(&change, &length, &line, &column);
    put_file(f, change.file, text, length);
    free(text);
    assert_int_equal(dw_read_data(f.path, NULL, data), DW_OK);
    assert_string_equal(data->species.species[0].name, "CH4");
    assert_false(data->species.species[0].in_equilibrium);
    assert_true(data->species.species[1].in_equilibrium);
    free(data);
    remove_folder(f);
}

static void every_file_must_be_a_map(void **state)
{
    (void)state;
    const folder f = make_folder();
    dw_data *data = new_data();
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        static const char *const texts[] = {"- 1\n", "word\n"};
        for (size_t k = 0; k < 2; k++) {
            put_file(f, names[i], texts[k], strlen(texts[k]));
            dw_diag_list *diag = dw_diag_list_create();
            assert_int_equal(dw_read_data(f.path, diag, data), DW_ERR_INPUT);
            const dw_diag *first = dw_diag_get(diag, 0);
            assert_string_equal(first->code, "wrong-kind");
            assert_non_null(strstr(first->text, "expected a map"));
            assert_int_equal(first->line, 1);
            assert_int_equal(first->column, 1);
            dw_diag_list_destroy(diag);
        }
        char path[128];
        (void)snprintf(path, sizeof path, "%s/%s", f.path, names[i]);
        assert_int_equal(remove(path), 0);
    }
    free(data);
    remove_folder(f);
}

/* One run shows the faults of all files, and a broken file does not drag others along. */
static void faults_of_all_files_are_collected(void **state)
{
    (void)state;
    static const slip both[] = {
        {"sources.yaml", "key: rp1311", "key: @RP-1311", "bad-value", "'RP-1311'"},
        {"fuels.yaml", "C3H6: 3 %", "@C3H9: 3 %", "unknown-species", "C3H9"},
        {"drills.yaml", "[\"80\", 0.3429 mm]", "[@\"81\", 0.3429 mm]", "bad-value", "'81'"},
    };
    const folder f = make_folder();
    dw_data *data = new_data();
    dw_diag_list *diag = dw_diag_list_create();
    int line[3], column[3];
    for (int i = 0; i < 3; i++) {
        size_t length;
        char *text = with_slip(&both[i], &length, &line[i], &column[i]);
        put_file(f, both[i].file, text, length);
        free(text);
    }
    assert_int_equal(dw_read_data(f.path, diag, data), DW_ERR_INPUT);
    assert_int_equal(dw_diag_count_grade(diag, DW_ERROR), 3);
    for (int i = 0; i < 3; i++) {
        char path[128];
        (void)snprintf(path, sizeof path, "%s/%s", f.path, both[i].file);
        assert_true(has_fault(diag, &both[i], path, line[i], column[i]));
    }
    dw_diag_list_destroy(diag);
    free(data);
    remove_folder(f);
}

/* What refers to a file that could not be read is not held against the others. */
static void a_broken_file_raises_no_second_fault(void **state)
{
    (void)state;
    static const char *const broken[] = {"species.yaml", "sources.yaml"};
    dw_data *data = new_data();
    for (size_t i = 0; i < 2; i++) {
        const folder f = make_folder();
        put_file(f, broken[i], "[", 1);
        dw_diag_list *diag = dw_diag_list_create();
        assert_int_equal(dw_read_data(f.path, diag, data), DW_ERR_INPUT);
        assert_int_equal(dw_diag_count(diag), 1);
        dw_diag_list_destroy(diag);
        remove_folder(f);
    }
    free(data);
}

/* A list with one entry more than there is room for; %d in an entry is its number. */
typedef struct crowd {
    const char *file, *head, *item, *text;
    int count;
} crowd;

static const crowd crowds[] = {
    {"species.yaml", "source: nasa9\niso6976_source: iso6976\nspecies:\n",
     "  - {name: x%d, atoms: {Ar: 1}, molar_mass_kg_mol: 0.039948, h_formation_j_mol: 0,\n"
     "     ranges: [[200, 6000, 0, 0, 2.5, 0, 0, 0, 0, -745.375, 4.37967491]]}\n",
     "more than 40 species", DW_SPECIES_MAX + 1},
    {"species.yaml", "source: nasa9\niso6976_source: iso6976\nspecies:\n  - name: x\n    ranges:\n",
     "      - [200, 60%d0, 0, 0, 2.5, 0, 0, 0, 0, -745.375, 4.37967491]\n", "more than 3 ranges",
     DW_NASA9_RANGE_MAX + 1},
    {"fuels.yaml", "fuels:\n",
     "  - {name: gas %d, note: n, source: invented, moles: {CH4: 100 %}}\n", "more than 24 fuels",
     DW_FUEL_MAX + 1},
    {"flow.yaml", "butterfly_damper:\n  rows:\n",
     "    - {angle: %d deg, loss: 1%d, source: invented}\n", "more than 16 rows",
     DW_BUTTERFLY_ROW_MAX + 1},
    {"flow.yaml", "linings:\n", "  - {name: n%d, roughness: 1 mm, source: invented}\n",
     "more than 12 linings", DW_LINING_MAX + 1},
    {"flow.yaml", "caps:\n", "  - {name: n%d, loss: 0.3, source: invented}\n", "more than 12 caps",
     DW_CAP_MAX + 1},
    {"bands.yaml", "bands:\n", "  - {word: w%d, phi_below: 1%d, meaning: m, source: invented}\n",
     "more than 12 bands", DW_BAND_MAX + 1},
    {"bands.yaml", "rules:\n",
     "  - {key: gas_pressure_pa, low: 1 kPa, high: 1%d kPa, text: t, source: invented}\n",
     "more than 20 rules", DW_RULE_MAX + 1},
    {"sources.yaml", "sources:\n", "  - {key: k%d, title: t, provenance: read}\n",
     "more than 160 sources", DW_SOURCE_MAX + 1},
    {"drills.yaml", "source: drill-sizes\nsizes:\n", "  - [x, 1%d mm]\n", "'x' is not a drill",
     DW_DRILL_MAX + 1},
};

/* Adds text with each %d replaced by a number. */
static size_t add_numbered(char *out, size_t n, const char *text, int number)
{
    for (const char *c = text; *c != '\0'; c++) {
        if (c[0] == '%' && c[1] == 'd') {
            n += (size_t)sprintf(out + n, "%d", number);
            c++;
        } else {
            out[n++] = *c;
        }
    }
    return n;
}

static void too_many_entries_are_refused(void **state)
{
    (void)state;
    static char text[16384];
    const folder f = make_folder();
    dw_data *data = new_data();
    for (size_t c = 0; c < sizeof crowds / sizeof crowds[0]; c++) {
        size_t n = add_numbered(text, 0, crowds[c].head, 0);
        for (int i = 0; i < crowds[c].count; i++)
            n = add_numbered(text, n, crowds[c].item, i);
        put_file(f, crowds[c].file, text, n);
        dw_diag_list *diag = dw_diag_list_create();
        assert_int_equal(dw_read_data(f.path, diag, data), DW_ERR_INPUT);
        int seen = 0;
        for (size_t i = 0; i < dw_diag_count(diag); i++) {
            seen += strstr(dw_diag_get(diag, i)->text, crowds[c].text) != NULL;
        }
        if (seen == 0) {
            print_all(diag);
            fail_msg("no '%s'", crowds[c].text);
        }
        dw_diag_list_destroy(diag);
        char path[128];
        (void)snprintf(path, sizeof path, "%s/%s", f.path, crowds[c].file);
        assert_int_equal(remove(path), 0);
    }
    free(data);
    remove_folder(f);
}

static void unreadable_places_are_refused(void **state)
{
    (void)state;
    dw_data *data = new_data();
    dw_diag_list *diag = dw_diag_list_create();
    const folder f = make_folder();

    /* A directory with none of our files, and one that is not there. */
    assert_int_equal(dw_read_data(f.path, diag, data), DW_ERR_IO);
    assert_string_equal(dw_diag_get(diag, 0)->code, "no-config");
    assert_string_equal(dw_diag_get(diag, 0)->file, f.path);
    assert_non_null(strstr(dw_diag_get(diag, 0)->text, "files sources.yaml, species.yaml, "));
    dw_diag_list_clear(diag);
    assert_int_equal(dw_read_data("/tmp/no/such/directory", diag, data), DW_ERR_IO);
    assert_int_equal(dw_diag_count(diag), 1);
    assert_int_equal(dw_read_data("", NULL, data), DW_ERR_IO);

    /* A name that the system refuses for another reason than that nothing is there. */
    static char endless[9000];
    memset(endless, 'a', sizeof endless - 1);
    dw_diag_list_clear(diag);
    assert_int_equal(dw_read_data(endless, diag, data), DW_ERR_IO);
    assert_string_equal(dw_diag_get(diag, 0)->code, "not-readable");

    /* A directory where a file should be. */
    char path[128];
    (void)snprintf(path, sizeof path, "%s/%s", f.path, "flow.yaml");
    assert_int_equal(mkdir(path, 0700), 0);
    dw_diag_list_clear(diag);
    assert_int_equal(dw_read_data(f.path, diag, data), DW_ERR_IO);
    assert_string_equal(dw_diag_get(diag, 0)->code, "not-readable");
    assert_string_equal(dw_diag_get(diag, 0)->file, path);
    assert_int_equal(data->drill_count, 0);
    assert_int_equal(rmdir(path), 0);

    /* Empty, and too long. */
    put_file(f, "flow.yaml", "", 0);
    dw_diag_list_clear(diag);
    assert_int_equal(dw_read_data(f.path, diag, data), DW_ERR_INPUT);
    assert_true(dw_diag_count_grade(diag, DW_ERROR) >= 1);
    const size_t size = (size_t)DW_TREE_BYTES_MAX + 1;
    char *blank = malloc(size);
    assert_non_null(blank);
    memset(blank, ' ', size);
    put_file(f, "flow.yaml", blank, size);
    free(blank);
    dw_diag_list_clear(diag);
    assert_int_equal(dw_read_data(f.path, diag, data), DW_ERR_INPUT);
    assert_string_equal(dw_diag_get(diag, 0)->code, "too-large");
    assert_non_null(strstr(dw_diag_get(diag, 0)->text, "4 MB"));
    assert_string_equal(dw_diag_get(diag, 0)->file, path);

    assert_int_equal(dw_read_data(NULL, diag, NULL), DW_ERR_ARG);
    dw_diag_list_destroy(diag);
    free(data);
    remove_folder(f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(built_in_data_loads),
        cmocka_unit_test(a_file_in_the_directory_replaces_the_built_in_one),
        cmocka_unit_test(every_slip_is_refused_at_its_place),
        cmocka_unit_test(a_gas_can_be_taken_out_of_the_equilibrium),
        cmocka_unit_test(every_file_must_be_a_map),
        cmocka_unit_test(faults_of_all_files_are_collected),
        cmocka_unit_test(a_broken_file_raises_no_second_fault),
        cmocka_unit_test(too_many_entries_are_refused),
        cmocka_unit_test(unreadable_places_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
