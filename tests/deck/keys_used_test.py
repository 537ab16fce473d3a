#!/usr/bin/env python3
"""Every key of the deck file is used: read into a member of Deck that something outside src/deck reads.

The table names for each key the source file and the members that must be read there (`.member`), or, for
a key that is worked into another member when the file is read, the place in deck/reading that does it and
the use of what comes of it. Two keys of one name in different tables are two lines.

Usage: keys_used_test.py SOURCE_DIR
"""

import json
import pathlib
import re
import sys
import unittest

SOURCE = pathlib.Path(sys.argv.pop(1)) if len(sys.argv) > 1 else pathlib.Path(__file__).parents[2]

CELL = {
    "address": ("job/speak.cpp", "address"),
    "capacity": ("signal/cell.cpp", "capacity_kg"),
    "certificate": ("signal/compatibility.cpp", "min_interval_kg", "dead_load_return_kg"),  # y and z by it
    "class": ("signal/compatibility.cpp", "accuracy_class"),
    "counts": ("signal/cell.cpp", "counts"),
    "dead_load_return": ("signal/compatibility.cpp", "dead_load_return_kg"),
    "deflection": ("statics/model.cpp", "deflection_m"),
    "error_fraction": ("signal/compatibility.cpp", "error_fraction"),
    "input_resistance": ("signal/wiring.cpp", "input_ohm"),
    "least_load": ("share/pairs.cpp", "least_load_kg"),
    "max_intervals": ("signal/compatibility.cpp", "max_intervals"),
    "min_interval": ("signal/compatibility.cpp", "min_interval_kg"),
    "output": ("signal/cell.cpp", "output_V_per_V"),
    "output_resistance": ("signal/wiring.cpp", "output_ohm"),
    "serial": ("job/speak.cpp", "serial"),
    "temperature": ("signal/compatibility.cpp", "temperature_low_degC", "temperature_high_degC"),
    "terminal": ("job/speak.cpp", "terminal"),
    "y": ("signal/compatibility.cpp", "min_interval_kg"),  # divided when read: v_min
    "z": ("signal/compatibility.cpp", "dead_load_return_kg"),  # divided when read: DR
    "zero": ("signal/wiring.cpp", "zero_V_per_V"),
}

CABLE = {
    "area": ("signal/wiring.cpp", "area_m2"),
    "cores": ("signal/wiring.cpp", "cores"),
    "gauge": ("signal/wiring.cpp", "area_m2"),
    "length": ("signal/wiring.cpp", "length_m"),
}

