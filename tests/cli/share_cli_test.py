#!/usr/bin/env python3
"""`share`, `level` and the pit sheet of the built program, run as a user runs them.

Usage: share_cli_test.py PROGRAM SOURCE_DIR [unittest arguments]

Sources of the situations: hand statics of the hinged chain (a hanging bearing leaves (R1 - J) / 2 and
(R1 + J) / 2 on the end pair) and a frame program's reactions, both computed outside the project.
"""

import json
import sys
import unittest
from html.parser import HTMLParser
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import cli_test
from cli_test import CliTest, run

# Loads in kN of the reference deck with equal heights, and mV per kN of its cells:
# 2 mV/V * 10 V / (25 000 kg * 9.80665 m/s2).
EVEN_kN = [13.31948] * 2 + [24.926455] * 4 + [13.31948] * 2
MV_PER_KN = 20 / (25 * 9.80665)
# Stiff in twist, 1L sunk 5 mm: the right bearing of the first joint hangs.
HANGS_kN = [1.14167, 25.49729, 37.05805, 12.79486, 24.97206, 24.88086, 13.32010, 13.31886]
STANDS = ["1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R"]


def millivolts(forces_kN):
    return [f"{force * MV_PER_KN:.2f}" for force in forces_kN]


class ShareCliTest(CliTest):
    def setUp(self):
        super().setUp()
        self.stiff = self.deck_with(('twisting = "20 MN m2"', 'twisting = "200 MN m2"'))

    def share(self, values, deck=None, code=1, *more):
        return self.json_of("share", deck or self.deck, self.readings(values), *more, code=code)


