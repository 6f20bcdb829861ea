#!/bin/sh
# The storeys: an include may only run to the same room or to one above it in this list.
set -u
rooms="base shape studio place fire cost book draw app web cli"
bad=0
seen=""
for room in $rooms; do
    seen="$seen $room"
    for file in src/$room/*.[ch]; do
        [ -e "$file" ] || continue
        for included in $(sed -n 's/^#include "\([a-z_]*\)\/.*/\1/p' "$file" | sort -u); do
            case " $seen kilnstow " in
            *" $included "*) ;;
            *) echo "$file includes $included/, which is below $room"; bad=1 ;;
            esac
        done
    done
done
exit $bad
