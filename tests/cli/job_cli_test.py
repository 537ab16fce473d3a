#!/usr/bin/env python3
"""`job` of the built program, run as a user runs it.

Usage: job_cli_test.py PROGRAM SOURCE_DIR [unittest arguments]

Outside checks: hashes of an export are computed here with Python's hashlib (BLAKE2b of RFC 7693, an
implementation of its own); the file is opened with Python's sqlite3, a general-purpose program.
"""

import hashlib
import json
import os
import sqlite3
import struct
import sys
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import cli_test
from cli_test import CliTest
from types import SimpleNamespace

PIT = "00000000000000aa"
TRUCK = "00000000000000bb"
MAP = "loaded,moved\n" + "".join(f"{s},{s}\n" for s in ["1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"])


def run(*arguments):
    code, out, err = cli_test.run(*arguments)
    return SimpleNamespace(returncode=code, stdout=out, stderr=err)


class JobCliTest(CliTest):
    def setUp(self):
        super().setUp()
        os.environ["WEIGHWRIGHT_DEVICE"] = PIT
        os.environ["WEIGHWRIGHT_AUTHOR"] = "A. Tester"
        self.deck = cli_test.EXAMPLES / "three-modules.toml"
        self.job = self.folder / "site.job"
        self.readings = cli_test.EXAMPLES / "three-modules-readings.csv"
        self.ok("job", "new", self.job, self.deck)

    def ok(self, *arguments, code=0):
        result = run(*arguments)
        self.assertEqual(result.returncode, code, result.stdout + result.stderr)
        return result.stdout

    def as_device(self, device):
        os.environ["WEIGHWRIGHT_DEVICE"] = device

    def sql(self, *statements, path=None):
        base = sqlite3.connect(path or self.job)
        for (name,) in base.execute("select name from sqlite_master where type = 'trigger'").fetchall():
            base.execute(f'drop trigger "{name}"')
        for statement in statements:
            base.execute(statement)
        base.commit()
        base.close()

    def show(self, path=None):
        return self.json_of("job", "show", path or self.job)


