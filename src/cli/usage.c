#include "usage.h"

#define COMMON_OPTIONS \
    "  --set PATH=VALUE       change an input of the description; may be repeated\n" \
    "  --damper SHARE         every damper open so far, such as 35% (short for --set)\n" \
    "  --gas-pressure P       gas pressure at the jets, such as '2.5 kPa' or '10 inH2O'\n" \
    "  --air-pressure P       air pressure at blown burners and air jets\n" \
    "  --temperature T        thermocouple reading, such as '1180 degC' or '2150 degF'\n" \
    "  --format FORMAT        text (default), json or csv; json is in SI units\n" \
    "  --units SYSTEM         metric (default) or us, for text and csv\n" \
    "  --output FILE          write the results there instead of to standard output\n" \
    "  --config DIR           take data files from DIR in place of the built-in ones\n" \
    "  --strict               end with exit code 3 when there are warnings\n" \
    "  --help                 show this help and end\n" \
    "  --version              show the version and end\n"

#define CAUTION \
    "An estimate is not a measurement. Keep a carbon monoxide alarm and the\n" \
    "ventilation working; local code and a licensed gas fitter decide. See SAFETY.md.\n"

const char dw_usage_general[] =
    "Usage: damperwise COMMAND [OPTION]... KILN.yaml\n"
    "Flow, combustion and draft of gas-fired pottery kilns.\n"
    "\n"
    "KILN.yaml describes the kiln and how it is run; - reads standard input.\n"
    "Options may stand before or after it.\n"
    "\n"
    "Commands:\n"
    "  estimate               what one setting means: atmosphere, draft, heat, hazards\n"
    "  sweep                  the same for many settings along one or two inputs\n"
    "  check                  every input with its origin, and rules of thumb\n"
    "\n"
    "Options:\n" COMMON_OPTIONS
    "  --vary PATH=RANGE      sweep: input to vary and its values; once or twice\n"
    "  --keys                 check: list every key of a description, with help\n"
    "\n"
    "Exit codes: 0 solved; 2 wrong usage; 3 bad input, or warnings with --strict;\n"
    "4 not solved; 5 internal error, out of memory, or results could not be written.\n"
    "\n"
    "'damperwise COMMAND --help' tells more about a command.\n"
    "\n" CAUTION;

static const char estimate_help[] =
    "Usage: damperwise estimate [OPTION]... KILN.yaml\n"
    "What one setting of a kiln means for atmosphere, draft, heat and hazards.\n"
    "\n"
    "Options:\n" COMMON_OPTIONS
    "\n"
    "Examples:\n"
    "  damperwise estimate kiln.yaml\n"
    "  damperwise estimate kiln.yaml --damper 35% --units us\n"
    "  damperwise estimate kiln.yaml --set 'openings.top spyhole.open=100%'\n"
    "  damperwise estimate --format json --output now.json - <kiln.yaml\n"
    "\n" CAUTION;

static const char sweep_help[] =
    "Usage: damperwise sweep --vary PATH=RANGE [OPTION]... KILN.yaml\n"
    "Many settings of a kiln, one row each, along one or two inputs.\n"
    "\n"
    "PATH is an input as in --set, or damper, gas_pressure, air_pressure, temperature.\n"
    "RANGE is FROM..TO:STEP, a list with commas, or a mixture of both. The unit may\n"
    "stand at each number or once at the end. With two --vary the second moves\n"
    "fastest. At most 10 million points.\n"
    "\n"
    "Options:\n"
    "  --vary PATH=RANGE      input to vary and its values; once or twice\n" COMMON_OPTIONS
    "\n"
    "Examples:\n"
    "  damperwise sweep kiln.yaml --vary damper=0..100%:5%\n"
    "  damperwise sweep kiln.yaml --vary 'gas_pressure=1 kPa..20 kPa:1 kPa'\n"
    "  damperwise sweep kiln.yaml --vary damper=20,30,40% \\\n"
    "      --vary 'temperature=900 degC..1280 degC:20 degC' --format csv\n"
    "\n"
    "Exit code 4 only when no point at all has a solution.\n"
    "\n" CAUTION;

static const char check_help[] =
    "Usage: damperwise check [OPTION]... KILN.yaml\n"
    "  or:  damperwise check --keys [--format FORMAT] [--output FILE]\n"
    "Every input of a description with where it came from (given, default, derived),\n"
    "and how the kiln stands to rules of thumb.\n"
    "\n"
    "Options:\n" COMMON_OPTIONS
    "  --keys                 list every key of a description, with help\n"
    "\n"
    "Examples:\n"
    "  damperwise check kiln.yaml\n"
    "  damperwise check --keys\n"
    "\n" CAUTION;

const char *const dw_usage_command[] = {estimate_help, sweep_help, check_help};

const char dw_usage_licence[] =
    "Copyright (C) the damperwise authors\n"
    "License GPLv3+: GNU GPL version 3 or later <https://gnu.org/licenses/gpl.html>.\n"
    "This is free software: you are free to change and redistribute it.\n"
    "There is NO WARRANTY, to the extent permitted by law.\n";
