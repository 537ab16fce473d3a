#!/usr/bin/env python3
"""`signal` of the built program, run as a user runs it.

Usage: signal_cli_test.py PROGRAM SOURCE_DIR [unittest arguments]

Sources: figures of the circuit by hand, from Millman's theorem and resistors in series and in
parallel (the formula stands beside each); the inequalities of the module compatibility check by hand
from OIML R 76-1:2006, Annex F, as articles of the OIML Bulletin quote them (2009/02, 1995/04). The
deck, its cells and its papers are invented.
"""

import json
import sys
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import cli_test
from cli_test import CliTest, run

# outside check: `signal` on the command line: output, supply, cable loss, change by a metre; open
#  arm, broken lead, reversed signal | by hand: Millman, resistors in series and in parallel, IEC
#  60228 class 5

G = 9.80665

# Two cells a section; N cells of 30 t, 2 mV/V, no cable: every figure can be had by hand.
HEAD = """format = 1
[deck]
name = "Bench"
rulebook = "R76"
class = "III"
capacity = "60 t"
interval = "20 kg"
[site]
temperature = ["-10 degC", "40 degC"]
"""
PAPERS = """[cell]
capacity = "30 t"
output = "2 mV/V"
input_resistance = "400 ohm"
output_resistance = "350 ohm"
min_interval = "5 kg"
max_intervals = 3000
least_load = "2 t"
error_fraction = 0.7
class = "C"
temperature = ["-10 degC", "40 degC"]
[indicator]
excitation = "12 V"
min_signal = "1 uV"
sense = 6
load = ["35 ohm", "1100 ohm"]
dead_load_range = ["0 mV", "15 mV"]
max_intervals = 6000
class = "III"
error_fraction = 0.5
longest_cable = "150 m/mm2"
temperature = ["-10 degC", "40 degC"]
[receptor]
dead_load = "12 t"
zero_range = "10 t"
uneven = "30 t"
tare = "0 kg"
error_fraction = 0.5
"""
ROWS = {"clause", "left", "right", "holds", "missing", "margin", "unit"}


def deck_of(sections, more=""):
    """A one-piece deck on so many pairs."""
    text = HEAD + '[[module]]\nmark = "A"\nlength = "21 m"\nmass = "12 t"\n'
    for i in range(sections):
        at = 0.3 + 20.4 * i / (sections - 1)
        text += f'[[section]]\nat = "{at:.4f} m"\nacross = "2.4 m"\n'
    return text + PAPERS + more


CABLE = '[cable]\ntemperature = "20 degC"\n[cable.home]\nlength = "100 m"\narea = "0.75 mm2"\ncores = 6\n'


class Signal(CliTest):
    def bench(self, sections=2, more="", change=()):
        text = deck_of(sections, more)
        for old, new in change:
            self.assertIn(old, text)
            text = text.replace(old, new)
        return self.file("bench.toml", text)

    def forces(self, values):
        rows = "".join(f"{i // 2 + 1}{'LR'[i % 2]},{value}\n" for i, value in enumerate(values))
        return self.file("forces.csv", "stand,force_N\n" + rows)

    def row(self, answer, code):
        return next(row for row in answer["compatibility"] if row["code"] == code)


