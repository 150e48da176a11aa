#!/bin/bash
# Two threads at the same memory? Builds the library and the long run with ThreadSanitizer and solves some
# problems on one thread, then on eight. GLPK and cJSON are not instrumented: what they do is not looked at.
#
#     threads.sh [PROBLEMS]      300
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$root/build/threads
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=RelWithDebInfo -DWF_SHARED=OFF \
    -DCMAKE_C_FLAGS="-fsanitize=thread" >/dev/null
cmake --build "$build" --parallel "$(nproc)" --target long_run >"$build/log" || { tail -n 30 "$build/log"; exit 1; }
TSAN_OPTIONS="halt_on_error=1 exitcode=66" "$build/tests/long/long_run" "${1:-300}" 1 8
