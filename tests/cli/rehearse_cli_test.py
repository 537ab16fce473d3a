#!/usr/bin/env python3
"""`rehearse` of the built program, run as a user and as a script run it.

Usage: rehearse_cli_test.py PROGRAM SOURCE_DIR [unittest arguments]

What a fault does to readings is tested beside the library; here it is lines, files and exit codes, and
that the answers are files which the other verbs take.
"""

import datetime
import json
import subprocess
import sys
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import cli_test
from cli_test import CliTest, run

STANDS = ["1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"]


def rows_of(text):
    """The table in an answer, as a list of dictionaries."""
    lines = [line for line in text.splitlines() if line and not line.startswith("#")]
    columns = lines[0].split(",")
    return [dict(zip(columns, line.split(","), strict=True)) for line in lines[1:]]


class RehearseCliTest(CliTest):
    def setUp(self):
        super().setUp()
        self.boxed = self.deck_with()
        self.boxed.write_text(self.boxed.read_text() + '\n[[box]]\ntrims = "signal"\n')
        self.site = self.folder / "p.site"

    def talk(self, *lines, options=(), code=0):
        got, out, err = run("rehearse", self.boxed, *options, stdin="".join(f"{line}\n" for line in lines))
        self.assertEqual(got, code, out + err)
        return out.split("\n\n")[:-1]

    def ask(self, *command, code=0, options=()):
        got, out, err = run("rehearse", self.boxed, "--site", self.site, *options, *command)
        self.assertEqual(got, code, out + err)
        return out

    def measured(self, name, *command):
        return self.file(name, self.ask(*command))


class Dialogue(RehearseCliTest):
    def test_every_answer_ends_with_a_blank_line(self):
        answers = self.talk("state", "cells", "gaps", "help")
        self.assertEqual(len(answers), 4)
        self.assertIn("practice site", answers[0].lower())
        self.assertEqual([row["stand"] for row in rows_of(answers[1])], STANDS)

    def test_answers_come_at_once(self):
        with subprocess.Popen([cli_test.PROGRAM, "rehearse", self.boxed], stdin=subprocess.PIPE,
                              stdout=subprocess.PIPE, text=True) as talk:
            for command in ("zero", "turn 2R 1/2", "zero"):
                talk.stdin.write(command + "\n")
                talk.stdin.flush()
                answer = list(iter(talk.stdout.readline, "\n"))
                self.assertTrue(answer)
            talk.stdin.close()
            self.assertEqual(talk.wait(timeout=30), 0)

    def test_a_wrong_command_gets_one_message_and_changes_nothing(self):
        wrong = ["turn 2R", "turn 9L 1", "turn 2R 1 2R 1", "shim 2L x", "place 2L 10", "cels", "wait -1 h",
                 "weather 99 degC", "meter 2L 2L", "look wet nowhere", "fault stand_sunk 2L 5 kg",
                 "fault nothing", "mend end_packed", "trim 2L 1 3L 2 ohm", "span 7", "corners 10 t sideways",
                 "place 2L 10 t", "turns nowhere.csv", "turns", "drive 3-4 2L 10 t"]
        answers = self.talk("cells", *wrong, "cells", code=2)
        for command, answer in zip(wrong, answers[1:-1], strict=True):
            self.assertEqual(len(answer.splitlines()), 1, command)
            self.assertTrue(answer.startswith("refused: "), command)
            self.assertIn("; ", answer)
        self.assertEqual(answers[-1], self.talk("cells", "cells")[-1])
        self.assertIn("did you mean cells", answers[1 + wrong.index("cels")])

    def test_no_load_on_an_ungrouted_deck(self):
        before, _, after = self.talk("corners 10 t", "grout", "corners 10 t", code=2)
        self.assertIn("not grouted", before)
        self.assertEqual(len(rows_of(after)), 8)
        self.assertIn("CAUTION", after)

    def test_after_grout_shims_only(self):
        answers = self.talk("turn 2R 1 1/4", "grout", "turn 2R 1", "shim 2R 0.5 mm", code=2)
        self.assertEqual(rows_of(answers[0]), [{"stand": "2R", "turns": "1.25"}])
        self.assertIn("shims only", answers[2])
        self.assertEqual(rows_of(answers[3]), [{"stand": "2R", "shim_mm": "0.5"}])

    def test_json_is_one_object_a_line(self):
        answers = self.talk("left-right", "cells no-load", "fault signal_open 2L", "meter 2L", "foo",
                            options=["--json"], code=2)
        left, cells, _, meter, foo = (json.loads(answer) for answer in answers)
        self.assertEqual(left["rows"], [])
        self.assertEqual(cells["kind"], "readings")
        self.assertEqual(set(cells["rows"][0]), {"stand", "mV", "no_load"})
        self.assertIsNone(meter["rows"][0]["output_ohm"])
        self.assertIn("limit", meter["rows"][0]["output_ohm_reason"])
        self.assertEqual(set(foo["faults"][0]), {"file", "line", "column", "what", "expected"})

    def test_time_goes_as_the_calendar_does(self):
        """Dates against Python's datetime."""
        answers = self.talk("zero", "wait 8760 h", "zero", "wait 744 h", "zero")
        times = [datetime.datetime.fromisoformat(rows_of(answers[i])[0]["time"]) for i in (0, 2, 4)]
        minute = datetime.timedelta(minutes=1)
        self.assertAlmostEqual((times[1] - times[0]) / minute, 8760 * 60 + 2, delta=1)
        self.assertAlmostEqual((times[2] - times[1]) / minute, 744 * 60 + 2, delta=1)
        self.assertEqual(times[0].date(), datetime.date(2026, 6, 1))


