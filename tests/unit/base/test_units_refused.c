#include "check.h"

#include <string.h>

#include "units.h"

/* The text must be refused with a message that holds every piece, parted by `|`. */
static void refused_bytes(const char *text, size_t length, dw_dim dim, const char *pieces)
{
    double si = 1.0;
    char message[DW_QUANTITY_MESSAGE_SIZE];
    memset(message, 'x', sizeof message);
    const dw_status status = dw_quantity_from_text(text, length, dim, &si, message);
    if (status != DW_ERR_INPUT) fail_msg("'%s' is taken for %s: %g", text, dw_dim_name(dim), si);
    assert_true(isnan(si));
    assert_non_null(memchr(message, '\0', sizeof message));
    char list[200];
    (void)snprintf(list, sizeof list, "%s", pieces);
    for (char *piece = strtok(list, "|"); piece != NULL; piece = strtok(NULL, "|")) {
        if (strstr(message, piece) == NULL) fail_msg("no '%s' in: %s", piece, message);
    }
}

static void refused(const char *text, dw_dim dim, const char *pieces)
{
    refused_bytes(text, strlen(text), dim, pieces);
}

static void temperature_and_difference_are_two_kinds(void **state)
{
    (void)state;
    refused("20 degC", DW_DIM_TEMPERATURE_DIFF,
            "'20 degC' is a temperature on a scale|expected a temperature difference|degC_diff");
    refused("36 \xC2\xB0"
            "F",
            DW_DIM_TEMPERATURE_DIFF, "on a scale|expected a temperature difference");
    refused("20 degC_diff", DW_DIM_TEMPERATURE,
            "is a temperature difference, expected a temperature:");
    refused("1000 C", DW_DIM_TEMPERATURE, "'C'|write degC");
    refused("2300F", DW_DIM_TEMPERATURE, "'F'|write degF");
    refused("1000 celsius", DW_DIM_TEMPERATURE, "write degC");
}

static void gauge_and_absolute_are_two_kinds(void **state)
{
    (void)state;
    refused("14.7 psia", DW_DIM_PRESSURE_GAUGE,
            "'14.7 psia' is an absolute pressure, expected a gauge pressure (against the room)");
    refused("4 psig", DW_DIM_PRESSURE_ABS, "is a gauge pressure|expected an absolute pressure");
    refused("1 bara", DW_DIM_PRESSURE_GAUGE, "is an absolute pressure");
    refused("1 barg", DW_DIM_PRESSURE_ABS, "is a gauge pressure");
}

static void rates_and_totals_are_two_kinds(void **state)
{
    (void)state;
    refused("40000 Btu", DW_DIM_POWER, "is an energy (a total), expected a power (a rate)|Btu/h");
    refused("40000 Btu/h", DW_DIM_ENERGY, "is a power (a rate), expected an energy (a total)");
    refused("12 kWh", DW_DIM_POWER, "is an energy (a total)");
    refused("12 kW", DW_DIM_ENERGY, "is a power (a rate)");
    refused("250 ft3", DW_DIM_VOLUME_FLOW,
            "is a volume (a total), expected a volume flow (a rate)");
    refused("250 ft3/h", DW_DIM_VOLUME, "is a volume flow (a rate), expected a volume (a total)");
    refused("3 kg", DW_DIM_MASS_FLOW, "is a mass (a total)");
    refused("3 kg/h", DW_DIM_MASS, "is a mass flow (a rate)");
}

static void other_kinds_are_named(void **state)
{
    (void)state;
    refused("5 mm", DW_DIM_RATIO, "'5 mm' is a length, expected a plain number or %");
    refused("40 %", DW_DIM_NUMBER, "is a percentage, expected a plain number");
    refused("40 %", DW_DIM_LENGTH, "is a percentage, expected a length");
    refused("20 kPa", DW_DIM_LENGTH, "is a pressure, expected a length");
    refused("5 m", DW_DIM_SPEED, "is a length, expected a speed");
    refused("5 m/s", DW_DIM_VOLUME_FLOW, "is a speed, expected a volume flow");
    refused("5", DW_DIM_SPEED, "m/s, km/h, mph, kn");
    refused("12 V", DW_DIM_POWER, "is a voltage, expected a power");
    refused("20", DW_DIM_LENGTH, "'20' has no unit, expected a length: m, cm, mm, in, ft");
    refused("0", DW_DIM_PRESSURE_GAUGE, "has no unit");
}

