#!/usr/bin/env python3
"""Changes a source file in one small place after another and asks whether the tests notice.

    tests/slow/mutate.py [--sample N] [--seed N] [--lines A-B] [--only KIND] FILE... -- TEST...

FILE is a .c below src/, TEST a target of the build ("tests/test_check_ware_edges"). From the project's top folder. The
tree is copied and built without optimization; each change compiles one file, links the tests and runs them, until one
fails or runs for 20 CPU seconds: the change is found. Those that no test finds are told with their line, as they were
and as they became. A survivor is a test that is missing, or a change that changes nothing; the latter stand, with the
reason, in tests/slow/mutants_alike.txt as "FILE: LINE OF CODE: AS IT BECAME" and are not tried."""
import argparse
import os
import random
import re
import resource
import shutil
import subprocess
import sys
import tempfile

TOP = os.getcwd()
CPU_SECONDS = 20
ALIKE = 'tests/slow/mutants_alike.txt'

# What is no code: comments, texts, includes and macros.
SILENT = re.compile(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'|^[ \t]*#(?:[^\n]|\\\n)*', re.S | re.M)

# KIND, what is looked for, what takes its place (one change for each).
CHANGES = [
    ('comparison', r'<=', ['>']), ('comparison', r'>=', ['<']),
    ('comparison', r'(?<![<>=!-])<(?![<=])', ['>=']), ('comparison', r'(?<![<>=!-])>(?![>=])', ['<=']),
    ('comparison', r'==', ['!=']), ('comparison', r'!=', ['==']),
    ('boundary', r'<=', ['<']), ('boundary', r'>=', ['>']),
    ('boundary', r'(?<=[\w\])]) < (?=[\w(-])', [' <= ']), ('boundary', r'(?<=[\w\])]) > (?=[\w(-])', [' >= ']),
    ('logic', r'&&', ['||']), ('logic', r'\|\|', ['&&']), ('logic', r'!(?=[\w(])', ['']),
    ('sign', r'(?<=[\w\])]) \+ (?=[\w(-])', [' - ']), ('sign', r'(?<=[\w\])]) - (?=[\w(-])', [' + ']),
    ('sign', r'(?<=[(,=?:] )-(?=[\w(])|(?<=\()-(?=[\w(])|(?<=return )-(?=[\w(])', ['']),
    ('factor', r'(?<=[\w\])]) \* (?=[\w(-])', [' / ']), ('factor', r' / ', [' * ']),
    ('step', r'\+=', ['-=']), ('step', r'(?<![-+])\+\+(?!\+)', ['--']),
    ('extreme', r'\bfmin\(', ['fmax(']), ('extreme', r'\bfmax\(', ['fmin(']), ('extreme', r'\bfabs\(', ['(']),
    ('constant', r'(?<![\w.])0(?![\w.])', ['1']), ('constant', r'(?<![\w.])1(?![\w.])', ['0', '2']),
    ('constant', r'(?<![\w.])(?:[2-9]|\d\d+)(?![\w.])', ['NUMBER']),
    ('constant', r'(?<![\w.])\d+\.\d+(?![\w.])', ['NUMBER']),
    ('constant', r'\btrue\b', ['false']), ('constant', r'\bfalse\b', ['true']), ('constant', r'\bINFINITY\b', ['0']),
    ('statement', r'^[ \t]+(?:ks_\w+|[a-z_]+)\([^;{}]*\);$', ['    ;']), ('statement', r'\bcontinue;', ['break;']),
    ('statement', r'\bbreak;', [';']),
]


def silenced(text):
    """The same text with blanks for whatever is no code, so that lies stay."""
    return SILENT.sub(lambda match: re.sub(r'[^\n]', ' ', match.group(0)), text)


