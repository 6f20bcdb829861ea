#!/usr/bin/env python3
"""The examples as acceptance tests. Usage: examples.py PROGRAM [--renew], from the project's top folder.

Each is planned in two rounds, checked, and what it prints is compared with tests/golden/NAME.txt: the loads with their levels,
what is placed, what it is worth, what waits and why. --renew (tests/regold.sh) writes those files anew."""
import difflib
import os
import subprocess
import sys
import tempfile

PROGRAM = os.path.abspath(sys.argv[1])
EXAMPLES = ('first', 'mugs', 'forms', 'bisque')
ROUNDS = '2'


def run(*args):
    got = subprocess.run([PROGRAM, *args], capture_output=True, text=True, timeout=300)
    return got.returncode, got.stdout, got.stderr


def summary(name, folder):
    plan = os.path.join(folder, name + '.json')
    status, told, err = run('place', f'examples/{name}/order.json', '--rounds', ROUNDS, '-o', plan)
    if status not in (0, 1):
        return f'place: status {status}\n{err}'
    checked = run('check', plan)[1].splitlines()[-1]
    return f'status {status}\n{told.replace(plan, name + ".json")}\n{checked}\n'


def main():
    bad = False
    with tempfile.TemporaryDirectory() as folder:
        for number, name in enumerate(EXAMPLES, 1):
            path, now = f'tests/golden/{name}.txt', summary(name, folder)
            if '--renew' in sys.argv:
                with open(path, 'w', encoding='utf-8') as file:
                    file.write(now)
            with open(path, encoding='utf-8') as file:
                golden = file.read()
            for line in difflib.unified_diff(golden.splitlines(), now.splitlines(), path, 'now', lineterm=''):
                print('#', line)
            print('ok' if golden == now else 'not ok', f'{number} - {name}, in {ROUNDS} rounds, is as in {path}')
            bad = bad or golden != now
    print(f'1..{len(EXAMPLES)}')
    return 1 if bad else 0


if __name__ == '__main__':
    sys.exit(main())
