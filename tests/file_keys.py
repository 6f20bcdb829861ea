#!/usr/bin/env python3
"""Holds together what is told of the files in three places: the readers' tables (KS_FIELD), docs/schema and docs/files.md.

Run from the project's top folder. Each table of src/ has a line in TABLES; one without fails, and so does a key, a word,
a limit or a demand that stands in one place and not in another, in either direction."""
import json
import os
import re
import sys

KILN, ORDER, PLAN = 'kiln.schema.json#', 'order.schema.json#', 'plan.schema.json#'
SCHEDULE, MATERIALS = 'schedule.schema.json#', 'materials.schema.json#'
COSTS = ORDER + '/$defs/costs/properties'
LOAD = PLAN + '/$defs/load/properties'
SUPPORTS = KILN + '/$defs/kiln/properties/bays/items/properties/supports/items'
TIERS = COSTS + '/electricity/properties/tiers/items'

# file: {table: (schemas of the object, what shows its keys in docs/files.md or firing.md)}. What shows them is "HEADING: KEY",
# the row of that key in the table under the heading; "HEADING:" alone, all rows' first columns; or "FILE: START", a paragraph.
TABLES = {
    'studio/kilns/kiln_file.c': {
        'kiln_fields': ([KILN + '/$defs/kiln'], 'Kiln:'),
        'opening_fields': ([KILN + '/$defs/kiln/properties/opening'], 'Kiln: opening'),
        'clearance_fields': ([KILN + '/$defs/clearances'], 'Kiln: clearances'),
        'keep_out_fields': ([KILN + '/$defs/keep_out', LOAD + '/keep_outs/items'], 'Kiln: keep_outs')},
    'studio/kilns/chamber_file.c': {
        'chamber_fields': ([KILN + '/$defs/chamber'], 'Kiln: chamber'),
        'part_fields': ([KILN + '/$defs/chamber_part', LOAD + '/chamber/properties/parts/items'], 'Kiln: chamber'),
        'arch_fields': ([KILN + '/$defs/chamber/properties/arch'], 'Kiln: chamber')},
    'studio/kilns/stock_file.c': {
        'shelf_fields': ([KILN + '/$defs/kiln/properties/shelves/items'], 'Kiln: shelves'),
        'post_fields': ([KILN + '/$defs/kiln/properties/posts/items'], 'Kiln: posts')},
    'studio/kilns/bays_file.c': {
        'bay_fields': ([KILN + '/$defs/kiln/properties/bays/items'], 'Kiln: bays'),
        'support_fields': ([SUPPORTS], 'Kiln: bays'),
        'laid_fields': ([SUPPORTS + '/properties/shelves/items'], 'Kiln: bays'),
        'arrangement_fields': ([KILN + '/$defs/kiln/properties/arrangements/items'], 'Kiln: arrangements')},
    'studio/kilns/heat_file.c': {
        'heat_fields': ([KILN + '/$defs/kiln/properties/heat'], 'Kiln: heat'),
        'zone_fields': ([KILN + '/$defs/kiln/properties/heat/properties/zones/items'], 'Kiln: heat'),
        'layer_fields': ([KILN + '/$defs/layers/items'], 'Kiln: lining'),
        'lining_fields': ([KILN + '/$defs/kiln/properties/lining'], 'Kiln: lining')},
    'studio/kilns/kiln_line.c': {
        'line_fields': ([ORDER + '/$defs/kiln_entry/anyOf/3'], 'files.md: A **kiln in one line**')},
    'studio/files/order_file.c': {
        'order_fields': ([ORDER + '/$defs/order'], 'Order:'),
        'display_fields': ([ORDER + '/$defs/order/properties/display'], 'Order: display')},
    'studio/files/order_kilns.c': {
        'entry_fields': ([ORDER + '/$defs/kiln_entry/anyOf/2'], 'Order: kilns'),
        'slot_fields': ([ORDER + '/$defs/kiln_entry/anyOf/2/properties/slots/items'], 'Order: kilns')},
    'studio/files/firing_file.c': {
        'firing_fields': ([ORDER + '/$defs/firing'], 'Order: firings'),
        'schedule_fields': ([SCHEDULE], 'Order: schedules'),
        'segment_fields': ([ORDER + '/$defs/schedule/properties/segments/items'], 'Order: schedules')},
    'studio/files/recipe_file.c': {
        'clay_fields': ([ORDER + '/$defs/clay'], 'Order: clays'),
        'material_fields': ([ORDER + '/$defs/material'], 'Order: materials'),
        'glaze_fields': ([ORDER + '/$defs/glaze'], 'Order: glazes')},
    'studio/files/members_file.c': {'member_fields': ([ORDER + '/$defs/member'], 'Order: members')},
    'studio/files/rules_file.c': {
        'rules_fields': ([ORDER + '/$defs/rules'], 'Order: rules'),
        'no_ware_fields': ([ORDER + '/$defs/rules/properties/no_ware/items'], 'Order: rules'),
        'cone_fields': ([ORDER + '/$defs/rules/properties/cones/anyOf/1'], 'Order: rules'),
        'fields': ([ORDER + '/$defs/rules/properties/apart/items'], 'Order: rules'),
        'lifting_fields': ([ORDER + '/$defs/rules/properties/lifting'], 'Order: rules')},
    'studio/files/stacking_file.c': {
        'stacking_fields': ([ORDER + '/$defs/rules/properties/stacking'], 'Order: stacking')},
    'studio/files/piece_file.c': {'piece_fields': ([ORDER + '/$defs/piece'], 'piece:')},
    'studio/forms/photo.c': {'photo_fields': ([ORDER + '/$defs/photo'], 'piece: photo')},
    'studio/files/piece_build.c': {'reach_fields': ([ORDER + '/$defs/reach'], 'piece: handle')},
    'studio/files/piece_shape.c': {
        'part_fields': ([ORDER + '/$defs/part', PLAN + '/$defs/part'], 'piece: diameter')},
    'studio/files/piece_wishes.c': {
        'keep_fields': ([ORDER + '/$defs/piece/properties/keep/anyOf/0'], 'piece: keep'),
        'wish_fields': ([ORDER + '/$defs/piece/properties/keep/anyOf/1'], 'piece: keep'),
        'not_fields': ([ORDER + '/$defs/piece/properties/keep/anyOf/1/properties/level/anyOf/2'], 'piece: keep'),
        'on_fields': ([ORDER + '/$defs/piece/properties/on'], 'piece: pose'),
        'turn_fields': ([ORDER + '/$defs/piece/properties/turn/anyOf/1'], 'piece: turn')},
    'studio/files/setter.c': {'setter_fields': ([ORDER + '/$defs/setter'], 'piece: setter')},
    'studio/terms/costs_file.c': {
        'terms_fields': ([ORDER + '/$defs/costs'], 'costs:'),
        'wearing_fields': ([COSTS + '/wear/items'], 'costs: wear'),
        'life_fields': ([COSTS + '/wear/items/properties/life/items'], 'costs: wear'),
        'furniture_fields': ([ORDER + '/$defs/furniture_wear'], 'costs: shelf'),
        'labour_fields': ([COSTS + '/labour'], 'costs: labour'),
        'share_fields': ([COSTS + '/share'], 'costs: share'),
        'extra_fields': ([COSTS + '/extras/items'], 'costs: extras'),
        'price_fields': ([COSTS + '/prices'], 'costs: prices')},
    'studio/terms/labour_file.c': {'work_fields': ([ORDER + '/$defs/labour/anyOf/1/items'], 'costs: labour')},
    'studio/terms/rates_file.c': {
        'rate_fields': ([ORDER + '/$defs/posted_rate'], 'costing.md: | key of a rate'),
        'tier_fields': ([ORDER + '/$defs/posted_rate/properties/tiers/items'], 'costing.md: | key of a rate'),
        'subscription_fields': ([ORDER + '/$defs/subscription'], 'costs: subscriptions')},
    'studio/files/hours_file.c': {'open_fields': ([ORDER + '/$defs/open'], 'Order: opening_hours')},
    'studio/terms/tariff_file.c': {
        'power_fields': ([COSTS + '/electricity'], 'costs: electricity'),
        'price_time_fields': ([ORDER + '/$defs/price_time'], 'costs: electricity'),
        'tier_fields': ([TIERS], 'costs: electricity'),
        'fuel_fields': ([COSTS + '/gas'], 'costs: gas')},
    'studio/files/plan_read.c': {
        'plan_fields': ([PLAN], 'Plan:'),
        'left_out_fields': ([PLAN + '/$defs/left_out'], 'Plan: left_out')},
    'studio/files/reason_file.c': {'reason_fields': ([PLAN + '/$defs/reason'], 'files.md: * `rule`:')},
    'studio/reading/load_times.c': {'times_fields': ([LOAD + '/times'], 'load: times')},
    'studio/files/load_read.c': {
        'load_fields': ([PLAN + '/$defs/load'], 'Plan: loads'),
        'load_firing_fields': ([LOAD + '/firing'], 'load: firing'),
        'chamber_fields': ([LOAD + '/chamber'], 'load: chamber'),
        'bay_fields': ([LOAD + '/bays/items'], 'load: bays'),
        'post_fields': ([LOAD + '/posts/items'], 'load: posts'),
        'level_fields': ([PLAN + '/$defs/level'], 'load: levels'),
        'shelf_fields': ([PLAN + '/$defs/level/properties/shelves/items'], 'load: levels'),
        'placed_fields': ([PLAN + '/$defs/placed'], 'load: a piece'),
        'on_fields': ([PLAN + '/$defs/placed/properties/on/anyOf/1'], 'load: a piece'),
        'step_fields': ([LOAD + '/steps/items'], 'load: steps'),
        'reference_fields': ([LOAD + '/steps/items/properties/ref'], 'load: steps')},
    'fire/physics/materials_file.c': {
        'row_fields': ([MATERIALS + '/$defs/material'], 'firing.md: **Materials of your own:**'),
        'property_fields': ([MATERIALS + '/$defs/heat', MATERIALS + '/$defs/conductivity'],
                            'firing.md: **Materials of your own:**')},
}
# Keys told elsewhere in the docs than beside their siblings: of every file, and of a schedule's own file.
SHOWN_ELSEWHERE = {'format', 'defaults'}
HEADINGS = {'Kiln': '## Kiln:', 'Order': '## Order:', 'piece': 'A **piece**:', 'costs': 'Of `costs`', 'Plan': '## Plan:',
            'load': 'Of a load:'}
