#!/usr/bin/env python3
"""The README's first hour, done line by line. Usage: first_hour.py PROGRAM [--renew], from the project's top folder.

In a copy of examples/first every command that the section shows is run, in its order: what stands in a block after "$ " is
compared with what it prints, line by line, where a line "…" stands for any number of lines; files that are shown are compared
with those that are there; snippets of an order are put into the order, which is then read. With --renew the outputs shown are
written anew: a block with "…" keeps its choice of lines, each found again by the line most like it."""
import difflib
import json
import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile

README, EXAMPLE = 'README.md', 'examples/first'
ELIDED = '…'
PROGRAM = os.path.abspath(sys.argv[1])
failures = []
counted = 0


def check(truth, what, got=''):
    global counted
    counted += 1
    print('ok' if truth else 'not ok', counted, '-', what)
    if not truth:
        failures.append(what)
        for line in str(got).splitlines()[:40]:
            print('#', line)


def section(text):
    """The first hour as [(kind, first line, lines)]: paragraphs and indented blocks."""
    start, end = text.index('\n## A first hour') + 1, text.index('\n## Cautions')
    first_line = text[:start].count('\n')
    parts = []
    for number, line in enumerate(text[start:end].split('\n'), first_line):
        kind = 'block' if line.startswith('    ') else 'blank' if not line else 'words'
        if kind == 'blank' and parts and parts[-1][0] == 'block':
            parts[-1][2].append(line)
        elif kind != 'blank' and parts and parts[-1][0] == kind and parts[-1][1] + len(parts[-1][2]) == number:
            parts[-1][2].append(line)
        elif kind != 'blank':
            parts.append((kind, number, [line]))
    for _, _, lines in parts:
        while not lines[-1]:
            lines.pop()
    return parts


def run(command, folder):
    words = shlex.split(command)
    into = None
    if '>' in words:
        into = words[words.index('>') + 1]
        words = words[:words.index('>')]
    got = subprocess.run([PROGRAM] + words[1:], cwd=folder, capture_output=True, text=True, timeout=600,
                         env=dict(os.environ, LC_ALL='C.UTF-8'))
    if into:
        with open(os.path.join(folder, into), 'w', encoding='utf-8') as file:
            file.write(got.stdout)
    return got


def is_shown(shown, printed):
    """Whether the lines shown are those printed, but for the elided ones."""
    if not shown:
        return not printed
    if shown[0] == ELIDED:
        return any(is_shown(shown[1:], printed[start:]) for start in range(len(printed) + 1))
    return bool(printed) and shown[0] == printed[0] and is_shown(shown[1:], printed[1:])


def stripped(lines):
    lines = [line.rstrip() for line in lines]
    while lines and not lines[0]:
        lines = lines[1:]
    while lines and not lines[-1]:
        lines = lines[:-1]
    return lines


def likeness(line, other):
    """Of two lines, whatever numbers stand in them; a line that is the same counts a little more."""
    plain, other_plain = re.sub(r'[0-9]+', '0', line), re.sub(r'[0-9]+', '0', other)
    return difflib.SequenceMatcher(None, plain, other_plain, autojunk=False).ratio() + 0.01 * (line == other)


def aligned(shown, printed):
    """For each line shown a line printed, in order, so that they are as alike as can be: its places."""
    best = [(0, ())] * (len(printed) + 1)  # over the first so many lines printed
    for line in shown:
        before, best = best, [None] * (len(printed) + 1)
        for at, now in enumerate(printed):
            taken = before[at] and (before[at][0] + likeness(line, now), before[at][1] + (at,))
            best[at + 1] = max((ways for ways in (best[at], taken) if ways), key=lambda ways: ways[0], default=None)
    return best[-1][1] if best[-1] else None


def renewed(shown, printed):
    """The lines shown, as they are printed now: between two elided lines, all from the first to the last found again."""
    if ELIDED not in shown:
        return printed
    places = aligned([line for line in shown if line and line != ELIDED], printed)
    if places is None:
        return shown
    lines, taken, place = [], -1, iter(places)
    for line in shown:
        if line == ELIDED:
            lines.append(line)
        elif line:
            at = next(place)
            lines += printed[at if not lines or lines[-1] == ELIDED else taken + 1:at + 1]
            taken = at
    return lines


