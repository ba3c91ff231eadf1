#!/bin/sh
# Tests the tests: changes one thing of the source at a time, in a copy, and looks whether a test
# turns red.  sh tests/mutate.sh [--layer physics|model|io|all] [--sample N --seed S] [--file F]
#                                [--jobs 2] [--list] ...       (all options: --help)
set -eu

here=$(CDPATH= cd -- "$(dirname -- "$0")" && pwd -P)
exec python3 "$here/mutate/mutate.py" "$@"
