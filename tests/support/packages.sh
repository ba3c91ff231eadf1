# What examples/first-estimate.sh and tests/run.sh share: installing Debian packages that are
# missing, configuring and building. To be sourced by a POSIX shell that has set `root` to the
# top of the source tree. Names with dw_ are ours; nothing here changes the current directory.

# What the program itself needs. libc6-dev is only recommended by gcc, so it stands here too.
dw_packages_build='gcc libc6-dev make cmake pkg-config libgsl-dev libyaml-dev libjansson-dev libcsv-dev'
# What the tests need on top of that.
dw_packages_test='libcmocka-dev libudunits2-dev locales python3'
# What the live comparison needs on top of that: 40 MB with NASA's program.
dw_packages_live='python3 python3-venv rocketcea'

# What the build for WebAssembly needs: the compiler, and dpkg-source for the libraries' sources.
dw_packages_wasm='emscripten nodejs dpkg-dev python3'

# What the second opinion in tests/reference needs, and nothing else does.
dw_packages_second_opinion='python3 python3-numpy python3-scipy python3-yaml'

# Says something to the person, on standard error like all talk.
dw_say() {
  printf '%s\n' "$*" >&2
}

# Ends the script with a message.
dw_fail() {
  dw_say "$0: $*"
  exit 1
}

# Is this Debian package installed?
dw_installed() {
  [ "$(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
}

# Runs a command quietly; shows what it said only when it fails. $1 is a log file.
dw_quietly() {
  dw_log=$1
  shift
  if "$@" >"$dw_log" 2>&1; then
    return 0
  else
    dw_code=$?
    dw_say "failed: $*"
    tail -n 60 "$dw_log" >&2
    return "$dw_code"
  fi
}

# Installs those of the named packages that are missing. Touches neither the network nor the
# package lists when all are there.
dw_need() {
  if ! command -v apt-get >/dev/null 2>&1 || ! command -v dpkg-query >/dev/null 2>&1; then
    dw_need_by_hand "$@"
    return
  fi
  dw_missing=
  for dw_package in "$@"; do
    dw_installed "$dw_package" || dw_missing="$dw_missing $dw_package"
  done
  [ -n "$dw_missing" ] || return 0

  dw_as_root=
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null 2>&1 ||
      dw_fail "these packages are missing, and only root can install them:$dw_missing"
    dw_as_root=sudo
  fi
  dw_say "installing by apt-get:$dw_missing"
  dw_aptlog=$(mktemp) || dw_fail "cannot make a temporary file"
  # A list that cannot be refreshed need not stop us: what counts is whether the install works.
  $dw_as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq update >"$dw_aptlog" 2>&1 ||
    dw_say "apt-get update had trouble, going on with the lists there are"
  # Word splitting of the package list is wanted.
  # shellcheck disable=SC2086
  if ! $dw_as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq install -y \
    --no-install-recommends $dw_missing >>"$dw_aptlog" 2>&1; then
    tail -n 40 "$dw_aptlog" >&2
    rm -f "$dw_aptlog"
    dw_fail "apt-get could not install:$dw_missing"
  fi
  rm -f "$dw_aptlog"
}

# Elsewhere than on Debian: go on when the tools can be found, or say what is wanted.
dw_need_by_hand() {
  dw_lacking=
  for dw_tool in cmake pkg-config cc; do
    command -v "$dw_tool" >/dev/null 2>&1 || dw_lacking="$dw_lacking $dw_tool"
  done
  if [ -z "$dw_lacking" ]; then
    for dw_module in gsl yaml-0.1 jansson; do
      pkg-config --exists "$dw_module" || dw_lacking="$dw_lacking $dw_module"
    done
  fi
  [ -z "$dw_lacking" ] && return 0
  dw_say "This system has no apt-get, so nothing was installed. Not found here:$dw_lacking"
  dw_say "Please install what corresponds to these Debian packages, then run this again:"
  dw_say "  $*"
  exit 1
}

# How many jobs a build may run at once.
dw_jobs() {
  nproc 2>/dev/null || getconf _NPROCESSORS_ONLN 2>/dev/null || echo 1
}

# Configures folder $1 with the remaining words as arguments of CMake. A folder that was
# configured for another source tree (a copied or moved clone) is configured afresh.
dw_configure() {
  dw_build=$1
  shift
  mkdir -p "$dw_build" || dw_fail "cannot make the folder $dw_build"
  dw_fresh=
  if [ -f "$dw_build/CMakeCache.txt" ] &&
    ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$dw_build/CMakeCache.txt"; then
    dw_fresh=--fresh
  fi
  # shellcheck disable=SC2086
  dw_quietly "$dw_build/configure.log" cmake $dw_fresh -S "$root" -B "$dw_build" "$@"
}

# Builds folder $1; the remaining words go to `cmake --build`.
dw_compile() {
  dw_build=$1
  shift
  dw_quietly "$dw_build/build.log" cmake --build "$dw_build" --parallel "$(dw_jobs)" "$@"
}
