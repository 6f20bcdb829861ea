#!/bin/sh
# Rewrites the golden files, and the answers shown in the README's first hour, from what the program makes now. Read what
# changed as you would code.
set -eu
cd "$(dirname "$0")/.."
build=${1:-build}
ninja -C "$build" >/dev/null
KILNSTOW_REGOLD=1 "$build"/tests/test_draw_scene
python3 tests/examples.py "$build"/kilnstow --renew
python3 tests/first_hour.py "$build"/kilnstow --renew
git --no-pager diff --stat -- tests README.md