failures = []


def fail(text):
    failures.append(text)


# --- the readers' tables

def read(path):
    with open(path, encoding='utf-8') as file:
        return file.read()


def sources():
    for folder, _, names in os.walk('src'):
        for name in sorted(names):
            if name.endswith(('.c', '.h')):
                path = os.path.join(folder, name)
                yield os.path.relpath(path, 'src'), read(path)


def constants(texts):
    """Names of words and numbers: {file: {name: value}}, None for what stands in headers."""
    found = {None: {}}
    for path, text in texts.items():
        own = found[None] if path.endswith('.h') else found.setdefault(path, {})
        for name, value in re.findall(r'^#define (\w+) ("[^"]*"|[-\d.e]+)$', text, re.M):
            own[name] = value
        for listed in re.findall(r'enum \{([^}]*)\}', text):
            for name, value in re.findall(r'(\w+) = ([\w-]+)', listed):
                own[name] = value
    return found


def resolved(value, path, known):
    value = value.strip()
    for _ in range(3):
        value = known.get(path, {}).get(value, known[None].get(value, value))
    if value.startswith('"'):
        return value.strip('"')
    return eval(value, {'__builtins__': {}}) if re.fullmatch(r'[-\d.e* ]+', value) else None


ENTRY = re.compile(r'KS_FIELD_KNOWN\("(\w+)"\)|(?:KS_FIELD|ENTRY)\((\w+),[^"]*?"(\w+)"((?:[^()]|\([^()]*\))*?)\)(?=[,}\s])|'
                   r'\{\.key = "(\w+)",\s*\.kind = KS_FIELD_(\w+)([^{}]*)\}')


