#!/usr/bin/env python3
"""The examples as acceptance tests. Usage: examples.py PROGRAM [--renew], from the project's top folder.

Each is planned in two rounds, checked, and what it prints is compared with tests/golden/NAME.txt: the loads with their levels,
what is placed, what it is worth, what waits and why. --renew (tests/regold.sh) writes those files anew. Then each plan is read as
a loader would (plan_sense.py), who has nothing to say of it, and much of one that is spoilt."""
import copy
import difflib
import json
import os
import subprocess
import sys
import tempfile

from plan_sense import complaints

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


def result(*args):
    return json.loads(run(*args, '--json')[1])['result']


def loader_says(name, folder):
    """What a loader says of the plan, and of it with each walk turned about piece by piece and a level laid bare."""
    path = os.path.join(folder, name + '.json')
    with open(path, encoding='utf-8') as file:
        plan = json.load(file)
    ware = result('list', 'ware', f'examples/{name}/order.json')
    mass_kg = {piece['id']: piece['mass_kg'] for piece in ware}
    spoilt = copy.deepcopy(plan)
    for load in spoilt['loads']:
        steps = [step for step in load['steps'] if step['put'] == 'piece']
        load['steps'] = steps[::2] + steps[1::2]
        load['levels'].append(dict(load['levels'][0], name='bare', pieces=[]))
    return complaints(plan, result('check', path)['remarks'], mass_kg), complaints(spoilt, [], mass_kg)


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
        for number, name in enumerate(EXAMPLES, len(EXAMPLES) + 1):
            says, of_spoilt = loader_says(name, folder)
            for line in says:
                print('#', line)
            fine = not says and len(of_spoilt) >= 2
            print('ok' if fine else 'not ok', f'{number} - {name} is a plan that a loader would build')
            bad = bad or not fine
    print(f'1..{2 * len(EXAMPLES)}')
    return 1 if bad else 0


if __name__ == '__main__':
    sys.exit(main())
