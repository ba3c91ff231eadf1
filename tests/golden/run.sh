#!/bin/sh
# Compares the program in build/ with its earlier output:  sh tests/golden/run.sh [--rewrite]
# With --rewrite the cases, and the answers that README shows, take what the program says now; git diff
# then shows what moved.
set -eu

here=$(CDPATH= cd -- "$(dirname -- "$0")" && pwd -P)
program=$here/../../build/src/damperwise
case " $* " in
  *" --rewrite "*) python3 "$here/test_documents.py" --program "$program" --rewrite ;;
esac
exec python3 "$here/run.py" --program "$program" "$@"
