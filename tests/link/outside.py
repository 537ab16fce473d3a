"""What the tests with outside programs share: processes that end with the test, free ports, decks."""

import contextlib
import os
import pathlib
import queue
import signal
import socket
import subprocess
import tempfile
import threading
import time

PATIENCE_S = 15

# Invented for tests.
DECK = """format = 1
[deck]
name = "Practice"
rulebook = "R76"
class = "III"
capacity = "60 t"
interval = "20 kg"
[[module]]
mark = "A"
length = "7 m"
[[section]]
at = "0.3 m"
across = "2.4 m"
[[section]]
at = "6.7 m"
across = "2.4 m"
[cell]
capacity = "25 t"
output = "2 mV/V"
"""


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def until(condition, what):
    """Waits for a condition; the value that it gave."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        value = condition()
        if value:
            return value
        time.sleep(0.02)
    raise AssertionError(f"waited in vain for {what}")


def listens(port):
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


@contextlib.contextmanager
def process(*command, **more):
    child = subprocess.Popen([str(part) for part in command], start_new_session=True, **more)
    try:
        yield child
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(child.pid, signal.SIGTERM)
        child.wait(timeout=PATIENCE_S)
        for stream in (child.stdin, child.stdout, child.stderr):
            if stream:
                stream.close()


@contextlib.contextmanager
def folder():
    with tempfile.TemporaryDirectory() as name:
        yield pathlib.Path(name)


@contextlib.contextmanager
def pty_pair(at):
    """Two serial ports that are one line, by socat."""
    ends = [at / "one", at / "other"]
    with process("socat", *(f"PTY,raw,echo=0,link={end}" for end in ends)):
        until(lambda: all(end.exists() for end in ends), "socat's pseudo-terminals")
        yield [str(end) for end in ends]


class Watch:
    """The station as a program; what it sees now."""

    def __init__(self, child):
        self._lines = queue.SimpleQueue()
        self.seen = {}
        threading.Thread(target=self._listen, args=(child.stdout,), daemon=True).start()

    def _listen(self, stream):
        seen = {}
        with contextlib.suppress(ValueError):
            for line in stream:
                kind, *fields = line.rstrip("\n").split("\t")
                if kind == "end":
                    self.seen, seen = seen, {}
                elif kind == "instrument":
                    seen["state"], seen["address"], seen["says"] = fields[1:]
                else:
                    keys = ("unit", "typed", "value", "quality", "resolution", "mean", "says")
                    seen[fields[0]] = dict(zip(keys, fields[1:]))

    def until(self, condition):
        def look():
            seen = self.seen
            return seen if seen and condition(seen) else None

        try:
            return until(look, "the station to see something")
        except AssertionError as error:
            raise AssertionError(f"{error}; last seen: {self.seen}") from None


@contextlib.contextmanager
def watching(program, at, instrument):
    deck = at / "deck.toml"
    deck.write_text(DECK + instrument, encoding="utf-8")
    with process(program, deck, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as child:
        yield Watch(child)


@contextlib.contextmanager
def answering(program, at, instrument, *shown):
    """An answering instrument as a program: {"port": "1234", "device": "/dev/pts/3"}."""
    deck = at / "answers.toml"
    deck.write_text(DECK + instrument, encoding="utf-8")
    wanted = 1 if "modbus" in instrument else 2
    with process(program, deck, *shown, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                 text=True) as child:
        yield dict(child.stdout.readline().rstrip("\n").split("\t") for _ in range(wanted))
