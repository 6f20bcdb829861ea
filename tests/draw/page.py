#!/usr/bin/env python3
"""The page for a telephone in a real browser. Usage: page.py PROGRAM, from the project's top folder.

Chromium, where there is one (else all is skipped), shows the page of the first example at four sizes, by day and by night, and
is led over its DevTools pipe. Limits are those of WCAG 2.2: contrast 4.5 : 1 (1.4.3), reflow at 320 px (1.4.10), names (4.1.2),
order (2.4.3); targets are held to 64 px, twice and more than its 24 (2.5.8). With KILNSTOW_AXE naming a copy of axe.min.js that
checker has to be content too."""
import json
import os
import shutil
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..'))
from browser import COLOURS, Browser  # noqa: E402

PROGRAM = os.path.abspath(sys.argv[1])
SIZES = ((320, 568), (390, 844), (844, 390), (1280, 800))
THEMES = ('light', 'dark')


# What a sighted, a keyboard's and a gloved reader find amiss, as a list of words.
LOOK = r'''(() => {
  const bad = [], seen = e => { const r = e.getBoundingClientRect(); return r.width > 0 && r.height > 0; };
  const text = e => (e.className.baseVal || e.className || '') + ' "' + e.textContent.trim().slice(0, 30) + '"';
  if (document.documentElement.scrollWidth > innerWidth) bad.push('is wider than the screen: ' + document.documentElement.scrollWidth);

  COLOURS
  for (const e of document.querySelectorAll('body *')) {
    const own = [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim());
    if (!own || !seen(e) || e.closest('script, title, desc') || e.closest('.gone')) continue;
    const svg = e.closest('svg') !== null, style = getComputedStyle(e);
    const ratio = contrast(number(svg ? style.fill : style.color), ground(svg ? e.closest('svg') : e));
    if (ratio < 4.5 && !(svg && e.classList.contains('inverse'))) bad.push('contrast ' + ratio.toFixed(2) + ': ' + text(e));
  }

  for (const e of document.querySelectorAll('a, button, textarea, ol.steps label')) {
    const r = e.getBoundingClientRect();
    if (seen(e) && (r.width < 63.5 || r.height < 63.5)) bad.push('target of ' + r.width + ' x ' + r.height + ': ' + text(e));
  }

  for (const e of document.querySelectorAll('th, td:first-child')) { // "Piece" is one word on one line
    const words = document.createRange();
    for (const n of [...e.childNodes].filter(n => n.nodeType === 3))
      for (const m of n.data.matchAll(/\S+/g)) { words.setStart(n, m.index); words.setEnd(n, m.index + m[0].length);
        if (m[0].length < 8 && words.getClientRects().length > 1) bad.push('a broken word: ' + m[0]); }
  }

  const ids = [...document.querySelectorAll('[id]')].map(e => e.id);
  ids.forEach((id, i) => { if (ids.indexOf(id) !== i) bad.push('the id ' + id + ' twice'); });
  for (const a of document.querySelectorAll('a[href^="#"]'))
    if (!document.getElementById(a.hash.slice(1))) bad.push('a link to nowhere: ' + a.hash);
  for (const e of document.querySelectorAll('input, textarea')) if (!e.labels.length) bad.push('no label: ' + e.id);
  for (const e of document.querySelectorAll('svg')) if (!e.querySelector('title').textContent) bad.push('a drawing without a name');
  for (const e of document.body.children)
    if (!['HEADER', 'MAIN', 'FOOTER', 'SCRIPT'].includes(e.tagName)) bad.push('outside of the landmarks: ' + e.tagName);
  let level = 0;
  for (const e of document.querySelectorAll('h1, h2, h3')) {
    if (Number(e.tagName[1]) > level + 1) bad.push('a heading left out before ' + text(e));
    level = Number(e.tagName[1]);
  }
  if (document.querySelector('[tabindex]')) bad.push('a tab order of its own');
  return bad;
})()'''.replace('COLOURS', COLOURS)

BESIDE = r'''(() => { const figure = document.querySelector('.level figure').getBoundingClientRect(),
  list = document.querySelector('.level .work').getBoundingClientRect();
  return figure.right <= list.left && figure.height <= innerHeight; })()'''


