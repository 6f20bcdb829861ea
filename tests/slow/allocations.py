#!/usr/bin/python3
"""Every allocation of a run of `place` fails once.

usage: tests/slow/allocations.py PROGRAM LIBRARY [COUNT]

Plans a small order on one thread with LIBRARY (made from failing_malloc.c) in front of malloc, COUNT times (0 = once
for each allocation there is), each time with another allocation failing, spread evenly. The run must end with status 4 and
say why, or with the status and the very bytes of a run in which none fails. A plan beside status 4 must be one that `check`
passes. Counts allocations, never time."""
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
    "ware": [{"id": "cup", "count": 7, "diameter": 70, "height": 62}, {"id": "bowl", "count": 4, "diameter": 95, "height": 40}],
}


def run(folder, failing):
    """How many allocations there were, and the finished process."""
    (folder / "count").write_bytes(struct.pack("=qq", 0, failing))
    (folder / "plan.json").unlink(missing_ok=True)
    got = subprocess.run([PROGRAM, "place", "order.json", "-o", "plan.json", "--rounds", "4", "--threads", "1", "-q"],
                         cwd=folder, capture_output=True, timeout=WATCHDOG_S,
                         env=dict(os.environ, LD_PRELOAD=LIBRARY, FAILING_MALLOC=str(folder / "count")))
    return struct.unpack("=qq", (folder / "count").read_bytes())[0], got


def fault_of(folder, got, whole, status):
    plan = folder / "plan.json"
    if got.returncode == 4:
        if not got.stderr.strip():
            return "status 4 without a word"
        checked = plan.exists() and subprocess.run([PROGRAM, "check", "plan.json"], cwd=folder, capture_output=True)
        return f"a plan that check refuses: {checked.stdout[-300:]}" if checked and checked.returncode else None
    if got.returncode != status:
        return f"status {got.returncode}: {got.stderr[-300:]}"
    return None if plan.exists() and plan.read_bytes() == whole else f"status {status} with another plan"


def main():
    folder = pathlib.Path(tempfile.mkdtemp(prefix="kilnstow-allocations-"))
    (folder / "order.json").write_text(json.dumps(ORDER))
    there, got = run(folder, 0)
    whole, status, faults, refused = (folder / "plan.json").read_bytes(), got.returncode, 0, 0
    count = COUNT or there
    for i in range(count):
        failing = 1 + i * there // count
        _, got = run(folder, failing)
        refused += got.returncode == 4
        fault = fault_of(folder, got, whole, status)
        if fault:
            faults += 1
            print(f"allocation {failing} of {there}: {fault}", flush=True)
    if refused == 0:
        faults += 1
        print("no allocation that failed was ever told: is the library in front?")
    print(f"{count} of {there} allocations failed once: {refused} ended with status 4, {faults} wrongly")
    sys.exit(faults > 0)


main()
