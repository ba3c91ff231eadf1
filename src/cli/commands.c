#include "commands.h"

#include <stddef.h>
#include <string.h>

#include "words.h"

/* ---- options ------------------------------------------------------------------------------ */

const dw_cli_option dw_cli_options[DW_OPT_COUNT] = {
    [DW_OPT_SET] = {"set", "PATH=VALUE", DW_APPLY_SET, NULL, DW_NEEDS_KILN,
     "change one input of the description; can be repeated"},
    [DW_OPT_DAMPER] = {"damper", "SHARE", DW_APPLY_SETTING, "damper", DW_NEEDS_KILN,
     "set every damper to this opening, such as 35%"},
    [DW_OPT_GAS_PRESSURE] = {"gas-pressure", "P", DW_APPLY_SETTING, "gas_pressure", DW_NEEDS_KILN,
     "gas pressure at the jets, such as '2.5 kPa' or '10 inH2O'"},
    [DW_OPT_AIR_PRESSURE] = {"air-pressure", "P", DW_APPLY_SETTING, "air_pressure", DW_NEEDS_KILN,
     "air pressure at blown burners and air jets"},
    [DW_OPT_TEMPERATURE] = {"temperature", "T", DW_APPLY_SETTING, "temperature", DW_NEEDS_KILN,
     "thermocouple reading, such as '1180 degC' or '2150 degF'"},
    [DW_OPT_VARY] = {"vary", "PATH=RANGE", DW_APPLY_VARY, NULL, DW_NEEDS_NOTHING,
     "the input to vary and its values; once or twice"},
    [DW_OPT_FORMAT] = {"format", "FORMAT", DW_APPLY_FORMAT, NULL, DW_NEEDS_NOTHING,
     "text (default), json, csv or html; json is in SI units"},
    [DW_OPT_UNITS] = {"units", "SYSTEM", DW_APPLY_UNITS, NULL, DW_NEEDS_NOTHING,
     "metric (default) or us, for text, html and csv"},
    [DW_OPT_OUTPUT] = {"output", "FILE", DW_APPLY_OUTPUT, NULL, DW_NEEDS_NOTHING,
     "write the results to FILE instead of to standard output"},
    [DW_OPT_CONFIG] = {"config", "DIR", DW_APPLY_CONFIG, NULL, DW_NEEDS_NOTHING,
     "use the data files in DIR instead of the built-in ones"},
    [DW_OPT_STRICT] = {"strict", NULL, DW_APPLY_STRICT, NULL, DW_NEEDS_NOTHING,
     "exit with code 3 when there are warnings"},
    [DW_OPT_KEYS] = {"keys", NULL, DW_APPLY_KEYS, NULL, DW_NEEDS_NOTHING,
     "list every key that a description can have"},
    [DW_OPT_WORKING] = {"working", NULL, DW_APPLY_WORKING, NULL, DW_NEEDS_NOTHING,
     "show how each number is worked out: formula, inputs, source"},
    [DW_OPT_AT_POINT] = {"at-point", "N", DW_APPLY_AT_POINT, NULL, DW_NEEDS_NOTHING,
     "show only row N, in full"},
    [DW_OPT_PPM] = {"ppm", "P", DW_APPLY_ASKED, "ppm", DW_NEEDS_NOTHING,
     "carbon monoxide in the air, parts per million"},
    [DW_OPT_HOURS] = {"hours", "H", DW_APPLY_ASKED, "hours", DW_NEEDS_NOTHING,
     "for how long; a number without a unit is hours, or '45 min'"},
    [DW_OPT_ACTIVITY] = {"activity", "WORD", DW_APPLY_ASKED, "activity", DW_NEEDS_NOTHING,
     "rest, light or heavy (work); the worst is assumed if not given"},
    [DW_OPT_HEIGHT] = {"height", "H", DW_APPLY_ASKED, "height", DW_NEEDS_NOTHING,
     "size of the person, such as '1.62 m' and '58 kg'"},
    [DW_OPT_MASS] = {"mass", "M", DW_APPLY_ASKED, "mass", DW_NEEDS_NOTHING,
     ""},
    [DW_OPT_SEX] = {"sex", "WORD", DW_APPLY_ASKED, "sex", DW_NEEDS_NOTHING,
     "male or female, for the volume of blood"},
    [DW_OPT_PRESSURE] = {"pressure", "P", DW_APPLY_ASKED, "pressure", DW_NEEDS_NOTHING,
     "air pressure at the place; sea level if not given"},
    [DW_OPT_SERIES] = {"series", "FILE.csv", DW_APPLY_SERIES, NULL, DW_NEEDS_NOTHING,
     "a recorded series: a column time_min (or time_s, time_h, clock)\n"
     "and a column ppm"},
    [DW_OPT_SMOKER] = {"smoker", NULL, DW_APPLY_ASKED, "smoker", DW_NEEDS_NOTHING,
     "the person smokes"},
    [DW_OPT_SYMPTOMS] = {"symptoms", NULL, DW_APPLY_ASKED, "symptoms", DW_NEEDS_NOTHING,
     "somebody feels ill or an alarm sounded: what to do comes first"},
    [DW_OPT_AT] = {"at", "T", DW_APPLY_ASKED, "at", DW_NEEDS_NOTHING,
     "without a kiln: a temperature, or a range with one row each"},
    [DW_OPT_LOG_PO2] = {"log-po2", "X", DW_APPLY_ASKED, "log_po2", DW_NEEDS_AT,
     "log10 of the oxygen pressure in bar (air: -0.68)"},
    [DW_OPT_CO_CO2] = {"co-co2", "R", DW_APPLY_ASKED, "co_co2", DW_NEEDS_AT,
     "CO/CO2 of the gas"},
    [DW_OPT_VOLTS] = {"volts", "V", DW_APPLY_ASKED, "volts", DW_NEEDS_AT,
     "volts at the wires of an oxygen sensor, not of its controller,\n"
     "together with"},
    [DW_OPT_H2_H2O] = {"h2-h2o", "R", DW_APPLY_ASKED, "h2_h2o", DW_NEEDS_AT,
     "H2/H2O of the gas"},
    [DW_OPT_GLAZE] = {"glaze", "GLAZE", DW_APPLY_ASKED, "glaze", DW_NEEDS_NOTHING,
     "a glaze of config/glazes.yaml, or its oxides by weight"},
    [DW_OPT_SENSOR] = {"sensor", "KIND", DW_APPLY_ASKED, "sensor", DW_NEEDS_AT,
     "zirconia: a probe as hot as the kiln, with air on its other side;\n"
     "heated: a sensor that heats itself, such as a car's, with"},
    [DW_OPT_SENSOR_TEMPERATURE] = {"sensor-temperature", "T", DW_APPLY_ASKED, "sensor_temperature", DW_NEEDS_AT,
     "its temperature, from the data sheet"},
    [DW_OPT_FUEL] = {"fuel", "NAME", DW_APPLY_ASKED, "fuel", DW_NEEDS_AT,
     "with --at: the fuel, by its name in config/fuels.yaml"},
    [DW_OPT_HELP] = {"help", NULL, DW_APPLY_HELP, NULL, DW_NEEDS_NOTHING,
     "show this help"},
    [DW_OPT_VERSION] = {"version", NULL, DW_APPLY_VERSION, NULL, DW_NEEDS_NOTHING,
     "show the version"}};

