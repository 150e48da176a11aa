#!/bin/sh
# Whole-command tests: runs cases/NAME.sh and compares what it prints and returns, byte by byte, with
# NAME.stdout.exact, NAME.stderr.exact and NAME.exit beside it. A file that is not there stands for
# nothing printed, or for exit status 0.
#
#     run.sh [--record] [--prefix COMMAND] WORTFIT [NAME...]
#
# --record writes those files instead (look at the difference before you commit it).
# --prefix runs the command under another one, such as "valgrind -q --error-exitcode=99". Cases that
# hold the line "# not under a prefix" are left out then: they bound the search by time, or take too long under it.
#
# A case is shell text that calls wortfit, in an empty folder where examples/ and targets/ are those of
# the source tree.
set -u
export LC_ALL=C TZ=UTC
unset NO_COLOR

here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
record=no prefix=
while [ $# -gt 0 ]; do
    case $1 in
    --record) record=yes ;;
    --prefix) shift && prefix=$1 ;;
    *) break ;;
    esac
    shift
done
[ $# -gt 0 ] || { echo "usage: run.sh [--record] [--prefix COMMAND] WORTFIT [NAME...]" >&2; exit 1; }
program=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
shift
[ -x "$program" ] || { echo "run.sh: $program is not a program" >&2; exit 1; }

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin"
printf '#!/bin/sh\nexec %s "%s" "$@"\n' "$prefix" "$program" >"$work/bin/wortfit"
chmod +x "$work/bin/wortfit"
export PATH="$work/bin:$PATH"

run_case() { # NAME: leaves stdout, stderr and exit in $work
    rm -rf "$work/folder"
    mkdir "$work/folder"
    ln -s "$root/examples" "$root/targets" "$work/folder"
    (cd "$work/folder" && exec sh "$here/cases/$1.sh") >"$work/stdout.exact" 2>"$work/stderr.exact" \
        </dev/null
    echo $? >"$work/exit"
}

keep() { # NAME PART EMPTY: keeps what was printed, unless it is what a missing file stands for
    if [ "$(cat "$work/$2")" = "$3" ]; then
        rm -f "$here/cases/$1.$2"
    else
        cp "$work/$2" "$here/cases/$1.$2"
    fi
}

differs() { # NAME PART EMPTY: tells a difference
    wanted=$here/cases/$1.$2
    if [ ! -e "$wanted" ]; then
        wanted=$work/nothing
        printf '%s' "$3" >"$wanted"
        [ -z "$3" ] || echo >>"$wanted"
    fi
    ! diff -u --label "$1.$2, wanted" --label "$1.$2, got" "$wanted" "$work/$2"
}

total=0 failed=0
# shellcheck disable=SC2046,SC2012 # names of cases have no blanks
[ $# -gt 0 ] || set -- $(cd "$here/cases" && ls | sed -n 's/\.sh$//p')
for name; do
    if [ ! -e "$here/cases/$name.sh" ]; then
        echo "no case is called $name"
        failed=$((failed + 1))
        continue
    fi
    [ -z "$prefix" ] || ! grep -q '^# not under a prefix' "$here/cases/$name.sh" || continue
    total=$((total + 1))
    run_case "$name"
    bad=no
    for part in "stdout.exact" "stderr.exact" "exit"; do
        empty=
        [ $part != exit ] || empty=0
        if [ $record = yes ]; then
            keep "$name" $part "$empty"
        elif differs "$name" $part "$empty"; then
            bad=yes
        fi
    done
    [ $bad = no ] || { failed=$((failed + 1)); echo "FAILED $name"; }
done
echo "$total cases, $failed failed"
[ $failed -eq 0 ]
