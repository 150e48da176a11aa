#!/bin/sh
# The library as others get it: installs it into a folder of its own, compiles examples/library.c against
# what is there alone, and runs it.
#
#     test_library.sh CMAKE BUILD_FOLDER SOURCE_FOLDER COMPILER [FLAG...]
set -eu
cmake=$1 build=$2 source=$3 compiler=$4
shift 4

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
DESTDIR='' "$cmake" --install "$build" --prefix "$work/prefix" >/dev/null

fail() { echo "test_library.sh: $*" >&2; exit 1; }

for header in "$source"/include/wortfit/*.h; do
    cmp "$header" "$work/prefix/include/wortfit/$(basename "$header")" || fail "a header is not installed as it is"
done
lib=$(dirname "$(find "$work/prefix" -name 'libwortfit.*' | head -n 1)")

# Nothing of the source folder is in sight, and no warning is let pass.
cp "$source/examples/library.c" "$source/examples/alder-lane-cellar.json" "$work"
cd "$work"
"$compiler" -std=c17 -Wall -Wextra -Wpedantic -Werror -I "$work/prefix/include" "$@" library.c \
    -L "$lib" -Wl,-rpath,"$lib" -lwortfit -lglpk -lcjson -lm -o library
./library amber-ale alder-lane-cellar.json >out 2>err || fail "library failed: $(cat err)"
cat out
[ ! -s err ] || fail "library wrote to standard error: $(cat err)"
[ "$(wc -l <out)" -eq 3 ] || fail "library did not write three lines"
grep -Eq '^American amber ale: [0-9.]+ kg of [1-9] malts, [0-9]+ g of hops, ' out || fail "line 1 is not as expected"
grep -Eq '^gravity 1\.05[0-9] \(9 brews in 10: 1\.0[0-9]+\.\.1\.0[0-9]+\), ' out || fail "line 2 is not as expected"
grep -Eq '^[0-9.]+ EUR, and no recipe costs less than [0-9.]+$' out || fail "line 3 is not as expected"

# What is wrong is told, with the status of the command.
status=0
./library amber-beer alder-lane-cellar.json >out 2>err || status=$?
[ $status -eq 2 ] && grep -q 'amber-beer' err || fail "a wrong name: status $status, $(cat err)"
status=0
./library amber-ale nowhere.json >out 2>err || status=$?
[ $status -eq 4 ] && grep -q 'nowhere.json' err || fail "a missing file: status $status, $(cat err)"
