"""What the page's server refuses, and what it goes on doing meanwhile: hostile.py PROGRAM, from the project's top folder.

Statuses are those of RFC 9110 (sections 15.5 and 15.6), 431 of RFC 6585, section 5; that a request without exactly one Host,
or with another, is not answered follows RFC 9112, section 3.2."""
import os
import pathlib
import socket
import sys
import time

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from served import Served  # noqa: E402

CLIENTS = 64
DRIPS = 24
checks = []


def told(name, holds, found=''):
    checks.append(bool(holds))
    print(f'{"" if holds else "not "}ok {len(checks)} - {name}' + ('' if holds else f' # found {found}'), flush=True)


def head(method, path, *lines, version='1.1'):
    return ('\r\n'.join([f'{method} {path} HTTP/{version}', *lines]) + '\r\n\r\n').encode('latin-1')


def senders(s):
    """(expected status, what it is, bytes): whose request it is."""
    own, token = f'Host: {s.host}', f'Kilnstow-Token: {s.token}'
    yield 200, 'the page itself', head('GET', '/', own)
    yield 200, 'its own origin', head('GET', '/', own, f'Origin: http://{s.host}')
    yield 421, 'no Host', head('GET', '/')
    yield 421, 'no Host in HTTP/1.0', head('GET', '/', version='1.0')
    yield 421, 'an empty Host', head('GET', '/', 'Host:')
    yield 421, 'two Hosts, both right', head('GET', '/', own, own)
    yield 421, 'two Hosts, one right', head('GET', '/', own, 'Host: evil.example')
    yield 421, 'a Host without a port', head('GET', '/', 'Host: 127.0.0.1')
    yield 421, 'another port', head('GET', '/', f'Host: 127.0.0.1:{s.port % 65535 + 1}')
    yield 421, 'a name for this machine', head('GET', '/', f'Host: localhost:{s.port}')
    yield 421, 'a name led to this machine', head('GET', '/', f'Host: evil.example:{s.port}')
    yield 421, 'a name that begins as ours', head('GET', '/', f'Host: {s.host}.evil.example')
    yield 421, 'a name that ends as ours', head('GET', '/', f'Host: evil.{s.host}')
    yield 421, 'the address as one number', head('GET', '/', f'Host: 2130706433:{s.port}')
    yield 421, 'the address in hexadecimal', head('GET', '/', f'Host: 0x7f.1:{s.port}')
    yield 421, 'another loopback address', head('GET', '/', f'Host: 127.0.0.2:{s.port}')
    yield 421, 'the address of IPv6', head('GET', '/', f'Host: [::1]:{s.port}')
    yield 421, 'a user before the Host', head('GET', '/', f'Host: a@{s.host}')
    yield 421, 'a name led here, token and all', head('GET', '/api/files', f'Host: evil.example:{s.port}', token)
    yield 421, 'a wrong Host and a wrong origin', head('GET', '/', 'Host: a', 'Origin: http://a')
    for origin in ('null', 'http://evil.example', f'https://{s.host}', f'http://localhost:{s.port}', f'http://{s.host}.evil.example',
                   f'http://{s.host}/', 'http://127.0.0.1', '', 'file://', f'http://evil.example@{s.host}'):
        yield 403, f'the origin "{origin}"', head('GET', '/api/files', own, token, f'Origin: {origin}')
    yield 403, 'two origins', head('GET', '/', own, f'Origin: http://{s.host}', 'Origin: http://evil.example')
    yield 403, 'the page asked for by another page', head('GET', '/', own, 'Origin: http://evil.example')


def tokens(s):
    own, token = f'Host: {s.host}', f'Kilnstow-Token: {s.token}'
    yield 200, 'the right token', head('GET', '/api/files', own, token)
    yield 403, 'no token', head('GET', '/api/files', own)
    yield 403, 'an empty token', head('GET', '/api/files', own, 'Kilnstow-Token:')
    yield 403, 'a token with a digit more', head('GET', '/api/files', own, token + '0')
    yield 403, 'a token with a digit less', head('GET', '/api/files', own, token[:-1])
    yield 403, 'a token with another digit', head('GET', '/api/files', own, token[:-1] + ('1' if token[-1] == '0' else '0'))
    yield 403, 'a token in capitals', head('GET', '/api/files', own, f'Kilnstow-Token: {"A" * 32}')
    yield 403, 'two tokens', head('GET', '/api/files', own, token, token)
    yield 403, 'a token in the address', head('GET', f'/api/files?token={s.token}', own)
    yield 403, 'a token as a cookie', head('GET', '/api/files', own, f'Cookie: Kilnstow-Token={s.token}')
    for path in ('/api/place', '/api/jobs', '/api/drag', '/api/nothing', '/api/', '/api'):
        yield 403, f'{path} without a token', head('POST', path, own, 'Content-Type: application/json', 'Content-Length: 0')


