"""The calls of the page's server: what they answer is what the commands answer: calls.py PROGRAM, from the project's top folder."""
import json
import os
import pathlib
import shutil
import signal
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from served import Served  # noqa: E402

checks = []
ROUNDS = '2'


def told(name, holds, found=''):
    checks.append(bool(holds))
    print(f'{"" if holds else "not "}ok {len(checks)} - {name}' + ('' if holds else f' # found {str(found)[:900]}'), flush=True)


def by_hand(s, *words):
    """The same command on the command line, in the folder."""
    run = subprocess.run([PROGRAM, *words], cwd=s.folder, capture_output=True, text=True, timeout=300)
    return run.returncode, run.stdout


def names(s):
    return sorted(path.name for path in s.folder.iterdir())


def commands(s):
    for command, args in (('place', ['order.json', '--rounds', ROUNDS, '-o', 'plan.json', '--force']), ('check', ['plan.json']), ('fit', ['order.json']),
                          ('fire', ['plan.json']), ('list', ['ware', 'order.json']), ('list', ['kilns']), ('calendar', ['plan.json']), ('cost', ['plan.json']),
                          ('check', ['order.json']), ('place', ['--nothing']), ('log', ['list'])):
        status, headers, body = s.call('POST', f'/api/{command}', {'args': args})
        own = 1 if command == 'log' else 0
        exit_status, said = by_hand(s, command, *args[:own], '--json', *args[own:])
        told(f'{command} {" ".join(args)} answers as on the command line', status == 200 and body.decode() == said and
             headers['Kilnstow-Exit'] == str(exit_status), body)
    status, headers, body = s.call('POST', '/api/log', {'args': ['add', 'plan.json', '--kwh', '30']})
    told('log add adds to the record', headers['Kilnstow-Exit'] == '0' and 'kilnstow.book' in names(s), body)


def tries(s):
    before = names(s), (s.folder / 'ware.csv').read_bytes()
    table = 'id,name,count,diameter (mm),height (mm)\nbeaker,beaker,3,80,90\n'
    body = s.call('POST', '/api/list', {'args': ['ware', 'order.json'], 'files': {'ware.csv': table}})[2]
    told('a table is looked at before it is kept', [row['id'] for row in json.loads(body)['result']] == ['beaker'], body)
    body = s.call('POST', '/api/place', {'args': ['order.json', '--rounds', '0', '-o', 'try.json'], 'files': {'ware.csv': table}})[2]
    told('a try plans', json.loads(body)['result']['placed'] == 3, body)
    status, headers, body = s.call('POST', '/api/log', {'args': ['add', 'plan.json', '--kwh', '31'], 'files': {'a.txt': ''}})
    told('a try writes nothing into the record', headers['Kilnstow-Exit'] == '3', body)
    for name, kind, mark in (('sheets.pdf', 'application/pdf', b'%PDF-'), ('phone.html', 'text/html; charset=utf-8', b'<!doctype html'),
                             ('firing.ics', 'text/calendar; charset=utf-8', b'BEGIN:VCALENDAR')):
        args = ['plan.json', '-o', name] + (['--start', '2026-11-28 18:00'] if name.endswith('ics') else [])
        status, headers, body = s.call('POST', '/api/draw', {'args': args, 'give': name})
        told(f'draw gives {name}', status == 200 and headers['Content-Type'] == kind and body.lower().startswith(mark.lower()), (status, headers, body[:200]))
        if name.endswith('.pdf') and shutil.which('qpdf'):
            with tempfile.NamedTemporaryFile(suffix='.pdf') as file:
                file.write(body)
                file.flush()
                told('qpdf finds nothing wrong with it', subprocess.run(['qpdf', '--check', file.name], capture_output=True).returncode == 0)
    status, _, body = s.call('POST', '/api/draw', {'args': ['none.json', '-o', 'a.pdf'], 'give': 'a.pdf'})
    told('what cannot be drawn says why', status == 422 and b'none.json' in body, body)
    told('a file that the command does not make is not given', s.call('POST', '/api/check', {'args': ['plan.json'], 'give': 'ware.csv'})[0] == 422)
    told('nothing of a try stays', (names(s), (s.folder / 'ware.csv').read_bytes()) == before, names(s))


