#!/usr/bin/env python3
"""The studio's record from the command line: record.py PROGRAM [KILLS], from the project's top folder.

A plan is fired, logged, mended, billed, paid, learnt from, exported, imported and copied; sqlite3 (Python's own) reads the same
file. Then `log add` is killed again and again: each entry that was told as written is there, and the record is sound. 25 kills unless told."""
import csv
import json
import os
import random
import re
import sqlite3
import subprocess
import sys
import tempfile
import time

program = os.path.abspath(sys.argv[1])
kills = int(sys.argv[2]) if len(sys.argv) > 2 else 25
folder = tempfile.mkdtemp()
number = failed = 0
ORDER = {
    'format': 'kilnstow-order/1', 'title': 'Saturday', 'studio': 'Imaginary Co-op', 'currency': 'EUR',
    'units': {'length': 'mm', 'mass': 'kg', 'temperature': 'C'}, 'kilns': ['round-450'],
    'firings': [{'id': 'glaze', 'cone': '6'}], 'members': [{'id': 'ada', 'name': 'Ada'}, {'id': 'bo', 'name': 'Bo'}],
    'costs': {'electricity': {'price': 0.30}, 'share': {'by': 'box'}},
    'ware': [{'id': 'mug', 'count': 6, 'diameter': 85, 'height': 95, 'owner': 'ada'},
             {'id': 'bowl', 'count': 3, 'diameter': 150, 'height': 70, 'owner': 'bo'},
             {'id': 'tower', 'count': 1, 'diameter': 100, 'height': 900, 'owner': 'bo'}]}


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
    return json.loads(run(*arguments, '--json'))['result']


with open(os.path.join(folder, 'order.json'), 'w') as file:
    json.dump(ORDER, file)
run('place', 'order.json', '-o', 'plan.json', '--rounds', '1')
simulated = answer('fire', 'plan.json')['loads'][0]['energy_kwh']['total']

run('log', 'list', status=4)
first = answer('log', 'add', 'plan.json', '--meter', '1000.0', f'{1000 + 1.1 * simulated:.3f}', '--start', '2026-11-28 09:00',
               '--cone', '1=6', '--lost', 'mug x 2: cracked', '--note', 'lid opened late')['entries'][0]
ok(first['n'] == 1 and abs(first['kwh'] - 1.1 * simulated) < 0.01, 'a firing is logged by its meter', first)
ok(sum(share['minor'] for share in first['shares']) == first['bill_minor'], 'its shares add up to its bill', first)
energy = round(first['kwh'] * 0.30 * 100)
ok(abs(first['bill_minor'] - energy) <= 1, 'the bill is what the meter drew at the price told', (first['bill_minor'], energy))
said = run('log', 'add', 'plan.json', '--kwh', '30', status=2)
ok('entry 1' in said and '--again' in said, 'one load is not logged twice by mistake', said)
for wrong, words in ((('--kwh', '30', '--meter', '1', '2'), 'one of the two'), (('--meter', '20', '10'), 'higher'),
                     (('--cone', '9=6'), 'level'), (('--cone', '1=66'), '--cone'), (('--lost', 'mgu: broke'), 'nearest is mug'),
                     (('--lost', 'mug x 9: broke'), '6 were'), (('--start', 'yesterday'), '--start'), (('--unit', 'm3', '--meter', '1', '9'), 'electric')):
    said = run('log', 'add', 'plan.json', '--again', *wrong, status=2)
    ok(words in said, 'refused: ' + ' '.join(wrong), said)
for i, factor in enumerate((1.08, 1.12)):
    run('log', 'add', 'plan.json', '--again', '--kwh', f'{factor * simulated:.3f}', '--start', f'2026-12-0{i + 1}', '--cone', '1=6')
entries = answer('log', 'list')['entries']
ok([entry['n'] for entry in entries] == [1, 2, 3], 'and listed', entries)

