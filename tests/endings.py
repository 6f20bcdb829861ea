#!/usr/bin/python3
"""How a run ends that does not end by itself: signals, the death of the planning process, outputs that must not be.

usage: tests/endings.py PROGRAM [KILLS]

Interrupts a long search by each signal; kills its planning process KILLS (4) times at random moments, its seed printed; tries
outputs in every command. Nothing here measures time: a process that does not end meets the watchdog."""
import json
import os
import pathlib
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time

PROGRAM = os.path.abspath(sys.argv[1])
KILLS = int(sys.argv[2]) if len(sys.argv) > 2 else 4
WATCHDOG_S = 240
HERE = pathlib.Path(tempfile.mkdtemp(prefix="kilnstow-endings-"))
number = failed = 0

WARE = [{"id": f"cup {i}", "count": 9, "diameter": 61 + 5 * i, "height": 53 + 9 * i} for i in range(8)]
ORDER = {
    "format": "kilnstow-order/1", "title": "more than goes in", "currency": "EUR",
    "units": {"length": "mm", "mass": "kg", "temperature": "C"}, "kilns": ["round-450"],
    "firings": [{"id": "glaze", "cone": "6"}], "ware_files": ["ware.csv"], "ware": WARE,
    "costs": {"electricity": {"price": 0.3}},
}
TABLE = "id,count,diameter (mm),height (mm)\nbowl,3,140,70\n"


def ok(truth, what, got=None):
    global number, failed
    number += 1
    failed += not truth
    print("ok" if truth else "not ok", number, "-", what, flush=True)
    if not truth:
        print("#", repr(got)[:1500])


def run(*args):
    return subprocess.run([PROGRAM, *args], cwd=HERE, capture_output=True, text=True, timeout=WATCHDOG_S)


def planning():
    """A search that goes on for hours."""
    return subprocess.Popen([PROGRAM, "place", "order.json", "-o", "cut.json", "--rounds", "100000", "--threads", "1"],
                            cwd=HERE, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)


def child_of(process):
    told = pathlib.Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text().split()
    return int(told[0]) if told else None


def is_gone(pid):
    """Whether the process has ended, waiting for it as long as the watchdog does."""
    until = time.monotonic() + WATCHDOG_S
    while time.monotonic() < until:
        try:
            if pathlib.Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] == "Z":
                return True
        except OSError:
            return True
        time.sleep(0.01)
    return False


def plan_is_whole(stopped_by):
    plan = json.loads((HERE / "cut.json").read_text())
    return plan["stopped_by"] == stopped_by and run("check", "cut.json").returncode == 0


def signals():
    for sent in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        (HERE / "cut.json").unlink(missing_ok=True)
        process = planning()
        while "pieces in" not in process.stderr.readline():  # by then there is a plan
            pass
        child = child_of(process)
        process.send_signal(sent)
        said = process.communicate(timeout=WATCHDOG_S)[1]
        ok(process.returncode == 130, f"{sent.name} ends with 130", said)
        ok(plan_is_whole("interrupt"), "and the best plan so far, whole", said)
        ok(is_gone(child), "and nobody goes on planning")
        ok(not (HERE / "cut.json.part").exists(), "and nothing else is left", os.listdir(HERE))


def kills():
    seed = random.randrange(10**6)
    rng = random.Random(seed)
    print(f"# kills by seed {seed}")
    for _ in range(KILLS):
        (HERE / "cut.json").unlink(missing_ok=True)
        process = planning()
        child = None
        while child is None and process.poll() is None:
            child = child_of(process)
        time.sleep(rng.random() * 2)
        os.kill(child, signal.SIGKILL)
        said = process.communicate(timeout=WATCHDOG_S)[1]
        if (HERE / "cut.json").exists():
            ok(process.returncode == 4 and plan_is_whole("failure") and "signal 9" in said, "a killed search leaves its best", said)
        else:
            ok(process.returncode == 4 and "before there was a first plan" in said, "or says that there is none yet", said)


