"""Holds docs/schema against every file there is, and against what the program takes.

usage: schemas.py READER [FOLDER_OF_PLANS ...]

READER is tests/schemas_read.c built. The validator is python3-jsonschema. Checked are: the schemas
themselves; every file in kilns/, examples/ and tests/bad/good and every plan in the folders; and that
whatever a schema refuses the program refuses, for thousands of single changes of good files."""

import copy
import json
import os
import pathlib
import random
import subprocess
import sys
import tempfile
import warnings

warnings.filterwarnings("ignore", category=DeprecationWarning)
import jsonschema

ROOT = pathlib.Path(__file__).resolve().parent.parent
SCHEMAS = ROOT / "docs" / "schema"
KINDS = ("kiln", "order", "plan", "schedule", "materials")
CHANGES = 300  # of each good file
WRONG = [None, True, -1, 0, 0.5, 1e7, "", "tall", "26 furlongs", "-3 mm", "1,200 mm", [], {}, [[]],
         ["x", "x"], {"x": 1}, "NaN", "2026-02-30"]
BY_TEXT = ["26 mm", "10 1/2 in", "4-1/2\"", "11,5 cm", "300 g", "2 lb 4 oz", "1186 C", "2167 F",
           "100 C/h", "180 F per hour", "1h30", "04:30", "9.2 kW", "12.50", "6", "04"]
failures = 0


def fail(text):
    global failures
    failures += 1
    if failures <= 20:
        print("FAILED:", text)


def validators():
    found = {}
    for kind in KINDS:
        path = SCHEMAS / f"{kind}.schema.json"
        schema = json.loads(path.read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        resolver = jsonschema.RefResolver(path.as_uri(), schema)
        found[kind] = jsonschema.Draft202012Validator(schema, resolver=resolver)
    return found


def kind_of(value):
    text = value.get("format") if isinstance(value, dict) else None
    for kind in KINDS:
        if text == f"kilnstow-{kind}/1":
            return kind
    return None


def good_files(folders):
    places = [ROOT / "kilns", ROOT / "examples", ROOT / "tests" / "bad" / "good"]
    for place in places + [pathlib.Path(folder) for folder in folders]:
        for path in sorted(place.rglob("*.json")):
            value = json.loads(path.read_text(encoding="utf-8"))
            if kind_of(value):
                yield path, value


def check_good(found, folders):
    counts = dict.fromkeys(KINDS, 0)
    for path, value in good_files(folders):
        kind = kind_of(value)
        counts[kind] += 1
        for error in found[kind].iter_errors(value):
            where = "/".join(str(step) for step in error.absolute_path)
            fail(f"{path}: {where}: {error.message[:200]}")
    return counts


def places_in(value, path=()):
    yield path
    if isinstance(value, dict):
        for key in value:
            yield from places_in(value[key], path + (key,))
    elif isinstance(value, list):
        for index in range(len(value)):
            yield from places_in(value[index], path + (index,))


def at(value, path):
    for step in path:
        value = value[step]
    return value


def misspelt(key):
    return key[:-2] + key[-1] + key[-2] if len(key) > 2 and key[-1] != key[-2] else key + "x"


def changed(value, path, rng, kind):
    """One change at the path; what it was, in words."""
    parent, node, step = at(value, path[:-1]), at(value, path), path[-1]
    choice = rng.randrange(6)
    if choice == 0 and isinstance(node, dict):
        node["no_such_key"] = 1
        return "an unknown key"
    if choice == 1 and isinstance(parent, dict):
        parent[misspelt(step)] = parent.pop(step)
        return "a misspelt key"
    if choice == 2:
        del parent[step]
        return "taken away"
    if choice == 3 and isinstance(node, list) and node:
        node.append(copy.deepcopy(node[0]))
        return "its first element twice"
    if choice == 4 and kind != "plan":  # a plan's numbers are mm, kg and degrees C, never text
        parent[step] = rng.choice(BY_TEXT)
        return json.dumps(parent[step])
    wrong = [value for value in WRONG if kind != "plan" or value != "-3 mm"]
    parent[step] = copy.deepcopy(rng.choice(wrong))
    return json.dumps(parent[step])


def with_files_found(value, folder):
    """References to other files, made absolute, so that the copy can stand anywhere."""
    for index, name in enumerate(value.get("ware_files", [])):
        value["ware_files"][index] = str(folder / name)
    for entry in value.get("kilns", []):
        if isinstance(entry, dict) and isinstance(entry.get("kiln"), str):
            entry["kiln"] = str(folder / entry["kiln"])
    return value


def many_changes(path, value, folder, rng):
    value = with_files_found(value, path.parent)
    places = [place for place in places_in(value) if place]
    for number in range(CHANGES):
        copy_of = copy.deepcopy(value)
        place = rng.choice(places)
        what = changed(copy_of, place, rng, kind_of(value))
        target = folder / f"{path.stem}-{number}.json"
        target.write_text(json.dumps(copy_of, ensure_ascii=False), encoding="utf-8")
        yield target, copy_of, f"{path.name}: {'/'.join(map(str, place))}: {what}"


def program_says(reader, paths):
    told = subprocess.run([reader], input="".join(f"{path}\n" for path in paths), text=True,
                          stdout=subprocess.PIPE, cwd=ROOT, check=True).stdout.splitlines()
    assert len(told) == len(paths), "the reader stopped early"
    return told


def check_changes(found, reader, path, value):
    """The program never takes what the schema refuses; and both refuse most changes."""
    kind, refused_by_both, refused = kind_of(value), 0, 0
    rng = random.Random(path.name)
    with tempfile.TemporaryDirectory() as name:
        cases = list(many_changes(path, value, pathlib.Path(name), rng))
        for (target, changed_value, what), line in zip(cases, program_says(
                reader, [case[0] for case in cases])):
            status, _, message = line.partition(" ")
            valid = found[kind].is_valid(changed_value)
            if status == "0" and not valid:
                error = next(found[kind].iter_errors(changed_value))
                fail(f"{what}: the program takes it, the schema does not: {error.message[:160]}")
            if status not in ("0", "3", "4"):
                fail(f"{what}: status {status}: {message}")
            if status != "0" and ("unknown key" in message) and valid:
                fail(f"{what}: the schema takes it, the program does not: {message}")
            refused += status != "0"
            refused_by_both += status != "0" and not valid
    if refused < CHANGES / 3 or refused_by_both < refused * 0.7:
        fail(f"{path.name}: {refused} of {CHANGES} refused, {refused_by_both} by the schema too")
    return refused, refused_by_both


def main():
    found = validators()
    counts = check_good(found, sys.argv[2:])
    print("valid:", ", ".join(f"{count} of {kind}" for kind, count in counts.items()))
    for kind in KINDS:
        if counts[kind] == 0 and kind != "plan":
            fail(f"no file of {kind} was found")
    for name in KINDS:
        path = ROOT / "tests" / "bad" / "good" / f"{name}.json"
        value = json.loads(path.read_text(encoding="utf-8"))
        refused, both = check_changes(found, sys.argv[1], path, value)
        print(f"{path.name}: of {CHANGES} changes the program refused {refused}, "
              f"{both} of them the schema too")
    sys.exit(1 if failures else 0)


if __name__ == "__main__":
    os.chdir(ROOT)
    main()
