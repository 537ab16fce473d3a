#!/usr/bin/env python3
"""Writes the CalculiX models of the reference decks, and reads ccx's .dat into CSV.

    python3 generate.py            writes deck_r3.inp, deck_mixed.inp and plate_chain.inp
    ccx -i deck_r3                 (and the others) writes the .dat files
    python3 generate.py --collect  writes the .csv files

SI units. x along the deck, y left, z up. See README.md for what is modelled and why so.
"""
import re
import sys

G0 = 9.80665
LENGTH, ACROSS, MODULES = 7.0, 2.4, 3


def fmt(x):
    """Full digits, always with a point: ccx takes a bare integer for a degree of freedom."""
    text = f"{x:.15g}"
    return text if "." in text or "e" in text else text + "."


class Deck:
    def __init__(self):
        self.nodes, self.lines = {}, []

    def node(self, x, y, z):
        number = len(self.nodes) + 1
        self.nodes[number] = (x, y, z)
        return number

    def node_cards(self):
        return ["*NODE, NSET=NALL"] + [
            f"{n}, {fmt(x)}, {fmt(y)}, {fmt(z)}" for n, (x, y, z) in self.nodes.items()]


def springs(deck, feet, stiffness, first_element):
    """SPRINGA from each foot node to a base node one metre below; returns base nodes and cards."""
    bases, cards = [], ["*ELEMENT, TYPE=SPRINGA, ELSET=STANDS"]
    for i, foot in enumerate(feet):
        x, y, z = deck.nodes[foot]
        base = deck.node(x, y, z - 1.0)
        bases.append(base)
        cards.append(f"{first_element + i}, {foot}, {base}")
    cards += ["*SPRING, ELSET=STANDS", fmt(stiffness)]
    return bases, cards


def steps(bases, cases):
    """One linear step a case: heights of the bases (m) and nodal forces [(node, dof, value)]."""
    cards = []
    for heights, forces in cases:
        cards += ["*STEP", "*STATIC", "*BOUNDARY"]
        cards += [f"{b}, 3, 3, {fmt(h)}" for b, h in zip(bases, heights)]
        cards.append("*CLOAD, OP=NEW")
        cards += [f"{n}, {d}, {fmt(v)}" for n, d, v in forces] or [f"{bases[0]}, 1, 0."]
        cards += ["*NODE PRINT, NSET=BASES", "RF", "*END STEP"]
    return cards


def unit_heights(n):
    return [[1e-3 if i == j else 0.0 for i in range(n)] for j in range(n)]


