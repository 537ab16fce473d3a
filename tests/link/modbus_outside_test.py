#!/usr/bin/env python3
"""Modbus against programs from outside: our station asks pymodbus's server over TCP and over a
serial line (socat); pymodbus's client and mbpoll ask our answering instrument.

Outside: pymodbus 3.0 (Debian python3-pymodbus), mbpoll 1.4 (its own use of libmodbus), socat.
Values of registers by Python's struct module (IEEE 754, two's complement).
Usage: modbus_outside_test.py WATCH ANSWER
"""

import contextlib
import os
import pathlib
import re
import select
import struct
import subprocess
import sys
import unittest

from pymodbus.client import ModbusTcpClient

import outside

# outside check: Modbus frames, exceptions and checksums; numbers in two registers, both word
#  orders; writing refused | frame bytes computed from the Modbus Application Protocol V1.1b3 (one
#  exception frame also read in a public example); `pymodbus` 3.0 and `mbpoll` 1.4 (Debian) as
#  client and as server, over TCP and over a serial line through `socat`

WATCH, ANSWER = sys.argv.pop(1), sys.argv.pop(1)
SERVER = pathlib.Path(__file__).with_name("pymodbus_server.py")

REGISTERS = """
[[instrument.register]]
place = "1L"
value = "mV"
address = 0
type = "int32"
scale = 0.001
[[instrument.register]]
place = "1R"
value = "kg"
address = 2
type = "float32"
word_order = "low first"
[[instrument.register]]
place = "2L"
value = "counts"
address = 10
type = "uint16"
table = "input"
[[instrument.register]]
place = "2R"
value = "mV/V"
address = 4
type = "int16"
byte_order = "low first"
scale = -0.0001
"""


def words(layout, value):
    raw = struct.pack(layout, value)
    return [struct.unpack(">H", raw[i:i + 2])[0] for i in range(0, len(raw), 2)]


HOLDING = words(">i", -1087) + words(">f", 12345.5)[::-1] + words("<h", 1234)
INPUT = words(">H", 54321)


def instrument(port, rest=""):
    return (f'[[instrument]]\nname = "cells"\nlink = "modbus-tcp"\nhost = "127.0.0.1"\n'
            f'port = {port}\nunit = 7\nevery = "50 ms"\ntimeout = "0.5 s"\n' + rest + REGISTERS)


def line(device):
    return (f'[[instrument]]\nname = "cells"\nlink = "modbus-rtu"\ndevice = "{device}"\n'
            'baud = 19200\nunit = 7\nevery = "50 ms"\ntimeout = "0.5 s"\n' + REGISTERS)


@contextlib.contextmanager
def server(*where):
    with outside.process("/usr/bin/python3", SERVER, *where,
                         "h" + ",".join(map(str, HOLDING)), "i10:" + ",".join(map(str, INPUT)),
                         stderr=subprocess.DEVNULL):  # it tells there that clients leave
        yield


class StationAsks(unittest.TestCase):
    def check(self, watch):
        seen = watch.until(lambda now: now["1L"]["quality"] == "stable"
                           and now["2L"]["quality"] == "stable")
        self.assertEqual(seen["state"], "connected")
        self.assertEqual(seen["1L"]["typed"], "-1.087")
        self.assertEqual(seen["1R"]["typed"], "12345.5")
        self.assertEqual(seen["2L"]["typed"], "54321")
        self.assertEqual(seen["2R"]["typed"], "-0.1234")

    def test_over_tcp(self):
        port = outside.free_port()
        with outside.folder() as at, server("tcp", port):
            outside.until(lambda: outside.listens(port), "pymodbus")
            with outside.watching(WATCH, at, instrument(port)) as watch:
                self.check(watch)

    def test_over_a_serial_line(self):
        with outside.folder() as at, outside.pty_pair(at) as (ours, theirs):
            with server("rtu", theirs), outside.watching(WATCH, at, line(ours)) as watch:
                self.check(watch)

    def test_when_the_server_comes_late_goes_and_comes_back(self):
        port = outside.free_port()
        with outside.folder() as at, outside.watching(WATCH, at, instrument(port)) as watch:
            watch.until(lambda now: now["state"] == "refused")
            with server("tcp", port):
                watch.until(lambda now: now["1L"]["typed"] == "-1.087")
            watch.until(lambda now: now["state"] in ("waiting", "refused")
                        and now["1L"]["quality"] == "stale")
            with server("tcp", port):
                watch.until(lambda now: now["1L"]["quality"] in ("moving", "stable"))

    def test_a_register_that_is_not_there(self):
        port = outside.free_port()
        more = ('[[instrument.register]]\nplace = "indication"\nvalue = "kg"\naddress = 400\n'
                'type = "int32"\n')
        with outside.folder() as at, server("tcp", port):
            outside.until(lambda: outside.listens(port), "pymodbus")
            with outside.watching(WATCH, at, instrument(port) + more) as watch:
                seen = watch.until(lambda now: now["indication"]["quality"] == "bad")
                self.assertIn("exception 2", seen["indication"]["says"])
                self.assertEqual(seen["1L"]["typed"], "-1.087")