def places(s):
    own, token = f'Host: {s.host}', f'Kilnstow-Token: {s.token}'
    for path in ('/nothing', '/..', '/../etc/passwd', '/%2e%2e/etc/passwd', '//', '/start.html/', '/%00', '/start.html%00', '/.', '/page/start.html'):
        yield 404, f'the page {path}', head('GET', path, own)
    for path in ('/api', '/api/', '/api/nothing', '/api/files/', '/api/files/..', '/api/files/%2e%2e', '/api/files/..%2forder.json',
                 '/api/files/%2fetc%2fpasswd', '/api/files/order.json/', '/api/files/.hidden', '/api/files/order.json%00', '/api/files/%',
                 '/api/files/%zz', '/api/files/a%0ab', '/api/files/-o', '/api/files/%ff', '/api/files/out', '/api/jobs/', '/api/jobs/1',
                 '/api/jobs/x', '/api/jobs/-1', '/api/jobs/1e99', '/api/files/' + 'a' * 300):
        yield 404, path[:40], head('GET', path, own, token)
    for path in ('/api/serve', '/api/place/', '/api/PLACE', '/api/list%20kilns', '/api/--help'):
        yield 404, f'the command {path}', head('POST', path, own, token, 'Content-Type: application/json', 'Content-Length: 0')
    for method, path in (('POST', '/'), ('PUT', '/start.html'), ('DELETE', '/'), ('OPTIONS', '/'), ('TRACE', '/'), ('PATCH', '/'),
                         ('GET', '/api/place'), ('PUT', '/api/place'), ('OPTIONS', '/api/place'), ('DELETE', '/api/files/order.json'),
                         ('POST', '/api/files/order.json'), ('PUT', '/api/files'), ('PUT', '/api/jobs'), ('GET', '/api/drag'), ('G', '/'),
                         ('ET', '/'), ('get', '/')):
        yield 405, f'{method} {path}', head(method, path, own, token, 'Content-Length: 0')


def bodies(s):
    own, token, json = f'Host: {s.host}', f'Kilnstow-Token: {s.token}', 'Content-Type: application/json'
    yield 431, 'headers of 40 kB', head('GET', '/', own, 'X: ' + 'a' * 40000)
    yield 431, 'two thousand headers', head('GET', '/', own, *(f'X{i}: {"b" * 20}' for i in range(2000)))
    yield 431, 'headers of 1 MB', head('GET', '/', own, 'X: ' + 'a' * 1000000)
    yield 414, 'an address of 1 MB', head('GET', '/' + 'a' * 1000000, own)
    yield 413, 'a body of 9 MB, told', head('POST', '/api/place', own, token, json, 'Content-Length: 9000000')
    yield 413, 'a body beyond all measure', head('POST', '/api/place', own, token, json, f'Content-Length: {"9" * 15}')
    yield 413, 'a photograph of 9 MB', head('PUT', '/api/files/a.jpg', own, token, 'Content-Length: 9000000')
    yield 413, 'a body of 9 MB in parts', head('POST', '/api/place', own, token, json, 'Transfer-Encoding: chunked') + \
        b''.join(b'10000\r\n' + b' ' * 65536 + b'\r\n' for _ in range(140)) + b'0\r\n\r\n'
    for length in ('-1', '1x', '', '0x10'):
        yield 400, f'a body of "{length}" bytes', head('POST', '/api/place', own, token, json, f'Content-Length: {length}')
    yield 415, 'no type of body', head('POST', '/api/place', own, token, 'Content-Length: 2') + b'{}'
    yield 415, 'a form, as any page could send one', head('POST', '/api/place', own, token, 'Content-Type: application/x-www-form-urlencoded',
                                                          'Content-Length: 2') + b'{}'
    yield 415, 'text, as any page could send it', head('POST', '/api/jobs', own, token, 'Content-Type: text/plain', 'Content-Length: 2') + b'{}'
    yield 415, 'a program put into the folder', head('PUT', '/api/files/a.sh', own, token, 'Content-Length: 2') + b'{}'
    for body in (b'', b'[]', b'null', b'{"args":', b'{"args": 1}', b'{"args": [1]}', b'{"args": ["--help"]}', b'{"args": ["--"]}', b'{"rags": []}',
                 b'{"files": []}', b'{"files": {"a": 1}}', b'{"files": {"../a": ""}}', b'{"files": {".a": ""}}', b'{"give": "../a"}', b'{"give": 1}',
                 b'{"args": [], "args": []}', b'\xff\xfe', b'[' * 100000, b'{"args": [' + b'"a",' * 300 + b'"a"]}'):
        told_length = f'Content-Length: {len(body)}'
        yield 400, f'place asked with {body[:24]!r}', head('POST', '/api/place', own, token, json, told_length) + body
    for body in (b'{}', b'{"order": "-"}', b'{"order": 1}', b'{"order": "order.json", "threads": 1000}', b'{"order": "a", "keep_shelves": true}'):
        yield 400, f'a job asked with {body!r}', head('POST', '/api/jobs', own, token, json, f'Content-Length: {len(body)}') + body
    for body in (b'{}', b'{"plan": "none.json", "id": "a"}', b'{"plan": "/etc/passwd", "id": "a"}', b'{"plan": "../../x", "id": "a"}',
                 b'{"plan": "order.json", "id": "mug"}', b'{"plan": "p", "id": "a", "x": 1e999}'):
        yield 400, f'a drag asked with {body!r}', head('POST', '/api/drag', own, token, json, f'Content-Length: {len(body)}') + body


