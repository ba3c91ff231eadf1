#!/bin/sh
# Usage: run.sh BUILD-DIR. Installs the built library into a scratch folder and builds a program on it.
set -eu
build=$1
here=$(cd "$(dirname "$0")" && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
# A library built for gcov or a sanitizer asks the same of what links it.
flags=$(sed -n 's/^DW_SANITIZE:STRING=\(..*\)/-fsanitize=\1/p;s/^DW_COVERAGE:BOOL=ON/--coverage/p' \
  "$build/CMakeCache.txt" | tr '\n' ' ')
cmake --install "$build" --prefix "$scratch/prefix" > "$scratch/log" || { cat "$scratch/log"; exit 1; }
cmake -S "$here" -B "$scratch/build" -DCMAKE_PREFIX_PATH="$scratch/prefix" \
  "-DCMAKE_EXE_LINKER_FLAGS=$flags" > "$scratch/log" 2>&1 &&
  cmake --build "$scratch/build" >> "$scratch/log" 2>&1 || { cat "$scratch/log"; exit 1; }
"$scratch/build/user"
"$scratch/prefix/bin/damperwise" --version