class SignalBudget(Signal):
    def test_equal_cells_give_the_mean_of_their_signals(self):
        # Millman, equal cells: U = 12 V * 2 mV/V * mean(F) / (30 t * g); supply: four 400 ohm in parallel.
        forces = [20e3, 40e3, 35e3, 15e3]
        answer = self.json_of("signal", self.bench(), "--forces", self.forces(forces))
        self.assertAlmostEqual(answer["output_V"], 12 * 2e-3 * sum(forces) / 4 / (30e3 * G), delta=1e-9)
        self.assertAlmostEqual(answer["supply_A"], 12 / 100, delta=1e-6)
        self.assertAlmostEqual(answer["box_V"], 12, delta=1e-9)
        self.assertAlmostEqual(answer["signal_V_per_interval"], 12 * 2e-3 * 20 / 4 / 30e3, delta=1e-12)
        self.assertAlmostEqual(answer["dead_load_V"], 12 * 2e-3 * 12e3 / 4 / 30e3, delta=1e-8)
        self.assertAlmostEqual(answer["max_V"], 12 * 2e-3 * 72e3 / 4 / 30e3, delta=1e-8)
        for cell, force in zip(answer["cells"], forces, strict=True):
            self.assertAlmostEqual(cell["signal_V"], 12 * 2e-3 * force / (30e3 * G), delta=1e-9)
            self.assertAlmostEqual(cell["weight"], 1, delta=1e-6)

    def test_unequal_outputs_mix_by_their_conductance(self):
        # Millman: U = sum(U_i / R_i) / sum(1 / R_i), R_1L = 700, the others 350 ohm.
        own = '[stand.1L.cell]\ninput_resistance = "800 ohm"\noutput_resistance = "700 ohm"\n'
        forces = [60e3, 10e3, 10e3, 10e3]
        answer = self.json_of("signal", self.bench(more=own), "--forces", self.forces(forces))
        alone = [12 * 2e-3 * force / (30e3 * G) for force in forces]
        ohm = [700, 350, 350, 350]
        mixed = sum(u / r for u, r in zip(alone, ohm)) / sum(1 / r for r in ohm)
        self.assertAlmostEqual(answer["output_V"] / mixed, 1, delta=1e-5)  # bridges are not quite Thevenin
        self.assertAlmostEqual(answer["supply_A"], 12 / 800 + 3 * 12 / 400, delta=1e-6)

    def test_a_home_cable_drops_the_supply_as_ohm_says(self):
        # 100 m of 0.75 mm2, IEC 60228 class 5 plain: 26.0 ohm/km, both cores: 5.2 ohm before 100 ohm.
        answer = self.json_of("signal", self.bench(more=CABLE))
        self.assertAlmostEqual(answer["box_V"], 12 * 100 / 105.2, delta=1e-5)
        self.assertAlmostEqual(answer["cable_loss"]["home"], 5.2 / 105.2, delta=1e-6)
        self.assertAlmostEqual(answer["supply_ohm"], 105.2, delta=1e-3)
        self.assertTrue(answer["sensed"])
        # 6 wires: signal over the supply at the box stays 2 mV/V times the share.
        self.assertAlmostEqual(answer["dead_load_V_per_V"], 2e-3 * 3 / 30, delta=1e-9)
        self.assertAlmostEqual(answer["per_metre"]["home"], 0, delta=1e-9)
        four = self.json_of("signal", self.bench(more=CABLE, change=[("cores = 6", "cores = 4"), ("sense = 6", "sense = 4")]))
        self.assertAlmostEqual(four["dead_load_V_per_V"], 2e-3 * 3 / 30 * 100 / 105.2, delta=1e-9)
        # a metre more: (105.2 / 105.252) - 1
        self.assertAlmostEqual(four["per_metre"]["home"], 105.2 / 105.252 - 1, delta=1e-7)

    def test_digital_cells_have_no_millivolts_and_say_so(self):
        answer = self.json_of("signal", self.bench(more='[[box]]\ntrims = "digital"\n'))
        for key in ("output_V", "supply_A", "box_V", "signal_V_per_interval"):
            self.assertIsNone(answer[key])
            self.assertIn("digital", answer[key + "_reason"])
        self.assertIn("digital", answer["why_none"])
        code, text, _ = run("signal", self.bench(more='[[box]]\ntrims = "digital"\n'))
        self.assertEqual(code, 0)
        self.assertIn("no millivolts reach the indicator", text)

    def test_text_says_what_a_technician_needs(self):
        code, text, _ = run("signal", self.bench(3))
        self.assertEqual(code, 0)
        for words in ("Signal: Bench", "Nothing but the deck: 1.6 mV", "An interval of 20 kg is 2.667 uV",
                      "the cells draw 180 mA, a load of 66.67 ohm", "6 wires: the indicator knows", "Assumed"):
            self.assertIn(words, " ".join(text.split()))
        self.assertLessEqual(max(map(len, text.splitlines())), 80)

    def test_us_decks_are_told_in_pounds_and_feet(self):
        code, text, _ = run("signal", cli_test.EXAMPLES / "five-modules-us.toml")
        self.assertEqual(code, 0)
        self.assertIn("An interval of 20 lb", text)
        self.assertIn("foot more", text)
        self.assertNotIn("metre", text)
        self.assertIn("NIST Handbook 44", text)


