#include "unit_rows.h"

#include "constants.h"

/*
 * Every factor is written from exact definitions, as a numerator (_N) and a denominator (_D) that
 * are whole numbers where the definition allows:
 *
 *   inch       25.4 mm                  international yard and pound agreement, 1959
 *   foot       12 inch
 *   mile       5280 foot
 *   knot       1852 m/h                 the international nautical mile, 1929
 *   pound      0.45359237 kg            the same agreement
 *   lbf        pound * 9.80665 m/s2
 *   Btu        2326 J/kg * pound        International Table Btu: 1055.05585262 J
 *   therm      100000 Btu (the U.S. legal therm, of another Btu, is 0.02 % smaller)
 *   cal        4.1868 J                 International Table calorie, which goes with that Btu
 *   water      a column of 1000 kg/m3 under 9.80665 m/s2, the conventional inch: 249.08891 Pa.
 *              By water at 4 degC it would be 0.003 % less, by water at 60 degF 0.1 % less.
 *              An inch of it a foot is a twelfth of its weight.
 *   mercury    a column of 13595.1 kg/m3 under 9.80665 m/s2
 *
 * A degree Fahrenheit is 5/9 K and 0 degF is 459.67 of them above absolute zero.
 */
#define INCH_N 254.0
#define INCH_D 1e4
#define FOOT_N 3048.0
#define FOOT_D 1e4
#define POUND_N 45359237.0
#define POUND_D 1e8
#define GRAVITY_N 980665.0
#define GRAVITY_D 1e5
#define BTU_N (2326.0 * POUND_N)
#define BTU_D POUND_D
#define KCAL_J 4186.8
#define PSI_N (POUND_N * GRAVITY_N * INCH_D * INCH_D)
#define PSI_D (POUND_D * GRAVITY_D * INCH_N * INCH_N)
#define FOOT2_N (FOOT_N * FOOT_N)
#define FOOT2_D (FOOT_D * FOOT_D)
#define FOOT3_N (FOOT_N * FOOT2_N)
#define FOOT3_D (FOOT_D * FOOT2_D)
#define HOUR 3600.0