def session(lines, folder, renew):
    """Runs a block that starts with "$ "; the block as it should be."""
    command, shown = lines[0][len('    $ '):], stripped([line[4:] for line in lines[1:]])
    got = run(command, folder)
    printed = stripped(got.stdout.splitlines())
    check(got.returncode in (0, 1), f'{command}: does what it is there for', got.stderr)
    if renew and not is_shown(shown, printed):
        shown = renewed(shown, printed)
    check(is_shown(shown, printed), f'{command}: prints what is shown', '\n'.join(printed))
    blank = [''] if len(lines) > 1 and not lines[1].strip() else []
    return [lines[0]] + blank + ['    ' + line if line else '' for line in shown]


def shown_file(lines, name, folder):
    with open(os.path.join(folder, name), encoding='utf-8') as file:
        is_same = [line[4:] for line in lines] == file.read().splitlines()
    check(is_same, f'{name} is the file that is shown')


def in_order(snippet, folder):
    """An order's keys, shown in passing, are put into the order, which has to be read."""
    with open(os.path.join(folder, 'order.json'), encoding='utf-8') as file:
        order = json.load(file)
    order.update(json.loads('{' + snippet + '}'))
    with open(os.path.join(folder, 'changed.json'), 'w', encoding='utf-8') as file:
        json.dump(order, file)
    got = run('kilnstow list ware changed.json', folder)
    check(got.returncode == 0, f'an order with {snippet[:40]} is read', got.stderr)


def served(code, folder):
    """A command that goes on until it is told to end: it says its address, and ends well."""
    server = subprocess.Popen([PROGRAM] + shlex.split(code)[1:] + ['--port', '0'], cwd=folder, stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, text=True)
    address = server.stdout.readline()
    server.terminate()
    _, told = server.communicate(timeout=60)
    check(address.startswith('http://127.0.0.1:') and server.returncode == 0, f'{code}: serves until it is ended',
          f'{address}{told}status {server.returncode}')


def words(text, folder):
    """Commands and snippets within a paragraph."""
    for code in re.findall(r'`([^`]+)`', text):
        code = ' '.join(code.split())
        if code.startswith('kilnstow serve'):
            served(code, folder)
        elif code.startswith('kilnstow ') and 'COMMAND' not in code:
            got = run(code, folder)
            check(got.returncode == 0, f'{code}: runs', got.stderr)
        elif re.match(r'"\w+": ', code):
            in_order(code, folder)
        elif code.startswith('--') and not code.startswith('--columns'):
            check(any(code.split()[0] in run(f'kilnstow {command} --help', folder).stdout for command in ('place', 'draw', 'fire')),
                  f'{code}: place, draw or fire has it')
        elif code.startswith('--columns'):
            got = run('kilnstow list ware order.json ' + code, folder)
            check(got.returncode == 0, f'{code}: is taken', got.stderr)


def main():
    renew = '--renew' in sys.argv
    with open(README, encoding='utf-8') as file:
        text = file.read()
    lines = text.split('\n')
    changes = []
    with tempfile.TemporaryDirectory() as folder:
        for name in os.listdir(EXAMPLE):
            shutil.copy(os.path.join(EXAMPLE, name), folder)
        paragraph = ''
        for kind, first, part in section(text):
            if kind == 'words':
                paragraph = '\n'.join(part)
                words(paragraph, folder)
            elif part[0].startswith('    $ '):
                changes.append((first, len(part), session(part, folder, renew)))
            else:
                file = re.findall(r'\]\(examples/first/([\w.]+)\)', paragraph)
                check(bool(file), f'line {first + 1}: the paragraph before says which file is shown')
                if file:
                    shown_file(part, file[-1], folder)
    if renew:
        for first, n, now in reversed(changes):
            lines[first:first + n] = now
        with open(README, 'w', encoding='utf-8') as file:
            file.write('\n'.join(lines))
    check(sum(len(part) for _, _, part in changes) > 30, 'there was a first hour to be done')
    print(f'1..{counted}')
    return 1 if failures else 0


if __name__ == '__main__':
    sys.exit(main())
