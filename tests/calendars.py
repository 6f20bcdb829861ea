#!/usr/bin/env python3
"""The studio's calendar against what is no part of the project: calendars.py PROGRAM [RANDOM CALENDARS].

A year of firings over both changes of the clock and 28 February, its times against the tz database (zoneinfo), its file read
by python3-icalendar and written again after a new plan; and random calendars, in which no two loads overlap but those that
the order puts so. The count is 30 unless told."""
import copy
import datetime
import json
import os
import random
import subprocess
import sys
import tempfile
import zoneinfo

import icalendar

program = os.path.abspath(sys.argv[1])
count = int(sys.argv[2]) if len(sys.argv) > 2 else 30
folder = tempfile.mkdtemp()
BERLIN = zoneinfo.ZoneInfo('Europe/Berlin')
UTC = datetime.timezone.utc
RULE = 'CET-1CEST,M3.5.0,M10.5.0/3'
ORDER = {
    'format': 'kilnstow-order/1', 'title': 'Year', 'studio': 'Imaginary Co-op', 'time_zone': RULE, 'start': '09:00',
    'units': {'length': 'mm', 'mass': 'kg', 'temperature': 'C'},
    'kilns': [{'kiln': 'round-450', 'dates': ['2026-12-05']}, {'kiln': 'round-580', 'dates': ['2026-12-05']}],
    'firings': [{'id': 'glaze', 'cone': '6'}],
    'ware': [{'id': 'mug', 'count': 40, 'diameter': 85, 'height': 95, 'due': '2026-12-06'},
             {'id': 'bowl', 'count': 40, 'diameter': 150, 'height': 70}]}
failures = []
number = 0


def ok(good, claim, found=None):
    global number
    number += 1
    print('ok' if good else 'not ok', number, '-', claim)
    if not good:
        failures.append(claim)
        print('#', str(found)[:2000])


def path(name):
    return os.path.join(folder, name)


def write(name, value):
    with open(path(name), 'w', encoding='utf-8') as file:
        json.dump(value, file)
    return path(name)


def run(*args, epoch=1764547200):
    return subprocess.run([program, *args], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                          env=dict(os.environ, SOURCE_DATE_EPOCH=str(epoch)))


def calendar(*args, **more):
    done = run('calendar', *args, '--json', **more)
    if done.returncode not in (0, 1):
        sys.exit(f'calendar {args}: {done.returncode}: {done.stderr}{done.stdout}')
    return done.returncode, json.loads(done.stdout)


def placed():
    done = run('place', write('order.json', ORDER), '--rounds', '1', '-o', path('base.json'))
    assert done.returncode in (0, 1), done.stderr
    with open(path('base.json'), encoding='utf-8') as file:
        return json.load(file)


def undated_ware(base):
    free = copy.deepcopy(base)
    for piece in free['order']['ware']:
        piece.pop('due', None)
    return free


def plan_of(base, name, loads, **order):
    """A plan of (kiln, date or None) loads, each filled as the base plan fills that kiln."""
    plan = copy.deepcopy(base)
    kinds = {load['kiln']: load for load in base['loads']}
    plan['loads'] = []
    for kiln, date in loads:
        load = copy.deepcopy(kinds[kiln])
        load.pop('date', None)
        load.pop('times', None)
        if date:
            load['date'] = date
        plan['loads'].append(load)
    plan['order'].update(order)
    return write(name, plan)


def moment(text):
    """A time of the answer as UTC; the offset stands there where the clock shows it twice."""
    if len(text) > 16:
        return datetime.datetime.fromisoformat(text.replace(' ', 'T')).astimezone(UTC)
    return datetime.datetime.fromisoformat(text).replace(tzinfo=BERLIN).astimezone(UTC)


def events(name):
    with open(path(name), 'rb') as file:
        got = icalendar.Calendar.from_ical(file.read())
    return {str(event['UID']): event for event in got.walk('VEVENT')}


