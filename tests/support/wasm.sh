#!/bin/sh
# The program for WebAssembly, run by Node:  sh tests/support/wasm.sh FOLDER
#
# The libraries are built from Debian's source packages into FOLDER/libraries, once; then the program
# by its own CMakeLists, with the same warnings. Prints the path of a script that runs it. The system's
# package lists and sources stay as they are. The caller has installed the packages of dw_packages_wasm.
set -eu

folder=$1
root=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd -P)
# shellcheck source=packages.sh
. "$root/tests/support/packages.sh"

mkdir -p "$folder"
folder=$(CDPATH='' cd -- "$folder" && pwd -P)
libraries=$folder/libraries
# Of GSL only what the engine calls, and what that calls.
gsl_parts='err sys utils complex specfunc cdf roots'

# Another Python first on the path, and a Node that does not look where Debian puts its modules,
# are not what Debian's emscripten expects. Newer Nodes fetch() where it wants to read a file.
EMSDK_PYTHON=/usr/bin/python3
NODE_PATH=/usr/share/nodejs
NODE_OPTIONS=--no-experimental-fetch
PKG_CONFIG_LIBDIR=$libraries/lib/pkgconfig
export EMSDK_PYTHON NODE_PATH NODE_OPTIONS PKG_CONFIG_LIBDIR

# The source packages, by a list of sources of our own beside the system's lists.
get_sources() {
  mkdir -p "$folder/apt/parts" "$folder/apt/lists/partial" "$folder/sources"
  uri=$(sed -n 's/^URIs: *//p; s/^deb \(\[[^]]*\] \)\{0,1\}\([^ ]*\) .*/\2/p' \
    /etc/apt/sources.list.d/*.sources /etc/apt/sources.list 2>/dev/null | head -n 1)
  suite=$(sed -n 's/^VERSION_CODENAME=//p' /etc/os-release)
  printf 'Types: deb-src\nURIs: %s\nSuites: %s\nComponents: main\nSigned-By: %s\n' "$uri" "$suite" \
    /usr/share/keyrings/debian-archive-keyring.gpg >"$folder/apt/parts/src.sources"
  cd "$folder/sources"
  for verb in update 'source gsl libyaml jansson libcsv'; do
    # Word splitting of the verb is wanted.
    # shellcheck disable=SC2086
    apt-get -q -o Dir::Etc::sourcelist=/dev/null -o "Dir::Etc::sourceparts=$folder/apt/parts" \
      -o "Dir::State::lists=$folder/apt/lists" -o Dir::Cache::srcpkgcache= \
      -o Dir::Cache::pkgcache= -o APT::Sandbox::User=root $verb
  done
}

# Its configure must not be given a host: its checks then run, under Node.
build_gsl() {
  mkdir -p "$folder/gsl" "$libraries/include/gsl"
  cd "$folder/gsl"
  emconfigure ../sources/gsl-*/configure --disable-shared --enable-static CFLAGS='-O2 -DNDEBUG'
  emmake make -C gsl
  for part in $gsl_parts; do
    emmake make -j "$(dw_jobs)" -C "$part"
  done
  rm -f "$libraries/lib/libgsl.a"
  for part in $gsl_parts; do
    # Appended: two parts have a gamma.o each.
    emar qcs "$libraries/lib/libgsl.a" "$part"/*.o
  done
  cp -L gsl/gsl_*.h "$libraries/include/gsl/"
}

build_libraries() {
  mkdir -p "$libraries/lib/pkgconfig" "$libraries/include"
  build_gsl
  for name in yaml jansson; do
    mkdir -p "$folder/$name"
    cd "$folder/$name"
    emcmake cmake ../sources/*"$name"-[0-9]*[0-9] -DBUILD_SHARED_LIBS=OFF -DBUILD_TESTING=OFF \
      -DJANSSON_BUILD_DOCS=OFF -DJANSSON_WITHOUT_TESTS=ON -DJANSSON_EXAMPLES=OFF \
      -DCMAKE_BUILD_TYPE=Release "-DCMAKE_INSTALL_PREFIX=$libraries"
    emmake make -j "$(dw_jobs)" install
  done
  # Where their own pkg-config files point differs from version to version.
  for pair in yaml-0.1:yaml jansson:jansson; do
    printf 'Name: %s\nDescription: for WebAssembly\nVersion: 0\nLibs: -L%s -l%s\nCflags: -I%s\n' \
      "${pair%%:*}" "$libraries/lib" "${pair#*:}" "$libraries/include" \
      >"$libraries/lib/pkgconfig/${pair%%:*}.pc"
  done
  cd "$folder"
  emcc -O2 -c sources/libcsv-*/libcsv.c -o libcsv.o
  emar rcs "$libraries/lib/libcsv.a" libcsv.o
  cp sources/libcsv-*/csv.h "$libraries/include/"
  touch "$libraries/done"
}

build_program() {
  emcmake cmake -S "$root" -B "$folder/program" -DBUILD_TESTING=OFF -DDW_WERROR=ON \
    -DCMAKE_BUILD_TYPE=Release "-DGSL_INCLUDE_DIR=$libraries/include" \
    "-DGSL_LIBRARY=$libraries/lib/libgsl.a" "-DGSL_CBLAS_LIBRARY=$libraries/lib/libgsl.a" \
    "-DCSV_LIBRARY=$libraries/lib/libcsv.a" "-DCSV_INCLUDE_DIR=$libraries/include" \
    "-DCMAKE_EXE_LINKER_FLAGS=-L$libraries/lib -s NODERAWFS=1 -s ALLOW_MEMORY_GROWTH=1 -s EXIT_RUNTIME=1"
  cmake --build "$folder/program" --parallel "$(dw_jobs)"
}

[ -d "$folder/sources" ] || dw_quietly "$folder/sources.log" get_sources
[ -e "$libraries/done" ] || dw_quietly "$folder/libraries.log" build_libraries
dw_quietly "$folder/program.log" build_program
printf '#!/bin/sh\nexec node --no-experimental-fetch "%s" "$@"\n' \
  "$folder/program/src/damperwise.js" >"$folder/damperwise"
chmod +x "$folder/damperwise"
printf '%s\n' "$folder/damperwise"
