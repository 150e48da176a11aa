#!/bin/sh
# The library as others get it: installs it into a folder of its own, which is then moved, compiles
# examples/library.c against what is there alone, through pkg-config and through CMake, shared and
# static, and runs each.
#
#     test_library.sh CMAKE BUILD_FOLDER SOURCE_FOLDER COMPILER [FLAG...]
set -eu
cmake=$1 build=$2 source=$3 compiler=$4
shift 4

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
DESTDIR='' "$cmake" --install "$build" --prefix "$work/first" >/dev/null
mv "$work/first" "$work/prefix"

fail() { echo "test_library.sh: $*" >&2; exit 1; }

for header in "$source"/include/wortfit/*.h; do
    cmp "$header" "$work/prefix/include/wortfit/$(basename "$header")" || fail "a header is not installed as it is"
done
for file in "$source"/src/*/*.schema.json; do
    [ -e "$work/prefix/share/wortfit/schemas/$(basename "$file")" ] || fail "$(basename "$file") is not installed"
done
for file in share/man/man1/wortfit-solve.1 share/man/man5/wortfit-store.5 \
    share/bash-completion/completions/wortfit share/zsh/site-functions/_wortfit \
    share/fish/vendor_completions.d/wortfit.fish share/doc/wortfit/CHANGELOG.md; do
    [ -s "$work/prefix/$file" ] || fail "$file is not installed"
done
lib=$(dirname "$(find "$work/prefix" -name 'libwortfit.a')")
shared=no
[ ! -e "$lib/libwortfit.so" ] || shared=yes

# The shared library shows the public names, all of them and no more.
if [ $shared = yes ]; then
    nm -D --defined-only "$lib/libwortfit.so" | sed -n 's/^[0-9a-f]* [TRD] \([a-z0-9_]*\).*/\1/p' | sort >"$work/shown"
    ctags -x --languages=C --langmap=C:.h --kinds-C=px "$work/prefix/include/wortfit/"*.h |
        awk '{print $1}' | sort -u >"$work/declared"
    diff "$work/declared" "$work/shown" || fail "what is exported (>) is not what is declared (<)"
fi

# Nothing of the source folder is in sight, and no warning is let pass.
cp "$source/examples/library.c" "$source/examples/alder-lane-cellar.json" "$work"
cd "$work"

check() { # PROGRAM
    "$1" amber-ale alder-lane-cellar.json >out 2>err || fail "$1 failed: $(cat err)"
    [ ! -s err ] || fail "$1 wrote to standard error: $(cat err)"
    [ "$(wc -l <out)" -eq 3 ] || fail "$1 did not write three lines"
    grep -Eq '^American amber ale: [0-9.]+ kg of [1-9] malts, [0-9]+ g of hops, ' out || fail "$1: line 1 is not as expected"
    grep -Eq '^gravity 1\.05[0-9] \(9 brews in 10: 1\.0[0-9]+\.\.1\.0[0-9]+\), ' out || fail "$1: line 2 is not as expected"
    grep -Eq '^[0-9.]+ EUR, and no recipe costs less than [0-9.]+$' out || fail "$1: line 3 is not as expected"
}
needs_shared() { # PROGRAM yes|no: whether it loads the shared library
    found=no
    ! ldd "$1" | grep -q libwortfit || found=yes
    [ $found = "$2" ] || fail "$1: loads the shared library: $found, wanted: $2"
}

# By hand; and what is wrong is told, with the status of the command.
"$compiler" -std=c17 -Wall -Wextra -Wpedantic -Werror -I "$work/prefix/include" "$@" library.c \
    "$lib/libwortfit.a" -lglpk -lcjson -lm -o library
check ./library
cat out
status=0
./library amber-beer alder-lane-cellar.json >out 2>err || status=$?
[ $status -eq 2 ] && grep -q 'amber-beer' err || fail "a wrong name: status $status, $(cat err)"
status=0
./library amber-ale nowhere.json >out 2>err || status=$?
[ $status -eq 4 ] && grep -q 'nowhere.json' err || fail "a missing file: status $status, $(cat err)"

# pkg-config.
if command -v pkg-config >/dev/null; then
    export PKG_CONFIG_PATH="$lib/pkgconfig"
    version=$(sed -n 's/.*define WF_VERSION "\(.*\)"/\1/p' "$work/prefix/include/wortfit/wortfit.h")
    [ "$(pkg-config --modversion wortfit)" = "$version" ] || fail "pkg-config knows another version"
    # shellcheck disable=SC2046 # flags are words
    if [ $shared = yes ]; then
        "$compiler" -std=c17 "$@" library.c $(pkg-config --cflags --libs wortfit) -Wl,-rpath,"$lib" -o by_pc
        check ./by_pc
        needs_shared ./by_pc yes
    fi
    # shellcheck disable=SC2046
    "$compiler" -std=c17 "$@" $(pkg-config --cflags wortfit) library.c -Wl,-Bstatic -L"$lib" -lwortfit -Wl,-Bdynamic \
        $(pkg-config --static --libs wortfit | sed 's/-lwortfit//') -o by_pc_static
    check ./by_pc_static
    needs_shared ./by_pc_static no
else
    echo "pkg-config is not installed, wortfit.pc was not tried"
fi

# CMake.
mkdir consumer
cat >consumer/CMakeLists.txt <<'END'
cmake_minimum_required(VERSION 3.22)
project(consumer C)
find_package(wortfit ${WANTED} REQUIRED)
add_executable(by_cmake ../library.c)
target_link_libraries(by_cmake PRIVATE wortfit::wortfit)
add_executable(by_cmake_static ../library.c)
target_link_libraries(by_cmake_static PRIVATE wortfit::wortfit_static)
END
configure() { # FOLDER VERSION [FLAG...]
    folder=$1 wanted=$2
    shift 2
    "$cmake" -S consumer -B "$folder" -DCMAKE_PREFIX_PATH="$work/prefix" -DCMAKE_C_COMPILER="$compiler" \
        -DCMAKE_C_FLAGS="$*" -DWANTED="$wanted" >log 2>&1
}
configure built 0.1 "$@" || fail "find_package: $(cat log)"
"$cmake" --build built >log 2>&1 || fail "CMake build: $(cat log)"
check built/by_cmake
needs_shared built/by_cmake $shared
check built/by_cmake_static
needs_shared built/by_cmake_static no
! configure newer 99.0 || fail "find_package takes this version for 99.0"
echo "shared: $shared; by hand, pkg-config and CMake"
