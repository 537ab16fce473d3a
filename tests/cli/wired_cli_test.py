#!/usr/bin/env python3
"""The instruments of a practice site, read over the wire by clients that are not ours.

Modbus TCP by pymodbus 3.0 (Debian python3-pymodbus); the weight protocol by a socket and by a serial line
opened as any program opens one. Layout of the weight reply: 20 bytes, <LF> s r n m f, ten characters of
weight, three of unit, <CR> (SCP-0499, first edition 1999, 5.1, as quoted in public digests; the standard
itself was not at hand).

Usage: wired_cli_test.py PROGRAM SOURCE_DIR
"""

import os
import re
import socket
import subprocess
import sys
import termios
import time
import unittest

PROGRAM, SOURCE = sys.argv[1], sys.argv[2]
DECK = os.path.join(SOURCE, "examples/three-modules.toml")


def read_reply(read):
    """Bytes up to <CR>."""
    reply = b""
    until = time.monotonic() + 5
    while not reply.endswith(b"\r") and time.monotonic() < until:
        reply += read(64)
    return reply


class Wired(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.site = subprocess.Popen([PROGRAM, "rehearse", DECK, "--seed", "7", "--wired"], text=True, bufsize=1,
                                    stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        cls.site.stderr.readline()
        cells, indicator = cls.site.stderr.readline(), cls.site.stderr.readline()
        cls.modbus_port = int(re.search(r"127\.0\.0\.1:(\d+)", cells).group(1))
        cls.weight_port = int(re.search(r"127\.0\.0\.1:(\d+)", indicator).group(1))
        cls.line = re.search(r"serial line (\S+)", indicator).group(1)

    @classmethod
    def tearDownClass(cls):
        cls.site.stdin.close()
        assert cls.site.wait(10) == 0
        cls.site.stdout.close()
        cls.site.stderr.close()

    def ask(self, command):
        """One command; the lines of its answer."""
        self.site.stdin.write(command + "\n")
        lines = []
        while True:
            line = self.site.stdout.readline().rstrip("\n")
            if not line:
                return lines
            lines.append(line)

    def weight(self, read, write):
        write(b"\nW\r")
        reply = read_reply(read)
        self.assertEqual(len(reply), 20, reply)
        self.assertEqual(reply[:1], b"\n")
        self.assertIn(reply[1:2], b"Z OUEIT ")
        self.assertEqual(reply[3:4], b"G")
        self.assertEqual(reply[16:19], b"kg ")
        return reply

    def settled(self, read, write):
        """The weight, once it does not move any more."""
        for _ in range(50):
            reply = self.weight(read, write)
            if reply[4:5] == b" ":
                return float(reply[6:16])
            time.sleep(0.1)
        self.fail("it moves for ever")

    def test_cells_by_modbus_are_those_that_the_crew_reads(self):
        from pymodbus.client import ModbusTcpClient

        crew = {}
        for line in self.ask("cells"):
            found = re.match(r"(\d[LR]),([-\d.]+)", line)
            if found:
                crew[found.group(1)] = float(found.group(2))
        self.assertEqual(len(crew), 8)
        time.sleep(1.5)
        client = ModbusTcpClient("127.0.0.1", port=self.modbus_port)
        self.assertTrue(client.connect())
        answer = client.read_holding_registers(0, 16, slave=1)
        self.assertFalse(answer.isError())
        for i, stand in enumerate(sorted(crew)):
            raw = (answer.registers[2 * i] << 16) | answer.registers[2 * i + 1]
            raw -= (1 << 32) if raw >= 1 << 31 else 0
            # Two readings, noise of 0.01 mV and steps of 0.01 mV each: far within 0.1 mV.
            self.assertAlmostEqual(raw * 0.01, crew[stand], delta=0.1, msg=stand)
        self.assertTrue(client.write_register(0, 1, slave=1).isError(), "nothing may be written")
        client.close()

    def test_a_load_that_stays_is_seen_over_tcp_and_over_the_serial_line(self):
        self.ask("grout")
        with socket.create_connection(("127.0.0.1", self.weight_port), 5) as tcp:
            empty = self.settled(tcp.recv, tcp.sendall)
            self.ask("stay 2L 10 t")
            laden = self.settled(tcp.recv, tcp.sendall)
            line = os.open(self.line, os.O_RDWR | os.O_NOCTTY)
            try:
                raw = termios.tcgetattr(line)
                raw[3] &= ~(termios.ICANON | termios.ECHO)
                raw[0] &= ~(termios.ICRNL | termios.INLCR)
                raw[1] &= ~termios.OPOST
                termios.tcsetattr(line, termios.TCSANOW, raw)
                by_line = self.settled(lambda n: os.read(line, n), lambda text: os.write(line, text))
            finally:
                os.close(line)
            self.ask("drive-off")
            again = self.settled(tcp.recv, tcp.sendall)
        # A deck as it came, corners and span not adjusted: within a few per cent of the load.
        self.assertAlmostEqual(laden - empty, 10000, delta=500)
        self.assertAlmostEqual(by_line, laden, delta=60)
        self.assertAlmostEqual(again, empty, delta=60)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
