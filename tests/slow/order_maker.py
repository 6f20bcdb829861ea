"""order_maker.py: makes one random, valid order; tests/slow/orders.py pushes it through the program."""
import csv
import io
import pathlib

from kiln_maker import kiln_made

KILNS = sorted(path.stem for path in (pathlib.Path(__file__).resolve().parents[2] / "kilns").glob("*.json"))
MM = {"mm": 1, "cm": 10, "in": 25.4}
KG = {"kg": 1, "g": 0.001, "lb": 0.45359237, "oz": 0.028349523125}
RTL = "כד גדול עם ידית"
STAGES = ["leather-hard", "dry", "bisque", "glazed", "glazed", "glazed", "fired"]


class Words:
    """Quantities as a user may write them: bare numbers in the declared units, or text with a unit."""

    def __init__(self, rng):
        self.rng = rng
        self.units = {"length": rng.choice(["mm", "mm", "cm", "in"]), "mass": rng.choice(sorted(KG)),
                      "temperature": rng.choice("CCF")}

    def length(self, mm):
        choice = self.rng.random()
        if choice < 0.7:
            return round(mm / MM[self.units["length"]], 3)
        if choice < 0.8:
            return f"{mm / 25.4:.3f} in"
        if choice < 0.9:
            return f"{mm / 10:.2f}".replace(".", ",") + " cm"
        return f"{mm:.1f} mm"

    def mass(self, kg):
        if self.rng.random() < 0.7:
            return round(kg / KG[self.units["mass"]], 4)
        return self.rng.choice([f"{kg / KG['lb']:.3f} lb", f"{kg * 1000:.0f} g", f"{kg:.3f} kg"])

    def temperature(self, c):
        return f"{c * 1.8 + 32:.0f} F" if self.rng.random() < 0.3 else f"{c:.0f} C"

    def rate(self, c_h):
        return f"{c_h * 1.8:.0f} F/h" if self.rng.random() < 0.3 else f"{c_h:.0f} C/h"

    def points(self, points):
        return [[self.length(x), self.length(y)] for x, y in points]


def maybe(rng, chance, into, key, value):
    if rng.random() < chance:
        into[key] = value() if callable(value) else value


def size_of(rng):
    """Mostly pots for a table, at times what hardly fits or never does."""
    low, high = rng.choice([(25, 60), (60, 160), (60, 160), (60, 160), (60, 160), (60, 160), (150, 280), (150, 380), (300, 900)])
    return rng.uniform(low, high)


def outline_made(w, across):
    """Concave, rounded, oval, many-sided or plain, about `across` mm wide, around the origin."""
    rng, a = w.rng, across / 2
    choice = rng.randrange(7)
    if choice == 0:
        return {"polygon": w.points([(-a, -a), (a, -a), (a, a / 8), (a / 8, a / 8), (a / 8, a), (-a, a)])}
    if choice == 1:  # a ring with a gap, clockwise
        return {"polygon": w.points([(-a, -a), (-a, a), (-a / 4, a), (-a / 4, -a / 3), (a / 4, -a / 3), (a / 4, a), (a, a),
                                     (a, -a)]), "round": w.length(a / 10)}
    if choice == 2:
        return {"ellipse": [0, 0, w.length(a), w.length(a * rng.uniform(0.3, 1))]}
    if choice == 3:
        return {"rectangle": [w.length(2 * a), w.length(a)], "corner": w.length(a / 5)}
    if choice == 4:
        return {"regular": rng.randint(3, 12), "across": w.length(across * 0.9)}
    if choice == 5:
        return {"circle": [w.length(a / 7), 0, w.length(a)]}
    star = [(1, 0), (0.3, 0.2), (0.31, 0.95), (-0.12, 0.37), (-0.81, 0.59), (-0.39, 0), (-0.81, -0.59), (-0.12, -0.37),
            (0.31, -0.95), (0.3, -0.2)]
    return {"polygon": w.points([(a * x, a * y) for x, y in star])}


def reach_made(w, height):
    low = height * w.rng.uniform(0.1, 0.4)
    made = {"reach": w.length(w.rng.uniform(10, 60)), "width": w.length(w.rng.uniform(8, 30)), "from": w.length(low),
            "to": w.length(low + height * w.rng.uniform(0.2, 0.5))}
    maybe(w.rng, 0.4, made, "at", w.rng.randint(-180, 180))
    return made