/* clang-format off */
#define ROW(dim, spelling, numerator, denominator) \
    {spelling, DW_DIM_##dim, numerator, denominator, 0.0}
#define SCALE(spelling, numerator, denominator, offset) \
    {spelling, DW_DIM_TEMPERATURE, numerator, denominator, offset}

/* A pressure unit that leaves the basis, gauge or absolute, to the key. */
#define PRESSURE(spelling, numerator, denominator) \
    ROW(PRESSURE_GAUGE, spelling, numerator, denominator), \
    ROW(PRESSURE_ABS, spelling, numerator, denominator)

/* The trade's ways to write a column of water: water, water column, water gauge. */
#define WATER_COLUMN(length, numerator, denominator) \
    PRESSURE(length " H2O", numerator, denominator), \
    PRESSURE(length " w.c.", numerator, denominator), \
    PRESSURE(length " wc", numerator, denominator), \
    PRESSURE(length " W.C.", numerator, denominator), \
    PRESSURE(length " WC", numerator, denominator), \
    PRESSURE(length " w.g.", numerator, denominator), PRESSURE(length " wg", numerator, denominator)

const dw_unit dw_unit_rows[] = {
    ROW(RATIO, "%", 1, 100),
    ROW(SHARE, "%", 1, 100),

    ROW(LENGTH, "m", 1, 1),
    ROW(LENGTH, "cm", 1, 100),
    ROW(LENGTH, "mm", 1, 1000),
    ROW(LENGTH, "km", 1000, 1),
    ROW(LENGTH, "in", INCH_N, INCH_D), ROW(LENGTH, "in.", INCH_N, INCH_D),
    ROW(LENGTH, "inch", INCH_N, INCH_D), ROW(LENGTH, "inches", INCH_N, INCH_D),
    ROW(LENGTH, "\"", INCH_N, INCH_D),
    ROW(LENGTH, "ft", FOOT_N, FOOT_D), ROW(LENGTH, "ft.", FOOT_N, FOOT_D),
    ROW(LENGTH, "foot", FOOT_N, FOOT_D), ROW(LENGTH, "feet", FOOT_N, FOOT_D),
    ROW(LENGTH, "'", FOOT_N, FOOT_D),

    ROW(AREA, "m2", 1, 1),
    ROW(AREA, "cm2", 1, 1e4),
    ROW(AREA, "mm2", 1, 1e6),
    ROW(AREA, "in2", INCH_N * INCH_N, INCH_D * INCH_D),
    ROW(AREA, "sq in", INCH_N * INCH_N, INCH_D * INCH_D),
    ROW(AREA, "ft2", FOOT2_N, FOOT2_D), ROW(AREA, "sq ft", FOOT2_N, FOOT2_D),

    ROW(VOLUME, "m3", 1, 1),
    ROW(VOLUME, "L", 1, 1000), ROW(VOLUME, "l", 1, 1000), ROW(VOLUME, "dm3", 1, 1000),
    ROW(VOLUME, "mL", 1, 1e6), ROW(VOLUME, "cm3", 1, 1e6),
    ROW(VOLUME, "ft3", FOOT3_N, FOOT3_D), ROW(VOLUME, "cu ft", FOOT3_N, FOOT3_D),
    ROW(VOLUME, "cf", FOOT3_N, FOOT3_D),
    ROW(VOLUME, "in3", INCH_N * INCH_N * INCH_N, INCH_D * INCH_D * INCH_D),
    ROW(VOLUME, "cu in", INCH_N * INCH_N * INCH_N, INCH_D * INCH_D * INCH_D),

    PRESSURE("Pa", 1, 1),
    PRESSURE("hPa", 100, 1),
    PRESSURE("kPa", 1000, 1),
    PRESSURE("MPa", 1e6, 1),
    PRESSURE("mbar", 100, 1),
    PRESSURE("bar", DW_BAR_PA, 1),
    PRESSURE("atm", DW_ATM_PA, 1),
    WATER_COLUMN("in", GRAVITY_N * 254.0, GRAVITY_D * 10.0),
    WATER_COLUMN("in.", GRAVITY_N * 254.0, GRAVITY_D * 10.0),
    WATER_COLUMN("inch", GRAVITY_N * 254.0, GRAVITY_D * 10.0),
    WATER_COLUMN("inches", GRAVITY_N * 254.0, GRAVITY_D * 10.0),
    WATER_COLUMN("\"", GRAVITY_N * 254.0, GRAVITY_D * 10.0),
    WATER_COLUMN("cm", GRAVITY_N * 10.0, GRAVITY_D),
    WATER_COLUMN("mm", GRAVITY_N, GRAVITY_D),
    PRESSURE("inHg", GRAVITY_N * 135951.0 * 254.0, GRAVITY_D * 1e5),
    PRESSURE("mmHg", GRAVITY_N * 135951.0, GRAVITY_D * 1e4),
    PRESSURE("psi", PSI_N, PSI_D), PRESSURE("lbf/in2", PSI_N, PSI_D),
    PRESSURE("osi", PSI_N, 16 * PSI_D), PRESSURE("oz/in2", PSI_N, 16 * PSI_D),
    ROW(PRESSURE_GAUGE, "psig", PSI_N, PSI_D),
    ROW(PRESSURE_ABS, "psia", PSI_N, PSI_D),
    ROW(PRESSURE_GAUGE, "barg", DW_BAR_PA, 1),
    ROW(PRESSURE_ABS, "bara", DW_BAR_PA, 1),

    SCALE("K", 1, 1, 0.0),
    SCALE("degC", 1, 1, DW_ICE_POINT_K), SCALE("deg C", 1, 1, DW_ICE_POINT_K),
    SCALE("degF", 5, 9, 459.67), SCALE("deg F", 5, 9, 459.67),

    ROW(TEMPERATURE_DIFF, "K", 1, 1),
    ROW(TEMPERATURE_DIFF, "degC_diff", 1, 1),
    ROW(TEMPERATURE_DIFF, "degF_diff", 5, 9),

    ROW(MASS, "kg", 1, 1),
    ROW(MASS, "g", 1, 1000),
    ROW(MASS, "t", 1000, 1),
    ROW(MASS, "lb", POUND_N, POUND_D), ROW(MASS, "lbs", POUND_N, POUND_D),
    ROW(MASS, "oz", POUND_N, POUND_D * 16),

    ROW(MASS_FLOW, "kg/s", 1, 1),
    ROW(MASS_FLOW, "kg/min", 1, 60),
    ROW(MASS_FLOW, "kg/h", 1, HOUR), ROW(MASS_FLOW, "kg/hr", 1, HOUR),
    ROW(MASS_FLOW, "g/s", 1, 1000),
    ROW(MASS_FLOW, "g/min", 1, 60000),
    ROW(MASS_FLOW, "g/h", 1, 1000 * HOUR),
    ROW(MASS_FLOW, "lb/s", POUND_N, POUND_D),
    ROW(MASS_FLOW, "lb/min", POUND_N, POUND_D * 60),
    ROW(MASS_FLOW, "lb/h", POUND_N, POUND_D * HOUR),
    ROW(MASS_FLOW, "lb/hr", POUND_N, POUND_D * HOUR),

    ROW(VOLUME_FLOW, "m3/s", 1, 1),
    ROW(VOLUME_FLOW, "m3/min", 1, 60),
    ROW(VOLUME_FLOW, "m3/h", 1, HOUR), ROW(VOLUME_FLOW, "m3/hr", 1, HOUR),
    ROW(VOLUME_FLOW, "L/s", 1, 1000), ROW(VOLUME_FLOW, "l/s", 1, 1000),
    ROW(VOLUME_FLOW, "L/min", 1, 60000), ROW(VOLUME_FLOW, "l/min", 1, 60000),
    ROW(VOLUME_FLOW, "L/h", 1, 1000 * HOUR), ROW(VOLUME_FLOW, "l/h", 1, 1000 * HOUR),
    ROW(VOLUME_FLOW, "ft3/s", FOOT3_N, FOOT3_D),
    ROW(VOLUME_FLOW, "ft3/min", FOOT3_N, FOOT3_D * 60),
    ROW(VOLUME_FLOW, "cfm", FOOT3_N, FOOT3_D * 60), ROW(VOLUME_FLOW, "CFM", FOOT3_N, FOOT3_D * 60),
    ROW(VOLUME_FLOW, "ft3/h", FOOT3_N, FOOT3_D * HOUR),
    ROW(VOLUME_FLOW, "ft3/hr", FOOT3_N, FOOT3_D * HOUR),
    ROW(VOLUME_FLOW, "cu ft/h", FOOT3_N, FOOT3_D * HOUR),
    ROW(VOLUME_FLOW, "cu ft/hr", FOOT3_N, FOOT3_D * HOUR),
    ROW(VOLUME_FLOW, "cfh", FOOT3_N, FOOT3_D * HOUR),
    ROW(VOLUME_FLOW, "CFH", FOOT3_N, FOOT3_D * HOUR),

    ROW(ENERGY, "J", 1, 1),
    ROW(ENERGY, "kJ", 1000, 1),
    ROW(ENERGY, "MJ", 1e6, 1),
    ROW(ENERGY, "GJ", 1e9, 1),
    ROW(ENERGY, "Wh", HOUR, 1),
    ROW(ENERGY, "kWh", 1000 * HOUR, 1),
    ROW(ENERGY, "MWh", 1e6 * HOUR, 1),
    ROW(ENERGY, "Btu", BTU_N, BTU_D), ROW(ENERGY, "BTU", BTU_N, BTU_D),
    ROW(ENERGY, "kBtu", 1000 * BTU_N, BTU_D), ROW(ENERGY, "kBTU", 1000 * BTU_N, BTU_D),
    ROW(ENERGY, "MMBtu", 1e6 * BTU_N, BTU_D), ROW(ENERGY, "MMBTU", 1e6 * BTU_N, BTU_D),
    ROW(ENERGY, "therm", 1e5 * BTU_N, BTU_D), ROW(ENERGY, "therms", 1e5 * BTU_N, BTU_D),
    ROW(ENERGY, "kcal", KCAL_J, 1),

    ROW(POWER, "W", 1, 1), ROW(POWER, "J/s", 1, 1),
    ROW(POWER, "kW", 1000, 1), ROW(POWER, "kJ/s", 1000, 1),
    ROW(POWER, "MW", 1e6, 1),
    ROW(POWER, "kJ/h", 1000, HOUR),
    ROW(POWER, "MJ/h", 1e6, HOUR),
    ROW(POWER, "kcal/h", KCAL_J, HOUR),
    ROW(POWER, "Btu/h", BTU_N, BTU_D * HOUR), ROW(POWER, "BTU/h", BTU_N, BTU_D * HOUR),
    ROW(POWER, "Btu/hr", BTU_N, BTU_D * HOUR), ROW(POWER, "BTU/hr", BTU_N, BTU_D * HOUR),
    ROW(POWER, "Btuh", BTU_N, BTU_D * HOUR), ROW(POWER, "BTUH", BTU_N, BTU_D * HOUR),
    ROW(POWER, "kBtu/h", 1000 * BTU_N, BTU_D * HOUR),
    ROW(POWER, "kBTU/h", 1000 * BTU_N, BTU_D * HOUR),
    ROW(POWER, "kBtu/hr", 1000 * BTU_N, BTU_D * HOUR),
    ROW(POWER, "kBTU/hr", 1000 * BTU_N, BTU_D * HOUR),
    ROW(POWER, "MBH", 1000 * BTU_N, BTU_D * HOUR), /* M of the trade: a Roman thousand */
    ROW(POWER, "MMBtu/h", 1e6 * BTU_N, BTU_D * HOUR),
    ROW(POWER, "MMBTU/h", 1e6 * BTU_N, BTU_D * HOUR),
    ROW(POWER, "therm/h", 1e5 * BTU_N, BTU_D * HOUR),

    ROW(ANGLE, "rad", 1, 1),
    ROW(ANGLE, "deg", DW_PI, 180), ROW(ANGLE, "degrees", DW_PI, 180),

    ROW(TIME, "s", 1, 1), ROW(TIME, "sec", 1, 1),
    ROW(TIME, "ms", 1, 1000),
    ROW(TIME, "min", 60, 1),
    ROW(TIME, "h", HOUR, 1), ROW(TIME, "hr", HOUR, 1),
    ROW(TIME, "hour", HOUR, 1), ROW(TIME, "hours", HOUR, 1),
    ROW(TIME, "d", 24 * HOUR, 1), ROW(TIME, "day", 24 * HOUR, 1), ROW(TIME, "days", 24 * HOUR, 1),

    ROW(CONDUCTANCE, "W/K", 1, 1), ROW(CONDUCTANCE, "W/degC", 1, 1),
    ROW(CONDUCTANCE, "kW/K", 1000, 1),
    ROW(CONDUCTANCE, "Btu/(h degF)", BTU_N * 9, BTU_D * HOUR * 5),
    ROW(CONDUCTANCE, "Btu/h/degF", BTU_N * 9, BTU_D * HOUR * 5),

    ROW(ENERGY_PER_MASS, "J/kg", 1, 1),
    ROW(ENERGY_PER_MASS, "kJ/kg", 1000, 1),
    ROW(ENERGY_PER_MASS, "MJ/kg", 1e6, 1),
    ROW(ENERGY_PER_MASS, "kWh/kg", 1000 * HOUR, 1),
    ROW(ENERGY_PER_MASS, "kcal/kg", KCAL_J, 1),
    ROW(ENERGY_PER_MASS, "Btu/lb", 2326, 1), ROW(ENERGY_PER_MASS, "BTU/lb", 2326, 1),

    ROW(ENERGY_PER_VOLUME, "J/m3", 1, 1),
    ROW(ENERGY_PER_VOLUME, "kJ/m3", 1000, 1),
    ROW(ENERGY_PER_VOLUME, "MJ/m3", 1e6, 1), ROW(ENERGY_PER_VOLUME, "kJ/L", 1e6, 1),
    ROW(ENERGY_PER_VOLUME, "kWh/m3", 1000 * HOUR, 1),
    ROW(ENERGY_PER_VOLUME, "kcal/m3", KCAL_J, 1),
    ROW(ENERGY_PER_VOLUME, "Btu/ft3", BTU_N * FOOT3_D, BTU_D * FOOT3_N),
    ROW(ENERGY_PER_VOLUME, "BTU/ft3", BTU_N * FOOT3_D, BTU_D * FOOT3_N),
    ROW(ENERGY_PER_VOLUME, "Btu/cu ft", BTU_N * FOOT3_D, BTU_D * FOOT3_N),
    ROW(ENERGY_PER_VOLUME, "BTU/cu ft", BTU_N * FOOT3_D, BTU_D * FOOT3_N),
    ROW(ENERGY_PER_VOLUME, "Btu/cf", BTU_N * FOOT3_D, BTU_D * FOOT3_N),
    ROW(ENERGY_PER_VOLUME, "BTU/cf", BTU_N * FOOT3_D, BTU_D * FOOT3_N),

    ROW(DENSITY, "kg/m3", 1, 1), ROW(DENSITY, "g/L", 1, 1),
    ROW(DENSITY, "g/cm3", 1000, 1), ROW(DENSITY, "kg/L", 1000, 1),
    ROW(DENSITY, "lb/ft3", POUND_N * FOOT3_D, POUND_D * FOOT3_N),

    ROW(MOLAR_MASS, "kg/mol", 1, 1),
    ROW(MOLAR_MASS, "g/mol", 1, 1000), ROW(MOLAR_MASS, "kg/kmol", 1, 1000),
    ROW(MOLAR_MASS, "lb/lbmol", 1, 1000),

    ROW(VOLTAGE, "V", 1, 1),
    ROW(VOLTAGE, "mV", 1, 1000),

    ROW(POWER_PER_VOLUME, "W/m3", 1, 1),
    ROW(POWER_PER_VOLUME, "kW/m3", 1000, 1),
    ROW(POWER_PER_VOLUME, "MW/m3", 1e6, 1),
    ROW(POWER_PER_VOLUME, "W/L", 1000, 1), ROW(POWER_PER_VOLUME, "kW/L", 1e6, 1),
    ROW(POWER_PER_VOLUME, "Btu/(h ft3)", BTU_N * FOOT3_D, BTU_D * HOUR * FOOT3_N),
    ROW(POWER_PER_VOLUME, "Btu/h/ft3", BTU_N * FOOT3_D, BTU_D * HOUR * FOOT3_N),

    ROW(SPEED, "m/s", 1, 1),
    ROW(SPEED, "km/h", 1000, HOUR), ROW(SPEED, "km/hr", 1000, HOUR), ROW(SPEED, "kph", 1000, HOUR),
    ROW(SPEED, "ft/s", FOOT_N, FOOT_D), ROW(SPEED, "ft/min", FOOT_N, FOOT_D * 60),
    ROW(SPEED, "mph", 5280 * FOOT_N, FOOT_D * HOUR),
    ROW(SPEED, "kn", 1852, HOUR), ROW(SPEED, "kt", 1852, HOUR),
    ROW(SPEED, "knot", 1852, HOUR), ROW(SPEED, "knots", 1852, HOUR),

    ROW(AREA_PER_POWER, "m2/W", 1, 1), ROW(AREA_PER_POWER, "m2/kW", 1, 1000),
    ROW(AREA_PER_POWER, "cm2/W", 1, 1e4), ROW(AREA_PER_POWER, "cm2/kW", 1, 1e7),
    ROW(AREA_PER_POWER, "in2/(kBtu/h)", INCH_N * INCH_N * BTU_D * HOUR, INCH_D * INCH_D * BTU_N * 1000),

    ROW(PRESSURE_PER_LENGTH, "Pa/m", 1, 1),
    ROW(PRESSURE_PER_LENGTH, "in w.c./ft", GRAVITY_N * 1000, GRAVITY_D * 12),
};
const size_t dw_unit_row_count = sizeof dw_unit_rows / sizeof dw_unit_rows[0];

const dw_dim_text dw_dim_texts[DW_DIM_COUNT_] = {
    [DW_DIM_RATIO] = {"ratio", "a plain number or %", "1", "", "0.4, 40 %", {"%", "%"}},
    [DW_DIM_LENGTH] = {"length", "a length", "m", "_m", "m, cm, mm, in, ft, 1 1/2 in",
                       {"m", "ft"}},
    [DW_DIM_AREA] = {"area", "an area", "m2", "_m2", "m2, cm2, mm2, in2, ft2", {"cm2", "in2"}},
    [DW_DIM_VOLUME] = {"volume", "a volume (a total)", "m3", "_m3", "m3, L, ft3, in3",
                       {"m3", "ft3"}},
    [DW_DIM_PRESSURE_GAUGE] = {"gauge pressure", "a gauge pressure (against the room)", "Pa",
                               "_pa", "Pa, kPa, mbar, bar, in w.c., mmH2O, psi, psig",
                               {"kPa", "psi"}},
    [DW_DIM_PRESSURE_ABS] = {"absolute pressure", "an absolute pressure", "Pa", "_pa_abs",
                             "Pa, hPa, kPa, mbar, bar, atm, inHg, psia", {"kPa", "psia"}},
    [DW_DIM_TEMPERATURE] = {"temperature", "a temperature", "K", "_k", "degC, degF, K",
                            {"degC", "degF"}},
    [DW_DIM_TEMPERATURE_DIFF] = {"temperature difference", "a temperature difference", "K", "_dk",
                                 "K, degC_diff, degF_diff", {"K", "degF_diff"}},
    [DW_DIM_MASS] = {"mass", "a mass (a total)", "kg", "_kg", "kg, g, t, lb, oz", {"kg", "lb"}},
    [DW_DIM_MASS_FLOW] = {"mass flow", "a mass flow (a rate)", "kg/s", "_kg_s",
                          "kg/s, kg/h, g/s, lb/h", {"kg/h", "lb/h"}},
    [DW_DIM_VOLUME_FLOW] = {"volume flow", "a volume flow (a rate)", "m3/s", "_m3_s",
                            "m3/h, L/min, ft3/h, cfh, cfm", {"m3/h", "ft3/h"}},
    [DW_DIM_ENERGY] = {"energy", "an energy (a total)", "J", "_j", "J, kJ, MJ, kWh, Btu, therm",
                       {"MJ", "Btu"}},
    [DW_DIM_POWER] = {"power", "a power (a rate)", "W", "_w", "W, kW, MJ/h, Btu/h, kBtu/h, MBH",
                      {"kW", "Btu/h"}},
    [DW_DIM_ANGLE] = {"angle", "an angle", "rad", "_rad", "deg, rad", {"deg", "deg"}},
    [DW_DIM_TIME] = {"time", "a time", "s", "_s", "s, min, h, d", {"h", "h"}},
    [DW_DIM_CONDUCTANCE] = {"heat conductance", "a heat conductance", "W/K", "_w_k",
                            "W/K, kW/K, Btu/(h degF)", {"W/K", "Btu/(h degF)"}},
    [DW_DIM_ENERGY_PER_MASS] = {"energy per mass", "an energy per mass", "J/kg", "_j_kg",
                                "MJ/kg, kJ/kg, kWh/kg, Btu/lb", {"MJ/kg", "Btu/lb"}},
    [DW_DIM_ENERGY_PER_VOLUME] = {"energy per volume", "an energy per volume", "J/m3", "_j_m3",
                                  "MJ/m3, kWh/m3, Btu/ft3", {"MJ/m3", "Btu/ft3"}},
    [DW_DIM_DENSITY] = {"density", "a density", "kg/m3", "_kg_m3", "kg/m3, g/cm3, lb/ft3",
                        {"kg/m3", "lb/ft3"}},
    [DW_DIM_MOLAR_MASS] = {"molar mass", "a molar mass", "kg/mol", "_kg_mol",
                           "g/mol, kg/kmol, kg/mol", {"g/mol", "g/mol"}},
    [DW_DIM_VOLTAGE] = {"voltage", "a voltage", "V", "_v", "V, mV", {"mV", "mV"}},
    [DW_DIM_POWER_PER_VOLUME] = {"power per volume", "a power per volume", "W/m3", "_w_m3",
                                 "kW/m3, MW/m3, W/L, Btu/(h ft3)", {"kW/m3", "Btu/(h ft3)"}},
    [DW_DIM_SPEED] = {"speed", "a speed", "m/s", "_m_s", "m/s, km/h, mph, kn, ft/min", {"m/s", "mph"}},
    [DW_DIM_AREA_PER_POWER] = {"area per power", "an area per power", "m2/W", "_m2_w",
                               "cm2/kW, in2/(kBtu/h)", {"cm2/kW", "in2/(kBtu/h)"}},
    [DW_DIM_PRESSURE_PER_LENGTH] = {"pressure per length", "a pressure per length", "Pa/m", "_pa_m",
                                    "Pa/m, in w.c./ft", {"Pa/m", "in w.c./ft"}},
    [DW_DIM_NUMBER] = {"number", "a plain number", "1", "", "2, 0.85", {"", ""}},
    [DW_DIM_SHARE] = {"share", "a share in per cent", "1", "", "40 %, 2.5 %", {"%", "%"}},
};

#define CELSIUS "is not read as a temperature; write degC"
#define FAHRENHEIT "is not read as a temperature; write degF"
#define CONDITIONS \
    "means standard or normal conditions, but the key says which conditions hold; write m3 or ft3"
#define THOUSAND_OR_MILLION \
    "means a thousand to some people and a million to others; write kBtu or MMBtu"

const dw_unit_hint dw_unit_hints[] = {
    {"C", CELSIUS}, {"c", CELSIUS}, {"Celsius", CELSIUS}, {"celsius", CELSIUS},
    {"F", FAHRENHEIT}, {"f", FAHRENHEIT}, {"Fahrenheit", FAHRENHEIT}, {"fahrenheit", FAHRENHEIT},
    {"scf", CONDITIONS}, {"scfh", CONDITIONS}, {"SCFH", CONDITIONS}, {"scfm", CONDITIONS},
    {"SCFM", CONDITIONS}, {"Btu/scf", CONDITIONS}, {"Nm3", CONDITIONS}, {"Nm3/h", CONDITIONS},
    {"MJ/Nm3", CONDITIONS}, {"kWh/Nm3", CONDITIONS}, {"Sm3", CONDITIONS}, {"Sm3/h", CONDITIONS},
    {"MBtu", THOUSAND_OR_MILLION}, {"MBTU", THOUSAND_OR_MILLION},
    {"MBtu/h", THOUSAND_OR_MILLION}, {"MBTU/h", THOUSAND_OR_MILLION},
    {"gal", "is not the same in the U.S. and in Britain; write L or ft3"},
    {"ton", "has several sizes; write t (1000 kg), kg or lb"},
    {"tons", "has several sizes; write t (1000 kg), kg or lb"},
};
const size_t dw_unit_hint_count = sizeof dw_unit_hints / sizeof dw_unit_hints[0];
/* clang-format on */
