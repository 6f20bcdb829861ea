#!/bin/sh
# Installs the Debian packages that building (`sh tests/packages.sh build`) or building and testing
# (`sh tests/packages.sh tests`) needs and this machine lacks. Calls apt only when something is missing.
# With `names` before it (`sh tests/packages.sh names build`) it only prints them.
set -eu

packages="build-essential meson ninja-build pkg-config fonts-dejavu-core
    libcairo2-dev libcjson-dev libfreetype-dev libfribidi-dev libglpk-dev libharfbuzz-dev
    libmicrohttpd-dev libsqlite3-dev libutf8proc-dev"
only_names=false
if [ "${1:-}" = names ]; then
    only_names=true
    shift
fi
if [ "${1:-build}" = tests ]; then
    packages="$packages chromium clang-format-14 coinor-cbc libcmocka-dev libgeos-dev libgsl-dev libxml2-utils poppler-utils
        python3 python3-icalendar python3-jsonschema qpdf universal-ctags"
fi

if $only_names; then
    printf '%s\n' $packages
    exit 0
fi

if ! command -v dpkg-query >/dev/null; then
    echo "packages: this is no Debian; going on in the hope that the like of these is here:" $packages >&2
    exit 0
fi

missing=""
for package in $packages; do
    case "$(dpkg-query -W -f='${db:Status-Abbrev}' "$package" 2>/dev/null || true)" in
    ii*) ;;
    *) missing="$missing $package" ;;
    esac
done
[ -n "$missing" ] || exit 0

if [ "$(id -u)" = 0 ]; then
    as_root="env DEBIAN_FRONTEND=noninteractive"
elif command -v sudo >/dev/null; then
    as_root="sudo env DEBIAN_FRONTEND=noninteractive"
else
    echo "packages: missing, and only root may install them; run as root: apt-get install$missing" >&2
    exit 4
fi
echo "packages: installing$missing" >&2
if ! { $as_root apt-get update -q && $as_root apt-get install -q -y --no-install-recommends $missing; } >&2
then
    echo "packages: apt could not install$missing; see its words above" >&2
    exit 4
fi
