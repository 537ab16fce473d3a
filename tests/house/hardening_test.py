"""The program that is shipped is built so that a mistake in memory is hard to use: cmake/hardening.cmake.
    hardening_test.py PROGRAM [test]"""

import re
import subprocess
import sys
import unittest

# outside check: hardening of the built program | `readelf` (GNU binutils) on its headers, its dynamic
#  section and its symbols

PROGRAM = sys.argv[1]


def readelf(*what):
    return subprocess.run(["readelf", "-W", *what, PROGRAM], capture_output=True, text=True, check=True).stdout


class Hardening(unittest.TestCase):
    def holds(self, pattern, what):
        self.assertTrue(re.search(pattern, readelf(what)), f"readelf {what} shows no {pattern}")

    def test_is_loaded_where_nobody_can_know_beforehand(self):
        self.holds(r"Type: +DYN \(Position-Independent Executable file\)", "-h")

    def test_binds_everything_at_the_start_and_protects_what_was_bound(self):
        self.holds(r"\(FLAGS_1\) +Flags: NOW", "-d")
        self.holds("GNU_RELRO", "-l")
        stack = re.search(r"GNU_STACK.* (R\S*) +0x", readelf("-l"))
        self.assertEqual(stack.group(1), "RW", "a stack that can be run")

    def test_guards_its_stack(self):
        self.holds(r"UND __stack_chk_fail\b", "--dyn-syms")

    def test_calls_checked_functions_of_the_c_library(self):
        checked = set(re.findall(r"UND (__\w+_chk)\b", readelf("--dyn-syms"))) - {"__stack_chk_fail"}
        self.assertTrue(checked, "_FORTIFY_SOURCE was not in force")


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1] + sys.argv[2:])