class SignalCompatibility(Signal):
    def test_every_inequality_has_its_clause_and_both_sides(self):
        answer = self.json_of("signal", self.bench(3, CABLE))
        self.assertTrue(answer["fine"])
        for row in answer["compatibility"]:
            self.assertLessEqual(ROWS, set(row))
            self.assertTrue(row["clause"])
            self.assertIsNotNone(row["holds"], row)
        # By hand, N = 6: Q Max / N = 112 t / 6; e / sqrt(6); 12 t / 6 = 2 t, equal to E_min: holds.
        capacity = self.row(answer, "cell_capacity")
        self.assertAlmostEqual(capacity["left"], 30e3)
        self.assertAlmostEqual(capacity["right"], 112e3 / 6, delta=1e-6)
        interval = self.row(answer, "cell_interval")
        self.assertEqual(interval["left"], 5)
        self.assertAlmostEqual(interval["right"], 20 / 6**0.5, delta=1e-9)
        self.assertEqual(self.row(answer, "cell_least_load")["holds"], True)
        self.assertAlmostEqual(self.row(answer, "cable")["left"], 100 / 0.75e-6, delta=1)
        self.assertAlmostEqual(self.row(answer, "interval_signal")["left"], 12 * 2e-3 * 20 / 30e3 / 6, delta=1e-12)

    def test_one_that_fails_is_a_no(self):
        # N = 8: 12 t / 8 = 1.5 t on a cell that wants 2 t.
        answer = self.json_of("signal", self.bench(4), code=1)
        self.assertFalse(answer["fine"])
        failing = [row["code"] for row in answer["compatibility"] if row["holds"] is False]
        self.assertEqual(failing, ["cell_least_load"])
        code, text, _ = run("signal", self.bench(4))
        self.assertEqual(code, 1)
        self.assertIn("NO: 1 condition of", text)
        self.assertIn("WRONG: the empty deck loads every cell enough: DL / N = 1500 kg, should be at least E_min = 2000 kg: off by 25 %",
                      " ".join(text.split()))

    def test_what_is_not_stated_is_not_judged(self):
        answer = self.json_of("signal", self.bench(3, CABLE, [('min_interval = "5 kg"\n', "")]))
        row = self.row(answer, "cell_interval")
        self.assertIsNone(row["holds"])
        self.assertEqual(row["missing"], ["cell.min_interval"])
        self.assertIn("holds_reason", row)
        _, text, _ = run("signal", self.bench(3, CABLE, [('min_interval = "5 kg"\n', "")]))
        self.assertIn("Not judged, 1 condition: the deck file lacks cell.min_interval.", " ".join(text.split()))