static void near_misses_are_suggested(void **state)
{
    (void)state;
    refused("20 kpa", DW_DIM_PRESSURE_GAUGE, "unknown unit 'kpa'; did you mean 'kPa'?|Pa, kPa");
    refused("7 inH20", DW_DIM_PRESSURE_GAUGE, "did you mean 'in H2O'?");
    refused("40 KW", DW_DIM_POWER, "did you mean 'kW'?");
    refused("9 inchs", DW_DIM_LENGTH, "did you mean 'inch'?");
    refused("9 cubits", DW_DIM_LENGTH, "unknown unit 'cubits', expected a length: m, cm");
    refused("30 scfh", DW_DIM_VOLUME_FLOW, "'scfh' means standard or normal conditions");
    refused("3 MBtu", DW_DIM_ENERGY, "a thousand to some people and a million to others|MMBtu");
    refused("3 gal", DW_DIM_VOLUME, "not the same in the U.S. and in Britain");
    refused("3 tons", DW_DIM_MASS, "several sizes");
}

static void garbage_is_refused(void **state)
{
    (void)state;
    refused("", DW_DIM_LENGTH, "is empty, expected a length");
    refused("  \t", DW_DIM_NUMBER, "is empty");
    refused("mm", DW_DIM_LENGTH, "does not begin with a number");
    refused("nan", DW_DIM_NUMBER, "does not begin with a number");
    refused("-inf m", DW_DIM_LENGTH, "does not begin with a number");
    refused("infinity", DW_DIM_RATIO, "does not begin with a number");
    refused("0x10", DW_DIM_NUMBER, "'0x10' is not a decimal number");
    refused("0x1p3 m", DW_DIM_LENGTH, "is not a decimal number");
    refused("1,5 mm", DW_DIM_LENGTH, "has a comma|the decimal mark is a point: write 1.5 mm");
    refused("40,000 Btu/h", DW_DIM_POWER, "write 40.000 Btu/h, or 40000 Btu/h if the comma marks");
    refused("1, mm", DW_DIM_LENGTH, "has a comma|the decimal mark is a point");
    refused("1,5", DW_DIM_NUMBER, "write 1.5");
    refused("1 000 mm", DW_DIM_LENGTH, "unknown unit '000 mm'");
    refused("10..20 mm", DW_DIM_LENGTH, "unknown unit '.20 mm'");
    refused("1.2.3 m", DW_DIM_LENGTH, "unknown unit '.3 m'");
    refused("--5 m", DW_DIM_LENGTH, "does not begin with a number");
    refused("5 m m2", DW_DIM_LENGTH, "unknown unit 'm m2'");
    refused("5 m m", DW_DIM_LENGTH, "unknown unit 'm m'");
    refused("5 k Pa", DW_DIM_PRESSURE_GAUGE, "unknown unit 'k Pa'");
    refused(". m", DW_DIM_LENGTH, "does not begin with a number");
    refused("e5 m", DW_DIM_LENGTH, "does not begin with a number");
    refused("5e m", DW_DIM_LENGTH, "unknown unit 'e m'");
    refused("5' 3\"", DW_DIM_LENGTH, "unknown unit");
}

/* A bare share may be meant in two ways, and is taken in neither. */
static void bare_shares_are_refused_with_what_to_write(void **state)
{
    (void)state;
    refused("30", DW_DIM_SHARE, "'30' has no unit: write 30 %");
    refused("0.6", DW_DIM_SHARE, "'0.6' has no unit: write 60 % or 0.6 %");
    refused("1", DW_DIM_SHARE, "'1' has no unit: write 1 % or 100 %");
    refused("1.0", DW_DIM_SHARE, "write 1 % or 100 %");
    refused("0.07", DW_DIM_SHARE, "write 7 % or 0.07 %");
    refused("0", DW_DIM_SHARE, "'0' has no unit: write 0 %");
    refused("100", DW_DIM_SHARE, "write 100 %");
    refused("300", DW_DIM_SHARE, "has no unit, expected a share in per cent: 40 %");
    refused("-5", DW_DIM_SHARE, "has no unit, expected a share in per cent");
    refused("0,6", DW_DIM_SHARE, "write 0.6");
    refused("5 mm", DW_DIM_SHARE, "'5 mm' is a length, expected a share in per cent");
}

