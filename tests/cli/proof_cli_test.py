#!/usr/bin/env python3
"""`plan`, `prove` and `report` of the built program, run as a user runs them.

Usage: proof_cli_test.py PROGRAM SOURCE_DIR [unittest arguments]

Limits: OIML R 76-1:2006, table 6 (class III: 0.5 e to 500 e, 1 e to 2000 e, 1.5 e above; inclusive), doubled
in service (3.5.2); NIST Handbook 44, section 2.20, table 6 (class III L: 1 d for each 500 d; acceptance half;
the III L row from memory, unverified).
"""

import csv
import io
import hashlib
import json
import subprocess
import sys
import unittest
import xml.etree.ElementTree as ElementTree
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import cli_test
from cli_test import CliTest

# outside check: `plan` and `prove` end to end: limits by load and occasion, loads over supports, amounts
#  of standards, verdicts | R 76-1:2006, 3.5.1 table 6, 3.5.2, 3.6.2.2, 3.7.3; HB 44, 2.20, tables 4
#  and 6, as the facts of the rulebooks quote them


class Done:
    def __init__(self, returncode, stdout, stderr):
        self.returncode, self.stdout, self.stderr = returncode, stdout, stderr


def run(*arguments):
    return Done(*cli_test.run(*arguments))


class ProofCliTest(CliTest):
    def setUp(self):
        super().setUp()
        examples = cli_test.EXAMPLES
        self.deck = examples / "three-modules.toml"
        self.us_deck = examples / "five-modules-us.toml"
        self.weights = examples / "three-modules-weights.csv"
        self.us_weights = examples / "five-modules-us-weights.csv"

    def plan(self, *more, deck=None, weights=None, code=0):
        return self.json_of("plan", deck or self.deck, weights or self.weights, "--date", "2026-11-26", *more,
                            code=code)

    def results(self, rows, name="results.csv"):
        return self.file(name, "check,at,load_kg,indication_kg,added_kg,zero_before,zero_after\n" +
                         "".join(row + "\n" for row in rows))

    def prove(self, *more, code=1):
        return self.json_of("prove", self.deck, *more, "--date", "2026-11-26", code=code)