def refusals(s):
    count = 0
    for group in (senders, tokens, places, bodies):
        for expected, name, data in group(s):
            got = s.status(data)
            told(f'{expected}: {name}', got == expected, got)
            count += 1
    told('these are at least 80 requests', count >= 80, count)
    for name, data in (('no HTTP', b'\x16\x03\x01\x02\x00\r\n\r\n\r\n'), ('a line without an end', b'GET ' + b'a' * 200)):
        with socket.create_connection(('127.0.0.1', s.port)) as wire:
            wire.sendall(data)
        told(f'it goes on after {name}', s.status(head('GET', '/', f'Host: {s.host}')) == 200)


def answers(s):
    """What every answer carries, refused or not."""
    for path, status in (('/', 200), ('/api/files', 200), ('/nothing', 404), ('/api/nothing', 404)):
        got, headers, _ = s.call('GET', path)
        csp = headers.get('Content-Security-Policy', '')
        told(f'{path} may load from its own server alone', got == status and "default-src 'none'" in csp and 'unsafe' not in csp and
             "frame-ancestors 'none'" in csp, csp)
        told(f'{path} is no other page\'s to read', headers.get('Cross-Origin-Resource-Policy') == 'same-origin' and
             headers.get('X-Content-Type-Options') == 'nosniff' and 'Access-Control-Allow-Origin' not in headers, headers)
    told('what may be done is told with 405', s.call('DELETE', '/')[1].get('Allow') == 'GET, HEAD')


def bounds(s):
    """Nothing outside the folder is read or written, whatever names it."""
    outside = s.work / 'outside.json'
    outside.write_text((s.folder / 'order.json').read_text())
    (s.folder / 'led.json').symlink_to(outside)
    (s.folder / 'away').symlink_to(s.work)
    order = (s.folder / 'order.json').read_text()
    for name, path in (('../', '../outside.json'), ('its whole path', str(outside)), ('a link', 'led.json'), ('a linked folder', 'away/outside.json')):
        status, headers, body = s.call('POST', '/api/list', {'args': ['ware', path]})
        told(f'an order is not read by {name}', status == 200 and headers['Kilnstow-Exit'] == '3' and b'opened folder' in body, body)
        told(f'a job does not read it by {name}', ended(s, {'order': path})['exit'] == 3)
        bad = order.replace('"ware.csv"', f'"{path}"')
        status, headers, body = s.call('POST', '/api/place', {'args': ['bad.json'], 'files': {'bad.json': bad}})
        told(f'nor a table that an order names by {name}', headers.get('Kilnstow-Exit') == '3' and b'opened folder' in body, body)
        bad = order.replace('"round-450"', f'"{path}"')
        status, headers, body = s.call('POST', '/api/place', {'args': ['bad.json'], 'files': {'bad.json': bad}})
        told(f'nor a kiln that it names by {name}', headers.get('Kilnstow-Exit') == '3' and b'outside' not in body.split(b'errors')[0], body)
    for name, args in (('a plan', ['order.json', '--rounds', '0', '-o', '../plan.json']), ('a problem', ['order.json', '--rounds', '0', '--export', '../p.lp']),
                       ('a plan by a link', ['order.json', '--rounds', '0', '-o', 'away/plan.json'])):
        status, headers, body = s.call('POST', '/api/place', {'args': args})
        told(f'{name} is not written outside', headers.get('Kilnstow-Exit') == '3', body)
    told('nothing was', sorted(path.name for path in s.work.iterdir()) == ['outside.json', 'studio'], list(s.work.iterdir()))
    told('a link is not given', s.call('GET', '/api/files/led.json')[0] == 404)
    told('nor put through', s.call('PUT', '/api/files/led.json', b'{}', If_Match='"0"')[0] == 404 and outside.read_text() == order)
    names = s.call('GET', '/api/files')[2]
    told('nor listed', b'led.json' not in names and b'"order.json"' in names, names)