/* ---- what the commands take --------------------------------------------------------------- */

#define AS_IS(name) {.option = DW_OPT_##name}
#define SHOWN(name, ...) {.option = DW_OPT_##name, __VA_ARGS__}
#define HIDDEN(name) {.option = DW_OPT_##name, .left = ""}
#define END {.option = DW_OPT_END}
#define COMMON                                                                                     \
    AS_IS(SET), AS_IS(DAMPER), AS_IS(GAS_PRESSURE), AS_IS(AIR_PRESSURE), AS_IS(TEMPERATURE),       \
        AS_IS(FORMAT), AS_IS(UNITS), AS_IS(OUTPUT), AS_IS(CONFIG), AS_IS(STRICT), AS_IS(HELP),     \
        AS_IS(VERSION)

static const dw_cli_taken of_estimate[] = {COMMON, AS_IS(WORKING), END};

static const dw_cli_taken of_sweep[] = {
    AS_IS(VARY),
    SHOWN(AT_POINT, .text = "show only row N, as estimate shows it"),
    SHOWN(WORKING, .text = "with --at-point: show how each number is worked out"),
    COMMON, END};

static const dw_cli_taken of_check[] = {
    COMMON,
    AS_IS(KEYS),
    SHOWN(WORKING, .text = "show how the ratios of the rules are worked out"),
    END};

