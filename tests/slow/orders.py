#!/usr/bin/python3
"""Random but valid orders, through every command of the program.

usage: tests/slow/orders.py [--placing] PROGRAM [COUNT [SEED [FOLDER]]]

Makes COUNT (20) orders from SEED (1) that together use every feature of docs/files.md, plans each one with
few rounds on one thread and on two, and checks, draws, fires, fits and costs the plan. What is wrong:
a status that the contract has not, a crash, a CPU limit passed, two plans that differ, worth above its bound,
pieces lost or won, a plan that `check` refuses, a reason for leaving out that is not on the list, an answer that is
no JSON or a file that docs/schema refuses. With `--placing` the kilns are random too, the orders small, and each is only
placed, in one round, and checked: no honest kiln may end with a plan of ours that our own check refuses. The orders that fail stay in FOLDER (a new one under /tmp), each as N.json,
its table as N.csv; N is the seed of that order alone, so `orders.py PROGRAM 1 N` makes it again. CPU time is
limited, not wall time."""
import json
import os
import pathlib
import random
import resource
import subprocess
import sys
import tempfile
import warnings

warnings.filterwarnings("ignore", category=DeprecationWarning)
import jsonschema

from order_maker import order_for_kiln_made, order_made, rows_taken

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
PLACING = "--placing" in sys.argv
ARGUMENTS = [word for word in sys.argv[1:] if word != "--placing"]
PROGRAM = os.path.abspath(ARGUMENTS[0])
CPU_S = {"place": 120, "fit": 120, "draw": 40, "fire": 40, "cost": 40, "check": 20}
REASONS = {"too tall", "too wide", "posts", "shelves", "mass", "no room left this time", "apart", "set", "due later", "unsuited",
           "held back"}  # include/kilnstow/plan.h
HONEST = {"place": {0, 1}, "check": {0, 1}, "draw": {0}, "fire": {0, 1}, "fit": {0, 1}, "cost": {0}}
slips = []


def schema(kind):
    path = ROOT / "docs" / "schema" / f"{kind}.schema.json"
    text = json.loads(path.read_text(encoding="utf-8"))
    return jsonschema.Draft202012Validator(text, resolver=jsonschema.RefResolver(path.as_uri(), text))


SCHEMAS = {"order": schema("order"), "plan": schema("plan")}


def wrong(name, what):
    slips.append(name)
    print(f"FAILED {name}: {what}", flush=True)


def satisfies(name, kind, value):
    for error in SCHEMAS[kind].iter_errors(value):
        where = "/".join(map(str, error.absolute_path))
        wrong(name, f"{kind} against its schema: {where}: {error.message[:200]}")
        break


def no_constant(word):
    raise ValueError(f"{word} is no JSON")


def limited(seconds):
    return lambda: resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))


def run(name, folder, command, *args):
    """The answer under `--json`, or None after a failure told."""
    got = subprocess.run([PROGRAM, command, *args, "--json"], capture_output=True, cwd=folder,
                         preexec_fn=limited(CPU_S[command]), timeout=CPU_S[command] * 20)
    told = f"{command} {' '.join(args)} ends with {got.returncode}: {got.stderr[-600:].decode(errors='replace')}"
    try:
        answer = json.loads(got.stdout.decode("utf-8"), parse_constant=no_constant)
    except ValueError as slip:
        wrong(name, f"{told}; {slip}; {got.stdout[:200]}")
        return None
    if got.returncode not in HONEST[command]:
        why = answer.get("errors") or (answer.get("result") or {}).get("broken") or answer
        wrong(name, f"{told} {json.dumps(why, ensure_ascii=False)[:900]}")
        return None
    return answer


def planned(name, folder, rounds, seed):
    answer = run(name, folder, "place", "order.json", "-q", "-o", "plan.json", "--rounds", rounds, "--seed", seed)
    again = run(name, folder, "place", "order.json", "-q", "-o", "again.json", "--rounds", rounds, "--seed", seed,
                "--threads", "2")
    if not answer or not again:
        return None
    if (folder / "plan.json").read_bytes() != (folder / "again.json").read_bytes():
        wrong(name, "one thread and two plan differently")
    return answer["result"]


def answer_is_sound(name, plan, result, ware):
    if result["bound"] is not None and result["worth"] > result["bound"] * (1 + 1e-9) + 1e-9:
        wrong(name, f"worth {result['worth']} above its bound {result['bound']}")
    if result["placed"] + result["left_out"] != ware:
        wrong(name, f"{result['placed']} placed and {result['left_out']} left out are not {ware}")
    stood = sum(piece["role"] != "cones" for load in plan["loads"] for level in load["levels"]
                for piece in level["pieces"])
    waits = sum(entry["count"] for entry in plan["left_out"])
    if (stood, waits) != (result["placed"], result["left_out"]):
        wrong(name, f"the plan has {stood} placed, {waits} left out; the answer says otherwise: {result}")
    for entry in plan["left_out"]:
        if entry["why"] not in REASONS or not entry["nearest"]:
            wrong(name, f"left out without a reason: {entry}")


