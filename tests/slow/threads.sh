#!/bin/sh
# Placing on several threads under ThreadSanitizer: a race it sees ends the run with status 66.
# usage: sh tests/slow/threads.sh [ORDER…]     (by default examples of one load, of several, and of what fills)
set -eu
cd "$(dirname "$0")/../.."
[ -f build-tsan/build.ninja ] || meson setup build-tsan -Db_sanitize=thread -Db_lundef=false -Dtests=disabled >/dev/null
ninja -C build-tsan kilnstow >/dev/null
[ $# -gt 0 ] || set -- examples/first/order.json examples/weekly/order.json examples/backlog/order.json
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
for order; do
    # The same plan must come of one thread: that is what the order of results promises.
    for threads in 1 4; do
        status=0
        TSAN_OPTIONS=halt_on_error=1:exitcode=66 build-tsan/kilnstow place "$order" --rounds 4 --threads $threads -q \
            -o "$folder/$threads.json" >"$folder/told" 2>&1 || status=$?
        if [ $status -gt 1 ]; then
            cat "$folder/told"
            echo "$order: status $status on $threads threads"
            exit 1
        fi
    done
    cmp "$folder/1.json" "$folder/4.json"
    echo "$order: no race on 4 threads, and the plan of 1"
    rm "$folder"/*.json
done