def changes_of(path, first, last, only):
    """(path, line, kind, line as it was, whole text as it became, line as it became)"""
    with open(path, encoding='utf-8') as file:
        text = file.read()
    code = silenced(text)
    for kind, pattern, instead in CHANGES:
        if only and kind not in only:
            continue
        for match in re.finditer(pattern, code, re.M):
            line = code.count('\n', 0, match.start()) + 1
            if not first <= line <= last:
                continue
            for new in instead:
                if new == 'NUMBER':
                    new = str(float(match.group(0)) * 1.5) if '.' in match.group(0) else str(int(match.group(0)) + 1)
                became = text[:match.start()] + new + text[match.end():]
                yield path, line, kind, text.splitlines()[line - 1].strip(), became, became.splitlines()[line - 1].strip()


def known_alike():
    if not os.path.exists(ALIKE):
        return set()
    with open(ALIKE, encoding='utf-8') as file:
        return {line.rstrip('\n') for line in file if line.strip() and not line.startswith('#')}


def limited():
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def run(command, folder, **more):
    return subprocess.run(command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, **more)


def copied(folder, tests):
    for name in os.listdir(TOP):
        if not name.startswith(('build', '.git')):
            source, target = os.path.join(TOP, name), os.path.join(folder, name)
            (shutil.copytree if os.path.isdir(source) else shutil.copy2)(source, target)
    for command in (['meson', 'setup', 'build', '-Doptimization=0', '-Ddebug=false'], ['ninja', '-C', 'build', *tests]):
        told = run(command, folder)
        if told.returncode:
            sys.exit(told.stdout[-3000:])
    for test in tests:
        if run(['build/' + test], folder, preexec_fn=limited).returncode:
            sys.exit(f'{test} fails with nothing changed')


def verdict(change, folder, tests):
    """found, survived, or invalid: does not compile."""
    path, _, _, _, became, _ = change
    kept = os.path.join(folder, path)
    with open(kept, encoding='utf-8') as file:
        text = file.read()
    try:
        with open(kept, 'w', encoding='utf-8') as file:
            file.write(became)
        if run(['ninja', '-C', 'build', *tests], folder).returncode:
            return 'invalid'
        for test in tests:
            if run(['build/' + test], folder, preexec_fn=limited).returncode:
                return 'found'
        return 'survived'
    finally:
        with open(kept, 'w', encoding='utf-8') as file:
            file.write(text)


def main():
    split = sys.argv.index('--') if '--' in sys.argv else len(sys.argv)
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument('files', nargs='+', metavar='FILE')
    asked.add_argument('--sample', type=int, default=0, help='so many changes, drawn at random; 0 = all')
    asked.add_argument('--seed', type=int, default=1)
    asked.add_argument('--lines', default='1-1000000', help='only changes in these lines')
    asked.add_argument('--only', action='append', help='only changes of this kind; may be given again')
    asked.add_argument('--list', action='store_true', help='tells the changes and tries none')
    args = asked.parse_args(sys.argv[1:split])
    tests = sys.argv[split + 1:]
    first, last = map(int, args.lines.split('-'))
    alike = known_alike()
    changes = [change for path in args.files for change in changes_of(path, first, last, args.only)
               if f'{change[0]}: {change[3]}: {change[5]}' not in alike]
    if args.sample and args.sample < len(changes):
        changes = sorted(random.Random(args.seed).sample(changes, args.sample), key=lambda change: change[:3])
    if args.list or not tests:
        for path, line, kind, was, _, became in changes:
            print(f'{path}:{line}: {kind}: {was}  =>  {became}')
        return 0 if args.list else sys.exit('no tests are named: give them after --')
    counts = {'found': 0, 'survived': 0, 'invalid': 0}
    with tempfile.TemporaryDirectory(prefix='kilnstow-mutants-') as folder:
        copied(folder, tests)
        for change in changes:
            told = verdict(change, folder, tests)
            counts[told] += 1
            if told == 'survived':
                path, line, kind, was, _, became = change
                print(f'{path}:{line}: {kind}: {was}  =>  {became}', flush=True)
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    print(f'{len(changes)} changes: {counts["found"]} found, {counts["survived"]} survived, {counts["invalid"]} do not '
          f'compile; {used.ru_utime + used.ru_stime:.0f} CPU s')
    return 1 if counts['survived'] else 0


if __name__ == '__main__':
    sys.exit(main())