def grillage(title, modules, joints, stands, extra_cases):
    """Any deck as U1 beams. modules: dicts; joints: ("hinge", half distance of the bearings, _) or
    ("rigid",); stands: (module, x, y). Nodes at crossbeams, stands and bearings."""
    deck, e_mod, nu = Deck(), 210e9, 0.3
    shear = e_mod / (2 * (1 + nu))
    at, beams, ends = {}, {}, [0.0]
    for module in modules:
        ends.append(ends[-1] + module["length"])
    bearings = []
    for j, joint in enumerate(joints):
        if joint[0] == "hinge":
            bearings += [(j, ends[j + 1], s * joint[1]) for s in (1, -1)]

    def key(m, x, y):
        # a rigid joint has one set of nodes
        if m > 0 and abs(x - ends[m]) < 1e-9 and joints[m - 1][0] == "rigid":
            m -= 1
        return m, round(x, 9), round(y, 9)

    for m, module in enumerate(modules):
        spaces = module["crossbeams"] - 1
        cross_x = [round(ends[m] + module["length"] * i / spaces, 9) for i in range(spaces + 1)]
        seats = [(x, y) for n, x, y in stands if n == m]
        seats += [(x, y) for j, x, y in bearings if m in (j, j + 1)]
        xs = sorted(set(cross_x) | {round(x, 9) for x, _ in seats})
        ys = {x: sorted(set(module["girders"])
                        | ({y for sx, y in seats if abs(sx - x) < 1e-9} if x in cross_x else set()))
              for x in xs}
        for x in xs:
            for y in ys[x]:
                if key(m, x, y) not in at:
                    at[key(m, x, y)] = deck.node(x, y, 0.0)
        count = len(module["girders"])
        for y in module["girders"]:
            for p, q in zip(xs, xs[1:]):
                beams.setdefault(("0., 0., 1.", module["bending"] / count,
                                  module["twisting"] / count), []).append(
                    (at[key(m, p, y)], at[key(m, q, y)], q - p, m, y))
        for x in cross_x:
            for p, q in zip(ys[x], ys[x][1:]):
                beams.setdefault(("0., 0., 1.", module["crossbeam_bending"],
                                  module["crossbeam_twisting"]), []).append(
                    (at[key(m, x, p)], at[key(m, x, q)], q - p, None, None))
    structure = list(deck.nodes)
    cards = ["*USER ELEMENT, TYPE=U1, NODES=2, INTEGRATION POINTS=2, MAXDOF=6"]
    number, sections = 0, []
    for i, ((axis, ei, gj), members) in enumerate(beams.items()):
        cards.append(f"*ELEMENT, TYPE=U1, ELSET=BEAMS{i}")
        for member in members:
            number += 1
            cards.append(f"{number}, {member[0]}, {member[1]}")
        i11 = ei / e_mod
        i22 = gj / shear - i11  # U1 takes I11 + I22 as its torsion constant
        sections += [f"*BEAM SECTION, ELSET=BEAMS{i}, MATERIAL=STEEL, SECTION=GENERAL",
                     f"1., {fmt(i11)}, 0., {fmt(i22)}, 1e6", axis]
    cards += ["*MATERIAL, NAME=STEEL", "*ELASTIC", f"{fmt(e_mod)}, {fmt(nu)}"] + sections
    bases, spring_cards = springs(deck, [at[key(m, x, y)] for m, x, y in stands], 200e6, number + 1)
    cards += spring_cards
    if bearings:
        cards.append("*EQUATION")
    for j, x, y in bearings:
        cards += ["2", f"{at[key(j, x, y)]}, 3, 1., {at[key(j + 1, x, y)]}, 3, -1."]
    cards += ["*NSET, NSET=BASES", ", ".join(map(str, bases)), "*BOUNDARY"]
    for n in structure:
        cards += [f"{n}, 1, 2", f"{n}, 6, 6"]
    cards += [f"{b}, 1, 3" for b in bases]
    # Even weight as forces and fixed-end moments q L2 / 12 at the girders' nodes; rotation 5 is
    # about y, so that dw/dx > 0 is a negative rotation.
    dead = []
    for members in beams.values():
        for p, r, length, m, y in members:
            if m is None:
                continue
            q = modules[m]["mass"] * G0 / modules[m]["length"] * modules[m]["share"][y]
            dead += [(p, 3, -q * length / 2), (r, 3, -q * length / 2),
                     (p, 5, q * length**2 / 12), (r, 5, -q * length**2 / 12)]
    zero = [0.0] * len(stands)
    cases = [(h, []) for h in unit_heights(len(stands))] + [(zero, dead)]
    for heights, loads in extra_cases:
        cases.append((heights or zero, (dead if heights else [])
                      + [(at[key(m, x, y)], 3, -force) for m, x, y, force in loads]))
    return "\n".join([f"** {title}"] + deck.node_cards() + cards + steps(bases, cases)) + "\n"


def deck_r3():
    """Three hinged modules of two girders; four sections set in from the joints."""
    module = dict(length=7.0, girders=[1.2, -1.2], crossbeams=7, bending=252e6, twisting=20e6,
                  crossbeam_bending=42e6, crossbeam_twisting=0.8e6, mass=5200.0,
                  share={1.2: 0.5, -1.2: 0.5})
    stands = [(m, x, y) for m, x in ((0, 0.30), (1, 7.30), (1, 13.70), (2, 20.70))
              for y in (1.2, -1.2)]
    return grillage("grillage of three modules, hinged", [module] * 3,
                    [("hinge", 1.2), ("hinge", 1.2)], stands,
                    [([2e-3, 0, 0, 0, -1e-3, 0, 0, 3e-3], []),
                     (None, [(0, 3.5, 1.2, 100e3)])])


def deck_mixed():
    """Two modules joined rigidly and a third hinged to them; three girders; stands and bearings off
    the girder lines at crossbeams, stands on girder lines away from crossbeams."""
    # An even load on the width 3 m goes to girders at 1.3, 0, -1.3 by the lever rule, straight on
    # outside them: the outer ones take (1/3) * integral of y / 1.3 from 0 to 1.5 each.
    outer = (1.5**2 / 2) / 1.3 / 3
    three = dict(girders=[1.3, 0.0, -1.3], share={1.3: outer, 0.0: 1 - 2 * outer, -1.3: outer})
    a = dict(three, length=6.0, crossbeams=4, bending=300e6, twisting=45e6, crossbeam_bending=20e6,
             crossbeam_twisting=1.5e6, mass=6000.0)
    b = dict(three, length=5.0, crossbeams=3, bending=300e6, twisting=30e6, crossbeam_bending=30e6,
             crossbeam_twisting=1.0e6, mass=5000.0)
    c = dict(length=8.0, girders=[1.3, -1.3], crossbeams=5, bending=200e6, twisting=60e6,
             crossbeam_bending=25e6, crossbeam_twisting=2.0e6, mass=7000.0,
             share={1.3: 0.5, -1.3: 0.5})
    stands = [(m, x, s * y) for m, x, y in ((0, 0.0, 1.0), (0, 5.0, 1.3), (1, 10.5, 1.3),
                                            (2, 19.0, 0.8)) for s in (1, -1)]
    return grillage("two modules joined rigidly, one hinged", [a, b, c],
                    [("rigid",), ("hinge", 0.8)], stands,
                    [([1e-3, -5e-4, 0, 0, 0, 0, 1e-3, 0], []), (None, [(1, 8.5, 1.3, 100e3)])])


