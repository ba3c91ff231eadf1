#include "check.h"

#include <stdlib.h>
#include <string.h>

#include "units.h"

/* Reads a text that must be a quantity of this kind. */
static double read_si(const char *text, dw_dim dim)
{
    double si;
    char message[DW_QUANTITY_MESSAGE_SIZE];
    const dw_status status = dw_quantity_from_text(text, strlen(text), dim, &si, message);
    if (status != DW_OK) fail_msg("'%s': %s", text, message);
    assert_string_equal(message, "");
    return si;
}

/* Values worked out by rational arithmetic from the definitions (inch 25.4 mm, pound
 * 0.45359237 kg, gravity 9.80665 m/s2, Btu 2326 J/kg times a pound, water 1000 kg/m3, mercury
 * 13595.1 kg/m3, IT calorie 4.1868 J) outside this program. Spellings of one unit are parted
 * by `|`. Gauge stands for both pressures. */
typedef struct known {
    dw_dim dim;
    const char *spellings;
    double factor, offset;
} known;

#define WATER(length)                                                                              \
    length " H2O|" length " w.c.|" length " wc|" length " W.C.|" length " WC|" length              \
           " w.g.|" length " wg"

static const known rows[] = {
    {DW_DIM_RATIO, "%", 0.01, 0},
    {DW_DIM_SHARE, "%", 0.01, 0},
    {DW_DIM_LENGTH, "m", 1, 0},
    {DW_DIM_LENGTH, "cm", 0.01, 0},
    {DW_DIM_LENGTH, "mm", 0.001, 0},
    {DW_DIM_LENGTH, "km", 1000, 0},
    {DW_DIM_LENGTH, "in|in.|inch|inches|\"", 0.0254, 0},
    {DW_DIM_LENGTH, "ft|ft.|foot|feet|'", 0.3048, 0},
    {DW_DIM_AREA, "m2", 1, 0},
    {DW_DIM_AREA, "cm2", 1e-4, 0},
    {DW_DIM_AREA, "mm2", 1e-6, 0},
    {DW_DIM_AREA, "in2|sq in", 0.00064516, 0},
    {DW_DIM_AREA, "ft2|sq ft", 0.09290304, 0},
    {DW_DIM_VOLUME, "m3", 1, 0},
    {DW_DIM_VOLUME, "L|l|dm3", 1e-3, 0},
    {DW_DIM_VOLUME, "mL|cm3", 1e-6, 0},
    {DW_DIM_VOLUME, "ft3|cu ft|cf", 0.028316846592, 0},
    {DW_DIM_VOLUME, "in3|cu in", 0.000016387064, 0},
    {DW_DIM_PRESSURE_GAUGE, "Pa", 1, 0},
    {DW_DIM_PRESSURE_GAUGE, "hPa|mbar", 100, 0},
    {DW_DIM_PRESSURE_GAUGE, "kPa", 1000, 0},
    {DW_DIM_PRESSURE_GAUGE, "MPa", 1e6, 0},
    {DW_DIM_PRESSURE_GAUGE, "bar", 1e5, 0},
    {DW_DIM_PRESSURE_GAUGE, "atm", 101325, 0},
    {DW_DIM_PRESSURE_GAUGE,
     WATER("in") "|" WATER("in.") "|" WATER("inch") "|" WATER("inches") "|" WATER("\""), 249.08891,
     0},
    {DW_DIM_PRESSURE_GAUGE, WATER("cm"), 98.0665, 0},
    {DW_DIM_PRESSURE_GAUGE, WATER("mm"), 9.80665, 0},
    {DW_DIM_PRESSURE_GAUGE, "inHg", 3386.388640341, 0},
    {DW_DIM_PRESSURE_GAUGE, "mmHg", 133.322387415, 0},
    {DW_DIM_PRESSURE_GAUGE, "psi|lbf/in2", 6894.7572931683613, 0},
    {DW_DIM_PRESSURE_GAUGE, "osi|oz/in2", 430.92233082302258, 0},
    {DW_DIM_PRESSURE_GAUGE, "psig", 6894.7572931683613, 0},
    {DW_DIM_PRESSURE_ABS, "psia", 6894.7572931683613, 0},
    {DW_DIM_PRESSURE_GAUGE, "barg", 1e5, 0},
    {DW_DIM_PRESSURE_ABS, "bara", 1e5, 0},
    {DW_DIM_TEMPERATURE, "K", 1, 0},
    {DW_DIM_TEMPERATURE, "degC|deg C", 1, 273.15},
    {DW_DIM_TEMPERATURE, "degF|deg F", 0.55555555555555556, 459.67},
    {DW_DIM_TEMPERATURE_DIFF, "K|degC_diff", 1, 0},
    {DW_DIM_TEMPERATURE_DIFF, "degF_diff", 0.55555555555555556, 0},
    {DW_DIM_MASS, "kg", 1, 0},
    {DW_DIM_MASS, "g", 1e-3, 0},
    {DW_DIM_MASS, "t", 1000, 0},
    {DW_DIM_MASS, "lb|lbs", 0.45359237, 0},
    {DW_DIM_MASS, "oz", 0.028349523125, 0},
    {DW_DIM_MASS_FLOW, "kg/s", 1, 0},
    {DW_DIM_MASS_FLOW, "kg/min", 0.016666666666666667, 0},
    {DW_DIM_MASS_FLOW, "kg/h|kg/hr", 0.00027777777777777778, 0},
    {DW_DIM_MASS_FLOW, "g/s", 1e-3, 0},
    {DW_DIM_MASS_FLOW, "g/min", 0.000016666666666666667, 0},
    {DW_DIM_MASS_FLOW, "g/h", 2.7777777777777778e-7, 0},
    {DW_DIM_MASS_FLOW, "lb/s", 0.45359237, 0},
    {DW_DIM_MASS_FLOW, "lb/min", 0.0075598728333333333, 0},
    {DW_DIM_MASS_FLOW, "lb/h|lb/hr", 0.00012599788055555556, 0},
    {DW_DIM_VOLUME_FLOW, "m3/s", 1, 0},
    {DW_DIM_VOLUME_FLOW, "m3/min", 0.016666666666666667, 0},
    {DW_DIM_VOLUME_FLOW, "m3/h|m3/hr", 0.00027777777777777778, 0},
    {DW_DIM_VOLUME_FLOW, "L/s|l/s", 1e-3, 0},
    {DW_DIM_VOLUME_FLOW, "L/min|l/min", 0.000016666666666666667, 0},
    {DW_DIM_VOLUME_FLOW, "L/h|l/h", 2.7777777777777778e-7, 0},
    {DW_DIM_VOLUME_FLOW, "ft3/s", 0.028316846592, 0},
    {DW_DIM_VOLUME_FLOW, "ft3/min|cfm|CFM", 0.0004719474432, 0},
    {DW_DIM_VOLUME_FLOW, "ft3/h|ft3/hr|cu ft/h|cu ft/hr|cfh|CFH", 0.00000786579072, 0},
    {DW_DIM_ENERGY, "J", 1, 0},
    {DW_DIM_ENERGY, "kJ", 1e3, 0},
    {DW_DIM_ENERGY, "MJ", 1e6, 0},
    {DW_DIM_ENERGY, "GJ", 1e9, 0},
    {DW_DIM_ENERGY, "Wh", 3600, 0},
    {DW_DIM_ENERGY, "kWh", 3.6e6, 0},
    {DW_DIM_ENERGY, "MWh", 3.6e9, 0},
    {DW_DIM_ENERGY, "Btu|BTU", 1055.05585262, 0},
    {DW_DIM_ENERGY, "kBtu|kBTU", 1055055.85262, 0},
    {DW_DIM_ENERGY, "MMBtu|MMBTU", 1055055852.62, 0},
    {DW_DIM_ENERGY, "therm|therms", 105505585.262, 0},
    {DW_DIM_ENERGY, "kcal", 4186.8, 0},
    {DW_DIM_POWER, "W|J/s", 1, 0},
    {DW_DIM_POWER, "kW|kJ/s", 1e3, 0},
    {DW_DIM_POWER, "MW", 1e6, 0},
    {DW_DIM_POWER, "kJ/h", 0.27777777777777778, 0},
    {DW_DIM_POWER, "MJ/h", 277.77777777777778, 0},
    {DW_DIM_POWER, "kcal/h", 1.163, 0},
    {DW_DIM_POWER, "Btu/h|BTU/h|Btu/hr|BTU/hr|Btuh|BTUH", 0.29307107017222222, 0},
    {DW_DIM_POWER, "kBtu/h|kBTU/h|kBtu/hr|kBTU/hr|MBH", 293.07107017222222, 0},
    {DW_DIM_POWER, "MMBtu/h|MMBTU/h", 293071.07017222222, 0},
    {DW_DIM_POWER, "therm/h", 29307.107017222222, 0},
    {DW_DIM_ANGLE, "rad", 1, 0},
    {DW_DIM_ANGLE, "deg|degrees", 0.017453292519943296, 0},
    {DW_DIM_TIME, "s|sec", 1, 0},
    {DW_DIM_TIME, "ms", 1e-3, 0},
    {DW_DIM_TIME, "min", 60, 0},
    {DW_DIM_TIME, "h|hr|hour|hours", 3600, 0},
    {DW_DIM_TIME, "d|day|days", 86400, 0},
    {DW_DIM_CONDUCTANCE, "W/K|W/degC", 1, 0},
    {DW_DIM_CONDUCTANCE, "kW/K", 1000, 0},
    {DW_DIM_CONDUCTANCE, "Btu/(h degF)|Btu/h/degF", 0.52752792631, 0},
    {DW_DIM_ENERGY_PER_MASS, "J/kg", 1, 0},
    {DW_DIM_ENERGY_PER_MASS, "kJ/kg", 1e3, 0},
    {DW_DIM_ENERGY_PER_MASS, "MJ/kg", 1e6, 0},
    {DW_DIM_ENERGY_PER_MASS, "kWh/kg", 3.6e6, 0},
    {DW_DIM_ENERGY_PER_MASS, "kcal/kg", 4186.8, 0},
    {DW_DIM_ENERGY_PER_MASS, "Btu/lb|BTU/lb", 2326, 0},
    {DW_DIM_ENERGY_PER_VOLUME, "J/m3", 1, 0},
    {DW_DIM_ENERGY_PER_VOLUME, "kJ/m3", 1e3, 0},
    {DW_DIM_ENERGY_PER_VOLUME, "MJ/m3|kJ/L", 1e6, 0},
    {DW_DIM_ENERGY_PER_VOLUME, "kWh/m3", 3.6e6, 0},
    {DW_DIM_ENERGY_PER_VOLUME, "kcal/m3", 4186.8, 0},
    {DW_DIM_ENERGY_PER_VOLUME, "Btu/ft3|BTU/ft3|Btu/cu ft|BTU/cu ft|Btu/cf|BTU/cf",
     37258.945807831285, 0},
    {DW_DIM_DENSITY, "kg/m3|g/L", 1, 0},
    {DW_DIM_DENSITY, "g/cm3|kg/L", 1000, 0},
    {DW_DIM_DENSITY, "lb/ft3", 16.01846337396014, 0},
    {DW_DIM_MOLAR_MASS, "kg/mol", 1, 0},
    {DW_DIM_MOLAR_MASS, "g/mol|kg/kmol|lb/lbmol", 1e-3, 0},
    {DW_DIM_VOLTAGE, "V", 1, 0},
    {DW_DIM_VOLTAGE, "mV", 1e-3, 0},
    {DW_DIM_POWER_PER_VOLUME, "W/m3", 1, 0},
    {DW_DIM_POWER_PER_VOLUME, "kW/m3|W/L", 1e3, 0},
    {DW_DIM_POWER_PER_VOLUME, "MW/m3|kW/L", 1e6, 0},
    {DW_DIM_POWER_PER_VOLUME, "Btu/(h ft3)|Btu/h/ft3", 10.349707168842024, 0},
    {DW_DIM_SPEED, "m/s", 1, 0},
    {DW_DIM_SPEED, "km/h|km/hr|kph", 0.27777777777777778, 0},
    {DW_DIM_SPEED, "ft/s", 0.3048, 0},
    {DW_DIM_SPEED, "ft/min", 0.00508, 0},
    {DW_DIM_SPEED, "mph", 0.44704, 0},
    {DW_DIM_SPEED, "kn|kt|knot|knots", 0.51444444444444444, 0},
    {DW_DIM_AREA_PER_POWER, "m2/W", 1, 0},
    {DW_DIM_AREA_PER_POWER, "m2/kW", 1e-3, 0},
    {DW_DIM_AREA_PER_POWER, "cm2/W", 1e-4, 0},
    {DW_DIM_AREA_PER_POWER, "cm2/kW", 1e-7, 0},
    {DW_DIM_AREA_PER_POWER, "in2/(kBtu/h)", 2.201377296028823e-06, 0},
    {DW_DIM_PRESSURE_PER_LENGTH, "Pa/m", 1, 0},
    {DW_DIM_PRESSURE_PER_LENGTH, "in w.c./ft", 817.2208333333333, 0},
};
enum { ROW_COUNT = sizeof rows / sizeof rows[0] };

