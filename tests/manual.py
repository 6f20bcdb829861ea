"""Manual pages and completions tell what each command's own help tells: manual.py PROGRAM FOLDER-OF-PAGES.

Options are read from the pages that --help prints; the shells that are here are asked to complete."""
import os
import re
import shutil
import subprocess
import sys
import tempfile

PROGRAM, PAGES = (os.path.abspath(path) for path in sys.argv[1:3])


def printed(*command, **kwargs):
    return subprocess.run(command, capture_output=True, text=True, timeout=120, **kwargs).stdout


def text_of(name):
    with open(os.path.join(PAGES, name), encoding='utf-8') as file:
        return file.read()


def commands_of(*before):
    """Named by the overview that people read."""
    lines = printed(PROGRAM, *before, '--help').split('\n\n')[2]
    return re.findall(r'^  (\w+) ', lines, re.M)


def options_of(words):
    page = printed(PROGRAM, *words, '--help')
    return [(letter, name, value) for letter, name, value in re.findall(r'^  (?:-(\w), |    )--([\w-]+) (\S*)', page, re.M)]


TOP, LOG = commands_of(), commands_of('log')
LEAVES = [(name,) for name in TOP if name != 'log'] + [('log', name) for name in LOG]
OPTIONS = {words: options_of(words) for words in LEAVES}
if 'place' not in TOP or 'add' not in LOG or not all(('', 'json', '') in options for options in OPTIONS.values()):
    sys.exit('no commands or options were found in the help of %s' % PROGRAM)


def page_faults(words):
    name = '-'.join(('kilnstow', *words)) + '.1'
    if not os.path.isfile(os.path.join(PAGES, name)):
        yield '%s is not made: name it in docs/meson.build' % name
        return
    page = text_of(name).replace('\\-', '-')
    told = re.findall(r'^\.TP\n(?:\\fB-(\w)\\fR, )?\\fB--([\w-]+)\\fR(?: \\fI(\S*?)(?: .*)?\\fR)?$', page, re.M)
    if told != OPTIONS[words]:
        yield '%s: its page tells %s' % (' '.join(words), sorted(set(told) ^ set(OPTIONS[words])))


def bash_completes(*line):
    script = '. "$0"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _kilnstow; printf "%s\\n" "${COMPREPLY[@]}"'
    return printed('bash', '-c', script, os.path.join(PAGES, 'kilnstow'), 'kilnstow', *line).split()


def fish_completes(*line):
    script = 'source $argv[1]; complete -C "$argv[2]"'
    told = printed('fish', '-c', script, os.path.join(PAGES, 'kilnstow.fish'), ' '.join(('kilnstow', *line)))
    return [row.split('\t')[0] for row in told.splitlines()]


def zsh_knows(words):
    """What stands in its file for this command; zsh completes at a terminal only."""
    block = re.search(r"^    '%s'\)\n(.*?);;$" % ' '.join(words), text_of('_kilnstow'), re.M | re.S)
    return re.findall(r"'\*?(--[\w-]+)\[", block.group(1)) if block else []


def shells():
    yield 'bash', lambda words: bash_completes(*words, '--')
    yield 'zsh', zsh_knows
    if shutil.which('fish'):
        yield 'fish', lambda words: [word for word in fish_completes(*words, '--') if word.startswith('--')]


def shell_faults():
    for shell, asked in shells():
        for words in LEAVES:
            got, told = sorted(asked(words)), sorted('--' + name for _, name, _ in OPTIONS[words])
            if got != told:
                yield '%s, %s: differ in %s' % (shell, ' '.join(words), sorted(set(got) ^ set(told)) or got)


def command_faults():
    for complete in [bash_completes] + [fish_completes] * bool(shutil.which('fish')):
        for line, told in (([''], TOP), (['log', ''], LOG), (['list', ''], ['kilns', 'cones', 'materials', 'ware', 'room'])):
            if not set(told) <= set(complete(*line)):
                yield '%s: %s completes to %s' % (complete.__name__, line, complete(*line))


def file_faults():
    """Where a file is asked for, files are offered; where a number is, nothing."""
    with tempfile.TemporaryDirectory() as folder:
        open(os.path.join(folder, 'plan of may.json'), 'w').close()
        script = 'cd "$1"; shift; . "$0"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _kilnstow; printf "%s\\n" "${COMPREPLY[@]}"'
        for line, told in ((('place', '--from', 'pl'), 'plan of may.json\n'), (('place', '--rounds', 'pl'), '\n'),
                           (('check', 'pl'), 'plan of may.json\n'), (('log', 'add', 'pl'), 'plan of may.json\n')):
            got = printed('bash', '-c', script, os.path.join(PAGES, 'kilnstow'), folder, 'kilnstow', *line)
            if got != told:
                yield '%s completes to %r' % (' '.join(line), got)


def layout_faults():
    """What groff says of the pages, and the shells of their files."""
    for name in sorted(os.listdir(PAGES)):
        if name.startswith('kilnstow') and name[-2:] in ('.1', '.5') and shutil.which('groff'):
            said = subprocess.run(['groff', '-ww', '-man', '-z', '-Tutf8', '-Kutf8', os.path.join(PAGES, name)], capture_output=True,
                                  text=True).stderr
            yield from (line for line in said.splitlines()[:3])
    for shell, name in (('bash', 'kilnstow'), ('zsh', '_kilnstow'), ('fish', 'kilnstow.fish')):
        if shutil.which(shell):
            yield from subprocess.run([shell, '-n', os.path.join(PAGES, name)], capture_output=True, text=True).stderr.splitlines()


def main():
    claims = [('each command has a page that tells its options, and no others',
               [fault for words in LEAVES for fault in page_faults(words)]),
              ('bash, zsh and fish complete the options of each command', shell_faults()),
              ('bash and fish complete the commands', command_faults()),
              ('files are offered where a file is asked for', file_faults()),
              ('pages and completions are laid out and parse without a warning', layout_faults())]
    bad = False
    for number, (claim, faults) in enumerate(claims, 1):
        faults = list(faults)
        for fault in faults:
            print('#', fault)
        print('not ok' if faults else 'ok', number, '-', claim)
        bad = bad or bool(faults)
    print('1..%d' % len(claims))
    return 1 if bad else 0


if __name__ == '__main__':
    sys.exit(main())