def fields_of(body, path, known):
    """[(key, kind, {least, most, words, required})] of a table's text."""
    for match in ENTRY.finditer(body):
        bare, kind, key, rest, own_key, own_kind, own_rest = match.groups()
        limits = {}
        for name, value in re.findall(r'\.(least|most|words|required)\s*=\s*("[^"]*"|[^,}]+)', rest or own_rest or ''):
            limits[name] = True if name == 'required' else resolved(value, path, known)
            if limits[name] is None:
                fail(f'src/{path}: cannot read .{name} = {value} of "{key or own_key}"')
        yield bare or key or own_key, 'ELSEWHERE' if bare else kind or own_kind, limits


def clearances():
    face = read('include/kilnstow/kiln.h')
    listed = re.search(r'#define KS_CLEARANCES\(each\)(.*?[^\\])\n', face, re.S).group(1)
    return ''.join(f'KS_FIELD(LENGTH, ks_clearance, {name}, "{name}"),' for name in re.findall(r'each\((\w+),', listed))


def tables(texts):
    known = constants(texts)
    for path, text in texts.items():
        for name, body in re.findall(r'const ks_field (\w+)\[\] =\s*(\{.*?\});', text, re.S):
            body = body.replace('KS_CLEARANCES(CLEARANCE)', clearances())
            fields = list(fields_of(body, path, known))
            if len(fields) != len(re.findall(r'KS_FIELD_KNOWN\(|KS_FIELD\(|ENTRY\(|\.key =', body)):
                fail(f'src/{path}: {name} is written in a way this test cannot read')
            yield path, name, fields


