#!/bin/sh
# Builds and tests everything. Installs what is missing (Debian, as root or with sudo).
# Works from any folder:  sh tests/run.sh [OPTION...]
#
#   (no option)      release build with warnings as errors in build/, all tests
#   --clang          the same with clang, in build-clang/
#   --sanitize       all tests under AddressSanitizer and UBSan, in build-asan/
#   --tidy           clang-tidy over every source file of the program
#   --fuzz SECONDS   every fuzz target for that long, in build-fuzz/
#   --fuzz-runs N    every fuzz target N times without sanitizers, in build-fuzz-fast/, and what it
#                    came upon again with them
#   --valgrind       memcheck over the program on all examples, and over the unit tests
#   --live           random states against NASA CEA, Cantera, CoolProp and fluids: build/live.csv
#   --second-opinion every example and random kilns against a second program, in Python:
#                    build/second_opinion.csv
#   --report         what the numbers were checked against: build/proof.txt and proof.html; standard
#                    kilns beside common practice: build/practice.csv
#   --coverage       all tests in build-coverage/, the lines they run, by folder
#   --wasm           the program for WebAssembly in build-wasm/, and all golden cases with it
#   --bench          the benchmarks (figures only mean something on a quiet machine)
#   --all            no option, --clang, --sanitize, --tidy, --fuzz 60, --valgrind, --coverage,
#                    --live, --second-opinion, --report, --wasm, --bench
#
# Several options may be given; they run in the order given. The last line says how many checks
# passed and failed: tests, and files, targets or programs where the check is no test.
# The exit code is 0 when nothing failed, 1 when something did, 2 for a wrong option.
set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd -P)
# shellcheck source=support/packages.sh
. "$root/tests/support/packages.sh"

passed=0
failed=0
tab=$(printf '\t')

# Books one check: $1 is 0 when it passed, $2 its name.
book() {
  if [ "$1" -eq 0 ]; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    printf 'failed: %s\n' "$2"
  fi
}

