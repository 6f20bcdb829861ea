#!/usr/bin/env python3
"""What the program says, and what it says in other languages. Usage, from the project's top folder:

  messages.py           compares the messages of the sources with each catalogue, src/words/*.po
  messages.py update    brings the catalogues up to date: new messages come in without a translation, gone ones go

A message is a format of a function that is declared with the attribute `format`, and any text handed to it besides; what is
handed to ks_tr, ks_tr_count or KS_WORDS; and every other text of several words, but for what is listed as SILENT. What the
page says is handed to tr and tr_count in its modules, src/web/page/*.js."""
import collections
import os
import pathlib
import re
import sys
import tempfile

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'src', 'words'))
import catalogue  # noqa: E402

# Functions that pass texts to ks_tr: which arguments, from 1.
TAKERS = {'ks_tr': [1], 'ks_tr_count': [2, 3], 'ks_say_count': [2, 3], 'KS_WORDS': [1]}
# Rooms and files whose texts are read by programs, or are sources of figures.
SILENT = re.compile(r'^src/(draw/scene/|words/|app/curve_file|base/data/json_out|base/unit|base/number|base/language|cli/frame/plain|web/gate|web/reply|web/command_call|web/folder|web/drag\.c|web/embed_page|web/page_file|'
                    r'base/money_text|book/schema_steps|fire/physics/materials\.c)')
# What takes texts of several words that nobody reads.
SILENT_TAKERS = re.compile(r'^(str\w*|KS_FIELD\w*|ks_json_get|ks_words_find|ks_word_among|ks_out_\w+|ks_json_parse|PROPERTY|getenv|'
                           r'element|ks_text_add|ks_fd_write|put_line|number|static_assert|__attribute__|fopencookie|perror|'
                           r'ks_reply\w*|ks_joined|ks_book_(do|prepare)|sqlite3_\w+|ask_text|ask_number)$')
# Formats that make keys, file names and markup, not words.
MARKUP = re.compile(r'^[\w%.,$*@:-]+$|^<|^ data-|^\[\{"id": "espresso|^kiln %\.0f x|^BEGIN:|^DTSTART')
TOKEN = re.compile(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\])*"|\'(?:\\.|[^\'\\])*\'|[A-Za-z_]\w*|\S', re.S)
DECLARED = re.compile(r'(\w+)\([^;{}]*?\)\s*__attribute__\(\(format\(printf, (\d+), \d+\)\)\)')


def sources():
    return sorted(str(path) for folder in ('src', 'include') for path in pathlib.Path(folder).rglob('*.[ch]'))


def takers(texts):
    """Which arguments of which functions are messages: {name: [position]}."""
    found = dict(TAKERS)
    for text in texts.values():
        for name, position in DECLARED.findall(text):
            found[name] = [int(position)]
    found.update({'printf': [1], 'fprintf': [2]})
    found.pop('ks_print_plain', None)
    return found


def has_words(text):
    return re.search(r'[A-Za-z]{2}', catalogue.CONVERSION.sub('', text)) is not None


def literals(text):
    """Each text of C source as (line, enclosing function or bracket, its argument's position, text)."""
    text = re.sub(r'^[ \t]*#[ \t]*include[^\n]*', '', text, flags=re.M)
    tokens = [(m.start(), m.group()) for m in TOKEN.finditer(text) if not m.group().startswith(('/*', '//'))]
    stack, before, i = [], '', 0
    while i < len(tokens):
        at, token = tokens[i]
        if token in '({[':
            named = re.match(r'\w', before) and before not in ('return', 'if', 'for', 'while', 'sizeof')
            stack.append([before if token == '(' and named else token, 1])
        elif token in ')}]' and stack:
            stack.pop()
        elif token == ',' and stack:
            stack[-1][1] += 1
        elif token[0] == '"':
            whole = ''
            while i < len(tokens) and tokens[i][1][0] == '"':
                whole += catalogue.unquoted(tokens[i][1][1:-1])
                i += 1
            # a bracket without a name belongs to what stands around it
            level = next((k for k in range(len(stack) - 1, -1, -1) if stack[k][0] != '('), -1)
            inner = stack[level] if level >= 0 else ['', 0]
            yield text.count('\n', 0, at) + 1, inner[0], inner[1], whole
            before = '"'
            continue
        before = token
        i += 1


# Words that files hold and people are told.
VALUES = ('oxidation|reduction|displaced|unsuited|set|apart|mass|parts|thrown|outline|round|rectangular|clay|wall|worth|profile|'
          'bays|power|volts|vent|leak|casing|fuel|lining|chamber|kiln|peephole|sensor|bag wall|flue|YES|NO').split('|')


def is_message(name, function, position, said, taking):
    if function in TAKERS:
        return position in TAKERS[function] and has_words(said)
    if not has_words(said) or said in ('CONFIRMED', 'TENTATIVE') or MARKUP.match(said) and position in taking.get(function, [0])[:1]:
        return False
    if function in taking:
        return position >= taking[function][0] and not MARKUP.match(said) or position > taking[function][0]
    several = re.search(r"[A-Za-z0-9,:;.)'] [A-Za-z(]|^[ ,;:(][ a-z]*[a-z]{2}|[a-z]{2} $", said) and not re.search(r'\w\|\w', said.replace('kilns|cones|materials', ''))
    return several and not SILENT_TAKERS.match(function) and not MARKUP.match(said)


