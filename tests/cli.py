#!/usr/bin/python3
"""The program from outside: exit statuses, answers to other programs, files written whole or not at all."""
import csv, json, os, re, shutil, signal, subprocess, sys, tempfile, time

PROGRAM = os.path.abspath(sys.argv[1])
CHECKER = PROGRAM + "-check"
if not os.path.exists(CHECKER):
    sys.exit(f"{CHECKER} is not there: ninja -C build kilnstow-check")
KILNS = os.path.join(os.path.dirname(os.path.dirname(os.path.abspath(__file__))), "kilns")
HERE = tempfile.mkdtemp(prefix="kilnstow-cli-")
failed = 0
number = 0

MUG = {"id": "mug", "count": 6, "diameter": 86, "height": 95, "handle": {"reach": 32, "width": 18, "from": 20, "to": 80}}
BOWL = {"id": "bowl", "count": 3, "profile": [[0, 35], [20, 50], [70, 85]]}
ORDER = {
    "format": "kilnstow-order/1", "title": "a small load", "studio": "nobody's", "currency": "EUR",
    "units": {"length": "mm", "mass": "kg", "temperature": "C"},
    "kilns": ["round-450"], "firings": [{"id": "glaze", "cone": "6"}], "ware": [MUG, BOWL],
    "costs": {"electricity": {"price": 0.3}, "labour": {"per_hour": 15, "load": "2 h"}},
}


def run(*args, program=PROGRAM, **more):
    return subprocess.run([program, *args], capture_output=True, text=True, cwd=HERE, timeout=240, **more)


def path(name):
    return os.path.join(HERE, name)


def write(name, value):
    with open(path(name), "w") as file:
        file.write(value if isinstance(value, str) else json.dumps(value))
    return name


def ok(truth, what, got=None):
    global failed, number
    number += 1
    print(("ok" if truth else "not ok"), number, "-", what)
    if not truth:
        failed += 1
        print("#", repr(got)[:1500])


def exits(status, what, *args, said=""):
    got = run(*args)
    ok(got.returncode == status and said in got.stderr + got.stdout, what, got)
    return got


def answer(*args):
    got = run(*args, "--json")
    try:
        return json.loads(got.stdout)
    except ValueError:
        return {"not": "JSON", "got": repr(got)}


def usage():
    exits(2, "without a command it shows how to use it", said="kilnstow place")
    exits(0, "--help is no failure", "--help", said="place")
    exits(2, "a misspelt command is told the nearest", "plase", said="nearest is place")
    exits(2, "a misspelt option is told the nearest", "place", "--ronds", "3", "x", said="--rounds")
    exits(2, "a number that is none is refused", "place", "x", "--rounds", "many", said="whole number")
    exits(2, "an argument too many is refused", "check", "a", "b", said="one too many")
    for command in "place check fit fire cost draw list".split():
        page = exits(0, command + " has a help page with examples", command, "--help", said="kilnstow " + command).stdout
        options = (answer(command, "--help").get("result") or {}).get("options", [])
        ok(re.findall(r"^ +(?:-\w, )?--(\S+)", page, re.M) == [option["name"] for option in options] and options,
           command + " --help --json tells programs the same options", options)


def slips():
    exits(4, "a file that is not there is the system's no", "place", "absent.json", said="absent.json")
    write("broken.json", '{"format": "kilnstow-order/1",\n  "units": {"length": "mm"}\n  "ware": []}')
    exits(3, "bad JSON is told with its line", "place", "broken.json", said="broken.json:3")
    write("typo.json", dict(ORDER, wear=[]))
    got = answer("place", "typo.json")
    ok(got.get("status") == "error" and "ware" in "".join(got.get("errors", [])), "an unknown key is told the nearest, in JSON too", got)
    exits(3, "a plan that is an order is refused", "check", "small.json", said="kilnstow-plan/1")


