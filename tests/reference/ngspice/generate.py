#!/usr/bin/env python3
"""Writes a netlist for every circuit of cases.txt, runs ngspice and collects results.csv.

Needs ngspice (Debian package `ngspice`). Tests read results.csv and need nothing.
A resistance of nothing is a source of 0 V: ngspice would make it 1 mOhm.
"""
import math
import pathlib
import re
import subprocess

HERE = pathlib.Path(__file__).resolve().parent


def read_cases():
    cases = []
    for line in (HERE / "cases.txt").read_text().splitlines():
        words = line.split()
        if not words or words[0] == "#":
            continue
        if words[0] == "case":
            cases.append({"name": words[1], "supply": float(words[2]), "home": float(words[3]),
                          "sensed": words[4] == "6", "input": float(words[5]),
                          "boxes": [], "cells": []})
        elif words[0] == "box":
            cases[-1]["boxes"].append(float(words[1]))
        elif words[0] == "cell":
            cases[-1]["cells"].append([float(w) for w in words[1:]])
    return cases


class Netlist:
    def __init__(self, title):
        self.lines = [title]
        self.count = 0

    def resistor(self, a, b, ohm):
        self.count += 1
        kind = "R" if ohm > 0 else "V"
        self.lines.append(f"{kind}x{self.count} {a} {b} {ohm!r}")


def write(case):
    net = Netlist(f"* {case['name']}: node 0 is the source's minus")
    net.lines.append(f"Vsupply iep 0 {case['supply']!r}")
    nodes = {"ep": "iep", "em": "0", "sp": "isp", "sm": "ism"}
    if math.isfinite(case["input"]):
        net.resistor("isp", "ism", case["input"])
    before = nodes
    for b, link in enumerate(case["boxes"]):
        here = {core: f"b{b}{core}" for core in nodes}
        for core in nodes:
            net.resistor(before[core], here[core], case["home"] if b == 0 else link)
        before = here
    for c, cell in enumerate(case["cells"]):
        rated, output, zero, r_in, r_out, lead, signal_trim, supply_trim, box, force = cell
        for core in nodes:
            trim = supply_trim if core[0] == "e" else signal_trim
            net.resistor(f"b{int(box)}{core}", f"t{c}{core}", lead + trim / 2)
        pad = max(r_in - r_out, 0.0) / 2
        for core in ("ep", "em"):
            net.resistor(f"t{c}{core}", f"a{c}{core}", pad)
        if r_in < r_out:
            net.resistor(f"a{c}ep", f"a{c}em", 1 / (1 / r_in - 1 / r_out))
        x = (output * force / rated + zero) * max(r_in, r_out) / r_out
        for supply, signal, sign in (("ep", "sp", -1), ("ep", "sm", 1), ("em", "sp", 1), ("em", "sm", -1)):
            net.resistor(f"a{c}{supply}", f"t{c}{signal}", r_out * (1 + sign * x))
    wanted = ["v(isp)-v(ism)", "-i(Vsupply)", "v(b0ep)-v(b0em)"]
    # at the cell's terminals: behind its lead and its supply trim
    wanted += [f"v(t{c}ep)-v(t{c}em)" for c in range(len(case["cells"]))]
    net.lines += [".options gmin=1e-20 abstol=1e-18 reltol=1e-9 vntol=1e-12", ".control",
                  "set numdgt=14", "op"]
    for i, what in enumerate(wanted):
        net.lines += [f"let q{i} = {what}", f"print q{i}"]
    net.lines += ["quit", ".endc", ".end"]
    path = HERE / f"{case['name']}.cir"
    path.write_text("\n".join(net.lines) + "\n")
    return path, len(wanted)


def run(path, count):
    out = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True, check=False)
    values = dict(re.findall(r"^q(\d+) = (\S+)", out.stdout, re.M))
    if len(values) != count:
        raise SystemExit(f"{path.name}: {out.stdout}{out.stderr}")
    return [values[str(i)] for i in range(count)]


def version():
    out = subprocess.run(["ngspice", "--version"], capture_output=True, text=True, check=False).stdout
    return re.search(r"ngspice-\S+", out).group(0)


def main():
    lines = [f"# made by generate.py with {version()} (Debian 12); V, A",
             "# case,output at the indicator,supply current,supply at the first box,supply at every cell"]
    for case in read_cases():
        path, count = write(case)
        lines.append(",".join([case["name"]] + run(path, count)))
    (HERE / "results.csv").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
