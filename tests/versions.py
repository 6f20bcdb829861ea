"""Files of every version open in this one: versions.py PROGRAM, from the project's top folder.

tests/versions/N holds what version N wrote and read: an order with all that it names, a plan, a schedule, materials, a record and its
export. Nothing there is ever written anew; a new version adds a folder of its own."""
import os
import re
import shutil
import subprocess
import sys
import tempfile

PROGRAM, FOLDER = os.path.abspath(sys.argv[1]), os.path.join('tests', 'versions')


def faults(version):
    """What this program does not open any more."""
    with tempfile.TemporaryDirectory() as work:
        here = shutil.copytree(os.path.join(FOLDER, version), os.path.join(work, 'here'))
        for words, told in ((['list', 'ware', 'order.json'], 'mug'),
                            (['place', '-q', '-r', '0', 'load.json', '-o', 'new.json'], 'Checked'),
                            (['place', '-q', '-r', '0', 'load.json', '--from', 'plan.json'], 'of the earlier plan stand'),
                            (['check', 'plan.json'], 'Every rule is kept'),
                            (['fire', 'plan.json', '--schedule', 'schedule.json', '--materials', 'materials.json', '--book', 'kilnstow.book'], 'kWh'),
                            (['cost', 'plan.json'], 'EUR'),
                            (['draw', 'plan.json', '--sheets', 'list', '-o', 'sheets.pdf'], 'sheets.pdf'),
                            (['log', 'show', '1'], '61.5'),
                            (['log', 'add', 'plan.json', '--kwh', '60', '--again'], '60.0 kWh'),
                            (['log', 'import', 'record.json', '--book', 'other.book'], 'new')):
            got = subprocess.run([PROGRAM, *words], cwd=here, capture_output=True, text=True, timeout=120)
            if got.returncode not in (0, 1) or told not in got.stdout:
                yield '%s: status %d, %r' % (' '.join(words), got.returncode, (got.stdout + got.stderr)[-300:])


def main():
    with open(os.path.join('docs', 'changelog.md'), encoding='utf-8') as file:
        versions = re.findall(r'^## (\S+)', file.read(), re.M)
    bad = sorted(versions) != sorted(os.listdir(FOLDER))
    print('%sok 1 - tests/versions has a folder for each version of the changelog' % ('not ' if bad else ''))
    for number, version in enumerate(versions, 2):
        found = list(faults(version)) if os.path.isdir(os.path.join(FOLDER, version)) else ['it has no folder']
        for fault in found:
            print('#', fault)
        print('%sok %d - files of version %s open' % ('not ' if found else '', number, version))
        bad = bad or bool(found)
    print('1..%d' % (len(versions) + 1))
    return 1 if bad else 0


if __name__ == '__main__':
    sys.exit(main())