static int is_spelling(const char *list, const char *unit)
{
    const size_t length = strlen(unit);
    for (const char *at = list; at != NULL; at = strchr(at, '|') ? strchr(at, '|') + 1 : NULL) {
        if (strncmp(at, unit, length) == 0 && (at[length] == '|' || at[length] == '\0')) return 1;
    }
    return 0;
}

static const known *find_known(const char *unit, dw_dim dim)
{
    /* A pressure without a basis is listed once, as gauge. */
    const int both = strcmp(unit, "psig") != 0 && strcmp(unit, "barg") != 0;
    for (size_t i = 0; i < ROW_COUNT; i++) {
        const int same_dim = rows[i].dim == dim || (both && dim == DW_DIM_PRESSURE_ABS &&
                                                    rows[i].dim == DW_DIM_PRESSURE_GAUGE);
        if (same_dim && is_spelling(rows[i].spellings, unit)) return &rows[i];
    }
    return NULL;
}

static void every_row_has_its_defined_value(void **state)
{
    (void)state;
    const char *unit;
    dw_dim dim;
    double factor, offset;
    for (size_t i = 0; dw_unit_row(i, &unit, &dim, &factor, &offset); i++) {
        const known *want = find_known(unit, dim);
        if (want == NULL) fail_msg("no independent value for '%s' of %s", unit, dw_dim_name(dim));
        char text[64];
        (void)snprintf(text, sizeof text, "2.385 %s", unit);
        assert_close_at(factor, want->factor, 1e-15, 0, unit, __FILE__, __LINE__);
        assert_close_at(offset, want->offset, 0, 0, unit, __FILE__, __LINE__);
        assert_close_at(read_si(text, dim), (2.385 + want->offset) * want->factor, 1e-15, 0, text,
                        __FILE__, __LINE__);
    }
}

