#!/bin/sh
# Compares the program in build/ with its earlier output:  sh tests/golden/run.sh [--rewrite]
# With --rewrite the cases take what the program says now; git diff then shows what moved.
set -eu

here=$(CDPATH= cd -- "$(dirname -- "$0")" && pwd -P)
exec python3 "$here/run.py" --program "$here/../../build/src/damperwise" "$@"
