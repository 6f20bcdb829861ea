#!/usr/bin/env python3
"""The storeys of the house. Usage: layers.py [BUILD FOLDER], from the project's top folder, after building.

A room includes and calls only what stands above it in ROOMS, and less where its line says so; no files include one
another in a circle; below app nothing prints, exits, or asks the environment or the clock; no name is given twice."""
import collections
import os
import re
import subprocess
import sys

STUDIO = ['base', 'base/days', 'base/data', 'shape', 'studio', 'clock', 'studio/reading', 'studio/kilns', 'studio/forms', 'studio/terms', 'studio/files']
# In the order of the storeys; None: everything above.
ROOMS = {
    'base': None,
    'base/days': None,
    'base/data': None,
    'shape': None,
    'studio': None,
    'clock': ['base', 'base/days', 'shape', 'studio'],
    'studio/reading': None,
    'studio/kilns': None,
    'studio/forms': None,
    'studio/terms': None,
    'studio/files': None,
    'check': STUDIO,
    'pack/shelf': STUDIO[:5],
    'pack/tower': STUDIO[:5],
    'pack/instance': STUDIO[:5] + ['pack/shelf'],
    'pack/search': STUDIO[:5] + ['pack/shelf', 'pack/instance'],
    'place/job': None,
    'place/stack': None,
    'place/bound': None,
    'place/draft': None,
    'fit': None,
    'place/search': None,
    'place/finish': None,
    'fire/physics': STUDIO,
    'fire': STUDIO + ['fire/physics'],
    'cost': STUDIO + ['fire/physics', 'fire'],
    'book': STUDIO + ['fire/physics', 'fire', 'cost'],
    'draw/scene': None,
    'draw/facts': None,
    'draw/sheets': None,
    'app/measured': None,
    'app/firing': None,
    'app/hours': None,
    'app/machine': None,
    'app/record': None,
    'app/costs': None,
    'app': None,
    'app/fitting': None,
    'app/answers': None,
    'web': None,
    'cli/frame': None,
    'cli/log': None,
    'cli': None,
}
# Whose door each public header is; those not named are the studio's or the base's.
DOORS = {'check': 'check', 'place': 'place/finish', 'fit': 'fit', 'fire': 'fire', 'cost': 'cost', 'book': 'book', 'learn': 'book',
         'draw': 'draw/scene'}
# Planning asks the checker, but at this door only; place/finish declares how long a search goes on, which job reads.
CHECK_ASKED_BY = {'place/draft/alone.c'}
OPTIONS_READ_BY = {'place/job/job.h'}
LOUD_ROOMS = {'app', 'app/fitting', 'app/machine', 'web', 'cli/frame', 'cli/log', 'cli'}
LOUD = set('''stdout stderr stdin printf vprintf puts putchar perror exit _exit quick_exit abort getenv secure_getenv time
    clock clock_gettime gettimeofday localtime localtime_r setlocale rand srand random __printf_chk __vprintf_chk'''.split())
# libm's functions differ in bits between machines; a plan must not.
EXACT_ROOMS = {'shape', 'check', 'pack/shelf', 'pack/tower', 'pack/instance', 'pack/search', 'place/job', 'place/stack', 'place/bound',
               'place/draft', 'place/search', 'place/finish', 'fit'}
INEXACT = re.compile(r'^(sin|cos|tan|sincos|asin|acos|atan|atan2|hypot|pow|exp|exp2|log|log2|log10|cbrt)f?$')
FILES_MOST = 40

ORDER = list(ROOMS)


def room_of(path):
    """The room of a file below src/, or of a folder."""
    folder = os.path.dirname(path)
    return folder if folder in ROOMS else None


def may_see(room, other, file):
    if room == other:
        return True
    if other == 'book' and room.startswith('draw'):
        return False
    if other == 'check' and ORDER.index(room) < ORDER.index('app'):
        return file in CHECK_ASKED_BY
    sees = ROOMS[room]
    return other in sees if sees is not None else ORDER.index(other) < ORDER.index(room)


