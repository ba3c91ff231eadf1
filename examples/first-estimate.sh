#!/bin/sh
# From a fresh clone to a first answer: installs what is missing (Debian, as root or with sudo),
# builds the program in build/ beside the sources, and estimates an example kiln.
# Works from any folder:  sh examples/first-estimate.sh
set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd -P)
# shellcheck source=../tests/support/packages.sh
. "$root/tests/support/packages.sh"

# shellcheck disable=SC2086
dw_need $dw_packages_build

build=$root/build
if [ ! -x "$build/src/damperwise" ]; then
  dw_say "Building in $build; the first time takes about a minute."
fi
if [ -f "$build/CMakeCache.txt" ]; then
  dw_configure "$build"       # keeps the options it was configured with
else
  dw_configure "$build" -DCMAKE_BUILD_TYPE=Release -DBUILD_TESTING=OFF
fi
dw_compile "$build" --target dw_cli

# Shows a command as it would be typed in the top folder, and runs it; its answer goes to file $1.
answer() {
  file=$1
  shift
  printf '\n$ damperwise'
  printf ' %s' "$@"
  printf '\n\n'
  "$build/src/damperwise" "$@" >"$file"
}

cd "$root"
answer "$build/first-estimate.txt" estimate examples/juniper-flat.yaml
# The first screen; all the details after it stay in the file.
sed '/^Hazards, warnings and notes$/,$d' "$build/first-estimate.txt"
printf '(The details are in %s.)\n' "$build/first-estimate.txt"

answer "$build/first-sweep.txt" sweep examples/juniper-flat.yaml --vary 'damper=10..100%:10%'
cat "$build/first-sweep.txt"

printf '\nThe program is %s.\n' "$build/src/damperwise"
printf 'The kiln is described in %s.\nCopy that file, put in your own numbers, and run the program on it.\n' \
  "$root/examples/juniper-flat.yaml"
printf 'Before any firing, read %s.\n' "$root/SAFETY.md"