# --- the schemas

schemas = {}


def schema_at(where):
    file, _, pointer = where.partition('#')
    if file not in schemas:
        schemas[file] = json.loads(read('docs/schema/' + file))
    node = schemas[file]
    for step in pointer.split('/')[1:]:
        node = node[int(step) if isinstance(node, list) else step]
    return node, file


def limits_of(node, file):
    """What a schema says of a value: (enum, least, most, longest), through its references."""
    while '$ref' in node:
        target = node['$ref']
        node, file = schema_at(target if not target.startswith('#') else file + target)
    return node.get('enum'), node.get('minimum'), node.get('maximum'), node.get('maxLength')


def compare_limits(where, key, kind, limits, node, file):
    words, least, most, longest = limits_of(node, file)
    told = (limits.get('least', 0), limits.get('most', 0))
    if limits.get('words') and words != limits['words'].split('|'):
        fail(f'{where}: "{key}" is one of {limits["words"]}, in the schema {words}')
    if kind in ('TEXT', 'NAME') and words is None and told[1] and longest != told[1]:
        fail(f'{where}: "{key}" has at most {told[1]} bytes, in the schema {longest}')
    if kind in ('NUMBER', 'WHOLE') and words is None and any(told) and (least, most) != told:
        fail(f'{where}: "{key}" is {told[0]} to {told[1]}, in the schema {least} to {most}')


def compare_schema(path, name, fields, where):
    node, file = schema_at(where)
    shown, keys = set(node['properties']), {key for key, _, _ in fields}
    for key in sorted(keys - shown):
        fail(f'src/{path}: {name} has "{key}", docs/schema/{where} has not')
    for key in sorted(shown - keys):
        fail(f'docs/schema/{where} has "{key}", src/{path}: {name} has not')
    if node.get('additionalProperties') is not False:
        fail(f'docs/schema/{where} takes unknown keys')
    for key, kind, limits in fields:
        if key in shown:
            compare_limits(where, key, kind, limits, node['properties'][key], file)
            if limits.get('required') and key not in node.get('required', []):
                fail(f'docs/schema/{where} does not ask for "{key}", src/{path}: {name} does')


def objects_of(node, where, file):
    """Where in a schema objects with keys of their own stand."""
    if isinstance(node, dict):
        if 'properties' in node and node.get('additionalProperties') is False:
            yield file + '#' + where
        for key, part in node.items():
            yield from objects_of(part, f'{where}/{key}', file)
    elif isinstance(node, list):
        for number, part in enumerate(node):
            yield from objects_of(part, f'{where}/{number}', file)


