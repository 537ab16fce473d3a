#!/usr/bin/env python3
"""The open serial protocol for weights against programs from outside: our station asks a small
server of its own, over a serial line (socat) and over TCP; a small client asks our answering
instrument over both.

Server and client here share no code with ours: they are written from the layout of SCP-0499, 2.3
and 5.1 (through public digests), with Python's string formatting.
Usage: weight_outside_test.py WATCH ANSWER
"""

import contextlib
import os
import select
import socket
import sys
import threading
import unittest

import outside

# outside check: replies of the open serial weight protocol | layout of SCP-0499 (1999), 2.3 and
#  5.1, as quoted in public digests; a server and a client written apart in Python; a serial line
#  opened as any program does

WATCH, ANSWER = sys.argv.pop(1), sys.argv.pop(1)


def frame(weight, status=" ", kind="G", motion=" ", unit="kg"):
    text = f"{weight:>10}" if weight is not None else "-" * 10
    return f"\n{status}1{kind}{motion} {text}{unit:<3}\r".encode("ascii")


class Server:
    """Answers W with what `reply` is now, in as many pieces as it has."""

    def __init__(self):
        self.reply = [frame("12340")]
        self.heard = b""

    def talk(self, read, write):
        """Until the line ends."""
        pending = b""
        while True:
            try:
                came = read()
            except OSError:
                return
            if not came:
                return
            pending += came
            self.heard = (self.heard + came)[-1000:]
            while b"\r" in pending:
                command, pending = pending.split(b"\r", 1)
                for piece in self.reply if command == b"\nW" else [b"\n?\r"]:
                    write(piece)


@contextlib.contextmanager
def on_tcp(server):
    listener = socket.create_server(("127.0.0.1", 0))
    over = threading.Event()

    def run():
        while not over.is_set():
            if not select.select([listener], [], [], 0.05)[0]:
                continue
            with listener.accept()[0] as line, contextlib.suppress(OSError):
                line.settimeout(0.05)

                def read():
                    while not over.is_set():
                        with contextlib.suppress(TimeoutError):
                            return line.recv(100)
                    return b""

                server.talk(read, line.sendall)

    thread = threading.Thread(target=run)
    thread.start()
    try:
        yield listener.getsockname()[1]
    finally:
        over.set()
        thread.join()
        listener.close()


@contextlib.contextmanager
def on_line(server, device):
    line = os.open(device, os.O_RDWR | os.O_NOCTTY)
    over = threading.Event()

    def read():
        while not over.is_set():
            if select.select([line], [], [], 0.05)[0]:
                return os.read(line, 100)
        return b""

    thread = threading.Thread(target=server.talk, args=(read, lambda piece: os.write(line, piece)))
    thread.start()
    try:
        yield
    finally:
        over.set()
        thread.join()
        os.close(line)


def instrument(where, step='step = "20 kg"\n'):
    return f'[[instrument]]\nname = "display"\n{where}\n{step}every = "50 ms"\ntimeout = "0.3 s"\n'


def network(port):
    return instrument(f'link = "weight-tcp"\nhost = "localhost"\nport = {port}')


def serial(device, more=""):
    return instrument(f'link = "weight-line"\ndevice = "{device}"{more}')


