#!/usr/bin/env python3
"""`diagnose` of the built program, run as a user runs it.

Usage: diagnose_cli_test.py PROGRAM SOURCE_DIR [unittest arguments]

The deck is the three-module reference deck. What a fault does to its readings was computed by a small
model outside the project (a cross-check, no proof); that it happens is common practice, no source.
"""

import sys
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import cli_test
from cli_test import CliTest, run

RIGHT = [1.09, 1.09, 2.03, 2.03, 2.03, 2.03, 1.09, 1.09]
STANDS = ["1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"]


class DiagnoseCliTest(CliTest):
    def setUp(self):
        super().setUp()
        self.left = self.readings(RIGHT, "left.csv")
        self.zero = self.file("zero0.csv", "zero_kg,after\n0,nothing\n")

    def visit(self, changes, zero):
        values = list(RIGHT)
        for stand, value in changes.items():
            values[STANDS.index(stand)] = value
        return [self.readings(values, "now.csv"), self.file("zero1.csv", f"zero_kg,after\n{zero},nothing\n"),
                "--before", self.left, "--before", self.zero]

    def looks(self, *rows):
        return self.file("looks.csv", "look,where,found\n" + "".join(row + "\n" for row in rows))


class Diagnose(DiagnoseCliTest):
    def test_a_sound_deck_may_be_adjusted(self):
        answer = self.json_of("diagnose", self.deck, *self.visit({}, 0))
        self.assertEqual((answer["outcome"], answer["hold"], answer["do_not_adjust"]), ("sound", False, []))
        self.assertEqual(answer["causes"][0]["code"], "sound")

    def test_reversed_cell_is_named_and_holds_everything(self):
        answer = self.json_of("diagnose", self.deck, *self.visit({"2L": -2.03}, -5080), code=1)
        self.assertEqual((answer["causes"][0]["code"], answer["causes"][0]["where"]), ("reversed", "2L"))
        self.assertEqual(answer["do_not_adjust"], ["screws", "shims", "trims", "span"])
        self.assertIn("no adjustment", answer["hold_reason"].lower())

    def test_evidence_says_where_it_was_read(self):
        answer = self.json_of("diagnose", self.deck, *self.visit({"2L": -2.03}, -5080), code=1)
        spoke = answer["causes"][0]["evidence"][0]
        self.assertTrue(spoke["file"].endswith(("now.csv", "zero1.csv")))
        self.assertGreater(spoke["line"], 1)
        self.assertGreater(spoke["log_likelihood_ratio"], 0)

    def test_a_look_settles_what_readings_leave_open(self):
        visit = self.visit({"2L": 1.68}, -440)
        before = self.json_of("diagnose", self.deck, *visit, code=1)
        self.assertIn("moisture", [cause["code"] for cause in before["causes"]])
        self.assertTrue(before["next"])
        after = self.json_of("diagnose", self.deck, self.looks("wet,2L,yes", "label_differs,2L,no", "creeps,2L,no"),
                             *visit, code=1)
        self.assertEqual((after["causes"][0]["code"], after["causes"][0]["where"]), ("moisture", "2L"))
        self.assertGreater(after["causes"][0]["probability"], before["causes"][0]["probability"])

    def test_next_says_what_each_cause_would_show(self):
        answer = self.json_of("diagnose", self.deck, *self.visit({"2L": 1.68}, -440), code=1)
        for step in answer["next"]:
            for key in ("code", "first", "second", "instruction", "shows", "cautions", "minutes", "gain_nat"):
                self.assertIn(key, step)
            self.assertGreater(step["gain_nat"], 0)
            self.assertTrue(any(key.startswith("if_first_") for key in step))
        gains = [step["gain_nat"] / (4 + step["minutes"]) for step in answer["next"]]
        self.assertEqual(gains, sorted(gains, reverse=True))

    def test_probabilities_are_probabilities(self):
        answer = self.json_of("diagnose", self.deck, *self.visit({"2L": 1.68}, -440), code=1)
        total = sum(cause["probability"] for cause in answer["causes"])
        self.assertLessEqual(total, 1.0 + 1e-9)
        self.assertGreater(total, 0.9)
        chances = [cause["probability"] for cause in answer["causes"]]
        self.assertEqual(chances, sorted(chances, reverse=True))

    def test_text_tells_cause_next_and_what_to_leave(self):
        code, out, err = run("diagnose", self.deck, *self.visit({"2L": 1.68}, -440))
        self.assertEqual((code, err), (1, ""))
        for words in ("What it may be", "Next", "Do not touch meanwhile", "now.csv:4"):
            self.assertIn(words, out)
        self.assertLessEqual(max(len(line) for line in out.splitlines()), 80)

    def test_one_visit_alone_is_enough(self):
        answer = self.json_of("diagnose", self.deck, self.readings([1.56] * 8), code=1)
        self.assertEqual(answer["causes"][0]["code"], "box_mean")

    def test_going_below_is_never_asked_without_its_caution(self):
        answer = self.json_of("diagnose", self.deck,
                              self.readings([0.09, 2.08, 2.99, 1.08, 2.03, 2.03, 1.09, 1.09], "now.csv"),
                              "--before", self.left, code=1)
        below = [step for step in answer["next"] if step["code"] in ("bearing_gap", "plate_moves")]
        self.assertTrue(below)
        for step in below:
            self.assertIn("Lock out the traffic", " ".join(step["cautions"]))


class DiagnoseRefuses(DiagnoseCliTest):
    def test_look_that_is_none(self):
        self.refused("diagnose", self.deck, self.looks("wett,2L,yes"), says=["looks.csv:2", "wett"])

    def test_stand_that_is_none(self):
        self.refused("diagnose", self.deck, self.looks("wet,9L,yes"), says=["looks.csv:2", "9L"])

    def test_faults_of_both_visits_at_once(self):
        bad = self.file("bad.csv", "stand,mV\n1L,x\n")
        worse = self.file("worse.csv", "zero_kg,after\n0,lunch\n")
        _, _, err = run("diagnose", self.deck, bad, "--before", worse)
        self.assertIn("bad.csv", err)
        self.assertIn("worse.csv", err)

    def test_load_off_the_deck(self):
        loads = self.file("loads.csv", "x_m,y_m,load_kg,indication_kg\n99,0,10000,10000\n")
        self.refused("diagnose", self.deck, loads, says="loads.csv")

    def test_no_file(self):
        code, out, err = run("diagnose", self.deck)
        self.assertEqual((code, out), (2, ""))
        self.assertIn("FILE", err)


if __name__ == "__main__":
    cli_test.PROGRAM, cli_test.SOURCE = sys.argv[1], Path(sys.argv[2])
    cli_test.DATA, cli_test.EXAMPLES = cli_test.SOURCE / "tests/cli/data", cli_test.SOURCE / "examples"
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