def placing():
    exits(0, "a small order is planned", "place", "small.json", "-o", "plan.json", "--rounds", "3", said="plan.json")
    with open(path("plan.json"), "rb") as file:
        first = file.read()
    exits(0, "and planned again", "place", "small.json", "-o", "again.json", "--rounds", "3", "--threads", "3")
    with open(path("again.json"), "rb") as file:
        ok(file.read() == first, "to the same bytes, on more threads")
    got = answer("place", "small.json", "--rounds", "2")
    keys = {"loads", "placed", "left_out", "worth", "bound", "bound_gap", "plan"}
    ok(keys <= set(got.get("result", {})) and got["result"]["plan"] is None, "place answers with every key", got)
    ok(got["result"]["placed"] + got["result"]["left_out"] == 9, "every piece is placed or left out", got)
    more = dict(ORDER, ware=[MUG, BOWL, {"id": "egg-cup", "count": 1, "diameter": 48, "height": 60}])
    write("more.json", more)
    exits(0, "planning again from a plan keeps it", "place", "more.json", "--from", "plan.json", "-o", "kept.json", "--rounds", "3",
          said="9 of 9 pieces of the earlier plan stand where they stood")
    got = answer("place", "more.json", "--from", "plan.json", "--rounds", "3").get("result", {})
    ok((got.get("stayed"), got.get("stood"), got.get("placed")) == (9, 9, 10), "and says so in JSON", got)
    write("elsewhere.json", dict(ORDER, kilns=["test-230"]))
    exits(3, "a plan for another kiln is no start", "place", "elsewhere.json", "--from", "plan.json", "--rounds", "1",
          said='found a plan for kiln "round-450"')
    exits(3, "nor is an order", "place", "more.json", "--from", "more.json", "--rounds", "1", said="kilnstow-plan/1")
    exits(4, "nor what is not there", "place", "more.json", "--from", "absent.json", "--rounds", "1", said="absent.json")
    exits(4, "a folder that is not there leaves nothing behind", "place", "small.json", "-o", "no/plan.json", "--rounds", "1")
    tall = dict(MUG, id="tower", count=1, height=900, must_go=True)
    write("tall.json", dict(ORDER, ware=[MUG, tall]))
    exits(1, "a piece that must go and cannot is an honest no", "place", "tall.json", "--rounds", "1", "-q", said="tower")
    got = answer("place", "tall.json", "--rounds", "1")
    ok(got.get("status") == "impossible", "and impossible in JSON", got)
    pillar = {"id": "pillar", "diameter": 24, "height": 300}
    write("pillar.json", dict(ORDER, ware=[MUG, pillar]))
    exits(0, "what would fall over stays out", "place", "pillar.json", "--rounds", "1", "-q", said="it falls over")
    leaner = {"id": "leaner", "mass": "3 kg", "parts": [
        {"kind": "foot", "from": 0, "to": 30, "outline": {"circle": [0, 0, 40]}},
        {"kind": "body", "from": 30, "to": 200, "outline": {"circle": [70, 0, 40]}}]}
    block = {"id": "block", "diameter": 250, "height": 200, "mass": "45 kg"}
    write("stands.json", dict(ORDER, ware=[pillar, leaner, block]))
    exits(1, "a piece that leans is told how far, without a minus", "fit", "stands.json", "--piece", "pillar",
          said="IT FALLS: on a level shelf its weight is 12 mm within its feet, on one tilted by 5 degrees 2 mm outside them")
    outside = run("fit", "stands.json", "--piece", "leaner").stdout
    ok(re.search(r"IT FALLS: its weight is \d+ mm outside its feet, \d+ mm on a shelf tilted", outside) and " -" not in outside,
       "nor one whose weight is outside its feet", outside)
    shares = "on a shelf tilted by 5 degrees its weight is outside its feet, so it falls over"
    cure = re.search(r"prop it .* or a foot \d+ mm wider all round", outside)
    got = run("place", "stands.json", "--rounds", "1", "-q").stdout
    ok(shares in outside and shares in got and cure and cure.group() in got,
       "fit and place tell one reason and one remedy", (outside, got))
    lines = run("fit", "stands.json").stdout.splitlines()
    ok(any(re.search(r"block in kiln .*lifting its 45 kg takes a hoist for 45 kg or more", line) for line in lines),
       "what a piece's own line says names the hoist", lines)
    tumbler = {"id": "tumbler", "count": 300, "diameter": 75, "height": 90}
    spaced = {"objective": "count", "clearances": {"ware": 20, "wall": 20, "lid": 10, "post": 10, "overhang": 10}}
    write("tumblers.json", dict(ORDER, kilns=["round-560"], ware=[tumbler], rules=spaced))
    got = answer("place", "tumblers.json", "--rounds", "2").get("result", {})
    ok(got.get("worth", 9) <= got.get("bound", 0), "a bound counts the levels that keep-outs push up", got)
    cups = {"id": "cup", "count": 60, "diameter": 72, "height": 94, "around": 15}
    write("cups.json", dict(ORDER, kilns=["round-450-tall"], ware=[cups]))
    exits(0, "ware keeps its own distance from the cone packs", "place", "cups.json", "--rounds", "2", "-q")
    low = dict(cups, count=8, diameter=60, height=63, around=0)
    write("low.json", dict(ORDER, kilns=["test-230"], ware=[low], rules={"clearances": {"lid": 20, "above": 2}}))
    exits(0, "nothing stands nearer to the lid than it may", "place", "low.json", "--rounds", "2", "-q")
    form = {"id": "form", "count": 60, "diameter": 110, "height": 90, "stage": "bisque", "setter": {"kind": "slab"}}
    platter = {"id": "platter", "count": 4, "diameter": 500, "height": 40}
    write("forms.json", dict(ORDER, kilns=["front-980"], ware=[form, platter], clays=[{"id": "grogged", "shrinkage": 0.12}]))
    exits(0, "no grog lies over a seam with ware below", "place", "forms.json", "--rounds", "1", "-q")


