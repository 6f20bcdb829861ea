#!/usr/bin/env python3
"""Every word of every sheet of every example, in every language, as the PDF has it. Usage: said.py PROGRAM, from the top folder.

What the sheets are to say is taken from their SVG, where words stand as they are; pdftotext (poppler) finds each of them on the
same page of the PDF. Words that found no room would be told by the program, and it may tell of none."""
import os
import re
import subprocess
import sys
import tempfile
from html import unescape

PROGRAM = os.path.abspath(sys.argv[1])
EXAMPLES = ('first', 'mugs', 'forms', 'weekly')
LANGUAGES = ('en', 'de')
SHEETS = ['all,firing,measure,wall', 'overview,levels,record,forms,costs']
MORE = (['--paper', 'letter'], ['--names', '--class'])
COSTED = ('mugs', 'weekly')


def draw(plan, out, language, extra):
    return subprocess.run([PROGRAM, 'draw', plan, '--language', language, *extra, '--force', '-o', out],
                          check=True, capture_output=True, text=True)


def packed(text):
    return re.sub(r'\s+', '', text)


def said(path):
    with open(path, encoding='utf-8') as file:
        return [unescape(words) for words in re.findall(r'<text[^>]*>([^<]*)</text>', file.read())]


def faults_of(plan, folder, language, extra):
    pdf, svg = os.path.join(folder, 'sheets.pdf'), os.path.join(folder, 'sheets.svg')
    told = draw(plan, pdf, language, extra).stderr
    found = [line for line in told.splitlines() if '×' in line or 'sheets' in line or 'U+' in line]
    listed = draw(plan, svg, language, extra).stdout.splitlines()
    for page, path in enumerate((line for line in listed if line.endswith('.svg')), 1):
        text = packed(subprocess.run(['pdftotext', '-raw', '-f', str(page), '-l', str(page), pdf, '-'],
                                     check=True, capture_output=True, text=True).stdout)
        found += [f'{os.path.basename(path)}: "{words}" is not found' for words in said(path) if packed(words) not in text]
    return found


def main():
    number = bad = 0
    with tempfile.TemporaryDirectory() as folder:
        for example in EXAMPLES:
            plan = os.path.join(folder, 'plan.json')
            subprocess.run([PROGRAM, 'place', f'examples/{example}/order.json', '--rounds', '1', '--force', '-o', plan],
                           capture_output=True)
            for language in LANGUAGES:
                wanted = [SHEETS[0], SHEETS[1] if example in COSTED else SHEETS[1].replace(',costs', '')]
                faults = [fault for sheets, more in zip(wanted, MORE)
                          for fault in faults_of(plan, folder, language, ['--sheets', sheets, *more])]
                number += 1
                for fault in faults:
                    print('#', fault)
                bad += bool(faults)
                print('not ok' if faults else 'ok', f'{number} - {example}, {language}: every word is on its sheet')
    print(f'1..{number}')
    return 1 if bad else 0


if __name__ == '__main__':
    sys.exit(main())
