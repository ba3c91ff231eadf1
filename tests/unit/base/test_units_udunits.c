#include "check.h"

#include <stdio.h>
#include <string.h>
#include <udunits2.h>

#include "units.h"

/*
 * Every row of the unit table against the UDUNITS-2 library, for which the number is split off
 * first: with "2300 degF" in one string that library scales the degree and drops its offset.
 *
 * A spelling that it does not know, or takes for something else (`"` is its arc second), is mapped
 * to its own words. Its `H2O` is the conventional water of 1000 kg/m3, as in the table.
 *
 *     test_units_udunits [--csv FILE]
 *
 * --csv writes how far each unit is off; tests/reference/proof.py makes its table from them.
 */

/* Where --csv writes; cmocka hands its tests no argument. NULL: not wanted. */
static const char *csv_path = NULL;

static const double rtol = 1e-14;

typedef struct mapping {
    const char *unit;
    const char *theirs;
} mapping;

static const mapping mappings[] = {
    {"in.", "in"},
    {"\"", "in"},
    {"inches", "inch"},
    {"ft.", "ft"},
    {"'", "ft"},
    {"sq in", "in2"},
    {"sq ft", "ft2"},
    {"cu ft", "ft3"},
    {"cf", "ft3"},
    {"cu in", "in3"},
    {"psig", "psi"},
    {"psia", "psi"},
    {"barg", "bar"},
    {"bara", "bar"},
    {"osi", "lbf/in2/16"},
    {"oz/in2", "lbf/in2/16"},
    {"deg C", "degC"},
    {"deg F", "degF"},
    {"degC_diff", "K"},
    {"degF_diff", "degR"},
    {"lbs", "lb"},
    {"oz", "lb/16"},
    {"m3/hr", "m3/h"},
    {"cfm", "ft3/min"},
    {"CFM", "ft3/min"},
    {"cfh", "ft3/h"},
    {"CFH", "ft3/h"},
    {"cu ft/h", "ft3/h"},
    {"cu ft/hr", "ft3/h"},
    {"Wh", "W h"},
    {"kWh", "kW h"},
    {"MWh", "MW h"},
    {"kWh/kg", "kW h/kg"},
    {"kWh/m3", "kW h/m3"},
    {"MMBtu", "1e6 Btu"},
    {"MMBTU", "1e6 Btu"},
    {"therm", "1e5 Btu"},
    {"therms", "1e5 Btu"},
    {"therm/h", "1e5 Btu/h"},
    {"Btuh", "Btu/h"},
    {"BTUH", "Btu/h"},
    {"MBH", "1e3 Btu/h"},
    {"MMBtu/h", "1e6 Btu/h"},
    {"MMBTU/h", "1e6 Btu/h"},
    {"kcal", "1000 IT_calorie"},
    {"kcal/h", "1000 IT_calorie/h"},
    {"kcal/kg", "1000 IT_calorie/kg"},
    {"kcal/m3", "1000 IT_calorie/m3"},
    {"deg", "arc_degree"},
    {"degrees", "arc_degree"},
    {"W/degC", "W/K"},
    {"Btu/(h degF)", "Btu/h/degR"},
    {"Btu/h/degF", "Btu/h/degR"},
    {"Btu/cu ft", "Btu/ft3"},
    {"BTU/cu ft", "Btu/ft3"},
    {"Btu/cf", "Btu/ft3"},
    {"BTU/cf", "Btu/ft3"},
    {"lb/lbmol", "g/mol"},
    {"km/hr", "km/h"},
    {"kph", "km/h"},
    {"mph", "mile/h"},
    {"kn", "international_knot"},
    {"kt", "international_knot"},
    {"knot", "international_knot"},
    {"knots", "international_knot"},
    {"in2/(kBtu/h)", "in2 h/kBtu"},
    {"in w.c./ft", "inch H2O/ft"},
};