class Plan(ProofCliTest):
    def test_asks_for_the_occasion_with_the_clauses(self):
        done = run("plan", self.deck, self.weights)
        self.assertEqual(done.returncode, 2)
        self.assertEqual(done.stdout, "")
        for word in ("the occasion of the test is not given", "routine", "3.5.2", "new"):
            self.assertIn(word, done.stderr)

    def test_puts_a_seventh_of_max_over_each_of_eight_supports(self):
        # 60 t on 8 supports: (Max + T+)/(n - 1) = 8571 kg (R 76-1:2006, 3.6.2.2)
        plan = self.plan("--occasion", "new", "--supports")
        self.assertTrue(plan["possible"])
        over = [p for p in plan["placements"] if p["check"] == "eccentric"]
        self.assertEqual(sorted(p["at"] for p in over), ["1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"])
        for placement in over:  # the least, but for a third of the limit
            self.assertGreaterEqual(placement["load_kg"], 60000 / 7 - 10 / 3)
            self.assertLessEqual(placement["load_kg"], 60000 / 7 + 1000)
            self.assertIn("3.6.2", placement["clause"])
            self.assertEqual(placement["limit_kg"], 10.0)  # 0.5 e up to 500 e = 10 t

    def test_limits_double_in_service(self):
        new = self.plan("--occasion", "new")["placements"]
        routine = self.plan("--occasion", "routine")["placements"]
        at = {p["load_kg"]: p["limit_kg"] for p in new if p["check"] == "increasing"}
        both = [p for p in routine if p["check"] == "increasing" and p["load_kg"] in at]
        self.assertGreater(len(both), 2)
        for placement in both:
            self.assertEqual(placement["limit_kg"], 2 * at[placement["load_kg"]])

    def test_never_plans_below_the_bound(self):
        plan = self.plan("--occasion", "new")
        self.assertGreaterEqual(plan["minutes"], plan["least_minutes"])
        self.assertGreater(plan["least_minutes"], 0)

    def test_refuses_standards_without_a_valid_certificate(self):
        old = self.file("old.csv", "id,nominal_kg,count,class,certificate,expires,handling\n"
                                   "W,1000,30,M1,X-1,2026-11-25,crane\n")
        plan = self.plan("--occasion", "new", weights=old, code=1)
        self.assertFalse(plan["possible"])
        self.assertTrue(any(f["blocks"] for f in plan["findings"]))

    def test_us_deck_in_pounds_stays_within_the_concentrated_load(self):
        plan = self.plan("--occasion", "new", deck=self.us_deck, weights=self.us_weights)
        self.assertTrue(plan["possible"], plan["findings"])
        sections = [p for p in plan["placements"] if p["check"] == "section"]
        self.assertEqual(len(sections), 6)
        for placement in sections:
            self.assertLessEqual(placement["load_kg"], 80000 * 0.45359237 + 1e-6)
        self.assertIn("lb", plan["placements"][1]["sentence"])

    def test_writes_a_table_to_fill_in_and_a_drawing_of_each_placement(self):
        table, drawings = self.folder / "results.csv", self.folder / "drawings"
        plan = self.plan("--occasion", "new", "--table", table, "--drawings", drawings)
        rows = list(csv.DictReader(io.StringIO(table.read_text())))
        self.assertEqual(len(rows), len(plan["placements"]))
        self.assertEqual({row["indication_kg"] for row in rows}, {""})
        drawn = sorted(drawings.iterdir())
        self.assertTrue(drawn)
        for path in drawn:
            self.assertTrue(ElementTree.parse(path).getroot().tag.endswith("svg"))
        again = run("plan", self.deck, self.weights, "--occasion", "new", "--table", table)
        self.assertEqual(again.returncode, 2)
        self.assertIn("the file is there already", again.stderr)

    def test_a_national_variant_changes_what_it_says_and_nothing_else(self):
        variant = self.file("borvia.toml", 'format = 1\ncode = "BV"\nbase = "R76"\ntitle = "Borvia"\n'
                                           'remark = "invented"\n[occasion.adjusted]\nfactor = 2.0\n'
                                           'clause = "art. 7"\nbasis = "read"\n')
        plain = self.plan("--occasion", "adjusted")
        changed = self.plan("--occasion", "adjusted", "--rules", variant)
        at = {p["load_kg"]: p["limit_kg"] for p in plain["placements"] if p["check"] == "increasing"}
        both = [p for p in changed["placements"] if p["check"] == "increasing" and p["load_kg"] in at]
        self.assertGreater(len(both), 2)
        for placement in both:
            self.assertEqual(placement["limit_kg"], 2 * at[placement["load_kg"]])
        self.assertIn("Borvia", changed["rulebook"])


