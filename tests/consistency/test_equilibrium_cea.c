/* Our equilibrium against NASA CEA: tests/reference/equilibrium_cea.csv and flame_cea.csv, made by
 * make_cea.py beside them. CEA was free to form any of its gases, we only those of species.yaml:
 * so the test also shows that the list is long enough.
 *
 *     test_equilibrium_cea [--csv FILE]
 *
 * --csv writes how far each value is off, one line a value; tests/reference/proof.py makes its table
 * from them. */

#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "constants.h"
#include "csv_table.h"
#include "flame_temp.h"
#include "test_data.h"

#ifndef DW_REFERENCE_DIR
#error "DW_REFERENCE_DIR must name the folder of the tables"
#endif

/* The tables have seven digits, good to 1e-6; a gas missing in species.yaml that reaches 1e-5 of
 * the oxygen excess or of the carbon of the gases here would show. */
static const double composition_rtol = 5e-6;
static const double graphite_atol = 1e-7; /* mol per mol of gas, where the solid begins */
static const double flame_atol_k = 0.01;
/* The tables hold fractions above this: where they hold none ours must be below too. */
static const double written_above = 1e-8;

typedef struct fixture {
    dw_data *data;
    dw_gas_set set;
    dw_elements air; /* per mole of air */
    double air_x[DW_SPECIES_MAX];
    csv_table gases, flames;
    FILE *csv; /* NULL: not wanted */
} fixture;

/* Where --csv writes; cmocka hands its set-up no argument. */
static const char *csv_path = NULL;

static const test_recipe *fuel_by_name(const char *name)
{
    const test_recipe *fuel = test_fuel(name);
    if (fuel == NULL) fail_msg("unknown fuel %s", name);
    return fuel;
}

static int open_table(const char *name, csv_table *table)
{
    char path[1024], message[1200];
    (void)snprintf(path, sizeof path, "%s/%s", DW_REFERENCE_DIR, name);
    const int opened = csv_table_read(path, table, message, sizeof message);
    if (!opened) print_error("%s\n", message);
    return opened;
}

static int set_up(void **state)
{
    fixture *f = calloc(1, sizeof *f);
    if (f == NULL) return -1;
    *state = f;
    f->data = test_data_load();
    if (f->data == NULL) return -1;
    if (dw_gas_set_init(&f->set, &f->data->species) != DW_OK) return -1;
    if (!test_fractions(&f->data->species, &test_air, f->air_x)) return -1;
    f->air = dw_elements_from_moles(&f->data->species, f->air_x);
    if (!open_table("equilibrium_cea.csv", &f->gases)) return -1;
    if (!open_table("flame_cea.csv", &f->flames)) return -1;
    if (csv_path != NULL) {
        f->csv = fopen(csv_path, "w");
        if (f->csv == NULL ||
            fprintf(f->csv, "table,id,quantity,source,provenance,status,expected,actual,deviation,"
                            "tolerance\n") < 0) {
            print_error("cannot write %s\n", csv_path);
            return -1;
        }
    }
    return 0;
}

static int tear_down(void **state)
{
    fixture *f = *state;
    csv_table_free(&f->gases);
    csv_table_free(&f->flames);
    free(f->data);
    int failed = 0;
    if (f->csv != NULL) {
        failed = ferror(f->csv) != 0;
        if (fclose(f->csv) != 0) failed = 1;
    }
    free(f);
    return failed ? -1 : 0;
}

static const char *text_at(const csv_table *table, size_t row, const char *column)
{
    const int at = csv_table_column(table, column);
    assert_true(at >= 0);
    assert_int_equal(table->row[row].count, table->row[0].count);
    return table->row[row].field[at];
}

static double number_at(const csv_table *table, size_t row, const char *column)
{
    const char *text = text_at(table, row, column);
    char *end;
    const double value = strtod(text, &end);
    if (end == text || *end != '\0') fail_msg("'%s' is not a number", text);
    return value;
}

/* Position of a gas in the set; -1 when it has none. */
static int gas_position(const dw_gas_set *set, const char *name)
{
    for (int j = 0; j < set->count; j++) {
        if (strcmp(set->table->species[set->species[j]].name, name) == 0) return j;
    }
    return -1;
}

/* Moles of air to one mole of fuel. */
static double air_moles(const fixture *f, const dw_elements *fuel, double phi)
{
    return -fuel->excess_o / (phi * f->air.excess_o);
}