class Job(JobCliTest):
    def test_says_what_was_recorded_and_what_is_next(self):
        text = self.ok("job", "add", self.job, "--tick", "locked_out")
        self.assertIn("Recorded", text)
        self.assertIn("locked_out", text)
        self.assertIn("NEXT", self.ok("job", "next", self.job))
        self.assertEqual(self.json_of("job", "next", self.job)["next"]["step"], "receive")

    def test_next_leads_to_the_answer_of_share(self):
        self.ok("job", "add", self.job, self.readings, self.file("map.csv", MAP), "--tick", "locked_out")
        answer = self.json_of("job", "next", self.job)
        self.assertEqual(answer["next"]["step"], "share")
        alone = self.json_of("share", self.deck, self.readings, self.file("map.csv", MAP), self.readings, code=1)
        self.assertEqual(answer["share"]["outcome"], alone["outcome"])
        self.assertTrue(answer["next"]["entries"])

    def test_every_step_names_the_entries_that_it_rests_on(self):
        self.ok("job", "add", self.job, self.readings)
        steps = {step["step"]: step for step in self.show()["steps"]}
        self.assertEqual(steps["receive"]["state"], "done")
        self.assertEqual(steps["receive"]["entries"], [3])

    def test_undo_takes_back_and_keeps(self):
        self.ok("job", "add", self.job, self.readings)
        self.ok("job", "undo", self.job)
        entries = self.show()["entries"]
        self.assertEqual(len(entries), 4)
        self.assertEqual(entries[2]["fate"], "undone by 4")
        self.ok("job", "undo", self.job, "4")
        self.assertIsNone(self.show()["entries"][2]["fate"])
        result = run("job", "undo", self.job, "99")
        self.assertEqual(result.returncode, 2)
        self.assertIn('there is no entry "99"', result.stderr)

    def test_correction_stands_in_the_place_of_an_entry(self):
        self.ok("job", "add", self.job, "--note", "wind from the west")
        self.ok("job", "add", self.job, "--note", "wind from the east", "--corrects", "3")
        entries = self.show()["entries"]
        self.assertEqual(entries[2]["fate"], "corrected by 4")
        self.assertEqual(entries[3]["fate"], "corrects 3")
        result = run("job", "add", self.job, "--tick", "warm", "--corrects", "3")
        self.assertEqual(result.returncode, 2)
        self.assertIn("is a note, not a tick", result.stderr)

    def test_wrong_input_is_told_and_not_recorded(self):
        wrong = self.file("wrong.csv", "stand,mV\n1L,much\n")
        result = run("job", "add", self.job, wrong)
        self.assertEqual(result.returncode, 2)
        self.assertIn("wrong.csv:2:4:", result.stderr)
        result = run("job", "add", self.job, "--tick", "lockd_out")
        self.assertIn("did you mean locked_out?", result.stderr)
        result = run("job", "add", self.job, "--entry", "seal_broken", "number=12")
        self.assertIn("needs place", result.stderr)
        result = run("job", "add", self.job, "--tick", "mended")
        self.assertIn("--remark", result.stderr)
        self.assertEqual(self.show()["entry_count"], 2)

    def refused(self, *arguments):
        """One message for one mistake, and nothing recorded."""
        before = json.loads(self.ok("job", "show", self.job, "--json"))["entry_count"]
        result = run("job", "add", self.job, *arguments)
        self.assertEqual(result.returncode, 2, result.stdout)
        self.assertEqual(result.stdout, "")
        self.assertEqual(json.loads(self.ok("job", "show", self.job, "--json"))["entry_count"], before)
        return result.stderr

    def test_cell_that_can_not_be_is_told_and_not_recorded(self):
        at = ("--entry", "cell_placed")
        self.assertIn('there is no stand "9L" on this deck', self.refused(*at, "stand=9L", "serial=S-1"))
        self.assertIn("from 1L to 4R", self.refused(*at, "stand=9L", "serial=S-1"))
        self.assertIn('capacity: "25 kg" is impossible', self.refused(*at, "stand=2L", "capacity=25 kg"))
        self.assertIn("unknown", self.refused(*at, "stand=2L", "capacity=heavy"))
        self.assertIn("output", self.refused(*at, "stand=2L", "output=2"))
        self.assertIn("input_resistance", self.refused(*at, "stand=2L", "input_resistance=1100"))
        bare = self.folder / "bare.job"
        self.ok("job", "new", bare)
        for entry in (("cell_placed", "stand=2L"), ("cell_replaced", "stand=2L", "new_serial=S-1"), ("pour", "module=all")):
            result = run("job", "add", bare, "--entry", *entry)
            self.assertEqual(result.returncode, 2)
            self.assertIn("no deck that can be read is described yet", result.stderr)

    def test_show_says_which_cell_stands_where_and_which_stood_there(self):
        self.ok("job", "add", self.job, "--entry", "cell_placed", "stand=2L", "serial=S-12", "certificate=C-1", "capacity=25 t")
        self.ok("job", "add", self.job, "--entry", "cell_replaced", "stand=2L", "old_serial=S-12", "new_serial=S-77", "output=unknown")
        said = self.ok("job", "add", self.job, "--entry", "cell_replaced", "stand=2L", "old_serial=S-9", "new_serial=S-78")
        self.assertIn("said to be S-9; on record there was S-77", " ".join(said.split()))
        self.ok("job", "undo", self.job)
        shown = " ".join(self.ok("job", "show", self.job).split())
        self.assertIn("2L S-77 (entry 4); output unknown; before: S-12, certificate C-1 (entry 3)", shown)
        self.assertIn("Nobody knows the output of the cell under 2L", shown)
        cells = {one["stand"]: one for one in json.loads(self.ok("job", "show", self.job, "--json"))["cells"]}
        self.assertEqual(cells["2L"]["serial"], "S-77")
        self.assertEqual(cells["2L"]["not_known"], ["output"])
        self.assertEqual(cells["2L"]["before"], [{"serial": "S-12", "certificate": "C-1", "entry": 3}])
        self.assertIsNone(cells["2R"]["serial"])

    def test_pour_that_can_not_be_is_told_and_not_recorded(self):
        self.assertIn('there is no module "Q" on this deck', self.refused("--entry", "pour", "module=Q"))
        self.assertIn("module A is not described as concrete", self.refused("--entry", "pour", "module=A"))
        self.assertIn("no module of this deck is described as concrete", self.refused("--entry", "pour", "module=all"))
        text = (cli_test.EXAMPLES / "concrete-shims.toml").read_text()
        pans = self.folder / "pans.toml"
        pans.write_text(text.replace("poured = true", "poured = false"))
        job = self.folder / "pans.job"
        self.ok("job", "new", job, pans)
        self.ok("job", "add", job, "--entry", "pour", "module=A", "by=C. Mason")
        again = run("job", "add", job, "--entry", "pour", "module=A")
        self.assertEqual(again.returncode, 2)
        self.assertIn("module A is on record as poured already", again.stderr)

    def test_what_no_load_explains_is_asked_for_again_and_kept_when_confirmed(self):
        odd = self.file("corners.csv", "at,load_kg,indication_kg\n2L,10000,123400\n")
        result = run("job", "add", self.job, odd)
        self.assertEqual(result.returncode, 2)
        self.assertIn("corners.csv:2:", result.stderr)
        self.assertIn("no load on this deck explains an indication of 123400 kg", result.stderr)
        self.assertIn("--confirmed", result.stderr)
        self.assertEqual(self.show()["entry_count"], 2)
        self.ok("job", "add", self.job, odd, "--confirmed")
        self.assertEqual(self.show()["entry_count"], 3)
        # What is no table of anything is not made one by confirming it.
        wrong = self.file("wrong.csv", "stand,mV\n1L,much\n")
        self.assertEqual(run("job", "add", self.job, wrong, "--confirmed").returncode, 2)

    def test_names_itself_alike_in_every_copy(self):
        name = self.show()["journal"]
        self.assertRegex(name, "^[0-9a-f]{64}$")
        copy = self.folder / "elsewhere" / "site.job"
        copy.parent.mkdir()
        self.ok("job", "backup", self.job, copy)
        self.as_device(TRUCK)
        self.ok("job", "add", copy, "--note", "on site")
        self.assertEqual(self.show(copy)["journal"], name)
        other = self.folder / "other.job"
        self.ok("job", "new", other, self.deck)
        self.assertNotEqual(self.show(other)["journal"], name)

    def test_journal_that_is_none_is_refused(self):
        for name, text in [("a.job", ""), ("b.job", "hello"), ("c.job", "x" * 5000)]:
            result = run("job", "show", self.file(name, text))
            self.assertEqual(result.returncode, 2, name)
            self.assertEqual(result.stderr.count("\n"), 1, result.stderr)
        self.assertEqual(run("job", "show", self.folder / "none.job").returncode, 2)
        self.assertEqual(run("job", "new", self.job).returncode, 2, "nothing is overwritten")

    def test_a_value_of_the_wrong_kind_is_refused_with_what_would_be_right(self):
        for kind, fields, says in (
            ("weather", ["temp_degC=banana"], "a number in degC, from -60 to 60"),
            ("weather", ["rain=maybe"], "one of yes|no"),
            ("notice_sent", ["authority=Q", "date=yesterday"], "2026-11-25"),
            ("counter", ["name=calibration", "value=twelve", "when=left"], "digits alone"),
            ("cell_replaced", ["stand=2l", "new_serial=7"], "as 2L"),
            ("cell_replaced", ["stand=9L", "new_serial=7"], "there is no stand \"9L\" on this deck"),
            ("cell_replaced", ["stand=2L", "new_serial=7", "capacity=25"], "\"25 t\", or unknown"),
        ):
            done = run("job", "add", self.job, "--entry", kind, *fields)
            self.assertEqual(done.returncode, 2, fields)
            self.assertEqual(done.stderr.count("\n"), 1, done.stderr)
            self.assertIn(says, done.stderr)
        self.assertEqual(self.show()["entry_count"], 2, "nothing was recorded")

    def test_seals_counters_photos_and_weather_are_kept(self):
        photo = self.folder / "box.JPG"
        photo.write_bytes(bytes(range(256)) * 40)
        self.ok("job", "add", self.job, photo)
        self.ok("job", "add", self.job, "--entry", "seal_broken", "number=4711", "place=box")
        self.ok("job", "add", self.job, "--entry", "counter", "name=calibration", "value=17", "when=found")
        self.ok("job", "add", self.job, "--entry", "weather", "temp_degC=12", "wind=gusts")
        shown = self.show()
        self.assertEqual([e["kind"] for e in shown["entries"][2:]],
                         ["photo", "seal_broken", "counter", "weather"])
        self.assertEqual(shown["as_found"]["frozen_by"], 4)
        export = self.folder / "site.jsonl"
        self.ok("job", "export", self.job, export)
        lines = export.read_text().splitlines()
        digest = hashlib.blake2b(photo.read_bytes(), digest_size=32).hexdigest()
        self.assertIn(digest, lines[-1])

    def test_load_on_a_deck_that_is_not_fixed_is_recorded_and_warned_of(self):
        corners = self.file("c.csv", "at,load_kg,indication_kg\n2L,10000,9980\n")
        self.assertIn("Take it off", self.ok("job", "add", self.job, corners))
        self.assertIn("not released for load", self.ok("job", "next", self.job))