static const dw_cli_taken of_room[] = {
    SHOWN(VARY, .text = "one row for each setting instead; once or twice, as in sweep"),
    SHOWN(AT_POINT, .text = "with --vary: show only row N, in full"),
    AS_IS(WORKING),
    COMMON, END};

static const dw_cli_taken of_exposure[] = {
    AS_IS(PPM), AS_IS(HOURS), AS_IS(SERIES), AS_IS(ACTIVITY), AS_IS(SMOKER),
    SHOWN(HEIGHT, .left = "--height H --mass M"), HIDDEN(MASS),
    AS_IS(SEX), AS_IS(PRESSURE), AS_IS(SYMPTOMS), AS_IS(WORKING),
    SHOWN(FORMAT, .left = "--format FORMAT, --units SYSTEM, --output FILE, --config DIR, --help",
     .text = ""),
    HIDDEN(UNITS), HIDDEN(OUTPUT), HIDDEN(CONFIG),
    HIDDEN(STRICT), HIDDEN(HELP), HIDDEN(VERSION), END};

static const dw_cli_taken of_why[] = {COMMON, END};

static const dw_cli_taken of_oxides[] = {
    AS_IS(GLAZE),
    SHOWN(VARY, .text = "one row for each setting; once or twice, as in sweep"),
    AS_IS(AT),
    SHOWN(LINE, .left = "OXYGEN", .text = "with --at, one of"),
    SHOWN(LOG_PO2, .indent = 2), SHOWN(CO_CO2, .indent = 2), SHOWN(H2_H2O, .indent = 2),
    SHOWN(VOLTS, .indent = 2), SHOWN(SENSOR, .indent = 4),
    SHOWN(SENSOR_TEMPERATURE, .indent = 4),
    AS_IS(FUEL),
    SHOWN(AT_POINT, .text = "with --vary or a range of --at: show only row N, in full"),
    SHOWN(WORKING, .text = "show how each number is worked out; where there are many rows,\n"
                             "with --at-point"),
    COMMON, END};

static const dw_cli_taken of_ladder[] = {COMMON, AS_IS(WORKING), END};

static const dw_cli_taken of_program[] = {
    COMMON,
    SHOWN(VARY, .text = "sweep, room, oxides: the input to vary and its values; once or\ntwice"),
    SHOWN(KEYS, .text = "check: list every key that a description can have"),
    SHOWN(AT_POINT, .text = "sweep, room, oxides: show only row N, in full"),
    SHOWN(WORKING, .text = "all but why: show how each number is worked out; where there are\n"
                             "many rows, with --at-point"),
    END};

/* ---- commands ----------------------------------------------------------------------------- */

