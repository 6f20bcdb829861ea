#!/usr/bin/env python3
"""The whole job on the local page, in a real browser. Usage: journey.py PROGRAM [WIDTH…], from the project's top folder.

Chromium, where there is one (else all is skipped), is led over its DevTools pipe at the size of a telephone, a tablet and a desk:
a table is pasted, a kiln typed, a load planned, a piece dragged, planned again around it, a form tried, the money looked at, steps
ticked, the sheets downloaded; the page is reloaded in the middle and the program killed in the middle. What the page has written is
then read by the commands. Each screen is looked at by day and by night: contrast 4.5 : 1, reflow at 320 px, targets of 24 px, names,
headings (WCAG 2.2: 1.4.3, 1.4.10, 2.5.8, 4.1.2, 1.3.1). With KILNSTOW_AXE naming a copy of axe.min.js that checker has to be content too."""
import base64
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..'))
from browser import COLOURS, Browser  # noqa: E402

PROGRAM = os.path.abspath(sys.argv[1])
SIZES = [size for size in ((320, 640), (768, 1024), (1440, 900)) if not sys.argv[2:] or str(size[0]) in sys.argv[2:]]
SCREENS = ('racks', 'add', 'kiln', 'firing', 'load', 'unpacking', 'form', 'hands', 'fire', 'beside', 'money')
# An invented evening's ware; one cell is not clear, and one heading is in another language.
TABLE = 'name,count,Breite,height,stage\nmug,6,86 mm,95 mm,glazed\nbowl,4,150 mm,7O mm,glazed\nplatter,1,300 mm,40 mm,glazed\n'

LOOK = r'''(() => {
  const bad = [], seen = e => { const r = e.getBoundingClientRect(); return r.width > 0 && r.height > 0 && e.checkVisibility(); };
  const text = e => e.tagName + ' ' + (e.id || e.className.baseVal || e.className || '') + ' "' + e.textContent.trim().slice(0, 30) + '"';
  if (document.documentElement.scrollWidth > innerWidth) bad.push('is wider than the screen: ' + document.documentElement.scrollWidth);
  COLOURS
  for (const e of document.querySelectorAll('body *')) {
    const own = [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim());
    if (!own || !seen(e) || e.closest('script, title, option, svg, .skip, :disabled')) continue;
    const ratio = contrast(number(getComputedStyle(e).color), ground(e));
    if (ratio < 4.5) bad.push('contrast ' + ratio.toFixed(2) + ': ' + text(e));
  }
  for (const e of document.querySelectorAll('a[href], button, input, select, textarea, summary')) {
    const r = (e.closest('label') || e).getBoundingClientRect();
    if (seen(e) && !e.closest('.skip, p > a') && (r.width < 23.5 || r.height < 23.5)) bad.push('target of ' + r.width + ' x ' + r.height + ': ' + text(e));
  }
  for (const e of document.querySelectorAll('input, select, textarea'))
    if (!e.labels.length && !e.getAttribute('aria-label')) bad.push('no label: ' + text(e));
  for (const e of document.querySelectorAll('svg:not([aria-hidden])')) if (!e.getAttribute('aria-label')) bad.push('a drawing without a name');
  const ids = [...document.querySelectorAll('[id]')].map(e => e.id);
  ids.forEach((id, i) => { if (ids.indexOf(id) !== i) bad.push('the id ' + id + ' twice'); });
  let level = 0;
  for (const e of document.querySelectorAll('h1, h2, h3')) {
    if (Number(e.tagName[1]) > level + 1) bad.push('a heading left out before ' + text(e));
    level = Number(e.tagName[1]);
  }
  return bad;
})()'''.replace('COLOURS', COLOURS)


class Results:
    def __init__(self):
        self.n = self.bad = 0

    def say(self, name, *faults):
        """Everything handed in that is a fault (a text, or a list of them) fails it; None, False and nothing do not."""
        told = [str(fault) for one in faults if one for fault in (one if isinstance(one, list) else [one])]
        self.n += 1
        self.bad += bool(told)
        for fault in told:
            print('#', fault)
        print('not ok' if told else 'ok', f'{self.n} - {name}', flush=True)


