#!/usr/bin/env python3
"""Message catalogues: reads GNU PO files, and makes one C table of them. Usage: catalogue.py OUT.c LANGUAGE.po...
`catalogue.py page OUT.js LANGUAGE.po FILE.js...` makes the module of what the page itself says in one language.

A PO file holds, for each message of the sources, what is said instead in its language (GNU gettext manual, chapter "The
Format of PO Files"). Beside the languages the table has `qaa`, a code that ISO 639 leaves to private use: English with an
accent on each vowel, by which a test finds what is said without the table."""
import json
import os
import re
import sys

ESCAPES = {'n': '\n', 't': '\t', 'r': '\r', '"': '"', "'": "'", '?': '?', '\\': '\\'}
CONVERSION = re.compile(r'%(?:(\d+)\$)?([-+#0\']*)(\*|\d+)?(?:\.(\*|\d+))?(hh|h|ll|l|j|z|t|L)?([a-zA-Z%])')


class Message:
    def __init__(self):
        self.id, self.many, self.said, self.flags, self.files, self.line = '', None, {}, set(), [], 0


def unquoted(text):
    return re.sub(r'\\(x[0-9A-Fa-f]+|.)', lambda m: ESCAPES.get(m.group(1), '?'), text)


def quoted(text):
    for letter, sign in (('\\', '\\'), ('"', '"'), ('n', '\n'), ('t', '\t'), ('r', '\r')):
        text = text.replace(sign, '\\' + letter)
    return f'"{text}"'


def read(path):
    """The messages of a PO file in its order; that of the empty id is its heading."""
    messages, message, into = [], Message(), None
    for number, line in enumerate(open(path, encoding='utf-8'), 1):
        line = line.strip()
        keyword = re.match(r'(msgid_plural|msgid|msgstr)(?:\[(\d)\])?\s+"', line)
        if line.startswith('#') or not line:
            if into is not None:
                messages.append(message)
                message, into = Message(), None
            if line.startswith('#,'):
                message.flags |= {flag.strip() for flag in line[2:].split(',')}
            elif line.startswith('#:'):
                message.files += line[2:].split()
            continue
        if keyword:
            if keyword.group(1) == 'msgid' and into is not None:
                messages.append(message)
                message = Message()
            into = (keyword.group(1), int(keyword.group(2) or 0))
            message.line = message.line or number
        found = re.match(r'[^"]*"((?:[^"\\]|\\.)*)"$', line)
        if not found or into is None:
            raise SystemExit(f'{path}:{number}: found "{line}"; a line is msgid, msgid_plural, msgstr or more of their text')
        text = unquoted(found.group(1))
        if into[0] == 'msgid':
            message.id += text
        elif into[0] == 'msgid_plural':
            message.many = (message.many or '') + text
        else:
            message.said[into[1]] = message.said.get(into[1], '') + text
    if into is not None:
        messages.append(message)
    return messages


def figures(text):
    """What a message has in braces, to be put in by name, in any order."""
    return sorted(re.findall(r'\{\w+\}', text))


def plural_rule(heading):
    """How many forms a language has, and the C expression that chooses one for n."""
    found = re.search(r'Plural-Forms:\s*nplurals=(\d);\s*plural=([-n0-9 ()?:<>=!%&|+*/]+);', heading)
    return (int(found.group(1)), found.group(2)) if found else (0, '')


def arguments(text):
    """The types of a format's arguments in the order in which they are handed in; None where it mixes two ways."""
    types, numbered, at = {}, set(), 0
    for position, _, width, precision, size, kind in CONVERSION.findall(text):
        if kind == '%':
            continue
        for star in (width, precision):
            if star == '*':
                at += 1
                types[at] = 'int'
        numbered.add(bool(position))
        at += 1
        types[int(position) if position else at] = (size, 'd' if kind in 'di' else 'f' if kind in 'feEgG' else kind)
    if len(numbered) > 1:
        return None
    return types