class Prove(ProofCliTest):
    def test_tells_a_line_beyond_its_limit_with_its_clause(self):
        # 10 000 kg is 500 e: within 10 kg; 10 020 kg is 501 e: within 20 kg.
        results = self.results(["increasing,,10000,10010,10,0,0", "increasing,,10020,10040,,0,0",
                                "increasing,,40000,40030,10,0,0"])
        verdict = self.prove(self.weights, results, "--occasion", "new")
        self.assertEqual(verdict["outcome"], "fail")
        lines = {line["load_kg"]: line for line in verdict["lines"]}
        self.assertEqual(lines[10000]["limit_kg"], 10)
        self.assertEqual(lines[10020]["limit_kg"], 20)
        self.assertEqual(lines[40000]["limit_kg"], 20)
        self.assertEqual(lines[10000]["verdict"], "pass")  # P = I + e/2 - added = 10 010: E = 10 = limit
        self.assertEqual(lines[40000]["verdict"], "fail")  # 40 030
        self.assertIn("3.5.1", lines[40000]["clause"])

    def test_is_incomplete_and_never_a_pass_while_something_is_missing(self):
        results = self.results(["increasing,,10000,10000,10,0,0"])
        verdict = self.prove(self.weights, results, "--occasion", "new")
        self.assertEqual(verdict["outcome"], "incomplete")
        self.assertTrue(verdict["missing"])

    def test_a_guard_band_tells_conditional_passes_from_failures(self):
        # ILAC-G8:09/2019, 4.2.3 (four words) and 4.2.2 (accepted or not)
        files = (self.weights, cli_test.EXAMPLES / "three-modules-results.csv", "--occasion", "new")
        self.assertEqual(self.prove(*files, code=0)["decision"], {"rule": "simple", "guard_U": None,
                                                                  "guard_U_reason": "no guard band"})
        four = self.prove(*files, "--guard", "1")
        self.assertEqual(four["outcome"], "conditional_pass")
        self.assertEqual(four["counts"]["fail"], 0)
        self.assertGreater(four["counts"]["conditional_pass"], 0)
        self.assertIn(f"{four['counts']['conditional_pass']} conditional pass", four["headline"])
        two = self.prove(*files, "--guard", "1", "--binary")
        self.assertEqual(two["outcome"], "not_accepted")
        self.assertEqual(two["decision"]["rule"], "guarded_binary")
        done = run("prove", self.deck, *files, "--guard", "1", "--binary", "--date", "2026-11-26")
        self.assertEqual(done.returncode, 1)
        self.assertIn("not accepted: within the limit, inside the guard band", " ".join(done.stdout.split()))
        self.assertNotIn("FAIL", done.stdout)
        self.assertNotIn("NOT WITHIN", done.stdout)
        self.refused("prove", self.deck, *files, "--binary", says="--guard 1 as well")

    def test_weights_a_little_above_nominal_are_max(self):
        # 60 x 1000.012 kg: within a third of the limit at 60 t (30 kg: R 76-1:2006, 3.5.1, table 6)
        weights = self.file("heavy.csv", "id,nominal_kg,count,class,conventional_kg,uncertainty_g,certificate,traced_to,"
                                         "handling\nW,1000,60,M1,1000.012,16,C-1,county standard,crane\n")
        results = self.file("max.csv", "check,weights,load_kg,indication_kg,added_kg,zero_before\n"
                                       "increasing,W*10,10000,10000,10,0\nincreasing,W*60,60000,60000,10,\n")
        verdict = self.prove(weights, results, "--occasion", "new")
        lines = {round(line["load_kg"], 2): line for line in verdict["lines"]}
        self.assertEqual(lines[60000.72]["verdict"], "pass")
        self.assertEqual(lines[10000.12]["limit_kg"], 10)
        codes = [finding["code"] for finding in verdict["findings"]]
        self.assertNotIn("over_capacity", codes)
        self.assertIn("counted_as_nominal", codes)
        self.assertNotIn(60000, [round(missing["load_kg"]) for missing in verdict["missing"] if "load_kg" in missing])

    def test_slips_of_the_pen_get_one_message_each(self):
        def told(header, *rows):
            results = self.file("slips.csv", header + "\n" + "".join(row + "\n" for row in rows))
            return self.prove(self.weights, results, "--occasion", "new")["findings"]

        plain = "check,load_kg,indication_kg,zero_before,resolution"
        for code, header, rows in (
                ("off_resolution", plain, ["increasing,10000,10003,0,2"]),
                ("resolution_unlikely", plain, ["increasing,10000,10000,0,500"]),
                ("resolution_unlikely", plain, ["increasing,10000,10000,0,1e-300"]),
                ("contradiction", plain, ["increasing,10000,10002,0,2", "increasing,10000,10016,0,2"])):
            found = [finding for finding in told(header, *rows) if finding["code"] == code]
            self.assertEqual(len(found), 1, code)
            self.assertIn("slips.csv, line ", found[0]["sentence"])
            self.assertTrue(found[0]["blocks"], code)
        results = self.file("old.csv", "check,load_kg,indication_kg,time\nincreasing,10000,10000,0000-01-01T10:00\n")
        self.refused("prove", self.deck, self.weights, results, "--occasion", "new", says="is no time")

    def test_refuses_results_older_than_the_last_trim(self):
        results = self.results(["increasing,,10000,10000,10,0,0"])
        trims = self.file("trims.csv", "trim,turns\n2L,0.5\n")
        verdict = self.prove(self.weights, results, trims, "--occasion", "new")
        self.assertEqual(verdict["outcome"], "refused")
        found = self.prove(self.weights, results, trims, "--found")
        self.assertNotEqual(found["outcome"], "refused")

    def test_a_pass_by_rules_that_nobody_compared_with_print_is_ready_for_nothing(self):
        results = cli_test.EXAMPLES / "three-modules-results.csv"
        verdict = self.prove(self.weights, results, "--occasion", "new", code=0)
        self.assertIn("WITHIN THE LIMITS", verdict["headline"])
        self.assertNotIn("ready for", verdict["headline"].lower())
        self.assertFalse(verdict["rules"]["confirmed"])
        self.assertEqual(len(verdict["rules"]["hash"]), 64)

    def test_says_before_a_test_how_likely_each_line_is(self):
        verdict = self.prove(self.weights, "--occasion", "new")
        self.assertTrue(verdict["chances"])
        for chance in verdict["chances"]:
            self.assertGreaterEqual(chance["p_pass"], 0)
            self.assertLessEqual(chance["p_pass"], 1)

    def test_writes_results_as_csv_and_a_chart(self):
        results = self.results(["increasing,,10000,10000,10,0,0", "increasing,,40000,40010,10,0,0"])
        out, chart = self.folder / "out.csv", self.folder / "chart.svg"
        self.prove(self.weights, results, "--occasion", "new", "--csv", out, "--chart", chart)
        rows = list(csv.DictReader(io.StringIO(out.read_text())))
        self.assertEqual(len([row for row in rows if row["check"] == "increasing"]), 2)
        self.assertTrue(ElementTree.parse(chart).getroot().tag.endswith("svg"))

    def test_speaks_the_unit_of_the_data_plate_and_not_of_the_rulebook(self):
        # 8010 kg are 17 659 lb, which this display can't show; 1 lb = 0.453 592 37 kg (NIST SP 811, B.8).
        text = self.deck.read_text().replace('"R76"', '"H44"').replace('class = "III"', 'class = "III L"')
        kilograms = self.file("kilograms.toml", text.replace('interval = "20 kg"', 'interval = "10 kg"'))
        results = self.results(["section,2,8000,8010,,0,0"])
        out = self.folder / "kg.csv"
        done = run("prove", kilograms, self.weights, results, "--occasion", "new", "--date", "2026-11-26",
                   "--csv", out)
        self.assertEqual(done.returncode, 1, done.stderr)
        self.assertIn("8010", done.stdout)
        self.assertIn("d = 10 kg", " ".join(done.stdout.split()))
        self.assertNotRegex(done.stdout, r"\blb\b")
        row = next(csv.DictReader(io.StringIO(out.read_text())))
        self.assertEqual((row["load_kg"], row["indication_kg"]), ("8000", "8010"))
        pounds = self.file("pounds.csv", "check,at,load_lb,indication_lb,zero_before,zero_after\n"
                                         "section,2,40000,40020,0,0\n")
        out = self.folder / "lb.csv"
        run("prove", self.us_deck, self.us_weights, pounds, "--occasion", "new", "--date", "2026-11-26",
            "--csv", out)
        row = next(csv.DictReader(io.StringIO(out.read_text())))
        self.assertEqual((row["load_lb"], row["indication_lb"], row["error_lb"]), ("40000", "40020", "20"))
        self.assertFalse([name for name in row if name.endswith("_kg")])

    def test_tells_wrong_input_where_it_stands(self):
        for rows, words in ((["incresing,,10000,10000,,0,0"], "did you mean increasing?"),
                            (["section,,10000,10000,,0,0"], "there is no place"),
                            (["increasing,,ten,10000,,0,0"], ":2:")):
            done = run("prove", self.deck, self.results(rows, "wrong.csv"), "--occasion", "new")
            self.assertEqual(done.returncode, 2)
            self.assertIn(words, done.stderr)
        done = run("prove", self.deck, "--occasion", "new", "--air", "warm")
        self.assertEqual(done.returncode, 2)
        self.assertIn("is no temperature", done.stderr)


