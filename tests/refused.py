"""The system refuses one step of writing a file, whatever the command: refused.py PROGRAM libfailing_io.so.

Each write, fsync, rename and close of each command fails once, and a write that is cut short or interrupted goes on; a limit on
the size of files (SIGXFSZ) is met. The file there is then the old one or the new one, whole, the status tells which, and nothing is left beside it."""
import errno
import os
import resource
import struct
import subprocess
import sys
import tempfile

PROGRAM, SHIM = (os.path.abspath(path) for path in sys.argv[1:3])
ORDER = """{"format": "kilnstow-order/1", "units": {"length": "mm", "mass": "kg", "temperature": "C"}, "kilns": ["round-330"],
 "currency": "EUR", "costs": {"electricity": {"price": 0.3}}, "start": "20:00",
 "firings": [{"id": "f", "cone": "6", "atmosphere": "oxidation"}],
 "ware": [{"id": "mug", "count": 3, "diameter": 85, "height": 95}]}
"""
# What each writes; the first takes the plan elsewhere when it cannot be written where it should.
COMMANDS = {
    'place': (['place', '-q', '-r', '0', 'order.json', '-o', 'new.json'], 'new.json'),
    'draw PDF': (['draw', 'plan.json', '--sheets', 'list', '-o', 'new.pdf'], 'new.pdf'),
    'draw SVG': (['draw', 'plan.json', '--sheets', 'record', '-o', 'new.svg'], 'new.svg'),
    'fire': (['fire', 'plan.json', '--curve', 'new.csv'], 'new.csv'),
    'cost': (['cost', 'plan.json', '-o', 'new.csv'], 'new.csv'),
    'calendar': (['calendar', 'plan.json', '-o', 'new.ics'], 'new.ics'),
    'log export': (['log', 'export', 'new.json'], 'new.json'),
}
CALLS = {'write': (errno.ENOSPC, errno.EINTR, 0), 'fsync': (errno.EIO,), 'rename': (errno.EIO,), 'close': (errno.EIO,)}
# What may end well: a write that is taken up again, and a close of a file that was synced before, or in which nothing is kept.
GOES_ON = (('write', errno.EINTR), ('write', 0), ('close', errno.EIO))


def run(words, folder, **more):
    return subprocess.run([PROGRAM, *words], cwd=folder, capture_output=True, text=True, timeout=120,
                          env={**os.environ, 'SOURCE_DATE_EPOCH': '1796000000', **more.pop('env', {})}, **more)


def files(folder):
    found = {}
    for name in os.listdir(folder):
        with open(os.path.join(folder, name), 'rb') as file:
            found[name] = file.read()
    return found


def put(folder, contents):
    for name in set(files(folder)) - set(contents):
        os.remove(os.path.join(folder, name))
    for name, text in contents.items():
        with open(os.path.join(folder, name), 'wb') as file:
            file.write(text)


class Case:
    """A command in a folder in which what it writes stands already, from another time."""

    def __init__(self, name, folder, before):
        self.words, self.target = COMMANDS[name]
        self.name, self.folder = name, folder
        put(folder, before)
        got = run(self.words, folder)
        self.new = files(folder).get(self.target)
        if got.returncode or not self.new:
            raise SystemExit('%s: cannot be tried: %r %s' % (name, got, sorted(files(folder))))
        self.before = {**before, self.target: self.new + b' '}  # of the same kind, and not what is written now
        self.words = self.words + ['--force']

    def faults(self, got, told, may_be_done):
        """What is wrong with how it ended."""
        now = files(self.folder)
        left = {name: text for name, text in now.items() if name not in self.before}
        rescued = self.name == 'place' and len(left) == 1 and list(left)[0] in got.stderr and list(left.values()) == [self.new]
        if left and not rescued:
            yield 'left %s' % sorted(left)
        if any(now.get(name) != text for name, text in self.before.items() if name != self.target):
            yield 'changed what it only reads'
        whole = now.get(self.target)
        if got.returncode == 0 and (not may_be_done or whole != self.new):
            yield 'status 0, and %s' % ('the new file is not there' if whole != self.new else 'nobody was told of what failed')
        if got.returncode == 4 and (whole not in (self.new, self.before[self.target]) or told not in got.stderr):
            yield 'status 4, file %s, told %r' % ('whole' if whole == self.new else 'old or broken', got.stderr)
        if got.returncode not in (0, 4):
            yield 'status %d: %r' % (got.returncode, got.stderr[-300:])

    def refused(self, call, error, at, counters):
        """Its `at`th call fails: (how it ended, calls there were)."""
        with open(counters, 'wb') as file:
            file.write(struct.pack('qqq', 0, at, error))
        put(self.folder, self.before)
        got = run(self.words, self.folder, env={'LD_PRELOAD': SHIM, 'FAILING_IO': counters, 'FAILING_CALL': call})
        with open(counters, 'rb') as file:
            return got, struct.unpack('qqq', file.read())[0]


def refusals(case, counters):
    tried = 0
    for call, errors in CALLS.items():
        _, calls = case.refused(call, 0, 0, counters)
        for error, at in ((error, at) for error in errors for at in range(1, calls + 1)):
            got, met = case.refused(call, error, at, counters)
            tried += at <= met
            for fault in case.faults(got, os.strerror(error), (call, error) in GOES_ON):
                yield '%s %d fails with %s: %s' % (call, at, errno.errorcode.get(error, 'half'), fault)
    if tried < 6:
        yield 'only %d calls were refused' % tried


def size_limit(case):
    """SIGXFSZ is not to kill: the write that went over the limit says so."""
    for limit in (0, len(case.new) // 2, len(case.new) - 1):
        put(case.folder, case.before)
        got = run(case.words, case.folder, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit)))
        if got.returncode != 4:
            yield 'files of at most %d bytes: status %d' % (limit, got.returncode)
        yield from ('files of at most %d bytes: %s' % (limit, fault) for fault in case.faults(got, os.strerror(errno.EFBIG), False))


def main():
    bad, number = False, 0
    with tempfile.TemporaryDirectory() as work:
        folder, counters = os.path.join(work, 'here'), os.path.join(work, 'counters')
        os.mkdir(folder)
        put(folder, {'order.json': ORDER.encode()})
        for words in (['place', '-q', '-r', '0', 'order.json', '-o', 'plan.json'], ['log', 'add', 'plan.json', '--kwh', '20']):
            if run(words, folder).returncode:
                raise SystemExit('%s goes wrong: %r' % (words, run(words, folder)))
        before = files(folder)
        for name in COMMANDS:
            case = Case(name, folder, before)
            for claim, faults in (('each step of writing refused once', refusals(case, counters)), ('a limit on the size of files', size_limit(case))):
                number += 1
                faults = list(faults)
                for fault in faults:
                    print('#', fault)
                print('not ok' if faults else 'ok', number, '-', name + ':', claim)
                bad = bad or bool(faults)
    print('1..%d' % number)
    return 1 if bad else 0


if __name__ == '__main__':
    sys.exit(main())