# Objects that are no reader's table: `units` and outlines have lists of keys of their own, and stand in several files.
LISTS = {KILN + '/$defs/units': ('base/data/fields_file.c', 'keys'),
         KILN + '/$defs/outline': ('studio/reading/outlines.c', 'outline_keys'),
         MATERIALS: ('fire/physics/materials_file.c', 'keys')}
# Parts of what is held: a schedule within an order, and outlines as a plan has them.
PARTS = {ORDER + '/$defs/schedule': SCHEDULE, PLAN + '/$defs/outline': KILN + '/$defs/outline'}


def compare_lists(texts):
    for where, (path, name) in LISTS.items():
        listed = re.search(r'\b' + name + r'\[\] = \{(.*?)\}', texts[path], re.S).group(1)
        keys, shown = set(re.findall(r'"(\w+)"', listed)), set(schema_at(where)[0]['properties'])
        if keys != shown:
            fail(f'src/{path}: {name} has {sorted(keys - shown)}, docs/schema/{where} {sorted(shown - keys)} beyond the other')
    for part, whole in PARTS.items():
        extra = set(schema_at(part)[0]['properties']) - set(schema_at(whole)[0]['properties'])
        if extra:
            fail(f'docs/schema/{part} has {sorted(extra)}, docs/schema/{whole} has not')


def all_schemas_held():
    held = {where for in_file in TABLES.values() for places, _ in in_file.values() for where in places}
    held |= set(LISTS) | set(PARTS)
    for file in sorted(os.listdir('docs/schema')):
        for where in objects_of(json.loads(read('docs/schema/' + file)), '', file):
            if where not in held and where.rstrip('#') + '#' not in held:
                fail(f'docs/schema/{where} is the schema of no table')


# --- the docs

def rows_under(heading):
    """[(first column, whole row)] of the table that follows the heading's line in docs/files.md."""
    after = read('docs/files.md').split('\n' + heading, 1)[1]
    table = re.search(r'^\|.*?(?=^[^|]|\Z)', after, re.M | re.S).group(0)
    lines = table.splitlines()[2:]
    return [(line.split('|')[1], line) for line in lines]


def spans(text):
    return ' '.join(re.findall(r'`([^`]*)`', text.replace('\\|', ' ')))


def shown_by(place):
    """The code shown where a table's keys should be."""
    heading, _, key = place.partition(':')
    key = key.strip()
    if heading.endswith('.md'):
        return spans(read('docs/' + heading).split(key, 1)[1].split('\n\n', 1)[0])
    rows = rows_under(HEADINGS[heading])
    if not key:
        return spans(' '.join(first + (row if 'shape, one of' in first else '') for first, row in rows))
    if place == 'Plan: loads':
        return spans(' '.join(row for first, row in rows if '`loads`' in first))
    return ' '.join(spans(row) for first, row in rows if key in re.findall(r'`(\w+)`', first) + [first.strip()] or
                    key == 'diameter' and 'shape, one of' in first)


def compare_docs(path, name, fields, place):
    shown = set(re.findall(r'\w+', shown_by(place)))
    for key, _, _ in fields:
        if key not in shown | SHOWN_ELSEWHERE | ({'units'} if name == 'schedule_fields' else set()):
            fail(f'docs/files.md ({place}) does not show "{key}" of src/{path}: {name}')


# What stands in the docs like a key and is none: marks of a bar, and headings of somebody's table.
NO_KEYS = {'wet', 'dry', 'bisque', 'Durchmesser', 'Anzahl', 'Notiz'}


def docs_know_only_keys(all_keys):
    text = read('docs/files.md')
    for heading in HEADINGS.values():
        for first, row in rows_under(heading):
            for key in re.findall(r'`(\w+)`', first):
                if key not in all_keys:
                    fail(f'docs/files.md has a row for "{key}", which no reader knows')
    for code in re.findall(r'`([^`]*)`', text):
        for key in re.findall(r'"(\w+)"\??:', code):
            if key not in all_keys | NO_KEYS:
                fail(f'docs/files.md shows "{key}" in `{code[:60]}`, which no reader knows')