static void every_spelling_is_read(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROW_COUNT; i++) {
        char list[400];
        (void)snprintf(list, sizeof list, "%s", rows[i].spellings);
        assert_int_equal(strlen(list), strlen(rows[i].spellings));
        for (char *unit = strtok(list, "|"); unit != NULL; unit = strtok(NULL, "|")) {
            char text[64];
            (void)snprintf(text, sizeof text, " -7.31%s\t", unit);
            assert_close_at(read_si(text, rows[i].dim), (-7.31 + rows[i].offset) * rows[i].factor,
                            2e-15, 0, text, __FILE__, __LINE__);
        }
    }
}

static void trade_spellings_are_read(void **state)
{
    (void)state;
    assert_close(read_si("20 kPa", DW_DIM_PRESSURE_GAUGE), 20000, 0, 0);
    assert_close(read_si("7 in w.c.", DW_DIM_PRESSURE_GAUGE), 1743.62237, 1e-15, 0);
    assert_close(read_si("7in   wc", DW_DIM_PRESSURE_GAUGE), 1743.62237, 1e-15, 0);
    assert_close(read_si("7 inH2O", DW_DIM_PRESSURE_GAUGE), 1743.62237, 1e-15, 0);
    assert_close(read_si("11 \"w.c.", DW_DIM_PRESSURE_GAUGE), 2739.97801, 1e-15, 0);
    assert_close(read_si("11\xE2\x80\xB3 WC", DW_DIM_PRESSURE_GAUGE), 2739.97801, 1e-15, 0);
    assert_close(read_si("14.7 psia", DW_DIM_PRESSURE_ABS), 101352.932209574911, 1e-15, 0);
    assert_close(read_si("2300 degF", DW_DIM_TEMPERATURE), 1533.15, 1e-15, 0);
    assert_close(read_si("2300 \xC2\xB0"
                         "F",
                         DW_DIM_TEMPERATURE),
                 1533.15, 1e-15, 0);
    assert_close(read_si("1260 deg C", DW_DIM_TEMPERATURE), 1533.15, 1e-15, 0);
    assert_close(read_si("1260\xC2\xA0\xC2\xBA"
                         "C",
                         DW_DIM_TEMPERATURE),
                 1533.15, 1e-15, 0);
    assert_close(read_si("18 cm\xC2\xB2", DW_DIM_AREA), 0.0018, 1e-15, 0);
    assert_close(read_si("18 cm^2", DW_DIM_AREA), 0.0018, 1e-15, 0);
    assert_close(read_si("1 cu  ft", DW_DIM_VOLUME), 0.028316846592, 1e-15, 0);
    assert_close(read_si("0.36 kg/m\xC2\xB3", DW_DIM_DENSITY), 0.36, 0, 0);
    assert_close(read_si("40000 Btu/h", DW_DIM_POWER), 11722.842806888889, 1e-15, 0);
    assert_close(read_si("40000 Btu / h", DW_DIM_POWER), 11722.842806888889, 1e-15, 0);
    assert_close(read_si("40 MBH", DW_DIM_POWER), 11722.842806888889, 1e-15, 0);
    assert_close(read_si("35 \xC2\xB0", DW_DIM_ANGLE), 0.61086523819801535, 1e-15, 0);
    assert_close(read_si("9\"", DW_DIM_LENGTH), 0.2286, 1e-15, 0);
    assert_close(read_si("+.5e+1 m", DW_DIM_LENGTH), 5, 0, 0);
    assert_close(read_si("40 %", DW_DIM_RATIO), 0.4, 0, 0);
    assert_close(read_si("40%", DW_DIM_RATIO), 0.4, 0, 0);
    assert_close(read_si("0.4", DW_DIM_RATIO), 0.4, 0, 0);
    assert_close(read_si("0.62", DW_DIM_NUMBER), 0.62, 0, 0);
}