# Runs ctest in folder $1 and books what its summary says. A run without any test is a failure.
run_ctest() {
  code=0
  (cd "$1" && ctest --output-on-failure --no-tests=error -j "$(dw_jobs)") >"$1/ctest.log" 2>&1 ||
    code=$?
  cat "$1/ctest.log"
  summary=$(sed -n 's/^[0-9]*% tests passed, \([0-9]*\) tests failed out of \([0-9]*\).*/\1 \2/p' \
    "$1/ctest.log" | tail -n 1)
  if [ -z "$summary" ]; then
    book 1 "ctest in $1 gave no summary"
    return 0
  fi
  bad=${summary% *}
  total=${summary#* }
  failed=$((failed + bad))
  passed=$((passed + total - bad))
  if [ "$code" -ne 0 ] && [ "$bad" -eq 0 ]; then
    book 1 "ctest in $1 (exit code $code)"
  fi
}

# Configures, builds and tests folder $1 with the remaining words as CMake options.
build_and_test() {
  folder=$1
  shift
  dw_say "building in $folder"
  if dw_configure "$folder" -DBUILD_TESTING=ON -DDW_WERROR=ON "$@" && dw_compile "$folder"; then
    run_ctest "$folder"
  else
    book 1 "build in $folder"
  fi
}

mode_plain() {
  build_and_test "$root/build" -DCMAKE_BUILD_TYPE=Release
}

mode_clang() {
  dw_need clang
  build_and_test "$root/build-clang" -DCMAKE_BUILD_TYPE=Release -DCMAKE_C_COMPILER=clang
}

# -O1 and asserts kept: fast enough for the random studies, and traces stay readable.
mode_sanitize() {
  ASAN_OPTIONS=detect_leaks=1:detect_stack_use_after_return=1
  UBSAN_OPTIONS=print_stacktrace=1
  export ASAN_OPTIONS UBSAN_OPTIONS
  build_and_test "$root/build-asan" -DCMAKE_BUILD_TYPE=Debug '-DCMAKE_C_FLAGS_DEBUG=-O1 -g' \
    -DDW_SANITIZE=address,undefined,float-divide-by-zero
  unset ASAN_OPTIONS UBSAN_OPTIONS
}

# Every source file of src/, as it is compiled with clang. One line of the list is one file.
mode_tidy() {
  dw_need clang clang-tidy
  folder=$root/build-clang
  if ! dw_configure "$folder" -DBUILD_TESTING=ON -DDW_WERROR=ON -DCMAKE_BUILD_TYPE=Release \
    -DCMAKE_C_COMPILER=clang; then
    book 1 "configuring $folder"
    return 0
  fi
  list=$folder/tidy-files.txt
  find "$root/src" -name '*.c' | sort >"$list"
  rm -rf "$folder/tidy"
  mkdir "$folder/tidy"
  # A file per source: its name says which, its presence says that clang-tidy found something.
  export folder
  tr '\n' '\0' <"$list" | xargs -0 -n 1 -P "$(dw_jobs)" sh -c '
    log=$folder/tidy/$(basename "$1").log
    if clang-tidy -p "$folder" --quiet "$1" >"$log" 2>"$log.err"; then rm -f "$log" "$log.err"; fi
  ' sh || true
  while IFS= read -r file; do
    log=$folder/tidy/$(basename "$file").log
    if [ -e "$log" ]; then
      cat "$log"
      grep 'error:' "$log.err" || true
      book 1 "clang-tidy $file"
    else
      book 0 "clang-tidy $file"
    fi
  done <"$list"
}

# Builds the fuzz targets in folder $1 with the cmake options that follow; their list is in
# fuzz-targets.txt there.
build_fuzz() {
  folder=$1
  shift
  dw_need clang libclang-rt-14-dev
  if ! dw_configure "$folder" -DBUILD_TESTING=ON -DCMAKE_C_COMPILER=clang -DDW_FUZZ=ON "$@" ||
    ! dw_compile "$folder" --target fuzz_targets; then
    book 1 "build in $folder"
    return 1
  fi
  find "$folder/tests" -type f -name 'fuzz_*' ! -name '*.*' -perm -u+x | sort \
    >"$folder/fuzz-targets.txt"
  [ -s "$folder/fuzz-targets.txt" ] || book 1 "no fuzz target was built in $folder/tests"
}

build_fuzz_checked() {
  build_fuzz "$root/build-fuzz" -DCMAKE_BUILD_TYPE=Debug '-DCMAKE_C_FLAGS_DEBUG=-O1 -g' \
    -DDW_SANITIZE=address,undefined,float-divide-by-zero
}

# Runs fuzz target $2 of folder $1 with the options that follow. The checked-in corpus is read; what
# is found on the way stays in the folder.
fuzz_one() {
  folder=$1
  name=fuzz_$2
  shift 2
  mkdir -p "$folder/corpus/$name"
  code=0
  (cd "$folder" && "$folder/tests/$name" -timeout=20 -rss_limit_mb=4096 -print_final_stats=1 \
    -verbosity=0 "$@" "$folder/corpus/$name" "$root/tests/fuzz/corpus/${name#fuzz_}") \
    >"$folder/$name.log" 2>&1 </dev/null || code=$?
  if [ "$code" -ne 0 ]; then tail -n 60 "$folder/$name.log"; fi
  grep '^stat::number_of_executed_units\|^stat::average_exec' "$folder/$name.log" || true
}

mode_fuzz() {
  build_fuzz_checked || return 0
  while IFS= read -r target; do
    name=$(basename "$target")
    dw_say "fuzzing $name for $1 s"
    fuzz_one "$root/build-fuzz" "${name#fuzz_}" -max_total_time="$1"
    book "$code" "$name"
  done <"$root/build-fuzz/fuzz-targets.txt"
}

# Without sanitizers several times as many runs fit into an hour. What widened the coverage is then
# gone through once more with them.
mode_fuzz_runs() {
  build_fuzz_checked || return 0
  build_fuzz "$root/build-fuzz-fast" -DCMAKE_BUILD_TYPE=Release || return 0
  while IFS= read -r target; do
    name=$(basename "$target")
    dw_say "fuzzing $name, $1 runs"
    fuzz_one "$root/build-fuzz-fast" "${name#fuzz_}" -runs="$1"
    book "$code" "$name, $1 runs"
    code=0
    "$root/build-fuzz/tests/$name" -runs=0 -timeout=60 -rss_limit_mb=4096 -verbosity=0 \
      "$root/build-fuzz-fast/corpus/$name" >"$root/build-fuzz/$name.log" 2>&1 </dev/null ||
      code=$?
    if [ "$code" -ne 0 ]; then tail -n 60 "$root/build-fuzz/$name.log"; fi
    book "$code" "$name, its corpus of $(find "$root/build-fuzz-fast/corpus/$name" -type f |
      wc -l) files with sanitizers"
  done <"$root/build-fuzz-fast/fuzz-targets.txt"
}