def source_files():
    for folder, _, names in os.walk('src'):
        for name in sorted(names):
            if name.endswith(('.c', '.h')):
                yield os.path.relpath(os.path.join(folder, name), 'src')


def includes_of(path):
    with open(path, encoding='utf-8') as file:
        return re.findall(r'^#include "([^"]+)"', file.read(), re.M)


def included_room(included):
    if included.startswith('kilnstow/'):
        return DOORS.get(included[len('kilnstow/'):-len('.h')], 'base')
    return room_of(included)


def faulty_includes():
    for path in source_files():
        room = room_of(path)
        if room is None:
            yield f'src/{path} stands in no room'
            continue
        for included in includes_of('src/' + path):
            other = included_room(included)
            if included == 'kilnstow/place.h' and path in OPTIONS_READ_BY:
                continue
            if other is None or not may_see(room, other, path):
                yield f'src/{path} includes {included}, which {room} may not see'
    for name in sorted(os.listdir('include/kilnstow')):
        for included in includes_of('include/kilnstow/' + name):
            if not included.startswith('kilnstow/'):
                yield f'include/kilnstow/{name}, a public header, includes {included}'


def circles():
    """Groups of files, a source with its header as one, that include one another."""
    edges = collections.defaultdict(set)
    everything = [('src/' + path, path) for path in source_files()]
    everything += [(f'include/kilnstow/{name}', f'kilnstow/{name}') for name in sorted(os.listdir('include/kilnstow'))]
    for path, name in everything:
        stem = name[:-2]
        edges[stem] |= {included[:-2] for included in includes_of(path)} - {stem}
    index, low, stack, found = {}, {}, [], []

    def visit(node):
        index[node] = low[node] = len(index)
        stack.append(node)
        for other in sorted(edges[node]):
            if other not in index:
                visit(other)
                low[node] = min(low[node], low[other])
            elif other in stack:
                low[node] = min(low[node], index[other])
        if low[node] == index[node]:
            group = []
            while not group or group[-1] != node:
                group.append(stack.pop())
            if len(group) > 1:
                found.append(group)

    sys.setrecursionlimit(10000)
    for node in sorted(edges):
        if node not in index:
            visit(node)
    return [' '.join(sorted(group)) + ' include one another' for group in found]


def symbols(build):
    """(room, file, has or asks, symbol) of each object file of the program."""
    known = {path[:-2].replace('/', '_'): path for path in source_files() if path.endswith('.c')}
    objects = []
    for folder, _, names in os.walk(build):
        objects += [os.path.join(folder, name) for name in names if name.startswith('src_') and name.endswith('.c.o')]
    told = subprocess.run(['nm', '-A'] + objects, stdout=subprocess.PIPE, text=True, check=True).stdout if objects else ''
    for line in told.splitlines():
        where, _, what = line.partition('.c.o:')
        path = known.get(os.path.basename(where)[len('src_'):])
        words = what.split()
        if path is None or len(words) < 2 or room_of(path) is None:
            continue
        if words[-2] == 'U':
            yield room_of(path), path, 'asks', words[-1]
        elif words[-2] in 'TDBRVW':
            yield room_of(path), path, 'has', words[-1]


def faulty_calls(all_symbols):
    home = {symbol: room for room, _, what, symbol in all_symbols if what == 'has'}
    for room, path, what, symbol in all_symbols:
        if what == 'asks' and symbol in home and not may_see(room, home[symbol], path):
            yield f'src/{path} calls {symbol}, which is in {home[symbol]}'


def loud_calls(all_symbols):
    # The arena is the one exception: out of memory, it says so and exits.
    for room, path, what, symbol in all_symbols:
        if what == 'asks' and room not in LOUD_ROOMS and symbol in LOUD and path != 'base/arena.c':
            yield f'src/{path} uses {symbol}'


def inexact_calls(all_symbols):
    for room, path, what, symbol in all_symbols:
        if what == 'asks' and room in EXACT_ROOMS and INEXACT.match(symbol):
            yield f'src/{path} uses {symbol}'


