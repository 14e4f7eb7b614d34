#!/usr/bin/env bash
# Installs what is missing, builds, runs every test plain and again under AddressSanitizer and UBSan.
# Ends on the runners' own counts: ctest's of programs, GoogleTest's of the tests in them. LEADLINE_QUICK=1 leaves the sanitised run out.
set -euo pipefail
cd "$(dirname "$0")/.."
source cli/setup.sh

need "${build_packages[@]}" libgtest-dev libbenchmark-dev libxml2-utils clang locales ngspice strace ninja-build chromium python3-jsonschema mandoc groff bsdextrautils zsh fish lintian dpkg-dev file man-db
command -v npm >/dev/null || need nodejs npm
export CMAKE_GENERATOR=Ninja  # of new build folders; an old one keeps its own

flavour() {  # flavour NAME CMAKE-OPTIONS…: configure, build, test
  local build="build/$1"; shift
  echo "== $build"
  quietly cmake -S . -B "$build" -DLEADLINE_TESTS=ON "$@"
  quietly cmake --build "$build" -j "$(nproc)"
  ctest --test-dir "$build" --output-on-failure -j "$(nproc)"
  grep -ao '^\[  PASSED  \] [0-9]* test' "$build/Testing/Temporary/LastTest.log" | awk '{ sum += $4 } END { print "GoogleTest: " sum " tests passed in these programs" }'
}

# Warnings are errors in the release flavour only: with sanitizers GCC 12 calls variants uninitialised that are not (its manual says so).
if [ -z "${LEADLINE_QUICK:-}" ]; then
  ASAN_OPTIONS=detect_leaks=1 flavour sanitised -DCMAKE_BUILD_TYPE=None -DLEADLINE_WERROR=OFF -DLEADLINE_PCH=ON -DCMAKE_CXX_FLAGS="-O1 -g1" -DLEADLINE_SANITIZE=address,undefined
fi
flavour release -DCMAKE_BUILD_TYPE=Release -DLEADLINE_WERROR=ON -DLEADLINE_BENCH=ON
