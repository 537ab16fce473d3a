#!/usr/bin/env python3
"""`trim` and `span` of the built program, run as a user runs them.

Usage: trim_cli_test.py PROGRAM SOURCE_DIR [unittest arguments]

The deck is the three-module reference deck; indications are worked out here from its shares (loads over
the stands: 0.99714 and 0.99378 on the stand, the rest on the other of its pair; a separate numpy model)
and the gains named in each test, by hand.
"""

import math
import sys
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import cli_test
from cli_test import CliTest, run

STANDS = ["1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"]
OTHER = {"1": 0.00286, "2": 0.00622, "3": 0.00622, "4": 0.00286}
GAINS = dict(zip(STANDS, [1.004, 0.997, 1.002, 1.0, 0.998, 1.003, 0.996, 1.001]))


def shows(stand, gains, load=10000.0):
    side = "R" if stand[1] == "L" else "L"
    part = OTHER[stand[0]]
    return load * ((1 - part) * gains[stand] + part * gains[stand[0] + side])


class TrimCliTest(CliTest):
    def setUp(self):
        super().setUp()
        self.digital = self.file("digital.toml", self.deck.read_text() + '\n[[box]]\ntrims = "digital"\n')

    def corners(self, gains, name="corners.csv", stands=STANDS, round_to=None, **extra):
        rows = ["at,load_kg,indication_kg,zero_before,zero_after"]
        for stand in stands:
            value = shows(stand, gains)
            text = f"{value:.2f}" if round_to is None else f"{round(value / round_to) * round_to:.0f}"
            rows.append(f"{stand},10000,{text},0,{extra.get('zero_after', {}).get(stand, 0)}")
        return self.file(name, "\n".join(rows) + "\n")


