"""Makes what is installed beside the program from the table that the program itself tells: manual pages and completions.
usage: make.py PROGRAM VERSION DOCS-FOLDER OUTPUT-FOLDER FILE...     (its files, of which the names count)"""
import os
import sys

sys.dont_write_bytecode = True
import commands as table
import completions
import pages


def main(program, version, docs, output, *wanted):
    told = table.all_commands(program)
    made = {**pages.all_pages(table.told(program), told, docs, version), **completions.all_completions(told)}
    wanted = {os.path.basename(path) for path in wanted}
    if wanted - set(made):
        raise SystemExit('docs/meson.build asks for %s, of which the program tells nothing' % sorted(wanted - set(made)))
    for name in wanted:
        with open(os.path.join(output, name), 'w', encoding='utf-8') as file:
            file.write(made[name])


if __name__ == '__main__':
    main(*sys.argv[1:])
