#!/usr/bin/env python3
"""Checks every hash and signature of an export with nothing of the project: hashlib, json, base64 of
Python, and OpenSSL 3 for Ed25519.

verify_export.py EXPORT     exit 0: every entry and attachment fits, and every chain hangs together
"""

import base64
import hashlib
import json
import subprocess
import sys
import tempfile
from pathlib import Path

ZEROS = "0" * 64
TAIL = len(',"previous":"","hash":""}') + 128
SIGNATURE = len(',"signature":""') + 128
# SubjectPublicKeyInfo of an Ed25519 key up to the key itself (RFC 8410, sections 3 and 4).
KEY_BEGINS = bytes.fromhex("302a300506032b6570032100")


def check_signature(record):
    message = b"weighwright entry signature 1\0" + bytes.fromhex(record["hash"])
    with tempfile.TemporaryDirectory() as folder:
        parts = {"key": KEY_BEGINS + bytes.fromhex(record["key"]), "message": message,
                 "signature": bytes.fromhex(record["signature"])}
        for name, bytes_ in parts.items():
            Path(folder, name).write_bytes(bytes_)
        subprocess.run(["openssl", "pkeyutl", "-verify", "-pubin", "-keyform", "DER", "-inkey", "key",
                        "-rawin", "-in", "message", "-sigfile", "signature"],
                       cwd=folder, check=True, capture_output=True)


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
        content = line[:-TAIL - (SIGNATURE if "signature" in record else 0)] + b"}"
        outside = ("previous", "hash", "signature")
        assert json.loads(content) == {k: v for k, v in record.items() if k not in outside}
        message = (b"weighwright journal entry 1\0" + len(content).to_bytes(8, "little") + content
                   + bytes.fromhex(record["previous"]))
        assert hashlib.blake2b(message, digest_size=32).hexdigest() == record["hash"], number
        assert (record["format"] == 2) == ("key" in record) == ("signature" in record), number
        if record["format"] == 2:
            check_signature(record)
        entries[record["hash"]] = record
    for record in entries.values():
        if record["sequence"] == 1:
            assert record["previous"] == ZEROS
        else:
            before = entries[record["previous"]]
            assert (before["device"], before["sequence"] + 1) == (record["device"], record["sequence"])
            # The first signed entry of a chain fixes its key.
            assert before.get("key", record.get("key")) == record.get("key")
    assert header["weighwright_journal"] == (2 if any("key" in one for one in entries.values()) else 1)
    assert (header["entries"], header["attachments"]) == (len(entries), attachments)
    followed = {record["previous"] for record in entries.values()}
    heads = {hash_ for hash_ in entries if hash_ not in followed}
    assert heads == {head["hash"] for head in header["heads"]}
    for head in header["heads"]:
        assert entries[head["hash"]]["sequence"] == head["sequence"]


if __name__ == "__main__":
    check(sys.argv[1])
