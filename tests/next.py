#!/usr/bin/env python3
"""The coming firings: next.py PROGRAM, from the project's top folder.

What waits becomes firings: full kilns at once, what is due as late as it is in time, at cheap hours, never while the kiln is hot."""
import datetime
import json
import os
import subprocess
import sys
import tempfile

program = os.path.abspath(sys.argv[1])
folder = tempfile.mkdtemp()
number = failed = 0
MUG = {'id': 'mug', 'count': 60, 'diameter': 85, 'height': 95}
ORDER = {
    'format': 'kilnstow-order/1', 'title': 'Winter', 'studio': 'Imaginary Co-op', 'currency': 'EUR', 'time_zone': 'CET-1CEST,M3.5.0,M10.5.0/3',
    'units': {'length': 'mm', 'mass': 'kg', 'temperature': 'C'}, 'kilns': ['round-450'], 'firings': [{'id': 'glaze', 'cone': '6'}],
    'costs': {'electricity': {'price': 0.30}, 'share': {'by': 'box'}}, 'ware': [MUG]}
NIGHT = {'electricity': {'prices': [{'name': 'night', 'price': 0.10, 'from': '21:00', 'to': '07:00'}, {'name': 'day', 'price': 0.40}]},
         'share': {'by': 'box'}, 'start': '2026-11-29 08:00'}


def ok(good, claim, found=None):
    global number, failed
    number += 1
    failed += not good
    print('ok' if good else 'not ok', number, '-', claim)
    if not good:
        print('#', str(found)[:2000])


def run(*arguments, status=0):
    done = subprocess.run([program, *arguments], capture_output=True, text=True, cwd=folder,
                          env=dict(os.environ, SOURCE_DATE_EPOCH='1795888800', KILNSTOW_LANGUAGE='en'))
    if done.returncode != status:
        ok(False, ' '.join(arguments), (done.returncode, done.stdout, done.stderr))
    return done.stdout if status == 0 else done.stderr


def following(*more, **changes):
    with open(os.path.join(folder, 'order.json'), 'w') as file:
        json.dump(dict(ORDER, **changes), file)
    return json.loads(run('log', 'next', 'order.json', *more, '--json'))['result']


def at(text):
    return datetime.datetime.strptime(text[:16], '%Y-%m-%d %H:%M')


first = following()
ok(sum(ware['copies'] for firing in first['firings'] for ware in firing['ware']) == 60, 'all that waits is in one of the firings', first)
full, rest = first['firings'][0], first['firings'][-1]
ok(full['why'] == 'full' and 85 <= full['full_percent'] <= 101, 'a full kiln is fired', full)
litres = 85 * 85 * 3.141592653589793 / 4 * 95 * full['ware'][0]['copies'] / 1e6
ok(abs(full['litres'] / litres - 1) < 0.01, 'its litres are those of its cylinders', (full, litres))
ok(6 <= at(full['loading']).hour and at(full['on']).hour <= 22 and at(full['loading']) >= at(first['from']), 'when someone is there', full)
for a, b in zip(first['firings'], first['firings'][1:]):
    ok(b['why'] == 'waits' or at(b['loading']) >= at(a['unloading']), 'and one after the other', (a, b))
ok(rest['why'] == 'waits' and rest['on'] is None, 'what does not fill a kiln waits for more', rest)

few = [dict(MUG, count=10, due='2026-12-20')]
due = following(ware=few)['firings'][0]
spare = datetime.datetime(2026, 12, 20, 18) - at(due['open'])
ok(due['why'] == 'due' and datetime.timedelta(days=1) <= spare < datetime.timedelta(days=2), 'what is due is in time with a day to spare, no sooner', due)
late = following(ware=[dict(MUG, count=10, due='2026-11-29')])
ok(late['firings'][0]['ware'][0]['late'] and 'LATE' in run('log', 'next', 'order.json'), 'what is too late is named', late)
ok(following(ware=[dict(MUG, count=10, must_go=True)])['firings'][0]['why'] == 'waited', 'what must go does not wait for more')

night = following('--from', '2026-11-29', costs=NIGHT)['firings'][0]
ok(at(night['on']).hour >= 16 and night['saves_minor'] > 0, 'a cheap night is used', night)
day = following()['firings'][0]
ok(day['saves_minor'] == 0, 'where all hours cost the same none is waited for', day)

evening = dict(ORDER['costs'], start='2026-11-29 18:30')
dated = following(kilns=[{'kiln': 'round-450', 'dates': ['2026-12-03']}], costs=evening)['firings']
ok(any(firing['on'] and firing['on'].startswith('2026-12-03 18:30') for firing in dated), "without an hour of the order's own, at that of the costs", dated)
dated = following(kilns=[{'kiln': 'round-450', 'dates': ['2026-12-03']}], start='09:00')['firings']
ok((dated[0]['on'], dated[0]['why']) == ('2026-12-03 09:00', 'dated'), 'days that the order tells stay', dated)
from_later = following('--from', '2026-12-10')['firings'][0]
ok(at(from_later['loading']) >= datetime.datetime(2026, 12, 10), 'the first day may be told', from_later)
ok('--from' in run('log', 'next', 'order.json', '--from', 'soon', status=2), 'and is looked at')
tall = following(ware=[MUG, dict(MUG, id='tower', count=1, height=900), dict(MUG, id='low-fire', count=2, cones=['04', '03'])])
ok([row['id'] for row in tall['nowhere']] == ['tower', 'low-fire'], 'what no kiln and firing takes is named', tall['nowhere'])

run('place', 'order.json', '-o', 'plan.json', '--rounds', '1', status=0)
run('log', 'add', 'plan.json', '--kwh', '20', '--start', '2026-11-28 12:00')
hot = following()
ok([(row['kiln'], row['n']) for row in hot['still_in']] == [('round-450', 1)], 'a kiln that is still hot is told', hot['still_in'])
ok(at(hot['firings'][0]['loading']) >= at(hot['still_in'][0]['open']), 'and not loaded before it is open', hot)
ok('2 full' in run('log', 'next', 'order.json') or '1 full' in run('log', 'next', 'order.json'), 'what was full teaches what full is')
ok('no such record' in run('log', 'next', 'order.json', '--book', 'none.book', status=4), 'a record that is named must be there')
print(f'1..{number}')
sys.exit(failed > 0)