class Ranges(ProofCliTest):
    """A scale with several weighing ranges, from the deck file to the journal and the paper."""

    def setUp(self):
        super().setUp()
        text = self.deck.read_text()
        plate = 'ranges = [["30 t", "10 kg"], ["60 t", "20 kg"]]'
        kept = [line for line in text.splitlines() if not line.startswith(("capacity = \"60 t\"", "interval ="))]
        at = kept.index("[deck]") + 1
        self.intervals = self.file("intervals.toml", "\n".join(kept[:at] + [plate] + kept[at:]) + "\n")
        self.ranges = self.file("ranges.toml", "\n".join(
            kept[:at] + [plate, 'ranges_kind = "ranges"'] + kept[at:]) + "\n")
        rows = ["zero,0,0,5,0,", "increasing,5000,5000,5,0,", "increasing,60000,60000,10,,",
                "decreasing,5000,5000,2,,"]
        self.rows = self.file("walk.csv", "check,load_kg,indication_kg,added_kg,zero_before,range\n" +
                              "".join(row + "\n" for row in rows))

    def test_the_deck_file_says_which(self):
        self.assertEqual(run("check", self.ranges).returncode, 0)
        assumed = {one["key"] for one in self.json_of("plan", self.intervals, self.weights, "--date", "2026-11-26",
                                                      "--occasion", "new", code=0)["assumed"]}
        self.assertIn("deck.ranges_kind", assumed)

    def test_coming_down_the_upper_range_keeps_its_interval(self):
        # 5 t: 500 e of 10 kg within 5 kg; in the range to 60 t within 0.5 e = 10 kg
        def down(deck):
            verdict = self.json_of("prove", deck, self.weights, self.rows, "--date", "2026-11-26", "--occasion",
                                   "new", code=1)
            return next(line for line in verdict["lines"] if line["check"] == "decreasing")
        self.assertEqual(down(self.ranges)["limit_kg"], 10)
        self.assertEqual(down(self.ranges)["range"], 2)
        self.assertEqual(down(self.intervals)["limit_kg"], 5)
        self.assertIsNone(down(self.intervals)["range"])

    def test_the_plan_walks_through_each_and_its_table_asks_for_the_range(self):
        table = self.folder / "results.csv"
        plan = self.plan("--occasion", "new", "--table", table, deck=self.ranges)
        self.assertTrue(plan["possible"], plan["findings"])
        down = [p["range"] for p in plan["placements"] if p["check"] == "decreasing"]
        self.assertEqual(set(down), {1, 2})
        rows = list(csv.DictReader(io.StringIO(table.read_text())))
        self.assertEqual([row["range"] for row in rows], [str(p["range"] or "") for p in plan["placements"]])
        self.assertNotIn("range", self.plan("--occasion", "new", "--table", self.folder / "plain.csv") and
                         (self.folder / "plain.csv").read_text().splitlines()[0].split(","))

    def test_stands_in_the_journal_and_on_the_paper(self):
        journal = self.folder / "ranges.job"
        for command in (["new", journal, self.ranges], ["add", journal, "--entry", "occasion", "occasion=new"],
                        ["add", journal, self.weights], ["add", journal, self.rows]):
            done = run("job", *command)
            self.assertEqual(done.returncode, 0, done.stderr)
        out = self.folder / "report.pdf"
        self.assertEqual(run("report", journal, "--out", out).returncode, 0)
        # As drawn, cell by cell: side by side the lines of two columns would run together.
        text = subprocess.run(["pdftotext", "-raw", str(out), "-"], capture_output=True, text=True,
                              check=True).stdout
        self.assertIn("range1:10kgto30t,range2:20kgto60t", "".join(text.split()))