static void decimal_factors_round_once(void **state)
{
    (void)state;
    /* Division keeps these the doubles nearest to the decimal number; a factor of 0.001 does not. */
    for (int i = 1; i < 2000; i++) {
        char text[32], plain[32];
        (void)snprintf(text, sizeof text, "%d mm", i);
        (void)snprintf(plain, sizeof plain, "%de-3", i);
        assert_true(read_si(text, DW_DIM_LENGTH) == strtod(plain, NULL));
        (void)snprintf(text, sizeof text, "%d %%", i);
        (void)snprintf(plain, sizeof plain, "%de-2", i);
        assert_true(read_si(text, DW_DIM_RATIO) == strtod(plain, NULL));
    }
}

static void fractions_are_read_for_lengths(void **state)
{
    (void)state;
    assert_close(read_si("1/2 in", DW_DIM_LENGTH), 0.0127, 1e-15, 0);
    assert_close(read_si("1 1/2 in", DW_DIM_LENGTH), 0.0381, 1e-15, 0);
    assert_close(read_si("2 7/16\"", DW_DIM_LENGTH), 0.0619125, 1e-15, 0);
    assert_close(read_si("-1 1/2 in", DW_DIM_LENGTH), -0.0381, 1e-15, 0);
    assert_close(read_si("-3/4 in", DW_DIM_LENGTH), -0.01905, 1e-15, 0);
}