def year(base):
    days = [datetime.date(2026, 1, 3) + datetime.timedelta(days=7 * i) for i in range(52)]
    days += [datetime.date(2028, 2, 28)]
    loads = [('round-450', day.isoformat()) for day in days]
    loads += [('round-580', day) for day in ('2026-03-28', '2026-10-24', '2026-02-28', '2028-02-29')]
    name = plan_of(base, 'year.json', loads)
    status, got = calendar(name, '-o', path('year.ics'))
    rows = got['result']['loads']
    ok(len(rows) == len(loads), 'a year has all its loads', len(rows))
    lasting = {}
    for row in rows:
        on = moment(row['on'])
        lasting.setdefault(row['kiln'], set()).add(tuple(
            (moment(row[key]) - on).total_seconds() for key in ('loading', 'cone_down', 'ended', 'open')))
    ok(all(len(found) == 1 for found in lasting.values()),
       'a load takes as long over both clock changes and 28 and 29 February as on any other day', lasting)
    ok(all(row['on'].endswith(' 09:00') for row in rows), 'and begins at the same hour of the clock')
    ok(got['result']['zone'] == RULE, 'the zone is told')
    read = events('year.ics')
    ok(len(read) == 4 * len(loads), 'the file has four events a load, each with an id of its own', len(read))
    starts = sorted(event['DTSTART'].dt for uid, event in read.items() if '-firing@' in uid)
    ok(starts == sorted(moment(row['on']) for row in rows), 'an independent reader finds the same firings')
    ok(all(event['DTSTART'].dt.second == event['DTEND'].dt.second == 0 for event in read.values()), 'whole minutes')
    alarms = {uid.split('-')[1].split('@')[0]: len(event.walk('VALARM')) for uid, event in read.items()}
    ok(alarms == {'loading': 1, 'firing': 1, 'cooling': 0, 'unloading': 1},
       'a reminder wherever someone has to be there', alarms)
    ok(sorted((on - datetime.timedelta(0)).astimezone(BERLIN).hour for on in starts) == [9] * len(loads),
       'in a zone of the tz database too')
    return name


def new_plan(base):
    plan_of(base, 'new.json', [('round-450', '2026-12-05'), ('round-450', '2026-12-09'), ('round-580', '2026-12-05')])
    calendar(path('new.json'), '-o', path('new.ics'))
    first = events('new.ics')
    plan_of(base, 'new.json', [('round-450', '2026-12-05'), ('round-580', '2026-12-05')], start='10:30')
    calendar(path('new.json'), '-o', path('new.ics'), epoch=1764550800)
    second = events('new.ics')
    ok(set(second) == set(first), 'a new plan of one order doubles no event', set(second) ^ set(first))
    gone = [uid for uid in second if second[uid].get('STATUS') == 'CANCELLED']
    ok(len(gone) == 4, 'a load that is no more is told as cancelled', gone)
    ok(all(second[uid]['SEQUENCE'] > first[uid]['SEQUENCE'] for uid in second), 'SEQUENCE grows')
    moved = [second[uid]['DTSTART'].dt - first[uid]['DTSTART'].dt for uid in second
             if uid not in gone and ('-loading@' in uid or '-firing@' in uid)]
    ok(moved == [datetime.timedelta(minutes=90)] * 4, 'and the events are moved', moved)
    with open(path('new.ics'), 'rb') as file:
        before = file.read()
    calendar(path('new.json'), '-o', path('new.ics'), epoch=1764900000)
    with open(path('new.ics'), 'rb') as file:
        ok(file.read() == before, 'the same plan again changes nothing')


def clashes(base):
    plan_of(base, 'clash.json', [('round-450', '2026-12-05'), ('round-450', '2026-12-05'), ('round-450', '2026-12-06'),
                                 ('round-580', '2026-12-05')])
    status, got = calendar(path('clash.json'))
    found = got['result']['clashes']
    ok(status == 1 and found, 'loads that overlap in one kiln end with status 1', status)
    ok(all(clash['kiln'] == 'round-450' for clash in found), 'the other kiln has none', found)
    done = run('calendar', path('clash.json'))
    ok('nearest free time' in done.stdout and done.returncode == 1, 'and are told with the nearest free time', done.stdout)
    status, got = calendar(path('base.json'))
    ok([row['id'] for row in got['result']['late']] == ['mug'] * len(got['result']['late']) and got['result']['late'],
       'late ware is told by name', got['result'])
    ok(status == 0, 'and is no clash')
    write('elsewhere.json', dict(base, order=dict(base['order'], time_zone='EST5')))
    done = run('calendar', path('base.json'), path('elsewhere.json'))
    ok(done.returncode == 3 and 'tell one zone' in done.stderr, 'plans of two zones have no one calendar', done.stderr)


def cheaper_starts(base):
    """Night is cheap from 21:00 on; of two loads in one kiln the second leaves the first no week to wait in."""
    costs = {'electricity': {'prices': [{'price': 0.40, 'from': '6:00', 'to': '21:00'}, {'price': 0.10}]}}
    plan = plan_of(undated_ware(base), 'costed.json', [('round-450', '2026-12-05'), ('round-450', '2026-12-08')], costs=costs,
                   opening_hours=[{'from': '8:00', 'to': '22:00'}])
    asked, plain = (json.loads(run('cost', plan, '--json', *more).stdout)['result'] for more in (['--best-start'], []))
    ok(asked['loads'] == plain['loads'] and asked['pieces'] == plain['pieces'], 'no bill changes by asking when to start')
    advice = {load['load']: [start['on'] for start in load['starts']] for load in asked['best_starts']}
    ok(advice[2] and all('08:00' <= on[11:] <= '22:00' for on in advice[2]), 'cheaper starts are inside the opening hours', advice)
    rows = {row['load']: row for row in calendar(plan)[1]['result']['loads']}
    last = moment(rows[2]['loading'])
    longest = moment(rows[1]['empty']) - moment(rows[1]['on'])
    ok(all(moment(on) + longest <= last for on in advice[1]), 'and leave the kiln free for the load that comes', advice)


