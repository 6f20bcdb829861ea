"""Completion of commands, options and files for bash, zsh and fish, from the program's own table."""
import commands as table


def quoted(text):
    """For all three shells."""
    return "'%s'" % text.replace("'", "'\\''")


def leaves(commands):
    return {words: of for words, of in commands.items() if 'commands' not in of}


def groups(commands):
    """Of each command with commands below it, and of the program: their names."""
    return {words: table.below(commands, *words) for words in ((), *(w for w, of in commands.items() if 'commands' in of))}


def having_value(of, is_file):
    return ' '.join(word for option in of['options'] if option['value'] and table.names_file(option['value']) == is_file
                    for word in table.spellings(option))


BASH = """# Completion of kilnstow for bash; made from the program's table of options.
_kilnstow() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} at=1 command= options= files= values= plain=
    COMPREPLY=()
    case "${COMP_WORDS[1]}" in
%(groups)s    esac
    if ((COMP_CWORD > at)); then command="${COMP_WORDS[*]:1:at}"; else command="${COMP_WORDS[*]:1:COMP_CWORD-1}"; fi
    case "$command" in
%(cases)s    *) return ;;
    esac
    if [[ " $files " == *" $before "* ]]; then
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
    elif [[ " $values " == *" $before "* ]]; then
        return
    elif [[ $word == -* ]]; then
        mapfile -t COMPREPLY < <(compgen -W "$options" -- "$word")
    else
        mapfile -t COMPREPLY < <(compgen -W "$plain" -- "$word"; ((COMP_CWORD <= at)) || compgen -f -- "$word")
    fi
}
complete -o filenames -F _kilnstow kilnstow
"""


def bash(commands):
    inner = [words[0] for words in groups(commands) if words]
    cases = ['    %s) plain="%s" ;;' % (quoted(' '.join(words)), ' '.join(below)) for words, below in groups(commands).items()]
    for words, of in leaves(commands).items():
        cases += ['    %s)' % quoted(' '.join(words)),
                  '        options="%s"' % ' '.join('--' + option['name'] for option in of['options']),
                  '        files="%s" values="%s"' % (having_value(of, True), having_value(of, False)),
                  '        plain="%s"' % ' '.join(table.written_words(of['takes'])), '        ;;']
    return BASH % {'groups': ''.join('    %s) at=2 ;;\n' % name for name in inner), 'cases': '\n'.join(cases) + '\n'}


ZSH = """#compdef kilnstow
# Completion of kilnstow for zsh; made from the program's table of options.
_kilnstow() {
    local command=$words[2] at=2
    case $command in
%(groups)s    esac
    if ((CURRENT <= at)); then
        case "${words[2,CURRENT-1]}" in
%(names)s        esac
        return
    fi
    shift $((at - 1)) words
    ((CURRENT -= at - 1))
    case $command in
%(cases)s    esac
}
_kilnstow "$@"
"""


def zsh_option(option):
    help_text = option['help'].replace('\\', '\\\\').replace('[', '\\[').replace(']', '\\]').replace(':', '\\:')
    value = ''
    for name in (option['value'] or '').split()[:option['values']]:
        value += ':%s:%s' % (name.replace(':', '\\:'), '_files' if table.names_file(name) else ' ')
    many = '*' if option['again'] else ''
    return [quoted(many + word + '[' + help_text + ']' + value) for word in table.spellings(option)]


def zsh(commands):
    names = []
    for words, below in groups(commands).items():
        told = ' '.join(quoted('%s:%s' % (name, of['short'].replace(':', '\\:'))) for name, of in below.items())
        names.append('        %s) local -a known=(%s); _describe command known ;;' % (quoted(' '.join(words)), told))
    cases = []
    for words, of in leaves(commands).items():
        plain = table.written_words(of['takes'])
        rest = quoted('1: :(%s)' % ' '.join(plain)) + ' ' if plain else ''
        lines = [' '.join(zsh_option(option)) for option in of['options']]
        cases.append('    %s)\n        _arguments -s \\\n            %s \\\n            %s%s ;;' % (
            quoted(' '.join(words)), ' \\\n            '.join(lines), rest, quoted('*: :_files')))
    inner = ''.join('    %s) command="$words[2,3]" at=3 ;;\n' % words[0] for words in groups(commands) if words)
    return ZSH % {'groups': inner, 'names': '\n'.join(names) + '\n', 'cases': '\n'.join(cases) + '\n'}


FISH = """# Completion of kilnstow for fish; made from the program's table of options.
function __kilnstow_at
    set -l words (commandline -opc)
    test (count $words) -gt (count $argv); and test "$words[2.."(math 1 + (count $argv))"]" = "$argv"
end
"""


def fish_condition(words, exactly):
    """Behind these words: right behind them, or anywhere."""
    if exactly:
        return "test (count (commandline -opc)) -eq %d%s" % (len(words) + 1, '; and __kilnstow_at ' + ' '.join(words) if words else '')
    return '__kilnstow_at ' + ' '.join(words)


def fish_option(words, option):
    line = 'complete -c kilnstow -n %s -l %s' % (quoted(fish_condition(words, False)), option['name'])
    line += ' -s ' + option['letter'] if option['letter'] else ''
    if option['value']:
        line += ' -r' + (' -F' if table.names_file(option['value']) else ' -f')
    return line + ' -d ' + quoted(option['help'])


def fish(commands):
    lines = []
    for words, below in groups(commands).items():
        lines += ['complete -c kilnstow -f -n %s -a %s -d %s' % (quoted(fish_condition(words, True)), name, quoted(of['short']))
                  for name, of in below.items()]
    for words, of in leaves(commands).items():
        plain = table.written_words(of['takes'])
        if plain:
            lines.append('complete -c kilnstow -n %s -a %s' % (quoted(fish_condition(words, True)), quoted(' '.join(plain))))
        lines += [fish_option(words, option) for option in of['options']]
    return FISH + '\n'.join(lines) + '\n'


def all_completions(commands):
    """{name: text} of each shell's file, named as the shell looks for it."""
    return {'kilnstow': bash(commands), '_kilnstow': zsh(commands), 'kilnstow.fish': fish(commands)}