class Studio:
    """A folder served by the program, and the page on it in the browser."""

    def __init__(self, browser, folder, width, height, results):
        self.browser, self.folder, self.results, self.size = browser, folder, results, f'{width} px'
        browser.tell('Emulation.setDeviceMetricsOverride', width=width, height=height, deviceScaleFactor=1, mobile=width < 1000)
        browser.ask('Browser.setDownloadBehavior', behavior='allow', downloadPath=folder)
        self.serve('0')

    def serve(self, port):
        self.server = subprocess.Popen([PROGRAM, 'serve', self.folder, '--port', port], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        self.address = self.server.stdout.readline().strip()
        self.browser.open('about:blank')
        self.browser.open(self.address)
        self.until('document.querySelector("h1") !== null')

    def kill(self):
        self.server.send_signal(signal.SIGKILL)
        self.server.wait()
        self.server.stdout.close()

    def until(self, condition, seconds=120):
        """Waits until a condition of the page holds; says what the page shows where it never does."""
        for _ in range(seconds * 10):
            if self.browser.value(condition):
                return
            time.sleep(0.1)
        shown = self.browser.value('document.body.innerText')
        raise SystemExit(f'journey, {self.size}: never came true: {condition}\n{shown[:3000]}')

    def go(self, screen):
        self.browser.value(f'location.hash = "#{screen}"')
        self.until(f'document.querySelector("main").className === "screen-{screen.split("/")[0]}"')

    def there(self, selector):
        self.until(f'(e => e !== null && !e.disabled)(document.querySelector({json.dumps(selector)}))')

    def middle(self, selector):
        self.there(selector)
        return self.browser.value(f'''(() => {{ const e = document.querySelector({json.dumps(selector)}); e.scrollIntoView({{block: 'center'}});
            const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; }})()''')

    def mouse(self, kind, x, y):
        self.browser.tell('Input.dispatchMouseEvent', type=kind, x=x, y=y, button='left', buttons=0 if kind == 'mouseReleased' else 1, clickCount=1)

    def click(self, selector):
        self.idle()
        x, y = self.middle(selector)
        self.mouse('mousePressed', x, y)
        self.mouse('mouseReleased', x, y)

    def type(self, selector, text):
        self.there(selector)
        self.browser.value(f'''(() => {{ const e = document.querySelector({json.dumps(selector)}); e.focus(); e.value = {json.dumps(text)};
            for (const kind of ['input', 'change']) e.dispatchEvent(new Event(kind, {{bubbles: true}})); }})()''')

    def press(self, key, code):
        for kind in ('keyDown', 'keyUp'):
            self.browser.tell('Input.dispatchKeyEvent', type=kind, key=key, code=key, windowsVirtualKeyCode=code)

    def idle(self):
        self.until('document.querySelector("[aria-busy]") === null')

    def read(self, name):
        with open(os.path.join(self.folder, name), encoding='utf-8') as file:
            return json.load(file)

    def has(self, name):
        return os.path.exists(os.path.join(self.folder, name))

    def await_file(self, name, good=lambda text: True, seconds=60):
        for _ in range(seconds * 10):
            if self.has(name):
                with open(os.path.join(self.folder, name), 'rb') as file:
                    text = file.read()
                if text and good(text):
                    return text
            time.sleep(0.1)
        raise SystemExit(f'journey, {self.size}: {name} never came, or not as it should\n' + self.browser.value('document.body.innerText')[:3000])

    def command(self, *args):
        return subprocess.run([PROGRAM, *args], cwd=self.folder, capture_output=True, text=True)

    def say(self, name, *faults):
        self.results.say(f'{self.size}: {name}', *faults)

    def text(self, selector='body'):
        return self.browser.value(f'document.querySelector({json.dumps(selector)}).innerText')


def add_a_table(studio):
    studio.click('#use-example')
    studio.there('#throw-away')
    invented = len(studio.read('order.json')['ware'])
    studio.click('#throw-away')
    studio.there('#use-example')
    studio.say('the invented example comes, and goes', not invented and 'no ware in it', studio.read('order.json')['ware'])
    studio.go('add')
    studio.type('#table-text', TABLE)
    studio.until('document.querySelector("#table-said select") !== null')
    studio.browser.value('''(() => { const e = [...document.querySelectorAll('#table-said .field')].find(p => p.textContent.startsWith('Breite'))
        .querySelector('select'); e.value = 'diameter'; e.dispatchEvent(new Event('change', {bubbles: true})); })()''')
    studio.until('document.querySelector("#table-said .unclear") !== null && document.querySelector("#table-said .faults").innerText.includes("7O")')
    marked = studio.text('#table-said .unclear')
    studio.say('a cell that is not clear is marked where it stands', '7O mm' not in marked and marked)
    studio.type('#table-text', TABLE.replace('7O', '70'))
    studio.until('document.querySelector("#table-said .faults") === null && document.querySelectorAll("#table-said tbody tr").length === 3')
    studio.click('#table-put')
    studio.await_file('ware.csv')
    studio.until('document.querySelector("#notice .notice") !== null')


def add_a_piece(studio):
    studio.go('add')
    studio.click('#shape-vase + svg')
    studio.type('#ware-width', '110')
    studio.type('#ware-height', '160 mm')
    studio.until('document.querySelector("#understood svg") !== null')
    studio.click('#put-on-rack')
    studio.until('document.querySelector("#ware-width").value === ""')
    piece = studio.read('order.json')['ware'][0]
    studio.say('a piece is put on the rack in the units typed', [piece] if (piece['diameter'], piece['height']) != ('110 mm', '160 mm') else None)


def plan(studio):
    studio.go('kiln')
    studio.click('#my-kiln')
    studio.await_file('order.json', lambda text: b'"sides"' in text)
    listed = json.loads(studio.command('list', 'ware', 'order.json', '--json').stdout)
    found = [(row['name'], row['count'], round(row['width_mm'])) for row in listed['result'] or []]
    studio.say('what was pasted is what the command reads', sorted(found) != [('bowl', 4, 150), ('mug', 6, 86), ('platter', 1, 300), ('vase', 1, 110)] and [found])
    studio.go('firing')
    studio.click('#load-the-kiln')
    studio.there('#print')
    checked = studio.command('check', 'plan.json')
    studio.say('the load is planned, and keeps every rule', checked.returncode and checked.stdout)
    studio.idle()


def pins(plan):
    return [kind['keep'] for kind in plan['order']['ware'] if 'x' in (kind.get('keep') or {})]


def hands(studio):
    level = max(range(len(studio.read('plan.json')['loads'][0]['levels'])),
                key=lambda i: len(studio.read('plan.json')['loads'][0]['levels'][i]['pieces']))
    studio.go(f'hands/{level + 1}')
    x, y = studio.middle('.worked [data-piece^=mug], .worked [data-piece^=bowl]')
    studio.mouse('mousePressed', x, y)
    for part in range(1, 5):
        studio.mouse('mouseMoved', x + 4 * part, y + 3 * part)
        time.sleep(0.05)
    studio.mouse('mouseReleased', x + 16, y + 12)
    studio.await_file('plan.hands.json', lambda text: pins(json.loads(text)))
    studio.idle()
    held = pins(studio.read('plan.hands.json'))
    studio.say('a dragged piece is pinned where it was put', len(held) != 1 and [held])
    studio.until('document.activeElement.matches(".worked .held.pinned")')
    studio.press('ArrowRight', 39)
    studio.await_file('plan.hands.json', lambda text: abs(pins(json.loads(text))[0]['x'] - held[0]['x'] - 1) < 0.01)
    studio.until('document.querySelector("#hand-x") !== null')
    studio.say('an arrow key moves it by 1 mm')
    studio.browser.tell('Page.reload')
    studio.there('#make-room, #take')
    studio.say('after a reload it stands where it was put', 'Make room' not in studio.text() and studio.text('main'))
    studio.click('#make-room')
    stood = pins(studio.read('plan.hands.json'))[0]
    studio.await_file('plan.json', lambda text: pins(json.loads(text)))
    studio.there('#screen .worked')
    at = [(piece['x'], piece['y']) for one in studio.read('plan.json')['loads'][0]['levels'] for piece in one['pieces']]
    checked = studio.command('check', 'plan.json')
    studio.say('planned again around it, every rule is kept and the pin too', checked.returncode and checked.stdout,
               not any(abs(x - stood['x']) < 0.01 and abs(y - stood['y']) < 0.01 for x, y in at) and [stood, at])
    studio.until('document.querySelector("#undo").textContent.includes(":")')
    studio.click('#undo')
    studio.await_file('plan.json', lambda text: not pins(json.loads(text)))
    studio.there('#redo')
    studio.click('#redo')
    studio.await_file('plan.json', lambda text: pins(json.loads(text)))
    studio.say('that can be undone, and done again')


def fit_and_money(studio):
    studio.go('form')
    studio.click('#will-it')
    studio.until('document.querySelector(".verdict") !== null')
    verdict = studio.text('.verdict')
    said = json.loads(studio.command('fit', 'order.json', '--piece', 'platter', '--json').stdout)['result']['pieces'][0]['says']
    studio.say('a form is told YES or NO as the command does', verdict != said and [verdict, said])
    studio.go('money')
    for field, value in (('electricity-price', '0.30'), ('labour-per_hour', '18')):
        studio.type(f'#cost-{field}', value)
        studio.await_file('order.json', lambda text, value=value: value.encode() in text)
        studio.idle()
    studio.there('#statements')
    studio.say('a kWh told, the firing has its bill', 'EUR' not in studio.text('.summary') and studio.text('main'))


def choose(studio, selector, value):
    studio.there(selector)
    studio.browser.value(f'''(() => {{ const e = document.querySelector({json.dumps(selector)}); e.value = {value};
        e.dispatchEvent(new Event('change', {{bubbles: true}})); }})()''')


def taller(studio):
    """Other posts under a shelf are a draft that the checker judges; undone, the plan is as it was."""
    studio.idle()
    studio.go('hands/1')
    choose(studio, '#level-gap', '[...e.options].find((one, at) => at !== e.selectedIndex).value')
    heights = lambda name: [level['z'] for level in studio.read(name)['loads'][0]['levels']]
    was = heights('plan.json')
    studio.await_file('plan.hands.json', lambda text: heights('plan.hands.json') != was)
    studio.idle()
    by = {round(now - before, 6) for now, before in zip(heights('plan.hands.json')[1:], was[1:])}
    agrees = [one for one in json.loads(studio.command('check', 'plan.hands.json', '--json').stdout)['result']['broken']
              if one['rule'] in ('sound', 'agrees', 'posts', 'steps', 'gaps')]
    studio.say('a level made taller or lower takes all above it along, and its posts', len(by) != 1 and [by], agrees)
    studio.until('document.querySelector("#undo").textContent.includes("taller")')
    studio.click('#undo')
    studio.await_file('plan.hands.json', lambda text: heights('plan.hands.json') == was)
    studio.idle()


def give(studio):
    studio.go('load')
    studio.browser.value('document.querySelector("#give").closest("details").open = true')
    choose(studio, '#give-what', '"plan"')
    studio.click('#give-out')
    given = json.loads(studio.await_file('plan-to-give.json'))
    checked = studio.command('check', 'plan-to-give.json')
    studio.say('a plan is given away without money, and keeps every rule', checked.returncode and checked.stdout, 'costs' in given['order'] and 'its costs',
               'costs' not in studio.read('order.json') and 'there was no money to leave out')
    os.remove(os.path.join(studio.folder, 'plan-to-give.json'))


def tick_and_print(studio):
    studio.go('beside')
    for n in range(1, 4):
        studio.click('#it-is-in')
        studio.until(f'document.querySelectorAll(".ticks input:checked").length === {n}')
    studio.browser.tell('Page.reload')
    studio.until('document.querySelectorAll(".ticks input:checked").length === 3')
    studio.say('what is ticked stays ticked over a reload')
    studio.go('load')
    studio.click('#print')
    sheets = studio.await_file('sheets.pdf', lambda text: text.rstrip().endswith(b'%%EOF'))
    reader = shutil.which('pdfinfo')
    opened = reader and subprocess.run([reader, os.path.join(studio.folder, 'sheets.pdf')], capture_output=True, text=True)
    studio.say('the sheets are downloaded and open', not sheets.startswith(b'%PDF-') and 'no PDF', opened and opened.returncode and opened.stderr)
    os.remove(os.path.join(studio.folder, 'sheets.pdf'))


def killed(studio):
    """Whoever is cut off is told so in words, and finds everything again."""
    before = studio.read('order.json')
    port = studio.address.split(':')[2].split('/')[0]
    studio.kill()
    studio.go('racks')
    studio.click('#more-0')
    studio.until('document.querySelector("#notice .notice") !== null')
    told = studio.text('#notice')
    studio.serve(port)
    studio.go('racks')
    studio.there('#more-0')
    studio.say('the program killed in the middle is told in words, and nothing is lost', 'start' not in told.lower() and told,
               studio.read('order.json') != before and 'the order is another')


def looks(studio):
    axe = os.environ.get('KILNSTOW_AXE')
    for theme in ('light', 'dark'):
        studio.browser.tell('Emulation.setEmulatedMedia', features=[{'name': 'prefers-color-scheme', 'value': theme}])
        for screen in SCREENS:
            studio.go(screen)
            studio.idle()
            faults = studio.browser.value(LOOK)
            if axe:
                with open(axe, encoding='utf-8') as file:
                    studio.browser.value(file.read() + '; 0')
                faults += studio.browser.value('''axe.run().then(r => r.violations.map(v => v.id + ': ' + v.help + ' ' +
                    v.nodes.map(n => n.target.join(' ')).slice(0, 3).join(', ')))''')
            studio.say(f'{screen}, {theme}: all can be read and hit', faults)
            picture(studio, screen, theme)


def picture(studio, screen, theme):
    """With KILNSTOW_PICTURES naming a folder each screen is left there, to be looked at by people."""
    folder = os.environ.get('KILNSTOW_PICTURES')
    if not folder:
        return
    size = studio.browser.tell('Page.getLayoutMetrics')['cssContentSize']
    got = studio.browser.tell('Page.captureScreenshot', captureBeyondViewport=True,
                              clip={'x': 0, 'y': 0, 'width': size['width'], 'height': min(size['height'], 6000), 'scale': 1})
    with open(os.path.join(folder, f'{screen}-{studio.size.split()[0]}-{theme}.png'), 'wb') as file:
        file.write(base64.b64decode(got['data']))


def complaints(browser):
    """Errors of the page's own; an address that nobody answered while the program was down is none."""
    found = []
    for event in browser.events:
        what = event.get('params', {})
        if event.get('method') == 'Runtime.exceptionThrown':
            found.append(json.dumps(what['exceptionDetails'])[:500])
        elif event.get('method') == 'Runtime.consoleAPICalled' and what['type'] in ('error', 'warning'):
            found.append(json.dumps(what['args'])[:500])
        elif event.get('method') == 'Log.entryAdded' and what['entry']['level'] == 'error' and 'ERR_CONNECTION' not in what['entry']['text']:
            found.append(what['entry']['text'] + ' ' + what['entry'].get('url', ''))
    return found


def main():
    chromium = shutil.which('chromium')
    if not chromium:
        print('1..0 # SKIP no Chromium on this machine (Debian: apt-get install chromium): no browser went through the page')
        return 0
    results = Results()
    with tempfile.TemporaryDirectory() as folder:
        browser = Browser(chromium, os.path.join(folder, 'profile'))
        browser.tell('Log.enable')
        for width, height in SIZES:
            own = os.path.join(folder, f'studio-{width}')
            os.mkdir(own)
            studio = Studio(browser, own, width, height, results)
            try:
                for step in (add_a_table, add_a_piece, plan, hands, taller, fit_and_money, give, tick_and_print, looks, killed):
                    step(studio)
            finally:
                studio.kill()
        results.say('the page has no error of its own', complaints(browser))
        results.say('nothing is asked of any other machine', browser.asked_of_the_network(('data:', 'blob:', 'about:', 'http://127.0.0.1:')))
        browser.close()
    print(f'1..{results.n}')
    return 1 if results.bad else 0


if __name__ == '__main__':
    sys.exit(main())
