"""Reads a plan as a loader would who is to build it: what would be asked of whoever planned it.

`complaints` lists them: what `check` remarks, levels with nothing on them, heavy levels over light ones that could change
places with them, and a walk much longer than from each piece to the nearest (nearest-neighbour rule: Rosenkrantz, Stearns,
Lewis, SIAM J. Computing 6, 1977)."""
import math

LONGER = 4 / 3       # than from each piece to the nearest: common practice, no source
HEAVIER_KG = 0.5     # what nobody would lift twice for: common practice, no source


def bare(load):
    return [f'level {level["name"]} carries nothing' for level in load['levels']
            if not any(piece['role'] == 'ware' for piece in level['pieces'])]


def heavy_high(load, mass_kg):
    """Between levels of one bay as tall as each other: they change places as they are."""
    told = []
    mass = [sum(mass_kg.get(piece['id'], 0) for piece in level['pieces']) for level in load['levels']]
    for i, low in enumerate(load['levels']):
        for k, high in enumerate(load['levels']):
            alike = low['bay'] == high['bay'] and low['gap'] == high['gap'] and low['z'] < high['z']
            if alike and mass[k] > mass[i] + HEAVIER_KG:
                told.append(f'{mass[k]:.1f} kg on level {high["name"]}, {mass[i]:.1f} kg on level {low["name"]} below')
    return told


def walks(load):
    """Of each level where its pieces stand, in the order in which they go in."""
    ways = {}
    for step in load['steps']:
        if step['put'] in ('piece', 'cones'):
            number, item = step['ref']['level'] - 1, step['ref']['item'] - 1
            piece = load['levels'][number]['pieces'][item]
            ways.setdefault(number, []).append((piece['x'], piece['y']))
    return list(ways.values())


def length(way):
    return sum(math.dist(a, b) for a, b in zip(way, way[1:]))


def nearest(way):
    left, at = list(way[1:]), [way[0]]
    while left:
        at.append(min(left, key=lambda place: math.dist(at[-1], place)))
        left.remove(at[-1])
    return length(at)


def long_walk(load):
    ways = walks(load)
    walked, least = sum(map(length, ways)), sum(map(nearest, ways))
    return [f'{walked:.0f} mm walked, {least:.0f} mm to the nearest'] if walked > LONGER * least else []


def complaints(plan, remarks, mass_kg):
    told = [f'{remark["rule"]}: {remark["where"]}' for remark in remarks]
    for load in plan['loads']:
        told += bare(load) + heavy_high(load, mass_kg) + long_walk(load)
    return told