def messages():
    """{message: (form for many or None, is a format, [file])}, by their texts."""
    texts = {name: open(name, encoding='utf-8').read() for name in sources()}
    taking = takers(texts)
    found = collections.OrderedDict((word, [None, '%' in word, ['src/studio']]) for word in VALUES)
    for name, text in texts.items():
        if SILENT.match(name):
            continue
        one = None
        for _, function, position, said in literals(text):
            if not is_message(name, function, position, said, taking):
                continue
            if function in ('ks_tr_count', 'ks_say_count') and position == 3:
                found[one][0] = said
                continue
            one = said
            of = found.setdefault(said, [None, False, []])
            of[1] = of[1] or bool(catalogue.arguments(said))
            if name not in of[2]:
                of[2].append(name)
    add_page(found)
    return found


def page_modules():
    names = sorted(str(path) for path in pathlib.Path('src/web/page').rglob('*.js'))
    return {name: open(name, encoding='utf-8').read() for name in names}


def add_page(found):
    for name, text in page_modules().items():
        for said in catalogue.page_messages(text):
            of = found.setdefault(said, [None, False, []])
            of[1] = of[1] or '%s' in said
            if name not in of[2]:
                of[2].append(name)


def page_slips():
    """Calls of tr whose text is not written where it is said, so that nobody can find it."""
    for name, text in page_modules().items():
        if name.endswith('/words.js'):
            continue
        calls = len(re.findall(r'\btr(?:_count)?\(', text))
        read = len(catalogue.SAID_BY_PAGE.findall(text))
        if calls != read:
            yield f'{name}: {calls - read} of its {calls} calls of tr hand it no text between quotes'


def entry(message, many, is_format, files, said):
    yield '#: ' + ' '.join(sorted(files))
    if is_format:
        yield '#, c-format'
    yield from wrapped('msgid', message)
    if many is None:
        yield from wrapped('msgstr', said.get(0, ''))
        return
    yield from wrapped('msgid_plural', many)
    for form in range(max(2, len(said))):
        yield from wrapped(f'msgstr[{form}]', said.get(form, ''))


def wrapped(keyword, text):
    """A text with line ends in it stands line by line."""
    lines = re.findall(r'[^\n]*\n|[^\n]+', text)
    if len(lines) < 2:
        yield f'{keyword} {catalogue.quoted(text)}'
        return
    yield f'{keyword} ""'
    yield from (catalogue.quoted(line) for line in lines)


def update(path, wanted):
    had = {m.id: m for m in catalogue.read(path)}
    head = open(path, encoding='utf-8').read().split('\n\n')[0]
    parts = [head]
    for message in sorted(wanted, key=lambda text: (text.lower(), text)):
        many, is_format, files = wanted[message]
        said = had[message].said if message in had else {}
        parts.append('\n'.join(entry(message, many, is_format, files, said)))
    with open(path, 'w', encoding='utf-8') as file:
        file.write('\n\n'.join(parts) + '\n')


def compare(path, wanted):
    """What is wrong with a catalogue: (slips of its own, messages without a translation, entries nobody says)."""
    had = catalogue.read(path)
    slips = list(catalogue.slips(path, had)) + [f'{path}:{m.line}: "{m.id}" is fuzzy' for m in had if 'fuzzy' in m.flags]
    said = {m.id for m in had if m.said and all(m.said.values())}
    missing = [message for message in wanted if message not in said]
    gone = [m.id for m in had if m.id and m.id not in wanted]
    return slips, missing, gone


MALFORMED = '''msgid ""
msgstr "Plural-Forms: nplurals=2; plural=n != 1;\\n"

#, c-format
msgid "%d of %s"
msgstr "%s von %d"

#, c-format
msgid "%s, %d"
msgstr "%2$d, %1$s"

#, c-format
msgid "%d load"
msgid_plural "%d loads"
msgstr[0] "%d Besatz"

msgid "by {by} of {kiln}"
msgstr "um {by} von {klin}"

msgid "{a} and {b}"
msgstr "{b} und {a}"

msgid "end\\n"
msgstr "Ende"

msgid "end\\n"
msgstr ""
'''


def refuses_malformed(number):
    """Swapped arguments, one form of two, a lost figure, a lost line end, a message twice; not arguments in another order."""
    with tempfile.NamedTemporaryFile('w', suffix='.po', encoding='utf-8') as file:
        file.write(MALFORMED)
        file.flush()
        found = list(catalogue.slips('de.po', catalogue.read(file.name)))
    wanted = ['takes other arguments', 'needs 2 forms', 'names other figures', 'ends its line', 'stands here twice']
    good = len(found) == len(wanted) and all(part in text for part, text in zip(wanted, found))
    print(f'{"ok" if good else "not ok"} {number} - a malformed catalogue is refused', '' if good else f'# {found}')
    return int(not good)


def main():
    wanted = messages()
    paths = sorted(os.path.join('src/words', name) for name in os.listdir('src/words') if name.endswith('.po'))
    if sys.argv[1:] == ['update']:
        for path in paths:
            update(path, wanted)
        return 0
    print(f'1..{len(paths) + 2}')
    bad = refuses_malformed(1)
    for number, path in enumerate(paths, 2):
        slips, missing, gone = compare(path, wanted)
        for text in slips:
            print(f'# {text}')
        for text in missing:
            print(f'# {path}: nothing is said for "{catalogue.quoted(text)[1:-1]}" ({wanted[text][2][0]})')
        for text in gone:
            print(f'# {path}: no source says "{catalogue.quoted(text)[1:-1]}" any more')
        if missing or gone:
            print(f'# python3 tests/messages.py update, then write what is said in {path}')
        wrong = bool(slips or missing or gone)
        bad += wrong
        print(f'{"not ok" if wrong else "ok"} {number} - {path}: {len(wanted)} messages, {len(missing)} missing, {len(gone)} gone')
    unread = list(page_slips())
    bad += bool(unread)
    for text in unread:
        print(f'# {text}')
    print(f'{"not ok" if unread else "ok"} {len(paths) + 2} - every text of the page can be found')
    return 1 if bad else 0


if __name__ == '__main__':
    sys.exit(main())
