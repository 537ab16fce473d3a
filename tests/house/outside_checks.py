#!/usr/bin/env python3
"""The outside checks of the tests, rolled up into docs/checks.md.

Usage: outside_checks.py PROGRAM SOURCE_DIR [unittest arguments]     test: docs/checks.md is up to date
       outside_checks.py --write SOURCE_DIR JUNIT.xml                write it, with what the tests said

A test file says what it holds the program against in comments of the form

    // outside check: WHAT | SOURCE          (# instead of // in Python and TypeScript tests alike)

on lines of their own; a comment that goes on is indented by one blank more. Everything between the marks
in docs/checks.md is made of these comments; the number of tests of the file and how many passed are those
of a run (`ctest --output-junit`). Without a run the figures of the last one stay.
"""

import re
import sys
import unittest
import xml.etree.ElementTree as ElementTree
from pathlib import Path

BEGIN = "<!-- outside checks: made by tests/house/outside_checks.py -->"
END = "<!-- end of outside checks -->"
MARK = re.compile(r"^\s*(?://|#) outside check: (.*)$")
MORE = re.compile(r"^\s*(?://|#)  (\S.*)$")
ENDINGS = {".cpp", ".py", ".mjs", ".sh", ".ts"}


def checks_of(path):
    """(what, source) of every check that a file names."""
    found = []
    lines = path.read_text(encoding="utf-8").splitlines()
    for number, line in enumerate(lines):
        mark = MARK.match(line)
        if not mark or "WHAT | SOURCE" in line:
            continue
        text = mark.group(1)
        for more in lines[number + 1:]:
            goes_on = MORE.match(more)
            if not goes_on:
                break
            text += " " + goes_on.group(1)
        what, bar, source = text.partition(" | ")
        if not bar or not what.strip() or not source.strip():
            raise ValueError(f"{path}:{number + 1}: an outside check is WHAT | SOURCE")
        found.append((what.strip(), source.strip()))
    return found


def all_checks(root):
    rows = []
    for folder in ("tests", "page/tests"):
        for path in sorted((root / folder).rglob("*")):
            if path.suffix in ENDINGS and path.name != "outside_checks.py" and "node_modules" not in path.parts:
                rows += [(what, source, path.relative_to(root).as_posix()) for what, source in checks_of(path)]
    return rows


def tests_in(path):
    """Names of the tests of a file as the run names them, without the floor before them."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".cpp":
        return {f"{suite}.{name}" for suite, name in
                re.findall(r"\b(?:TEST|TEST_F|TEST_P|RC_GTEST_PROP)\(\s*(\w+),\s*(\w+)", text)}
    names, group = set(), ""
    for line in text.splitlines():
        if match := re.match(r"class (\w+)", line):
            group = match.group(1)
        elif match := re.match(r"    def (test_\w+)", line):
            names.add(f"{group}.{match.group(1)}")
    return names


def outcomes(junit):
    """test name without its floor -> passed"""
    result = {}
    for case in ElementTree.parse(junit).getroot().iter("testcase"):
        name = case.get("name", "").rsplit("/", 1)[-1]
        full = case.get("name", "")
        passed = case.get("status") == "run" and case.find("failure") is None
        for key in (name, full):
            result[key] = result.get(key, True) and passed
    return result


def result_of(path, ran):
    names = tests_in(path)
    known = [ran[name] for name in names if name in ran]
    if not known:
        # A script that is one test as a whole: "deck/schema" is tests/deck/schema_test.py.
        whole = [passed for name, passed in ran.items()
                 if "/" in name and name.rsplit("/", 1)[-1] == path.stem.removesuffix("_test")]
        return f"{sum(whole)} of {len(whole)}" if whole else ""
    return f"{sum(known)} of {len(known)}"


def table(rows, results):
    lines = ["| what | held against | where | tests passed |", "| --- | --- | --- | --- |"]
    for what, source, where in rows:
        lines.append(f"| {what} | {source} | `{where}` | {results.get(where, '')} |")
    return "\n".join(lines)


def results_written(text):
    return {match.group(1): match.group(2) for match in re.finditer(r"\| `([^`|]+)` \| ([^|]*?) \|$", text, re.M)}


def document(root, ran=None):
    path = root / "docs/checks.md"
    text = path.read_text(encoding="utf-8")
    before, rest = text.split(BEGIN)
    written, after = rest.split(END)
    rows = all_checks(root)
    results = results_written(written)
    if ran is not None:
        results = {where: result_of(root / where, ran) for _, _, where in rows}
    return before + BEGIN + "\n" + table(rows, results) + "\n" + END + after


class OutsideChecks(unittest.TestCase):
    root = None

    def test_document_lists_every_check_of_the_tests(self):
        written = (self.root / "docs/checks.md").read_text(encoding="utf-8")
        self.assertEqual(document(self.root), written,
                         "docs/checks.md is old: tests/house/outside_checks.py --write SOURCE_DIR JUNIT.xml")

    def test_every_check_passed_in_the_run_that_is_written(self):
        written = (self.root / "docs/checks.md").read_text(encoding="utf-8").split(BEGIN)[1].split(END)[0]
        for where, result in results_written(written).items():
            passed, _, total = result.partition(" of ")
            self.assertTrue(total, f"{where} has no result")
            self.assertEqual(passed, total, where)


if __name__ == "__main__":
    if sys.argv[1] == "--write":
        source = Path(sys.argv[2])
        new = document(source, outcomes(sys.argv[3]))
        (source / "docs/checks.md").write_text(new, encoding="utf-8")
    else:
        OutsideChecks.root = Path(sys.argv[2])
        unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
