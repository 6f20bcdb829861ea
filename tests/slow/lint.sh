#!/bin/sh
# What cppcheck and clang-tidy (by .clang-tidy) say of the sources: nothing, or a line for each finding and status 1.
# usage: sh tests/slow/lint.sh [FILE...]     (all of src/ unless told; build/ must be configured)
# Left out: invalidPointerCast (tables of fields hold a member's place in its struct) and ctuuninitvar (a place that a value is read into).
set -u
cd "$(dirname "$0")/../.."
[ -f build/compile_commands.json ] || { echo "lint: configure first: meson setup build" >&2; exit 4; }
[ $# -gt 0 ] || set -- $(find src -name '*.c' | sort)
cppcheck --quiet --std=c11 --enable=warning,performance,portability --inline-suppr --max-configs=1 \
    --suppress=missingIncludeSystem --suppress=invalidPointerCast --suppress=ctuuninitvar --error-exitcode=1 -Iinclude -Isrc "$@"
bad=$?
for file in "$@"; do
    clang-tidy --quiet -p build "$file" 2>/dev/null || bad=1
done
exit $bad