def parts_made(w, across, height):
    """A body over one foot or over feet that stand apart."""
    a = across / 2
    feet = w.rng.choice([[(0, 0)], [(-0.6, 0), (0.6, 0)], [(-0.6, -0.5), (0.6, -0.5), (0, 0.6)]])
    low = height * 0.3
    parts = [{"kind": "foot", "from": 0, "to": w.length(low), "outline": {"circle": [w.length(a * x), w.length(a * y),
                                                                                w.length(a * 0.35)]}} for x, y in feet]
    parts.append({"kind": "body", "from": w.length(low), "to": w.length(height * 0.8), "outline": outline_made(w, across)})
    if w.rng.random() < 0.5:
        parts.append({"from": w.length(height * 0.8), "to": w.length(height), "outline": {"circle": [0, 0, w.length(a / 2)]}})
    return parts


def shape_made(w, piece):
    rng, across, height = w.rng, size_of(w.rng), size_of(w.rng)
    choice = rng.randrange(6)
    if choice == 0:
        piece.update(diameter=w.length(across), height=w.length(height))
    elif choice == 1:
        piece.update(width=w.length(across), depth=w.length(across * rng.uniform(0.1, 1)), height=w.length(height))
        maybe(rng, 0.4, piece, "corner", w.length(across * 0.04))
    elif choice == 2:
        piece.update(outline=outline_made(w, across), height=w.length(height))
    elif choice == 3:
        radii = [(part, across / 2 * rng.uniform(0.3, 1)) for part in (0, 0.1, 0.35, 0.7, 1)]
        piece["profile"] = [[w.length(height * part), w.length(r)] for part, r in radii]
    elif choice == 4:
        piece["parts"] = parts_made(w, across, height)
    else:
        piece.update(diameter=w.length(across), height=w.length(height), foot=w.length(across * rng.uniform(0.4, 0.9)))
    if choice in (0, 1, 5):
        maybe(rng, 0.3, piece, "handle", lambda: reach_made(w, height))
        maybe(rng, 0.1, piece, "spout", lambda: reach_made(w, height))
    if choice < 3:
        maybe(rng, 0.15, piece, "pose", rng.choice(["inverted", "on edge", "on its side", "upright"]))


def setter_made(w, stage):
    rng = w.rng
    kind = rng.choice(["slab", "slab", "cookie", "stilt", "prop"])
    made = {"kind": kind}
    if kind == "slab":
        maybe(rng, 0.5, made, "thickness", w.length(rng.uniform(6, 20)))
        maybe(rng, 0.5, made, "margin", w.length(rng.uniform(5, 30)))
        maybe(rng, 0.5, made, "bed_under", w.length(rng.uniform(0, 6)))
        maybe(rng, 0.5, made, "bed_over", w.length(rng.uniform(0, 6)))
        maybe(rng, 0.3, made, "grain", w.length(0.8))
        maybe(rng, 0.3, made, "bed_material", "grog")
        maybe(rng, 0.4, made, "stage", rng.choice(["fired", "bisque"] if stage in ("glazed", "fired", "bisque") else ["fired"]))
        maybe(rng, 0.2, made, "clay", "buff")
        maybe(rng, 0.2, made, "mass", w.mass(1.2))
    return made