def part():
    """The program itself is killed: what it kept is a plan to go on from."""
    process = planning()
    while not (HERE / "cut.json.part").exists() and process.poll() is None:
        time.sleep(0.01)
    child = child_of(process)
    process.kill()
    process.communicate(timeout=WATCHDOG_S)
    ok(is_gone(child), "a killed program takes its planning process with it")
    plan = json.loads((HERE / "cut.json.part").read_text())
    ok(plan["stopped_by"] == "unfinished" and run("check", "cut.json.part").returncode == 0, "what it kept is a plan")
    got = run("place", "order.json", "--from", "cut.json.part", "-o", "cut.json", "--rounds", "1", "-q")
    ok(got.returncode == 0 and "stand where they stood" in got.stdout, "to go on from", got)


def refused(status, what, *args):
    before = {path.name: path.read_bytes() for path in HERE.iterdir()}
    got = run(*args)
    after = {path.name: path.read_bytes() for path in HERE.iterdir()}
    ok(got.returncode == status and before == after, what, (got, sorted(set(after) ^ set(before))))


def outputs():
    got = run("place", "order.json", "-o", "plan.json", "--rounds", "1", "-q")
    ok(got.returncode == 0, "a plan to work with", got)
    os.link(HERE / "ware.csv", HERE / "linked.csv")
    (HERE / "text.pdf").write_text("dear diary")
    one = ("--rounds", "1", "-q")
    refused(2, "place spares its order", "place", "order.json", "-o", "order.json", *one)
    refused(2, "and its ware by any name", "place", "order.json", "-o", "linked.csv", *one)
    refused(2, "and the plan it starts from", "place", "order.json", "--from", "plan.json", "-o", "plan.json", *one)
    refused(2, "and what is no plan", "place", "order.json", "-o", "text.pdf", *one)
    refused(4, "and sees beforehand that there is no folder", "place", "order.json", "-o", "no/plan.json", *one)
    refused(4, "or only a folder", "place", "order.json", "-o", "..", *one)
    refused(2, "draw spares what is no drawing", "draw", "plan.json", "-o", "text.pdf")
    refused(4, "and sees that there is no folder", "draw", "plan.json", "-o", "no/sheets.pdf")
    refused(2, "fire spares its plan", "fire", "plan.json", "-o", "plan.json")
    refused(2, "and a table that is no curve", "fire", "plan.json", "-o", "ware.csv")
    refused(4, "and sees that there is no folder", "fire", "plan.json", "-o", "no/curve.csv")
    refused(2, "cost spares a table that is none of costs", "cost", "plan.json", "-o", "ware.csv")
    refused(4, "and sees that there is no folder", "cost", "plan.json", "-o", "no/costs.csv")
    refused(2, "fit spares what is no drawing", "fit", "order.json", "--piece", "bowl", "--draw", "text.pdf")
    for args in (("draw", "plan.json", "-o", "out.pdf"), ("draw", "plan.json", "-o", "out.html"),
                 ("draw", "plan.json", "-o", "out.svg", "--sheets", "side"),
                 ("draw", "plan.json", "-o", "out.png", "--sheets", "side", "--dpi", "60"),
                 ("draw", "plan.json", "-o", "out.ics", "--start", "2026-12-05 18:00"),
                 ("fire", "plan.json", "-o", "curve.csv"), ("fire", "plan.json", "-o", "curve.json"),
                 ("cost", "plan.json", "-o", "costs.csv")):
        got = [run(*args), run(*args)]
        ok(all(one.returncode in (0, 1) for one in got), f"{args[0]} replaces its own {args[3]}", got)
    got = run("draw", "plan.json", "-o", "text.pdf", "--force")
    ok(got.returncode == 0 and (HERE / "text.pdf").read_bytes().startswith(b"%PDF"), "--force replaces all the same", got)
    for command in ("place", "draw", "fire", "cost", "fit"):
        ok("--force" in run(command, "--help").stdout, f"{command} --help tells of --force")


(HERE / "order.json").write_text(json.dumps(ORDER))
(HERE / "ware.csv").write_text(TABLE)
for group in (outputs, signals, kills, part):
    try:
        group()
    except Exception as slip:  # the others still run
        ok(False, f"{group.__name__} goes through", slip)
shutil.rmtree(HERE)
print(f"1..{number}")
sys.exit(failed > 0)
