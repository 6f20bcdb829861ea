#!/usr/bin/env python3
"""The worked examples of docs/costing.md, each run: fees.py PROGRAM DOCS.

Each row of the table there tells what `costs.share` says, what is told of members, and what three people pay, worked by hand to
the cent; a plan with that ware is costed so. Cubic inches and pounds are those of the international yard and pound agreement
of 1959. And each statement is added up from its own text."""
import json
import os
import re
import subprocess
import sys
import tempfile
from decimal import Decimal as D

program, page = os.path.abspath(sys.argv[1]), sys.argv[2]
folder = tempfile.mkdtemp()
failures = []
number = 0
BILL = 30
KILN = {'kiln': {'format': 'kilnstow-kiln/1', 'id': 'square', 'name': 'square', 'loading': 'top',
                 'units': {'length': 'mm', 'mass': 'kg', 'temperature': 'C'},
                 'chamber': {'height': 600, 'outline': {'rectangle': [560, 560]}},
                 'shelves': [{'id': 'whole', 'material': 'cordierite', 'thickness': 15, 'count': 5,
                              'outline': {'rectangle': [500, 400]}}],
                 'posts': [{'height': height, 'outline': {'rectangle': [30, 30]}, 'count': 12} for height in (25, 100, 125, 150, 300)],
                 'heat': {'kind': 'electric', 'power': 9, 'volts': 230, 'phases': 1, 'amps': 40}}, 'loads': 1}
ORDER = {
    'format': 'kilnstow-order/1', 'title': 'Fees', 'studio': 'Imaginary Co-op', 'units': {'length': 'mm', 'mass': 'kg', 'temperature': 'C'},
    'kilns': [KILN], 'firings': [{'id': 'glaze', 'cone': '6'}, {'id': 'bisque', 'cone': '04'}], 'rules': {'cones': False},
    'ware': [{'id': 'cup', 'owner': 'ann', 'count': 4, 'diameter': 80, 'height': 100, 'mass': 0.3},
             {'id': 'bowl', 'owner': 'ann', 'diameter': 200, 'height': 90, 'mass': 1.2},
             {'id': 'tile', 'owner': 'bea', 'count': 2, 'width': 150, 'depth': 100, 'height': 20, 'mass': 0.5},
             {'id': 'vase', 'owner': 'bea', 'diameter': 100, 'height': 300, 'mass': 2.1},
             {'id': 'beaker', 'owner': 'guy', 'count': 2, 'diameter': 80, 'height': 100, 'mass': 0.3}]}
PEOPLE = {'ann': {}, 'bea': {}, 'guy': {'guest': True}}
ROW = re.compile(r'^\| *(\d+) *\| ([^|]*) \| `(.*?)` \| (?:`(.*?)`)? *\| ([\d.]+) \| ([\d.]+) \| ([\d.]+) \|$', re.M)


def ok(good, claim, found=None):
    global number
    number += 1
    print('ok' if good else 'not ok', number, '-', claim)
    if not good:
        failures.append(claim)
        print('#', str(found)[:3000])


def path(name):
    return os.path.join(folder, name)


def run(*args):
    return subprocess.run([program, *args], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def ordered(share, people=None):
    members = [dict(id=who, **(people or PEOPLE)[who]) for who in ('ann', 'bea', 'guy')]
    return dict(ORDER, members=members,
                costs={'electricity': {'price': 0, 'per_firing': BILL}, 'earlier_firing_per_kg': 0, 'share': share})


def planned(share, people=None, firing='glaze'):
    order = ordered(share, people)
    order['kilns'] = [dict(KILN, firings=[firing])]
    with open(path('order.json'), 'w', encoding='utf-8') as file:
        json.dump(order, file)
    return run('place', path('order.json'), '--rounds', '1', '-o', path('plan.json'), '--force')


SUM = re.compile(r'^ +(-?[\d.]+) EUR  (.*)$', re.M)


def added_up(text):
    *lines, (total, _) = SUM.findall(text)
    return sum(D(paid) for paid, _ in lines) == D(total)


def worked(row):
    nth, what, share, told, *pay = row
    told = json.loads(told or '{}')
    people = {who: dict(PEOPLE[who], **told.get(who, {})) for who in PEOPLE}
    placed = planned(json.loads(share), people, told.get('firing', 'glaze'))
    done = run('cost', path('plan.json'), '--json')
    if done.returncode != 0:
        ok(False, f'example {nth}, {what}', placed.stderr + done.stderr + done.stdout)
        return
    answer = json.loads(done.stdout)['result']
    found = [D(share['minor']) / 100 for share in answer['shares']]
    ok(found[:3] == [D(amount) for amount in pay], f'example {nth}, {what}', (found, pay))
    ok(sum(found) == BILL and answer['total_minor'] == 100 * BILL, 'with the studio all come to the bill', found)
    texts = run('cost', path('plan.json'), '--statement', 'all').stdout.split('\n' + 72 * '-' + '\n')
    bad = [text for text in texts if not added_up(text)]
    ok(not bad, 'and statements add up', bad)


def refused():
    cases = [({'by': 'rate', 'rates': [{'per': 'litre'}]}, 'found no price'),
             ({'by': 'rate', 'rates': [{'per': 'litre', 'price': 1, 'tiers': [{'price': 1}]}]}, 'both "price" and "tiers"'),
             ({'by': 'rate', 'rates': [{'per': 'kg', 'tiers': [{'up_to': 1, 'price': 1}]}]}, 'a limit in the last size'),
             ({'by': 'rate', 'rates': [{'per': 'kg', 'tiers': [{'price': 1}, {'price': 1}]}]}, 'found no limit'),
             ({'by': 'rate', 'rates': [{'per': 'kg', 'price': 1, 'half': 1}]}, '"half"'),
             ({'by': 'rate', 'rates': [{'per': 'kg', 'price': 1}], 'per_litre': 1}, '"rates" beside "per_litre"'),
             ({'by': 'rate', 'rates': [{'per': 'kg', 'price': 1, 'firings': ['glase']}]}, 'glaze'),
             ({'by': 'rate', 'rates': [{'per': 'gallon', 'price': 1}]}, 'cubic inch'),
             ({'by': 'rate', 'rates': [{'per': 'kg', 'price': 1}, {'per': 'lb', 'price': 1}],
               'subscriptions': [{'id': 'x', 'included': 3}]}, 'several units')]
    for share, words in cases:
        done = planned(share)
        ok(done.returncode == 3 and words in done.stderr, f'refused: {words}', done.stderr)
    done = planned({'by': 'box'}, dict(PEOPLE, ann={'subscription': 'monthly'}))
    ok(done.returncode == 3 and 'subscription' in done.stderr, 'a subscription that the costs have not is refused', done.stderr)
    planned({'by': 'rate', 'rates': [{'per': 'kg', 'price': 1, 'firings': ['bisque']}]})
    done = run('cost', path('plan.json'))
    ok(done.returncode == 3 and 'none for the firing "glaze"' in done.stderr, 'a firing without a rate is told', done.stderr)


with open(page, encoding='utf-8') as file:
    rows = ROW.findall(file.read())
ok(len(rows) >= 20 and [int(row[0]) for row in rows] == list(range(1, len(rows) + 1)), 'there are twenty examples or more', len(rows))
for row in rows:
    worked(row)
refused()
print(f'1..{number}')
subprocess.run(['rm', '-r', folder], check=True)
sys.exit(1 if failures else 0)