class FramesOfALine(unittest.TestCase):
    """Bytes on a serial line, put together by hand from the layout of the Modbus Application
    Protocol V1.1b3 with CRC-16 0xA001, start 0xFFFF, low byte first."""

    ASKED = bytes.fromhex("010300000002c40b")
    ONE = ('[[instrument]]\nname = "one"\nlink = "modbus-rtu"\ndevice = "{}"\nevery = "50 ms"\n'
           'timeout = "0.3 s"\n[[instrument.register]]\nplace = "indication"\nvalue = "kg"\n'
           'address = 0\ntype = "float32"\n')

    def test_are_those_of_the_standard(self):
        with outside.folder() as at, outside.pty_pair(at) as (ours, theirs), \
                outside.watching(WATCH, at, self.ONE.format(ours)) as watch:
            line = os.open(theirs, os.O_RDWR | os.O_NOCTTY)
            self.addCleanup(os.close, line)

            def answer_until(reply, condition):
                def look():
                    if select.select([line], [], [], 0.02)[0]:
                        question = os.read(line, 100)
                        self.assertEqual(question, self.ASKED)
                        os.write(line, bytes.fromhex(reply))
                    return watch.seen and condition(watch.seen)

                outside.until(look, f"what {reply} leads to; last seen: {watch.seen}")

            answer_until("0103044640e600a4cf", lambda now: now["indication"]["typed"] == "12345.5")
            answer_until("018302c0f1", lambda now: "exception 2" in now["indication"]["says"]
                         and now["state"] == "refused")
            answer_until("0103044640e600a4ce", lambda now: "damaged (CRC)" in now["says"])
            answer_until("0203044640e600a4cf", lambda now: "another unit" in now["says"])
            answer_until("0103044640", lambda now: "began and did not end" in now["says"])
            answer_until("0103044640e600a4cf", lambda now: now["indication"]["typed"] == "12345.5"
                         and now["state"] == "connected")


class OutsideAsks(unittest.TestCase):
    def test_pymodbus(self):
        with outside.folder() as at:
            with outside.answering(ANSWER, at, instrument(502), "1L=-1.087", "1R=12345.5",
                                   "2L=54321", "2R=-0.1234") as where:
                client = ModbusTcpClient("127.0.0.1", port=int(where["port"]))
                self.assertTrue(client.connect())
                self.addCleanup(client.close)
                self.assertEqual(client.read_holding_registers(0, 5, slave=7).registers, HOLDING[:5])
                self.assertEqual(client.read_input_registers(10, 1, slave=7).registers, INPUT)
                # exceptions by code (Modbus Application Protocol V1.1b3, 7)
                self.assertEqual(client.read_holding_registers(5, 1, slave=7).exception_code, 2)
                self.assertEqual(client.read_holding_registers(0, 6, slave=7).exception_code, 2)
                self.assertEqual(client.read_input_registers(0, 1, slave=7).exception_code, 2)
                self.assertEqual(client.write_register(0, 5, slave=7).exception_code, 1)
                self.assertEqual(client.write_registers(0, [5, 6], slave=7).exception_code, 1)
                self.assertEqual(client.write_coil(0, True, slave=7).exception_code, 1)
                self.assertEqual(client.read_coils(0, 1, slave=7).exception_code, 1)
                self.assertEqual(client.read_holding_registers(0, 1, slave=9).exception_code, 11)
                # and nothing of that has changed anything
                self.assertEqual(client.read_holding_registers(0, 5, slave=7).registers, HOLDING[:5])

    def test_mbpoll(self):
        def ask(port, *more):
            return subprocess.run(["mbpoll", "-m", "tcp", "-p", port, "-a", "7", "-1", "-0", *more],
                                  capture_output=True, text=True, timeout=outside.PATIENCE_S,
                                  check=False)

        with outside.folder() as at:
            with outside.answering(ANSWER, at, instrument(502), "1L=-1.087", "1R=12345.5",
                                   "2L=54321", "2R=0") as where:
                port = where["port"]
                whole = ask(port, "-t", "4:int", "-B", "-r", "0", "127.0.0.1")
                self.assertRegex(whole.stdout, r"\[0\]:\s+-1087\b")
                # mbpoll's own word order without -B: low word first
                decimal = ask(port, "-t", "4:float", "-r", "2", "127.0.0.1")
                self.assertRegex(decimal.stdout, r"\[2\]:\s+12345\.5\b")
                one = ask(port, "-t", "3", "-r", "10", "127.0.0.1")
                self.assertTrue(re.search(r"\[10\]:\s+54321\b", one.stdout), one.stdout)
                gap = ask(port, "-t", "4", "-r", "7", "127.0.0.1")
                self.assertIn("Illegal data address", gap.stdout + gap.stderr)
                write = ask(port, "-t", "4", "-r", "0", "127.0.0.1", "5")
                self.assertIn("Illegal function", write.stdout + write.stderr)


if __name__ == "__main__":
    unittest.main()