USED = {
    "box.stands": ("signal/wiring.cpp", "stands"),
    "box.trims": ("trim/elements.cpp", "trims"),
    "cable.temperature": ("signal/wiring.cpp", "cable_temperature_degC"),
    "deck.approval": ("job/document_view.cpp", "approval"),
    "deck.capacity": ("proof/scale_of.cpp", "capacity_kg"),
    "deck.class": ("job/rulebook_of.cpp", "accuracy_class"),
    "deck.clc": ("proof/scale_of.cpp", "clc_kg"),
    "deck.display": ("proof/scale_of.cpp", "display_interval_kg"),
    "deck.interval": ("proof/scale_of.cpp", "interval_kg"),
    "deck.name": ("job/share_view_of.cpp", "name"),
    "deck.pair_tolerance": ("share/pairs.cpp", "tolerance_V", "tolerance_share"),
    "deck.ranges": ("proof/scale_of.cpp", "ranges"),
    "deck.ranges_kind": ("job/test_plan_view.cpp", "ranges_kind"),
    "deck.rulebook": ("job/rulebook_of.cpp", "rulebook"),
    "deck.serial": ("job/document_view.cpp", "serial"),
    "footprint.name": ("trim/placements.cpp", "name"),
    "footprint.points": ("trim/placements.cpp", "points"),
    "indicator.class": ("signal/compatibility.cpp", "accuracy_class"),
    "indicator.dead_load_range": ("signal/compatibility.cpp", "dead_load_low_V", "dead_load_high_V"),
    "indicator.error_fraction": ("signal/compatibility.cpp", "error_fraction"),
    "indicator.excitation": ("share/evidence.cpp", "excitation_V"),
    "indicator.input_resistance": ("signal/wiring.cpp", "input_ohm"),
    "indicator.load": ("signal/compatibility.cpp", "load_low_ohm", "load_high_ohm"),
    "indicator.longest_cable": ("signal/compatibility.cpp", "longest_cable_per_m"),
    "indicator.max_intervals": ("signal/compatibility.cpp", "max_intervals"),
    "indicator.min_signal": ("signal/budget.cpp", "min_signal_V"),
    "indicator.sense": ("signal/wiring.cpp", "sense_cores"),
    "indicator.temperature": ("signal/compatibility.cpp", "temperature_low_degC"),
    "instrument.baud": ("job/page_live.cpp", "baud"),
    "instrument.data_bits": ("job/page_live.cpp", "data_bits"),
    "instrument.device": ("job/page_live.cpp", "device"),
    "instrument.every": ("job/page_live.cpp", "every_s"),
    "instrument.host": ("job/page_live.cpp", "host"),
    "instrument.link": ("job/page_live.cpp", "kind"),
    "instrument.name": ("job/page_live.cpp", "name"),
    "instrument.parity": ("job/page_live.cpp", "parity"),
    "instrument.port": ("job/page_live.cpp", "port"),
    "instrument.register.address": ("job/page_live.cpp", "address"),
    "instrument.register.byte_order": ("link/register_value.cpp", "byte_order"),
    "instrument.register.place": ("job/page_live.cpp", "place"),
    "instrument.register.scale": ("job/page_live.cpp", "scale"),
    "instrument.register.step": ("job/page_live.cpp", "step"),
    "instrument.register.table": ("job/page_live.cpp", "table"),
    "instrument.register.type": ("job/page_live.cpp", "type"),
    "instrument.register.value": ("job/page_live.cpp", "unit"),
    "instrument.register.word_order": ("link/register_value.cpp", "word_order"),
    "instrument.stale": ("job/page_live.cpp", "stale_s"),
    "instrument.step": ("job/page_live.cpp", "step_kg"),
    "instrument.stop_bits": ("job/page_live.cpp", "stop_bits"),
    "instrument.timeout": ("job/page_live.cpp", "timeout_s"),
    "instrument.unit": ("job/page_live.cpp", "unit"),
    "joint.across": ("statics/model.cpp", "across_m"),
    "joint.kind": ("statics/model.cpp", "kind"),
    "joint.rests": ("statics/model.cpp", "resting"),
    "module.centre": ("statics/model.cpp", "centre_m"),
    "module.construction": ("job/drawn_deck.cpp", "construction"),
    "module.engineering.bending": ("statics/grillage.cpp", "bending_Nm2"),
    "module.engineering.crossbeam_bending": ("statics/grillage.cpp", "crossbeam_bending_Nm2"),
    "module.engineering.crossbeam_twisting": ("statics/grillage.cpp", "crossbeam_twisting_Nm2"),
    "module.engineering.crossbeams": ("statics/grillage.cpp", "crossbeams"),
    "module.engineering.girders": ("statics/grillage.cpp", "girders_m"),
    "module.engineering.twisting": ("statics/grillage.cpp", "twisting_Nm2"),
    "module.engineering.twisting_spread": ("share/reduced.cpp", "twisting_spread"),
    "module.halves": ("diagnose/catalogue.cpp", "halves"),
    "module.length": ("statics/grillage.cpp", "length_m"),
    "module.mark": ("job/drawn_deck.cpp", "mark"),
    "module.mass": ("statics/model.cpp", "mass_kg"),
    "module.poured": ("deck/reading/defaults.cpp", "poured", "mass_kg"),  # the mass and stiffness of it
    "module.slab": ("deck/reading/defaults.cpp", "slab_m", "mass_kg", "twisting_Nm2"),
    "module.width": ("job/drawn_deck.cpp", "width_m"),
    "receptor.dead_load": ("signal/compatibility.cpp", "dead_load_kg"),
    "receptor.error_fraction": ("signal/compatibility.cpp", "error_fraction"),
    "receptor.tare": ("signal/compatibility.cpp", "tare_kg"),
    "receptor.uneven": ("signal/compatibility.cpp", "uneven_kg"),
    "receptor.zero_range": ("signal/compatibility.cpp", "zero_range_kg"),
    "restraint.gap": ("job/deck_words.cpp", "gap_m"),
    "restraint.kind": ("job/deck_words.cpp", "kind"),
    "restraint.temperature": ("job/deck_words.cpp", "temperature_degC"),
    "section.across": ("statics/model.cpp", "across_m"),
    "section.at": ("statics/model.cpp", "at_m"),
    "section.module": ("statics/model.cpp", "module"),
    "share.division": ("share/plan.cpp", "division"),
    "share.heights": ("share/reduced.cpp", "heights_m"),
    "share.module_twist": ("share/reduced.cpp", "module_twist_m"),
    "share.noise": ("share/evidence.cpp", "noise_V"),
    "share.roll": ("share/plan.cpp", "roll"),
    "share.survey": ("share/reduced.cpp", "survey_m"),
    "share.tolerance": ("share/pairs.cpp", "tolerance_V", "tolerance_share"),
    "share.top_line": ("share/advise.cpp", "top_line_m"),
    "share.turn_error": ("share/evidence.cpp", "turn_error"),
    "share.turn_torque": ("share/advise.cpp", "turn_torque_Nm"),
    "site.altitude": ("job/elsewhere.cpp", "altitude_m"),
    "site.gravity": ("share/evidence.cpp", "gravity_m_per_s2"),
    "site.latitude": ("job/elsewhere.cpp", "latitude_rad"),
    "site.temperature": ("signal/compatibility.cpp", "temperature_low_degC", "temperature_high_degC"),
    "stand.address": ("job/speak.cpp", "address"),
    "stand.adjust": ("share/plan.cpp", "adjust"),
    "stand.division": ("share/plan.cpp", "division"),
    "stand.foundation": ("statics/model.cpp", "foundation_N_per_m"),
    "stand.grout": ("share/advise.cpp", "grout_m"),
    "stand.grout_max": ("share/advise.cpp", "grout_max_m"),
    "stand.grout_min": ("share/advise.cpp", "grout_min_m"),
    "stand.pitch": ("share/plan.cpp", "pitch_m"),
    "stand.plate": ("share/level.cpp", "plate_along_m", "plate_across_m"),
    "stand.screw_kind": ("job/turn_words.cpp", "screw_kind"),
    "stand.screws": ("share/advise.cpp", "screws"),
    "stand.serial": ("job/speak.cpp", "serial"),
    "stand.shims": ("share/plan.cpp", "shims_m"),
    "stand.terminal": ("job/speak.cpp", "terminal"),
    "stand.thread": ("share/advise.cpp", "pitch_m", "screw_diameter_m"),
    "stand.travel": ("job/implausible.cpp", "travel_up_m", "travel_down_m"),
    "trim.attenuates": ("trim/elements.cpp", "attenuates"),
    "trim.clockwise": ("trim/elements.cpp", "clockwise_raises"),
    "trim.most": ("trim/judge.cpp", "most"),
    "trim.range": ("trim/elements.cpp", "range_ohm", "range_share"),
    "trim.repeatability": ("trim/indications.cpp", "repeatability_kg"),
    "trim.spread": ("trim/advise.cpp", "spread_kg"),
    "trim.start": ("trim/elements.cpp", "start", "start_ohm"),
    "trim.step": ("trim/advise.cpp", "step_turns"),
    "trim.turns": ("trim/elements.cpp", "turns"),
}
USED |= {f"cell.{key}": use for key, use in CELL.items()}
USED |= {f"stand.cell.{key}": use for key, use in CELL.items()}
for name in ("home", "link", "cell"):
    # which of the three it is stands beside
    USED |= {f"cable.{name}.{key}": (*use, f"{name}_cable") for key, use in CABLE.items()}

