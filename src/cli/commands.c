#include "commands.h"

#include <stddef.h>
#include <string.h>

#include "words.h"

#define AS_ROW(id, name, argument, apply, key, help) {name, argument, DW_APPLY_##apply, key, help},
const dw_cli_option dw_cli_options[DW_OPT_COUNT] = {DW_CLI_OPTIONS(AS_ROW)};

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
    {.name = "estimate", .question = "estimate", .tells_findings = true, .taken = of_estimate,
     .summary = "what one setting means: atmosphere, draft, heat, hazards",
     .usage = "Usage: damperwise estimate [OPTION]... KILN.yaml\n"
     "Shows what one setting of a kiln means for atmosphere, draft, heat and hazards.\n",
     .examples = "  damperwise estimate kiln.yaml\n"
     "  damperwise estimate kiln.yaml --working --format html --output working.html\n"
     "  damperwise estimate kiln.yaml --damper 35% --units us\n"
     "  damperwise estimate kiln.yaml --set 'openings.top spyhole.open=100%'\n"
     "  damperwise estimate --format json --output now.json - <kiln.yaml\n"},
    {.name = "sweep", .question = "estimate", .needs_vary = true, .tells_findings = true, .taken = of_sweep,
     .summary = "the same for many settings along one or two inputs",
     .usage = "Usage: damperwise sweep --vary PATH=RANGE [OPTION]... KILN.yaml\n"
     "Works out many settings of a kiln along one or two inputs, one row for each setting.\n"
     "\n"
     "PATH is an input as in --set, or damper, gas_pressure, air_pressure or temperature.\n"
     "RANGE is FROM..TO:STEP, a list with commas, or a mixture of the two. Write the unit\n"
     "after each number, or once at the end. With two --vary, the second changes fastest.\n"
     "At most 10 million rows; text and html take at most 100,000.\n",
     .examples = "  damperwise sweep kiln.yaml --vary damper=0..100%:5%\n"
     "  damperwise sweep kiln.yaml --vary damper=0..100%:5% --at-point 8 --working\n"
     "  damperwise sweep kiln.yaml --vary 'gas_pressure=1 kPa..20 kPa:1 kPa'\n"
     "  damperwise sweep kiln.yaml --vary damper=20,30,40% \\\n"
     "      --vary 'temperature=900 degC..1280 degC:20 degC' --format csv\n",
     .end = "Exit code 4 means that no row at all has a solution.\n"},
    {.name = "check", .question = "check", .tells_findings = true, .taken = of_check,
     .summary = "every input and where it came from, and rules of thumb",
     .usage = "Usage: damperwise check [OPTION]... KILN.yaml\n"
     "  or:  damperwise check --keys [--format FORMAT] [--output FILE]\n"
     "Lists every input of a description and where it came from (given, default or\n"
     "derived), and compares the kiln with rules of thumb.\n",
     .examples = "  damperwise check kiln.yaml\n"
     "  damperwise check --keys\n"},
    {.name = "room", .question = "room", .tells_findings = true, .taken = of_room,
     .summary = "carbon monoxide in the room and in people, lighting, purging",
     .usage = "Usage: damperwise room [OPTION]... KILN.yaml\n"
     "Shows what comes out of a kiln into its room and what follows from that: carbon\n"
     "monoxide in the air, compared with limits and alarms, and in the blood; the pressure\n"
     "of the room; lighting and purging. The description needs a `room` (see `check --keys`).\n",
     .examples = "  damperwise room kiln.yaml\n"
     "  damperwise room kiln.yaml --working --format html --output working.html\n"
     "  damperwise room kiln.yaml --set 'room.exhaust_fan_flow=400 m3/h'\n"
     "  damperwise room kiln.yaml --vary damper=10..60%:5%\n",
     .end = "The words low, raised and dangerous are estimates, nothing more.\n"},
    {.name = "exposure", .question = "exposure", .words = DW_WORDS_NONE, .tells_findings = true, .taken = of_exposure,
     .summary = "carbon monoxide in a person, without a kiln",
     .usage = "Usage: damperwise exposure --ppm P --hours H [OPTION]...\n"
     "  or:  damperwise exposure --series FILE.csv [OPTION]...\n"
     "Shows what carbon monoxide in the air does to a person over time, compared with\n"
     "limits and alarms. If somebody feels ill or an alarm has sounded: everyone out into\n"
     "fresh air, call the emergency number, get medical help. Read numbers afterwards.\n",
     .examples = "  damperwise exposure --ppm 60 --hours 4 --activity light\n"
     "  damperwise exposure --series meter.csv --symptoms\n"
     "  damperwise exposure --ppm 60 --hours 4 --working\n",
     .end = "The figures are for an average adult, not for you, and they are not a diagnosis.\n"},
    {.name = "why", .question = "why", .words = DW_WORDS_TERM, .taken = of_why,
     .summary = "what a term means, with the numbers of your kiln",
     .usage = "Usage: damperwise why [TERM] [OPTION]... [KILN.yaml]\n"
     "Explains a term in plain words, and with the numbers of a kiln if you name one.\n"
     "Without a term it lists all terms.\n",
     .examples = "  damperwise why\n"
     "  damperwise why neutral plane kiln.yaml\n"
     "  damperwise why draft kiln.yaml --damper 30%\n"},
    {.name = "oxides", .question = "oxides", .taken = of_oxides,
     .summary = "iron, copper and glaze iron in the gas, and what potters look for",
     .usage = "Usage: damperwise oxides [OPTION]... KILN.yaml\n"
     "  or:  damperwise oxides --at T OXYGEN [--glaze GLAZE]\n"
     "Shows which oxides of iron, copper, manganese and nickel are stable in the gas, how\n"
     "much of a glaze's iron is ferrous, and what potters look for at this temperature.\n",
     .examples = "  damperwise oxides kiln.yaml\n"
     "  damperwise oxides kiln.yaml --glaze celadon --vary damper=10..60%:5%\n"
     "  damperwise oxides kiln.yaml --vary 'temperature=700 degC..1280 degC:20 degC'\n"
     "  damperwise oxides --at '1240 degC' --volts 0.61 --sensor zirconia --fuel propane\n"
     "  damperwise oxides --at '1240 degC' --volts 0.82 --sensor heated \\\n"
     "      --sensor-temperature '700 degC'\n"
     "  damperwise oxides --at '1250 degC..700 degC:50 degC' --log-po2 -0.68\n"
     "  damperwise oxides --at '1280 degC' --co-co2 0.2 --glaze '{SiO2: 70 %, Al2O3: 14 %,\n"
     "      CaO: 12 %, K2O: 3 %, Fe2O3: 1 %}'\n"},
    {.name = "ladder", .question = "ladder", .taken = of_ladder,
     .summary = "richness, CO, oxygen, probe volts and oxides side by side",
     .usage = "Usage: damperwise ladder [OPTION]... KILN.yaml\n"
     "Shows equivalence ratio, CO, oxygen, probe volts and stable oxides side by side, for\n"
     "the fuel, the air and the temperature of a kiln; with --format html as a chart too.\n",
     .examples = "  damperwise ladder kiln.yaml --temperature '1000 degC'\n"
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