class Indicator(ProofCliTest):
    def test_checks_are_answered_or_said_to_be_no_part(self):
        rows = self.file("indicator.csv", "check,load_kg,indication_kg,by\nincreasing,10000,10000,\n"
                                          "overload,,60180,setting\n")
        verdict = self.prove(self.weights, rows, "--occasion", "new")
        self.assertEqual({one["check"] for one in verdict["not_part"]}, {"tare", "indications", "zero_range"})
        for one in verdict["not_part"]:
            self.assertEqual(one["why"], "no_result")
            self.assertTrue(one["clause"])
        answered = next(one for one in verdict["ranges"] if one["check"] == "overload")
        self.assertEqual((answered["limit_kg"], answered["verdict"]), (60180, "pass"))  # Max + 9 e
        text = run("prove", self.deck, self.weights, rows, "--occasion", "new", "--date", "2026-11-26").stdout
        self.assertIn("No part of this test", text)
        self.assertIn("Accuracy of tare: nobody looked at it.", text)

    def test_nobody_is_asked_to_load_above_max(self):
        rows = self.file("overload.csv", "check,load_kg,indication_kg\noverload,,60180\n")
        self.refused("prove", self.deck, self.weights, rows, "--occasion", "new", says="nobody loads the deck")


class Gravity(ProofCliTest):
    # outside check: a scale adjusted at 52.3 deg, 80 m and used at 40.4 deg, 650 m reads 1.268e-3 too
    #  little | WELMEC gravity formula, as quoted in public documentation; normal gravity agrees to 1e-5
    def test_of_another_place_is_told_in_percent_and_at_max(self):
        site = '[site]\nlatitude = "40.4 deg"\naltitude = "650 m"\n\n[[module]]'
        deck = self.file("here.toml", self.deck.read_text().replace("[[module]]", site, 1))
        done = run("span", deck, "--adjusted-at", "52.3 deg, 80 m")
        self.assertEqual(done.returncode, 0, done.stderr)
        flat = " ".join(done.stdout.split())
        self.assertRegex(flat, r"every load reads -0\.126[789] %")
        self.assertRegex(flat, r"-7[56]\.?\d* kg at Max")
        self.assertIn("not one gravity zone", flat)
        near = run("span", deck, "--adjusted-at", "40.5 deg, 650 m")
        self.assertIn("one gravity zone", " ".join(near.stdout.split()))

    def test_is_refused_without_a_place(self):
        self.refused("span", self.deck, "--adjusted-at", "120 deg", says="from -90 to 90 deg")
        self.refused("span", self.deck, "--adjusted-at", "48 deg, 500", says="--adjusted-at")


