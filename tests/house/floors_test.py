#!/usr/bin/env python3
"""Reads every #include under src/ against the table of floors in cmake/floors.cmake.

Rules: arrows point down only; third-party headers only where the table allows them; the numeric core
does no input or output, asks no clock, starts no thread, draws no random numbers of the library's own;
headers include of Eigen <Eigen/Core> only, and no header that is heavy to compile; every .cpp is named
in its floor's CMakeLists.txt, no GLOB.

The second half plants each kind of violation in a copy of the tree: the check must find every one.
"""

import re
import shutil
import sys
import tempfile
from pathlib import Path

CORE = {"units", "toml", "chance", "record", "deck", "deck/reading", "signal", "statics", "share", "trim", "span",
        "rehearsal", "diagnose", "rules", "proof"}
BANNED_IN_CORE = {
    "iostream", "fstream", "ostream", "istream", "iomanip", "cstdio", "stdio.h", "print", "chrono",
    "ctime", "time.h", "thread", "mutex", "shared_mutex", "atomic", "future", "condition_variable",
    "random", "filesystem", "syncstream", "unistd.h",
}
HEAVY = ("CLI/", "toml++/", "nlohmann/", "httplib.h")  # in .cpp files only
LIGHT = ("nlohmann/json_fwd.hpp",)  # declares, defines nothing
THIRD_PARTY = {"Eigen": ("Eigen/",), "boost/math": ("boost/math/",), "fmt": ("fmt/",),
               "nlohmann": ("nlohmann/",), "CLI11": ("CLI/",), "CLI": ("CLI/",), "toml++": ("toml++/",), "sqlite3": ("sqlite3.h",), "sodium": ("sodium.h",),
               "modbus": ("modbus/",), "httplib": ("httplib.h",), "openssl": ("openssl/",),
               "qrencode": ("qrencode.h",), "cairo": ("cairo/", "cairo.h", "cairo-pdf.h", "cairo-svg.h"),
               "pango": ("pango/",), "pugixml": ("pugixml.hpp",)}
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')


def read_table(root):
    """floor -> (floors below, third-party prefixes)"""
    table = {}
    text = (root / "cmake/floors.cmake").read_text()
    rows = text[text.index("set(WEIGHWRIGHT_FLOORS"):].split("\n)")[0]
    for row in re.findall(r'"([^"]*)"', rows):
        name, below, third = (cell.strip() for cell in row.split("|"))
        prefixes = tuple(p for word in third.split() for p in THIRD_PARTY[word])
        table[name] = (set(below.split()), prefixes)
    return table


def floor_of(path, table):
    """The longest floor name that the path lies in; None when there is none."""
    fits = [floor for floor in table if path.startswith(floor + "/")]
    return max(fits, key=len) if fits else None


def check_own(where, target, floor, table):
    other = floor_of(target, table)
    if other is None:
        return [f"{where}: \"{target}\" lies in no floor of the table"]
    if other != floor and other not in table[floor][0]:
        return [f"{where}: {floor} may not include {other}"]
    return []


def check_system(where, target, floor, table, is_header):
    found = []
    if floor in CORE and target in BANNED_IN_CORE:
        found.append(f"{where}: <{target}> is not for the numeric core")
    # Headers of the system's own are no third party; sockets are not for the numeric core.
    system = ("sys/",) if floor in CORE else ("sys/", "arpa/", "net/", "netinet/")
    if "/" in target and not target.startswith(table[floor][1] + system):
        found.append(f"{where}: {floor} may not include <{target}>")
    if is_header and target.startswith("Eigen/") and target != "Eigen/Core":
        found.append(f"{where}: headers include <Eigen/Core> only")
    if is_header and target.startswith(HEAVY) and target not in LIGHT:
        found.append(f"{where}: <{target}> is heavy; include it in one .cpp")
    return found


