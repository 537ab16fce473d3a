#!/usr/bin/env python3
"""Runs every command of a page (the README's tour, the worked example) and compares what it prints with
what the page shows.

In a ```console block a line that begins with "$ " is a command; the lines after it must appear in its
output in that order (a line "..." stands for any lines left out, a line that ends with " ..." for a
longer one; there is no other way to leave anything out).
Commands run in an empty directory that holds a link to examples/; `./run` there is the built program.

Usage: readme_test.py PROGRAM PAGE EXAMPLES
"""

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path


def steps(text):
    """[(command, [expected lines])]"""
    found = []
    for block in re.findall(r"^```console\n(.*?)^```", text, re.M | re.S):
        for line in block.splitlines():
            if line.startswith("$ "):
                found.append((line[2:], []))
            elif found:
                found[-1][1].append(line.rstrip())
    return found


def same(expected, got):
    return got.startswith(expected[:-4]) if expected.endswith(" ...") else got == expected


def differs(expected, got):
    """None, or the first expected line that is not where it should be."""
    at, free = 0, False
    for line in expected:
        if line == "...":
            free = True
            continue
        if free:
            while at < len(got) and not same(line, got[at]):
                at += 1
        if at >= len(got) or not same(line, got[at]):
            return f"expected {line!r}, got {got[at] if at < len(got) else 'the end'!r}"
        at, free = at + 1, False
    if expected and not free and at < len(got):
        return f"more than the page shows: {got[at]!r}"
    return None


def run(command, program, folder):
    command = re.sub(r"(^|[|;] *|timeout [^|;]* )\./run\b", lambda m: m.group(1) + str(program), command)
    # What the program keeps of the machine stays out of the user's home.
    kept = dict(os.environ, XDG_DATA_HOME=str(Path(folder) / "kept"))
    done = subprocess.run(["bash", "-c", command], cwd=folder, capture_output=True, text=True, timeout=300,
                          env=kept)
    return done.returncode, [line.rstrip() for line in (done.stdout + done.stderr).splitlines()]


def main():
    program, readme, examples = (Path(name).resolve() for name in sys.argv[1:4])
    tour = steps(readme.read_text())
    failed = [] if len(tour) >= 5 else [f"only {len(tour)} commands in the tour"]
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "examples").symlink_to(examples)
        for command, expected in tour:
            code, got = run(command, program, folder)
            problem = differs(expected, got)
            if code not in (0, 1, 2):
                problem = f"exit code {code}"
            if problem:
                failed.append(f"$ {command}\n    {problem}")
            elif not expected and code != 0:
                failed.append(f"$ {command}\n    exit code {code}: " + " / ".join(got[:3]))
    print("\n".join(failed) or f"{len(tour)} commands do what the page says")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
