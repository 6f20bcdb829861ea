"""A real browser for tests: Chromium, led over its DevTools pipe."""
import json
import os
import subprocess

# Contrast of what is read against what it stands on, as WCAG 2.2 (1.4.3) reckons it; for scripts that look at a page.
COLOURS = r'''
  const number = c => (c.match(/[\d.]+/g) || []).map(Number);
  const light = c => { const [r, g, b] = c.slice(0, 3).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const ground = e => { for (; e; e = e.parentElement) { const c = number(getComputedStyle(e).backgroundColor);
    if (c.length === 3 || c[3] > 0) return c; } return [255, 255, 255]; };
  const contrast = (a, b) => { const [x, y] = [light(a), light(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05); };
'''


class Browser:
    """Speaks the DevTools protocol: messages end in a zero byte, on file descriptors 3 and 4."""

    def __init__(self, chromium, folder):
        to_it, self.write = os.pipe()
        self.read, from_it = os.pipe()
        self.number, self.rest, self.events = 0, b'', []
        flags = ['--headless=new', '--remote-debugging-pipe', '--no-sandbox', '--disable-gpu', '--no-first-run',
                 '--disable-background-networking', '--user-data-dir=' + folder, 'about:blank']
        self.process = subprocess.Popen(['/bin/sh', '-c', f'exec "$0" "$@" 3<&{to_it} 4>&{from_it}', chromium, *flags],
                                        pass_fds=(to_it, from_it), stdin=subprocess.DEVNULL,
                                        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(to_it)
        os.close(from_it)
        target = self.ask('Target.createTarget', url='about:blank')['targetId']
        self.session = self.ask('Target.attachToTarget', targetId=target, flatten=True)['sessionId']
        for domain in ('Page', 'Network', 'Runtime'):
            self.tell(domain + '.enable')

    def message(self):
        while b'\0' not in self.rest:
            more = os.read(self.read, 65536)
            if not more:
                raise SystemExit('the browser ended')
            self.rest += more
        one, self.rest = self.rest.split(b'\0', 1)
        return json.loads(one)

    def ask(self, method, session=None, **what):
        self.number += 1
        asked = {'id': self.number, 'method': method, 'params': what}
        if session:
            asked['sessionId'] = session
        os.write(self.write, json.dumps(asked).encode() + b'\0')
        while True:
            got = self.message()
            if got.get('id') == self.number:
                if 'error' in got:
                    raise SystemExit(f'{method}: {got["error"]}')
                return got['result']
            self.events.append(got)

    def tell(self, method, **what):
        return self.ask(method, self.session, **what)

    def await_event(self, name):
        while not any(event.get('method') == name for event in self.events):
            self.events.append(self.message())

    def open(self, url):
        self.events = [event for event in self.events if event.get('method') != 'Page.loadEventFired']
        self.tell('Page.navigate', url=url)
        self.await_event('Page.loadEventFired')

    def value(self, script):
        got = self.tell('Runtime.evaluate', expression=script, returnByValue=True, awaitPromise=True)
        if 'exceptionDetails' in got:
            raise SystemExit(got['exceptionDetails'])
        return got['result'].get('value')

    def asked_of_the_network(self, but=('file:', 'data:')):
        """Requests that went anywhere but to these beginnings."""
        return [event['params']['request']['url'] for event in self.events
                if event.get('method') == 'Network.requestWillBeSent' and not event['params']['request']['url'].startswith(but)]

    def close(self):
        self.ask('Browser.close')
        self.process.wait(30)