class Share(ShareCliTest):
    def test_even_readings_are_in_tolerance(self):
        answer = self.share(millivolts(EVEN_kN), code=0)
        self.assertIs(answer["in_tolerance"], True)
        self.assertEqual(answer["moves"], [])
        self.assertIsNone(answer["probability_done"])
        self.assertIn("probability_done_reason", answer)
        for pair in answer["pairs"]:
            self.assertAlmostEqual(pair["difference_mV"], 0.0, delta=1e-9)

    def test_pairs_are_left_minus_right(self):
        answer = self.share(millivolts(HANGS_kN), self.stiff)
        for section, pair in enumerate(answer["pairs"]):
            left, right = map(float, millivolts(HANGS_kN)[2 * section:2 * section + 2])
            self.assertEqual(pair["section"], section + 1)
            self.assertAlmostEqual(pair["difference_mV"], left - right, delta=1e-9)

    def test_has_the_keys_of_the_contract(self):
        answer = self.share(millivolts(HANGS_kN), self.stiff)
        for key in ("in_tolerance", "pairs", "cannot_fix", "moves", "then", "probability_done", "ask",
                    "assumed"):
            self.assertIn(key, answer)
        for move in answer["moves"]:
            self.assertLessEqual({"stand", "kind", "turns", "raise_mm", "jack_first", "why"}, set(move))
            self.assertNotEqual(move["turns"], 0)
            # M20 coarse: 2.5 mm a turn (ISO 261)
            self.assertAlmostEqual(move["raise_mm"], 2.5 * move["turns"], delta=1e-9)
            self.assertAlmostEqual(move["turns"] * 8, round(move["turns"] * 8), delta=1e-9)
        stands = [move["stand"] for move in answer["moves"]]
        self.assertEqual(len(stands), len(set(stands)))
        if answer["moves"]:
            self.assertEqual([then["stand"] for then in answer["then"]], STANDS)
            self.assertTrue(0 < answer["probability_done"] <= 1)
        for ask in answer["ask"]:
            self.assertLessEqual({"support", "what", "why"}, set(ask))
        for item in answer["cannot_fix"]:
            self.assertLessEqual({"code", "section", "stand", "joint", "reason", "evidence"}, set(item))

    def test_a_hanging_bearing_is_asked_for(self):
        answer = self.share(millivolts(HANGS_kN), self.stiff)
        asked = {(ask["support"], ask["what"]) for ask in answer["ask"]}
        self.assertTrue({("bearing1R", "gap"), ("1L", "touch"), ("1L", "gap")} & asked, asked)

    def test_a_reversed_cell_is_named(self):
        values = millivolts(EVEN_kN)
        values[2] = "-" + values[2]
        answer = self.share(values)
        self.assertIn(("reversed", "2L"), {(item["code"], item["stand"]) for item in answer["cannot_fix"]})
        self.assertEqual(answer["moves"], [])

    def test_all_alike_is_the_box_and_not_the_cells(self):
        # The mean of the reference deck's cells: what a meter shows anywhere on a paralleled box.
        answer = self.share(["1.56"] * 8)
        self.assertEqual(answer["moves"], [])
        self.assertIn("reading the box", json.dumps(answer["cannot_fix"]))

    def test_not_in_tolerance_without_moves_says_what_can_not_be_mended(self):
        deck = self.deck_with(('adjust = "screws"', 'adjust = "none"'), ('screw_kind = "jack"\n', ''),
                              ('twisting = "20 MN m2"', 'twisting = "200 MN m2"'))
        answer = self.share(millivolts(HANGS_kN), deck)
        self.assertEqual(answer["moves"], [])
        self.assertTrue(answer["cannot_fix"])

    def test_moves_made_bring_what_was_said(self):
        """The program's own statics answer the moves: a round trip through predict, no proof of it."""
        before = self.file("h.csv", "stand,height_mm\n1L,2\n3L,-2\n4R,3\n")
        read = self.json_of("predict", self.stiff, "--heights", before)
        first = self.readings([f"{s['signal_mV']:.2f}" for s in read["stands"]], "first.csv")
        advice = self.json_of("share", self.stiff, first, "--map-proven", code=1)
        self.assertTrue(advice["moves"], advice["headline"])
        heights = {"1L": 2.0, "3L": -2.0, "4R": 3.0}
        for move in advice["moves"]:
            heights[move["stand"]] = heights.get(move["stand"], 0.0) + move["raise_mm"]
        after = self.file("h2.csv", "stand,height_mm\n" + "".join(f"{k},{v}\n" for k, v in heights.items()))
        got = self.json_of("predict", self.stiff, "--heights", after)
        worst = max(abs(a["signal_mV"] - b["signal_mV"]) / max(b["standard_uncertainty_mV"], 0.02)
                    for a, b in zip(got["stands"], advice["then"], strict=True))
        self.assertLess(worst, 4.0)
        before_worst = max(abs(p["difference_mV"]) for p in advice["pairs"])
        values = [s["signal_mV"] for s in got["stands"]]
        self.assertLess(max(abs(values[i] - values[i + 1]) for i in range(0, 8, 2)), before_worst)
        # and the second visit takes the turns into account
        turns = self.file("t.csv", "stand,turns\n" +
                          "".join(f"{m['stand']},{m['turns']}\n" for m in advice["moves"]))
        second = self.readings([f"{value:.2f}" for value in values], "second.csv")
        code, out, err = run("share", self.stiff, first, turns, second, "--map-proven", "--json")
        self.assertIn(code, (0, 1), err)
        self.assertIn("in_tolerance", json.loads(out))

    def test_answers_twice_alike(self):
        path = self.readings(millivolts(HANGS_kN))
        self.assertEqual(run("share", self.stiff, path, "--json"), run("share", self.stiff, path, "--json"))