learnt = answer('log', 'tune', 'round-450')
ok(learnt['conductance'] > 1.02 and learnt['firings'] == 3, 'a kiln that draws more is learnt', learnt)
tuned = answer('fire', 'plan.json', '--book', 'kilnstow.book')['loads'][0]
ok(abs(tuned['energy_kwh']['total'] / (1.1 * simulated) - 1) < 0.02, 'and foretold within 2 %', tuned['energy_kwh'])
plain = answer('fire', 'plan.json')['loads'][0]['energy_kwh']
width = [(one['high'] - one['low']) / one['total'] for one in (tuned['energy_kwh'], plain)]
ok(width[0] < width[1], 'with a narrower range', width)
ok('round-450' in run('log', 'tune', 'round-999', status=2), 'a kiln that is not known is told with those that are')

lost = answer('log', 'losses')
ok((lost['copies'], lost['lost'], lost['firings']) == (27, 2, 3), 'losses are told beside what went in', lost)
ok([part['factor'] > 1 for part in lost['by_kind']] == [False, True], 'by what they go', lost)
ok(sum(part['lost'] for part in lost['by_third']) == 2, 'and where', lost)
said = [run('cost', 'plan.json', '--explain', 'mug', *book) for book in ((), ('--book', 'kilnstow.book'))]
ok(' % fail' not in said[0] and ' % fail' in said[1] and '2 of 27 pieces' in said[1], 'and priced', said)
run('log', 'add', 'plan.json', '--again', '--lost', 'mug x 7 on 1: broke', status=2)

run('log', 'paid', 'Ada', '1.50')
run('log', 'paid', 'Ada', '1.50')
account = answer('log', 'account', 'ada')['accounts'][0]
charged = sum(line['minor'] for line in account['lines'] if line['kind'] == 'firing')
ok(account['owed_minor'] == charged - 300 and account['lines'][-1]['owed_minor'] == account['owed_minor'], 'accounts add up', account)
ok('no such member' in run('log', 'paid', 'Zoe', '1', status=2), 'nobody unknown pays')
run('log', 'mend', '1', '--kwh', '10', '--strike', 'entered for the wrong kiln')
ok(len(answer('log', 'list')['entries']) == 2, 'an entry struck out counts no more')
shown = answer('log', 'show', '1')['entries']
ok([entry['edition'] for entry in shown] == [1, 2] and shown[0]['kwh'] == first['kwh'], 'what stood before is kept', shown)
with open(os.path.join(folder, 'recorder.csv'), 'w') as file:
    file.write('time,temperature C\n' + ''.join(f'{hour / 2},{20 + 60 * hour}\n' for hour in range(20)))
run('log', 'add', 'plan.json', '--again', '--curve', 'recorder.csv')
run('log', 'mend', '4', '--note', 'the recorder hung')
ok('curve: 20 readings' in run('log', 'show', '4').split('What stood before')[0], 'mending keeps a curve', run('log', 'show', '4'))
said = run('log', 'list', '--from', 'soon', status=2)
ok('--from' in said and 'a day like' in said, 'a day that is none is refused by log list too', said)
waiting = answer('log', 'waiting')['waiting']
ok([(row['id'], row['times']) for row in waiting] == [('tower', 1)], 'what waits is told', waiting)

# Two plans that left a vase out, and a third that asks the record.
CROWDED = dict(ORDER, ware=[{'id': 'plate', 'count': 150, 'diameter': 200, 'height': 30, 'owner': 'bo'},
                            {'id': 'vase', 'count': 1, 'diameter': 120, 'height': 330, 'owner': 'ada'}])
for seed in ('1', '2'):
    with open(os.path.join(folder, 'crowded.json'), 'w') as file:
        json.dump(dict(CROWDED, title='Crowded ' + seed), file)
    run('place', 'crowded.json', '-o', f'crowded-{seed}.json', '--rounds', '1')
    run('log', 'add', f'crowded-{seed}.json', '--start', f'2026-12-1{seed}', '--book', 'crowded.book')
waiting = answer('log', 'waiting', '--book', 'crowded.book')['waiting']
ok([row['times'] for row in waiting if row['id'] == 'vase'] == [2], 'two plans left the vase out', waiting)
with open(os.path.join(folder, 'crowded.json'), 'w') as file:
    json.dump(dict(CROWDED, ware=[dict(CROWDED['ware'][0], id='saucer'), CROWDED['ware'][1]]), file)
planned = json.loads(run('place', 'crowded.json', '--rounds', '1', '--book', 'crowded.book', '-o', 'third.json', '--json'))
with open(os.path.join(folder, 'third.json')) as file:
    third = json.load(file)