def slips(path, messages):
    """What is wrong with the form of a catalogue, whatever the sources say."""
    heading = next((m.said.get(0, '') for m in messages if not m.id), '')
    forms, _ = plural_rule(heading)
    if forms == 0:
        yield f'{path}: its heading has no Plural-Forms'
    seen = set()
    for m in messages:
        where = f'{path}:{m.line}: "{m.id}"'
        if m.id in seen:
            yield f'{where} stands here twice'
        seen.add(m.id)
        if not m.id:
            continue
        if m.many is not None and any(m.said.values()) and sorted(m.said) != list(range(forms)):
            yield f'{where} needs {forms} forms'
        for text in m.said.values():
            if text and 'c-format' in m.flags and arguments(text) != arguments(m.many or m.id):
                yield f'{where}: "{text}" takes other arguments; their order may change by %2$s'
            if text and figures(text) != figures(m.id):
                yield f'{where}: "{text}" names other figures'
            if text and (text[-1:] == '\n') != (m.id[-1:] == '\n'):
                yield f'{where}: one ends its line, the other does not'


def accented(text):
    """English with an accent on each vowel outside conversions and the names of figures."""
    accents = str.maketrans('aeiouyAEIOUY', 'áéíóúýÁÉÍÓÚÝ')
    parts, at = [], 0
    for found in re.finditer(CONVERSION.pattern + r'|\{\w+\}', text):
        parts += [text[at:found.start()].translate(accents), found.group()]
        at = found.end()
    return ''.join(parts) + text[at:].translate(accents)


def c_table(code, rule, rows):
    rows = sorted(rows, key=lambda row: row[0].encode()) or [('', [''])]
    yield f'static int form_{code}(unsigned long n)\n{{\n    return (int)({rule});\n}}\n'
    yield f'static const ks_said messages_{code}[] = {{'
    for message, said in rows:
        yield f'    {{{quoted(message)}, {{{", ".join(quoted(text) for text in said)}}}}},'
    yield '};\n'


def c_source(paths):
    tables, listed = [], []
    known = {}
    for path in paths:
        code = os.path.splitext(os.path.basename(path))[0]
        messages = [m for m in read(path) if not m.files or any(not name.startswith('src/web/page/') for name in m.files)]
        wrong = list(slips(path, messages))
        if wrong:
            raise SystemExit('\n'.join(wrong))
        for m in messages:
            if m.id:
                known[m.id] = [accented(text) for text in ([m.id] if m.many is None else [m.id, m.many])]
        heading = next(m.said[0] for m in messages if not m.id)
        rows = [(m.id, [m.said[i] for i in sorted(m.said)]) for m in messages
                if m.id and all(m.said.values()) and m.said and 'fuzzy' not in m.flags]
        tables += c_table(code, plural_rule(heading)[1], rows)
        listed.append((code, max(1, len(rows))))
    tables += c_table('qaa', 'n != 1', list(known.items()))
    listed.append(('qaa', max(1, len(known))))
    yield '#include "base/language_table.h"\n'
    yield from tables
    yield 'const ks_catalogue ks_catalogues[] = {'
    for code, n in listed:
        yield f'    {{"{code}", {n}, messages_{code}, form_{code}}},'
    yield '};\n'
    yield f'const int ks_n_catalogues = {len(listed)};'
    codes = ', '.join(['en'] + [code for code, _ in listed if code != 'qaa'])
    yield f'const char ks_catalogue_codes[] = "{codes}";'


# What the page says: the text of tr("…"), both of tr_count(n, "…", "…").
TEXT = r'"((?:[^"\\]|\\.)*)"'
SAID_BY_PAGE = re.compile(rf'\btr\(\s*{TEXT}|\btr_count\((?:[^()"]|\((?:[^()]|\([^()]*\))*\))*,\s*{TEXT},\s*{TEXT}')


def page_messages(text):
    """The messages of one of the page's modules in their order."""
    return [json.loads(f'"{part}"') for found in SAID_BY_PAGE.finditer(text) for part in found.groups() if part is not None]


def page_source(path, modules):
    said = {m.id: m.said[0] for m in read(path) if m.id and m.said.get(0)}
    wanted = {message for module in modules for message in page_messages(open(module, encoding='utf-8').read())}
    lines = [f'  {json.dumps(message, ensure_ascii=False)}: {json.dumps(said[message], ensure_ascii=False)},'
             for message in sorted(wanted) if message in said]
    return '\n'.join(['export const said = {'] + lines + ['};'])


def main(out, *paths):
    if out == 'page':
        out, text = paths[0], page_source(paths[1], paths[2:]) + '\n'
    else:
        text = '\n'.join(c_source(paths)) + '\n'
    with open(out, 'w', encoding='utf-8') as file:
        file.write(text)


if __name__ == '__main__':
    main(*sys.argv[1:])
