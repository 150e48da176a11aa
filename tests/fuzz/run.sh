#!/bin/bash
# Fuzzing in one command: builds the targets with clang and libFuzzer, and runs each for some seconds.
#
#     run.sh SECONDS [NAME...]       all targets, or those of these names
#     run.sh --replay PROGRAM NAME   the starting files and what was found, through replay.c; for the tests
#
# Inputs that reach something new are kept in build/fuzz/corpus and used the next time; what is found is
# written to build/fuzz/found. The last lines tell how many inputs were run. A finding becomes a test: put
# the file into tests/fuzz/found/NAME.
set -euo pipefail
shopt -s nullglob
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build=${WF_FUZZ_BUILD:-$root/build/fuzz}

# ---- Starting files, into a folder -------------------------------------------------------------------

# Every text of the examples and of the beers.
seeds_quantity() {
    local line n=0
    cat "$root"/examples/*.json "$root"/targets/a*.json | grep -oh '"[^"]*"' | tr -d '"' | sort -u | grep '[0-9]' |
        while read -r line; do
            n=$((n + 1))
            printf %s "$line" >"$1/text-$n"
        done
}

# The command lines of the whole-command tests, a word a line.
seeds_arguments() {
    local line
    grep -h '^wortfit ' "$root"/tests/cli/cases/*.sh | sed 's/^wortfit //; s/ | .*//; s/ >[a-z/].*//' | sort -u |
        while read -r line; do
            printf %s "$line" | xargs -n 1 printf '%s\n' >"$1/line-$(printf %s "$line" | cksum | cut -d' ' -f1)" 2>/dev/null ||
                true # a line that goes on in the next
        done
}

# Sizes, flags and a seed: 16 bytes.
seeds_problem() {
    for i in 1 2 3 4 5 6 7 8 9; do
        # shellcheck disable=SC2059 # bytes are written by the format
        printf "\\x0$i\\x02\\x0$((i % 4))\\x02\\x0$((i % 3))\\x0$i\\x0$((i % 4))\\x0$((i % 8))a seed $i" >"$1/problem-$i"
    done
}

row() { sed -n "s/^$1  *//p" "$here/targets.txt"; } # NAME: what it starts from

make_seeds() { # NAME FOLDER
    local wanted file n=0
    wanted=$(row "$1")
    [ -n "$wanted" ] || { echo "run.sh: no target is called $1" >&2; exit 1; }
    rm -rf "$2"
    mkdir -p "$2"
    if declare -F "$wanted" >/dev/null; then
        "$wanted" "$2"
    else
        # shellcheck disable=SC2086 # patterns
        for file in $(cd "$root" && echo $wanted); do
            cp "$root/$file" "$2/seed-$((n += 1))"
        done
    fi
    for file in "$here/found/$1"/*; do
        cp "$file" "$2/found-$(basename "$file")"
    done
}

# ---- Replay ------------------------------------------------------------------------------------------

if [ "${1-}" = --replay ]; then
    work=$(mktemp -d)
    trap 'rm -rf "$work"' EXIT
    make_seeds "$3" "$work/seeds"
    "$2" "$work"/seeds/*
    exit
fi

# ---- Fuzz --------------------------------------------------------------------------------------------

[[ ${1-} =~ ^[0-9]+$ ]] || { echo "usage: run.sh SECONDS [NAME...]" >&2; exit 1; }
seconds=$1
shift
command -v clang >/dev/null || { echo "run.sh: clang is not installed, nothing was fuzzed"; exit 77; }
cmake -S "$root" -B "$build" -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=RelWithDebInfo -DWF_FUZZ=ON -DWF_SHARED=OFF >/dev/null
cmake --build "$build" --target fuzz --parallel "$(nproc)" >"$build/log" || { cat "$build/log"; exit 1; }
# shellcheck disable=SC2046 # names have no blanks
[ $# -gt 0 ] || set -- $(sed -n 's/^\([a-z_]*\) .*/\1/p' "$here/targets.txt")
mkdir -p "$build/found"

executed() { sed -n 's/^stat::number_of_executed_units: *//p' "$build/$1.log" 2>/dev/null || true; } # NAME

fuzz() { # NAME: leaves its log, and its exit status in a file
    local status=0
    make_seeds "$1" "$build/seeds/$1"
    mkdir -p "$build/corpus/$1"
    "$build/tests/fuzz/fuzz_$1" -max_total_time="$seconds" -timeout=30 -rss_limit_mb=4096 -print_final_stats=1 \
        -dict="$here/words.dict" -artifact_prefix="$build/found/$1-" \
        "$build/corpus/$1" "$build/seeds/$1" >"$build/$1.log" 2>&1 || status=$?
    echo $status >"$build/$1.status"
    printf '%-12s %9d inputs, %5d kept, %s\n' "$1" "$(executed "$1")" "$(find "$build/corpus/$1" -type f | wc -l)" \
        "$([ $status -eq 0 ] && echo 'nothing found' || echo "FOUND, see $build/$1.log")"
}

# As many at once as there are processors.
rm -f "$build"/*.status
for name; do
    while [ "$(jobs -rp | wc -l)" -ge "$(nproc)" ]; do wait -n || true; done
    fuzz "$name" &
done
wait

runs=0 findings=0
for name; do
    count=$(executed "$name")
    runs=$((runs + ${count:-0}))
    if [ "$(cat "$build/$name.status")" != 0 ]; then
        findings=$((findings + 1))
        tail -n 40 "$build/$name.log"
    fi
done
echo "fuzz: $# targets for $seconds s each, $runs inputs, $findings findings"
[ $findings -eq 0 ]