ok(any(piece['id'] == 'vase' for level in third['loads'][0]['levels'] for piece in level['pieces']), 'what waited twice is in', planned)
ok(any('vase (2 plans)' in text for text in planned['warnings']), 'and it is said', planned['warnings'])
ok([row.get('waited') for row in third['order']['ware']] == [None, 2], 'and stands in the plan', third['order']['ware'])

run('log', 'export', 'all.json')
run('log', 'import', 'all.json', '--book', 'other.book')
run('log', 'export', 'again.json', '--book', 'other.book')
with open(os.path.join(folder, 'all.json')) as one, open(os.path.join(folder, 'again.json')) as two:
    ok(one.read() == two.read(), 'exported and imported it is the same record, with what was told twice in one second')
ok('0 editions were new' in run('log', 'import', 'all.json'), 'and what is known already is passed over')
run('log', 'export', 'all.csv')
with open(os.path.join(folder, 'all.csv'), newline='') as file:
    rows = list(csv.DictReader(file))
ok([row['n'] for row in rows] == ['4', '2', '3'], 'and a table', rows)
run('log', 'export', 'plan.json', status=2)
run('log', 'copy', 'copy.book')
run('log', 'copy', 'copy.book', status=2)
with sqlite3.connect(os.path.join(folder, 'copy.book')) as other:
    ok(other.execute('SELECT count(*) FROM firing').fetchone() == (6,), 'other programs read it')
    try:
        other.execute('UPDATE firing SET kwh = 1')
        ok(False, 'and cannot rewrite it')
    except sqlite3.IntegrityError as refused:
        ok('never rewritten' in str(refused), 'and cannot rewrite it', refused)

# What the page for the telephone tells is read back: its own list says which piece each number is.
run('draw', 'plan.json', '-o', 'phone.html')
with open(os.path.join(folder, 'phone.html'), encoding='utf-8') as file:
    page = file.read()
listed = re.findall(r'<li id="s\d+" data-level="[^"]*"(?: data-piece="\d+")? data-level-name="([^"]*)"><label>.*?class="no">([^<]*)</span>.*?<bdi>([^<]*)</bdi>', page)
plan_id = re.search(r'data-plan="(\w{8})', page).group(1)
wares = [row for row in listed if not row[1].startswith('C')]
first, last, packs = wares[0], wares[-1], [row for row in listed if row[1].startswith('C')]
said = f'{plan_id} 1: not {first[0]}.{first[1]} {last[0].upper()}.{last[1]}' + ''.join(f' {row[0]}.{row[1]}' for row in packs[:1]) + '; 2: all'
told = answer('log', 'add', 'plan.json', '--again', '--loaded', said)['entries'][0]['corrections']
ok(sorted((row['id'], row['copies'], row['level'].replace(' ', '')) for row in told) ==
   sorted((row[2], -1, row[0]) for row in (first, last)), "a telephone's exceptions did not go in", (said, told))
level = [row for row in wares if row[0] == first[0]]
told = answer('log', 'add', 'plan.json', '--again', '--loaded', f' {plan_id} 1: not {level[0][0]}.1-{len(level)}')['entries'][0]['corrections']
ok(sorted(row['id'] for row in told) == sorted(row[2] for row in level), 'a run of them neither', told)
ok(answer('log', 'add', 'plan.json', '--again', '--loaded', f'{plan_id} 1: all')['entries'][0]['corrections'] == [], 'and where all is in none is told')
for wrong, words in (('1545269b 1: all', 'begins with'), (f'{plan_id} none', 'nothing of load 1'), (f'{plan_id} 2: all', 'nothing of load 1'),
                     (f'{plan_id} 1: not 1.99', '1.99'), (f'{plan_id} 1: not 9.1', '9.1'), (f'{plan_id} 1: not 1.2-1', '1.2-1'),
                     (f'{plan_id} 1: not 1.1-99999999999999999999', '1.1-9'), (f'{plan_id} 1: not .', '"."'), ('', 'begins with')):
    said = run('log', 'add', 'plan.json', '--again', '--loaded', wrong, status=2)
    ok(words in said and '--loaded' in said, 'refused: ' + wrong[9:], said)

