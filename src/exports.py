"""The names that the shared library lets others link with: all that its public headers declare.
usage: exports.py OUTPUT VERSION HEADER...

Writes a version script for the linker; what is declared nowhere there stays the library's own."""
import re
import sys

COMMENT = re.compile(r'/\*.*?\*/', re.S)
FUNCTION = re.compile(r'^[A-Za-z][\w *]*?\b(ks_\w+)\(', re.M)
OBJECT = re.compile(r'^extern [\w *]*?\b(ks_\w+)(?:\[\w*\])?;', re.M)


def declared(header):
    with open(header, encoding='utf-8') as file:
        text = COMMENT.sub('', file.read())
    return FUNCTION.findall(text) + OBJECT.findall(text)


def main(output, version, headers):
    names = sorted({name for header in headers for name in declared(header)})
    with open(output, 'w', encoding='utf-8') as file:
        file.write('KILNSTOW_%s {\nglobal:\n%s\nlocal:\n    *;\n};\n'
                   % (version, '\n'.join('    %s;' % name for name in names)))


if __name__ == '__main__':
    main(sys.argv[1], sys.argv[2], sys.argv[3:])
