#!/usr/bin/env python3
"""Checks every hash of an export with nothing of the project: hashlib, json, base64.

verify_export.py EXPORT     exit 0: every entry and attachment fits, and every chain hangs together
"""

import base64
import hashlib
import json
import sys

ZEROS = "0" * 64
TAIL = len(',"previous":"","hash":""}') + 128


def check(path):
    entries = {}
    with open(path, "rb") as file:
        lines = file.read().splitlines()
    header = json.loads(lines[0])
    attachments = 0
    for number, line in enumerate(lines[1:], 2):
        record = json.loads(line)
        if "attachment" in record:
            bytes_ = base64.b64decode(record["base64"], validate=True)
            assert hashlib.blake2b(bytes_, digest_size=32).hexdigest() == record["attachment"], number
            attachments += 1
            continue
        content = line[:-TAIL] + b"}"
        assert json.loads(content) == {k: v for k, v in record.items() if k not in ("previous", "hash")}
        message = (b"weighwright journal entry 1\0" + len(content).to_bytes(8, "little") + content
                   + bytes.fromhex(record["previous"]))
        assert hashlib.blake2b(message, digest_size=32).hexdigest() == record["hash"], number
        entries[record["hash"]] = record
    for record in entries.values():
        if record["sequence"] == 1:
            assert record["previous"] == ZEROS
        else:
            before = entries[record["previous"]]
            assert (before["device"], before["sequence"] + 1) == (record["device"], record["sequence"])
    assert header["weighwright_journal"] == 1
    assert (header["entries"], header["attachments"]) == (len(entries), attachments)
    followed = {record["previous"] for record in entries.values()}
    heads = {hash_ for hash_ in entries if hash_ not in followed}
    assert heads == {head["hash"] for head in header["heads"]}
    for head in header["heads"]:
        assert entries[head["hash"]]["sequence"] == head["sequence"]


if __name__ == "__main__":
    check(sys.argv[1])