# The laptop is lost: folder and record in one file, opened on another machine.
os.mkdir(os.path.join(folder, 'forms'))
for name in ('.hidden', 'forms/vase.svg'):
    with open(os.path.join(folder, name), 'w') as file:
        file.write('<svg/>')
ok('kilnstow-2026-11-28.book' in run('log', 'copy'), 'a copy is dated')
elsewhere = tempfile.mkdtemp()
dated, there = os.path.join(folder, 'kilnstow-2026-11-28.book'), os.path.join(elsewhere, 'studio')
run('log', 'open', dated, there)
below = {os.path.relpath(os.path.join(root, name), folder) for root, _, names in os.walk(folder) for name in names
         if '.book' not in name and name != '.hidden'}
same = {os.path.relpath(os.path.join(root, name), there) for root, _, names in os.walk(there) for name in names}
ok(same == below | {'kilnstow.book'}, 'all files are there again, hidden ones and other records aside', same ^ below)
ok(all(open(os.path.join(folder, name), 'rb').read() == open(os.path.join(there, name), 'rb').read() and
       int(os.path.getmtime(os.path.join(folder, name))) == int(os.path.getmtime(os.path.join(there, name))) for name in below),
   'with their bytes and times')
run('log', 'export', 'here.json')
run('log', 'export', 'there.json', '--book', os.path.join(there, 'kilnstow.book'))
with open(os.path.join(folder, 'here.json')) as one, open(os.path.join(folder, 'there.json')) as two:
    ok(one.read() == two.read(), 'and the record')
with sqlite3.connect(os.path.join(there, 'kilnstow.book')) as other:
    ok(other.execute("SELECT count(*) FROM sqlite_schema WHERE name = 'sqlar'").fetchone() == (0,), 'which is a plain one again')
ok('not an empty folder' in run('log', 'open', dated, there, status=2), 'nothing is written over')
for name in ('../out.json', '/tmp/out.json', 'a/../../out.json', '.profile', 'kilnstow.book'):
    evil = os.path.join(elsewhere, 'evil.book')
    with open(dated, 'rb') as one, open(evil, 'wb') as two:
        two.write(one.read())
    with sqlite3.connect(evil) as other:
        other.execute('UPDATE sqlar SET name = ? WHERE name = ?', (name, 'order.json'))
    ok('would not lie in the folder' in run('log', 'open', evil, os.path.join(elsewhere, 'evil'), status=3), 'refused: ' + name)
ok(sorted(os.listdir(elsewhere)) == ['evil.book', 'studio'], 'and nothing is left of it', os.listdir(elsewhere))
with open(os.path.join(folder, 'near.json'), 'w') as file:
    json.dump(dict(ORDER, ware=[], ware_files=[os.path.join(elsewhere, 'far.csv')]), file)
with open(os.path.join(elsewhere, 'far.csv'), 'w') as file:
    file.write('id,count,diameter,height\nmug,1,80,90\n')
ok('far.csv, which is outside' in run('log', 'copy', 'outside.book'), 'what an order reads from elsewhere is named')
ok('the record and 0 files' in run('log', 'copy', 'alone.book', '--record-only'), 'the record may be copied alone')


def kill_one(delay_s):
    """True when the entry was told as written before the end came."""
    child = subprocess.Popen([program, 'log', 'add', 'plan.json', '--again', '--note', 'killed'], cwd=folder, stdout=subprocess.PIPE,
                             stderr=subprocess.DEVNULL)
    time.sleep(delay_s)
    child.kill()
    return 'Written' in child.communicate()[0].decode()


began = time.monotonic()
run('log', 'add', 'plan.json', '--again')
whole_s = time.monotonic() - began
before = len(answer('log', 'list')['entries'])
random.seed(1)
told = sum(kill_one(random.uniform(0, 1.5 * whole_s)) for _ in range(kills))
after = len(answer('log', 'list')['entries'])
ok(before + told <= after <= before + kills, f'killed {kills} times: no entry lost that was told ({told})', (before, told, after))
ok('is sound' in run('log', 'sound'), 'and the record is sound')
print(f'1..{number}')
sys.exit(failed > 0)
