#!/usr/bin/env python3
"""Nothing is said past the catalogues. Usage: language.py PROGRAM CHECKER, from the project's top folder.

qaa is English with an accent on each vowel of a message (src/words/catalogue.py). What comes out with a plain vowel was not
looked up, unless it was written by someone: names, ids and file names of the order and the kilns. Plans, --json and tables for
programs have the same bytes in every language; German sheets are not cut where English ones are not."""
import html
import json
import os
import re
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
PROGRAM, CHECKER = sys.argv[1], sys.argv[2]
# What files and the command line are written in, sources of figures, units and names of formats.
PLAIN = set('''kilnstow kilnstow-check order plan json ware csv pdf svg png html ics force output qaa de en mm cm in kg lb oz litres
    EUR USD kWh UTF a4 letter at and peephole sensor'''.split())


def run(language, *arguments, program=PROGRAM, text=None, folder=None):
    done = subprocess.run([os.path.abspath(program), *arguments], capture_output=True, text=True, input=text, cwd=folder,
                          env=dict(os.environ, KILNSTOW_LANGUAGE=language), timeout=300)
    return done.returncode, done.stdout, done.stderr


# Of plans and kilns: what we say in them ourselves, and remarks that no command tells.
OURS = {'note', 'source', 'why', 'detail', 'nearest', 'rule', 'change', 'bound_kind', 'defaults', 'as_entered', 'stopped_by', 'atmosphere', 'stage',
        'pose', 'kind', 'put', 'loading', 'objective'}


def written(node, into):
    """All words that someone wrote into a JSON file."""
    if isinstance(node, dict):
        for key, value in node.items():
            if key not in OURS:
                written(value, into)
    elif isinstance(node, list):
        for value in node:
            written(value, into)
    elif isinstance(node, str):
        into.update(re.findall(r'\w+', node))


def escapes(text, known):
    """Words with a plain vowel that nobody wrote."""
    text = re.sub(r'\b[0-9a-f]{8,64}\b', ' ', html.unescape(text))
    text = re.sub(r'"[^"\n]*"|/\S+|\S*/\S+|--?\w[\w-]*|\b[\w-]+\.(json|csv|pdf|html|part)\b', ' ', text)
    words = re.findall(r'[^\W\d_]{2,}', text)
    return sorted({word for word in words if re.search('[aeiouAEIOU]', word) and word not in known and word not in PLAIN})


class Tap:
    def __init__(self):
        self.n, self.bad = 0, 0

    def claim(self, good, says, why=''):
        self.n += 1
        self.bad += not good
        print(f'{"ok" if good else "not ok"} {self.n} - {says}' + (f'\n# {why}' if not good else ''))


def known_words(plan):
    known = set()
    written(json.load(open(plan)), known)
    for name in os.listdir('kilns'):
        written(json.load(open(os.path.join('kilns', name))), known)
    return known


def spoken(folder):
    """Each command on an example, as (says, arguments, plan whose words may stand there)."""
    first, backlog = os.path.join(folder, 'first.json'), os.path.join(folder, 'backlog.json')
    yield 'place', ['place', 'examples/first/order.json', '-r', '2', '-q', '-o', first, '--force'], first
    yield 'check', ['check', first], first
    yield 'list ware', ['list', 'ware', 'examples/first/order.json'], first
    yield 'list cones', ['list', 'cones'], first
    yield 'list kilns', ['list', 'kilns'], first
    yield 'list materials', ['list', 'materials'], first
    yield 'fire', ['fire', first], first
    yield 'fit', ['fit', 'examples/forms/order.json'], os.path.join('examples', 'forms', 'order.json')
    yield 'fit one piece', ['fit', 'examples/forms/order.json', '--piece', 'wave'], os.path.join('examples', 'forms', 'order.json')
    yield 'cost', ['cost', backlog], backlog
    yield 'cost --shares', ['cost', backlog, '--shares'], backlog
    yield 'draw', ['draw', first, '-o', os.path.join(folder, 'first.html'), '--force'], first


# What programs read of a file, by its ending: looks of drawings, events' identities, headings of columns.
FOR_PROGRAMS = {'html': r'\.[^\s.{}]+\{|class="[^"]*"', 'svg': r'\.[^\s.{}]+\{|class="[^"]*"', 'ics': r'UID:.*|SEQUENCE:.*|STATUS:.*',
                'csv': r'\A.*'}


