#!/bin/sh
# Rewrites the golden files from what the program makes now. Read what changed as you would code.
set -eu
cd "$(dirname "$0")/.."
build=${1:-build}
ninja -C "$build" >/dev/null
KILNSTOW_REGOLD=1 "$build"/tests/test_draw_scene
git --no-pager diff --stat -- tests
