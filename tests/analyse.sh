#!/bin/bash
# Looks for mistakes without running anything: clang-tidy (.clang-tidy, tests/tidy.txt), cppcheck (tests/cppcheck.txt), gcc's
# -fanalyzer (tests/analyzer.txt). Clang's and gcc's analyzers are told by tests/analyse.h what wf_error_add
# returns. What a machine has not is told and left out.
#
#     analyse.sh [tidy|cppcheck|analyzer]...
set -uo pipefail
root=$(cd "$(dirname "$0")/.." && pwd)
cd "$root" || exit 1
[ $# -gt 0 ] || set -- tidy cppcheck analyzer
failed=0

configure() { # FOLDER COMPILER [FLAGS]
    cmake -S . -B "build/$1" -DCMAKE_C_COMPILER="$2" -DCMAKE_C_FLAGS="${3-}" -DCMAKE_BUILD_TYPE=RelWithDebInfo \
        -DWF_TESTS=OFF -DWF_SHARED=OFF -DCMAKE_EXPORT_COMPILE_COMMANDS=ON >/dev/null
}

# The embedded tables are made by the build and are not looked at. A report's way through the code is in
# build/tidy/log. A status past 123 is xargs's own, or a clang-tidy that fell over.
tidy() {
    configure tidy clang || return 1
    find src -name '*.c' -print0 | xargs -0 -P "$(nproc)" -n 4 clang-tidy -p build/tidy --quiet \
        --extra-arg=-include --extra-arg="$root/tests/analyse.h" >build/tidy/log 2>/dev/null
    [ $? -le 123 ] || return 1
    ! grep -E ': (error|warning): ' build/tidy/log | sort -u | grep -v -f <(grep -v '^#' tests/tidy.txt)
}

cppcheck_all() {
    cppcheck --quiet --error-exitcode=1 --std=c11 --enable=warning,performance,portability --inline-suppr \
        --suppressions-list=tests/cppcheck.txt -j "$(nproc)" -D_POSIX_C_SOURCE=200809L -Iinclude -Isrc src
}

# All from the start: an object that is there already would hide its warnings.
analyzer() {
    configure analyzer gcc "-fanalyzer -I$root/include -include $root/tests/analyse.h" || return 1
    cmake --build build/analyzer --target clean >/dev/null
    cmake --build build/analyzer --target wortfit_lib wortfit wortfit-pages --parallel "$(nproc)" >build/analyzer/log 2>&1
    ! grep -E 'error:|Wanalyzer' build/analyzer/log | grep -v -f <(grep -v '^#' tests/analyzer.txt)
}

check() { # NAME PROGRAM FUNCTION
    if ! command -v "$2" >/dev/null; then
        echo "$1: $2 is not installed, left out"
    elif "$3"; then
        echo "$1: nothing found"
    else
        echo "$1: see above"
        failed=1
    fi
}

for name; do
    case $name in
    tidy) check tidy clang-tidy tidy ;;
    cppcheck) check cppcheck cppcheck cppcheck_all ;;
    analyzer) check analyzer gcc analyzer ;;
    *) echo "usage: analyse.sh [tidy|cppcheck|analyzer]..." >&2; exit 1 ;;
    esac
done
exit $failed
