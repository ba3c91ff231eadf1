#!/bin/sh
# Makes the private virtual environment of the live comparison and prints its Python.
#
#     sh tests/reference/live/venv.sh [FOLDER]        FOLDER is build/live-venv when not given
#
# Takes cantera, CoolProp and fluids from PyPI by pip. Where PyPI cannot be reached it says
# SKIPPED on standard error, prints nothing and exits 0; with CI=true that is an error, exit 1.
set -eu

here=$(CDPATH= cd -- "$(dirname -- "$0")" && pwd -P)
root=$(CDPATH= cd -- "$here/../../.." && pwd -P)
folder=${1:-$root/build/live-venv}
wanted=$here/requirements.txt
python=/usr/bin/python3
[ -x "$python" ] || python=python3

say() {
  printf '%s\n' "$*" >&2
}

# Made before from the same list: nothing to do, and no network needed.
if cmp -s "$wanted" "$folder/requirements.txt" && "$folder/bin/python" -c '' 2>/dev/null; then
  printf '%s\n' "$folder/bin/python"
  exit 0
fi

mkdir -p "$folder"
log=$folder/install.log
if ! "$python" -m venv --clear "$folder" >&2; then
  say "venv.sh: $python cannot make a virtual environment (Debian: apt-get install python3-venv)"
  exit 1
fi
if "$folder/bin/python" -m pip install --quiet --disable-pip-version-check --only-binary :all: \
  --retries 2 --timeout 30 -r "$wanted" >"$log" 2>&1; then
  "$folder/bin/python" -c 'import cantera, CoolProp, fluids, scipy' >&2
  cp "$wanted" "$folder/requirements.txt"
  printf '%s\n' "$folder/bin/python"
  exit 0
fi
tail -n 20 "$log" >&2
say '**********************************************************************'
say 'SKIPPED: live comparison: PyPI did not give cantera, CoolProp and fluids'
say '**********************************************************************'
[ "${CI:-}" != true ]