class Truth(RehearseCliTest):
    def test_a_deck_left_right_reads_its_weight_and_shows_the_load(self):
        """15 600 kg at 2 mV/V of 25 t and 10 V: 12.48 mV over all; masses of a site are within 3 % (one
        standard deviation) a module."""
        cells, corners = self.talk("left-right", "cells", "corners 10 t")[1:]
        self.assertAlmostEqual(sum(float(row["mV"]) for row in rows_of(cells)), 12.48, delta=0.06 * 12.48)
        for row in rows_of(corners):
            self.assertAlmostEqual(float(row["indication_kg"]), 10000, delta=40)

    def test_the_curtain_names_the_fault_and_the_cells_show_it(self):
        _, _, cells, curtain = self.talk("left-right", "fault reversed 3L", "cells", "curtain")
        signs = {row["stand"]: float(row["mV"]) > 0 for row in rows_of(cells)}
        self.assertEqual([stand for stand in STANDS if not signs[stand]], ["3L"])
        self.assertIn("Fault: reversed 3L", curtain)
        self.assertTrue(all(float(row["force_N"]) > 0 for row in rows_of(curtain)))

    def test_seeds_are_sites(self):
        one = self.talk("cells", options=["--seed", "7"])
        self.assertEqual(one, self.talk("cells", options=["--seed", "7"]))
        self.assertNotEqual(one, self.talk("cells", options=["--seed", "8"]))

    def test_faults_can_be_there_from_the_start(self):
        options = ["--left-right", "--fault", "stand_sunk 2R 6 mm", "--fault", "swapped 1L,4R"]
        curtain = self.talk("curtain", options=options)[0]
        self.assertIn("stand_sunk 2R 6 mm", curtain)
        self.assertIn("swapped 1L 4R", curtain)
        self.refused("rehearse", self.boxed, "--fault", "stand_snk 2R", "cells", says="did you mean stand_sunk")

    def test_every_fault_of_the_list_can_be_struck(self):
        codes = [row["fault"] for row in rows_of(self.talk("faults")[0])]
        self.assertGreater(len(codes), 20)
        self.talk("left-right", *(f"fault {code}" for code in codes), "cells", "corners 10 t", "curtain")


