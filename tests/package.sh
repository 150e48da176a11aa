#!/bin/sh
# The Debian packages: builds them, unpacks them into an empty root and runs what is there.
#
#     package.sh [--install]
#
# --install, as root: makes a fresh Debian by debootstrap from the first mirror that apt knows, installs the
# packages there with apt-get, and runs them as a new user would. What a machine cannot do is told and left
# out; exit status 77 where there is nothing to do at all.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)

fail() { echo "package.sh: $*" >&2; exit 1; }
skip() { echo "package.sh: $*, left out"; }

for tool in dpkg-deb dpkg-shlibdeps cpack gzip; do
    command -v $tool >/dev/null || { skip "$tool is not installed"; exit 77; }
done

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
(cd "$root" && cmake --preset package && cmake --build --preset package --parallel "$(nproc)") >"$work/log" 2>&1 ||
    fail "the build: $(tail -n 20 "$work/log")"
cpack --config "$root/build/package/CPackConfig.cmake" -G DEB -B "$work/packed" >"$work/log" 2>&1 ||
    fail "cpack: $(cat "$work/log")"
version=$(sed -n 's/.*define WF_VERSION "\(.*\)"/\1/p' "$root/include/wortfit/wortfit.h")
command=$(ls "$work"/packed/wortfit_"$version"-*.deb)

# ---- Unpacked ---------------------------------------------------------------------------------------

unpacked=$work/root
for package in "$work"/packed/*.deb; do
    dpkg-deb -x "$package" "$unpacked"
done
dpkg-deb -f "$command" Depends | grep -q 'libglpk40.*' || fail "the command does not depend on GLPK"
! dpkg-deb -f "$command" Depends | grep -q libwortfit || fail "the command needs another package of its own"
program=$unpacked/usr/bin/wortfit
[ "$("$program" --version)" = "wortfit $version" ] || fail "the command is not version $version"
store=$unpacked/usr/share/doc/wortfit/examples/alder-lane-cellar.json
"$program" solve amber-ale --og 1.055 --store "$store" >"$work/out" || fail "solve failed: $?"
grep -q '^American amber ale, 20 L' "$work/out" || fail "solve wrote: $(cat "$work/out")"
for file in share/man/man1/wortfit.1.gz share/man/man5/wortfit-store.5.gz share/wortfit/schemas/recipe.schema.json \
    share/doc/wortfit/README.md share/doc/wortfit/changelog.gz share/doc/wortfit/copyright \
    share/bash-completion/completions/wortfit share/zsh/vendor-completions/_wortfit include/wortfit/wortfit.h; do
    [ -s "$unpacked/usr/$file" ] || fail "there is no /usr/$file"
done
gzip -dc "$unpacked/usr/share/man/man1/wortfit-solve.1.gz" | grep -q 'SH OPTIONS' || fail "the manual page is not whole"
# shellcheck disable=SC2046 # flags are words
if command -v pkg-config >/dev/null && command -v cc >/dev/null; then
    lib=$(dirname "$(find "$unpacked/usr/lib" -name libwortfit.so)")
    PKG_CONFIG_PATH=$lib/pkgconfig
    export PKG_CONFIG_PATH
    cc -o "$work/library" "$root/examples/library.c" $(pkg-config --cflags --libs wortfit) -Wl,-rpath,"$lib"
    "$work/library" amber-ale "$store" | grep -q '^American amber ale' || fail "the library does not work"
else
    skip "pkg-config or a compiler is not installed: the library in the packages"
fi
echo "unpacked: $(find "$work/packed" -maxdepth 1 -name '*.deb' | wc -l) packages, the command and the library run"
if command -v lintian >/dev/null; then
    # Known: an address of nobody's. The mail host is example.org until somebody packages this in earnest.
    lintian --allow-root --fail-on error --suppress-tags bogus-mail-host,bogus-mail-host-in-debian-changelog "$work"/packed/*.deb ||
        fail "lintian has found errors"
else
    skip "lintian is not installed"
fi

# ---- Installed in a fresh root ----------------------------------------------------------------------

[ "${1-}" = --install ] || exit 0
[ "$(id -u)" -eq 0 ] || { skip "not root: the installation"; exit 0; }
command -v debootstrap >/dev/null || { skip "debootstrap is not installed: the installation"; exit 0; }
# shellcheck disable=SC1091 # read for VERSION_CODENAME
suite=$(. /etc/os-release && echo "$VERSION_CODENAME")
mirror=$(apt-get indextargets --format '$(REPO_URI)' "Created-By: Packages" "Codename: $suite" | head -n 1)
[ -n "$mirror" ] || { skip "apt knows no mirror: the installation"; exit 0; }
fresh=$work/fresh
debootstrap --variant=minbase "$suite" "$fresh" "$mirror" >"$work/log" 2>&1 || {
    tail -n 3 "$work/log"
    skip "debootstrap does not run here: the installation"
    exit 0
}
for file in /etc/apt/apt.conf.d/* /etc/apt/apt.conf; do
    [ ! -f "$file" ] || cp "$file" "$fresh/etc/apt/apt.conf.d/"
done
cp "$work"/packed/*.deb "$fresh/tmp"
inside() { chroot "$fresh" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LC_ALL=C DEBIAN_FRONTEND=noninteractive "$@"; }
inside apt-get update -q >"$work/log" 2>&1 || fail "apt-get update: $(tail -n 5 "$work/log")"
inside sh -c 'exec apt-get install -q -y --no-install-recommends /tmp/wortfit_*.deb' >"$work/log" 2>&1 ||
    fail "apt-get install: $(tail -n 20 "$work/log")"
inside wortfit solve amber-ale | grep -q '^American amber ale, 20 L' || fail "installed: solve does not work"
inside sh -c 'exec apt-get install -q -y --no-install-recommends /tmp/libwortfit*.deb' >"$work/log" 2>&1 ||
    fail "apt-get install of the library: $(tail -n 20 "$work/log")"
inside ldconfig -p | grep -q 'libwortfit\.so\.' || fail "installed: the loader does not know the library"
inside apt-get purge -q -y wortfit 'libwortfit*' >"$work/log" 2>&1 || fail "apt-get purge: $(tail -n 20 "$work/log")"
left=$(find "$fresh/usr" -path '*wortfit*')
[ -z "$left" ] || fail "left behind: $left"
echo "installed in a fresh Debian, run and removed without a trace"