# Hours and strengths are invented; what is checked is that time and cube are held against them.
class Fixing(JobCliTest):
    SHARED = ("stand,mV,no_load\n1L,1.09,0\n1R,1.09,0\n2L,2.03,0\n2R,2.03,0\n"
              "3L,2.03,0\n3R,2.03,0\n4L,1.09,0\n4R,1.09,0\n")
    UNSHARED = SHARED.replace("2L,2.03", "2L,4.03").replace("4R,1.09", "4R,3.09")
    CLEAR = ["--entry", "clearance", "by=A. Example", "plates_level=yes"]
    RELEASE = ["--entry", "release", "by=A. Example", "foundation=grouted"]

    def refused(self, *arguments):
        before = self.show()["entry_count"]
        result = run("job", "add", self.job, *arguments)
        self.assertEqual(result.returncode, 2, result.stdout + result.stderr)
        self.assertEqual(result.stderr.count("\n"), 1, result.stderr)
        self.assertEqual(self.show()["entry_count"], before, "nothing is recorded")
        return result.stderr

    def steps(self):
        return {step["step"]: step for step in self.show()["steps"]}

    def balanced(self):
        self.ok("job", "add", self.job, self.file("cells.csv", self.SHARED), self.file("map.csv", MAP))

    def test_a_clearance_is_refused_and_names_all_that_is_missing(self):
        text = self.refused("--entry", "clearance")
        for missing in ["nobody is named", "level both ways", "cells were not read", "which stand is not proven"]:
            self.assertIn(missing, text)
        self.ok("job", "add", self.job, self.file("cells.csv", self.UNSHARED), self.file("map.csv", MAP))
        text = self.refused("--entry", "clearance", "by=A. Example", "plates_level=no")
        for missing in ["section 2 (2L, 2R): 2.00 mV apart", "section 4 (4L, 4R)", "level both ways"]:
            self.assertIn(missing, text)
        self.assertNotIn("section 1", text)

    def test_a_clearance_is_taken_with_readings_of_this_visit_that_agree(self):
        self.balanced()
        self.ok("job", "add", self.job, "--entry", "visit", "reason=install")
        self.assertIn("not read at this visit", self.refused(*self.CLEAR))
        self.ok("job", "add", self.job, self.file("again.csv", self.SHARED), *self.CLEAR)
        self.assertEqual(self.steps()["clear"]["state"], "done")

    def test_a_clearance_is_not_taken_after_a_turn_that_nobody_read(self):
        self.balanced()
        self.ok("job", "add", self.job, self.file("turns.csv", "stand,turns\n2L,1\n"))
        self.assertIn("since something was moved", self.refused(*self.CLEAR))

    def test_a_difference_that_is_accepted_in_words_may_be_cleared(self):
        self.ok("job", "add", self.job, self.file("cells.csv", self.UNSHARED), self.file("map.csv", MAP))
        self.ok("job", "add", self.job, "--tick", "balance_accepted", "--remark", "a crane stands on it")
        self.ok("job", "add", self.job, *self.CLEAR)

    def test_grout_without_a_clearance_is_a_fact_and_told_as_a_danger(self):
        self.ok("job", "add", self.job, self.file("cells.csv", self.UNSHARED), self.file("map.csv", MAP))
        danger = "without being cleared"
        self.assertIn(danger, self.ok("job", "add", self.job, "--tick", "grouted"))
        self.assertIn("opens nothing", self.ok("job", "add", self.job, "--tick", "cured"))
        self.assertIn(danger, self.ok("job", "next", self.job))
        for step in ["share", "clear", "release", "fix", "trim"]:
            self.assertNotEqual(self.steps()[step]["state"], "done", step)
        self.assertEqual(self.json_of("job", "next", self.job)["next"]["step"], "arrive")
        self.assertIn("grouted already", self.refused(*self.CLEAR))

    def test_a_release_names_its_grounds_and_the_time_that_is_not_over(self):
        text = self.refused(*self.RELEASE)
        self.assertIn("no grout is ticked", text)
        self.assertIn("on what grounds", text)
        self.ok("job", "add", self.job, "--tick", "grouted")
        self.assertIn("none is given", self.refused(*self.RELEASE, "grounds=maker_time", "time=24 h"))
        by_time = [*self.RELEASE, "grounds=maker_time", "time=24 h", "temperature=12 degC"]
        text = self.refused(*by_time)
        self.assertIn("not over", text)
        self.assertIn("not before 20", text)
        self.assertIn("banana", self.refused(*by_time[:-2], "time=banana", "temperature=12 degC"))
        self.assertIn("still to come", self.refused(*by_time, "grouted_at=2990-01-01T10:00"))
        self.ok("job", "add", self.job, *by_time, "grouted_at=2024-05-06T10:00")
        self.assertEqual(self.steps()["release"]["state"], "done")

    def test_a_cube_is_strong_enough_and_not_older_than_the_grout(self):
        self.ok("job", "add", self.job, "--tick", "grouted")
        by_cube = [*self.RELEASE, "grounds=cube"]
        text = self.refused(*by_cube)
        for missing in ["strength that was found", "asked for", "age"]:
            self.assertIn(missing, text)
        at = "grouted_at=2024-05-06T10:00"
        self.assertIn("below", self.refused(*by_cube, "strength=30 MPa", "needed=35 MPa", "age=7 d", at))
        # 35 MPa are 5076 psi (1 psi = 6.894757 kPa, NIST SP 811, B.8).
        self.assertIn("below", self.refused(*by_cube, "strength=5000 psi", "needed=35 MPa", "age=7 d", at))
        self.assertIn("can't be 7 d old", self.refused(*by_cube, "strength=38 MPa", "needed=35 MPa", "age=7 d"))
        self.ok("job", "add", self.job, *by_cube, "strength=5100 psi", "needed=35 MPa", "age=7 d", at)

    def test_a_deck_on_steel_is_released_without_grout_and_an_engineer_says_what_was_found(self):
        steel = ["--entry", "release", "by=A. Example", "foundation=steel_pad", "grounds=engineer"]
        self.assertIn("nothing says what was found", self.refused(*steel))
        self.ok("job", "add", self.job, *steel, "document=letter 12")
        self.assertEqual(self.steps()["clear"]["state"], "not_needed")
        self.assertIn("before stops", self.ok("job", "add", self.job, "--tick", "exercised"))
        self.assertIn("grouted", self.ok("job", "add", self.job, "--tick", "grouted"))
        self.assertEqual(self.steps()["release"]["state"], "open", "fresh grout ends it")

    def test_a_service_visit_does_not_open_a_new_deck(self):
        self.balanced()
        self.assertIn("not finished", self.ok("job", "add", self.job, "--entry", "visit", "reason=service"))
        corners = self.file("c.csv", "at,load_kg,indication_kg\n2L,10000,9980\n")
        self.assertIn("Take it off", self.ok("job", "add", self.job, corners))
        self.assertEqual(self.steps()["trim"]["state"], "blocked")

    def test_handing_over_names_what_is_left_open(self):
        text = self.refused("--tick", "handed_over")
        for step in ["Dead-load balance", "Corner adjustment", "Span", "Test"]:
            self.assertIn(step, text)
        self.assertIn("--remark", text)
        self.ok("job", "add", self.job, "--tick", "handed_over", "--remark", "the customer has no weights yet")
        why = self.steps()["hand_over"]["why"]
        self.assertIn("Handed over with these left open", why)
        self.assertIn("no weights yet", why)
        self.assertNotIn("Nothing is open", self.ok("job", "next", self.job))