static void shown_units_read_back(void **state)
{
    (void)state;
    for (int dim = 0; dim < DW_DIM_COUNT_; dim++) {
        for (int system = 0; system < 2; system++) {
            const char *unit = NULL;
            const double si = 347.19;
            const double shown =
                dw_quantity_display(si, (dw_dim)dim, (dw_unit_system)system, &unit);
            char text[80];
            (void)snprintf(text, sizeof text, "%.17g %s", shown, unit);
            assert_close_at(read_si(text, (dw_dim)dim), si, 1e-14, 0, text, __FILE__, __LINE__);
            assert_true(
                isnan(dw_quantity_display(NAN, (dw_dim)dim, (dw_unit_system)system, &unit)));
        }
    }
}

static void pressures_are_shown_by_size(void **state)
{
    (void)state;
    const char *unit;
    assert_close(dw_pressure_display(20000, 0, DW_UNITS_METRIC, &unit), 20, 1e-15, 0);
    assert_string_equal(unit, "kPa");
    assert_close(dw_pressure_display(20000, 0, DW_UNITS_US, &unit), 2.9007547546041847, 1e-15, 0);
    assert_string_equal(unit, "psi");
    assert_close(dw_pressure_display(-5, 1, DW_UNITS_METRIC, &unit), -5, 0, 0);
    assert_string_equal(unit, "Pa");
    assert_close(dw_pressure_display(-5, 1, DW_UNITS_US, &unit), -0.020073153798778116, 1e-15, 0);
    assert_string_equal(unit, "in w.c.");
    assert_close(dw_quantity_display(1533.15, DW_DIM_TEMPERATURE, DW_UNITS_US, &unit), 2300, 1e-15,
                 0);
    assert_string_equal(unit, "degF");
    assert_close(dw_quantity_display(20, DW_DIM_TEMPERATURE_DIFF, DW_UNITS_US, &unit), 36, 1e-15,
                 0);
    assert_string_equal(unit, "degF_diff");
}