def plan_is_kept(name, folder):
    report = run(name, folder, "check", "plan.json")
    for broken in report["result"]["broken"] if report else []:
        if broken["rule"] != "must go":
            wrong(name, f"check: {broken}")


def no_level_is_bare(name, plan):
    """But below ware that the order wants on a level of a certain number."""
    for number, load in enumerate(plan["loads"], 1):
        kept = any("keep" in piece for piece in plan["order"]["ware"])
        for level in load["levels"]:
            if not kept and all(piece["role"] == "cones" for piece in level["pieces"]):
                wrong(name, f"load {number} has a level without ware at {level['z']} mm, for which posts are built")


def sheets_are_drawn(name, folder, rng):
    for ending in ("pdf", "html", "png"):
        more = ["--dpi", "60"] if ending == "png" else []
        if rng.random() < 0.2:
            more += ["--sheets", rng.choice(["levels", "side", "list", "cover"])]
        answer = run(name, folder, "draw", "plan.json", "-o", "sheets." + ending, *more)
        for file in answer["result"]["files"] if answer else []:
            if (folder / file).stat().st_size < 100:
                wrong(name, f"{file} is empty")


def firing_balances(name, folder):
    answer = run(name, folder, "fire", "plan.json")
    for load in answer["result"]["loads"] if answer else []:
        energy = load["energy_kwh"]
        uses = sum(energy.get(k, 0) for k in ("ware", "furniture", "lining", "casing", "vent", "chemistry", "flue"))
        if abs(uses - energy["total"]) > 1e-5 * energy["total"] + 1e-6:
            wrong(name, f"the uses of energy add up to {uses}, not {energy['total']}")


def bill_adds_up(name, folder):
    answer = run(name, folder, "cost", "plan.json", "--shares")
    if answer and sum(share["minor"] for share in answer["result"]["shares"]) != answer["result"]["total_minor"]:
        wrong(name, "the shares do not add up to the bill")


def pushed_through(seed, folder):
    rng = random.Random(seed)
    order = order_made(rng)
    ware = sum(piece.get("count", 1) for piece in order["ware"])
    table = rows_taken(rng, order)
    name = str(seed)
    (folder / "order.json").write_text(json.dumps(order, ensure_ascii=False), encoding="utf-8")
    if table:
        (folder / "ware.csv").write_text(table, encoding="utf-8")
    before = len(slips)
    satisfies(name, "order", order)
    result = planned(name, folder, str(rng.randint(1, 4)), str(rng.randint(0, 9)))
    if result:
        plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"), parse_constant=no_constant)
        satisfies(name, "plan", plan)
        answer_is_sound(name, plan, result, ware)
        plan_is_kept(name, folder)
        sheets_are_drawn(name, folder, rng)
        firing_balances(name, folder)
        if order["ware"]:
            run(name, folder, "fit", "order.json", "--piece", rng.choice(order["ware"])["id"])
        if "costs" in order:
            bill_adds_up(name, folder)
        print(f"{name}: {len(order['ware'])} kinds{' and a table' if table else ''}, {ware} pieces, {result['loads']} loads, {result['placed']} placed",
              flush=True)
    if len(slips) > before:
        os.replace(folder / "order.json", folder / f"{name}.json")
        if table:
            os.replace(folder / "ware.csv", folder / f"{name}.csv")


def placed_and_checked(seed, folder):
    """An order for a random kiln: one round, and our own check."""
    order, name, before = order_for_kiln_made(random.Random(seed)), str(seed), len(slips)
    (folder / "order.json").write_text(json.dumps(order, ensure_ascii=False), encoding="utf-8")
    satisfies(name, "order", order)
    if run(name, folder, "place", "order.json", "-q", "-o", "plan.json", "--rounds", "1", "--threads", "1"):
        plan_is_kept(name, folder)
        no_level_is_bare(name, json.loads((folder / "plan.json").read_text(encoding="utf-8")))
    if len(slips) > before:
        os.replace(folder / "order.json", folder / f"{name}.json")


def main():
    count = int(ARGUMENTS[1]) if len(ARGUMENTS) > 1 else 20
    first = int(ARGUMENTS[2]) if len(ARGUMENTS) > 2 else 1
    folder = pathlib.Path(ARGUMENTS[3] if len(ARGUMENTS) > 3 else tempfile.mkdtemp(prefix="kilnstow-orders-"))
    folder.mkdir(parents=True, exist_ok=True)
    for seed in range(first, first + count):
        (placed_and_checked if PLACING else pushed_through)(seed, folder)
    print(f"{count} orders, {len(set(slips))} with failures" + (f"; see {folder}" if slips else ""))
    sys.exit(bool(slips))


main()