class Results:
    def __init__(self):
        self.n = self.bad = 0

    def say(self, name, faults):
        self.n += 1
        self.bad += bool(faults)
        for fault in faults:
            print('#', fault)
        print('not ok' if faults else 'ok', f'{self.n} - {name}', flush=True)


def wait(browser, ms):
    browser.value(f'new Promise(done => setTimeout(done, {ms}))')


def tap(browser, selector, times=1):
    """Trusted clicks on the middle of the first thing that the selector names."""
    x, y = browser.value(f'''(() => {{ const e = document.querySelector('{selector}'); (e.closest('li') || e).scrollIntoView({{block: 'center'}});
        const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; }})()''')
    for count in range(1, times + 1):
        for kind in ('mousePressed', 'mouseReleased'):
            browser.tell('Input.dispatchMouseEvent', type=kind, x=x, y=y, button='left', clickCount=count)


def ticked(browser):
    return browser.value('''[...document.querySelectorAll('ol.steps input')].filter(e => e.checked).length''')


def heard(browser, text):
    browser.value(f'''document.getElementById('hear').value = {json.dumps(text)}''')
    wait(browser, 600)
    tap(browser, 'button.hear')
    return browser.value('''document.querySelector('.told output').textContent''')


def looks(browser, page, results):
    axe = os.environ.get('KILNSTOW_AXE')
    for width, height in SIZES:
        for theme in THEMES:
            browser.tell('Emulation.setDeviceMetricsOverride', width=width, height=height, deviceScaleFactor=1, mobile=width < 1000)
            browser.tell('Emulation.setEmulatedMedia', features=[{'name': 'prefers-color-scheme', 'value': theme}])
            browser.open('file://' + page)
            tap(browser, 'button.next') # so that there is a step that is done
            faults = browser.value(LOOK)
            if axe:
                with open(axe, encoding='utf-8') as file:
                    browser.value(file.read() + '; 0')
                faults += browser.value('''axe.run().then(r => r.violations.map(v => v.id + ': ' + v.help + ' ' +
                    v.nodes.map(n => n.target.join(' ')).slice(0, 3).join(', ')))''')
            results.say(f'at {width} x {height}, {theme}, all can be read and hit', faults)
        beside = browser.value(BESIDE)
        results.say(f'at {width} x {height} the drawing stands {"beside" if width > 700 else "above"} the list',
                    [] if beside == (width > 700) else ['it does not'])


def double_taps(browser, results):
    browser.value('localStorage.clear()')
    browser.tell('Page.reload')
    wait(browser, 300)
    tap(browser, 'button.next', 2)
    results.say('a double tap on "Done, next" ticks one step', [] if ticked(browser) == 1 else [f'{ticked(browser)} are ticked'])
    tap(browser, '#s3 label', 2)
    results.say('a double tap on a step ticks it', [] if ticked(browser) == 2 else [f'{ticked(browser)} are ticked'])


def keeping(browser, page, results):
    browser.open('file://' + page)
    results.say('ticks are there when the page is opened again', [] if ticked(browser) == 2 else [f'{ticked(browser)} are'])


