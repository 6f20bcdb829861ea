#!/usr/bin/env python3
"""Holds README.md, DEVELOPERS.md and docs/*.md against the tree. Run from the project's top folder.

What they link to is there, every file and name of the code that they mention too, lists that they repeat are those of the
code, the snippets of DEVELOPERS.md are lines of the file that they name, and no paragraph stands twice."""
import glob
import os
import re
import sys

DOCS = ['README.md', 'DEVELOPERS.md'] + sorted(glob.glob('docs/*.md'))


def read(path):
    with open(path, encoding='utf-8') as file:
        return file.read()


def tree():
    for folder, folders, names in os.walk('.'):
        folders[:] = [name for name in folders if not name.startswith(('.git', 'build'))]
        yield from (os.path.relpath(os.path.join(folder, name), '.') for name in names)


def spans(text):
    """What stands as code within paragraphs."""
    text = re.sub(r'^```.*?^```', '', text, flags=re.M | re.S)
    return re.findall(r'`([^`]+)`', re.sub(r'^    .*$', '', text, flags=re.M))


def broken_links(path, text):
    for target in re.findall(r'\]\(([^)#\s]+)[^)]*\)', text):
        if '://' not in target and not os.path.exists(os.path.join(os.path.dirname(path), target)):
            yield f'{path} links to {target}, which is not there'


def missing_files(path, text, names):
    for span in spans(text):
        for name in re.findall(r'(?<![\w*])[a-z_][\w/]*\.[ch]\b', span):
            if os.path.basename(name) not in names and not re.search(r'\b(x|NAME|test_NAME|file)\.[ch]$', name):
                yield f'{path} mentions {name}, which is not there'


def missing_names(path, text, code):
    for span in spans(text):
        for name in re.findall(r'\b(?:ks|KS)_\w+', span):
            if name[-1] != '_' and not re.search(r'_[A-Z]+$', name) and name not in code or \
               name.startswith('KS_') and name[-1] != '_' and name not in code:
                yield f'{path} mentions {name}, which no file of src or include has'


def told(line):
    """The pieces of a line that have to be found: what stands around an ellipsis."""
    return [' '.join(part.split()) for part in line.split('…') if len(part.strip()) > 3]


def untrue_snippets(path, text):
    """Each line of a block stands in the file that the paragraph before it links to."""
    section = text.split('## Style, in eight snippets', 1)[1]
    found = re.findall(r'\(\[[^\]]*\]\(([^)]+)\)\):\n\n((?:    .*\n)+)', section)
    if len(found) != 8:
        yield f'{path} has {len(found)} snippets'
    for source, block in found:
        flat = ' '.join(read(source).split())
        for line in block.splitlines():
            for part in told(line):
                if part not in flat:
                    yield f'{path}: {source} has no line "{part}"'


def twice():
    seen = {}
    for path in DOCS:
        for paragraph in re.split(r'\n\n|\n(?=[*|-] )', read(path)):
            flat = ' '.join(paragraph.split())
            # of two that begin alike, one is an old wording of the other
            start = flat[:60]
            if len(flat) > 100 and not flat.startswith('|') and start in seen:
                yield f'{path} has a paragraph that {seen[start]} has too: {start}'
            seen[start] = path


def told_apart():
    """Lists that the docs repeat from the code: what is in one only."""
    lists = {
        'the rules and remarks (docs/checking.md, src/check/check_note.c)': (
            re.findall(r'\[(?:RULE|REMARK)_\w+\] = \{?(?:KS_WORDS\()?"([^"]*)"', read('src/check/check_note.c')),
            [rule for row in re.findall(r'^\| ([^|]*) \| [A-Z]', read('docs/checking.md'), re.M) for rule in row.split(', ')]),
        'the strategies (docs/placing.md, src/pack/search/strategies.c)': (
            re.findall(r'each\((\w+)\)', re.search(r'#define STRATEGIES\(each\)(.*)', read('src/pack/search/strategies.c')).group(1)),
            re.findall(r'^\| (\w+) \|', read('docs/placing.md').split('| strategy |', 1)[1].split('\n\n', 1)[0], re.M)),
        'the linings (docs/files.md, src/fire/physics/materials.c)': (
            re.findall(r'\{"([^"]*)", KS_LINING', ' '.join(read('src/fire/physics/materials.c').split())),
            re.findall(r'`([^`]*)`', re.search(r'hot face first;.*?materials: (.*) \|', read('docs/files.md')).group(1)))}
    for what, (code, docs) in lists.items():
        for name in sorted(set(code) ^ set(docs)):
            yield f'{what}: "{name}" is in one only'
        if not code:
            yield f'{what}: none was found'


def main():
    files = list(tree())
    names = {os.path.basename(path) for path in files}
    code = set(re.findall(r'\b(?:ks|KS)_\w+', ''.join(read(path) for path in files
                                                        if path.startswith(('src/', 'include/')) and path.endswith(('.c', '.h')))))
    texts = [(path, read(path)) for path in DOCS]
    claims = [
        ('what the docs link to is there', [fault for path, text in texts for fault in broken_links(path, text)]),
        ('the files that they mention are there', [fault for path, text in texts for fault in missing_files(path, text, names)]),
        ('the names that they mention are in the code', [fault for path, text in texts for fault in missing_names(path, text, code)]),
        ('the snippets are lines of their files', list(untrue_snippets('DEVELOPERS.md', read('DEVELOPERS.md')))),
        ('lists that they repeat are those of the code', list(told_apart())),
        ('no paragraph stands twice', list(twice())),
    ]
    for number, (claim, faults) in enumerate(claims, 1):
        for fault in faults:
            print('#', fault)
        print('not ok' if faults else 'ok', number, '-', claim)
    print(f'1..{len(claims)}')
    return 1 if any(faults for _, faults in claims) else 0


if __name__ == '__main__':
    sys.exit(main())