def overlap(a, b):
    return moment(a['loading']) < moment(b['empty']) and moment(b['loading']) < moment(a['empty'])


def faults(rows, moved, dated):
    """Overlaps that the calendar itself has made: of what it proposes with anything, once its advice is taken."""
    for i, a in enumerate(rows):
        for b in rows[:i]:
            if a['kiln'] == b['kiln'] and overlap(a, b) and (a['proposed'] or b['proposed']):
                yield 'proposed', a, b
    for i, a in enumerate(moved):
        for b in moved[:i]:
            tight = moment(a['loading']) < moment(b['open']) and moment(b['loading']) < moment(a['open'])
            if a['kiln'] == b['kiln'] and tight:
                yield 'advised', a, b


def shifted(row, free):
    by = moment(free) - moment(row['on'])
    out = dict(row)
    for key in ('loading', 'on', 'open', 'empty'):
        out[key] = (moment(row[key]) + by).astimezone(BERLIN).isoformat(sep=' ')
    return out


def at_random(base):
    bad = []
    for seed in range(count):
        die = random.Random(seed)
        first = datetime.date(2026, 1, 1) + datetime.timedelta(days=die.randrange(360))
        names = []
        for p in range(die.randint(1, 2)):
            loads = []
            for _ in range(die.randint(1, 5)):
                date = (first + datetime.timedelta(days=die.randrange(9))).isoformat() if die.random() < 0.6 else None
                loads.append((die.choice(['round-450', 'round-580']), date))
            more = {'start': die.choice(['06:00', '09:00', '19:30'])}
            if die.random() < 0.5:
                more['opening_hours'] = [{'days': 'mon-sat', 'from': '8:00', 'to': die.choice(['18:00', '22:00'])}]
            names.append(plan_of(base, f'random-{p}.json', loads, **more))
        status, got = calendar(*names, '--from', first.isoformat())
        rows, found = got['result']['loads'], got['result']['clashes']
        key = {(row['plan'], row['load']): row for row in rows}
        moved = {at: row for at, row in key.items()}
        for clash in found:
            at = tuple(clash['loads'][1])
            if clash['free']:
                moved[at] = shifted(key[at], clash['free'])
        bad += [(seed, *fault) for fault in faults(rows, list(moved.values()), found)]
        if (status == 1) != bool(found):
            bad.append((seed, status, found))
    ok(not bad, f'{count} random calendars have no overlap of their own making', bad[:3])


def planned(base):
    """The times that the plan was made with stand beside the simulated ones, where it is switched on as planned."""
    write('planned.json', base)
    rows = calendar(path('planned.json'))[1]['result']['loads']
    times = {load['kiln']: load['times'] for load in base['loads']}
    ok(all(row['planned'] == {key: times[row['kiln']][key] for key in ('on', 'cone_down', 'ended', 'open')} for row in rows),
       'planned times are those of the plan', rows)
    ok(all(moment(row['open']) <= moment(row['planned']['open']) for row in rows), 'a full kiln is open no sooner', rows)
    told = run('calendar', path('planned.json')).stdout
    ok(told.count('\n  planned  ') == len(rows), 'and stand in the table', told)
    one = calendar(path('planned.json'), '--load', '1', '--start', '2026-12-05 13:00')[1]['result']['loads']
    ok(one[0]['planned'] is None, 'another start was not planned', one)


def refused_at_once(base):
    """What can't be read or drawn is told before anything is simulated: a load that can't be simulated shows it."""
    broken = copy.deepcopy(base)
    for load in broken['loads']:
        load['firing']['schedule'] = 'full of slips'
    broken['order']['schedules'] = [{'id': 'full of slips', 'purpose': '', 'segments': [{'rate': '0.2 C/h', 'to': '1200 C'}]}]
    write('broken.json', broken)
    alone = run('calendar', path('broken.json'))
    ok(alone.returncode == 3, 'it can not be simulated', alone.stderr + alone.stdout)
    for args, words in ((('--from', 'soon'), '--from'), (('--start', 'noon'), '--start'), (('-o', path('x.html')), 'PDF'),
                        (('--start', '2026-12-05 13:00'), '2 loads')):
        done = run('calendar', path('broken.json'), *args)
        ok(done.returncode == 2 and words in done.stderr, f'refused: {" ".join(args)[:40]}', done.stderr)


base = placed()
year(base)
planned(base)
refused_at_once(base)
new_plan(base)
clashes(base)
cheaper_starts(base)
at_random(base)
print(f'1..{number}')
subprocess.run(['rm', '-r', folder], check=True)
sys.exit(1 if failures else 0)
