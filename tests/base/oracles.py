"""Holds our JSON and CSV readers against Python's own (json, csv), on many random texts.

usage: oracles.py VERDICTS          VERDICTS is tests/base/verdicts.c built

JSON: single changes of good texts; both must agree on which are JSON, where Python is told to be as
strict as RFC 8259 asks, and of what we refuse beyond it: twice the same key, lone surrogates, NUL in
texts, numbers that overflow. CSV: tables written by Python's csv in several manners read back the
same; empty rows and blanks about cells are not compared.
Letters: NFC of random texts is that of Python's unicodedata, and one that is composed already stays."""

import csv
import io
import json
import math
import random
import struct
import subprocess
import sys
import unicodedata

GOOD = ['{"format": "kilnstow-order/1", "a": [1, -2.5e3, 0.1E-2, true, false, null, '
        '"x\\n\\u00e9\\ud83d\\ude00", [], {}],\n "b": {"c": "d", "e": [[0,0],[1,2]]}}',
        '["\u00e9", "\\\\\\"", 1e5, -0, {"k": {"k": 0}}]', ' [ 10 , "a" , {"b" : 0.5 } ] ']
PIECES = [piece.encode() for piece in '" \\ \\u d83d { } [ ] , : 0 1 e E + - . true null NaN '
          'Infinity / '.split(" ")] + [b" ", b"\n", b"\t", b"\0", b"\xc3", b"\xa9", b"\xef\xbb\xbf"]
LETTERS = 'ab1 ,;\t"\'\n\u00e9\u20ac'


def changed(rng):
    text = bytearray(rng.choice(GOOD).encode())
    for _ in range(rng.choice([1, 1, 1, 2, 3])):
        at, choice = rng.randrange(len(text) + 1), rng.randrange(4)
        if choice == 0 and at < len(text):
            text[at] = rng.randrange(256)
        elif choice == 1:
            text[at:at] = rng.choice(PIECES)
        elif choice == 2 and at < len(text):
            del text[at]
        else:
            text[at:at + rng.randrange(5)] = rng.choice(PIECES)
    return bytes(text)


def refuse(_):
    raise ValueError


def finite(text):
    if math.isinf(float(text)):
        raise ValueError
    return float(text)


def pairs_of(pairs):
    if len(dict(pairs)) != len(pairs):
        raise ValueError
    return dict(pairs)


def check_texts(value):
    if isinstance(value, str):
        value.encode("utf-8")  # refuses lone surrogates
        if "\0" in value:
            raise ValueError
    elif isinstance(value, (list, dict)):
        for part in list(value) + (list(value.values()) if isinstance(value, dict) else []):
            check_texts(part)


def python_takes(text):
    try:
        check_texts(json.loads(text.removeprefix(b"\xef\xbb\xbf").decode("utf-8"),
                               parse_constant=refuse, parse_float=finite,
                               object_pairs_hook=pairs_of))
        return True
    except ValueError:
        return False


def verdicts(program, kind, texts):
    told = subprocess.run([program, kind], check=True, stdout=subprocess.PIPE,
                          input=b"".join(struct.pack("<I", len(text)) + text for text in texts))
    lines = told.stdout.decode().split("\n")[:-1]
    assert len(lines) == len(texts)
    return [json.loads(line) for line in lines]


def check_json(program, rng):
    texts = [changed(rng) for _ in range(40000)]
    ours = [verdict is True for verdict in verdicts(program, "json", texts)]
    wrong = [text for text, taken in zip(texts, ours) if taken != python_takes(text)]
    print(f"JSON: {len(texts)} texts, {sum(ours)} taken, {len(wrong)} disagreements", wrong[:3])
    return not wrong and 0.05 < sum(ours) / len(texts) < 0.95


def table(rng):
    cell = lambda: "".join(rng.choice(LETTERS) for _ in range(rng.randrange(6))).strip(" \t\n")
    width = rng.randrange(2, 6)
    header = [f"h{i}" for i in range(width)]
    return [header] + [[cell() for _ in range(width)] for _ in range(rng.randrange(5))]


def written(rows, rng):
    out = io.StringIO()
    csv.writer(out, delimiter=rng.choice(",;\t"), lineterminator=rng.choice(["\n", "\r\n"]),
               quoting=rng.choice([csv.QUOTE_MINIMAL, csv.QUOTE_ALL])).writerows(rows)
    return out.getvalue().encode(rng.choice(["utf-8", "utf-8-sig", "utf-16"]))


def check_csv(program, rng):
    tables = [table(rng) for _ in range(5000)]
    texts = [written(rows, rng) for rows in tables]
    full = [[row for row in rows if any(row)] for rows in tables]
    wrong = [(text, ours) for text, ours, rows in zip(texts, verdicts(program, "csv", texts), full)
             if ours != rows]
    print(f"CSV: {len(texts)} tables, {len(wrong)} read otherwise", wrong[:3])
    return not wrong


def check_composed(program, rng):
    codes = list(range(0x20, 0x3100)) + list(range(0xAC00, 0xD7A4))
    known = [chr(code) for code in codes if unicodedata.category(chr(code)) not in ("Cn", "Cc") and code != 0x11A7]  # no letter; libutf8proc 2.8 takes it for one
    marks = [letter for letter in known if unicodedata.combining(letter)]
    texts = ["".join(rng.choice(rng.choice([known, marks, "aeiou"])) for _ in range(rng.randrange(1, 9)))
             for _ in range(20000)]
    told = verdicts(program, "composed", [text.encode() for text in texts])
    wrong = [text for text, ours in zip(texts, told) if ours != unicodedata.normalize("NFC", text)]
    print(f"Letters: {len(texts)} texts, {len(wrong)} composed otherwise", wrong[:3])
    return not wrong


if __name__ == "__main__":
    random_numbers = random.Random(8259)
    fine = [check_json(sys.argv[1], random_numbers), check_csv(sys.argv[1], random_numbers),
            check_composed(sys.argv[1], random_numbers)]
    sys.exit(0 if all(fine) else 1)
