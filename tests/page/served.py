"""One run of `kilnstow serve` on a folder of its own, and ways to speak to it: bytes as they are, or calls as a script makes them."""
import http.client
import json
import pathlib
import shutil
import socket
import subprocess
import tempfile

EXAMPLE = pathlib.Path(__file__).parents[2] / 'examples' / 'first'


class Served:
    def __init__(self, program, *options):
        self.work = pathlib.Path(tempfile.mkdtemp())
        self.folder = self.work / 'studio'
        shutil.copytree(EXAMPLE, self.folder)
        self.process = subprocess.Popen([program, 'serve', str(self.folder), '--port', '0', *options], text=True,
                                        stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        self.address = self.process.stdout.readline().strip()
        self.host, _, self.token = self.address.removeprefix('http://').partition('/#')
        self.port = int(self.host.partition(':')[2])

    def __enter__(self):
        return self

    def __exit__(self, *failure):
        self.end()
        shutil.rmtree(self.work, ignore_errors=True)

    def end(self):
        """Its exit status, and what it wrote to standard error."""
        if self.process.poll() is None:
            self.process.terminate()
        said = self.process.communicate(timeout=60)[1]
        return self.process.returncode, said

    def raw(self, data, seconds=20):
        """All that comes back for these bytes until the server closes, or an answer without a body is whole."""
        with socket.create_connection(('127.0.0.1', self.port), timeout=seconds) as wire:
            try:
                wire.sendall(data)
            except OSError:
                pass  # it has answered and closed before all was sent
            answer = b''
            try:
                while True:
                    part = wire.recv(65536)
                    answer += part
                    if not part or whole(answer):
                        return answer
            except OSError:
                return answer

    def status(self, data):
        line = self.raw(data).split(b'\r\n', 1)[0].split(b' ')
        return int(line[1]) if len(line) > 1 and line[0].startswith(b'HTTP/1.') else 0

    def call(self, method, path, body=None, **headers):
        """(status, headers, body); a body that is no bytes is sent as JSON."""
        told = {'Kilnstow-Token': self.token}
        if body is not None and not isinstance(body, bytes):
            body = json.dumps(body).encode()
            told['Content-Type'] = 'application/json'
        told.update({name.replace('_', '-'): value for name, value in headers.items()})
        connection = http.client.HTTPConnection(self.host, timeout=120)
        connection.request(method, path, body, {name: value for name, value in told.items() if value is not None})
        answer = connection.getresponse()
        got = answer.status, answer.headers, answer.read()
        connection.close()
        return got


def whole(answer):
    head, found, body = answer.partition(b'\r\n\r\n')
    if not found:
        return False
    for line in head.split(b'\r\n')[1:]:
        name, _, value = line.partition(b':')
        if name.lower() == b'content-length':
            return len(body) >= int(value)
    return False
