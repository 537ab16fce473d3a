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
            ("cell_replaced", ["stand=2L", "new_serial=7", "capacity=25"], "in t, kg or lb"),
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
        self.assertIn("not ticked cured", self.ok("job", "next", self.job))


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
        self.sql("update entries set content = replace(content, 'drifts', 'stands') where sequence = 3")
        text = self.ok("job", "verify", self.job, code=1)
        self.assertIn("BROKEN", text)
        self.assertIn("00000000-3", text)
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
        self.ok("job", "merge", self.job, copy)
        self.ok("job", "merge", copy, self.job)
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
        self.addCleanup(os.environ.pop, "XDG_DATA_HOME")
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
