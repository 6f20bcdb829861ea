"""What `meson install` lays down works where it lies: installed.py BUILD-FOLDER, from the project's top folder.

Everything is installed below an empty folder; the program runs from there, and the example of examples/library is built against
the library as a stranger would, with pkg-config."""
import os
import pathlib
import re
import subprocess
import sys
import tempfile

ORDER = """{"format": "kilnstow-order/1", "units": {"length": "mm", "mass": "kg", "temperature": "C"}, "kilns": ["round-330"],
 "firings": [{"id": "f", "cone": "6", "atmosphere": "oxidation"}],
 "ware": [{"id": "mug", "count": 5, "diameter": 85, "height": 95}, {"id": "dish", "count": 2, "diameter": 150, "height": 50}]}
"""


def printed(*command, **kwargs):
    got = subprocess.run([str(word) for word in command], text=True, capture_output=True, timeout=600, **kwargs)
    if got.returncode:
        raise SystemExit('%s: status %d\n%s%s' % (command, got.returncode, got.stdout, got.stderr))
    return got.stdout


class Home:
    """The folders of an installation."""

    def __init__(self, build, below):
        printed('meson', 'install', '-C', build, '--no-rebuild', '--quiet', '--destdir', below)
        self.below = below
        pc, = below.rglob('kilnstow.pc')
        self.pc_folder = pc.parent
        self.prefix = below / self.asked('--variable=prefix').lstrip('/')
        self.libdir = self.real('--variable=libdir')
        self.headers = self.real('--variable=includedir') / 'kilnstow'
        self.kilns = self.real('--variable=kilnsdir')
        self.programs = self.prefix / 'bin'

    def asked(self, *words):
        return printed('pkg-config', *words, 'kilnstow', env={**os.environ, 'PKG_CONFIG_PATH': str(self.pc_folder)}).strip()

    def real(self, word):
        return self.below / self.asked(word).lstrip('/')

    def flags(self):
        """For the compiler, of the installation as it lies below."""
        return self.asked('--define-variable=prefix=%s' % self.prefix, '--cflags', '--libs').split()


def version_told():
    return re.search(r" version : '([^']*)'", pathlib.Path('meson.build').read_text()).group(1)


def missing_files(home):
    version = version_told()
    for path in (home.programs / 'kilnstow', home.programs / 'kilnstow-check', home.libdir / 'libkilnstow.so',
                 home.libdir / ('libkilnstow.so.' + version)):
        if not path.is_file():
            yield '%s is not there' % path.relative_to(home.below)
    for part in ('man/man1/kilnstow.1', 'man/man1/kilnstow-place.1', 'man/man5/kilnstow-order.5', 'bash-completion/completions/kilnstow',
                 'zsh/site-functions/_kilnstow', 'fish/vendor_completions.d/kilnstow.fish', 'doc/kilnstow/changelog.md',
                 'doc/kilnstow/examples/plan_load.c'):
        if not (home.prefix / 'share' / part).is_file():
            yield 'share/%s is not there' % part
    for here, there in (('include/kilnstow', home.headers), ('kilns', home.kilns)):
        ours, theirs = set(os.listdir(here)), set(os.listdir(there))
        if ours != theirs:
            yield '%s and what is installed of it differ in %s' % (here, sorted(ours ^ theirs))
    if home.asked('--modversion') != version:
        yield 'pkg-config tells version %s' % home.asked('--modversion')


def wrong_soname(home):
    named = re.findall(r'\(SONAME\).*\[(.*)\]', printed('readelf', '-dW', home.libdir / 'libkilnstow.so'))
    if named != ['libkilnstow.so.0']:
        yield 'found soname %s' % named
    elif not (home.libdir / named[0]).is_file():
        yield '%s is no link to the library' % named[0]


def wrong_exports(home):
    """ctags reads the headers with eyes of its own; the linker was told by src/exports.py."""
    headers = sorted(str(path) for path in home.headers.iterdir())
    told = printed('ctags', '-f', '-', '--languages=C', '--langmap=C:.h', '--kinds-C=px', *headers)
    declared = {line.split('\t')[0] for line in told.splitlines() if line.startswith('ks_')}
    symbols = printed('nm', '-D', '--defined-only', home.libdir / 'libkilnstow.so').split('\n')
    exported = {line.split()[2].split('@')[0] for line in symbols if len(line.split()) == 3 and line.split()[1] != 'A'}
    for name in sorted(declared - exported):
        yield '%s is declared, and nobody can link with it' % name
    for name in sorted(exported - declared):
        yield '%s can be linked with, and no header declares it' % name


def soft_parts(home):
    """What is not hardened, read from the files themselves."""
    for path in (home.programs / 'kilnstow', home.programs / 'kilnstow-check', home.libdir / 'libkilnstow.so'):
        head, dynamic = printed('readelf', '-hlW', path), printed('readelf', '-dW', path)
        asks = printed('nm', '-D', '--undefined-only', path)
        stack = re.search(r'GNU_STACK.*', head)
        for holds, what in (('Type:' in head and re.search(r'Type:\s+DYN', head), 'position-independent'),
                            ('GNU_RELRO' in head and 'BIND_NOW' in dynamic, 'full RELRO'),
                            (stack and 'E' not in stack.group().split()[-2], 'a stack that cannot run'),
                            ('__stack_chk_fail' in asks, 'stack protector'),
                            (re.search(r'__\w+_chk\b(?<!__stack_chk)', asks), 'fortified functions')):
            if not holds:
                yield '%s: no %s' % (path.name, what)


def lost_kilns(home, build):
    there, here = printed(home.programs / 'kilnstow', 'list', 'kilns'), printed(build / 'kilnstow', 'list', 'kilns')
    if there != here or 'round-450' not in there:
        yield 'the installed program lists: %s' % there


def faulty_example(home, work):
    example, order = work / 'plan_load', work / 'order.json'
    order.write_text(ORDER)
    printed('cc', '-std=c17', '-Wall', '-Wextra', '-Werror', 'examples/library/plan_load.c', '-o', example, *home.flags())
    plan = printed(example, order, home.kilns, env={**os.environ, 'LD_LIBRARY_PATH': str(home.libdir)})
    (work / 'theirs.json').write_text(plan)
    printed(home.programs / 'kilnstow', 'place', '-q', order, '-o', work / 'ours.json')
    if plan != (work / 'ours.json').read_text():
        yield 'its plan is another than that of `kilnstow place`'
    if 'Every rule is kept: 7 pieces placed' not in printed(home.programs / 'kilnstow-check', work / 'theirs.json'):
        yield 'kilnstow-check refuses its plan'


def main(build):
    bad = False
    with tempfile.TemporaryDirectory() as work:
        work = pathlib.Path(work)
        home = Home(build, work / 'root')
        claims = [('programs, kilns, library, headers and pkg-config file lie where they are looked for', missing_files(home)),
                  ('the library is known by its soname', wrong_soname(home)),
                  ('the library exports what its headers declare, and nothing else', wrong_exports(home)),
                  ('programs and library are hardened', soft_parts(home)),
                  ('the installed program finds the kilns that came with it', lost_kilns(home, build)),
                  ('the example builds against the library and plans as the program does', faulty_example(home, work))]
        for number, (claim, faults) in enumerate(claims, 1):
            faults = list(faults)
            for fault in faults:
                print('#', fault)
            print('not ok' if faults else 'ok', number, '-', claim)
            bad = bad or bool(faults)
    print('1..%d' % len(claims))
    return 1 if bad else 0


if __name__ == '__main__':
    sys.exit(main(pathlib.Path(sys.argv[1]).resolve()))
