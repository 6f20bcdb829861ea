#!/usr/bin/env python3
"""What members are told, redone from its own text as with a pocket calculator: statements.py PROGRAM.

Each bill x own / all comes to the sum told, the sums to what is to be paid, the pieces to her own; all members' sums are the
bill. And the spreadsheets are read by Python's own reader, in the styles of two locales."""
import csv
import json
import os
import re
import subprocess
import sys
import tempfile
from decimal import Decimal as D

program = os.path.abspath(sys.argv[1])
folder = tempfile.mkdtemp()
failures = []
number = 0
ORDER = {
    'format': 'kilnstow-order/1', 'title': 'Shared', 'studio': 'Imaginary Co-op',
    'materials': [{'id': 'silica', 'price': 9.8, 'pack': '5 kg'}],
    'glazes': [{'id': 'clear', 'cones': ['5', '6'], 'base': {'silica': 100}, 'coats': 2, 'laid_g_per_m2_coat': 450}],
    'units': {'length': 'mm', 'mass': 'kg', 'temperature': 'C'},
    'kilns': [{'kiln': 'round-450', 'dates': ['2026-12-05', '2026-12-09']}], 'firings': [{'id': 'glaze', 'cone': '6'}],
    'members': [{'id': 'ann', 'name': 'Ann'}, {'id': 'bea', 'name': 'Bea'}, {'id': 'guy', 'name': 'Guy', 'guest': True}],
    'ware': [{'id': 'mug', 'owner': 'ann', 'count': 14, 'glaze': 'clear', 'diameter': 85, 'height': 95, 'price': 9},
             {'id': 'bowl', 'owner': 'bea', 'count': 9, 'glaze': 'clear', 'diameter': 150, 'height': 70},
             {'id': 'vase, tall', 'owner': 'guy', 'count': 3, 'diameter': 110, 'height': 240}],
    'costs': {'electricity': {'price': 0.31}, 'cone_pack': 1.35, 'labour': {'per_hour': 18, 'steps': [{'step': 'making', 'time': '5 min'}]}, 'prices': {'tax': 0.19, 'tax_inside': True},
              'extras': [{'member': 'bea', 'what': 'credit', 'amount': -2.5}]}}


def ok(good, claim, found=None):
    global number
    number += 1
    print('ok' if good else 'not ok', number, '-', claim)
    if not good:
        failures.append(claim)
        print('#', str(found)[:2000])


def path(name):
    return os.path.join(folder, name)


