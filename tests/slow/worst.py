#!/usr/bin/env python3
"""worst.py: orders that ask the most of placing, each to its first checked plan.

    tests/slow/worst.py build/kilnstow            # every case: CPU seconds, pieces placed; status 1 when one is too slow
    tests/slow/worst.py build/kilnstow CASE…      # only these
    tests/slow/worst.py --write FOLDER [CASE…]    # the orders, to look at

A case may take SECONDS of processor time with --rounds 0, ordinary ware (`weekly`) half a second. All of it is invented.
"""
import json
import math
import os
import pathlib
import resource
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
KILNS = sorted(path.stem for path in (ROOT / "kilns").glob("*.json"))[:12]
SECONDS, ORDINARY_SECONDS = 20, 0.5


def ring(n, across, depth=0, teeth=1, squash=1):
    """A closed line of n corners: round, squashed, or with teeth, and no two sides alike."""
    points = []
    for i in range(n):
        turn = 2 * math.pi * i / n
        r = across / 2 * (1 - depth * (0.5 + 0.5 * math.cos(teeth * turn))) * (1 + 0.004 * math.sin(5 * turn + 1))
        points.append([round(r * math.cos(turn), 3), round(r * squash * math.sin(turn), 3)])
    return points


def piece(number, count, outline, height, **more):
    return {"id": f"p{number}", "count": count, "outline": outline, "height": height, "price": 5 + number % 17, **more}


def pieces(kinds, in_all, outline, **more):
    """So many kinds of sizes from a saucer to a platter, some tall, mostly low."""
    each, made = in_all // kinds, []
    for i in range(kinds):
        across = 60 + 190 * (i * 7919 % kinds) / max(1, kinds - 1)
        height = 20 + 120 * ((i * 104729 % kinds) / max(1, kinds - 1)) ** 2
        made.append(piece(i, each, outline(i, across), round(height, 2), **{key: value(i) for key, value in more.items()}))
    return made


def order(ware, kilns=KILNS, loads=2, **more):
    return {"format": "kilnstow-order/1", "title": "a worst case", "studio": "nobody's", "currency": "EUR",
            "units": {"length": "mm", "mass": "kg", "temperature": "C"},
            "kilns": [{"kiln": kiln, "loads": loads} for kiln in kilns],
            "firings": [{"id": "glaze", "cone": "6"}], "ware": ware, **more}


def many_sided(i, across):
    return {"polygon": ring(256, across, squash=0.7 + 0.3 * (i % 2))}


def toothed(i, across):
    return {"polygon": ring(256, across, 0.35, 5 + i % 6)}


def cylinder(i, across):
    return {"circle": [0, 0, round(across / 2, 2)]}


def oval(i, across):
    return {"ellipse": [0, 0, round(across / 2, 2), round(across / 2 * (0.4 + 0.05 * (i % 9)), 2)]}


def thrown(count, kinds, steps=64):
    made = []
    for i in range(kinds):
        across, height = 60 + 150 * (i * 7919 % kinds) / kinds, 40 + 150 * (i * 104729 % kinds) / kinds
        made.append({"id": f"p{i}", "count": count // kinds, "price": 4 + i % 9,
                     "profile": [[round(height * s / (steps - 1), 3),
                                  round(across / 2 * (0.5 + 0.5 * math.sin(1 + 2.2 * s / steps)), 3)] for s in range(steps)]})
    return made


def rich_kiln():
    """Every length of post there is."""
    return {"format": "kilnstow-kiln/1", "id": "rich", "name": "much furniture", "loading": "top",
            "units": {"length": "mm", "mass": "kg", "temperature": "C"},
            "chamber": {"height": 1500, "outline": {"regular": 12, "across": 900}},
            "shelves": [{"id": f"s{i}", "outline": {"circle": [0, 0, 360 + i / 2]}, "thickness": 12 + i / 10, "count": 3}
                        for i in range(40)],
            "posts": [{"height": 12 + 1.7 * i, "outline": {"circle": [0, 0, 18]}, "count": 12} for i in range(160)]}