static void kinds_have_names_and_allowed_examples(void **state)
{
    (void)state;
    for (int k = 0; k < DW_DIM_COUNT_; k++) {
        const dw_dim dim = (dw_dim)k;
        assert_true(strlen(dw_dim_name(dim)) > 0);
        assert_true(strlen(dw_dim_si_unit(dim)) > 0);
        char list[200], text[80];
        (void)snprintf(list, sizeof list, "%s", dw_dim_examples(dim));
        for (char *one = strtok(list, ","); one != NULL; one = strtok(NULL, ",")) {
            const int has_number = strpbrk(one, "0123456789") == one + strspn(one, " ");
            (void)snprintf(text, sizeof text, "%s%s", has_number ? "" : "3 ", one);
            assert_true(isfinite(read_si(text, dim)));
        }
        /* The SI unit itself has factor 1. */
        const int plain = dim == DW_DIM_RATIO || dim == DW_DIM_NUMBER;
        if (dim == DW_DIM_SHARE) continue; /* has no bare numbers */
        (void)snprintf(text, sizeof text, "2.385 %s", plain ? "" : dw_dim_si_unit(dim));
        assert_close(read_si(text, dim), 2.385, 0, 0);
    }
    assert_string_equal(dw_dim_suffix(DW_DIM_PRESSURE_ABS), "_pa_abs");
    assert_string_equal(dw_dim_suffix(DW_DIM_TEMPERATURE_DIFF), "_dk");
    assert_string_equal(dw_dim_name((dw_dim)-1), "quantity");
    assert_string_equal(dw_dim_name(DW_DIM_COUNT_), "quantity");
}

