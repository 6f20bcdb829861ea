#!/usr/bin/env python3
"""Every word of every sheet of every example, in every language, as the PDF has it. Usage: said.py PROGRAM, from the top folder.

What the sheets are to say is taken from their SVG, where words stand as they are; pdftotext (poppler) finds each of them on the
same page of the PDF. Words that found no room would be told by the program, and it may tell of none. Nor may a whole text stay in English that the
catalogue has a translation of, but for those that the plan itself tells, and the families of sizes, which rings name as a ware table takes them."""
import os
import re
import subprocess
import sys
import tempfile
from html import unescape

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', '..', 'src', 'words'))
import catalogue  # noqa: E402

PROGRAM = os.path.abspath(sys.argv[1])
EXAMPLES = ('first', 'mugs', 'forms', 'weekly')
LANGUAGES = ('en', 'de')
SHEETS = ['all,firing,measure,wall', 'overview,levels,record,forms,costs,prices']
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


def translations_of(language):
    """Messages and what each is in the language, where that is something else."""
    path = f'src/words/{language}.po'
    read = catalogue.read(path) if os.path.exists(path) else []
    return {m.id: m.said.get(0) for m in read if m.id and m.said.get(0) not in (None, m.id)}


def families():
    with open('src/studio/files/size_shapes.c', encoding='utf-8') as file:
        return set(re.findall(r'^    (?:"\{\\"id\\": \\|\{)"([\w-]+)', file.read(), re.M))


def left_in_english(path, plan, translations):
    with open(plan, encoding='utf-8') as file:
        told = file.read()
    return [f'{os.path.basename(path)}: "{words}" is "{translations[words]}"' for words in said(path)
            if words in translations and f'"{words}"' not in told and words not in families()]


def faults_of(plan, folder, language, extra):
    pdf, svg = os.path.join(folder, 'sheets.pdf'), os.path.join(folder, 'sheets.svg')
    told = draw(plan, pdf, language, extra).stderr
    found = [line for line in told.splitlines() if '×' in line or 'sheets' in line or 'U+' in line]
    listed = draw(plan, svg, language, extra).stdout.splitlines()
    for page, path in enumerate((line for line in listed if line.endswith('.svg')), 1):
        text = packed(subprocess.run(['pdftotext', '-raw', '-f', str(page), '-l', str(page), pdf, '-'],
                                     check=True, capture_output=True, text=True).stdout)
        found += left_in_english(path, plan, translations_of(language))
        found += [f'{os.path.basename(path)}: "{words}" is not found' for words in said(path) if packed(words) not in text]
    return found + structure_faults(pdf, sum(line.endswith('.svg') for line in listed))


def structure_faults(pdf, sheets):
    """A document of a section a sheet, each with its title, as a reader that tells it aloud finds them (ISO 32000-1, 14.8)."""
    done = subprocess.run(['pdfinfo', '-struct-text', pdf], check=True, capture_output=True, text=True)
    lines = done.stdout.splitlines()
    sections, titles, figures = (sum(line.startswith(tag) for line in lines) for tag in ('  Sect', '    H1', '    Figure'))
    if done.stderr or lines[0] != 'Document' or not sections == titles == sheets or figures == 0:
        return [f'its structure: {lines[0]}, {sections} sections and {titles} titles of {sheets} sheets, {figures} figures {done.stderr[:200]}']
    return []


def main():
    number = bad = 0
    with tempfile.TemporaryDirectory() as folder:
        for example in EXAMPLES:
            plan = os.path.join(folder, 'plan.json')
            subprocess.run([PROGRAM, 'place', f'examples/{example}/order.json', '--rounds', '1', '--force', '-o', plan],
                           capture_output=True)
            for language in LANGUAGES:
                wanted = [SHEETS[0], SHEETS[1] if example in COSTED else SHEETS[1].replace(',costs,prices', '')]
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
