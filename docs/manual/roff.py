"""From the Markdown of docs/ to the language of manual pages: headings, paragraphs, tables of two columns, lists, blocks of code."""
import re


def plain(text):
    """As roff takes it for what it is."""
    text = text.replace('\\', '\\e').replace('-', '\\-')
    return '\\&' + text if text[:1] in ('.', "'") else text


def inline(text):
    """`code` and **words** in bold, [links](there) as their words."""
    text = re.sub(r'!?\[([^\]]*)\]\([^)]*\)', r'\1', text)
    parts = re.split(r'(`[^`]*`|\*\*[^*]+\*\*)', text)
    return ''.join('\\fB%s\\fR' % plain(part.strip('`*')) if part[:1] in '`*' and part else plain(part) for part in parts)


def sentence(text):
    text = inline(' '.join(text.split()))
    return '\\&' + text if text[:1] in ('.', "'") else text


def cells(line):
    return [cell.strip().replace('\\|', '|') for cell in re.split(r'(?<!\\)\|', line.strip().strip('|'))]


def table(lines):
    """A row is a term, its last cell what it means; head and rule are left out."""
    for line in lines[2:]:
        *terms, last = cells(line)
        yield '.TP'
        yield sentence(' '.join(terms))
        yield sentence(last)


def code(lines):
    return ['.PP', '.RS 4', '.EX', *('\\&' + plain(line[4:]) for line in lines), '.EE', '.RE']


def item(lines):
    return ['.IP \\(bu 2', sentence(' '.join(lines)[1:])]


def blocks(text):
    """Runs of lines between blanks; the lines of a list each begin a new one."""
    for block in re.split(r'\n[ \t]*\n', text.strip('\n')):
        found = []
        for line in block.split('\n'):
            if found and (re.match(r'[-*] ', line) or line.startswith('#') or found[-1].startswith('#')):
                yield found
                found = []
            found.append(line)
        yield found


def body(text):
    """The roff of Markdown without its first heading."""
    lines = []
    for block in blocks(text):
        first = block[0]
        if first.startswith('#'):
            lines += ['.SS ' + inline(first.lstrip('# '))]
        elif first.startswith('|'):
            lines += table(block)
        elif first.startswith('    '):
            lines += code(block)
        elif re.match(r'[-*] ', first):
            lines += item(block)
        elif not first.startswith('!['):
            lines += ['.PP', sentence(' '.join(block))]
    return '\n'.join(lines) + '\n'


def page(name, section, version, does):
    """How every page begins."""
    return '.TH %s %d "" "kilnstow %s" "kilnstow"\n.nh\n.ad l\n.SH NAME\n%s \\- %s\n' % (name.upper(), section, version, plain(name), inline(does))


def section_of(markdown, heading):
    """What stands below a heading of the second order, up to the next."""
    found = re.search(r'^## %s[^\n]*\n(.*?)(?=^## |\Z)' % re.escape(heading), markdown, re.M | re.S)
    if not found:
        raise SystemExit('no heading "## %s"' % heading)
    return found.group(1)