/* `7 in w.c.` and its like: the length and the column. */
static const mapping *water_column(const char *unit)
{
    static const mapping inch = {"in", "inch H2O"};
    static const mapping centimetre = {"cm", "cm H2O"};
    static const mapping millimetre = {"mm", "mm H2O"};
    static const char *const columns[] = {" H2O", " w.c.", " wc", " W.C.", " WC", " w.g.", " wg"};
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++) {
        const char *at = strstr(unit, columns[i]);
        if (at == NULL || strcmp(at, columns[i]) != 0) continue;
        if (strncmp(unit, "cm", 2) == 0) return &centimetre;
        if (strncmp(unit, "mm", 2) == 0) return &millimetre;
        return &inch;
    }
    return NULL;
}

static const mapping *find_mapping(const char *unit)
{
    for (size_t i = 0; i < sizeof mappings / sizeof mappings[0]; i++) {
        if (strcmp(mappings[i].unit, unit) == 0) return &mappings[i];
    }
    return water_column(unit);
}

static double by_udunits(ut_system *system, const char *unit, const char *si_unit, double value)
{
    ut_unit *from = ut_parse(system, unit, UT_ASCII);
    ut_unit *to = ut_parse(system, si_unit, UT_ASCII);
    if (from == NULL || to == NULL) fail_msg("that library does not know '%s'", unit);
    cv_converter *converter = ut_get_converter(from, to);
    if (converter == NULL) fail_msg("'%s' is no '%s' to that library", unit, si_unit);
    const double result = cv_convert_double(converter, value);
    cv_free(converter);
    ut_free(from);
    ut_free(to);
    return result;
}

static void every_row_agrees(void **state)
{
    ut_system *system = *state;
    const char *unit;
    dw_dim dim;
    double factor, offset;
    FILE *csv = csv_path != NULL ? fopen(csv_path, "w") : NULL;
    if (csv_path != NULL) {
        assert_non_null(csv);
        (void)fprintf(csv, "table,id,quantity,source,provenance,status,expected,actual,deviation,"
                           "tolerance\n");
    }
    for (size_t i = 0; dw_unit_row(i, &unit, &dim, &factor, &offset); i++) {
        const mapping *mapped = find_mapping(unit);
        const char *theirs = mapped != NULL ? mapped->theirs : unit;
        const double expected = by_udunits(system, theirs, dw_dim_si_unit(dim), 2.385);

        char text[64], message[DW_QUANTITY_MESSAGE_SIZE];
        (void)snprintf(text, sizeof text, "2.385 %s", unit);
        double si;
        assert_int_equal(dw_quantity_from_text(text, strlen(text), dim, &si, message), DW_OK);
        if (csv != NULL) {
            (void)fprintf(csv, "units,2.385 %s,unit_to_si,udunits2,computed,ok,%.17g,%.17g,%.6g,%.6g\n",
                          strcmp(unit, "\"") == 0 ? "inch mark" : unit, expected, si,
                          fabs(si - expected), rtol * fabs(expected));
        }
        assert_close_at(si, expected, rtol, 0, text, __FILE__, __LINE__);
        assert_close_at((2.385 + offset) * factor, expected, rtol, 0, text, __FILE__, __LINE__);
    }
    if (csv != NULL) {
        assert_false(ferror(csv));
        assert_int_equal(fclose(csv), 0);
    }
}

static int open_system(void **state)
{
    (void)ut_set_error_message_handler(ut_ignore);
    *state = ut_read_xml(NULL);
    return *state == NULL;
}

static int close_system(void **state)
{
    ut_free_system(*state);
    return 0;
}

int main(int argc, char **argv)
{
    if (argc == 3 && strcmp(argv[1], "--csv") == 0) {
        csv_path = argv[2];
    } else if (argc != 1) {
        print_error("usage: test_units_udunits [--csv FILE]\n");
        return 2;
    }
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(every_row_agrees, open_system, close_system),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