def crowded_folders():
    for folder, _, names in os.walk('src'):
        names = [name for name in names if name.endswith(('.c', '.h'))]
        if len(names) > FILES_MOST:
            yield f'{folder} has {len(names)} files; at most {FILES_MOST}, or it needs rooms of its own'


def names_given_twice():
    where = collections.defaultdict(list)
    for path in source_files():
        where[os.path.basename(path)].append('src/' + path)
    for name in os.listdir('include/kilnstow'):
        where[name].append('include/kilnstow/' + name)
    for name, paths in sorted(where.items()):
        if len(paths) > 1:
            yield f'{name} is the name of {", ".join(paths)}'


TYPE = re.compile(r'^typedef\b[^;{]*\{.*?^\s*\}\s*\**\s*(\w+);|^typedef\s[^;{]*?\b(\w+)\s*;|^typedef\s[^;{(]*\(?\*?(\w+)\)?\([^;]*\);',
                  re.M | re.S)


def types_given_twice():
    where = collections.defaultdict(set)
    for folder in ('src', 'include'):
        for base, _, names in os.walk(folder):
            for name in names:
                if not name.endswith(('.c', '.h')):
                    continue
                with open(os.path.join(base, name), encoding='utf-8') as file:
                    text = file.read()
                for typedef in TYPE.finditer(text):
                    kind = typedef.group(1) or typedef.group(2) or typedef.group(3)
                    if kind.startswith('ks_'):
                        where[kind].add(os.path.join(base, name))
    for kind, paths in sorted(where.items()):
        if len(paths) > 1:
            yield f'{kind} is a type in {", ".join(sorted(paths))}'


FUNCTION = re.compile(r'^[a-z][\w *]*\bks_\w+\(')


def uncommented_functions():
    """Of a public header: functions that no comment above, or above the line before, speaks of."""
    for name in sorted(os.listdir('include/kilnstow')):
        with open('include/kilnstow/' + name, encoding='utf-8') as file:
            lines = file.read().splitlines()
        spoken_of = False
        for number, line in enumerate(lines, 1):
            if line.rstrip().endswith('*/'):
                spoken_of = True
            elif not line.strip() or line.startswith('}'):
                spoken_of = False
            if FUNCTION.match(line) and not spoken_of:
                yield f'include/kilnstow/{name}:{number}: {line.strip()}'


def faults_in_other_languages():
    """What a C++ compiler says of the public headers."""
    text = ''.join(f'#include "kilnstow/{name}"\n' for name in sorted(os.listdir('include/kilnstow')))
    told = subprocess.run(['c++', '-std=c++17', '-Wall', '-fsyntax-only', '-Iinclude', '-x', 'c++', '-'], input=text,
                          stderr=subprocess.PIPE, text=True)
    return told.stderr.splitlines() if told.returncode else []


def main():
    build = sys.argv[1] if len(sys.argv) > 1 else 'build'
    all_symbols = list(symbols(build))
    claims = [
        ('no include runs up or through a wall', faulty_includes()),
        ('no files include one another in a circle', circles()),
        ('the object files are there to be looked at', [] if all_symbols else [f'none in {build}: build first']),
        ('no call runs up or through a wall', sorted(set(faulty_calls(all_symbols)))),
        ('below app nothing prints, exits, or asks the environment or the clock', loud_calls(all_symbols)),
        ('what makes plans uses no function whose last bits depend on the machine', inexact_calls(all_symbols)),
        (f'no folder has more than {FILES_MOST} files', crowded_folders()),
        ('no file name is given twice', names_given_twice()),
        ('no type name is given twice', types_given_twice()),
        ('each public function has a comment', uncommented_functions()),
        ('the public headers are C++ as well', faults_in_other_languages()),
    ]
    bad = False
    for number, (claim, faults) in enumerate(claims, 1):
        faults = list(faults)
        for fault in faults:
            print('#', fault)
        print('not ok' if faults else 'ok', number, '-', claim)
        bad = bad or bool(faults)
    print(f'1..{len(claims)}')
    return 1 if bad else 0


if __name__ == '__main__':
    sys.exit(main())
