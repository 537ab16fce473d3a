#!/usr/bin/env python3
"""No object of the numeric core may ask for a stream, a file, a clock, a thread or a random device.

Reads `nm -C` of the static libraries: what the compiler made of the code, whatever its includes say.
std::ios_base::Init alone is let pass: headers of Boost.Math include <iostream>, and that leaves the
initialiser behind though nothing is printed.
Usage: symbols_test.py LIBRARY...
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

BANNED = re.compile(
    r"std::(cout|cerr|clog|cin)\b|basic_[io]?f(stream|ilebuf)|std::chrono|"
    r"std::thread|std::random_device|std::filesystem|"
    r"\b(fopen|fopen64|open|open64|printf|puts|fprintf|fputs|fwrite|time|clock|clock_gettime|gettimeofday|"
    r"rand|srand|random|getenv|pthread_create|system)(@|$)")


def undefined_symbols(path):
    done = subprocess.run(["nm", "-C", "--undefined-only", str(path)], check=True, capture_output=True,
                          text=True)
    return [line.split(" U ", 1)[1].strip() for line in done.stdout.splitlines() if " U " in line]


def banned_in(path):
    return sorted({name for name in undefined_symbols(path) if BANNED.search(name)})


def plant_is_found():
    """An object that prints and reads the clock must be caught."""
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "planted.cpp"
        source.write_text("#include <chrono>\n#include <iostream>\n"
                          "void f() { std::cout << std::chrono::steady_clock::now().time_since_epoch()"
                          ".count(); }\n")
        target = source.with_suffix(".o")
        subprocess.run(["g++", "-std=c++20", "-c", str(source), "-o", str(target)], check=True)
        names = " ".join(banned_in(target))
        return "std::cout" in names and "std::chrono" in names


def main():
    libraries = sys.argv[1:]
    assert libraries, "no library named"
    failed = False
    for library in libraries:
        for name in banned_in(library):
            print(f"{Path(library).name}: {name}")
            failed = True
    if not plant_is_found():
        print("a planted stream and clock were not found")
        failed = True
    if not failed:
        print(f"{len(libraries)} libraries are free of streams, files, clocks and threads")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
