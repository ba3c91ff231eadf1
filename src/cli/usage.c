#include "usage.h"

#define COMMON_OPTIONS \
    "  --set PATH=VALUE       change one input of the description; can be repeated\n" \
    "  --damper SHARE         set every damper to this opening, such as 35%\n" \
    "  --gas-pressure P       gas pressure at the jets, such as '2.5 kPa' or '10 inH2O'\n" \
    "  --air-pressure P       air pressure at blown burners and air jets\n" \
    "  --temperature T        thermocouple reading, such as '1180 degC' or '2150 degF'\n" \
    "  --format FORMAT        text (default), json, csv or html; json is in SI units\n" \
    "  --units SYSTEM         metric (default) or us, for text, html and csv\n" \
    "  --output FILE          write the results to FILE instead of to standard output\n" \
    "  --config DIR           use the data files in DIR instead of the built-in ones\n" \
    "  --strict               exit with code 3 when there are warnings\n" \
    "  --help                 show this help\n" \
    "  --version              show the version\n"

#define WORKING_OPTION \
    "  --working              show how each number is worked out: formula, inputs, source\n"

#define CAUTION \
    "Every result is an estimate, not a measurement. Keep a carbon monoxide alarm and the\n" \
    "ventilation working. Local codes and a licensed gas fitter decide. See SAFETY.md.\n"

const char dw_usage_general[] =
    "Usage: damperwise COMMAND [OPTION]... KILN.yaml\n"
    "Works out flow, combustion and draft in a gas-fired pottery kiln.\n"
    "\n"
    "KILN.yaml describes the kiln and how it is run; - reads it from standard input.\n"
    "Options can come before or after it. A value with a space in it needs quotes.\n"
    "\n"
    "Commands:\n"
    "  estimate               what one setting means: atmosphere, draft, heat, hazards\n"
    "  sweep                  the same for many settings along one or two inputs\n"
    "  check                  every input and where it came from, and rules of thumb\n"
    "  room                   carbon monoxide in the room and in people, lighting, purging\n"
    "  exposure               carbon monoxide in a person, without a kiln\n"
    "  why                    what a term means, with the numbers of your kiln\n"
    "  oxides                 iron, copper and glaze iron in the gas, and what potters look for\n"
    "  ladder                 richness, CO, oxygen, probe volts and oxides side by side\n"
    "\n"
    "Options:\n" COMMON_OPTIONS
    "  --vary PATH=RANGE      sweep, room, oxides: the input to vary and its values; once or\n"
    "                         twice\n"
    "  --keys                 check: list every key that a description can have\n"
    "  --at-point N           sweep, room, oxides: show only row N, in full\n"
    "  --working              all but why: show how each number is worked out; where there are\n"
    "                         many rows, with --at-point\n"
    "\n"
    "Exit codes: 0 solved; 2 wrong usage; 3 bad input, or warnings with --strict;\n"
    "4 not solved; 5 internal error, out of memory, or results could not be written.\n"
    "\n"
    "'damperwise COMMAND --help' explains one command.\n"
    "\n" CAUTION;

static const char estimate_help[] =
    "Usage: damperwise estimate [OPTION]... KILN.yaml\n"
    "Shows what one setting of a kiln means for atmosphere, draft, heat and hazards.\n"
    "\n"
    "Options:\n" COMMON_OPTIONS WORKING_OPTION
    "\n"
    "Examples:\n"
    "  damperwise estimate kiln.yaml\n"
    "  damperwise estimate kiln.yaml --working --format html --output working.html\n"
    "  damperwise estimate kiln.yaml --damper 35% --units us\n"
    "  damperwise estimate kiln.yaml --set 'openings.top spyhole.open=100%'\n"
    "  damperwise estimate --format json --output now.json - <kiln.yaml\n"
    "\n" CAUTION;