def run(*args):
    done = subprocess.run([program, *args], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    assert done.returncode in (0, 1), (args, done.stderr)
    return done.stdout


def placed(**share):
    order = dict(ORDER, costs=dict(ORDER['costs'], share=share))
    with open(path('order.json'), 'w', encoding='utf-8') as file:
        json.dump(order, file)
    run('place', path('order.json'), '--rounds', '1', '-o', path('plan.json'))


SUM = re.compile(r'^ +(-?[\d.]+) EUR  (.*)$', re.M)
RULE = re.compile(r'([\d.]+) x ([\d.]+) \w+ / ([\d.]+) \w+ = ([\d.]+)$')
ROW = re.compile(r'^ +(\d+)  (.{26}) +([\d.]+) +([\d.]+) +([\d.]+)$', re.M)


def redone(rule, paid):
    """One line of the statement by its own figures, to the last place that is printed."""
    bill, own, every, due = (D(figure) for figure in rule.groups())
    return abs(bill * own / every - due) <= D('0.000051') and abs(D(paid) - due) < D('0.01')


def statement_faults(text):
    lines = [(paid, what) for paid, what in SUM.findall(text)]
    *sums, (total, what) = lines
    if sum(D(paid) for paid, _ in sums) != D(total):
        yield 'sum', lines
    own = D(0)
    for paid, line in sums:
        rule = RULE.search(line)
        if rule:
            own += D(rule.group(2))
            if not redone(rule, paid):
                yield 'rule', line
    rows = ROW.findall(text)
    for due in re.findall(r'glaze, by weight laid on(?: = ([\d.]+))?$', text, re.M):
        worn = sum(int(row[0]) * D(row[4]) for row in rows)
        if not due or abs(worn - D(due)) > D('0.000006') * sum(int(row[0]) for row in rows) + D('0.00006'):
            yield 'glaze', worn, due
    for count, _, each, together, _ in rows:
        if abs(int(count) * D(each) - D(together)) > int(count) * D('0.00005') + D('0.0001'):
            yield 'row', count, each, together
    mine = sum(D(row[3]) for row in rows)
    if 'the studio' not in text.split('\n')[2] and abs(mine - own) > D('0.0003') * (len(rows) + 1):
        yield 'own', mine, own


def statements():
    for share in ({'by': 'box'}, {'by': 'slices'}, {'by': 'shelf', 'loads': 'together'}, {'by': 'mass', 'guest_factor': 1.5},
                  {'by': 'count', 'guest_factor': 1.25}, {'by': 'box', 'empty_space': 'studio', 'cones': 'studio'}):
        placed(**share)
        texts = run('cost', path('plan.json'), '--statement', 'all').split('\n' + 72 * '-' + '\n')
        bad = [fault for text in texts for fault in statement_faults(text.strip('\n'))]
        ok(not bad, f'statements are redone from their own text, {share}', bad)
        answer = json.loads(run('cost', path('plan.json'), '--json'))['result']
        totals = sum(D(SUM.findall(text)[-1][0]) for text in texts)
        ok(totals * 100 == answer['total_minor'], 'and all sums are the bill', (totals, answer['total_minor']))


def rows_of(*style, **dialect):
    run('cost', path('plan.json'), '--csv', path('table.csv'), '--force', *style)
    with open(path('table.csv'), newline='', encoding='utf-8') as file:
        return list(csv.DictReader(file, **dialect))


def tables():
    plain = rows_of()
    other = rows_of('--separator', ';', '--decimal', ',', delimiter=';')
    ok([{key: cell.replace(',', '.') if key not in ('id', 'name') else cell for key, cell in row.items()} for row in other] == plain,
       'a table with ; and decimal comma holds the same', (other[:1], plain[:1]))
    ok({row['name'] for row in plain} == {'mug', 'bowl', 'vase, tall'}, 'names are there')
    mug = next(row for row in plain if row['id'] == 'mug')
    kept = D('9') / D('1.19')
    ok(abs((kept - D(mug['cost_EUR'])) / kept * 100 - D(mug['margin_percent'])) < D('0.2'), 'so is the margin, tax taken off', mug)
    ok(next(row for row in plain if row['id'] == 'bowl')['margin_percent'] == '', 'none without a price')
    answer = json.loads(run('cost', path('plan.json'), '--json'))['result']
    ok(abs(sum(D(row['kwh']) for row in plain) - sum(D(str(load['kwh'])) for load in answer['loads'])) <
       D('0.001') * len(plain) if answer['shared_by'] != 'box' else True, 'kilowatt-hours are shared')
    shares = rows_of('--table', 'shares')
    ok(sum(D(row['amount_EUR']) for row in shares) * 100 == answer['total_minor'], 'shares are the bill')
    bills = rows_of('--table', 'bills')
    ok(sum(D(row['amount_EUR']) for row in bills) * 100 == sum(load['total_minor'] for load in answer['loads']),
       'and so are the lines of the loads')
    ok(all(D(row['retail_EUR']) > D(row['consignment_EUR']) or D(row['retail_EUR']) == 0 for row in plain),
       'a price list that holds the tax undercuts no shop', plain[0])
    done = subprocess.run([program, 'cost', path('plan.json'), '--decimal', ','], stderr=subprocess.PIPE, text=True)
    ok(done.returncode == 2 and '--separator' in done.stderr, 'a comma cannot be both', done.stderr)


def office_sheets():
    """On paper, too, a loss has its word and its owner, and no shop is asked for more than its customer pays."""
    ORDER['ware'][0]['price'] = 2
    placed(by='box')
    ORDER['ware'][0]['price'] = 9
    mug = next(row for row in rows_of() if row['id'] == 'mug')
    run('draw', path('plan.json'), '-o', path('office.svg'), '--sheets', 'costs,prices')
    sheets = [open(path(name), encoding='utf-8').read() for name in sorted(os.listdir(folder)) if name.startswith('office')]
    costs = next(sheet for sheet in sheets if 'What each piece costs' in sheet)
    ok(f">loss {mug['margin_percent'].lstrip('-')} %<" in costs and '>Ann<' in costs, 'a mug sold at a loss says so on the costs sheet', mug)
    prices = ''.join(sheet for sheet in sheets if sheet is not costs)
    ok('>2.00 EUR<' in prices and f">{mug['wholesale_EUR']} EUR<" not in prices, 'a shop is not asked more than its customer', mug)


def page_of(name, *who):
    run('draw', path('plan.json'), '-o', path(name), *who)
    with open(path(name), encoding='utf-8') as file:
        return file.read()


def member_pages():
    whole, hers = page_of('all.html'), page_of('ann.html', '--member', 'ann')
    ok('Close the lid' in whole and 'Close the lid' not in hers, "a member's page does not tell her to close the lid")
    keys = [re.search(r'data-plan="([^"]*)"', page).group(1) for page in (whole, hers)]
    ok(keys[0] != keys[1], 'and keeps its ticks apart', keys)
    ok(re.search(r'14 of \d+ pieces', hers), 'it counts her pieces')


def kilns():
    placed(by='box')
    rows = json.loads(run('cost', path('plan.json'), '--json', '--kilns', 'round-450,round-580'))['result']['kilns']
    ok([row['kiln'] for row in rows] == ['round-450', 'round-580'] and rows[0]['as_planned'], 'the plan stands first', rows)
    loads = json.loads(run('cost', path('plan.json'), '--json'))['result']['loads']
    ok(rows[0]['bill_minor'] == loads[0]['total_minor'] and abs(rows[0]['kwh'] - loads[0]['kwh']) < 0.01, 'with its own bill', rows[0])
    ok(rows[1]['pieces'] == rows[0]['pieces'] and rows[1]['kwh'] > rows[0]['kwh'], 'the larger kiln takes it all and more energy', rows)
    text = run('cost', path('plan.json'), '--kilns', 'round-580')
    ok(re.search(r'round-580 +\d+ of \d+ +[\d.]+ +[\d.]+ h', text), 'a table tells it', text)
    done = subprocess.run([program, 'cost', path('plan.json'), '--kilns', 'nowhere'], stderr=subprocess.PIPE, text=True)
    ok(done.returncode == 2 and 'nowhere' in done.stderr, 'a kiln that is none is refused', done.stderr)


def prices():
    """A price list holds the order's own price, else the proposed one, else a dash; a tag for each piece that has one."""
    order = dict(ORDER, costs=dict(ORDER['costs'], labour={'per_hour': 18}))
    order['ware'] = [dict(ORDER['ware'][0]), dict(ORDER['ware'][1], labour='6 min', clay='red', wet_ball=2.1), dict(ORDER['ware'][2])]
    order['clays'] = [{'id': 'red', 'shrinkage': 0.1, 'price_per_kg': 1}]
    with open(path('order.json'), 'w', encoding='utf-8') as file:
        json.dump(order, file)
    run('place', path('order.json'), '--rounds', '1', '-o', path('plan.json'), '--force')
    run('draw', path('plan.json'), '-o', path('shop.svg'), '--sheets', 'prices')
    names = [name for name in os.listdir(folder) if name.startswith('shop')]
    sheet = ''.join(open(path(name), encoding='utf-8').read() for name in sorted(names))
    pieces = json.loads(run('cost', path('plan.json'), '--json'))['result']['pieces']
    bowl = max(piece['shop_minor'] for piece in pieces if piece['id'] == 'bowl')
    ok(sheet.count('>9.00 EUR<') == 1 + 14, 'fourteen mugs have their own price, and so has the list', sheet.count('>9.00 EUR<'))
    ok(sheet.count(f'>{bowl / 100:.2f} EUR<') == 1 + 9, 'nine bowls the proposed one', bowl)
    ok(all(piece['retail_minor'] is None for piece in pieces if piece['id'] == 'vase, tall'), 'a vase without minutes none')
    done = subprocess.run([program, 'draw', path('plan.json'), '-o', path('shop.html'), '--sheets', 'prices'],
                          stderr=subprocess.PIPE, text=True)
    ok(done.returncode == 2, 'not as a page', done.stderr)
    text = run('cost', path('plan.json'), '--explain', 'bowl')
    ok(re.search(r'2\.1000 EUR +clay, red, wet +2\.100 kg', text), 'clay is charged as it was told', text)


statements()
tables()
office_sheets()
member_pages()
kilns()
prices()
print(f'1..{number}')
subprocess.run(['rm', '-r', folder], check=True)
sys.exit(1 if failures else 0)