class ShareText(ShareCliTest):
    def text(self, values, deck=None, *more):
        code, out, err = run("share", deck or self.stiff, self.readings(values), *more)
        self.assertIn(code, (0, 1), err)
        self.assertEqual(err, "")
        return out

    def test_verdict_comes_first(self):
        self.assertIn("IN TOLERANCE", "\n".join(self.text(millivolts(EVEN_kN)).splitlines()[:3]))
        self.assertNotIn("IN TOLERANCE", self.text(millivolts(HANGS_kN)))

    def test_says_which_way_only_where_the_kind_of_screw_is_known(self):
        moves = self.share(millivolts(HANGS_kN), self.stiff, 1, "--map-proven")["moves"]
        self.assertTrue(moves)
        text = self.text(millivolts(HANGS_kN), None, "--map-proven")
        raises = any(move["turns"] > 0 for move in moves)
        self.assertIn(", clockwise seen from above" if raises else "counterclockwise seen from above", text)
        nut = self.file("nut.toml", self.stiff.read_text().replace('"jack"', '"nut"'))
        self.assertIn("counterclockwise seen from above" if raises else ", clockwise seen from above",
                      self.text(millivolts(HANGS_kN), nut, "--map-proven"))
        unknown = self.file("unknown.toml", self.stiff.read_text().replace('"jack"', '"unknown"'))
        text = self.text(millivolts(HANGS_kN), unknown, "--map-proven")
        self.assertNotIn("clockwise", text)
        self.assertIn("Which way raises is not known", " ".join(text.split()))

    def test_cautions_stand_where_it_can_hurt(self):
        text = " ".join(self.text(millivolts(HANGS_kN), None, "--map-proven").split())
        self.assertIn("Traffic locked out", text)
        self.assertIn("no hand between plate and cell", text.lower())
        self.assertLess(text.index("Traffic locked out"), text.index("seen from above"))
        calm = self.text(millivolts(EVEN_kN))
        self.assertNotIn("Jack", calm)

    def test_fits_one_screen_for_three_modules(self):
        for values in (millivolts(EVEN_kN), millivolts(HANGS_kN)):
            lines = self.text(values).splitlines()
            self.assertLessEqual(max(map(len, lines)), 80)
            # What is assumed is listed below the answer and may scroll away.
            below = [at for at, line in enumerate(lines) if line.startswith("Assumed")]
            self.assertLessEqual(below[0] if below else len(lines), 48)

    def test_us_decks_speak_of_pounds_and_inches(self):
        deck = cli_test.EXAMPLES / "five-modules-us.toml"
        if not deck.exists():
            self.fail(f"{deck} is not there")
        code, out, err = run("predict", deck, "--json")
        values = [f"{s['signal_mV']:.2f}" for s in json.loads(out)["stands"]]
        values[0] = f"{float(values[0]) * 0.4:.2f}"
        code, out, err = run("share", deck, self.readings(values))
        self.assertIn(code, (0, 1), err)
        self.assertIn(" lb", out)
        self.assertNotIn(" kg", out)
        self.assertNotIn(" mm", out.split("\nAssumed")[0])  # values of the file stand as it has them

    def test_no_answer_says_nan(self):
        for values in (millivolts(EVEN_kN), millivolts(HANGS_kN), ["0"] * 8, ["1.56"] * 8):
            for more in ([], ["--json"], ["--sheet", "text"]):
                _, out, _ = run("share", self.stiff, self.readings(values), *more)
                words = out.lower().replace("(", " ").split()
                self.assertFalse({"nan", "inf", "-nan", "nan,", "inf,"} & set(words), out)


class Page(HTMLParser):
    """What an HTML page holds: tags that stay open, anything that would be fetched."""

    def __init__(self):
        super().__init__()
        self.open, self.fetched, self.words, self.tags = [], [], [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.fetched += [value for name, value in attrs if name in ("src", "href", "data", "action")]
        if tag not in ("meta", "rect", "circle", "br"):
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)

    def handle_endtag(self, tag):
        assert self.open and self.open[-1] == tag, (tag, self.open)
        self.open.pop()

    def handle_data(self, data):
        self.words.append(data)