class Trim(TrimCliTest):
    def test_factors_are_one_over_the_gains(self):
        answer = self.json_of("trim", self.digital, self.corners(GAINS), code=1)
        self.assertEqual(answer["outcome"], "adjust")
        product = [GAINS[trim["stand"]] * trim["factor"] for trim in answer["trims"]]
        self.assertLess(max(product) - min(product), 2e-4)
        self.assertLess(answer["then"]["spread_kg"], 2.0)
        self.assertAlmostEqual(answer["before"]["spread_kg"], 80.0, delta=1.0)

    def test_has_the_keys_of_the_contract(self):
        answer = self.json_of("trim", self.digital, self.corners(GAINS), code=1)
        for trim in answer["trims"]:
            self.assertTrue({"stand", "gain", "setting"} <= trim.keys())
        self.assertIn("spread_kg", answer["before"])
        for point in answer["then"]["points"]:
            self.assertTrue({"at", "error_kg"} <= point.keys())

    def test_corners_that_agree_exit_0(self):
        answer = self.json_of("trim", self.digital, self.corners(dict.fromkeys(STANDS, 1.0)), code=0)
        self.assertEqual((answer["outcome"], answer["trims"]), ("within", []))

    def test_unknown_trims_ask_for_turns_and_learn_from_them(self):
        signal = self.file("signal.toml", self.deck.read_text() + '\n[[box]]\ntrims = "excitation"\n')
        per_turn = -0.002  # hidden: clockwise lowers by 0.2 %
        turned, history = dict(GAINS), [self.corners(GAINS)]
        for step in range(6):
            answer = self.json_of("trim", signal, *history, code=1)
            if answer["outcome"] != "learn":
                break
            stand, turns = answer["learn"]["stand"], answer["learn"]["turns"]
            turned[stand] *= math.exp(per_turn * turns)
            history.append(self.file(f"moved{step}.csv", f"trim,turns\n{stand},{turns}\n"))
            history.append(self.corners(turned, name=f"again{step}.csv", stands=[stand]))
        self.assertEqual(answer["outcome"], "adjust")
        self.assertGreaterEqual(step, 1)
        self.assertAlmostEqual(answer["effect_of_one_turn_clockwise"], per_turn, delta=2e-5)
        for trim in answer["trims"]:
            turned[trim["stand"]] *= math.exp(per_turn * trim["turns"])
        # quarters of a turn are 0.05 %: what is left is no more than one of them
        self.assertLess(max(turned.values()) - min(turned.values()), 0.0006)

    def test_a_fault_holds_every_trim_back(self):
        bad = self.corners(GAINS, zero_after={"2L": 20})
        answer = self.json_of("trim", self.digital, bad, code=1)
        self.assertEqual((answer["outcome"], answer["trims"]), ("cause_first", []))
        self.assertEqual(answer["cannot_fix"][0]["code"], "zero_return")
        self.assertIsNone(answer["then"])

    def test_loads_on_the_centre_line_are_not_enough(self):
        rows = "".join(f"{s},axle,{8000 + 10 * s}\n" for s in range(1, 5))
        answer = self.json_of("trim", self.digital, self.file("m.csv", "at,load_id,indication_kg\n" + rows),
                              code=1)
        self.assertEqual(answer["outcome"], "more_places")
        self.assertEqual(answer["undetermined"], STANDS)
        self.assertTrue(answer["settle_by"])

    def test_a_place_off_the_deck_is_told_with_its_line(self):
        shift = self.file("s.csv", "x_m,y_m,load_kg,indication_kg\n2,0.8,10000,10000\n25,0,10000,10000\n")
        self.refused("trim", self.digital, shift, says=["s.csv:3", "25.00 m"])

    def test_a_load_below_zero_is_refused(self):
        shift = self.file("s.csv", "at,load_kg,indication_kg\n1L,-5,10\n")
        self.refused("trim", self.digital, shift, says="s.csv:2:4")

    def test_zero_loads_alone_are_refused(self):
        shift = self.file("s.csv", "at,load_kg,indication_kg\n1L,0,0\n1R,0,0\n")
        self.refused("trim", self.digital, shift, says="s.csv")

    def test_two_units_for_one_thing_are_refused(self):
        shift = self.file("s.csv", "x_m,y_ft,load_kg,indication_kg\n1,1,10,10\n")
        self.refused("trim", self.digital, shift, says="s.csv:1")

    def test_pounds_taken_for_kilograms_are_seen(self):
        gains = {stand: 1 / 0.45359237 for stand in STANDS}
        answer = self.json_of("trim", self.digital, self.corners(gains), code=1)
        self.assertEqual(answer["cannot_fix"][0]["code"], "mixed_units")

    def test_readings_of_cells_are_not_shift_readings(self):
        self.refused("trim", self.digital, self.readings([1.0] * 8), says="says nothing of the corners")
        self.refused("share", self.deck, self.corners(GAINS), says="says nothing of the dead-load balance")

    def test_text_says_every_setting_and_the_cautions(self):
        code, out, err = run("trim", self.digital, self.corners(GAINS))
        self.assertEqual((code, err), (1, ""))
        self.assertIn("Set these trims, all at once", out)
        self.assertIn("nobody below or beside the deck", " ".join(out.split()))
        self.assertIn("pairs first", out)


class Placements(TrimCliTest):
    def test_plan_needs_a_load_over_every_stand(self):
        answer = self.json_of("trim", self.digital, "--plan", "--load", "20 t", "--within", "15 kg")
        self.assertEqual(answer["placements"], STANDS)
        self.assertEqual(answer["no_fewer_than"], 8)

    def test_plan_and_files_exclude_each_other(self):
        self.refused("trim", self.digital, self.corners(GAINS), "--plan", says="--plan")
        self.refused("trim", self.digital, says="no FILE")

    def test_plan_refuses_a_load_without_a_unit(self):
        self.refused("trim", self.digital, "--plan", "--load", "20", says="--load")

    def test_a_footprint_must_be_described(self):
        self.refused("trim", self.digital, "--plan", "--footprint", "axle", says="axle")