class SignalCircuit(Signal):
    """Arms of 350 ohm, 25 ohm before each end of the bridge: by hand as resistors in series."""

    HEADER = ("stand,input_ohm,output_ohm,e_plus_s_plus_ohm,e_plus_s_minus_ohm,e_minus_s_plus_ohm,"
              "e_minus_s_minus_ohm,insulation_Mohm,test_V,zero_mV,mV,excitation_V\n")
    # Cross: 25 + 350 beside three arms in series, 350 * 1050 / 1400 = 262.5.
    SOUND = "400,350,287.5,287.5,287.5,287.5,5000,50,0.00,2.40,12.00"

    def diagnosed(self, *rows, code):
        return self.json_of("signal", self.bench(), "--resistances",
                            self.file("cells.csv", self.HEADER + "\n".join(rows) + "\n"), code=code)

    def test_sound_cells_are_called_sound(self):
        answer = self.diagnosed("1L," + self.SOUND, "2R," + self.SOUND, code=0)
        self.assertEqual([(c["stand"], c["verdict"]) for c in answer["circuits"]], [("1L", "sound"), ("2R", "sound")])
        self.assertTrue(answer["cautions"])

    def test_an_open_arm_is_found(self):
        # E+ S+ open: input 25 + 700 + 25, output 350 + 350, E+ to S+ 25 + 3 * 350, the others 25 + 350;
        # the bridge gives half the supply that it has at its ends.
        answer = self.diagnosed("1L," + self.SOUND, "2L,750,700,1075,375,375,375,5000,50,,,", code=1)
        circuit = next(c for c in answer["circuits"] if c["stand"] == "2L")
        self.assertEqual(circuit["verdict"], "fault")
        cause = next(c for c in answer["causes"] if c["stand"] == "2L")
        self.assertEqual((cause["code"], cause["detail"]), ("open_arm", "E+ S+"))
        output = next(e for e in cause["evidence"] if e["quantity"] == "output_ohm")
        self.assertAlmostEqual(output["if_sound"], 350, delta=0.1)  # the papers'
        self.assertGreater(output["tolerance"], 1)
        self.assertGreater(cause["probability"], 0.5)
        self.assertTrue(all({"quantity", "measured", "if_sound", "if_cause"} <= set(e) for e in cause["evidence"]))
        self.assertIn("2L", answer["verdict"])

    def test_open_leads_read_as_over_the_limit(self):
        # S+ broken: whatever is measured to it is open.
        answer = self.diagnosed("1R,400,OL,OL,287.5,OL,287.5,5000,50,,,", code=1)
        cause = answer["causes"][0]
        self.assertEqual((cause["code"], cause["detail"]), ("broken_lead", "S+"))
        measured = [e for e in cause["evidence"] if e["quantity"] == "output_ohm"][0]
        self.assertIsNone(measured["measured"])
        self.assertIn("limit", measured["measured_reason"])

    def test_reversed_signal_is_found(self):
        answer = self.diagnosed("1R,400,350,287.5,287.5,287.5,287.5,5000,50,0.00,-2.40,12.00", code=1)
        self.assertEqual(answer["causes"][0]["code"], "reversed_signal")

    def test_variants_are_one_entry(self):
        # Doubled resistances alone: any of the four arms.
        answer = self.diagnosed("2L,750,700,,,,,,,,,", code=1)
        causes = [c for c in answer["causes"] if c["stand"] == "2L"]
        codes = [c["code"] for c in causes]
        self.assertEqual(len(codes), len(set(codes)))
        for arm in ("E+ S+", "E+ S-", "E- S+", "E- S-"):
            self.assertIn(arm, causes[0]["detail"])

    def test_millivolts_alone_and_the_sense_line_are_taken(self):
        deck = self.bench()
        # By hand: 3 t of 30 t at 2 mV/V and 12 V are 2.4 mV a cell; twist may halve or double that.
        answer = self.json_of("signal", deck, "--resistances", self.file(
            "a.csv", "stand,mV,no_load,excitation_V\n1L,3.6,0,12\n1R,1.2,0.02,12\n2L,1.3,0,12\n2R,3.7,0,12\n"))
        self.assertEqual([c["verdict"] for c in answer["circuits"]], ["sound"] * 4)
        answer = self.json_of("signal", deck, "--resistances", self.file("b.csv", "stand,sense_V\nbox,12.0\n"))
        self.assertEqual([c["verdict"] for c in answer["circuits"]], ["sound"])

    def test_a_signal_over_the_meters_range_is_taken(self):
        answer = self.diagnosed("2L,750,700,,,,,,,OL,-OL,12.00", code=1)
        self.assertEqual(answer["causes"][0]["code"], "open_arm")

    def test_resistances_of_digital_cells_are_refused(self):
        self.refused("signal", self.bench(more='[[box]]\ntrims = "digital"\n'), "--resistances",
                     self.file("a.csv", "stand,input_ohm\n1L,400\n"), says="digital")

    def test_text_cautions_before_hands_are_in_the_box(self):
        cells = self.file("cells.csv", self.HEADER + "1R,400,OL,OL,287.5,OL,287.5,5000,500,,,\n")
        code, text, _ = run("signal", self.bench(), "--resistances", cells)
        self.assertEqual(code, 1)
        flat = " ".join(text.split())
        for words in ("FIND FIRST what is wrong with 1R", "A core of its lead is broken (S+)", "For it:",
                      "unplugged from the mains", "50 V DC at most", "Local electrical codes", "500 V"):
            self.assertIn(words, flat)
        self.assertLessEqual(max(map(len, text.splitlines())), 80)

    def test_mistakes_in_a_file_are_told(self):
        deck = self.bench()
        self.refused("signal", deck, "--resistances", self.file("a.csv", "stand,insulation_Mohm\n1L,5\n"),
                     says="a.csv:2:4: an insulation without its test voltage")
        self.refused("signal", deck, "--resistances", self.file("b.csv", "stand,turns\n1L,1\n"),
                     says="these are no resistances; the header stand,input_ohm")
        self.refused("signal", deck, "--resistances", self.file("c.csv", "stand,input_ohm\n9L,400\n"),
                     says="there is no stand")
        self.refused("signal", deck, "--forces", self.file("d.csv", "stand,force_N\n1L,1\n1R,1\n2L,1\n"),
                     says="no force of 2R")
        self.refused("signal", deck, "--forces", self.file("e.csv", "stand,input_ohm\n1L,400\n"),
                     says="these are no forces; the header stand,force_N")
        self.refused("signal", deck, "--forces", self.folder / "none.csv", says="none.csv")
        self.refused("signal", deck, "--forces", "-", "--resistances", "-", says="named twice")
        self.refused("signal", says="DECK")
        self.refused("signal", self.file("f.toml", "format = 1\n"), says="there is no [deck] table")


if __name__ == "__main__":
    cli_test.PROGRAM, cli_test.SOURCE = sys.argv[1], Path(sys.argv[2])
    cli_test.DATA, cli_test.EXAMPLES = cli_test.SOURCE / "tests/cli/data", cli_test.SOURCE / "examples"
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
