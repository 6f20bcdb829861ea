#!/bin/sh
# The house's order: short functions, a tidy top folder, no left-over words, scripts that parse,
# data files that are pretty. Run from the project's top folder.
set -u
work=$(mktemp -d) || exit 4
trap 'rm -rf "$work"' EXIT
tests=0
bad=0

told() { # NAME FILE-OF-FAULTS: one TAP line
    tests=$((tests + 1))
    if [ -s "$2" ]; then
        bad=1
        sed 's/^/# /' "$2"
        echo "not ok $tests - $1"
    else
        echo "ok $tests - $1"
    fi
}

# Every file of the project, without what building and the examples make.
find . -path ./.git -prune -o -path './build*' -prune -o -path ./examples/out -prune -o -type f -print |
    sed 's|^\./||' | sort >"$work/files"

# Functions.
if ctags --version 2>/dev/null | grep -q 'Universal Ctags'; then
    grep '\.[ch]$' "$work/files" | ctags -L - -f - --fields=+ne --kinds-C=f --languages=C |
        awk -F '\t' '!/^!/ {
            line = end = 0
            for (i = 4; i <= NF; i++) {
                if ($i ~ /^line:/) line = substr($i, 6)
                if ($i ~ /^end:/) end = substr($i, 5)
            }
            print end - line + 1, $2 ":" line, $1 }' >"$work/functions"
    awk '$1 > 60 { print $3 " at " $2 " is " $1 " lines long" }' "$work/functions" >"$work/long"
    [ -s "$work/functions" ] || echo "ctags found no function" >>"$work/long"
    grep ' src/' "$work/functions" | sort -n | awk '{ n[NR] = $1 }
        END { m = n[int((NR + 1) / 2)]; if (m > 12) print "the median function has " m " lines"
              t = n[int((NR * 9 + 9) / 10)]; if (t > 22) print "one function in ten has more than " t - 1 " lines" }' \
        >"$work/median"
else
    echo "universal-ctags is not installed: nothing was measured" >"$work/long"
    cp "$work/long" "$work/median"
fi
told "no function is longer than 60 lines" "$work/long"
told "half of the functions have at most 12 lines, nine of ten at most 22" "$work/median"

# Layout: .clang-format is for version 14; other versions break some lines elsewhere.
if command -v clang-format-14 >/dev/null; then
    grep '\.[ch]$' "$work/files" | xargs clang-format-14 --dry-run 2>&1 |
        sed -n 's/^\([^ ]*:[0-9]*\):[0-9]*: .*/\1/p' | sort -u >"$work/layout"
    told "every C file is laid out as .clang-format says" "$work/layout"
else
    tests=$((tests + 1))
    echo "ok $tests - every C file is laid out as .clang-format says # SKIP clang-format-14 is not installed"
fi

# The top folder and its build file.
ls | grep -vxE 'README\.md|DEVELOPERS\.md|LICENSE|meson\.build|meson_options\.txt|src|include|kilns|tests|examples|docs' |
    grep -v '^build' >"$work/top"
told "the top folder holds nothing else" "$work/top"
lines=$(wc -l <meson.build)
[ "$lines" -lt 80 ] || echo "meson.build has $lines lines" >"$work/meson"
told "meson.build is shorter than 80 lines" "$work/meson"

# The version's one place is meson.build: the program and the library take it from there.
version=$(sed -n "s/^project(.* version : '\([^']*\)'.*/\1/p" meson.build)
[ -n "$version" ] || echo "meson.build names no version" >"$work/version"
grep -nF "\"$version\"" -r src include >>"$work/version"
told "no source file repeats the version" "$work/version"

# Words that do not belong in a finished tree; in brackets, so that this file does not name itself.
tr '\n' '\0' <"$work/files" >"$work/names"
{
    xargs -0 grep -nIwE 'TOD[O]|FIXM[E]' /dev/null <"$work/names"
    xargs -0 grep -nIE '(^|[^"X])XX[X]($|[^"X])' /dev/null <"$work/names" # quoted, it is no currency's code
    xargs -0 grep -nIE '/wor[k]/|/tmp/[h]/|/hom[e]/|/roo[t]/' /dev/null <"$work/names"
} >"$work/words"
told "no left-over words, no machine's paths" "$work/words"

# Scripts.
while read -r file; do
    case $(head -c 9 "$file" | tr '\0' ' ') in
    '#!/bin/sh') sh -n "$file" || echo "$file does not parse" ;;
    esac
done <"$work/files" >"$work/scripts" 2>&1
told "every shell script parses" "$work/scripts"

# Data: parseable, indented by twos, no blanks at line ends, a newline at the end.
grep -E '^(kilns|examples|docs/schema)/.*\.json$' "$work/files" | while read -r file; do
    python3 -m json.tool "$file" /dev/null 2>"$work/why" || echo "$file: $(cat "$work/why")"
    [ "$(wc -l <"$file")" -gt 1 ] || echo "$file: all on one line"
    [ -z "$(tail -c 1 "$file")" ] || echo "$file: no newline at the end"
    grep -nE "[[:blank:]]$|$(printf '\t')|^(  )* [^ ]" "$file" | sed "s|^|$file: |"
done >"$work/data"
told "every data file is pretty" "$work/data"
echo "1..$tests"
exit $bad