def wishes_made(w, piece, dated):
    rng = w.rng
    maybe(rng, 0.1, piece, "must_go", True)
    maybe(rng, 0.06, piece, "wait", True)
    maybe(rng, 0.15, piece, "set", rng.choice(["tea", "dinner"]))
    maybe(rng, 0.3 if dated else 0.05, piece, "due", f"2026-12-{rng.randint(1, 28):02}")
    maybe(rng, 0.3, piece, "turn", rng.choice(["any", "fixed", "quarter", "half", {"step": 30, "first": 10},
                                               {"step": 0, "first": 45}, {"step": 7}]))
    maybe(rng, 0.5, piece, "price", rng.randint(0, 90))
    maybe(rng, 0.2, piece, "around", w.length(rng.uniform(0, 25)))
    maybe(rng, 0.1, piece, "runny", True)
    maybe(rng, 0.2, piece, "glazed", rng.random() < 0.5)
    maybe(rng, 0.2, piece, "tags", [rng.choice(["chrome", "white", "gift"])])
    maybe(rng, 0.1, piece, "cones", rng.choice([["04", "6"], ["5", "7"], ["9", "10"]]))
    maybe(rng, 0.1, piece, "atmosphere", rng.choice(["oxidation", "reduction"]))
    maybe(rng, 0.1, piece, "wall", w.length(rng.uniform(3, 25)))
    maybe(rng, 0.1, piece, "earlier_firings", rng.randint(0, 3))
    if rng.random() < 0.3:
        piece[rng.choice(["mass", "wet_ball"])] = w.mass(rng.uniform(0.1, 9))


def piece_made(w, number, dated, members):
    rng = w.rng
    piece = {"id": f"p{number}", "clay": rng.choice(["buff", "total"])}
    maybe(rng, 0.06, piece, "name", "a very long name " * 12)
    maybe(rng, 0.06, piece, "name", RTL)
    maybe(rng, 0.05, piece, "id", f"p{number} " + "x" * 190)
    maybe(rng, 0.05, piece, "id", f"{RTL} {number}")
    maybe(rng, 0.5, piece, "count", rng.choice([2, 3, 5, 8, 13]))
    maybe(rng, 0.7, piece, "stage", rng.choice(STAGES))
    maybe(rng, 0.5, piece, "glazes", [rng.choice(["clear", "drip", "chrome green"])])
    maybe(rng, 0.05, piece, "role", rng.choice(["test", "prop"]))
    if members:
        maybe(rng, 0.7, piece, "owner", rng.choice(members)["id"])
    shape_made(w, piece)
    if "pose" not in piece:
        maybe(rng, 0.2, piece, "setter", lambda: setter_made(w, piece.get("stage", "glazed")))
    wishes_made(w, piece, dated)
    return piece


def pin_made(w, loads):
    """A place for one copy, that may be free or not."""
    rng = w.rng
    pin = {"level": rng.choice([1, 1, 2, 3, 9]), "x": w.length(rng.uniform(-150, 150)), "y": w.length(rng.uniform(-150, 150))}
    maybe(rng, 0.5, pin, "load", rng.randint(1, loads))
    maybe(rng, 0.3, pin, "turn", rng.randint(-90, 90))
    return pin


def nests_made(w):
    """Unglazed ware on unglazed ware, as a bisque firing stacks it."""
    if w.rng.random() > 0.15:
        return []
    bowl = {"id": "under", "stage": "bisque", "glazed": False, "clay": "buff", "diameter": w.length(120),
            "height": w.length(50), "count": 2}
    return [bowl, {**bowl, "id": "over", "diameter": w.length(80), "count": 1, "on": {"id": "under", "copy": 2}}]


def ware_made(w, dated, members):
    rng = w.rng
    choice = rng.random()
    if choice < 0.1:
        return [piece_made(w, 1, dated, members)]
    if choice < 0.14:
        return [{"id": "tumbler", "count": 300, "diameter": w.length(75), "height": w.length(90), "clay": "buff"}]
    return [piece_made(w, number, dated, members) for number in range(rng.choice([3, 5, 8, 12, 25]))] + nests_made(w)


def stock_of_little(rng):
    return {"format": "kilnstow-kiln/1", "id": "little stock", "name": "a bare kiln", "loading": "top",
            "units": {"length": "in", "mass": "lb", "temperature": "F"},
            "chamber": {"height": 16, "outline": {"regular": 8, "across": "45 cm"}},
            "keep_outs": [{"kind": "peephole", "outline": {"rectangle": [1, 1]}, "from": 5, "to": 7, "clearance": 0.5}][:rng.randint(0, 1)],
            "shelves": [{"id": "round", "outline": {"circle": [0, 0, 7.5]}, "thickness": "15 mm", "count": rng.randint(0, 3)}],
            "posts": [{"height": height, "outline": {"circle": [0, 0, 0.6]}, "count": rng.randint(0, 4)} for height in (0.5, 1, 4, 5)],
            "first_gap": rng.choice([0, 0, 3]), "top_gap": rng.choice([0, 0, 2.5]),
            "mass_limit": rng.choice([0, 3, 40])}