def files(s):
    old = (s.folder / 'ware.csv').read_bytes()
    status, headers, body = s.call('GET', '/api/files/ware.csv')
    etag = headers['ETag']
    told('a file is given as it is', status == 200 and body == old)
    told('and not twice to who has it', s.call('GET', '/api/files/ware.csv', If_None_Match=etag)[0] == 304)
    listed = {one['name']: one for one in json.loads(s.call('GET', '/api/files')[2])['files']}
    told('the list tells the same state', listed['ware.csv']['etag'] == etag and listed['ware.csv']['bytes'] == len(old))
    told('and what kind of file it is', listed['order.json']['format'] == 'kilnstow-order/1' and listed['plan.json']['format'] == 'kilnstow-plan/1')
    new = old + b'extra,extra,1,3,3,2,,9 oz,5\n'
    told('a file is not replaced by who has not read it', s.call('PUT', '/api/files/ware.csv', new)[0] == 428)
    told('nor by who has read another state', s.call('PUT', '/api/files/ware.csv', new, If_Match='"0000"')[0] == 412)
    status, headers, _ = s.call('PUT', '/api/files/ware.csv', new, If_Match=etag)
    told('it is by who knows it', status == 200 and (s.folder / 'ware.csv').read_bytes() == new)
    told('and the old table is kept', (s.folder / 'ware.csv.bak').read_bytes() == old)
    told('its next state has another name', headers['ETag'] != etag and s.call('PUT', '/api/files/ware.csv', old, If_Match=etag)[0] == 412)
    (s.folder / 'ware.csv').write_bytes(old)
    told('a change by another program is noticed', s.call('PUT', '/api/files/ware.csv', new, If_Match=headers['ETag'])[0] == 412 and
         (s.folder / 'ware.csv').read_bytes() == old)
    name = 'Glühbrand 1.json'
    address = '/api/files/Gl%C3%BChbrand%201.json'
    told('a new file needs no state', s.call('PUT', address, b'{}')[0] == 201 and (s.folder / name).read_bytes() == b'{}')
    told('who wants it to be new is told that it is not', s.call('PUT', address, b'[]', If_None_Match='*')[0] == 412)
    told('an empty file is a file', s.call('PUT', '/api/files/empty.txt', b'')[0] == 201 and s.call('GET', '/api/files/empty.txt')[2] == b'')
    told('nothing else is left there', names(s) == sorted({*listed, 'ware.csv.bak', name, 'empty.txt'}), names(s))


def follow(s, number, stop_after=None):
    """All that the server told of a job, until its end."""
    seen, after = [], 0
    while not seen or seen[-1]['state'] != 'ended':
        seen.append(json.loads(s.call('GET', f'/api/jobs/{number}?after={after}')[2]))
        after = seen[-1]['k']
        if after == stop_after:
            told('a job can be ended', s.call('DELETE', f'/api/jobs/{number}')[0] == 202)
            stop_after = None
    return seen


def jobs(s):
    status, _, body = s.call('POST', '/api/jobs', {'order': 'order.json', 'plan': 'job.json', 'rounds': int(ROUNDS)})
    told('a job begins', status == 202, body)
    seen = follow(s, json.loads(body)['job'])
    plans = [one['plan'] for one in seen if one['plan']]
    told('each plan is told once', len({one['k'] for one in seen if one['plan']}) == len(plans) and all(one['plan'] for one in seen if one['k']
         and one['k'] not in [before['k'] for before in seen[:seen.index(one)]]), [one['k'] for one in seen])
    told('none is worse than the one before', all(a['worth'] <= b['worth'] + 1e-9 for a, b in zip(plans, plans[1:])), [p['worth'] for p in plans])
    told('the last is the one that is written', json.loads((s.folder / 'job.json').read_text()) == plans[-1])
    told('it is the plan of place', (s.folder / 'job.json').read_bytes() == (s.folder / 'plan.json').read_bytes())
    told("place's own answer comes last", seen[-1]['exit'] == 0 and seen[-1]['answer']['result']['plan'] == 'job.json', seen[-1])
    number = json.loads(s.call('POST', '/api/jobs', {'order': 'order.json', 'rounds': 100000})[2])['job']
    seen = follow(s, number, stop_after=1)
    told('it ends with the best so far, as Ctrl-C does', seen[-1]['exit'] == 130 and any(one['plan'] for one in seen), seen[-1])
    numbers = [json.loads(s.call('POST', '/api/jobs', {'order': 'order.json', 'rounds': 100000})[2])['job'] for _ in range(3)]
    told('the third waits for its turn', json.loads(s.call('GET', f'/api/jobs/{numbers[2]}?after=0')[2])['state'] == 'waiting')
    for number in reversed(numbers):
        s.call('DELETE', f'/api/jobs/{number}')
    told('all three end', all(follow(s, number)[-1]['state'] == 'ended' for number in numbers))