# Worked into what the rest of the program reads while the file is read.
RESOLVED_WHEN_READ = {"module.poured", "module.slab"}
# Says how the file is to be read.
OF_THE_FILE = {"format"}


def keys_of(schema, path=()):
    """Every key of the schema that holds a value, with its tables before it; [stand.2L] as [stand]."""
    found = set()
    for key, below in schema.get("properties", {}).items():
        inner = below["items"] if "properties" in below.get("items", {}) else below
        found |= keys_of(inner, (*path, key)) if "properties" in inner else {".".join((*path, key))}
    for below in schema.get("patternProperties", {}).values():
        found |= keys_of(below, path)
    return found


def without_comments(text):
    return re.sub(r"//.*", "", text)


def reader_text():
    return without_comments("\n".join(p.read_text(encoding="utf-8")
                                      for p in sorted((SOURCE / "src/deck/reading").glob("*.cpp"))))


KEYS = keys_of(json.loads((SOURCE / "schema/deck.schema.json").read_text(encoding="utf-8"))) - OF_THE_FILE


def unused(used):
    """Keys whose members are not read where the table says."""
    wrong = []
    for key, (path, *members) in used.items():
        text = without_comments((SOURCE / "src" / path).read_text(encoding="utf-8"))
        wrong += [f"{key}: no .{member} in src/{path}" for member in members
                  if not re.search(rf"(\.|->|::){member}\b", text)]
    return wrong


class KeysUsed(unittest.TestCase):
    def test_the_table_names_every_key_and_no_other(self):
        self.assertEqual(sorted(KEYS ^ set(USED)), [])

    def test_every_key_is_used_where_the_table_says(self):
        self.assertEqual(unused(USED), [])

    def test_a_use_lies_outside_of_the_deck_s_own_floor(self):
        inside = {key for key, use in USED.items() if use[0].startswith("deck/")}
        self.assertEqual(inside, RESOLVED_WHEN_READ)

    def test_the_reader_asks_for_every_key_of_the_table_and_for_no_other(self):
        text = reader_text()
        asked = set(re.findall(r"\b(?:quantity|quantities|range|number|text|label|choice|whole|boolean|node"
                               r"|require|allow|has|read_time|read_cores|read_tolerance|read_ratio)"
                               r'\(\s*(?:table_?,\s*)?"(\w+)"', text))
        known = {part for key in KEYS for part in key.split(".")} | OF_THE_FILE
        self.assertEqual(sorted(asked - known), [])
        silent = {key for key in KEYS if f'"{key.split(".")[-1]}"' not in text}
        self.assertEqual(sorted(silent), [])

    def test_nothing_is_read_to_be_thrown_away(self):
        self.assertNotRegex(reader_text(), r"static_cast<void>\(\s*table")
        self.assertNotIn("not used yet", reader_text())

    def test_a_key_that_nobody_uses_would_be_found(self):
        self.assertEqual(len(unused({"stand.colour": ("share/advise.cpp", "colour")})), 1)


if __name__ == "__main__":
    unittest.main()
