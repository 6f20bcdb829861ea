"""What the program tells of its commands, each with its options: the one table that pages and completions are made from."""
import json
import subprocess


def told(program, *words):
    got = subprocess.run([program, *words, '--help', '--json'], capture_output=True, text=True, check=True)
    return json.loads(got.stdout)['result']


def all_commands(program, *before):
    """{('place',): its table, ('log',): {..., 'commands': [...]}, ('log', 'add'): its table}, in the program's order."""
    found = {}
    for entry in told(program, *before)['commands']:
        words = (*before, entry['name'])
        table = told(program, *words)
        found[words] = {**table, 'short': entry['does']}
        if 'commands' in table:
            found.update(all_commands(program, *words))
    return found


def below(commands, *before):
    """The commands right below these words."""
    return {words[-1]: table for words, table in commands.items() if words[:-1] == before}


def spellings(option):
    return (['-' + option['letter']] if option['letter'] else []) + ['--' + option['name']]


def names_file(value):
    """Whether a value called so in help is a file's name."""
    return value is not None and value.split()[0].split('.')[0] in ('FILE', 'PLAN', 'ORDER', 'DIR', 'FOLDER', 'FONT')


def written_words(takes):
    """Plain arguments that are to be written as they stand: "kilns|cones|materials, ware ORDER" has four."""
    return [word for word in takes.replace('|', ' ').replace(',', ' ').split() if word.isalpha() and word.islower() and word != 'or']
