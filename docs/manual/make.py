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
    if set(made) != wanted:
        raise SystemExit('docs/meson.build installs other files than are made: %s' % sorted(set(made) ^ wanted))
    for name, text in made.items():
        with open(os.path.join(output, name), 'w', encoding='utf-8') as file:
            file.write(text)


if __name__ == '__main__':
    main(*sys.argv[1:])