# One command under memcheck, for xargs: $1 is a folder for logs, $2 an exit code that is right
# beside 0 (99 is valgrind's own), the rest is the command. A file named after the process holds
# the verdict, 0 or not, and the command.
memcheck='
  log=$1/$$
  allowed=$2
  shift 2
  code=0
  valgrind --quiet --error-exitcode=99 --leak-check=full \
    --errors-for-leak-kinds=definite,indirect,possible "$@" \
    >"$log.out" 2>"$log.err" </dev/null || code=$?
  [ "$code" = "$allowed" ] && code=0
  [ "$code" = 0 ] || tail -n 40 "$log.err"
  printf "%s\n%s\n" "$code" "$*" >"$log.verdict"
  rm -f "$log.out" "$log.err"
'

mode_valgrind() {
  dw_need valgrind
  folder=$root/build
  if ! dw_configure "$folder" -DBUILD_TESTING=ON -DDW_WERROR=ON -DCMAKE_BUILD_TYPE=Release ||
    ! dw_compile "$folder"; then
    book 1 "build in $folder"
    return 0
  fi
  scratch=$(mktemp -d) || dw_fail "cannot make a temporary folder"
  program=$folder/src/damperwise
  # Names and programs of the unit tests, as CMake wrote them down for ctest.
  sed -n 's/^add_test(\(\[=\[\)\{0,1\}unit\.[^ ]* "\([^"]*\)").*/\2/p' \
    "$folder/tests/CTestTestfile.cmake" >"$scratch/tests"
  [ -s "$scratch/tests" ] || book 1 "no unit test found for valgrind"
  # A command a line, its words separated by tabs: no path of ours has one.
  {
    sed "s/^/0$tab/" "$scratch/tests"
    for kiln in "$root"/examples/*.yaml; do
      printf '0\t%s\testimate\t%s\n' "$program" "$kiln"
      printf '0\t%s\testimate\t%s\t--format\tjson\n' "$program" "$kiln"
      printf '0\t%s\tcheck\t%s\t--units\tus\n' "$program" "$kiln"
      printf '0\t%s\tsweep\t%s\t--vary\tdamper=0..100%%:20%%\t--format\tcsv\n' \
        "$program" "$kiln"
    done
    for kiln in "$root"/tests/bad_input/*.yaml; do
      printf '3\t%s\testimate\t%s\n' "$program" "$kiln"
    done
  } >"$scratch/commands"
  mkdir "$scratch/logs"
  export memcheck tab
  tr '\n' '\0' <"$scratch/commands" | xargs -0 -n 1 -P "$(dw_jobs)" sh -c '
    IFS=$tab
    set -f
    logs=$1
    # Splitting at the tabs is wanted.
    # shellcheck disable=SC2086
    set -- $2
    IFS=" "
    exec sh -c "$memcheck" sh "$logs" "$@"
  ' sh "$scratch/logs" || true
  count=0
  for verdict in "$scratch"/logs/*.verdict; do
    [ -f "$verdict" ] || continue
    count=$((count + 1))
    { read -r code && IFS= read -r command; } <"$verdict"
    book "$code" "valgrind $command"
  done
  [ "$count" -eq "$(wc -l <"$scratch/commands")" ] || book 1 "valgrind lost a command"
  rm -rf "$scratch"
}

# Reference libraries from PyPI, in an environment of their own, and NASA's program from Debian.
# Where PyPI cannot be reached this is skipped, loudly; in CI that is a failure.
mode_live() {
  # shellcheck disable=SC2086
  dw_need $dw_packages_live
  folder=$root/build
  if ! dw_configure "$folder" -DBUILD_TESTING=ON -DDW_WERROR=ON -DCMAKE_BUILD_TYPE=Release ||
    ! dw_compile "$folder" --target ask; then
    book 1 "build in $folder"
    return 0
  fi
  code=0
  rm -f "$folder/live.csv"
  python=$(sh "$root/tests/reference/live/venv.sh" "$folder/live-venv") || code=$?
  if [ "$code" -ne 0 ] || [ -z "$python" ]; then
    [ "$code" -eq 0 ] || book 1 "the environment of the live comparison"
    return 0
  fi
  PYTHONDONTWRITEBYTECODE=1 "$python" "$root/tests/reference/live/compare.py" \
    --ask "$folder/tests/ask" --csv "$folder/live.csv" >"$folder/live.log" 2>&1 </dev/null || code=$?
  cat "$folder/live.log"
  summary=$(sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p' "$folder/live.log")
  if [ -z "$summary" ]; then
    book 1 "the live comparison gave no summary"
    return 0
  fi
  passed=$((passed + ${summary% *}))
  failed=$((failed + ${summary#* }))
  if [ "$code" -ne 0 ] && [ "${summary#* }" -eq 0 ]; then
    book 1 "the live comparison (exit code $code)"
  fi
}

# Each number that the script compares is a check: its last line says how many.
mode_second_opinion() {
  # shellcheck disable=SC2086
  dw_need $dw_packages_second_opinion
  folder=$root/build
  if ! dw_configure "$folder" -DBUILD_TESTING=ON -DDW_WERROR=ON -DCMAKE_BUILD_TYPE=Release ||
    ! dw_compile "$folder"; then
    book 1 "build in $folder"
    return 0
  fi
  code=0
  rm -f "$folder/second_opinion.csv"
  # Debian's own Python: that is the one its NumPy and SciPy belong to.
  PYTHONDONTWRITEBYTECODE=1 /usr/bin/python3 "$root/tests/reference/second_opinion/compare.py" \
    --program "$folder/src/damperwise" --csv "$folder/second_opinion.csv" \
    >"$folder/second_opinion.log" </dev/null || code=$?
  sed '$d' "$folder/second_opinion.log"
  summary=$(sed -n '$s/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p' \
    "$folder/second_opinion.log")
  if [ -z "$summary" ]; then
    book 1 "second opinion (exit code $code)"
    return 0
  fi
  passed=$((passed + ${summary% *}))
  failed=$((failed + ${summary#* }))
  if [ "$code" -ne 0 ] && [ "${summary#* }" -eq 0 ]; then
    book 1 "second opinion (exit code $code)"
  fi
}

# The deviation of every check value, and one page made of them; then standard kilns beside what practice
# takes as usual, where being outside is no failure. What other programs were asked
# before (build/live.csv, build/second_opinion.csv) goes into it.
mode_report() {
  dw_need python3
  folder=$root/build
  if ! dw_configure "$folder" -DBUILD_TESTING=ON -DDW_WERROR=ON -DCMAKE_BUILD_TYPE=Release ||
    ! dw_compile "$folder" --target dw_cli test_reference test_equilibrium_cea \
      test_units_udunits; then
    book 1 "build in $folder"
    return 0
  fi
  for pair in reference:test_reference cea:test_equilibrium_cea units:test_units_udunits; do
    code=0
    rm -f "$folder/proof_${pair%%:*}.csv"
    dw_quietly "$folder/proof_${pair%%:*}.log" \
      "$folder/tests/${pair#*:}" --csv "$folder/proof_${pair%%:*}.csv" || code=$?
    book "$code" "${pair#*:}"
  done
  code=0
  python3 -B "$root/tests/reference/proof.py" "$folder" </dev/null || code=$?
  book "$code" "the proof table"
  code=0
  python3 -B "$root/tests/reference/practice/practice.py" --program "$folder/src/damperwise" \
    --csv "$folder/practice.csv" </dev/null || code=$?
  book "$code" "the practice table"
}

mode_coverage() {
  dw_need gcovr python3
  folder=$root/build-coverage
  # Counts of an earlier build do not fit the lines of this one.
  if [ -d "$folder" ]; then find "$folder" -name '*.gcda' -exec rm -f {} +; fi
  build_and_test "$folder" -DCMAKE_BUILD_TYPE=Debug '-DCMAKE_C_FLAGS_DEBUG=-O0 -g' -DDW_COVERAGE=ON
  code=0
  dw_quietly "$folder/gcovr.log" gcovr --root "$root" --filter "$root/src/" \
    --json "$folder/coverage.json" "$folder" || code=$?
  if [ "$code" -eq 0 ]; then
    python3 "$root/tests/support/coverage.py" "$folder" "$root" </dev/null || code=$?
  fi
  book "$code" coverage
}

# The same engine where there is no operating system: its numbers are held to the golden ones.
mode_wasm() {
  # shellcheck disable=SC2086
  dw_need $dw_packages_wasm
  code=0
  program=$(sh "$root/tests/support/wasm.sh" "$root/build-wasm") || code=$?
  book "$code" "the build for WebAssembly"
  [ "$code" -eq 0 ] || return 0
  code=0
  python3 -B "$root/tests/golden/run.py" --program "$program" >"$root/build-wasm/golden.log" 2>&1 \
    </dev/null || code=$?
  if [ "$code" -ne 0 ]; then tail -n 60 "$root/build-wasm/golden.log"; fi
  tail -n 1 "$root/build-wasm/golden.log"
  book "$code" "golden cases with WebAssembly"
}

mode_bench() {
  folder=$root/build
  if ! dw_configure "$folder" -DBUILD_TESTING=ON -DDW_WERROR=ON -DCMAKE_BUILD_TYPE=Release ||
    ! dw_compile "$folder"; then
    book 1 "build in $folder"
    return 0
  fi
  bench=$(find "$folder/tests" -type f -name bench -perm -u+x | head -n 1)
  if [ -z "$bench" ]; then
    book 1 "no benchmark was built in $folder/tests"
    return 0
  fi
  # Beside NASA's program where that is installed; it is not worth its 38 MB otherwise.
  script=
  if dw_installed rocketcea; then script=$root/tests/bench/cea_time.py; fi
  code=0
  "$bench" "$folder/src/damperwise" "$root/examples/juniper-flat.yaml" ${script:+"$script"} \
    </dev/null || code=$?
  book "$code" bench
  # And Cantera, where the live comparison has brought it.
  if [ -x "$folder/live-venv/bin/python" ] && [ -x "$folder/tests/ask" ]; then
    code=0
    "$folder/live-venv/bin/python" -B "$root/tests/bench/cantera_time.py" \
      --ask "$folder/tests/ask" </dev/null || code=$?
    book "$code" cantera_time
  fi
}

usage() {
  sed -n '2,/^set -eu/{/^set -eu/d;s/^# \{0,1\}//;p;}' "$0"
}

is_count() {
  case ${1:-} in
    '' | *[!0-9]*) return 1 ;;
    *) [ "$1" -gt 0 ] ;;
  esac
}

# The options are checked before any work is done.
modes=
[ $# -gt 0 ] || modes=plain
while [ $# -gt 0 ]; do
  case $1 in
    --clang | --sanitize | --tidy | --valgrind | --live | --report | --coverage | --wasm | --bench)
      modes="$modes ${1#--}" ;;
    --second-opinion) modes="$modes second_opinion" ;;
    --fuzz | --fuzz-runs)
      if ! is_count "${2:-}"; then
        dw_say "$0: $1 needs a number (of seconds, or of runs)"
        exit 2
      fi
      case $1 in --fuzz) modes="$modes fuzz:$2" ;; *) modes="$modes fuzz_runs:$2" ;; esac
      shift
      ;;
    --all) modes="$modes plain clang sanitize tidy fuzz:60 valgrind coverage live second_opinion report wasm bench" ;;
    --help | -h)
      usage
      exit 0
      ;;
    *)
      dw_say "$0: unknown option '$1', see --help"
      exit 2
      ;;
  esac
  shift
done

# shellcheck disable=SC2086
dw_need $dw_packages_build $dw_packages_test

for mode in $modes; do
  case $mode in
    fuzz:*) mode_fuzz "${mode#fuzz:}" ;;
    fuzz_runs:*) mode_fuzz_runs "${mode#fuzz_runs:}" ;;
    *) "mode_$mode" ;;
  esac
done

printf '%d passed, %d failed\n' "$passed" "$failed"
[ "$failed" -eq 0 ]