class Kept(RehearseCliTest):
    def test_a_site_lives_in_its_file(self):
        self.ask(options=["--seed", "5"])
        first = self.ask("cells", "--no-load")
        self.ask("turn", "2R", "3/4", "2L", "-1/2")
        self.ask("cells")
        again = self.talk("cells no-load", "turn 2R 0.75 2L -0.5", "cells", options=["--seed", "5"])
        self.assertEqual(first.strip(), again[0].strip())
        self.assertIn("> turn 2R 3/4 2L -1/2", self.site.read_text())

    def test_the_pit_end_to_end(self):
        """Advice of the tool's own, made on the site by its own files, leaves the pairs in tolerance."""
        self.ask(options=["--seed", "5"])
        history = [self.measured("map.csv", "map"), self.measured("r0.csv", "cells", "no-load")]
        for lowering in range(6):
            code, out, err = run("share", self.boxed, *history, "--json")
            self.assertIn(code, (0, 1), err)
            answer = json.loads(out)
            if answer["in_tolerance"]:
                break
            moves = "".join(f"{move['stand']},{move['turns']}\n" for move in answer["moves"])
            advice = self.file(f"advice{lowering}.csv", "stand,turns\n" + moves)
            history.append(self.measured(f"t{lowering}.csv", "turns", advice))
            history.append(self.measured(f"r{lowering + 1}.csv", "cells"))
            history.append(self.measured(f"g{lowering + 1}.csv", "gaps"))
        self.assertTrue(answer["in_tolerance"])
        readings = [float(row["mV"]) for row in rows_of(self.ask("cells"))]
        for section in range(4):
            self.assertLess(abs(readings[2 * section] - readings[2 * section + 1]), 1.1)

    def test_measurements_are_files_of_the_other_verbs(self):
        self.ask(options=["--left-right"])
        for verb, command, options in (
                ("share", ["cells"], []), ("trim", ["corners", "10", "t"], []),
                ("trim", ["corners", "10", "t", "down", "fine"], []),
                ("trim", ["place", "3.5,0.8", "10", "t"], []),
                ("trim", ["steps", "2L", "5", "t", "10", "t"], []),
                ("trim", ["drive", "1-2", "2", "10", "t"], []),
                ("span", ["loads", "5", "t", "20", "t"], ["--shared", "--trimmed"]),
                ("signal", ["meter", "all"], ["--resistances"])):
            file = self.measured("m.csv", *command)
            arguments = [*options, file] if verb == "signal" else [file, *options]
            code, _, err = run(verb, self.boxed, *arguments)
            self.assertIn(code, (0, 1), f"{command}: {err}")

    def test_trims_from_a_file(self):
        self.ask(options=["--left-right"])
        trims = self.file("trims.csv", "trim,ohm\n2L,3\n3R,1.5\n")
        self.ask("trims", trims)
        ohms = {row["stand"]: float(row["trim_ohm"]) for row in rows_of(self.ask("curtain"))}
        self.assertEqual((ohms["2L"], ohms["3R"]), (3.0, 1.5))
        self.ask("turns", trims, code=2)

    def test_a_refused_command_leaves_the_file_as_it_was(self):
        self.ask(options=["--seed", "2"])
        before = self.site.read_bytes()
        self.refused("rehearse", self.boxed, "--site", self.site, "turn", "9L", "1", says="no stand")
        self.assertEqual(self.site.read_bytes(), before)
        self.assertEqual([path.name for path in self.folder.iterdir() if "site" in path.name], ["p.site"])

    def test_damaged_and_foreign_files_are_told_and_kept(self):
        self.ask("cells")
        sound = self.site.read_text()
        lines = sound.splitlines(keepends=True)
        for text, says in ((sound.replace("seed 1", "seed 2"), "damaged"), (sound[:-30], "damaged"),
                           ("".join(lines[:-2] + lines[-1:]), "damaged"), ("hello\n", "no practice site"),
                           ("", "no practice site"), (b"\xff\x00\x01", "no practice site")):
            self.site.write_bytes(text if isinstance(text, bytes) else text.encode())
            before = self.site.read_bytes()
            self.refused("rehearse", self.boxed, "--site", self.site, "cells", says=says)
            self.assertEqual(self.site.read_bytes(), before)

    def test_another_deck_is_told(self):
        self.ask("cells")
        other = self.file("other.toml", self.boxed.read_text() + "\n# changed\n")
        self.refused("rehearse", other, "--site", self.site, "cells", says="not the deck")

    def test_a_begun_site_takes_no_new_start(self):
        self.ask("cells")
        self.refused("rehearse", self.boxed, "--site", self.site, "--seed", "4", "cells", says="has begun")

    def test_a_place_that_can_not_be_written_fails_and_answers_nothing(self):
        code, out, err = run("rehearse", self.boxed, "--site", self.folder / "nowhere" / "p.site", "cells")
        self.assertEqual((code, out), (3, ""))
        self.assertIn("can't be written", err)


if __name__ == "__main__":
    cli_test.PROGRAM, cli_test.SOURCE = sys.argv[1], Path(sys.argv[2])
    cli_test.DATA, cli_test.EXAMPLES = cli_test.SOURCE / "tests/cli/data", cli_test.SOURCE / "examples"
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