class Report(ProofCliTest):
    def job(self, *command, code=0):
        done = run("job", *command)
        self.assertEqual(done.returncode, code, done.stderr)
        return done

    def setUp(self):
        super().setUp()
        self.journal = self.folder / "site.job"
        self.job("new", self.journal, self.deck)
        results = self.results(["increasing,,10000,10010,10,0,0", "increasing,,40000,40010,10,0,0"])
        self.job("add", self.journal, "--entry", "occasion", "occasion=new")
        self.job("add", self.journal, self.weights)
        self.job("add", self.journal, results)
        self.job("add", self.journal, "--entry", "party", "role=customer", "name=Tarn Quarry (invented)",
                 "address=1 Quarry Lane; Tarn", "country=GB", "contact=tarn@example.org")
        self.job("add", self.journal, "--entry", "party", "role=laboratory", "name=Northmoor Scales (invented)",
                 "address=2 Mill Street; Northmoor", "country=GB", "contact=lab@example.org")
        self.job("add", self.journal, "--entry", "party", "role=signatory", "name=A. Example", "position=lead")
        self.job("add", self.journal, "--entry", "item", "maker=Invented Works", "model=M", "serial=1")
        self.job("add", self.journal, "--entry", "report_issued", "number=TR-7")

    def text_of(self, path):
        return subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True,
                              check=True).stdout

    def test_is_a_test_report_that_leads_to_the_same_record(self):
        out = self.folder / "report.pdf"
        head = next(word for word in run("job", "show", self.journal, "--json").stdout.split('"hash": "')[1:])[:64]
        done = run("report", self.journal, "--out", out)
        self.assertEqual(done.returncode, 0, done.stderr)
        text = self.text_of(out)
        for word in ("Test report", "TR-7", "Tarn Quarry (invented)", "40 010", "3.5.1", "End of report"):
            self.assertIn(word.replace(" ", ""), "".join(text.split()), word)
        flat = "".join(text.split()).lower()
        self.assertNotRegex(text.lower(), r"\bverified\b")
        self.assertNotIn("legalfortrade", flat)
        self.assertNotIn("calibrationcertificate", flat)
        self.assertIn(head, "".join(text.split()))

    def verified(self, paper, code):
        done = run("job", "verify", self.journal, "--paper", paper, "--json")
        self.assertEqual(done.returncode, code, done.stdout + done.stderr)
        return json.loads(done.stdout)

    def test_edited_with_genuine_heads_is_not_one_that_the_record_wrote(self):
        out = self.folder / "report.pdf"
        self.assertEqual(run("report", self.journal, "--out", out).returncode, 0)
        answer = self.verified(out, 0)
        self.assertTrue(answer["whole"])
        self.assertEqual((answer["paper"]["issued"], answer["paper"]["number"]), (True, "TR-7"))
        # Python's hashlib, an implementation of its own.
        self.assertEqual(answer["paper"]["blake2b"],
                         hashlib.blake2b(out.read_bytes(), digest_size=32).hexdigest())
        edited = self.folder / "edited.pdf"
        edited.write_bytes(out.read_bytes().replace(b"%%EOF", b"%%EOF\n% 40 020", 1))
        answer = self.verified(edited, 1)
        self.assertTrue(answer["whole"], "the record itself is what it was")
        self.assertFalse(answer["paper"]["issued"])
        text = run("job", "verify", self.journal, "--paper", edited).stdout
        self.assertIn("NOT ISSUED", text)

    def test_drawn_again_is_the_same_file_and_recorded_once(self):
        first, second = self.folder / "1.pdf", self.folder / "2.pdf"
        for out in (first, second):
            self.assertEqual(run("report", self.journal, "--out", out).returncode, 0)
        self.assertEqual(first.read_bytes(), second.read_bytes())
        shown = json.loads(run("job", "show", self.journal, "--json").stdout)
        kinds = [one["kind"] for one in shown["of_record"]]
        self.assertEqual(kinds.count("report_written"), 1)
        self.assertEqual(shown["entry_count"], 10, "numbers of entries stay")

    def test_draft_is_no_paper_of_the_record(self):
        self.job("add", self.journal, "--note", "later")
        out = self.folder / "draft.pdf"
        self.assertEqual(run("report", self.journal, "--out", out).returncode, 0)
        self.assertFalse(self.verified(out, 1)["paper"]["issued"])

    def test_that_was_replaced_is_told_to_whoever_holds_it(self):
        out = self.folder / "report.pdf"
        self.assertEqual(run("report", self.journal, "--out", out).returncode, 0)
        self.job("add", self.journal, "--entry", "report_issued", "number=TR-8", "replaces=TR-7", "reason=typo")
        self.assertEqual(self.verified(out, 0)["paper"]["replaced_by"], "TR-8")

    def test_is_a_certificate_only_with_an_accreditation(self):
        self.job("add", self.journal, "--entry", "party", "role=laboratory", "name=Northmoor (invented)",
                 "accreditation_body=Invented Accreditation Service", "accreditation_number=0000",
                 "country=GB")
        out = self.folder / "certificate.pdf"
        self.assertEqual(run("report", self.journal, "--out", out).returncode, 0)
        self.assertIn("Calibration certificate", self.text_of(out))

    def test_what_came_after_makes_a_draft_and_numbers_are_given_once(self):
        done = run("job", "add", self.journal, "--entry", "report_issued", "number=TR-7")
        self.assertEqual(done.returncode, 2)
        self.assertIn("was issued already", done.stderr)
        done = run("job", "add", self.journal, "--entry", "report_issued", "number=TR-8", "replaces=X", "reason=y")
        self.assertIn("no report", done.stderr)
        done = run("job", "add", self.journal, "--entry", "report_issued", "number=TR-8", "replaces=TR-7")
        self.assertIn("without a reason", done.stderr)
        self.job("add", self.journal, "--entry", "seal_applied", "number=S-1", "place=box")
        out = self.folder / "draft.pdf"
        self.assertEqual(run("report", self.journal, "--out", out).returncode, 0)
        self.assertIn("changedsinceTR-7wasissued", "".join(self.text_of(out).split()))
        self.job("add", self.journal, "--entry", "report_issued", "number=TR-8", "replaces=TR-7",
                 "reason=seal added")
        self.assertEqual(run("report", self.journal, "--out", out, "--force").returncode, 0)
        flat = " ".join(self.text_of(out).split())
        self.assertIn("TR-7: seal added", flat)
        self.assertNotIn("changed since", flat)

    def test_air_that_is_none_is_refused_and_not_recorded(self):
        for field in ("pressure_hPa=low", "pressure_hPa=101325", "humidity_percent=120"):
            done = run("job", "add", self.journal, "--entry", "weather", field)
            self.assertEqual(done.returncode, 2, field)
            self.assertIn(field.split("=")[0], done.stderr)
        self.job("add", self.journal, "--entry", "weather", "temp_degC=12", "pressure_hPa=1003", "humidity_percent=60")
        out = self.folder / "air.pdf"
        self.assertEqual(run("report", self.journal, "--out", out).returncode, 0)
        self.assertIn("CIPM-2007", self.text_of(out))

    def test_other_papers(self):
        for kind, start in (("sheet", b"%PDF"), ("plan", b"<?xml"), ("chart", b"<?xml"), ("csv", b"check"),
                            ("dcc", b"<?xml")):
            out = self.folder / f"paper-{kind}"
            done = run("report", self.journal, "--kind", kind, "--out", out)
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertTrue(out.read_bytes().startswith(start), kind)

    def test_letter_and_a4(self):
        for paper, size in (("a4", "595"), ("letter", "612")):
            out = self.folder / f"{paper}.pdf"
            self.assertEqual(run("report", self.journal, "--paper", paper, "--out", out).returncode, 0)
            info = subprocess.run(["pdfinfo", str(out)], capture_output=True, text=True, check=True).stdout
            self.assertIn(f"Page size:       {size}", info)

    def test_a_rulebook_is_compared_with_print_and_papers_name_who_did(self):
        out = self.folder / "before.pdf"
        self.assertEqual(run("report", self.journal, "--out", out).returncode, 0)
        before = " ".join(self.text_of(out).split())
        self.assertIn("Rules that nobody compared with their print", before)
        self.assertNotIn("ready for", before.lower())
        listed = self.json_of("check", self.deck, "--rules-list")
        self.assertEqual(len(listed["hash"]), 64)
        self.assertTrue(all(one["clause"] and one["says"] and one["known"] for one in listed["numbers"]))
        text = run("check", self.deck, "--rules-list").stdout
        self.assertIn("page ______", text)
        self.assertIn("R 76-1:2006, 3.5.1", text)
        out = self.folder / "rules.pdf"
        self.assertEqual(run("report", self.journal, "--kind", "rules", "--out", out).returncode, 0)
        self.assertIn(listed["hash"], "".join(self.text_of(out).split()))
        confirm = ("--entry", "rules_confirmed", "by=Northmoor Scales (invented)", "print=R 76-1, 2006 (E)",
                   "date=2026-11-20")
        done = run("job", "add", self.journal, *confirm, "rulebook_hash=" + "0" * 64)
        self.assertEqual(done.returncode, 2)
        self.assertIn("the rulebook in force is another", done.stderr)
        self.assertIn(listed["hash"], done.stderr)
        self.job("add", self.journal, *confirm, "rulebook_hash=" + listed["hash"][:12])
        out = self.folder / "after.pdf"
        self.assertEqual(run("report", self.journal, "--out", out).returncode, 0)
        after = " ".join(self.text_of(out).split())
        self.assertIn("compared with print by Northmoor Scales (invented), 2026-11-20: R 76-1, 2006 (E)", after)
        self.assertNotIn("Rules that nobody compared", after)

    def test_a_variant_is_listed_only_with_the_list(self):
        self.refused("check", self.deck, "--rules", self.deck, says="--rules")

    def test_tells_what_is_wrong(self):
        done = run("report", self.journal, "--kind", "letter")
        self.assertEqual(done.returncode, 2)
        self.assertIn("one of report, sheet", done.stderr)
        done = run("report", self.deck)
        self.assertEqual(done.returncode, 2)


if __name__ == "__main__":
    cli_test.PROGRAM, cli_test.SOURCE = sys.argv[1], Path(sys.argv[2])
    cli_test.DATA, cli_test.EXAMPLES = cli_test.SOURCE / "tests/cli/data", cli_test.SOURCE / "examples"
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