class Span(TrimCliTest):
    def loads(self, *rows, name="loads.csv"):
        return self.file(name, "load_kg,material,indication_kg,zero_before,zero_after\n" + "\n".join(rows) + "\n")

    def test_without_loads_it_says_what_the_papers_say(self):
        # 15.6 t and 60 t on eight cells of 25 t, 2 mV/V: 0.156 and 0.6 mV/V (Millman, by hand).
        theory = self.json_of("span", self.deck)["theory"]
        self.assertAlmostEqual(theory["dead_load_mV_per_V"], 0.156, delta=2e-4)
        self.assertAlmostEqual(theory["span_at_max_mV_per_V"], 0.6, delta=1e-6)

    def test_it_waits_for_share_and_trim(self):
        loads = self.loads("20000,,19960,0,0", "40000,,39920,0,0")
        answer = self.json_of("span", self.digital, loads, code=1)
        self.assertEqual((answer["outcome"], answer["correction"]), ("open", None))
        self.assertEqual(len(answer["open"]), 2)
        answer = self.json_of("span", self.digital, self.corners(GAINS), loads, "--shared", code=1)
        self.assertEqual(answer["outcome"], "open")
        self.assertIn("corners", answer["open"][0])

    def test_the_correction_is_load_over_indication(self):
        loads = self.loads("20000,,19960,0,0", "40000,,39920,0,0")
        answer = self.json_of("span", self.digital, loads, "--shared", "--trimmed", code=1)
        self.assertEqual(answer["outcome"], "set")
        self.assertAlmostEqual(answer["correction"], 1 / 0.998, delta=1e-9)
        self.assertEqual(answer["set"], {"load_kg": 40000.0, "shows_now_kg": 39920.0, "set_to_kg": 40000.0})

    def test_files_that_show_share_and_trim_done_let_it_pass(self):
        even = [13.31948, 13.31948] + [24.926455] * 4 + [13.31948, 13.31948]  # kN, hand statics
        readings = self.readings([f"{kN * 20 / (25 * 9.80665):.2f}" for kN in even])
        corners = self.corners(dict.fromkeys(STANDS, 1.0))
        loads = self.loads("20000,,20000,0,0", "40000,,40000,0,0")
        answer = self.json_of("span", self.digital, readings, corners, loads, code=0)
        self.assertEqual(answer["outcome"], "leave")

    def test_loads_older_than_the_last_trim_are_told(self):
        corners = self.corners(dict.fromkeys(STANDS, 1.0))
        moved = self.file("moved.csv", "trim,factor\n1L,1.0\n")
        loads = self.loads("20000,,20000,0,0")
        answer = self.json_of("span", self.digital, loads, moved, corners, "--shared", code=1)
        self.assertIn("moved after the loads were read", answer["open"][0])

    def test_substitution_is_worked_out(self):
        # OIML Bulletin 2009/02: a substitute that indicated 7640 (before rounding 7650) where 8000 had
        # indicated 7994 is worth 7656.
        loads = self.file("s.csv", "load_kg,material,indication_kg,added_kg,zero_before,zero_after\n"
                                   "8000,,8000,16,0,\n0,m1,7640,0,,\n8000,m1,15660,18,,0\n")
        answer = self.json_of("span", self.digital, loads, "--shared", "--trimmed", code=0)
        self.assertAlmostEqual(answer["points"][1]["load_kg"], 7656.0, delta=0.5)
        self.assertAlmostEqual(answer["points"][2]["load_kg"], 15656.0, delta=0.5)

    def test_a_bend_is_no_matter_of_span(self):
        loads = self.loads("10000,,10000,0,0", "20000,,20000,0,0", "40000,,39700,0,0")
        answer = self.json_of("span", self.digital, loads, "--shared", "--trimmed", code=1)
        self.assertEqual(answer["outcome"], "cause_first")
        self.assertIn("bends_down", [finding["code"] for finding in answer["cannot_fix"]])

    def test_files_without_known_loads_are_refused(self):
        self.refused("span", self.digital, self.corners(GAINS), says="known loads")


if __name__ == "__main__":
    cli_test.PROGRAM, cli_test.SOURCE = sys.argv[1], Path(sys.argv[2])
    cli_test.DATA, cli_test.EXAMPLES = cli_test.SOURCE / "tests/cli/data", cli_test.SOURCE / "examples"
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
