"""Manual pages: section 1 from the program's own table of commands and options, section 5 from docs/files.md and docs/record.md."""
import os
import re

import commands as table
import roff

FILES = {'kiln': ('Kiln', 'a kiln: its chamber, shelves and posts, how it is heated'),
         'order': ('Order', 'an order: what ware, which kilns, by which rules'),
         'ware': ('Ware as CSV', 'ware as a table of a spreadsheet'),
         'plan': ('Plan', 'a plan: what stands where, and what waits'),
         'materials': ('Materials', 'materials of linings and furniture'),
         'schedule': ('Schedule', "a firing's schedule")}


def called(words):
    return ' '.join(('kilnstow', *words))


def page_name(words):
    return '-'.join(('kilnstow', *words))


def options(of):
    for option in of:
        value = ' \\fI%s\\fR' % roff.plain(option['value']) if option['value'] else ''
        yield '.TP'
        yield ', '.join('\\fB%s\\fR' % roff.plain(word) for word in table.spellings(option)) + value
        yield roff.sentence(option['help'])


def list_of(commands):
    for name, of in commands.items():
        yield '.TP'
        yield '\\fB%s\\fR' % roff.plain(name)
        yield roff.sentence(of['short'])


def see_also(pages):
    return '.SH SEE ALSO\n' + '\n'.join('.BR %s (%s)' % tuple(page.rsplit('.', 1)) for page in pages) + '\n'


def examples_in(head):
    """Of what an overview begins with, the command lines."""
    return [line.strip() for line in head.split('\n') if line.startswith('  ')]


def group_page(words, of, below, version):
    """Of a command that has commands below it."""
    text = roff.page(page_name(words), 1, version, of['short'] if words else 'plans the load of a ceramics kiln')
    text += '.SH SYNOPSIS\n\\fB%s\\fR \\fICOMMAND\\fR ...\n.SH COMMANDS\n' % called(words)
    text += '\n'.join(list_of(below)) + '\n'
    text += '.SH EXAMPLES\n' + '\n'.join(roff.code(['    ' + line for line in examples_in(of['head'])])) + '\n'
    return text


def command_page(words, of, version):
    text = roff.page(page_name(words), 1, version, of['does'])
    text += '.SH SYNOPSIS\n\\fB%s\\fR [\\fIOPTIONS\\fR] \\fI%s\\fR\n' % (called(words), roff.plain(of['takes']))
    if words == ('check',):
        text += '.PP\n\\fBkilnstow\\-check\\fR \\fIPLAN\\fR\n'
    text += '.SH OPTIONS\n' + '\n'.join(options(of['options'])) + '\n'
    if of['notes']:
        text += '.SH NOTES\n' + '\n'.join('.PP\n' + roff.sentence(part) for part in of['notes'].split('\n\n')) + '\n'
    if words == ('check',):
        text += '.PP\n\\fBkilnstow\\-check\\fR is the same in a program of its own, in which nothing that plans takes part.\n'
    text += '.SH EXAMPLES\n' + '\n'.join(roff.code(['    ' + line.strip() for line in of['examples'].split('\n')])) + '\n'
    return text + see_also([page_name(words[:-1]) + '.1', 'kilnstow-files.5'])


def main_page(of, below, docs, version):
    told = open(os.path.join(docs, 'commands.md'), encoding='utf-8').read()
    text = group_page((), of, below, version)
    text += '.SH EXIT STATUS\n' + roff.body(roff.section_of(told, 'Exit statuses'))
    text += '.SH OUTPUT\n' + roff.body(roff.section_of(told, 'Where output goes'))
    text += '.SH ENVIRONMENT\n' + '\n'.join(
        '.TP\n\\fB%s\\fR\n%s' % pair for pair in (
            ('KILNSTOW_LANGUAGE', 'the language of answers and sheets: en or de'),
            ('SOURCE_DATE_EPOCH', 'seconds since 1970 that stand for now in what is written, so that it repeats'),
            ('TMPDIR', 'where a plan goes that can be written nowhere else'))) + '\n'
    return text + see_also([page_name((name,)) + '.1' for name in below] + ['kilnstow-files.5'])


def file_pages(docs, version):
    told = open(os.path.join(docs, 'files.md'), encoding='utf-8').read()
    others = ['kilnstow-%s.5' % name for name in ('files', *FILES, 'book')]
    intro = re.match(r'# [^\n]*\n(.*?)^## ', told, re.M | re.S).group(1)
    yield 'kilnstow-files.5', roff.page('kilnstow-files', 5, version, 'what all files of kilnstow share') + \
        '.SH DESCRIPTION\n' + roff.body(intro) + see_also(others[1:])
    for name, (heading, does) in FILES.items():
        yield 'kilnstow-%s.5' % name, roff.page('kilnstow-' + name, 5, version, does) + \
            '.SH DESCRIPTION\n' + roff.body(roff.section_of(told, heading)) + see_also(['kilnstow.1', 'kilnstow-files.5'])
    record = open(os.path.join(docs, 'record.md'), encoding='utf-8').read().split('\n', 1)[1]
    yield 'kilnstow-book.5', roff.page('kilnstow-book', 5, version, "the studio's record") + '.SH DESCRIPTION\n' + \
        roff.body(record) + see_also(['kilnstow-log.1'])


def all_pages(head, commands, docs, version):
    """{name: text} of each page."""
    pages = {'kilnstow.1': main_page(head, table.below(commands), docs, version)}
    for words, of in commands.items():
        below = table.below(commands, *words)
        pages[page_name(words) + '.1'] = command_page(words, of, version) if not below else group_page(
            words, of, below, version) + see_also([page_name((*words, name)) + '.1' for name in below])
    return {**pages, **dict(file_pages(docs, version))}