class Sheet(ShareCliTest):
    def sheet(self, kind, deck=None, values=None, *more):
        readings = self.readings(values or millivolts(HANGS_kN))
        code, out, err = run("share", deck or self.stiff, readings, "--sheet", kind, *more)
        self.assertEqual(code, 1, err)
        return out

    def test_text_fits_a_page(self):
        lines = self.sheet("text").splitlines()
        self.assertLessEqual(len(lines), 60)
        self.assertLessEqual(max(map(len, lines)), 80)

    def test_boxes_stand_in_walking_order(self):
        order = ["1L", "2L", "3L", "4L", "4R", "3R", "2R", "1R"]
        text = self.sheet("text")
        boxes = text[text.index("walking order"):]
        self.assertEqual([word for word in boxes.split() if word in STANDS], order)
        page = Page()
        html = self.sheet("html")
        page.feed(html[html.index("walking order"):].replace("</body>", "").replace("</html>", "")
                  .partition(">")[2])
        self.assertEqual([word.strip() for word in page.words if word.strip() in STANDS], order)

    def test_html_is_whole_and_fetches_nothing(self):
        page = Page()
        html = self.sheet("html")
        page.feed(html)
        self.assertEqual(page.open, [])
        self.assertEqual(page.fetched, [])
        self.assertNotIn("script", page.tags)
        self.assertNotIn("http", html)
        self.assertNotIn("url(", html)

    def test_names_from_the_deck_file_are_escaped(self):
        deck = self.file("odd.toml", self.stiff.read_text().replace("Reference deck", "<b>Tom & Tim's</b>"))
        html = self.sheet("html", deck)
        self.assertNotIn("<b>Tom", html)
        self.assertIn("&lt;b&gt;Tom &amp; Tim&#39;s", html)

    def test_goes_to_a_file_and_overwrites_nothing(self):
        target = self.folder / "sheet.html"
        readings = self.readings(millivolts(HANGS_kN))
        arguments = ("share", self.stiff, readings, "--sheet", "html", "--out", target)
        self.assertEqual(run(*arguments)[0], 1)
        first = target.read_text()
        self.assertIn("</html>", first)
        code, out, err = run(*arguments)
        self.assertEqual((code, out), (2, ""))
        self.assertIn("there already", err)
        self.assertEqual(run(*arguments, "--force")[0], 1)
        self.assertEqual(target.read_text(), first)

    def test_a_place_that_can_not_be_written_is_the_machines_failure(self):
        readings = self.readings(millivolts(HANGS_kN))
        code, _, err = run("share", self.stiff, readings, "--sheet", "text", "--out",
                           self.folder / "no" / "where.txt")
        self.assertEqual(code, 3)
        self.assertIn("could not be written", err)


class Level(ShareCliTest):
    def level(self, *more, stand="2L", along="2 mm/m", across="-1 mm/m", code=0):
        return self.json_of("level", self.deck, "--stand", stand, "--along", along, "--across", across,
                            *more, code=code)

    def test_turns_undo_the_slope_and_stay_in_one_plane(self):
        answer = self.level()
        raises = [screw["raise_mm"] for screw in answer["screws"]]
        near_left, near_right, far_left, far_right = raises
        self.assertEqual([s["corner"] for s in answer["screws"]],
                         ["near left", "near right", "far left", "far right"])
        # By hand: a plate 250 mm square, 2 mm/m high at the far side, right side 1 mm/m high.
        self.assertAlmostEqual(far_left - near_left, -0.5, delta=1e-9)
        self.assertAlmostEqual(near_left - near_right, 0.25, delta=1e-9)
        self.assertAlmostEqual(sum(raises), 0.0, delta=1e-9)
        turns = [screw["turns"] for screw in answer["screws"]]
        self.assertAlmostEqual(turns[0] + turns[3], turns[1] + turns[2], delta=1e-12)

    def test_a_level_plate_is_left_alone(self):
        answer = self.level(along="0 mm/m", across="0 mm/m")
        self.assertEqual({screw["turns"] for screw in answer["screws"]}, {0})

    def test_raise_lifts_all_four_alike(self):
        answer = self.level("--raise", "2.5 mm", along="0 mm/m", across="0 mm/m")
        self.assertEqual({screw["turns"] for screw in answer["screws"]}, {1.0})

    def test_text_names_the_screws_and_the_way(self):
        code, out, _ = run("level", self.deck, "--stand", "2L", "--along", "6 mm/m", "--across", "0 mm/m")
        self.assertEqual(code, 0)
        self.assertIn("far left", out)
        self.assertIn("counterclockwise seen from above", out)
        self.assertIn("hand-firm", out)

    def test_wrong_stand_slope_and_plate_are_told(self):
        self.refused("level", self.deck, "--stand", "9L", "--along", "x", "--across", "1 mm/m",
                     says=["9L", "--along"])
        shims = self.deck_with(('adjust = "screws"', 'adjust = "none"'), ('screw_kind = "jack"\n', ''))
        self.refused("level", shims, "--stand", "1L", "--along", "1 mm/m", "--across", "0 mm/m",
                     says="four screws")


if __name__ == "__main__":
    cli_test.PROGRAM, cli_test.SOURCE = sys.argv[1], Path(sys.argv[2])
    cli_test.DATA, cli_test.EXAMPLES = cli_test.SOURCE / "tests/cli/data", cli_test.SOURCE / "examples"
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