static const char sweep_help[] =
    "Usage: damperwise sweep --vary PATH=RANGE [OPTION]... KILN.yaml\n"
    "Works out many settings of a kiln along one or two inputs, one row for each setting.\n"
    "\n"
    "PATH is an input as in --set, or damper, gas_pressure, air_pressure or temperature.\n"
    "RANGE is FROM..TO:STEP, a list with commas, or a mixture of the two. Write the unit\n"
    "after each number, or once at the end. With two --vary, the second changes fastest.\n"
    "At most 10 million rows; text and html take at most 100,000.\n"
    "\n"
    "Options:\n"
    "  --vary PATH=RANGE      the input to vary and its values; once or twice\n"
    "  --at-point N           show only row N, as estimate shows it\n"
    "  --working              with --at-point: show how each number is worked out\n" COMMON_OPTIONS
    "\n"
    "Examples:\n"
    "  damperwise sweep kiln.yaml --vary damper=0..100%:5%\n"
    "  damperwise sweep kiln.yaml --vary damper=0..100%:5% --at-point 8 --working\n"
    "  damperwise sweep kiln.yaml --vary 'gas_pressure=1 kPa..20 kPa:1 kPa'\n"
    "  damperwise sweep kiln.yaml --vary damper=20,30,40% \\\n"
    "      --vary 'temperature=900 degC..1280 degC:20 degC' --format csv\n"
    "\n"
    "Exit code 4 means that no row at all has a solution.\n"
    "\n" CAUTION;

static const char check_help[] =
    "Usage: damperwise check [OPTION]... KILN.yaml\n"
    "  or:  damperwise check --keys [--format FORMAT] [--output FILE]\n"
    "Lists every input of a description and where it came from (given, default or\n"
    "derived), and compares the kiln with rules of thumb.\n"
    "\n"
    "Options:\n" COMMON_OPTIONS
    "  --keys                 list every key that a description can have\n"
    "  --working              show how the ratios of the rules are worked out\n"
    "\n"
    "Examples:\n"
    "  damperwise check kiln.yaml\n"
    "  damperwise check --keys\n"
    "\n" CAUTION;

static const char room_help[] =
    "Usage: damperwise room [OPTION]... KILN.yaml\n"
    "Shows what comes out of a kiln into its room and what follows from that: carbon\n"
    "monoxide in the air, compared with limits and alarms, and in the blood; the pressure\n"
    "of the room; lighting and purging. The description needs a `room` (see `check --keys`).\n"
    "\n"
    "Options:\n"
    "  --vary PATH=RANGE      one row for each setting instead; once or twice, as in sweep\n"
    "  --at-point N           with --vary: show only row N, in full\n" WORKING_OPTION COMMON_OPTIONS
    "\n"
    "Examples:\n"
    "  damperwise room kiln.yaml\n"
    "  damperwise room kiln.yaml --working --format html --output working.html\n"
    "  damperwise room kiln.yaml --set 'room.exhaust_fan_flow=400 m3/h'\n"
    "  damperwise room kiln.yaml --vary damper=10..60%:5%\n"
    "\n"
    "The words low, raised and dangerous are estimates, nothing more.\n"
    "\n" CAUTION;

static const char exposure_help[] =
    "Usage: damperwise exposure --ppm P --hours H [OPTION]...\n"
    "  or:  damperwise exposure --series FILE.csv [OPTION]...\n"
    "Shows what carbon monoxide in the air does to a person over time, compared with\n"
    "limits and alarms. If somebody feels ill or an alarm has sounded: everyone out into\n"
    "fresh air, call the emergency number, get medical help. Read numbers afterwards.\n"
    "\n"
    "Options:\n"
    "  --ppm P                carbon monoxide in the air, parts per million\n"
    "  --hours H              for how long; a number without a unit is hours, or '45 min'\n"
    "  --series FILE.csv      a recorded series: a column time_min (or time_s, time_h, clock)\n"
    "                         and a column ppm\n"
    "  --activity WORD        rest, light or heavy (work); the worst is assumed if not given\n"
    "  --smoker               the person smokes\n"
    "  --height H --mass M    size of the person, such as '1.62 m' and '58 kg'\n"
    "  --sex WORD             male or female, for the volume of blood\n"
    "  --pressure P           air pressure at the place; sea level if not given\n"
    "  --symptoms             somebody feels ill or an alarm sounded: what to do comes first\n"
    WORKING_OPTION
    "  --format FORMAT, --units SYSTEM, --output FILE, --config DIR, --help\n"
    "\n"
    "Examples:\n"
    "  damperwise exposure --ppm 60 --hours 4 --activity light\n"
    "  damperwise exposure --series meter.csv --symptoms\n"
    "  damperwise exposure --ppm 60 --hours 4 --working\n"
    "\n"
    "The figures are for an average adult, not for you, and they are not a diagnosis.\n"
    "\n" CAUTION;