def kilns_made(w, firings, dated):
    rng, entries = w.rng, []
    for name in rng.sample(KILNS, rng.choice([1, 1, 1, 2])):
        entry = {"kiln": name, "loads": rng.choice([1, 1, 2, 3])}
        if dated:
            entry["dates"] = [f"2026-12-{rng.randint(1, 28):02}" for _ in range(entry["loads"])]
        if rng.random() < 0.3:
            entry["firings"] = [rng.choice(firings)["id"]]
        if rng.random() < 0.15 and not dated and "firings" not in entry:
            entry = {"kiln": name, "slots": [{"firing": firings[0]["id"]}, {"date": "2026-12-09"}]}
        entries.append(name if rng.random() < 0.2 else entry)
    if rng.random() < 0.12:
        entries = [{"kiln": stock_of_little(rng), "loads": 1}]
    return entries


def firings_made(w):
    rng = w.rng
    firings = [{"id": "glaze", "cone": rng.choice(["6", "6", "04", "10", "022"])}]
    maybe(rng, 0.3, firings[0], "schedule", "slow")
    if rng.random() < 0.25:
        firings.append({"id": "by heat", "top": w.temperature(1060), "atmosphere": rng.choice(["oxidation", "reduction"])})
    segments = [{"rate": w.rate(60), "to": w.temperature(120), "hold": "1h30"}, {"rate": w.rate(150), "to": w.temperature(900)},
                {"to": w.temperature(1230), "hold": "10 min"}]
    if rng.random() < 0.3:
        segments.append({"rate": w.rate(80), "to": w.temperature(1000)})
    return firings, [{"id": "slow", "purpose": "drying, then glaze", "segments": segments, "end_cone": "6"}]


def rules_made(w):
    rng, rules = w.rng, {}
    maybe(rng, 0.5, rules, "objective", rng.choice(["volume", "price", "count"]))
    if rng.random() < 0.4:
        names = ["ware", "under", "setter", "wall", "lid", "post", "above", "shelf_edge", "overhang"]
        rules["clearances"] = {name: w.length(rng.choice([0, 2, 5, 10, 20])) for name in rng.sample(names, rng.randint(1, 9))}
    maybe(rng, 0.3, rules, "apart", [{"tags": ["chrome", "white"], "by": rng.choice(["level", "load"])}])
    rules["cones"] = rng.choice([False, True, {"on": ["bottom"]}, {"at_peephole": True},
                                 {"on": ["middle", "top"], "width": w.length(80), "depth": w.length(30), "height": w.length(70)}])
    maybe(rng, 0.2, rules, "hand_room", w.length(rng.choice([0, 40])))
    maybe(rng, 0.2, rules, "large", w.length(180))
    maybe(rng, 0.3, rules, "outward", rng.choice([0, 0.02]))
    maybe(rng, 0.3, rules, "fewest_levels", False)
    return rules


def costs_made(rng):
    return {"electricity": rng.choice([{"price": 0.31}, {"tiers": [{"up_to_kwh": 100, "price": 0.2}, {"price": "0.4"}],
                                                         "month_kwh": 60, "demand_per_kw": 3}]),
            "gas": {"price": 1.1, "per": rng.choice(["kWh", "m3", "kg"])},
            "wear": [{"name": "elements", "price": 300, "life": [{"cone": "04", "firings": 500}, {"cone": "6", "firings": 150}]}],
            "labour": {"per_hour": 15, "load": "2 h", "steps": [{"step": "glazing", "time": "4 min"}]},
            "losses": rng.choice([0, 0.1]), "overhead": 0.1,
            "share": {"by": rng.choice(["box", "slices", "shelf", "mass", "count"]), "empty_space": rng.choice(["spread", "studio"]),
                      "cones": rng.choice(["spread", "studio"])},
            "prices": {"wholesale": 1.4, "retail": 2, "tax": 0.19, "tax_inside": rng.random() < 0.5, "round_to": 1}}