def plate_chain():
    """Three plates 7 x 2.4 x 0.1 m of S8R shells, hinged at their corners, on springs of 5 kN/mm."""
    deck, nx, ny, t = Deck(), 28, 12, 0.1
    cards, corners, number, elements, shells = [], {}, 0, [], []
    for m in range(MODULES):
        grid = {}
        for i in range(2 * nx + 1):
            for j in range(2 * ny + 1):
                if i % 2 and j % 2:
                    continue
                grid[i, j] = deck.node(m * LENGTH + LENGTH * i / (2 * nx),
                                       -ACROSS / 2 + ACROSS * j / (2 * ny), 0.0)
        for i in range(0, 2 * nx, 2):
            for j in range(0, 2 * ny, 2):
                number += 1
                elements.append([number, grid[i, j], grid[i + 2, j], grid[i + 2, j + 2],
                                 grid[i, j + 2], grid[i + 1, j], grid[i + 2, j + 1],
                                 grid[i + 1, j + 2], grid[i, j + 1]])
        for end, i in ((0, 0), (1, 2 * nx)):
            corners[m, end, 0] = grid[i, 2 * ny]
            corners[m, end, 1] = grid[i, 0]
        shells.append(grid[0, 0])
    cards.append("*ELEMENT, TYPE=S8R, ELSET=PLATES")
    cards += [", ".join(map(str, e)) for e in elements]
    cards += ["*MATERIAL, NAME=STEEL", "*ELASTIC", "210e9, 0.3", "*DENSITY", "7850.",
              "*SHELL SECTION, ELSET=PLATES, MATERIAL=STEEL", fmt(t)]
    # Springs stand under nodes of their own, tied to the plate's corner in z.
    carried = [corners[0, 0, 0], corners[0, 0, 1], corners[1, 0, 0], corners[1, 0, 1],
               corners[1, 1, 0], corners[1, 1, 1], corners[2, 1, 0], corners[2, 1, 1]]
    feet = []
    for c in carried:
        x, y, _ = deck.nodes[c]
        feet.append(deck.node(x, y, -0.5))
    bases, spring_cards = springs(deck, feet, 5e6, number + 1)
    cards += spring_cards
    cards.append("*EQUATION")
    for c, foot in zip(carried, feet):
        cards += ["2", f"{foot}, 3, 1., {c}, 3, -1."]
    for m in range(MODULES - 1):
        for side in (0, 1):
            cards += ["2", f"{corners[m, 1, side]}, 3, 1., {corners[m + 1, 0, side]}, 3, -1."]
    cards += ["*NSET, NSET=BASES", ", ".join(map(str, bases)), "*BOUNDARY"]
    for m in range(MODULES):  # in its plane each plate is held at one corner, and from turning
        cards += [f"{corners[m, 0, 0]}, 1, 2", f"{corners[m, 0, 1]}, 1, 1"]
    cards += [f"{foot}, 1, 2" for foot in feet] + [f"{b}, 1, 3" for b in bases]
    out = ["** three shell plates, hinged at corners"] + deck.node_cards() + cards
    for heights in unit_heights(8):
        out += steps(bases, [(heights, [])])
    weight = steps(bases, [([0.0] * 8, [])])
    weight.insert(weight.index("*NODE PRINT, NSET=BASES"), f"*DLOAD\nPLATES, GRAV, {G0}, 0., 0., -1.")
    return "\n".join(out + weight) + "\n"


MODELS = {"deck_r3": (deck_r3, 11), "deck_mixed": (deck_mixed, 11),
          "plate_chain": (plate_chain, 9)}


def collect(name, count):
    """Vertical force on each base by step: what the stand presses down with."""
    blocks = []
    for line in open(name + ".dat", encoding="ascii"):
        if line.strip().startswith("forces"):
            blocks.append([])
        elif blocks and re.match(r"^\s+\d+\s", line):
            blocks[-1].append(float(line.split()[3]))
    assert len(blocks) == count and all(len(b) == 8 for b in blocks), (name, len(blocks))
    with open(name + ".csv", "w", encoding="ascii") as out:
        out.write(f"# CalculiX ccx 2.20, {name}.inp; force of each stand in N, one case a line\n")
        out.write("case,1L,1R,2L,2R,3L,3R,4L,4R\n")
        for i, block in enumerate(blocks):
            out.write(f"{i + 1}," + ",".join(repr(v) for v in block) + "\n")


if __name__ == "__main__":
    for model, (make, steps_) in MODELS.items():
        if "--collect" in sys.argv:
            collect(model, steps_)
        else:
            with open(model + ".inp", "w", encoding="ascii") as f:
                f.write(make())
