"""kiln_maker.py: makes one random, valid kiln, plain or odd; order_maker.py puts ware before it."""
import math

INCH_POSTS = [0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 9, 10, 12]
METRIC_POSTS = [10, 13, 20, 25, 38, 50, 75, 100, 120, 125, 150, 180, 200, 250, 300]
POST_SHAPES = [{"rectangle": [38, 38]}, {"circle": [0, 0, 15]}, {"circle": [0, 0, 19]}, {"regular": 6, "across": 34},
               {"polygon": [[-18, -12], [18, -12], [0, 22]], "round": 2}, {"rectangle": [60, 25]}]


class Room:
    """A chamber as its kiln sees it from above: half as wide as `x`, half as deep as `y`, round or square."""

    def __init__(self, rng):
        self.rng = rng
        self.is_round = rng.random() < 0.55
        self.x = rng.uniform(130, 420)
        self.y = self.x if rng.random() < (0.9 if self.is_round else 0.5) else self.x * rng.uniform(0.7, 1.4)
        self.high = rng.uniform(220, 1000)

    def outline(self, grown=0.0):
        x, y = self.x + grown, self.y + grown
        if not self.is_round:
            return {"rectangle": [round(2 * x, 1), round(2 * y, 1)]}
        if self.x != self.y:
            return {"ellipse": [0, 0, round(x, 1), round(y, 1)]}
        return self.rng.choice([{"circle": [0, 0, round(x, 1)]}, {"regular": self.rng.choice([8, 10, 12]),
                                                                 "across": round(2 * x, 1)}])


def part_between(room, x0, x1, inset):
    """The strip of the room from x0 to x1, `inset` within its walls, as a polygon around its own middle."""
    middle, y = (x0 + x1) / 2, room.y - inset
    if not room.is_round:
        return middle, [(x0 - middle, -y), (x1 - middle, -y), (x1 - middle, y), (x0 - middle, y)]
    steps = [x0 + (x1 - x0) * i / 12 for i in range(13)]
    half = [y * math.sqrt(max(0, 1 - (x / (room.x - inset)) ** 2)) for x in steps]
    lower = [(x - middle, -h) for x, h in zip(steps, half) if h > 8]
    return middle, lower + [(x, -y) for x, y in reversed(lower)]


def gridded(points):
    return [[round(x, 1), round(y, 1)] for x, y in points]


WIDEST_POST = 33  # from its middle to its farthest corner


def within_room(room, middle, x, y):
    """Moved towards the middle of its bay until the widest post there stands within the walls."""
    for _ in range(60):
        far = [abs(middle + x) / (room.x - WIDEST_POST), abs(y) / (room.y - WIDEST_POST)]
        if (math.hypot(*far) if room.is_round else max(far)) <= 1:
            break
        x, y = 0.95 * x, 0.95 * y
    return x, y


def posts_under(room, rng, polygon, middle, reach):
    """Three or four places in the polygon, a post's reach within its edge."""
    x0, x1 = min(x for x, _ in polygon) + reach, max(x for x, _ in polygon) - reach
    y0, y1 = min(y for _, y in polygon) + reach, max(y for _, y in polygon) - reach
    far = rng.uniform(0.55, 0.7)
    corners = [(x0 * far, y1 * far), (x1 * far, y1 * far), ((x0 + x1) / 2, y0 * rng.uniform(0.7, 0.9))]
    if rng.random() < 0.3:
        corners = [(x0 * far, y1 * far), (x1 * far, y1 * far), (x1 * far, y0 * far), (x0 * far, y0 * far)]
    if rng.random() < 0.5:
        corners = [(x, -y) for x, y in corners]
    corners = [within_room(room, middle, x, y) for x, y in corners]
    return gridded((middle + x, y) for x, y in corners)


def shelf_kind(rng, name, polygon, count):
    made = {"id": name, "material": rng.choice(["cordierite", "silicon carbide", "alumina"]), "count": count,
            "outline": {"polygon": gridded(polygon)}, "thickness": rng.choice([8, 12.7, 15, 15.875, 19.05, 25])}
    if rng.random() < 0.2:
        made["safe_load"] = rng.choice([2, 8, 30])
    return made


def bay_made(room, rng, name, strip, ground, shelves, stock):
    """A bay over `ground` (from x to x) with one or two ways of shelving; its kind of shelf joins the stock."""
    inset, count = shelves
    middle, polygon = part_between(room, *strip, inset)
    stock.append(shelf_kind(rng, name, polygon, count))
    laid = [{"shelf": name, "x": round(middle, 1), "y": 0, "turn": 0}]
    ways = [{"shelves": laid, "posts": posts_under(room, rng, polygon, middle, 20)} for _ in range(rng.choice([1, 1, 2]))]
    x0, x1, y = *ground, room.y + 10
    return {"id": name, "outline": {"polygon": gridded([(x0, -y), (x1, -y), (x1, y), (x0, y)])}, "supports": ways}


def columns_made(room, rng, cuts, inset, stock):
    """Bays side by side, a seam at each of the cuts."""
    seam, count, full = rng.choice([1, 2, 5]), rng.choice([1, 2, 4, 9]), room.x - inset
    edges = [-full - seam, *cuts, full + seam]
    grounds = [-room.x, *cuts, room.x]
    return [bay_made(room, rng, f"bay {i}", (edges[i] + seam, edges[i + 1] - seam), grounds[i:i + 2], (inset, count), stock)
            for i in range(len(cuts) + 1)]