IN_CELLS = ["id", "name", "owner", "count", "stage", "clay", "diameter", "height", "foot", "must_go", "set", "price", "wait"]


def rows_taken(rng, order):
    """Now and then ware that a table can tell leaves the order for one: its text, or None."""
    rows = [piece for piece in order["ware"] if set(piece) <= set(IN_CELLS)]
    if not rows or rng.random() < 0.5:
        return None
    order["ware"] = [piece for piece in order["ware"] if piece not in rows]
    order["ware_files"] = ["ware.csv"]
    unit, text = order["units"]["length"], io.StringIO()
    table = csv.writer(text, delimiter=rng.choice(",;\t"))
    table.writerow(f"{key} ({unit})" if key in ("height", "foot") else key.replace("_", " ") for key in IN_CELLS)
    for piece in rows:
        table.writerow({True: "yes", False: "no"}.get(piece.get(key), piece.get(key, "")) if key in ("must_go", "wait")
                       else piece.get(key, "") for key in IN_CELLS)
    return text.getvalue()


def loads_of(order):
    return sum(len(entry["slots"]) if "slots" in entry else entry.get("loads", 1)
               for entry in (entry if isinstance(entry, dict) else {} for entry in order["kilns"]))


def order_made(rng):
    w = Words(rng)
    dated = rng.random() < 0.3
    members = []
    if rng.random() < 0.4:
        members = [{"id": "ann", "name": "Ann", "initials": "A", "quota_litres": rng.choice([1, 8, 40])},
                   {"id": "bo", "quota_pieces": rng.choice([0, 2, 9]), "guest": True}, {"id": "רות", "name": RTL}]
    firings, schedules = firings_made(w)
    order = {"format": "kilnstow-order/1", "title": rng.choice(["a load", RTL, "T" * 200]), "studio": "nobody's",
             "currency": rng.choice(["EUR", "USD", "JPY"]), "units": w.units, "kilns": kilns_made(w, firings, dated),
             "firings": firings, "schedules": schedules,
             "clays": [{"id": "buff", "bar": {"wet": 100, "dry": 94, "bisque": 93.5, "cone 6": 88}, "price_per_kg": 1},
                       {"id": "total", "shrinkage": 0.12, "cones": ["04", "10"], "density": 2.1}],
             "materials": [{"id": "sand", "price": 2, "pack": "5 kg"}],
             "glazes": [{"id": "clear", "base": {"sand": 100}, "tags": ["white"]}, {"id": "drip", "runny": True, "cones": ["5", "7"]},
                        {"id": "chrome green", "tags": ["chrome"], "coats": 1}],
             "members": members, "rules": rules_made(w)}
    order["ware"] = ware_made(w, dated, members)
    for piece in order["ware"]:
        if "on" not in piece:
            maybe(rng, 0.08, piece, "keep", lambda: pin_made(w, loads_of(order)))
    maybe(rng, 0.4, order, "costs", lambda: costs_made(rng))
    maybe(rng, 0.3, order, "display", {"length": rng.choice(["mm", "cm", "in"]), "mass": "lb", "temperature": "F"})
    return order


def exactly_tall(rng, kiln):
    """As tall as one post's gap lets ware be, or by a hair lower or taller."""
    above = kiln.get("clearances", {}).get("above", 6)
    return max(10, rng.choice(kiln["posts"])["height"] - above + rng.choice([0, 0, 0, -0.01, 0.01]))


def order_for_kiln_made(rng):
    """At most 40 pieces of a dozen kinds for a load or two of a kiln that is random too."""
    order = order_made(rng)
    kiln = kiln_made(rng, "random kiln")
    order["kilns"] = [{"kiln": kiln, "loads": rng.choice([1, 1, 1, 2])}]
    order["rules"].get("clearances", {}).pop("above", None)
    order["ware"] = [piece for piece in order["ware"] if piece["id"] not in ("over", "under")][:12]
    for piece in order["ware"]:
        if rng.random() < 0.3 and "diameter" in piece and not {"handle", "spout"} & set(piece):
            piece["height"] = f"{exactly_tall(rng, kiln):.3f} mm"
        piece.get("keep", {}).pop("load", None)
        piece["count"] = min(piece.get("count", 1), 40 // len(order["ware"]))
    return order