def telling(browser, results):
    """Everything in but three pieces, told, wiped and heard again."""
    every = browser.value('''document.querySelectorAll('ol.steps li').length''')
    plan = browser.value('''document.body.getAttribute('data-plan').slice(0, 8)''')
    counts = browser.value('''[...document.querySelectorAll('.level')].map(e => [e.querySelector('[data-level-name]').getAttribute(
        'data-level-name'), [...e.querySelectorAll('.no')].map(n => n.textContent.trim())])''')
    wide = next(name for name, marks in counts if marks[1:3] == ['2', '3'])
    other = next(name for name, _ in counts if name != wide)
    left = [(f'{wide}.2-3' if name == wide else f'{other}.1') for name, _ in counts if name in (wide, other)]
    said = heard(browser, f'  {plan.upper()} 1: NOT {", ".join(left)} ')
    told = browser.value('''document.getElementById('tell').value''')
    results.say('what is in is heard and told as one short text', [] if told == f'{plan} 1: not {" ".join(left)}'
                and ticked(browser) == every - 3 else [said, told, f'{ticked(browser)} of {every}'])
    before = ticked(browser)
    for text in (f'{plan} 1: not 1.99', f'{plan} 7: all', f'{plan} 1: all 1.2', 'hello', '', f'{plan} 1: not 1.3-2',
                 ('0' * 8 if plan != '0' * 8 else '1' * 8) + ' 1: all'):
        said = heard(browser, text)
        results.say(f'"{text}" is refused in words and changes nothing',
                    [] if ticked(browser) == before and len(said) > 20 else [said, f'{ticked(browser)} were {before}'])
    heard(browser, f'{plan} 1: all')
    results.say('"all" ticks all', [] if ticked(browser) == every else [f'{ticked(browser)} of {every}'])
    heard(browser, f'{plan} none')
    results.say('"none" ticks none', [] if ticked(browser) == 0 else [f'{ticked(browser)}'])
    last = browser.value('''[...document.querySelectorAll('#at-1-1 .no')].pop().textContent''')
    later = browser.value('''[...document.querySelectorAll('.level')].slice(1).map(e => e.querySelector('[data-level-name]')
        .getAttribute('data-level-name') + '.1-' + [...e.querySelectorAll('.no')].filter(n => !/C/.test(n.textContent)).pop().textContent)
        .join(' ') + ' ' + [...document.querySelectorAll('.level')].slice(1).flatMap(e => [...e.querySelectorAll('.no')].filter(n =>
        /C/.test(n.textContent)).map(n => n.closest('li').getAttribute('data-level-name') + '.' + n.textContent)).join(' ')''')
    heard(browser, f'{plan} 1: not {later}')
    done = browser.value('''[...document.querySelectorAll('#at-1-2 input, .level:nth-of-type(n+2) input')].filter(e => e.checked).length''')
    results.say('shelves of levels not begun are not ticked by it', [] if done == 0 and ticked(browser) > int(last.strip('C'))
                else [f'{done} are', later])


def tabs(browser, results):
    """Tab goes down the page: from the links over the bar to the list."""
    browser.value('document.activeElement.blur(); scrollTo(0, 0)')
    browser.tell('Page.reload')
    wait(browser, 300)
    places = []
    for _ in range(400):
        for kind in ('keyDown', 'keyUp'):
            browser.tell('Input.dispatchKeyEvent', type=kind, key='Tab', code='Tab', windowsVirtualKeyCode=9)
        places.append(browser.value('''(() => { const e = document.activeElement; return e === document.body ? -1 :
            [...document.querySelectorAll('*')].indexOf(e); })()'''))
        if len(places) > 1 and places[-1] <= places[0]:
            places.pop()
            break
    wanted = browser.value('''document.querySelectorAll('a, button, input, textarea').length''')
    results.say('tabs follow the order of the page and miss nothing', [] if places == sorted(places) and
                len(places) == wanted else [f'{len(places)} of {wanted}', str(places)])
    hidden = browser.value('''(() => { const bad = []; for (const e of document.querySelectorAll('ol.steps input, .level a')) { e.focus();
        const r = e.getBoundingClientRect(), bar = document.querySelector('.bar').getBoundingClientRect();
        if (r.bottom > bar.top || r.top < 0) bad.push(e.closest('[id]').id + ' ' + r.top + ' to ' + r.bottom); } return bad; })()''')
    results.say('what has the focus is not under the bar', hidden)


def main():
    chromium = shutil.which('chromium')
    if not chromium:
        print('1..0 # SKIP no Chromium on this machine (Debian: apt-get install chromium): the page was looked at by no browser')
        return 0
    results = Results()
    with tempfile.TemporaryDirectory() as folder:
        plan, page = os.path.join(folder, 'plan.json'), os.path.join(folder, 'page.html')
        subprocess.run([PROGRAM, 'place', 'examples/first/order.json', '--rounds', '1', '-o', plan], stdout=subprocess.DEVNULL)
        subprocess.run([PROGRAM, 'draw', plan, '-o', page], check=True, stdout=subprocess.DEVNULL)
        browser = Browser(chromium, os.path.join(folder, 'profile'))
        looks(browser, page, results)
        browser.tell('Emulation.setDeviceMetricsOverride', width=390, height=844, deviceScaleFactor=1, mobile=False)
        double_taps(browser, results)
        keeping(browser, page, results)
        telling(browser, results)
        tabs(browser, results)
        asked = browser.asked_of_the_network()
        results.say('nothing is asked of a network', asked)
        browser.close()
    print(f'1..{results.n}')
    return 1 if results.bad else 0


if __name__ == '__main__':
    sys.exit(main())