class Keeping(JobCliTest):
    def export(self, name="site.jsonl"):
        path = self.folder / name
        self.ok("job", "export", self.job, path)
        return path

    def test_export_can_be_checked_with_a_general_tool(self):
        self.ok("job", "add", self.job, self.readings, "--note", "±0.1 mm, say")
        previous = bytes(32)
        for line in self.export().read_text().splitlines()[1:]:
            entry = json.loads(line)
            cut = line.rindex(',"previous":"')
            content = (line[:cut] + "}").encode()
            data = b"weighwright journal entry 1\0" + struct.pack("<Q", len(content)) + content + previous
            self.assertEqual(hashlib.blake2b(data, digest_size=32).hexdigest(), entry["hash"])
            self.assertEqual(entry["previous"], previous.hex())
            previous = bytes.fromhex(entry["hash"])

    def test_import_gives_the_same_hashes(self):
        self.ok("job", "add", self.job, self.readings)
        copy = self.folder / "copy.job"
        self.ok("job", "import", copy, self.export())
        self.assertEqual(self.show()["heads"], self.show(copy)["heads"])
        self.assertIn("WHOLE", self.ok("job", "verify", copy))

    def test_broken_export_is_named_by_its_line(self):
        export = self.export()
        lines = export.read_text().splitlines()
        lines[2] = lines[2].replace("A. Tester", "A. Tamper")
        wrong = self.file("wrong.jsonl", "\n".join(lines) + "\n")
        result = run("job", "import", self.folder / "new.job", wrong)
        self.assertEqual(result.returncode, 2)
        self.assertIn("wrong.jsonl:3", result.stderr)
        self.assertFalse((self.folder / "new.job").exists(), "nothing is imported by halves")

    def test_changed_entry_is_found_and_named(self):
        self.ok("job", "add", self.job, "--note", "zero drifts")
        self.sql("update entries set content = replace(content, 'drifts', 'stands') where sequence = 4")
        text = self.ok("job", "verify", self.job, code=1)
        self.assertIn("BROKEN", text)
        self.assertIn("00000000-4", text)
        shown = self.json_of("job", "show", self.job, code=1)
        self.assertIn("damaged", shown["entries"][2]["fate"])
        self.assertIsNone(shown["entries"][1]["fate"], "the others still count")

    def test_intact_entries_are_rescued_from_a_damaged_file(self):
        self.ok("job", "add", self.job, "--note", "kept", "--note", "spoiled")
        data = bytearray(self.job.read_bytes())
        at = data.index(b"spoiled")
        data[at:at + 4] = b"    "
        self.job.write_bytes(data)
        rescued = self.folder / "rescued.job"
        self.assertIn("Not brought over", self.ok("job", "rescue", self.job, rescued))
        self.assertEqual(self.show(rescued)["entry_count"], 3)
        self.assertIn("kept", self.ok("job", "show", rescued))

    def test_lost_entry_is_found(self):
        self.ok("job", "add", self.job, "--note", "one", "--note", "two")
        self.sql("delete from entries where sequence = 3")
        self.assertIn("00000000-3", self.ok("job", "verify", self.job, code=1))

    def test_cut_tail_is_found_by_what_was_printed_before(self):
        self.ok("job", "add", self.job, "--note", "one")
        head = self.show()["heads"][0]
        export = self.export()
        self.sql("delete from entries where sequence = 3")
        known = f"{head['device']}:{head['sequence']}:{head['hash']}"
        self.assertIn("BROKEN", self.ok("job", "verify", self.job, "--head", known, code=1))
        self.assertIn("BROKEN", self.ok("job", "verify", self.job, "--against", export, code=1))
        self.assertEqual(run("job", "verify", self.job, "--head", "nonsense").returncode, 2)

    def test_copies_worked_on_apart_merge_without_loss(self):
        copy = self.folder / "copy.job"
        self.ok("job", "backup", self.job, copy)
        self.ok("job", "add", self.job, "--note", "at the pit")
        self.as_device(TRUCK)
        self.ok("job", "add", copy, "--note", "in the truck")
        self.ok("job", "merge", copy, self.job)
        self.as_device(PIT)
        self.ok("job", "merge", self.job, copy)
        for key in ["entries", "heads", "steps", "conflicts", "as_found"]:
            self.assertEqual(self.show()[key], self.show(copy)[key])
        self.assertEqual(self.show()["entry_count"], 4)
        self.assertEqual(len(self.show()["heads"]), 2)
        self.assertIn("0 entries", self.ok("job", "merge", self.job, copy))

    def test_journal_of_another_job_is_not_merged(self):
        self.as_device(TRUCK)
        other = self.folder / "other.job"
        self.ok("job", "new", other, self.deck)
        self.ok("job", "export", other, self.folder / "other.jsonl")
        for name in [other, self.folder / "other.jsonl"]:
            result = run("job", "merge", self.job, name)
            self.assertEqual(result.returncode, 2)
            self.assertIn("another job", result.stderr)

    def test_adjustment_while_a_fault_is_open_is_recorded_and_warned_of(self):
        cells = self.file("cells.csv", "stand,mV,no_load\n1L,1.09,0\n1R,1.09,0\n2L,-2.03,0\n2R,2.03,0\n"
                                       "3L,2.03,0\n3R,2.03,0\n4L,1.09,0\n4R,1.09,0\n")
        self.ok("job", "add", self.job, cells, self.file("map.csv", MAP), "--tick", "locked_out")
        text = self.ok("job", "add", self.job, self.file("turns.csv", "stand,turns\n1L,1\n"))
        self.assertIn("while a fault was open", text)

    def test_contradictions_of_copies_are_shown_until_settled(self):
        copy = self.folder / "copy.job"
        self.ok("job", "add", self.job, "--note", "first")
        self.ok("job", "backup", self.job, copy)
        self.ok("job", "add", self.job, "--note", "here", "--corrects", "3")
        self.as_device(TRUCK)
        self.ok("job", "add", copy, "--note", "there", "--corrects", "3")
        self.assertIn("CONFLICT", self.ok("job", "merge", self.job, copy))
        self.ok("job", "add", self.job, "--entry", "settled", "of=4", "with=5", "remark=here holds")
        conflicts = self.show()["conflicts"]
        self.assertEqual([c["settled"] for c in conflicts], [True])

    def test_device_number_is_made_once_and_kept_outside_the_journal(self):
        del os.environ["WEIGHWRIGHT_DEVICE"]
        os.environ["XDG_DATA_HOME"] = str(self.folder / "data")
        self.addCleanup(os.environ.pop, "XDG_DATA_HOME", None)
        self.ok("job", "add", self.job, "--note", "one")
        self.ok("job", "add", self.job, "--note", "two")
        heads = self.show()["heads"]
        self.assertEqual(len(heads), 2)
        kept = (self.folder / "data/weighwright/device").read_text().strip()
        self.assertIn(kept, [head["device"] for head in heads])
        self.as_device("not a number")
        self.assertEqual(run("job", "add", self.job, "--note", "x").returncode, 3)


if __name__ == "__main__":
    cli_test.PROGRAM, cli_test.SOURCE = sys.argv[1], Path(sys.argv[2])
    cli_test.DATA, cli_test.EXAMPLES = cli_test.SOURCE / "tests/cli/data", cli_test.SOURCE / "examples"
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