def many_cornered_kiln():
    return {**rich_kiln(), "id": "cornered", "chamber": {"height": 700, "outline": {"polygon": ring(256, 980)}},
            "shelves": [{"id": "s", "outline": {"polygon": ring(256, 860, 0.03, 9)}, "thickness": 16, "count": 9}],
            "posts": [{"height": h, "outline": {"polygon": ring(64, 38)}, "count": 30} for h in (13, 25, 38, 51, 76, 102, 152)]}


def apart(n):
    return {"apart": [{"tags": [f"t{i}", f"t{i + 1}"], "by": "level" if i % 2 else "load"} for i in range(n - 1)]}


CASES = {
    "sides": lambda: order(pieces(40, 5000, many_sided)),
    "teeth": lambda: order(pieces(40, 5000, toothed)),
    "ovals": lambda: order(pieces(50, 5000, oval)),
    "one-oval": lambda: order([piece(0, 4, {"ellipse": [0, 0, 110, 70]}, 60)], KILNS[6:7], 5),
    "dishes": lambda: order([piece(0, 8, {"polygon": ring(120, 180, squash=0.8)}, 50)], KILNS[6:7], 1),
    "kinds": lambda: order(pieces(5000, 5000, cylinder)),
    "sided-kinds": lambda: order(pieces(1000, 5000, many_sided)),
    "profiles": lambda: order(thrown(5000, 100)),
    "crumbs": lambda: order([piece(i, 500, {"circle": [0, 0, 9 + i]}, 15 + 3 * i) for i in range(10)]),
    "sets": lambda: order(pieces(200, 5000, cylinder, set=lambda i: f"set {i // 4}", must_go=lambda i: i % 5 == 0,
                                 due=lambda i: f"2026-12-{1 + i % 28:02}")),
    "apart": lambda: order(pieces(60, 5000, cylinder, tags=lambda i: [f"t{i % 20}"]), rules=apart(20)),
    "furniture": lambda: order(pieces(40, 5000, cylinder), [rich_kiln()], 24),
    "corners": lambda: order(pieces(40, 5000, many_sided), [many_cornered_kiln()], 24),
    "plain": lambda: order(pieces(50, 5000, cylinder)),
    "loads": lambda: order(pieces(50, 5000, cylinder), KILNS[6:7], 24),
}


def first_plan(program, name, path, folder):
    """CPU seconds and the last line told, to a plan that its own checker has passed."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    ran = subprocess.run([program, "place", path, "--rounds", "0", "--threads", "1", "-q", "-o", os.path.join(folder, name + ".plan.json")],
                         capture_output=True, text=True, cwd=ROOT)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    told = (ran.stdout or ran.stderr).splitlines() or [""]
    return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime, ran.returncode, told[0]


def main():
    arguments = sys.argv[1:]
    if not arguments:
        sys.exit(__doc__)
    write = arguments[0] == "--write"
    names = arguments[1 + write:] or [*CASES, *([] if write else ["weekly"])]
    with tempfile.TemporaryDirectory() as folder:
        late = 0
        for name in names:
            path = ROOT / "examples/weekly/order.json"
            if name != "weekly":
                path = pathlib.Path(arguments[1] if write else folder) / (name + ".json")
                path.write_text(json.dumps(CASES[name]()))
            if write:
                continue
            seconds, status, told = first_plan(os.path.abspath(arguments[0]), name, path, folder)
            most = ORDINARY_SECONDS if name == "weekly" else SECONDS
            late += seconds > most or status not in (0, 1)
            print(f"{name:12} {seconds:7.2f} of {most:4.1f} CPU s, status {status}: {told}", flush=True)
    sys.exit(1 if late else 0)


if __name__ == "__main__":
    main()