def drags(s):
    """The checker's own verdict on the plan so changed is the second opinion."""
    plan = json.loads((s.folder / 'plan.json').read_text())
    placed = [(level, piece) for level in plan['loads'][0]['levels'] for piece in level['pieces'] if not piece['on']]
    here = []
    for level, piece in placed:
        here.append(json.loads(s.call('POST', '/api/drag', {'plan': 'plan.json', 'id': piece['id'], 'copy': piece['copy']})[2]))
    told('each piece is free where it stands', all(one['free'] for one in here), [one['touches'] for one in here])
    told('and stands where it stood', all(one['parts'] == piece['parts'] for one, (_, piece) in zip(here, placed)))
    for (level, piece), (_, other) in zip(placed[:6], placed[1:7]):
        wish = {'plan': 'plan.json', 'id': piece['id'], 'copy': piece['copy'], 'x': other['x'] + 3, 'y': other['y'] - 2, 'turn': 30, 'level': level['name']}
        answer = json.loads(s.call('POST', '/api/drag', {**wish, 'keep': True})[2])
        touched = {(one['id'], one['copy']): one for one in answer['touches'] if one['rule'] == 'ware'}
        (s.folder / 'moved.json').write_text(json.dumps(answer['plan']))
        broken = json.loads(by_hand(s, 'check', 'moved.json', '--json')[1])['result']['broken']
        mine = f"{piece['id']}-{piece['copy']}"
        worst = {}
        for one in broken:
            at = one['where'].partition(': ')[2].split(' and ')
            if one['rule'] == 'ware' and mine in at and len(at) == 2:
                near = at[1] if at[0] == mine else at[0]
                worst[near] = max(worst.get(near, 0), one['by_mm'])
        found = {f'{name}-{copy}': one['short_by_mm'] for (name, copy), one in touched.items()}
        told(f'{mine} touches what check says, by as much', found.keys() == worst.keys() and
             all(abs(found[near] - worst[near]) < 1e-6 for near in worst), (found, worst))
        told('the clearance asked for less what there is is what lacks', all(abs(one['asked_mm'] - one['clear_mm'] - one['short_by_mm']) < 1e-9
             for one in answer['touches']))
    (s.folder / 'moved.json').unlink()
    told('nothing is written by a drag', json.loads((s.folder / 'plan.json').read_text()) == plan)
    levels = [level['name'] for level in plan['loads'][0]['levels']]
    level, piece = placed[0]
    answer = json.loads(s.call('POST', '/api/drag', {'plan': 'plan.json', 'id': piece['id'], 'copy': piece['copy'], 'level': levels[-1], 'keep': True})[2])
    counts = [len(one['pieces']) for one in answer['plan']['loads'][0]['levels']]
    told('a piece goes to another level', sum(counts) == sum(len(one['pieces']) for one in plan['loads'][0]['levels']) and
         any(one['id'] == piece['id'] and one['copy'] == piece['copy'] for one in answer['plan']['loads'][0]['levels'][-1]['pieces']), counts)
    refs = [json.dumps(step) for step in answer['plan']['loads'][0]['steps']]
    told('and each piece still has its step', len(refs) == len(set(refs)) == len(plan['loads'][0]['steps']))
    draft = s.call('POST', '/api/drag', {'plan': 'draft.json', 'files': {'draft.json': json.dumps(answer['plan'])}, 'id': piece['id'], 'copy': piece['copy']})
    told('a draft is judged without being kept', draft[0] == 200 and 'draft.json' not in names(s), draft)
    drags_in_hand(s, placed, here)


def children(s):
    """Process numbers, by /proc/N/stat: what stands behind the name in brackets is the state and the parent."""
    found = set()
    for stat in pathlib.Path('/proc').glob('[0-9]*/stat'):
        try:
            if int(stat.read_text().rpartition(')')[2].split()[1]) == s.process.pid:
                found.add(int(stat.parent.name))
        except OSError:
            pass  # it has ended meanwhile
    return found