typedef struct worst {
    double deviation;
    char where[120];
} worst;

static void note(worst *w, double deviation, const csv_table *table, size_t row, const char *what)
{
    if (deviation <= w->deviation) return; /* NaN has failed before */
    w->deviation = deviation;
    (void)snprintf(w->where, sizeof w->where, "%s: %s phi %s, %s K, %s Pa", what,
                   text_at(table, row, "fuel"), text_at(table, row, "phi"),
                   text_at(table, row, "T_K"), text_at(table, row, "p_Pa"));
}

static void write_deviation(const fixture *f, const csv_table *table, size_t row,
                            const char *quantity, const char *what, double expected, double found,
                            double tolerance)
{
    if (f->csv == NULL) return;
    const bool flame = table == &f->flames;
    (void)fprintf(f->csv, "%s,%s phi %s at %s K and %s Pa%s%s,%s,cea,computed,ok,%.9g,%.9g,%.6g,%.6g\n",
                  flame ? "flame_cea" : "equilibrium_cea", text_at(table, row, "fuel"),
                  text_at(table, row, "phi"), text_at(table, row, flame ? "air_T_K" : "T_K"),
                  text_at(table, row, "p_Pa"), flame ? "" : ": ", what, quantity, expected, found,
                  fabs(found - expected), tolerance);
}

static dw_equilibrium solve_row(const fixture *f, const csv_table *table, size_t row, bool graphite,
                                dw_equilibrium guess)
{
    double fuel_x[DW_SPECIES_MAX];
    assert_true(
        test_fractions(&f->data->species, fuel_by_name(text_at(table, row, "fuel")), fuel_x));
    const dw_elements fuel = dw_elements_from_moles(&f->data->species, fuel_x);
    const double air = air_moles(f, &fuel, number_at(table, row, "phi"));
    const dw_elements mixture = dw_elements_combine(1.0, fuel, air, f->air);

    dw_gas_potentials potentials;
    assert_int_equal(dw_gas_potentials_at(&f->set, number_at(table, row, "T_K"), &potentials),
                     DW_OK);
    dw_equilibrium result = guess;
    assert_int_equal(dw_equilibrium_solve(&f->set, &potentials, &mixture,
                                          number_at(table, row, "p_Pa"), graphite, &result),
                     DW_OK);
    return result;
}

/* Compares every gas of a row. */
static void compare_gases(const fixture *f, const csv_table *table, size_t row, const double *x,
                          bool report, worst *w)
{
    const size_t first = (size_t)csv_table_column(table, "C(gr)") + 1;
    bool named[DW_GAS_MAX] = {false};
    for (size_t c = first; c < table->row[0].count; c++) {
        const char *species = table->row[0].field[c];
        const int j = gas_position(&f->set, species);
        if (j >= 0) named[j] = true;
        if (text_at(table, row, species)[0] == '\0') {
            if (j >= 0) assert_true(x[j] < written_above * (1.0 + composition_rtol));
            continue;
        }
        if (j < 0) fail_msg("%s lacks the gas %s, which CEA finds", "species.yaml", species);
        const double expected = number_at(table, row, species);
        const double deviation = fabs(x[j] / expected - 1.0);
        note(w, deviation, table, row, species);
        if (report) {
            write_deviation(f, table, row, "cea_gas_x", species, expected, x[j],
                            composition_rtol * expected);
        }
        if (!(deviation <= composition_rtol)) {
            fail_msg("line %zu, %s: %.7g, CEA has %.7g", table->row[row].line, species, x[j],
                     expected);
        }
    }
    /* Gases that have no column never come above the mark. */
    for (int j = 0; j < f->set.count; j++) {
        if (!named[j]) assert_true(x[j] < written_above * (1.0 + composition_rtol));
    }
}

static bool is_yes(const char *word) { return strcmp(word, "yes") == 0; }

