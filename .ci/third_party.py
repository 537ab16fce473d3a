#!/usr/bin/env python3
"""Writes THIRD-PARTY.txt: what the program and its page are made of beside our own code, and the
licences that must be told of it.
    third_party.py PROGRAM SOURCE PAGE_BUILD > THIRD-PARTY.txt
PROGRAM  a built program: what it is linked with is asked of ldd
SOURCE   this repository: what its sources include from headers alone
PAGE_BUILD  where the page was built: bundled-packages.json and node_modules
On Debian 12; the texts are those that its packages and those of npm bring."""

import json
import re
import subprocess
import sys
from pathlib import Path

RULE = "=" * 98
COMMON = Path("/usr/share/common-licenses")
# Named in Debian's files for parts that are neither linked nor included: manuals, test data.
NOT_CARRIED = {"GFDL", "GFDL-1.2", "GFDL-1.3", "Artistic"}
# As some of them write what the folder knows under another name.
ALIASES = {"GPL": "GPL-3", "LGPL": "LGPL-3", "GPL-2.0": "GPL-2", "LGPL-2.0": "LGPL-2"}
OWNERLESS = {"libc6", "linux-libc-dev"}  # the C library's own headers say nothing new


def output(*command):
    return subprocess.run(command, capture_output=True, text=True, check=False).stdout


def package_of(path):
    """The Debian package that a file belongs to; /lib and /usr/lib are one folder there."""
    real = Path(path).resolve()
    for one in (str(real), str(path), "*/" + real.name):
        owners = output("dpkg", "-S", one).splitlines()
        if owners:
            return owners[0].split(": ")[0].split(",")[0].split(":")[0]
    return None


def source_of(package):
    return output("dpkg-query", "-W", "-f", "${source:Package}", package).strip()


def linked_packages(program):
    paths = set()
    for line in output("ldd", program).splitlines():
        found = re.search(r"(/\S+) \(0x", line)
        if found:
            paths.add(found.group(1))
    return {package_of(path) for path in paths} - {None}


def header_packages(source):
    """Packages of headers that our sources include between angle brackets."""
    names = set()
    for file in [*source.glob("src/**/*.cpp"), *source.glob("src/**/*.h")]:
        names.update(re.findall(r"^#include <([^>]+)>", file.read_text(), re.M))
    packages = set()
    for name in names:
        for folder in ("/usr/include", "/usr/include/eigen3", "/usr/include/x86_64-linux-gnu"):
            if (Path(folder) / name).is_file():
                packages.add(package_of(Path(folder) / name))
                break
    return {one for one in packages if one and one not in OWNERLESS and not one.startswith("libc6")}


def lines_of(path):
    """Some of these files have a line in an encoding of its own."""
    for line in path.read_bytes().splitlines():
        try:
            yield line.decode()
        except UnicodeDecodeError:
            yield line.decode("latin-1")


def copyright_of(package):
    text = "\n".join(lines_of(Path("/usr/share/doc", package, "copyright"))).strip()
    if package.startswith("libboost"):
        # Two megabytes on all of Boost: what is said of the whole, and who wrote what is included (Boost.Math).
        parts = text.split("\n\n")
        whole = [one for one in parts if one.startswith(("Files: *\n", "License: BSL-1.0\n "))]
        math = {"Files: of Boost.Math\n" + one[one.index("Copyright:"):] for one in parts
                if one.startswith("Files:") and "include/boost/math/" in one.split("Copyright:")[0]}
        kept = whole[:1] + sorted(math) + whole[1:]
        return "\n\n".join(kept)
    return text


def by_source(packages):
    """{source package: [packages]}; one text serves all packages of a source."""
    sources = {}
    for package in sorted(packages):
        sources.setdefault(source_of(package), []).append(package)
    return dict(sorted(sources.items()))


def npm_licence(folder):
    texts = sorted(one for one in folder.iterdir() if re.match(r"licen[cs]e|copying", one.name, re.I))
    if not texts:
        raise SystemExit(f"{folder} brings no licence text")
    # What a tool was made of is no part of the helper that it puts into the page.
    return texts[0].read_text().split("\n# Licenses of bundled dependencies")[0].strip()


def section(name, note, text):
    lines = "\n".join(line.rstrip() for line in text.splitlines())
    return f"{RULE}\n== {name} == {note}\n{RULE}\n\n{lines}\n\n"


def in_full(text):
    """Licences that a text of Debian's names instead of holding them."""
    names = set(re.findall(r"/usr/share/common-licenses/([A-Za-z0-9]+(?:-[0-9.]*[0-9])?)", text))
    return sorted({ALIASES.get(name, name) for name in names - NOT_CARRIED})


def main(program, source, page_build):
    parts = []
    linked = by_source(linked_packages(program))
    compiled = by_source(header_packages(source))
    for name, packages in compiled.items():
        if name in linked:
            continue
        parts.append(section(name, "compiled in from its headers (Debian: " + ", ".join(packages) + ")",
                             copyright_of(packages[0])))
    for name, packages in linked.items():
        parts.append(section(name, "linked (Debian: " + ", ".join(packages) + ")", copyright_of(packages[0])))
    for name in json.loads((page_build / "bundled-packages.json").read_text()):
        folder = page_build / "node_modules" / name
        licence = json.loads((folder / "package.json").read_text())["license"]
        parts.append(section(f"npm:{name}", f"in the page, {licence}", npm_licence(folder)))
    text = "".join(parts)
    for name in in_full(text):
        parts.append(section(f"licence:{name}", "named above", (COMMON / name).read_text()))
    print("What Weighwright is made of beside its own code, and under which licences.\n\n"
          "Weighwright itself: Apache License, version 2.0 (LICENSE). Below stands, for every library that\n"
          "the program is linked with or compiled from, the file of copyrights and licences as Debian 12\n"
          "gives it, for every package of which something is in the page its licence, and at the end the\n"
          "licences that are named there in full. A file of Debian's speaks of the whole package: manuals and\n"
          "tools that are no part of the program are in it too.\n"
          "Written by .ci/third_party.py.\n")
    print("".join(parts).rstrip())


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3]))