static const char why_help[] =
    "Usage: damperwise why [TERM] [OPTION]... [KILN.yaml]\n"
    "Explains a term in plain words, and with the numbers of a kiln if you name one.\n"
    "Without a term it lists all terms.\n"
    "\n"
    "Options:\n" COMMON_OPTIONS
    "\n"
    "Examples:\n"
    "  damperwise why\n"
    "  damperwise why neutral plane kiln.yaml\n"
    "  damperwise why draft kiln.yaml --damper 30%\n"
    "\n" CAUTION;

static const char oxides_help[] =
    "Usage: damperwise oxides [OPTION]... KILN.yaml\n"
    "  or:  damperwise oxides --at T OXYGEN [--glaze GLAZE]\n"
    "Shows which oxides of iron, copper, manganese and nickel are stable in the gas, how\n"
    "much of a glaze's iron is ferrous, and what potters look for at this temperature.\n"
    "\n"
    "Options:\n"
    "  --glaze GLAZE          a glaze of config/glazes.yaml, or its oxides by weight\n"
    "  --vary PATH=RANGE      one row for each setting; once or twice, as in sweep\n"
    "  --at T                 without a kiln: a temperature, or a range with one row each\n"
    "  OXYGEN                 with --at, one of\n"
    "    --log-po2 X          log10 of the oxygen pressure in bar (air: -0.68)\n"
    "    --co-co2 R           CO/CO2 of the gas\n"
    "    --h2-h2o R           H2/H2O of the gas\n"
    "    --volts V            volts of a zirconia probe against air\n"
    "  --at-point N           with --vary or a range of --at: show only row N, in full\n"
    "  --working              show how each number is worked out; where there are many rows,\n"
    "                         with --at-point\n" COMMON_OPTIONS
    "\n"
    "Examples:\n"
    "  damperwise oxides kiln.yaml\n"
    "  damperwise oxides kiln.yaml --glaze celadon --vary damper=10..60%:5%\n"
    "  damperwise oxides kiln.yaml --vary 'temperature=700 degC..1280 degC:20 degC'\n"
    "  damperwise oxides --at '1240 degC' --volts 0.61 --working\n"
    "  damperwise oxides --at '1250 degC..700 degC:50 degC' --log-po2 -0.68\n"
    "  damperwise oxides --at '1280 degC' --co-co2 0.2 --glaze '{SiO2: 70 %, Al2O3: 14 %,\n"
    "      CaO: 12 %, K2O: 3 %, Fe2O3: 1 %}'\n"
    "\n" CAUTION;

static const char ladder_help[] =
    "Usage: damperwise ladder [OPTION]... KILN.yaml\n"
    "Shows equivalence ratio, CO, oxygen, probe volts and stable oxides side by side, for\n"
    "the fuel, the air and the temperature of a kiln; with --format html as a chart too.\n"
    "\n"
    "Options:\n" COMMON_OPTIONS WORKING_OPTION
    "\n"
    "Examples:\n"
    "  damperwise ladder kiln.yaml --temperature '1000 degC'\n"
    "  damperwise ladder kiln.yaml --format html --output ladder.html\n"
    "  damperwise ladder kiln.yaml --set model.unmixedness=0\n"
    "  damperwise ladder kiln.yaml --working --format html --output working.html\n"
    "\n" CAUTION;

const char *const dw_usage_command[] = {estimate_help, sweep_help, check_help, room_help,
                                        exposure_help, why_help, oxides_help, ladder_help};

const char dw_usage_licence[] =
    "Copyright (C) the damperwise authors\n"
    "License GPLv3+: GNU GPL version 3 or later <https://gnu.org/licenses/gpl.html>.\n"
    "This is free software: you are free to change and redistribute it.\n"
    "There is NO WARRANTY, to the extent permitted by law.\n";