class StationAsks(unittest.TestCase):
    def test_over_a_serial_line(self):
        server = Server()
        with outside.folder() as at, outside.pty_pair(at) as (ours, theirs):
            with on_line(server, theirs), \
                    outside.watching(WATCH, at, serial(ours, '\nparity = "even"\ndata_bits = 7')) as watch:
                seen = watch.until(lambda now: now["indication"]["quality"] == "stable")
                self.assertEqual(seen["indication"]["typed"], "12340")
                self.assertEqual(float(seen["indication"]["resolution"]), 20)
                # nothing but the question was ever sent
                self.assertEqual(server.heard.replace(b"\nW\r", b""), b"")

    def test_everything_an_instrument_may_say(self):
        server = Server()
        with outside.folder() as at, on_tcp(server) as port, \
                outside.watching(WATCH, at, network(port)) as watch:
            watch.until(lambda now: now["indication"]["typed"] == "12340")
            for reply, quality, typed, says in (
                    ([frame("12360", motion="M")], "moving", "12360", "says that it moves"),
                    ([frame(None, status="O")], "bad", "", "over"),
                    ([frame(None, status="U")], "bad", "", "under"),
                    ([frame(None, status="E")], "bad", "", "zero error"),
                    ([frame("120", kind="T")], "bad", "", "tare"),
                    ([frame("-40", kind="N")], "bad", "", "net"),
                    ([frame("12.34", unit="t")], "moving", "12340", ""),
                    ([frame("99", unit="oz")], "bad", "", "oz"),
                    ([b"\n", b" 1G  ", b"     12", b"380kg \r"], "moving", "12380", ""),
                    ([b"~~", frame("12400")[:7], frame("12420")], "moving", "12420", ""),
                    ([b"\n?\r"], "bad", "", "does not know")):
                server.reply = reply
                watch.until(lambda now: now["indication"]["quality"] in (quality, "stable")
                            and now["indication"]["typed"] == typed
                            and says in now["indication"]["says"])
            server.reply = [frame("27205", unit="lb")]
            watch.until(lambda now: now["indication"]["unit"] == "lb")

    def test_replies_that_can_not_be_read(self):
        server = Server()
        with outside.folder() as at, on_tcp(server) as port, \
                outside.watching(WATCH, at, network(port)) as watch:
            for reply, says in (([b"\n 1G      1234kg \r"], "bytes long, not 20"),
                                ([b"\n!\r"], "could not read the question"),
                                ([frame("12340")[:12]], "began and did not end"),
                                ([b"hello\r\r"], "no reply of this protocol"),
                                ([frame("1,5")], "its weight is"),
                                ([], "no answer")):
                server.reply = reply
                seen = watch.until(lambda now: says in now["says"])
                self.assertEqual(seen["indication"]["value"], "none")


class OutsideAsks(unittest.TestCase):
    def check(self, ask):
        self.assertEqual(ask(b"\nW\r"), frame("12340"))
        self.assertEqual(ask(b"\nH\r"), frame("12346", kind="g"))
        self.assertEqual(ask(b"\nD\r"), b"\n    \r")
        self.assertEqual(ask(b"\nQ\r"), b"\n?\r")
        self.assertEqual(ask(b"\nZ\r"), frame(None, status="E"))
        self.assertEqual(ask(b"noise\nX\x1b\nW\r"), frame("12340"), "escape breaks a command off")
        self.assertTrue(ask(b"\nA\r").startswith(b"\nSMA:1/"))
        lines = [ask(b"\nB\r") for _ in range(5)]
        self.assertEqual([line[1:4] for line in lines[:4]], [b"MFG", b"MOD", b"REV", b"END"])
        self.assertEqual(lines[4], b"\n?\r")

    def test_over_tcp_and_over_a_serial_line_through_socat(self):
        with outside.folder() as at, outside.answering(
                ANSWER, at, network(1), "indication=12346.3") as where:
            ways = (f"TCP:127.0.0.1:{where['port']}", f"{where['device']},raw,echo=0")
            for way in ways:
                with outside.process("socat", "-", way, stdin=-1, stdout=-1, bufsize=0) as pipe:
                    def ask(question):
                        pipe.stdin.write(question)
                        reply = b""
                        while not reply.endswith(b"\r"):
                            self.assertTrue(select.select([pipe.stdout], [], [],
                                                          outside.PATIENCE_S)[0], reply)
                            reply += pipe.stdout.read(1)
                        return reply

                    self.check(ask)

    def test_over_moving_and_near_zero(self):
        for shown, reply in (("indication=70000", frame(None, status="O")),
                             ("indication=500over", frame(None, status="O")),
                             ("indication=500moving", frame("500", motion="M")),
                             ("indication=-4", frame("0", status="Z")),
                             ("indication=-46", frame("-40"))):
            with outside.folder() as at, outside.answering(ANSWER, at, network(1), shown) as where, \
                    socket.create_connection(("127.0.0.1", int(where["port"]))) as line:
                line.sendall(b"\nW\r")
                self.assertEqual(line.recv(100), reply, shown)


if __name__ == "__main__":
    unittest.main()