static void the_unit_typed_is_given_back(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        dw_dim dim;
        const char *unit; /* NULL: no quantity */
        double value;     /* in that unit */
    } cases[] = {
        {"7 in w.c.", DW_DIM_PRESSURE_GAUGE, "in w.c.", 7.0},
        {"7in wc", DW_DIM_PRESSURE_GAUGE, "in wc", 7.0},
        {"1 1/4 in", DW_DIM_LENGTH, "in", 1.25},
        {" 3.2 mm ", DW_DIM_LENGTH, "mm", 3.2},
        {"2100 \xC2\xB0"
         "F",
         DW_DIM_TEMPERATURE, "degF", 2100.0},
        {"40%", DW_DIM_SHARE, "%", 40.0},
        {"0.05", DW_DIM_RATIO, "", 0.05},
        {"5 %", DW_DIM_RATIO, "%", 5.0},
        {"0.85", DW_DIM_NUMBER, "", 0.85},
        {"40", DW_DIM_SHARE, NULL, 0.0},
        {"3", DW_DIM_LENGTH, NULL, 0.0},
        {"3 kPa", DW_DIM_LENGTH, NULL, 0.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const char *unit = dw_quantity_unit(cases[i].text, strlen(cases[i].text), cases[i].dim);
        if (cases[i].unit == NULL) {
            assert_null(unit);
            continue;
        }
        assert_non_null(unit);
        assert_string_equal(unit, cases[i].unit);
        assert_close(dw_quantity_in(read_si(cases[i].text, cases[i].dim), cases[i].dim, unit),
                     cases[i].value, 1e-14, 0);
    }
}

/* Every row is of one of the two systems, and those of US trade are told apart. */
static void us_units_are_known(void **state)
{
    (void)state;
    static const char *const us[] = {
        "in",  "ft",  "in2",  "sq ft",     "psi",   "psig",   "in w.c.", "inHg",    "osi", "lb/h",
        "cfh", "CFM", "degF", "degF_diff", "Btu/h", "kBtu/h", "MBH",     "therm/h", "\""};
    static const char *const si[] = {"m",    "mm", "cm2",  "kPa",    "mbar",  "mmH2O",
                                     "degC", "K",  "kg/h", "m3/h",   "L/min", "kW",
                                     "min",  "%",  "",     "mm H2O", "deg",   "MJ"};
    for (size_t i = 0; i < sizeof us / sizeof us[0]; i++)
        if (!dw_unit_is_us(us[i])) fail_msg("%s is a US unit", us[i]);
    for (size_t i = 0; i < sizeof si / sizeof si[0]; i++)
        if (dw_unit_is_us(si[i])) fail_msg("%s is not a US unit", si[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_has_its_defined_value),
        cmocka_unit_test(every_spelling_is_read),
        cmocka_unit_test(trade_spellings_are_read),
        cmocka_unit_test(decimal_factors_round_once),
        cmocka_unit_test(fractions_are_read_for_lengths),
        cmocka_unit_test(shown_units_read_back),
        cmocka_unit_test(pressures_are_shown_by_size),
        cmocka_unit_test(kinds_have_names_and_allowed_examples),
        cmocka_unit_test(the_unit_typed_is_given_back),
        cmocka_unit_test(us_units_are_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
