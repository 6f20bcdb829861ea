#!/usr/bin/env python3
"""worst.py: orders that ask the most of placing, each to its first checked plan.

    tests/slow/worst.py build/kilnstow            # every case: CPU seconds, pieces placed; status 1 when one is too slow
    tests/slow/worst.py build/kilnstow CASE…      # only these
    tests/slow/worst.py --stop build/kilnstow [CASE…]  # how long each takes to answer Ctrl-C and the like
    tests/slow/worst.py --write FOLDER [CASE…]    # the orders, to look at

A case may take SECONDS of processor time with --rounds 0, ordinary ware (`weekly`) half a second. With --stop each is planned
with all rounds, and ended by SIGINT, SIGTERM, SIGHUP and --seconds at different moments: it has to end within ANSWER_S of them,
with the plan it has, in which `check` finds nothing wrong but ware that must go and is not in yet, or with none and the reason.
What others do on the machine does not count: seconds are those of the processor, but for the moment of --seconds. All of it is
invented.
"""
import json
import math
import os
import pathlib
import resource
import signal
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
KILNS = sorted(path.stem for path in (ROOT / "kilns").glob("*.json"))[:12]
SECONDS, ORDINARY_SECONDS, ANSWER_S = 20, 0.5, 1.0
MOMENTS_S = {signal.SIGINT: 1, signal.SIGTERM: 5, signal.SIGHUP: 20, None: 30}  # None: --seconds


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
    before = children_s()
    ran = subprocess.run([program, "place", path, "--rounds", "0", "--threads", "1", "-q", "-o", os.path.join(folder, name + ".plan.json")],
                         capture_output=True, text=True, cwd=ROOT)
    told = (ran.stdout or ran.stderr).splitlines() or [""]
    return children_s() - before, ran.returncode, told[0]


def family(pid):
    """The process and its children."""
    children = pathlib.Path(f"/proc/{pid}/task/{pid}/children")
    return [pid, *(one for child in children.read_text().split() for one in family(int(child)))] if children.exists() else [pid]


def used_s(pid):
    """Processor seconds of a process and its children so far."""
    ticks = 0
    for one in family(pid):
        try:
            fields = pathlib.Path(f"/proc/{one}/stat").read_text().rpartition(")")[2].split()
        except FileNotFoundError:
            continue
        ticks += int(fields[11]) + int(fields[12])
    return ticks / os.sysconf("SC_CLK_TCK")


def children_s():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def fault_of(program, plan, told):
    """What is wrong with what a run left behind, None = nothing."""
    if not plan.exists():
        return None if told.strip() else "nothing written, nothing said"
    checked = subprocess.run([program, "check", "--json", plan], capture_output=True, text=True, cwd=ROOT)
    broken = {one["rule"] for one in json.loads(checked.stdout)["result"]["broken"]} - {"must go"}
    return f"check: {', '.join(sorted(broken))}" if broken else None


def wait_for(run, how, moment_s):
    """Until it ends, or the moment comes: what it had used of the processor by then."""
    began = time.monotonic()
    while run.poll() is None:
        used = used_s(run.pid)
        if (used if how else time.monotonic() - began) >= moment_s:
            return used
        time.sleep(0.02)
    return None


def ended(program, path, plan, how, after_s):
    """Processor seconds from the moment to the end, the status, and what is wrong with the plan."""
    plan.unlink(missing_ok=True)
    seconds = ["--seconds", str(after_s)] if how is None else []
    before = children_s()
    run = subprocess.Popen([program, "place", path, "--threads", "1", "-q", "-o", plan, *seconds], cwd=ROOT,
                           stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
    used = wait_for(run, how, after_s)
    if used is not None and how is not None:
        run.send_signal(how)
    told = run.communicate()[1]
    late = 0 if used is None else children_s() - before - used
    return late, run.returncode, fault_of(program, plan, told)


def stop_all(program, names, folder):
    """How many were too late, or left a plan that `check` refuses."""
    wrong = 0
    for name in names:
        for how, after_s in MOMENTS_S.items():
            late, status, fault = ended(program, path_of(name, folder), pathlib.Path(folder) / "stopped.json", how, after_s)
            wrong += late > ANSWER_S or fault is not None
            print(f"{name:12} {how.name if how else '--seconds':9} after {after_s:3} s: {max(0, late):5.2f} CPU s, status {status}"
                  f"{'' if fault is None else ': ' + fault}", flush=True)
    return wrong


def path_of(name, folder):
    if name == "weekly":
        return ROOT / "examples/weekly/order.json"
    path = pathlib.Path(folder) / (name + ".json")
    path.write_text(json.dumps(CASES[name]()))
    return path


def measure_all(program, names, folder):
    late = 0
    for name in names:
        seconds, status, told = first_plan(program, name, path_of(name, folder), folder)
        most = ORDINARY_SECONDS if name == "weekly" else SECONDS
        late += seconds > most or status not in (0, 1)
        print(f"{name:12} {seconds:7.2f} of {most:4.1f} CPU s, status {status}: {told}", flush=True)
    return late


def main():
    arguments = sys.argv[1:]
    how = arguments.pop(0) if arguments and arguments[0].startswith("--") else None
    if not arguments or how not in (None, "--write", "--stop"):
        sys.exit(__doc__)
    where, names = arguments[0], arguments[1:] or [*CASES, *([] if how == "--write" else ["weekly"])]
    if how == "--write":
        for name in names:
            path_of(name, where)
        return
    with tempfile.TemporaryDirectory() as folder:
        wrong = (stop_all if how else measure_all)(os.path.abspath(where), names, folder)
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