/* Rows of one kind, each solved from scratch and from the state before. */
static size_t compare_rows(const fixture *f, bool graphite, worst *gas, worst *solid)
{
    const csv_table *table = &f->gases;
    dw_equilibrium warm;
    memset(&warm, 0, sizeof warm);
    size_t compared = 0;
    for (size_t row = 1; row < table->count; row++) {
        if (is_yes(text_at(table, row, "graphite")) != graphite) continue;
        dw_equilibrium fresh;
        memset(&fresh, 0, sizeof fresh);
        const dw_equilibrium cold = solve_row(f, table, row, graphite, fresh);
        compare_gases(f, table, row, cold.x, true, gas);
        warm = solve_row(f, table, row, graphite, warm);
        compare_gases(f, table, row, warm.x, false, gas);
        if (graphite) {
            const double expected = number_at(table, row, "C(gr)");
            const double found = cold.graphite_mol / cold.gas_mol;
            write_deviation(f, table, row, "cea_graphite_mol_mol", "C(gr)", expected, found,
                            composition_rtol * expected + graphite_atol);
            assert_close(found, expected, composition_rtol, graphite_atol);
            note(solid, fabs(found - expected), table, row, "C(gr)");
            if (expected > 0.0)
                assert_close(cold.carbon_activity, 1.0, 1e-9, 0.0);
            else
                assert_true(cold.carbon_activity < 1.0);
        }
        compared++;
    }
    return compared;
}

static void gas_alone_agrees_with_cea(void **state)
{
    worst gas = {0.0, ""}, solid = {0.0, ""};
    const size_t rows = compare_rows(*state, false, &gas, &solid);
    print_message("gas alone: %zu states, worst %.2g relative at %s\n", rows, gas.deviation,
                  gas.where);
    assert_true(rows >= 600);
}

static void gas_beside_carbon_agrees_with_cea(void **state)
{
    worst gas = {0.0, ""}, solid = {0.0, ""};
    const size_t rows = compare_rows(*state, true, &gas, &solid);
    print_message("beside carbon: %zu states, worst %.2g relative at %s; carbon %.2g mol per mol "
                  "of gas at %s\n",
                  rows, gas.deviation, gas.where, solid.deviation, solid.where);
    assert_true(rows >= 100);
}

static void flames_agree_with_cea(void **state)
{
    const fixture *f = *state;
    const csv_table *table = &f->flames;
    double off_k = 0.0;
    size_t worst_row = 1;
    for (size_t row = 1; row < table->count; row++) {
        double fuel_x[DW_SPECIES_MAX];
        assert_true(
            test_fractions(&f->data->species, fuel_by_name(text_at(table, row, "fuel")), fuel_x));
        const dw_elements fuel = dw_elements_from_moles(&f->data->species, fuel_x);
        const double air = air_moles(f, &fuel, number_at(table, row, "phi"));
        const dw_elements mixture = dw_elements_combine(1.0, fuel, air, f->air);
        const double enthalpy_j =
            dw_mixture_enthalpy_j_mol(&f->data->species, fuel_x, DW_T_REFERENCE_K) +
            air * dw_mixture_enthalpy_j_mol(&f->data->species, f->air_x,
                                            number_at(table, row, "air_T_K"));
        double flame_k;
        dw_equilibrium burnt;
        memset(&burnt, 0, sizeof burnt);
        assert_int_equal(dw_flame_temperature(&f->set, &mixture, number_at(table, row, "p_Pa"),
                                              enthalpy_j, false, &flame_k, &burnt),
                         DW_OK);
        const double expected_k = number_at(table, row, "flame_T_K");
        write_deviation(f, table, row, "cea_flame_temperature_k", "", expected_k, flame_k,
                        flame_atol_k);
        assert_close(flame_k, expected_k, 0.0, flame_atol_k);
        if (fabs(flame_k - expected_k) > off_k) {
            off_k = fabs(flame_k - expected_k);
            worst_row = row;
        }
    }
    print_message("flames: %zu, worst %.2g K at %s phi %s\n", table->count - 1, off_k,
                  text_at(table, worst_row, "fuel"), text_at(table, worst_row, "phi"));
    assert_true(table->count > 40);
}

int main(int argc, char **argv)
{
    if (argc == 3 && strcmp(argv[1], "--csv") == 0) {
        csv_path = argv[2];
    } else if (argc != 1) {
        print_error("usage: test_equilibrium_cea [--csv FILE]\n");
        return 2;
    }
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gas_alone_agrees_with_cea),
        cmocka_unit_test(gas_beside_carbon_agrees_with_cea),
        cmocka_unit_test(flames_agree_with_cea),
    };
    return cmocka_run_group_tests_name("equilibrium against CEA", tests, set_up, tear_down);
}