const dw_cli_command dw_cli_commands[DW_COMMAND_COUNT] = {
    {.name = "estimate",
     .summary = "what one setting means: atmosphere, draft, heat, hazards",
     .question = "estimate",
     .words = DW_WORDS_KILN,
     .tells_findings = true,
     .taken = of_estimate,
     .usage =
     "Usage: damperwise estimate [OPTION]... KILN.yaml\n"
     "Shows what one setting of a kiln means for atmosphere, draft, heat and hazards.\n",
     .examples =
     "  damperwise estimate kiln.yaml\n"
     "  damperwise estimate kiln.yaml --working --format html --output working.html\n"
     "  damperwise estimate kiln.yaml --damper 35% --units us\n"
     "  damperwise estimate kiln.yaml --set 'openings.top spyhole.open=100%'\n"
     "  damperwise estimate --format json --output now.json - <kiln.yaml\n"},
    {.name = "sweep",
     .summary = "the same for many settings along one or two inputs",
     .question = "estimate",
     .words = DW_WORDS_KILN,
     .needs_vary = true,
     .tells_findings = true,
     .taken = of_sweep,
     .usage =
     "Usage: damperwise sweep --vary PATH=RANGE [OPTION]... KILN.yaml\n"
     "Works out many settings of a kiln along one or two inputs, one row for each setting.\n"
     "\n"
     "PATH is an input as in --set, or damper, gas_pressure, air_pressure or temperature.\n"
     "RANGE is FROM..TO:STEP, a list with commas, or a mixture of the two. Write the unit\n"
     "after each number, or once at the end. With two --vary, the second changes fastest.\n"
     "At most 10 million rows; text and html take at most 100,000.\n",
     .examples =
     "  damperwise sweep kiln.yaml --vary damper=0..100%:5%\n"
     "  damperwise sweep kiln.yaml --vary damper=0..100%:5% --at-point 8 --working\n"
     "  damperwise sweep kiln.yaml --vary 'gas_pressure=1 kPa..20 kPa:1 kPa'\n"
     "  damperwise sweep kiln.yaml --vary damper=20,30,40% \\\n"
     "      --vary 'temperature=900 degC..1280 degC:20 degC' --format csv\n",
     .end = "Exit code 4 means that no row at all has a solution.\n"},
    {.name = "check",
     .summary = "every input and where it came from, and rules of thumb",
     .question = "check",
     .words = DW_WORDS_KILN,
     .tells_findings = true,
     .taken = of_check,
     .usage =
     "Usage: damperwise check [OPTION]... KILN.yaml\n"
     "  or:  damperwise check --keys [--format FORMAT] [--output FILE]\n"
     "Lists every input of a description and where it came from (given, default or\n"
     "derived), and compares the kiln with rules of thumb.\n",
     .examples =
     "  damperwise check kiln.yaml\n"
     "  damperwise check --keys\n"},
    {.name = "room",
     .summary = "carbon monoxide in the room and in people, lighting, purging",
     .question = "room",
     .words = DW_WORDS_KILN,
     .tells_findings = true,
     .taken = of_room,
     .usage =
     "Usage: damperwise room [OPTION]... KILN.yaml\n"
     "Shows what comes out of a kiln into its room and what follows from that: carbon\n"
     "monoxide in the air, compared with limits and alarms, and in the blood; the pressure\n"
     "of the room; lighting and purging. The description needs a `room` (see `check --keys`).\n",
     .examples =
     "  damperwise room kiln.yaml\n"
     "  damperwise room kiln.yaml --working --format html --output working.html\n"
     "  damperwise room kiln.yaml --set 'room.exhaust_fan_flow=400 m3/h'\n"
     "  damperwise room kiln.yaml --vary damper=10..60%:5%\n",
     .end = "The words low, raised and dangerous are estimates, nothing more.\n"},
    {.name = "exposure",
     .summary = "carbon monoxide in a person, without a kiln",
     .question = "exposure",
     .words = DW_WORDS_NONE,
     .tells_findings = true,
     .taken = of_exposure,
     .usage =
     "Usage: damperwise exposure --ppm P --hours H [OPTION]...\n"
     "  or:  damperwise exposure --series FILE.csv [OPTION]...\n"
     "Shows what carbon monoxide in the air does to a person over time, compared with\n"
     "limits and alarms. If somebody feels ill or an alarm has sounded: everyone out into\n"
     "fresh air, call the emergency number, get medical help. Read numbers afterwards.\n",
     .examples =
     "  damperwise exposure --ppm 60 --hours 4 --activity light\n"
     "  damperwise exposure --series meter.csv --symptoms\n"
     "  damperwise exposure --ppm 60 --hours 4 --working\n",
     .end = "The figures are for an average adult, not for you, and they are not a diagnosis.\n"},
    {.name = "why",
     .summary = "what a term means, with the numbers of your kiln",
     .question = "why",
     .words = DW_WORDS_TERM,
     .taken = of_why,
     .usage =
     "Usage: damperwise why [TERM] [OPTION]... [KILN.yaml]\n"
     "Explains a term in plain words, and with the numbers of a kiln if you name one.\n"
     "Without a term it lists all terms.\n",
     .examples =
     "  damperwise why\n"
     "  damperwise why neutral plane kiln.yaml\n"
     "  damperwise why draft kiln.yaml --damper 30%\n"},
    {.name = "oxides",
     .summary = "iron, copper and glaze iron in the gas, and what potters look for",
     .question = "oxides",
     .words = DW_WORDS_KILN,
     .taken = of_oxides,
     .usage =
     "Usage: damperwise oxides [OPTION]... KILN.yaml\n"
     "  or:  damperwise oxides --at T OXYGEN [--glaze GLAZE]\n"
     "Shows which oxides of iron, copper, manganese and nickel are stable in the gas, how\n"
     "much of a glaze's iron is ferrous, and what potters look for at this temperature.\n",
     .examples =
     "  damperwise oxides kiln.yaml\n"
     "  damperwise oxides kiln.yaml --glaze celadon --vary damper=10..60%:5%\n"
     "  damperwise oxides kiln.yaml --vary 'temperature=700 degC..1280 degC:20 degC'\n"
     "  damperwise oxides --at '1240 degC' --volts 0.61 --sensor zirconia --fuel propane\n"
     "  damperwise oxides --at '1240 degC' --volts 0.82 --sensor heated \\\n"
     "      --sensor-temperature '700 degC'\n"
     "  damperwise oxides --at '1250 degC..700 degC:50 degC' --log-po2 -0.68\n"
     "  damperwise oxides --at '1280 degC' --co-co2 0.2 --glaze '{SiO2: 70 %, Al2O3: 14 %,\n"
     "      CaO: 12 %, K2O: 3 %, Fe2O3: 1 %}'\n"},
    {.name = "ladder",
     .summary = "richness, CO, oxygen, probe volts and oxides side by side",
     .question = "ladder",
     .words = DW_WORDS_KILN,
     .taken = of_ladder,
     .usage =
     "Usage: damperwise ladder [OPTION]... KILN.yaml\n"
     "Shows equivalence ratio, CO, oxygen, probe volts and stable oxides side by side, for\n"
     "the fuel, the air and the temperature of a kiln; with --format html as a chart too.\n",
     .examples =
     "  damperwise ladder kiln.yaml --temperature '1000 degC'\n"
     "  damperwise ladder kiln.yaml --format html --output ladder.html\n"
     "  damperwise ladder kiln.yaml --set model.unmixedness=0\n"
     "  damperwise ladder kiln.yaml --working --format html --output working.html\n"}};

const dw_cli_command dw_cli_program = {
    .taken = of_program,
    .usage =
        "Usage: damperwise COMMAND [OPTION]... KILN.yaml\n"
        "Works out flow, combustion and draft in a gas-fired pottery kiln.\n"
        "\n"
        "KILN.yaml describes the kiln and how it is run; - reads it from standard input.\n"
        "Options can come before or after it. A value with a space in it needs quotes.\n",
    .end =
        "Exit codes: 0 solved; 2 wrong usage; 3 bad input, or warnings with --strict;\n"
        "4 not solved; 5 internal error, out of memory, or results could not be written.\n"
        "\n"
        "'damperwise COMMAND --help' explains one command.\n"};

bool dw_cli_takes(const dw_cli_command *command, int option)
{
    const dw_cli_taken *t = command->taken;
    while (t->option != DW_OPT_END && t->option != option) ++t;
    return t->option != DW_OPT_END;
}

int dw_cli_command_find(const char *name)
{
    const char *names[DW_COMMAND_COUNT + 1] = {NULL};
    int index;
    for (size_t i = 0; i < DW_COMMAND_COUNT; ++i) names[i] = dw_cli_commands[i].name;
    (void)dw_word_choose("command", name, names, &index);
    return index;
}
