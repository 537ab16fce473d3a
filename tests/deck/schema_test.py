#!/usr/bin/env python3
"""The shipped JSON Schema of the deck file: right files pass, wrong files don't.

Checked by an outside program (python3-jsonschema, Draft7Validator). The reader's own test reads the
same every_key.toml, so that reader and schema know the same keys.
"""

import copy
import json
import pathlib
import re
import sys
import tomllib
import unittest

import jsonschema

# outside check: the deck file's schema against every example | JSON Schema, by Debian's
#  python3-jsonschema

SOURCE = pathlib.Path(sys.argv.pop(1)) if len(sys.argv) > 1 else pathlib.Path(__file__).parents[2]
SCHEMA = json.loads((SOURCE / "schema/deck.schema.json").read_text(encoding="utf-8"))
EXAMPLES = sorted((SOURCE / "examples").glob("*.toml"))
EVERY_KEY = SOURCE / "tests/deck/every_key.toml"


def load(path):
    return tomllib.loads(path.read_text(encoding="utf-8"))


def errors(document):
    return [error.message for error in jsonschema.Draft7Validator(SCHEMA).iter_errors(document)]


def unused(schema, documents, path=""):
    """Keys of the schema that none of the documents (tables at this place) uses."""
    missing = []
    for key, below in schema.get("properties", {}).items():
        values = [d[key] for d in documents if isinstance(d, dict) and key in d]
        if not values:
            missing.append(path + key)
            continue
        if below.get("type") == "array" and "properties" in below.get("items", {}):
            below, values = below["items"], [v for value in values for v in value]
        missing += unused(below, values, path + key + ".")
    for below in schema.get("patternProperties", {}).values():
        tables = [v for d in documents for k, v in d.items() if k not in schema["properties"]]
        missing += unused(below, tables, path + "*.")
    return missing


def keys_of(schema):
    """Every key of the schema, at any depth."""
    found = set()
    for key, below in schema.get("properties", {}).items():
        found |= {key} | keys_of(below) | keys_of(below.get("items", {}))
    for below in schema.get("patternProperties", {}).values():
        found |= keys_of(below)
    return found


class Schema(unittest.TestCase):
    def test_is_itself_a_schema(self):
        jsonschema.Draft7Validator.check_schema(SCHEMA)

    def test_accepts_every_example(self):
        self.assertGreaterEqual(len(EXAMPLES), 6)
        for path in EXAMPLES:
            self.assertEqual(errors(load(path)), [], path.name)

    def test_accepts_every_key(self):
        self.assertEqual(errors(load(EVERY_KEY)), [])

    def test_has_no_key_beyond_those_of_the_format(self):
        apart = {
            "share.tolerance",
            "cable.home.area",
            "cable.link.gauge",
            "cable.cell.gauge",
        }
        self.assertEqual(set(unused(SCHEMA, [load(EVERY_KEY)])), apart)

    def test_has_every_key_documented(self):
        text = (SOURCE / "docs/deck-file.md").read_text(encoding="utf-8")
        missing = [k for k in sorted(keys_of(SCHEMA)) if not re.search(rf"[`\[. ]{k}[`\]. ]", text)]
        self.assertEqual(missing, [])

    def test_describes_its_keys(self):
        for key in SCHEMA["properties"]["deck"]["properties"].values():
            self.assertTrue(key["description"])

    def refuse(self, change):
        document = copy.deepcopy(load(EVERY_KEY))
        change(document)
        self.assertNotEqual(errors(document), [])

    def test_refuses_wrong_files(self):
        def put(*path_and_value):
            *path, key, value = path_and_value

            def change(document):
                for step in path:
                    document = document[step]
                document[key] = value

            return change

        def drop(*path):
            def change(document):
                for step in path[:-1]:
                    document = document[step]
                del document[path[-1]]

            return change

        for change in (
            put("format", 2),
            put("colour", "red"),
            put("deck", "rulebook", "R99"),
            put("deck", "class", "V"),
            put("deck", "capacity", "60"),
            put("deck", "capacity", "60 m"),
            put("deck", "capacity", "60 tons"),
            put("deck", "capacity", 60),
            put("module", 0, "length", "7"),
            put("module", 0, "length", "7 kg"),
            put("module", 0, "lenght", "7 m"),
            put("module", 0, "construction", "wood"),
            put("module", 0, "engineering", "bending", "250 kN"),
            put("joint", 0, "kind", "welded"),
            put("joint", 0, "rests", "A over B"),
            put("cell", "output", "2 mV"),
            put("stand", "screws", "4"),
            put("stand", "travel", ["-10 mm"]),
            put("stand", "2X", {}),
            put("stand", "division", "0.125"),
            put("stand", "2L", "cell", "capasity", "1 t"),
            put("share", "tolerance", "1 m"),
            put("cell", "zero", "0.01 mV"),
            put("cell", "class", "C3"),
            put("cell", "y", "12000 kg"),
            put("cell", "y", 0),
            put("stand", "2L", "cell", "z", [4000]),
            put("cell", "certificate", "R 60:2017"),
            put("indicator", "sense", 5),
            put("indicator", "load", ["35 ohm"]),
            put("indicator", "longest_cable", "150 m"),
            put("receptor", "dead_load", "12 m"),
            put("cable", "link", "width", "1 m"),
            put("trim", "range", "10 V"),
            put("trim", "start", "most"),
            put("trim", "clockwise", True),
            put("footprint", 0, "points", 0, ["0 m"]),
            put("footprint", 0, "points", 0, ["0 m", "1 m", "30 kg"]),
            put("instrument", {"later": 1}),
            put("instrument", 0, "link", "telegraph"),
            put("instrument", 0, "port", 0),
            put("instrument", 0, "device", "/dev/ttyUSB0"),
            put("instrument", 0, "every", "0.5"),
            put("instrument", 0, "register", 0, "address", -1),
            put("instrument", 0, "register", 0, "place", "L2"),
            put("instrument", 0, "register", 0, "type", "int64"),
            put("instrument", 0, "register", 0, "scale", 0),
            put("instrument", 1, "unit", 255),
            put("instrument", 2, "register", []),
            drop("instrument", 0, "host"),
            drop("instrument", 0, "register"),
            drop("instrument", 1, "device"),
            put("section", [{"at": "1 m", "across": "2 m"}]),
            drop("deck", "name"),
            drop("module", 0, "mark"),
            drop("section", 0, "at"),
            drop("module"),
        ):
            self.refuse(change)

    def test_refuses_a_deck_without_capacity_or_ranges(self):
        def change(document):
            del document["deck"]["ranges"]
            del document["deck"]["interval"]

        self.refuse(change)


if __name__ == "__main__":
    unittest.main()
