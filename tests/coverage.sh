#!/bin/bash
# Which lines and branches the tests run: builds with gcov's counters, runs the tests, and tells the share a
# part and the files that are worst off. The whole list is in build/coverage/files.txt, the lines that no test
# runs in build/coverage/*.gcov.
#
#     coverage.sh [CTEST_OPTION...]      as in: coverage.sh -R 'test_(json|csv)'
set -euo pipefail
root=$(cd "$(dirname "$0")/.." && pwd)
build=$root/build/coverage
cmake -S "$root" -B "$build" -DCMAKE_C_COMPILER=gcc -DCMAKE_BUILD_TYPE=Debug -DWF_SHARED=OFF \
    -DCMAKE_C_FLAGS="--coverage -Og -fprofile-update=atomic" >/dev/null
cmake --build "$build" --parallel "$(nproc)" >"$build/log" || { tail -n 30 "$build/log"; exit 1; }
find "$build" -name '*.gcda' -delete
# Left out: tests that watch allocations, files and symbols, of which gcov has its own.
ctest --test-dir "$build" --parallel "$(nproc)" -E '^library$|faults\.(allocations|harm|writes)' "$@" >"$build/tests.log" || echo "coverage.sh: tests have failed, see $build/tests.log"

# gcov once a counter file of the library and the command; the tests' own objects are not asked.
cd "$build"
rm -f ./*.gcov
find . -path '*.dir/src/*' -name '*.gcda' \( -path './CMakeFiles/wortfit*' \) -print0 |
    xargs -0 -n 1 gcov --branch-probabilities --preserve-paths --source-prefix "$root" --relative-only >gcov.log 2>/dev/null
awk -v root="$root/" '
    /^File / { file = $2; gsub(/\x27/, "", file); sub(root, "", file); take = file ~ /^src\// && !(file in lines) }
    take && /^Lines executed/ { split($0, p, /[:% ]+/); lines[file] = p[5]; run[file] = p[3] * p[5] / 100 }
    take && /^Taken at least once/ { split($0, p, /[:% ]+/); branches[file] = p[7]; taken[file] = p[5] * p[7] / 100 }
    END { for (f in lines) printf "%s %d %d %d %d\n", f, run[f] + 0.5, lines[f], taken[f] + 0.5, branches[f] }
' gcov.log | sort >files.txt
[ -s files.txt ] || { echo "coverage.sh: nothing was counted"; exit 1; }
by() { # AWK_EXPRESSION: sums by its value
    awk '{ split($1, p, "/"); k = '"$1"'; r[k] += $2; l[k] += $3; t[k] += $4; b[k] += $5 }
        END { for (k in l) printf "%-14s %5.1f %% of %5d lines, %5.1f %% of %5d branches\n", k, 100 * r[k] / l[k], l[k],
                  b[k] ? 100 * t[k] / b[k] : 100, b[k] }' files.txt | sort
}
by 'p[1] "/" p[2]'
by '"in all"'
none=$(grep -hE '^ *#####:' ./src#*.gcov | wc -l)
memory=$(grep -hE '^ *#####:.*(MEMORY|memory)' ./src#*.gcov | wc -l)
echo "of $none lines that no test runs $memory say that memory is out, which tests/faults makes every command say"
echo "least covered:"
awk '{ printf "%5.1f %%  %s\n", 100 * $2 / $3, $1 }' files.txt | sort -n | head -n 8
