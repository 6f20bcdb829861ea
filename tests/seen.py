#!/usr/bin/env python3
"""Where ware sees its cone: seen.py PROGRAM. Six firings in which the bottom third lagged a cone behind teach placing to keep
ware that asks for cone 6 alone off it, and a shelf that broke is counted out. Temperatures of cones: the chart in src/fire."""
import json
import os
import subprocess
import sys
import tempfile

program = os.path.abspath(sys.argv[1])
folder = tempfile.mkdtemp()
number = failed = 0
ORDER = {
    'format': 'kilnstow-order/1', 'title': 'Glaze', 'studio': 'Imaginary Co-op', 'currency': 'EUR',
    'units': {'length': 'mm', 'mass': 'kg', 'temperature': 'C'}, 'kilns': ['round-450'], 'firings': [{'id': 'glaze', 'cone': '6'}],
    'ware': [{'id': 'celadon', 'count': 8, 'diameter': 85, 'height': 65, 'cones': ['6', '6']},
             {'id': 'white', 'count': 120, 'diameter': 85, 'height': 65, 'cones': ['5', '7']},
             {'id': 'tall', 'count': 1, 'diameter': 90, 'height': 75, 'cones': ['6', '6']}]}


def ok(good, claim, found=None):
    global number, failed
    number += 1
    failed += not good
    print('ok' if good else 'not ok', number, '-', claim)
    if not good:
        print('#', found)


def run(*arguments, status=0):
    done = subprocess.run([program, *arguments], capture_output=True, text=True, cwd=folder,
                          env=dict(os.environ, SOURCE_DATE_EPOCH='1795888800', KILNSTOW_LANGUAGE='en'))
    if done.returncode != status:
        ok(False, ' '.join(arguments), (done.returncode, done.stdout, done.stderr))
    return done.stdout if status == 0 else done.stderr


def answer(*arguments):
    return json.loads(run(*arguments, '--json'))


def third(load, level):
    return min(int(3 * level['z'] / load['chamber']['height']), 2)


def thirds_of(name, piece):
    """In which thirds of the chamber copies of the piece stand."""
    with open(os.path.join(folder, name)) as file:
        load = json.load(file)['loads'][0]
    return sorted({third(load, level) for level in load['levels'] for placed in level['pieces'] if placed['id'] == piece})


with open(os.path.join(folder, 'order.json'), 'w') as file:
    json.dump(ORDER, file)
plain = answer('place', 'order.json', '-o', 'plain.json', '--rounds', '1', '--seed', '1')['result']
with open(os.path.join(folder, 'plain.json')) as file:
    load = json.load(file)['loads'][0]
ok(0 in thirds_of('plain.json', 'celadon') + thirds_of('plain.json', 'tall'), 'without a record some stands at the bottom')
names = {third(load, level): level['name'] for level in load['levels']}
warm = names[max(names)]
ok(warm != names[0], 'and there is a level above the bottom third', names)
for day in range(1, 7):
    run('log', 'add', 'plain.json', '--again', '--start', f'2026-11-0{day}', '--cone', f'{names[0]}=5',
        *(word for side in ('', ':back', ':left', ':right') for word in ('--cone', f'{warm}{side}=6')))
planned = answer('place', 'order.json', '-o', 'seen.json', '--rounds', '1', '--seed', '1', '--book', 'kilnstow.book')
ok(0 not in thirds_of('seen.json', 'celadon') + thirds_of('seen.json', 'tall'), 'what asks for cone 6 alone is kept off the cold third')
ok(0 in thirds_of('seen.json', 'white'), 'what takes cone 5 too stands there')
ok(planned['result']['placed'] >= 0.9 * plain['placed'], 'and the kiln is as full', (planned['result'], plain))
said = [text for text in planned['warnings'] if 'by the cones of 6 firings' in text]
ok(len(said) == 1 and 'celadon (middle, top)' in said[0] and 'white' not in said[0], 'it is said whom it concerns', planned['warnings'])
run('check', 'seen.json')

# Furniture by the record.
said = run('log', 'upkeep', 'round-450', 'elbow', 'broken', status=2)
ok('"elbow"' in said and '"whole"' in said, 'what the kiln has not is told', said)
run('log', 'upkeep', 'round-450', 'wash', 'broken', status=2)
run('log', 'upkeep', 'round-450', 'whole', 'broken', '--copies', '2', '--day', '2026-11-10', '--note', 'dropped')
run('log', 'upkeep', 'round-450', 'whole', 'bought', '--day', '2026-11-12')
run('log', 'upkeep', 'round-450', 'elements', 'renewed', '--day', '2026-11-04')
stock = answer('log', 'stock', 'round-450')['result']
whole = [row for row in stock['furniture'] if row['id'] == 'whole'][0]
ok(whole == {'id': 'whole', 'listed': 4, 'broken': 2, 'bought': 1, 'left': 3}, 'broken and bought are counted', whole)
parts = {part['part']: (part['renewed'], part['firings']) for part in stock['parts']}
ok(parts == {'elements': ('2026-11-04', 3), 'thermocouple': (None, 6), 'wash': (None, 6)}, 'parts age by firings', parts)
planned = answer('place', 'order.json', '-o', 'short.json', '--rounds', '1', '--book', 'kilnstow.book')
with open(os.path.join(folder, 'short.json')) as file:
    short = json.load(file)
ok([shelf['count'] for shelf in short['order']['kilns'][0]['kiln']['shelves'] if shelf['id'] == 'whole'] == [3], 'a plan has what is left')
ok(any('whole: 3, not 4' in text for text in planned['warnings']), 'and says so', planned['warnings'])

# A kiln's file that was counted anew after the break.
kiln = dict(short['order']['kilns'][0]['kiln'], format='kilnstow-kiln/1', units=ORDER['units'], id='own', stock_date='2026-11-11')
with open(os.path.join(folder, 'own.json'), 'w') as file:
    json.dump(kiln, file)
run('log', 'upkeep', 'own.json', 'whole', 'broken', '--day', '2026-11-10')
run('log', 'upkeep', 'own.json', 'whole', 'broken', '--day', '2026-11-11')
whole = [row for row in answer('log', 'stock', 'own.json')['result']['furniture'] if row['id'] == 'whole'][0]
ok(whole['broken'] == 1 and whole['left'] == 2, 'what broke before the count is in it', whole)
print(f'1..{number}')
sys.exit(failed > 0)
