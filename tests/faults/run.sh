#!/bin/sh
# The checks of faults in full, which take half an hour or so; ordinarily ctest runs a part of each.
#
#     tests/faults/run.sh BUILD_FOLDER    one that was configured without sanitizers
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "${1:?usage: run.sh BUILD_FOLDER}" && pwd)
program=$build/wortfit library=$build/tests/faults/libfaults.so
failed=0
check() { # NAME ARGUMENT...
    name=$1
    shift
    echo "==== $name"
    python3 -B "$root/tests/faults/check_$name.py" "$root" "$program" "$@" || failed=1
}
check races 300
check awful 1000
check harm "$library" --full
check writes "$library" --full
check allocations "$library" --full
exit $failed