def ended(s, wish):
    import json
    number = json.loads(s.call('POST', '/api/jobs', wish)[2])['job']
    after = 0
    while True:
        job = json.loads(s.call('GET', f'/api/jobs/{number}?after={after}')[2])
        after = job['k']
        if job['state'] == 'ended':
            return job


def crowds(s):
    """Many at once, and those who never finish what they begin."""
    own = f'Host: {s.host}'
    wires = [socket.create_connection(('127.0.0.1', s.port), timeout=60) for _ in range(CLIENTS)]
    for wire in wires:
        wire.sendall(head('GET', '/', own))
    good = sum(wire.recv(64).startswith(b'HTTP/1.1 200') for wire in wires)
    told(f'{CLIENTS} clients at once are all answered', good == CLIENTS, good)
    for wire in wires:
        wire.close()
    slow = [socket.create_connection(('127.0.0.1', s.port), timeout=60) for _ in range(CLIENTS)]
    begun = time.monotonic()
    for wire in slow:
        wire.sendall(f'GET / HTTP/1.1\r\n{own}\r\n'.encode())
    closed = set()
    for _ in range(DRIPS):
        for wire in slow:
            if wire in closed:
                continue
            try:
                wire.sendall(b'X: y\r\n')
                wire.setblocking(False)
                if wire.recv(1) == b'':
                    closed.add(wire)
            except BlockingIOError:
                pass
            except OSError:
                closed.add(wire)
        if len(closed) == CLIENTS:
            break
        if _ == 1:
            told('meanwhile the page is answered', s.status(head('GET', '/', own)) == 200)
        time.sleep(1)
    told('who sends a header a second is sent away, however long it goes on', len(closed) == CLIENTS,
         f'{CLIENTS - len(closed)} still there after {time.monotonic() - begun:.0f} s')
    for wire in slow:
        wire.close()


def listens_on(process):
    """Local addresses at which a process listens, of Linux's /proc/net (proc(5)): hexadecimal, the address's bytes turned round."""
    inodes = set()
    for entry in pathlib.Path(f'/proc/{process}/fd').iterdir():
        try:
            inodes.add(os.readlink(entry))
        except OSError:
            pass
    found = []
    for table in ('tcp', 'tcp6'):
        path = pathlib.Path('/proc/net') / table
        for line in path.read_text().splitlines()[1:] if path.exists() else ():
            words = line.split()
            if words[3] == '0A' and f'socket:[{words[9]}]' in inodes:
                found.append(words[1].partition(':')[0])
    return found


def main(program):
    with Served(program) as s:
        told('it tells its address', s.address.startswith('http://127.0.0.1:') and len(s.token) == 32, s.address)
        told('it listens on loopback and nowhere else', listens_on(s.process.pid) == ['0100007F'], listens_on(s.process.pid))
        refusals(s)
        answers(s)
        bounds(s)
        crowds(s)
        memory = [line for line in pathlib.Path(f'/proc/{s.process.pid}/status').read_text().splitlines() if line.startswith('VmRSS')]
        if 'asan' not in program:
            told('it takes less than 100 MB after all this', int(memory[0].split()[1]) < 100 * 1024, memory)
        left = [path for path in pathlib.Path(os.environ.get('TMPDIR', '/tmp')).glob('kilnstow-try-*') if path.stat().st_uid == os.getuid()
                and path.stat().st_mtime > s.folder.stat().st_ctime]
        status, said = s.end()
        told('it ends when it is asked to, with status 0', status == 0 and 'ERROR' not in said, (status, said[-2000:]))
        told('no folder of a try is left', not left, left)
    with Served(program) as s, Served(program) as other:
        told('two servers have tokens of their own', s.token != other.token)
        token = {'Kilnstow_Token': other.token}
        told("and one's token does not open the other", s.call('GET', '/api/files', **token)[0] == 403)
    print(f'1..{len(checks)}')
    return 0 if all(checks) else 1


if __name__ == '__main__':
    sys.exit(main(sys.argv[1]))