def telling():
    """What progress tells last is what the answer holds, also when it is told a moment after the line before."""
    got = run("place", os.path.join(os.path.dirname(os.path.dirname(os.path.abspath(__file__))), "examples/mugs/order.json"), "--rounds", "12")
    told = re.findall(r"^round 12 of 12: (\d+) of (\d+) pieces", got.stderr, re.M)
    held = re.findall(r"^(\d+) of (\d+) pieces placed", got.stdout, re.M)
    ok(told[-1:] == held and held, "progress ends with what is handed out", got.stderr + got.stdout)


def interrupting():
    process = subprocess.Popen([PROGRAM, "place", "small.json", "-o", "cut.json", "--rounds", "100000"],
                               cwd=HERE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    time.sleep(2)
    process.send_signal(signal.SIGINT)
    status = process.wait(timeout=120)
    done_before = status == 0  # everything placed and proven: nothing left to interrupt
    ok(status == 130 or done_before, "Ctrl-C ends with 130", status)
    exits(0, "and leaves the best plan so far, whole", "check", "cut.json")


def checking():
    exits(0, "its own plan keeps every rule", "check", "plan.json", said="Every rule is kept")
    with open(path("plan.json")) as file:
        plan = json.load(file)
    plan["loads"][0]["levels"][0]["pieces"][0]["x"] += 300
    write("moved.json", plan)
    got = run("check", "moved.json", "--json")
    told = json.loads(got.stdout)
    ok(got.returncode == 1 and not told["result"]["ok"] and told["result"]["broken"], "a piece moved away is found", told)
    for name in "plan.json", "moved.json", "small.json", "no-such.json":
        alone, within = run(name, program=CHECKER), run("check", name)
        ok((alone.returncode, alone.stdout) == (within.returncode, within.stdout), "the checker alone says the same of " + name, alone)
    ok(run("--help", program=CHECKER).returncode == 0 and run(program=CHECKER).returncode == 2, "the checker alone tells its use")


def units():
    """An inch is 25.4 mm, a pound 0.45359237 kg (international yard and pound agreement, 1959)."""
    customary = dict(ORDER, display={"length": "in", "mass": "lb", "temperature": "F"},
                     ware=[MUG, dict(BOWL, count=90), dict(MUG, id="tall", height=500), dict(MUG, id="wide", diameter=700, count=1)])
    write("inches.json", customary)
    texts = [run("place", "inches.json", "-o", "inches-plan.json", "--rounds", "1", "-q"), run("check", "inches-plan.json"),
             run("fit", "inches.json"), run("place", "inches.json", "--rounds", "0", "--json")]
    for got in texts[:3]:
        told = [line for line in got.stdout.splitlines() if " mm" in line and "loader" not in line]
        ok(not told, "an order shown in inches is not answered in mm by " + got.args[1], told)
    left = json.dumps([piece for piece in json.load(open(path("inches-plan.json")))["left_out"]])
    ok(" mm" not in left and " in" in left, "nor in a plan's reasons", left)
    whole = run("fit", "inches.json", "--piece", "mug").stdout
    ok(" lb" in whole and " kg" not in texts[1].stdout + texts[2].stdout + whole, "masses are in pounds then", whole)
    rules = {rule["rule"]: rule for rule in answer("check", "inches-plan.json")["result"]["rules"]}
    ok(rules["post stock"]["unit"] == "posts" and rules["ware"]["unit"] == "mm" and rules["ware"]["slack"] == rules["ware"]["tightest_mm"],
       "each rule names its unit to other programs", rules)
    stock = [line for line in texts[1].stdout.splitlines() if "post stock" in line]
    ok(len(stock) == 1 and " posts: " in stock[0], "post stock is told in posts", stock)


def drawing():
    for ending, start in ((".pdf", b"%PDF"), (".html", b"<!DOCTYPE html")):
        exits(0, "draws " + ending, "draw", "plan.json", "-o", "sheets" + ending)
        with open(path("sheets" + ending), "rb") as file:
            ok(file.read(15).startswith(start), ending + " is what it says")
    got = answer("list", "room", "plan.json")
    loads = got.get("result", {}).get("loads") or [{}]
    ok(loads[0].get("levels") and all(row["tallest_mm"] > 0 and row["widest_mm"] >= 0 for row in loads[0]["levels"]),
       "what would still go in, by level", got)
    got = answer("draw", "plan.json", "-o", "one.png", "--sheets", "levels,side", "--dpi", "72")
    files = got.get("result", {}).get("files", [])
    ok(len(files) >= 2 and all(open(path(f), "rb").read(4) == b"\x89PNG" for f in files), "PNG is one file for each sheet", got)
    dated = dict(ORDER, kilns=[{"kiln": "round-450", "loads": 1, "dates": ["2026-12-05"]}],
                 costs=dict(ORDER["costs"], start="2026-11-28 18:30"))
    write("dated.json", dated)
    run("place", "dated.json", "-o", "dated-plan.json", "--rounds", "1", "-q")
    exits(0, "draws a calendar", "draw", "dated-plan.json", "-o", "dated.ics")
    with open(path("dated.ics")) as file:
        ok("DTSTART:20261205T183000\n" in file.read(), "of the load's own day, at the order's hour")
    exits(0, "and at the hour that is asked for", "draw", "dated-plan.json", "-o", "told.ics", "--start", "2026-12-06 07:00")
    with open(path("told.ics")) as file:
        ok("DTSTART:20261206T070000\n" in file.read(), "whatever its day")
    exits(0, "without a day one is proposed", "draw", "plan.json", "-o", "proposed.ics")
    with open(path("proposed.ics")) as file:
        ok("STATUS:TENTATIVE" in file.read(), "and said to be no more than that")
    exits(0, "a calendar is a table", "calendar", "dated-plan.json", said="safe to open")
    got = answer("calendar", "dated-plan.json", "-o", "weeks.pdf")["result"]
    ok(got["loads"][0]["on"] == "2026-12-05 18:30" and not got["clashes"], "and an answer in JSON", got)
    with open(path("weeks.pdf"), "rb") as file:
        ok(file.read(4) == b"%PDF", "and sheets")
    exits(2, "an ending that is no calendar's is refused", "calendar", "dated-plan.json", "-o", "dated.json", said=".ics")
    exits(3, "what is no font is refused", "draw", "plan.json", "-o", "other.pdf", "--font", "plan.json", said="TrueType or OpenType")
    exits(2, "an ending it does not know is refused", "draw", "plan.json", "-o", "sheets.doc", said=".pdf")
    exits(2, "where to must be told", "draw", "plan.json", said="-o")


def alone():
    """The program copied without its kilns."""
    os.makedirs(path("bin"), exist_ok=True)
    shutil.copy(PROGRAM, path("bin/kilnstow"))
    write("named.json", json.dumps(dict(ORDER, kilns=["round-450"])))
    got = subprocess.run([path("bin/kilnstow"), "list", "ware", "named.json"], cwd=HERE, capture_output=True, text=True)
    ok(got.returncode == 3 and "the program's own kilns are not where it is" in got.stderr, "a program alone says that it has no kilns", got)


def firing():
    exits(0, "the kiln reaches the cone", "fire", "plan.json", said="kWh")
    exits(1, "at a third of its volts it does not", "fire", "plan.json", "--volts", "75")
    thick = dict(ORDER, firings=[{"id": "bisque", "cone": "06", "schedule": "fast"}],
                 schedules=[{"id": "fast", "segments": [{"rate": 300, "to": 1000, "hold": "10 min"}]}],
                 ware=[{"id": "slab", "size": "15 x 15 x 15 cm", "wall": 25, "stage": "dry"}])
    write("thick.json", json.dumps(thick))
    exits(0, "thick dry ware is placed", "place", "thick.json", "--rounds", "0", "-q", "-o", "thick-plan.json")
    exits(1, "a schedule that bursts its ware is no yes", "fire", "thick-plan.json", said="but too fast: the ware sees")
    got = answer("fire", "thick-plan.json")
    ok(got["status"] == "too_fast" and got["result"]["loads"][0]["reached"], "nor for programs, though its cone is seen", got)
    exits(0, "the one worked out here it bears", "fire", "thick-plan.json", "--schedule", "bisque")
    write("wet.json", json.dumps(dict(thick, ware=[dict(thick["ware"][0], stage="leather-hard")])))
    exits(1, "wet ware waits, and is told what lets it in", "place", "wet.json", "--rounds", "0", "-q", said="to let it in: let it dry first")
    at = [answer("fire", "plan.json", "--room", room)["result"]["loads"][0]["energy_kwh"]["total"] for room in ("30", "86 F", "0 C")]
    ok(at[0] == at[1] < at[2], "the room's temperature is in the order's unit, or in the one told", at)
    exits(2, "and none that no room has", "fire", "plan.json", "--room", "86", said='without a unit it is read in the order\'s own, "C"')
    with open(path("plan.json")) as file:
        bare = json.load(file)
    for load in bare["loads"]:
        load["steps"] = [step for step in load["steps"] if step["put"] in ("posts", "shelf")]
        for level in load["levels"]:
            level["pieces"] = []
    write("bare-plan.json", json.dumps(bare))
    exits(0, "shelves without ware are fired too, and see no cone", "fire", "bare-plan.json", said="reaches cone 6; ")
    got = answer("fire", "plan.json")["result"]["loads"][0]
    energy = got["energy_kwh"]
    parts = sum(energy[k] for k in ("ware", "furniture", "lining", "casing", "vent", "chemistry", "flue"))
    ok(abs(parts - energy["total"]) <= 1e-6 * energy["total"], "its uses add up to the meter's", energy)
    ok(energy["low"] < energy["total"] < energy["high"] and got["ledger_residual"] < 1e-6, "and it has a range", got)
    ok(got["verdict"] == "in_range" and got["cone_down_h"] <= got["ended_h"] == got["hours"]
       and not got["pieces_outside"], "every piece is inside its range", got)
    ok(all(row["edge_cone"] and row["middle_cone"] and row["level"] for row in got["levels"]), "cones by level", got)
    ok(len(got["segments"]) >= 3 and len(got["doubts"]) >= 5, "segments and doubts are told", got)
    exits(0, "the curve goes to a spreadsheet", "fire", "plan.json", "--curve", "curve.csv")
    with open(path("curve.csv")) as file:
        ok(file.readline().startswith("time_h,set_c,chamber_c,power_kw"), "with a header")


def measuring():
    """The record lies over the curve as a straight line between readings does, worked out here anew."""
    hours = [0, 0.5, 1.25, 2, 3, 4.5, 6, 8, 9, 12]
    temps = [20, 60, 130, 240, 410, 640, 850, 1100, 1190, 700]
    write("record.csv", "Elapsed [min];Kiln °C\n" + "".join("%g;%s\n" % (60 * h, str(t).replace(".", ","))
                                                           for h, t in zip(hours, temps)))
    exits(0, "a record is told in words", "fire", "plan.json", "--measured", "record.csv", said="Heating ends after")
    got = answer("fire", "plan.json", "--measured", "record.csv", "--curve", "laid.csv", "--force")
    told = got["result"]["loads"][0]["measured"]
    ok(told["thermocouples"][0]["readings"] == len(hours) and told["mean"]["peak_c"] == 1190, "its readings and peak", told)
    ok(told["stretches"] and told["mean"]["cone"], "where it goes another way, and its cone", told)

    def between(h):
        for (h0, t0), (h1, t1) in zip(zip(hours, temps), zip(hours[1:], temps[1:])):
            if h0 <= h <= h1:
                return t0 + (t1 - t0) * (h - h0) / (h1 - h0)
        return None
    with open(path("laid.csv"), newline="") as file:
        rows = list(csv.DictReader(file))
    ok(all((between(float(row["time_h"]) - told["begins_h"]) is None) == (row["measured_c"] == "")
           or abs(float(row["time_h"]) - told["begins_h"] - hours[0]) < 1e-3 for row in rows), "it is there while it lasts", told)
    ok(all(abs(between(float(row["time_h"]) - told["begins_h"]) - float(row["measured_c"])) < 0.1 for row in rows
           if row["measured_c"] and between(float(row["time_h"]) - told["begins_h"]) is not None), "and straight between readings", told)
    exits(0, "it goes into the picture", "fire", "plan.json", "--measured", "record.csv", "--curve", "laid.svg")
    exits(4, "a record that is not there", "fire", "plan.json", "--measured", "absent.csv", said="absent.csv")
    exits(2, "the record is not written over", "fire", "plan.json", "--measured", "record.csv", "--curve", "record.csv", said="record.csv")
    write("warm.csv", "time;kW\n0:00;1\n1:00;2\n")
    exits(3, "a file without temperatures says so", "fire", "plan.json", "--measured", "warm.csv", said='found "time", "kW"')


def costing():
    got = answer("cost", "plan.json", "--shares")["result"]
    ok(sum(s["minor"] for s in got["shares"]) == got["total_minor"] > 0, "shares add up to the bill", got)
    asked = answer("cost", "plan.json", "--explain", "mug", "--what-if", "mug", "--statement", "studio")["result"]
    ok(len(asked["what_if"]) > 4 and asked["explained"]["lines"] and "Statement" in asked["statements"][0], "what is asked for is in the answer", asked)
    load = got["loads"][0]
    ok(sum(line["minor"] for line in load["lines"]) == load["total_minor"], "a bill's lines add up", load)
    exits(0, "every piece goes to a spreadsheet", "cost", "plan.json", "--csv", "costs.csv")
    with open(path("costs.csv")) as file:
        ok(len(file.readlines()) == 1 + len(got["pieces"]), "a row for each")
    exits(2, "a piece it has not is told the nearest", "cost", "plan.json", "--explain", "mugg", said="nearest is mug")
    exits(2, "an unknown rule is told which there are", "cost", "plan.json", "--by", "size", said="slices")
    exits(2, "a member it has not is refused", "cost", "plan.json", "--statement", "nobody", said="studio")
    bare = {k: v for k, v in ORDER.items() if k != "costs"}
    write("bare.json", bare)
    run("place", "bare.json", "-o", "bare-plan.json", "--rounds", "1", "-q")
    exits(3, "without costs it says what it needs", "cost", "bare-plan.json", said="costs")


def fitting():
    write("tall.json", dict(ORDER, ware=[{"id": "column", "diameter": 200, "height": 500, "stage": "bisque", "clay": "buff"}],
                            clays=[{"id": "buff", "bar": {"wet": 100, "dry": 94, "bisque": 93.5, "cone 6": 88}}]))
    exits(0, "a mug goes in", "fit", "small.json", "--piece", "mug", said="YES: mug")
    wide = {"id": "platter", "diameter": 600, "height": 40}
    write("wide.json", dict(ORDER, ware=[wide]))
    got = run("fit", "wide.json", "--json")
    piece = json.loads(got.stdout)["result"]["pieces"][0]
    ok(got.returncode == 1 and not piece["fits"] and piece["short_by_mm"]["around"] > 70, "a platter too wide does not", piece)
    kilns = [os.path.join(KILNS, name) for name in ("round-450.json", "round-710.json", "test-230.json")]
    several = [word for kiln in kilns for word in ("--kiln", kiln)]
    got = json.loads(run("fit", "tall.json", "--piece", "column", *several, "--json").stdout)["result"]["kilns"]
    ok([row["kiln"] for row in got] == ["round-710", "round-450", "test-230"] and got[0]["kwh_low"] < got[0]["kwh"] < got[0]["kwh_high"]
       and got[0]["hours"] > 4 and got[0]["cost_minor"] > 0 and "kwh" not in got[1], "kilns are compared, what fits first", got)
    exits(0, "and told as a table", "fit", "tall.json", "--piece", "column", *several, said="too tall")
    at = [answer("fit", "small.json", "--piece", "mug", "--tape", tape)["result"]["pieces"] for tape in ("25.4", "1 in", "1 mm")]
    ok(at[0] == at[1] != at[2], "the tape's error is in the order's unit, or in the one told", at)
    exits(2, "and no longer than a tape is wrong", "fit", "small.json", "--tape", "1 ft", said='without a unit it is read in the order\'s own, "mm"')
    exits(0, "the rest is planned around a piece", "fit", "small.json", "--piece", "bowl", "--rest", "-o", "rest.json", said="written: rest.json")
    rest = json.load(open(path("rest.json")))
    placed = [piece["id"] for level in rest["loads"][0]["levels"] for piece in level["pieces"]]
    ok(placed.count("bowl") == 1 and placed.count("mug") > 0, "that load holds it and the others", placed)
    exits(0, "it keeps every rule", "check", "rest.json")
    exits(2, "a load is written where one is planned", "fit", "small.json", "--piece", "bowl", "-o", "no.json", said="--output")
    exits(2, "and of one kiln", "fit", "tall.json", "--piece", "column", "--rest", "-o", "no.json", *several, said="found 3 kilns")
    exits(2, "a piece it has not is told the nearest", "fit", "small.json", "--piece", "mugg", said="nearest is mug")


def broken_once():
    """An order whose halves stood over a whole shelf that stood over halves: their empty tops were taken off
    the wrong level."""
    slow = os.path.join(os.path.dirname(os.path.abspath(__file__)), "slow", "orders.py")
    got = subprocess.run([sys.executable, slow, PROGRAM, "1", "303", HERE], capture_output=True, text=True)
    ok(got.returncode == 0, "empty shelves over another arrangement come off cleanly", got)


def listing():
    for what in ("kilns", "cones", "materials"):
        got = answer("list", what)
        ok(got.get("status") == "done" and len(got.get("result", [])) > 9, "lists " + what, got)
    exits(0, "the nearest kiln is printed to be edited", "list", "kilns", "--like", "59x68cm", said='"id": "round-580"')
    exits(0, "a box by its three sizes", "list", "kilns", "--like", "18 x 28 x 27 in", said='"id": "oval-450x710"')
    exits(2, "like nothing that is a size", "list", "kilns", "--like", "big", said="58x69cm")
    write("wares.csv", "Name;Anzahl;Gr\u00f6sse;Glasur;Henkel\nTasse;6;8,5 x 9 cm;Blau;yes\nmug;2;M;blau;\n")
    write("wares.json", dict({key: ORDER[key] for key in ORDER if key != "ware"}, ware_files=["wares.csv"]))
    words = "Anzahl=count,Gr\u00f6sse=size,Glasur=glaze,Henkel=handle"
    exits(3, "headings that are not known are named", "list", "ware", "wares.json", said='"anzahl", "gr\u00f6sse", "glasur"')
    exits(2, "a column that there is not", "list", "ware", "wares.json", "--columns", "Anzahl=cuont", said="cuont")
    exits(0, "what was understood is listed", "list", "ware", "wares.json", "--columns", words, said="85 mm x 90 mm tall")
    got = answer("list", "ware", "wares.json", "--columns", words)
    ware = {piece["id"]: piece for piece in got.get("result", [])}
    ok(ware["Tasse"]["glazes"] == ware["mug"]["glazes"] == ["Blau"] and ware["Tasse"]["width_mm"] == 85, "in JSON too", got)
    ok(ware["mug"]["family"] == "mug M" and 'sizes of "mug M"' in ware["mug"]["assumed"], "with what was assumed", got)
    exits(0, "place takes the same words, and says what it assumed", "place", "wares.json", "--columns", words, "--rounds", "1",
          said="kilnstow list ware wares.json")
    with open("/dev/full", "w") as full:
        got = subprocess.run([PROGRAM, "list", "cones"], stdout=full, stderr=subprocess.PIPE)
    ok(got.returncode == 4, "a full disk under standard output is told", got)


def bytes_of(*args, **more):
    return subprocess.run([PROGRAM, *args], capture_output=True, cwd=HERE, timeout=240, **more)


def streams():
    os.mkfifo(path("pipe.json"))
    exits(3, "a pipe as order is refused, not waited for", "place", "pipe.json", said="found a pipe")
    exits(3, "and so is one as plan", "check", "pipe.json", said="found a pipe")
    write("near.json", dict(ORDER, kilns=["own"], ware_files=["near.csv"], ware=[BOWL]))
    shutil.copy(os.path.join(os.path.dirname(__file__), "..", "kilns", "round-450.json"), path("own.json"))
    write("near.csv", "id,count,diameter,height\nmug,2,86,95\n")
    with open(path("near.json"), "rb") as order:
        got = bytes_of("place", "-", "-o", "-", "--rounds", "1", stdin=order)
    plan = json.loads(got.stdout)
    ok(got.returncode == 0 and plan["format"] == "kilnstow-plan/1" and plan["order"]["kilns"][0]["kiln"]["id"] == "round-450"
       and len(plan["order"]["ware"]) == 2, "- is an order on standard input, its files looked for here, and a plan on standard output", got)
    ok(b"5 of 5 pieces placed" in got.stderr, "the words go to standard error then", got)
    ok(bytes_of("check", "-", input=got.stdout).returncode == 0, "a plan is read from standard input", got)
    drawn = bytes_of("draw", "-", "-o", "-", input=got.stdout)
    ok(drawn.stdout.startswith(b"%PDF") and drawn.stdout.rstrip().endswith(b"%%EOF"), "sheets go to standard output as PDF", drawn.stderr)
    curve = bytes_of("fire", "-", "--curve", "-", input=got.stdout)
    ok(curve.stdout.startswith(b"time_h,") and b"kWh" not in curve.stdout, "a curve as CSV", curve.stderr)
    exits(2, "two things for standard output are refused", "place", "small.json", "-o", "-", "--json", said="--json")
    with open(path("near.json"), "rb") as order:
        got = bytes_of("place", "-", "--from", "-", "--rounds", "0", stdin=order)
    ok(got.returncode == 3 and b"read once" in got.stderr, "standard input is one file", got)
    for option in ("--version", "--help", "place --help"):
        with open("/dev/full", "w") as full:
            got = subprocess.run([PROGRAM, *option.split()], stdout=full, stderr=subprocess.PIPE)
        ok(got.returncode == 4, option + " to a full disk is told", got)


def kiln_files():
    own = json.load(open(path("own.json")))
    write("round-450.json", dict(own, name="our own"))
    write("hidden.json", ORDER)
    got = answer("place", "hidden.json", "--rounds", "0")
    ok(any("hides" in warning for warning in got["warnings"]), "a kiln's file that hides a built-in one is said", got)
    write("named.json", dict(ORDER, kilns=["round-450.json"]))
    got = answer("place", "named.json", "--rounds", "0")
    ok(not any("hides" in warning for warning in got["warnings"]), "named as a file it is meant", got)
    os.remove(path("round-450.json"))
    os.symlink("nowhere", path("round-450.json"))
    exits(4, "a link that leads nowhere is no reason to take the built-in kiln", "place", "hidden.json", "--rounds", "0", said="round-450.json")
    os.remove(path("round-450.json"))
    os.mkdir(path("round-450.json"))
    exits(3, "nor is a folder", "place", "hidden.json", "--rounds", "0", said="found a folder")
    os.rmdir(path("round-450.json"))
    os.symlink("round-450.json", path("round-450.json"))
    exits(4, "nor is a file that cannot be opened", "place", "hidden.json", "--rounds", "0", said="symbolic links")
    os.remove(path("round-450.json"))
    got = answer("place", "hidden.json", "--rounds", "0")
    ok(got["status"] in ("proven", "best_found") and not got["warnings"], "with no such file it is the built-in one", got)


def controls():
    """ECMA-48's escape and C1 sequences, and the direction overrides of Unicode's annex 9."""
    nasty = "a\x1b[31mred\x9b2J \u202eback \u2066in\x7f"
    raw = [byte.encode() for byte in ("\x1b", "\x9b", "\u202e", "\u2066", "\x7f", "\r")]
    mug = dict(MUG, name=nasty, must_go=True, height=5000)
    write("nasty.json", dict(ORDER, title=nasty, studio=nasty, ware=[dict(mug, id="mug")]))
    own = json.load(open(path("own.json")))
    write("nasty-kiln.json", dict(own, name=nasty))
    write("nasty-fit.json", dict(ORDER, title=nasty, kilns=["nasty-kiln"], ware=[dict(MUG, name=nasty)]))
    run("place", "nasty-fit.json", "-o", "nasty-plan.json", "--rounds", "0", "-q")
    write(nasty + ".json", "{")
    for what in (["place", "nasty.json", "--rounds", "1"], ["place", nasty], ["place", nasty + ".json"], [nasty],
                 ["place", "x", "--" + nasty], ["place", "x", "--rounds", nasty], ["fit", "nasty-fit.json"],
                 ["fit", "nasty-fit.json", "--piece", nasty], ["fire", "nasty-plan.json"], ["cost", "nasty-plan.json"],
                 ["draw", "nasty-plan.json", "-o", nasty + ".pdf"], ["check", "nasty-plan.json", nasty],
                 ["place", "nasty-fit.json", "--json", "--rounds", "0"], ["check", nasty, "--json"],
                 ["place", "nasty-fit.json", "-o", "-", "--rounds", "0"]):
        got = bytes_of(*what)
        found = [byte for byte in raw if byte in got.stdout + got.stderr]
        ok(not found, "nothing in %s reaches a terminal raw" % ascii(what)[:60], (found, got))
    ok(json.load(open(path("nasty-plan.json")))["order"]["title"] == nasty, "and nothing is lost in the plan")
    got = bytes_of("fire", "nasty-plan.json")
    ok(rb"\u001B[31mred" in got.stdout, "it is shown instead", got)


write("small.json", ORDER)
for group in (usage, slips, placing, telling, interrupting, checking, units, drawing, alone, firing, measuring, costing, fitting, broken_once, listing,
              streams, kiln_files, controls):
    try:
        group()
    except Exception as slip:  # a group that cannot go on has failed; the others still run
        ok(False, group.__name__ + " goes through", slip)
left = [name for name in os.listdir(HERE) if name.startswith(".kilnstow-")]
ok(not left, "no half-written file is left", left)
print("1..%d" % number)
shutil.rmtree(HERE)
sys.exit(failed > 0)