def check_file(path, src, table):
    relative = path.relative_to(src).as_posix()
    floor = floor_of(relative, table)
    if floor is None:
        return [f"src/{relative}: lies in no floor of the table"]
    found = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        match = INCLUDE.match(line)
        if not match:
            continue
        where = f"src/{relative}:{number}"
        if match.group(1) == '"':
            found += check_own(where, match.group(2), floor, table)
        else:
            found += check_system(where, match.group(2), floor, table, path.suffix == ".h")
    return found


def check_lists(src):
    found = []
    for source in sorted(src.rglob("*.cpp")):
        lists = source.parent / "CMakeLists.txt"
        if not lists.exists() or source.name not in lists.read_text().split() + re.findall(
                r"[\w.]+", lists.read_text()):
            found.append(f"{source.relative_to(src.parent)}: not named in its CMakeLists.txt")
    for lists in sorted(src.rglob("CMakeLists.txt")):
        if re.search(r"\bGLOB", lists.read_text()):
            found.append(f"{lists.relative_to(src.parent)}: GLOB")
    return found


def check_order(table):
    """A floor names only floors that stand above it in the table's text: no circle is possible."""
    seen, found = set(), []
    for floor, (below, _) in table.items():
        late = below - seen
        # rehearsal, share...: rows are in the order of building.
        found += [f"cmake/floors.cmake: {floor} names {name}, which stands below it in the table"
                  for name in sorted(late)]
        seen.add(floor)
    return found


def violations(root):
    table = read_table(root)
    src = root / "src"
    found = check_order(table) + check_lists(src)
    for path in sorted(p for p in src.rglob("*") if p.suffix in {".h", ".cpp"}):
        found += check_file(path, src, table)
    return found


PLANTS = [
    ("src/units/planted.cpp", '#include "deck/deck.h"\n', "units may not include deck"),
    ("src/statics/planted.cpp", '#include "share/advice.h"\n', "statics may not include share"),
    ("src/report/planted.cpp", '#include "job/speak.h"\n', "report may not include job"),
    ("src/cli/planted.cpp", '#include "statics/model.h"\n', "cli may not include statics"),
    ("src/deck/planted.cpp", "#include <toml++/toml.h>\n", "deck may not include <toml++/toml.h>"),
    ("src/share/planted.cpp", "#include <fmt/format.h>\n", "share may not include <fmt/format.h>"),
    ("src/statics/planted.cpp", "#  include <iostream>\n", "<iostream> is not for the numeric core"),
    ("src/share/planted.cpp", "#include <random>\n", "<random> is not for the numeric core"),
    ("src/units/planted.cpp", "#include <chrono>\n", "<chrono> is not for the numeric core"),
    ("src/deck/planted.cpp", "#include <arpa/inet.h>\n", "deck may not include <arpa/inet.h>"),
    ("src/statics/planted.h", "#include <Eigen/Dense>\n", "headers include <Eigen/Core> only"),
    ("src/cli/planted.h", "#include <CLI/CLI.hpp>\n", "is heavy"),
    ("src/report/planted.h", "#include <nlohmann/json.hpp>\n", "is heavy"),
    ("src/job/planted.cpp", '#include "nowhere/x.h"\n', "lies in no floor"),
    ("src/attic/planted.cpp", "\n", "lies in no floor"),
    ("src/job/planted.cpp", "\n", "not named in its CMakeLists.txt"),
]


def check_plants(root):
    """Each planted violation must be found; a check that finds nothing proves nothing."""
    missed = []
    for name, text, expected in PLANTS:
        with tempfile.TemporaryDirectory() as copy:
            copy = Path(copy)
            shutil.copytree(root / "src", copy / "src")
            shutil.copytree(root / "cmake", copy / "cmake")
            planted = copy / name
            planted.parent.mkdir(exist_ok=True)
            planted.write_text(text)
            if not any(expected in line for line in violations(copy)):
                missed.append(f"planted {text.strip()!r} in {name}: not found")
    return missed


def main():
    root = Path(sys.argv[1] if len(sys.argv) > 1 else Path(__file__).parents[2]).resolve()
    found = violations(root) + check_plants(root)
    print("\n".join(found) or "every include obeys the table of floors; every planted violation was found")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