def drags_in_hand(s, placed, here):
    """The plan is kept in hand between drags by one process: as it stands on disk, whatever the drags before did to their copies."""
    path, (_, piece) = s.folder / 'plan.json', placed[0]
    text = path.read_text()
    wish = {'plan': 'plan.json', 'id': piece['id'], 'copy': piece['copy']}
    again = [json.loads(s.call('POST', '/api/drag', {'plan': 'plan.json', 'id': one['id'], 'copy': one['copy']})[2]) for _, one in placed]
    told('drags leave the plan in hand as it is', again == here)
    judge = children(s)
    moved = json.loads(s.call('POST', '/api/drag', {**wish, 'x': piece['x'] + 7, 'keep': True})[2])
    path.write_text(json.dumps(moved['plan']))
    told('a plan that is replaced on disk is judged as it then is', json.loads(s.call('POST', '/api/drag', wish)[2])['x'] == moved['x'] != piece['x'])
    path.write_text('{')
    told('one that cannot be read any more is not judged by the last', s.call('POST', '/api/drag', wish)[0] == 400)
    path.write_text(text)
    told('and one that is there again is', json.loads(s.call('POST', '/api/drag', wish)[2]) == here[0])
    told('one process has judged all of that', judge == children(s) and len(judge) == 1, (judge, children(s)))
    os.kill(judge.pop(), signal.SIGKILL)
    lost = s.call('POST', '/api/drag', wish)
    told('its death is told or not noticed', lost[0] in (200, 500, 503), lost)
    told('and another takes its place', json.loads(s.call('POST', '/api/drag', wish)[2]) == here[0])


def without_words(value):
    """Keys and numbers of an answer, without its texts."""
    if isinstance(value, dict):
        return {key: without_words(one) for key, one in value.items()}
    return [without_words(one) for one in value] if isinstance(value, list) else None if isinstance(value, str) else value


def languages(s):
    english, german = (json.loads(s.call('POST', '/api/fire', {'args': ['plan.json'], 'language': code})[2]) for code in ('en', 'de'))
    verdicts = [one['result']['loads'][0]['says'] for one in (english, german)]
    told('a verdict is told in the language asked for', verdicts[0] != verdicts[1] and 'erreicht Kegel' in verdicts[1], verdicts)
    told('keys and numbers stay as they are', without_words(english) == without_words(german))
    waits = [json.loads(s.call('POST', '/api/list', {'args': ['room', 'plan.json'], 'language': code})[2])['result']['waiting'] for code in ('en', 'de')]
    plan = json.loads((s.folder / 'plan.json').read_text())
    told('what waits is told with its reason, as the plan has it', [(one['id'], one['count']) for one in waits[0]] ==
         [(one['id'], one['count']) for one in plan['left_out']] and len(waits[0]) > 0 and
         all(one['why'].startswith(left['why']) for one, left in zip(waits[0], plan['left_out'])), (waits[0], plan['left_out']))
    told('and in German too', without_words(waits[0]) == without_words(waits[1]) and waits[0] != waits[1], waits)
    answer = follow(s, json.loads(s.call('POST', '/api/jobs', {'order': 'none.json', 'language': 'de'})[2])['job'])[-1]['answer']
    told('a job fails in German words', 'kann es nicht öffnen' in answer['errors'][0], answer)
    refused = s.call('POST', '/api/list', {'args': ['kilns'], 'language': 'xx'})
    told('a language that is not spoken is refused', refused[0] == 400 and b'takes one of' in refused[2], refused)


def stopped(s):
    """A plan that is wanted at once is a whole plan."""
    number = json.loads(s.call('POST', '/api/jobs', {'order': 'order.json', 'rounds': 100000})[2])['job']
    s.call('GET', f'/api/jobs/{number}?after=0')
    s.call('DELETE', f'/api/jobs/{number}')
    plan = [one['plan'] for one in follow(s, number) if one['plan']][-1]
    told('the plan of a job that was stopped says what stopped it', plan['stopped_by'] == 'interrupt', plan['stopped_by'])
    judged = json.loads(s.call('POST', '/api/check', {'args': ['p.json'], 'files': {'p.json': json.dumps(plan)}})[2])
    told('and is whole: check finds every rule kept', judged['status'] == 'kept' and not judged['result']['broken'], judged)


def ending(s):
    number = json.loads(s.call('POST', '/api/jobs', {'order': 'order.json', 'rounds': 100000})[2])['job']
    status, said = s.end()
    told('it ends while a job plans', status == 0 and not said.count('ERROR'), (number, status, said))


def main():
    with Served(PROGRAM) as s:
        commands(s)
        tries(s)
        files(s)
        jobs(s)
        drags(s)
        languages(s)
        stopped(s)
        ending(s)
    run = subprocess.run([PROGRAM, 'serve', str(pathlib.Path(__file__))], capture_output=True, text=True)
    told('a file is no folder to open', run.returncode == 4 and 'calls.py' in run.stderr, run)
    print(f'1..{len(checks)}')
    return 0 if all(checks) else 1


if __name__ == '__main__':
    PROGRAM = os.path.abspath(sys.argv[1])
    sys.exit(main())