def shelving_made(room, rng):
    """Whole shelves, and now and then halves or thirds in their place, or halves laid over the whole bay."""
    inset, stock = rng.uniform(22, 45), []
    full = room.x - inset
    bays = [bay_made(room, rng, "whole", (-full, full), (-room.x, room.x), (inset, rng.choice([0, 1, 2, 3, 5, 8])), stock)]
    arrangements = [{"id": "whole", "bays": ["whole"]}]
    cuts = rng.choice([[], [], [0], [0], [rng.uniform(-0.2, 0.2) * full], [-full / 3, full / 3]])
    if not cuts or full * 2 < 150 * (len(cuts) + 1):
        return stock, bays, arrangements
    columns = columns_made(room, rng, cuts, inset, stock)
    arrangements.append({"id": "parted", "bays": [bay["id"] for bay in columns]})
    if rng.random() < 0.4:
        ways = [bay["supports"][0] for bay in columns]
        bays[0]["supports"].append({key: sum((way[key] for way in ways), []) for key in ("shelves", "posts")})
    return stock, bays + columns, arrangements


def posts_made(rng):
    heights = rng.choice([[25.4 * inch for inch in INCH_POSTS], METRIC_POSTS])
    heights = sorted(rng.sample(heights, rng.randint(3, len(heights))))
    shapes = rng.sample(POST_SHAPES, rng.choice([1, 1, 2, 3]))
    posts = []
    for number, height in enumerate(heights):
        for shape in rng.sample(shapes, rng.choice([1, len(shapes)])):
            posts.append({"id": f"post {number} {POST_SHAPES.index(shape)}", "height": round(height, 3), "outline": shape,
                          "count": rng.choice([0, 2, 3, 6, 12, 40])})
    return posts


def chamber_made(room, rng):
    chamber = {"height": round(room.high, 1)}
    choice = rng.random()
    if choice < 0.2 and not room.is_round:
        chamber.update(outline=room.outline(), arch={"spring": round(room.high * rng.uniform(0.5, 0.9), 1)})
    elif choice < 0.4:  # a domed lid, in steps
        spring = room.high * rng.uniform(0.6, 0.9)
        steps = rng.randint(1, 4)
        tops = [spring + (room.high - spring) * i / steps for i in range(steps + 1)]
        chamber["parts"] = [{"from": 0, "to": round(spring, 1), "outline": room.outline()}]
        chamber["parts"] += [{"from": round(low, 1), "to": round(high, 1), "outline": room.outline(-room.x * 0.1 * (i + 1))}
                             for i, (low, high) in enumerate(zip(tops, tops[1:]))]
    else:
        chamber["outline"] = room.outline()
    return chamber


def keep_outs_made(room, rng):
    made = []
    for kind in rng.sample(["sensor", "sensor", "peephole", "peephole", "bracket"], rng.choice([0, 1, 1, 2, 3])):
        side, deep = rng.choice([-1, 1]), rng.uniform(10, 60)
        low = rng.uniform(0, room.high - 60)
        x, y = side * (room.x - deep / 2), side * (room.y - deep / 2)
        box = [(-7, y - deep / 2), (7, y - deep / 2), (7, y + deep / 2), (-7, y + deep / 2)]
        if rng.random() < 0.5:
            box = [(x - deep / 2, -7), (x + deep / 2, -7), (x + deep / 2, 7), (x - deep / 2, 7)]
        made.append({"kind": kind, "outline": {"polygon": gridded(box)}, "from": round(low, 1),
                     "to": round(low + rng.uniform(8, 50), 1), "clearance": rng.choice([0, 5, 12, 25])})
    return made


def kiln_made(rng, name):
    room = Room(rng)
    stock, bays, arrangements = shelving_made(room, rng)
    kiln = {"format": "kilnstow-kiln/1", "id": name, "name": name, "loading": rng.choice(["top", "top", "front"]),
            "units": {"length": "mm", "mass": "kg", "temperature": "C"}, "chamber": chamber_made(room, rng),
            "keep_outs": keep_outs_made(room, rng), "shelves": stock, "posts": posts_made(rng), "bays": bays,
            "arrangements": arrangements}
    if kiln["loading"] == "front":
        kiln["opening"] = {"width": round(2 * room.x * rng.uniform(0.6, 1), 1),
                           "height": round(room.high * rng.uniform(0.7, 1), 1),
                           "sill": rng.choice([0, 0, 40, -60])}
    if rng.random() < 0.5:
        kiln["floor_posts_at_least"] = rng.choice([0, 0, 10, 25, 50])
    if rng.random() < 0.4:
        names = ["ware", "under", "setter", "wall", "lid", "post", "above", "shelf_edge", "overhang"]
        kiln["clearances"] = {key: rng.choice([0, 2, 5, 10, 20]) for key in rng.sample(names, rng.randint(1, 9))}
    if rng.random() < 0.2:
        kiln["first_gap"] = rng.choice([30, 100, 150])
    if rng.random() < 0.2:
        kiln["top_gap"] = rng.choice([30, 80, 150])
    if rng.random() < 0.15:
        kiln["mass_limit"] = rng.choice([5, 20, 100])
    return kiln
