#!/usr/bin/python3
"""Every allocation of a run fails once.

usage: tests/slow/allocations.py PROGRAM LIBRARY [COUNT [COMMAND…]]

Runs commands on a small order, one after another (all of COMMANDS, or those named), with LIBRARY (made from
failing_malloc.c) in front of malloc: COUNT times each (0 = once for each allocation there is), each time with another
allocation failing, spread evenly. A run must end with status 4 and say why, leaving no file that is not whole; or with the
status, the words and the very bytes of a run in which none fails. A plan beside status 4 must be one that `check` passes.
Counts allocations, never time."""
import json
import os
import pathlib
import struct
import subprocess
import sys
import tempfile

PROGRAM, LIBRARY = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
COUNT = int(sys.argv[3]) if len(sys.argv) > 3 else 0
WATCHDOG_S = 600
ORDER = {
    "format": "kilnstow-order/1", "units": {"length": "mm", "mass": "kg", "temperature": "C"}, "currency": "EUR",
    "kilns": ["test-230"], "firings": [{"id": "glaze", "cone": "6"}],
    "costs": {"electricity": {"prices": [{"name": "day", "price": 0.3}], "per_firing": 0.85}},
    "ware": [{"id": "cup", "count": 7, "diameter": 70, "height": 62}, {"id": "bowl", "count": 4, "diameter": 95, "height": 40}],
}
PLAN = ["place", "order.json", "--rounds", "4", "--threads", "1", "-q"]
FIT = ["fit", "order.json", "--piece", "bowl", "--rounds", "1"]
# What it runs, and the file it writes.
COMMANDS = {
    "place": (PLAN + ["-o", "out.json"], "out.json"),
    "place-json": (PLAN + ["--json", "-o", "out.json"], "out.json"),
    "check": (["check", "plan.json"], None),
    "fit": (FIT, None),
    "fit-together": (FIT + ["--together"], None),
    "fit-rest": (FIT + ["--rest"], None),
    "fit-draw": (FIT + ["--rest", "--draw", "out.pdf"], "out.pdf"),
    "fire": (["fire", "plan.json"], None),
    "fire-curve": (["fire", "plan.json", "--curve", "out.svg"], "out.svg"),
    "cost": (["cost", "plan.json", "--csv", "out.csv"], "out.csv"),
    "draw-pdf": (["draw", "plan.json", "-o", "out.pdf"], "out.pdf"),
    "draw-html": (["draw", "plan.json", "-o", "out.html"], "out.html"),
    "draw-png": (["draw", "plan.json", "-o", "out.png", "--sheets", "levels", "--dpi", "50"], "out-level-1.png"),
    "list-kilns": (["list", "kilns"], None),
    "list-ware": (["list", "ware", "order.json"], None),
}
BY_THE_CLOCK = ("seconds",)  # of an answer, and nothing to compare


def run(folder, command, failing):
    """How many allocations there were, and the finished process."""
    (folder / "count").write_bytes(struct.pack("=qq", 0, failing))
    for made in folder.glob("out*"):
        made.unlink()
    got = subprocess.run([PROGRAM, *command], cwd=folder, capture_output=True, timeout=WATCHDOG_S,
                         env=dict(os.environ, LD_PRELOAD=LIBRARY, FAILING_MALLOC=str(folder / "count"), SOURCE_DATE_EPOCH="0"))
    return struct.unpack("=qq", (folder / "count").read_bytes())[0], got


def answer_of(folder, got, file):
    """What there is to compare: status, words, the file's bytes."""
    words = got.stdout
    if words.startswith(b"{"):
        try:
            words = json.dumps({key: value for key, value in json.loads(words).items() if key not in BY_THE_CLOCK})
        except ValueError:
            pass
    path = folder / (file or "out.none")
    return got.returncode, words, path.read_bytes() if path.exists() else None


def fault_of(folder, got, file, whole):
    left = [path.name for path in folder.glob(".*")] + [path.name for path in folder.glob("*.part")]
    if left:
        return f"left behind: {left}"
    answer = answer_of(folder, got, file)
    if got.returncode != 4:
        return None if answer == whole else f"status {got.returncode}, not as in a run without failing: {got.stderr[-300:]}"
    if not got.stderr.strip():
        return "status 4 without a word"
    if answer[2] is None or answer[2] == whole[2]:
        return None
    if not file.endswith(".json"):
        return "a file that is not whole"
    checked = subprocess.run([PROGRAM, "check", file], cwd=folder, capture_output=True)
    return f"a plan that check refuses: {checked.stdout[-300:]}" if checked.returncode else None


def sweep(folder, name):
    """How many runs ended wrongly."""
    command, file = COMMANDS[name]
    there, got = run(folder, command, 0)
    whole, faults, refused = answer_of(folder, got, file), 0, 0
    count = min(COUNT or there, there)
    for i in range(count):
        failing = 1 + i * there // count
        _, got = run(folder, command, failing)
        refused += got.returncode == 4
        fault = fault_of(folder, got, file, whole)
        if fault:
            faults += 1
            print(f"{name}: allocation {failing} of {there}: {fault}", flush=True)
    if refused == 0:
        faults += 1
        print(f"{name}: no allocation that failed was ever told: is the library in front?")
    print(f"{name}: {count} of {there} allocations failed once: {refused} ended with status 4, {faults} wrongly", flush=True)
    return faults


def main():
    folder = pathlib.Path(tempfile.mkdtemp(prefix="kilnstow-allocations-"))
    (folder / "order.json").write_text(json.dumps(ORDER))
    subprocess.run([PROGRAM, *PLAN, "-o", "plan.json"], cwd=folder, check=True, capture_output=True)
    faults = [sweep(folder, name) for name in sys.argv[4:] or COMMANDS]
    sys.exit(sum(faults) > 0)


main()