def columns_agree(texts, piece_keys):
    listed = re.search(r'\} columns\[\] = \{(.*?)\n\};', texts['studio/files/ware_columns.c'], re.S).group(1)
    columns = re.findall(r'\{"(\w+)", KS_CELL', listed)
    for key in columns:
        if key not in piece_keys:
            fail(f'src/studio/files/ware_columns.c has a column "{key}", which is no key of a piece')
    shown = re.search(r'a heading with any of `([^`]*)`', read('docs/files.md')).group(1)
    shown = [' '.join(word.split()).replace(' ', '_') for word in shown.split(',')]
    if sorted(shown) != sorted(columns):
        fail(f'docs/files.md and src/studio/files/ware_columns.c: the columns {sorted(set(shown) ^ set(columns))} are in one only')


def reasons_agree(texts):
    """The list of reasons: each name with the figures that its text names, in the schema and in docs/files.md."""
    entry = r'\[KS_(WHY|CHANGE)_\w+\] =\s*\{\s*"([^"]*)",\s*(?:NULL|"[^"]*"),(.*?)\}(?=,?\n)'
    kinds = {'WHY': 'rule', 'CHANGE': 'change'}
    for kind, key in kinds.items():
        listed = {name: re.findall(r'\{(\w+)\}', ''.join(re.findall(r'"((?:[^"\\]|\\.)*)"', says)))
                  for of, name, says in re.findall(entry, texts['studio/reason_list.c'], re.S) if of == kind}
        schema = schema_at(PLAN + '/$defs/left_out/properties/' + key)[0]['properties']['name']['enum']
        if schema != list(listed):
            fail(f'docs/schema/plan.schema.json names other {key}s than reason_list.c: {sorted(set(schema) ^ set(listed))}')
        shown = re.search(r'^\* `' + key + r'`: (.*?)(?=\n\*|\n\n)', read('docs/files.md'), re.M | re.S).group(1)
        told = {name: set(re.findall(r'\w+', figures)) for name, figures in re.findall(r'`([\w-]+)`(?: \(([^)]*)\))?', shown)}
        for name, figures in listed.items():
            if told.get(name) != set(figures) | ({'id'} if 'of' in figures else set()):
                fail(f'docs/files.md shows "{name}" with {told.get(name)}, its text has {figures}')


def main():
    texts = dict(sources())
    all_keys, piece_keys, seen = set(), set(), set()
    for path, name, fields in tables(texts):
        place = TABLES.get(path, {}).get(name)
        if path.startswith('web/'):  # what is asked of the page's server is in no file
            for key in (key for key, _, _ in fields):
                if not re.search(f'[`"]{key}[`"]', read('docs/page.md')):
                    fail(f'docs/page.md does not name {key}, which src/{path} reads')
            continue
        if place is None:
            fail(f'src/{path}: {name} has no line in tests/file_keys.py')
            continue
        seen.add((path, name))
        all_keys |= {key for key, _, _ in fields}
        if name == 'piece_fields':
            piece_keys = {key for key, _, _ in fields}
        for where in place[0]:
            compare_schema(path, name, fields, where)
        compare_docs(path, name, fields, place[1])
    for path, in_file in TABLES.items():
        for name in in_file:
            if (path, name) not in seen:
                fail(f'tests/file_keys.py lists {name} of src/{path}, which is not there')
    for where in LISTS:
        all_keys |= set(schema_at(where)[0]['properties'])
    compare_lists(texts)
    all_schemas_held()
    docs_know_only_keys(all_keys)
    columns_agree(texts, piece_keys)
    reasons_agree(texts)
    for text in failures:
        print('#', text)
    print('not ok' if failures else 'ok', f'1 - {len(seen)} tables of keys, their schemas and docs/files.md agree')
    print('1..1')
    return 1 if failures else 0


if __name__ == '__main__':
    sys.exit(main())