static void fractions_are_refused_elsewhere(void **state)
{
    (void)state;
    refused("1/2 psi", DW_DIM_PRESSURE_GAUGE, "is a fraction, which only a length may be");
    refused("1/2", DW_DIM_RATIO, "is a fraction, which only a length may be");
    refused("1 1/2 in2", DW_DIM_AREA, "is a fraction, which only a length may be");
    refused("1/0 in", DW_DIM_LENGTH, "unknown unit '/0 in'");
    refused("1.5 1/2 in", DW_DIM_LENGTH, "unknown unit '1/2 in'");
    refused("15e-1 1/2 in", DW_DIM_LENGTH, "unknown unit '1/2 in'");
    refused("1/2", DW_DIM_LENGTH, "has no unit");
    refused("1//2 in", DW_DIM_LENGTH, "unknown unit");
}

static void huge_and_tiny_numbers_are_refused(void **state)
{
    (void)state;
    refused("1e400 m", DW_DIM_LENGTH, "is too large a number");
    refused("-1e400", DW_DIM_NUMBER, "is too large a number");
    refused("1e305 MPa", DW_DIM_PRESSURE_GAUGE, "is too large a number");
    refused("1e-400 m", DW_DIM_LENGTH, "is too small a number");
    refused("1e-310", DW_DIM_NUMBER, "is too small a number");
    char long_number[300];
    memset(long_number, '1', sizeof long_number);
    refused_bytes(long_number, sizeof long_number, DW_DIM_NUMBER, "...");

    double si;
    char message[DW_QUANTITY_MESSAGE_SIZE];
    assert_int_equal(dw_quantity_from_text("0e-999 m", 8, DW_DIM_LENGTH, &si, message), DW_OK);
    assert_close(si, 0, 0, 0);
    assert_int_equal(dw_quantity_from_text("-0 m", 4, DW_DIM_LENGTH, &si, message), DW_OK);
    assert_false(signbit(si));
    assert_int_equal(dw_quantity_from_text("-0", 2, DW_DIM_NUMBER, &si, message), DW_OK);
    assert_false(signbit(si));
}

static void hostile_bytes_make_a_clean_message(void **state)
{
    (void)state;
    refused_bytes("5 m\0m", 5, DW_DIM_LENGTH, "'5 m?m' has the unknown unit 'm?m'");
    refused_bytes("5 \x1b[31m\xff", 8, DW_DIM_LENGTH, "'5 ?[31m?'");
    refused_bytes("5 mmm", 3, DW_DIM_AREA, "'5 m' is a length");
    refused_bytes(NULL, 0, DW_DIM_LENGTH, "is empty");

    /* Every length of a text of three-byte characters, so that cuts fall everywhere. */
    char text[200] = "5 ";
    for (int i = 0; i < 60; i++) {
        (void)strcat(text, "\xE2\x82\xAC");
        for (int dim = 0; dim < DW_DIM_COUNT_; dim++)
            refused(text, (dw_dim)dim, "'5");
        refused_bytes(text, strlen(text) - 1, DW_DIM_LENGTH, "'5");
    }
}

static void wrong_arguments_are_told_apart(void **state)
{
    (void)state;
    double si = 1.0;
    char message[DW_QUANTITY_MESSAGE_SIZE];
    assert_int_equal(dw_quantity_from_text("5 m", 3, DW_DIM_COUNT_, &si, message), DW_ERR_ARG);
    assert_true(isnan(si));
    assert_int_equal(dw_quantity_from_text(NULL, 3, DW_DIM_LENGTH, &si, message), DW_ERR_ARG);
    assert_int_equal(dw_quantity_from_text("5 m", 3, DW_DIM_LENGTH, NULL, message), DW_ERR_ARG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(temperature_and_difference_are_two_kinds),
        cmocka_unit_test(gauge_and_absolute_are_two_kinds),
        cmocka_unit_test(rates_and_totals_are_two_kinds),
        cmocka_unit_test(other_kinds_are_named),
        cmocka_unit_test(near_misses_are_suggested),
        cmocka_unit_test(garbage_is_refused),
        cmocka_unit_test(bare_shares_are_refused_with_what_to_write),
        cmocka_unit_test(fractions_are_refused_elsewhere),
        cmocka_unit_test(huge_and_tiny_numbers_are_refused),
        cmocka_unit_test(hostile_bytes_make_a_clean_message),
        cmocka_unit_test(wrong_arguments_are_told_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
