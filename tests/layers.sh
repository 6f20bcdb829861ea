#!/bin/sh
# The storeys: includes and calls run only within a room or to one above it in this list, headers
# include one another without a cycle, and below app nothing prints, exits, or asks the environment
# or the clock. Usage: layers.sh [BUILD FOLDER], from the project's top folder, after building.
set -u
build=${1:-build}
rooms="base shape studio place fire cost book draw app web cli"
quiet_rooms="base shape studio place fire cost book draw"
work=$(mktemp -d) || exit 4
trap 'rm -rf "$work"' EXIT
tests=0
bad=0

told() { # NAME FILE-OF-FAULTS: one TAP line
    tests=$((tests + 1))
    if [ -s "$2" ]; then
        bad=1
        sed 's/^/# /' "$2"
        echo "not ok $tests - $1"
    else
        echo "ok $tests - $1"
    fi
}

# Includes between rooms.
seen=""
for room in $rooms; do
    seen="$seen $room"
    for file in src/$room/*.[ch]; do
        [ -e "$file" ] || continue
        for included in $(sed -n 's/^#include "\([a-z_]*\)\/.*/\1/p' "$file" | sort -u); do
            case " $seen kilnstow " in
            *" $included "*) ;;
            *) echo "$file includes $included/, which is below $room" ;;
            esac
        done
    done
done >"$work/includes"
for file in include/kilnstow/*.h; do
    sed -n 's/^#include "\([^"]*\)".*/\1/p' "$file" | grep -v '^kilnstow/' |
        sed "s|^|$file, a public header, includes |"
done >>"$work/includes"
told "no include runs up" "$work/includes"

# Cycles: tsort names the files of each.
for file in include/kilnstow/*.h src/*/*.h; do
    [ -e "$file" ] || continue
    name=${file#include/}
    name=${name#src/}
    sed -n 's/^#include "\([^"]*\)".*/\1/p' "$file" | while read -r included; do
        case $included in
        */*) echo "$name $included" ;;
        *) echo "$name $(dirname "$name")/$included" ;;
        esac
    done
done >"$work/edges"
tsort "$work/edges" 2>"$work/cycles" >/dev/null
told "no include cycle" "$work/cycles"

# Calls: who defines what, and who asks for what, from the object files.
find "$build" -name 'src_*.c.o' >"$work/objects"
[ -s "$work/objects" ] || echo "no object files in $build: build first" >"$work/unbuilt"
told "the object files are there to be looked at" "$work/unbuilt"
# "FILE: [ADDRESS] KIND SYMBOL" for each symbol of each object.
xargs nm -A <"$work/objects" | sed 's|^.*/src_\([a-z]*\)_\([^:]*\)\.c\.o:|\1 src_\1_\2 |' | awk '
    $(NF - 1) == "U" { print "asks", $1, $NF, $2 }
    $(NF - 1) ~ /^[TDBRVW]$/ { print "has", $1, $NF, $2 }' >"$work/symbols"
awk -v rooms="$rooms" '
    BEGIN { n = split(rooms, name, " "); for (i = 1; i <= n; i++) storey[name[i]] = i }
    NR == FNR { if ($1 == "has") at[$3] = $2; next }
    $1 == "asks" && ($3 in at) && storey[at[$3]] > storey[$2] {
        print $4 " calls " $3 ", which is in " at[$3] ", below " $2 }' \
    "$work/symbols" "$work/symbols" | sort -u >"$work/calls"
told "no call runs up" "$work/calls"

# The arena is the one exception: out of memory, it says so and exits.
loud="stdout|stderr|stdin|printf|vprintf|puts|putchar|perror|exit|_exit|quick_exit|abort|getenv"
loud="$loud|secure_getenv|time|clock|clock_gettime|gettimeofday|localtime|localtime_r|setlocale"
loud="$loud|rand|srand|random|__printf_chk|__vprintf_chk"
awk -v quiet=" $quiet_rooms " -v loud="^($loud)\$" '
    $1 == "asks" && index(quiet, " " $2 " ") && $3 ~ loud && $4 != "src_base_arena" {
        print $4 " uses " $3 }' "$work/symbols" | sort -u >"$work/loud"
told "below app nothing prints, exits, or asks the environment or the clock" "$work/loud"

# libm's functions differ in bits between machines; a plan must not.
inexact="sin|cos|tan|sincos|asin|acos|atan|atan2|hypot|pow|exp|exp2|log|log2|log10|cbrt"
awk -v inexact="^(${inexact})f?\$" '
    $1 == "asks" && ($2 == "shape" || $2 == "place") && $3 ~ inexact { print $4 " uses " $3 }' \
    "$work/symbols" | sort -u >"$work/inexact"
told "shape and place use no function whose last bits depend on the machine" "$work/inexact"
echo "1..$tests"
exit $bad