def for_programs(language, plan, ending, folder):
    sub = tempfile.mkdtemp(dir=folder)
    path = os.path.join(sub, 'x.' + ending)
    if ending == 'csv':
        run(language, 'cost', plan, '--csv', path)
    else:
        run(language, 'draw', plan, '-o', path)
    files = sorted(os.listdir(sub))
    return {name: set(re.findall(FOR_PROGRAMS[ending], open(os.path.join(sub, name), newline='').read())) for name in files}


def main():
    tap = Tap()
    with tempfile.TemporaryDirectory() as folder:
        first, backlog = os.path.join(folder, 'first.json'), os.path.join(folder, 'backlog.json')
        run('en', 'place', 'examples/first/order.json', '-r', '2', '-q', '-o', first)
        run('en', 'place', 'examples/mugs/order.json', '-r', '1', '-q', '-o', backlog)
        english = open(first).read()
        for says, arguments, plan in spoken(folder):
            _, out, err = run('qaa', *arguments)
            found = escapes(out + err, known_words(plan))
            if says == 'list materials':  # names and sources are those of the table
                continue
            tap.claim(not found, f'{says} says nothing past the catalogues', ' '.join(found))
        tap.claim(open(first).read() == english, 'a plan has the same bytes in another language')
        for name in ('forms', 'mugs', 'backlog'):
            plans = [run(language, 'place', f'examples/{name}/order.json', '-r', '1', '-q', '-o', '-')[1] for language in ('en', 'qaa')]
            tap.claim(plans[0] == plans[1] != '', f'so has that of {name}')
        page = re.sub(r'<(script|style)>.*?</\1>|<[^>]*>', ' ', open(os.path.join(folder, 'first.html')).read(), flags=re.S)
        found = escapes(page, known_words(first))
        tap.claim(not found, 'the page says nothing past the catalogues', ' '.join(found))
        run('qaa', 'draw', first, '-o', os.path.join(folder, 'q.svg'))
        sheets = ''.join(open(os.path.join(folder, name)).read() for name in os.listdir(folder) if name.startswith('q-'))
        text = '\n'.join(re.findall(r'<title>([^<]*)</title>|<desc>([^<]*)</desc>', sheets)[0])
        tap.claim(len(sheets) > 0 and not escapes(text, known_words(first)), 'titles of sheets say nothing past the catalogues')
        commands = ['place', 'check', 'fit', 'fire', 'cost', 'draw', 'list']
        for command in commands:
            _, out, err = run('qaa', command, '--help')
            found = [word for word in escapes(out, set()) if word.islower() and word not in commands]
            tap.claim(not found, f'{command} --help says nothing past the catalogues', ' '.join(found))
        for command in (['check', first], ['list', 'ware', 'examples/first/order.json'], ['fire', first], ['fit', 'examples/forms/order.json']):
            tap.claim(run('de', *command, '--json')[1] == run('en', *command, '--json')[1], f'{command[0]} --json is the same in German')
        run('en', 'fire', first, '--curve', os.path.join(folder, 'en.csv'))
        run('de', 'fire', first, '--curve', os.path.join(folder, 'de.csv'))
        tap.claim(open(os.path.join(folder, 'en.csv')).read() == open(os.path.join(folder, 'de.csv')).read(),
                  'a table of the curve is the same in German')
        for ending in FOR_PROGRAMS:
            english, german = (for_programs(language, backlog if ending == 'csv' else first, ending, folder) for language in ('en', 'de'))
            tap.claim(english == german and english and all(english.values()), f'what programs read of .{ending} is the same in German')
        tap.claim(run('de', 'check', first)[1] == run('en', 'check', '--language', 'de', first)[1] != run('en', 'check', first)[1],
                  '--language goes before KILNSTOW_LANGUAGE')
        tap.claim(run('de', first, program=CHECKER)[1] == run('de', 'check', first)[1], 'kilnstow-check speaks German too')
        status, _, err = run('xx', 'check', first)
        tap.claim(status == 2 and 'en, de' in err, 'a language that is not there is refused', err)
        for name, plan in (('first', first), ('mugs', backlog)):
            cut = {}
            for language in ('en', 'de'):
                sub = tempfile.mkdtemp(dir=folder)
                run(language, 'draw', plan, '-o', os.path.join(sub, 's.html'))
                out = os.path.join(sub, 'dump')
                os.mkdir(out)
                run(language, 'draw', plan, '-o', os.path.join(out, 's.svg'))
                cut[language] = sum(open(os.path.join(out, file)).read().count('…') for file in os.listdir(out))
            tap.claim(cut['de'] <= cut['en'], f'sheets of {name} are cut in German no more than in English', str(cut))
    print(f'1..{tap.n}')
    return 1 if tap.bad else 0


if __name__ == '__main__':
    sys.exit(main())
