#!/usr/bin/env python3
"""Who wrote it, as a user sees it: keys, forged and foreign chains, papers, the program's own name.

Usage: signed_cli_test.py PROGRAM SOURCE_DIR [unittest arguments]

Outside checks: signatures are verified with OpenSSL (Ed25519 of RFC 8032, an implementation of its
own), hashes of papers with Python's hashlib, the build's name with binutils' readelf.
"""

import hashlib
import json
import os
import shutil
import sqlite3
import stat
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import cli_test
from job_cli_test import JobCliTest, TRUCK, run

# outside check: signatures of an export, hash of a paper, name of the build | OpenSSL, Python's hashlib,
#  binutils' readelf

OLD = Path("tests/journal/old")


class Signed(JobCliTest):
    def setUp(self):
        self.homes = Path(self.enterContext(tempfile.TemporaryDirectory()))
        self.addCleanup(os.environ.pop, "XDG_DATA_HOME", None)
        self.on_machine("own")
        super().setUp()

    def on_machine(self, name):
        """Another machine: a data folder, and so a key, of its own."""
        os.environ["XDG_DATA_HOME"] = str(self.homes / name)

    def key_file(self):
        return Path(os.environ["XDG_DATA_HOME"]) / "weighwright/key"

    def exported(self, name="site.jsonl"):
        path = self.folder / name
        path.unlink(missing_ok=True)
        self.ok("job", "export", self.job, path)
        return path

    def test_key_is_made_once_for_its_owner_alone_and_outside_the_journal(self):
        kept = self.key_file().read_text().strip()
        self.assertRegex(kept, "^[0-9a-f]{64}$")
        self.assertEqual(stat.S_IMODE(self.key_file().stat().st_mode), 0o600)
        self.ok("job", "add", self.job, "--note", "one")
        self.assertEqual(self.key_file().read_text().strip(), kept)
        self.assertNotIn(bytes.fromhex(kept), self.job.read_bytes())
        self.assertNotIn(kept.encode(), self.job.read_bytes())
        self.key_file().chmod(0o644)
        result = run("job", "add", self.job, "--note", "two")
        self.assertEqual(result.returncode, 3)
        self.assertIn("others", result.stderr)

    def test_export_is_verified_with_openssl(self):
        self.ok("job", "add", self.job, "--note", "one", "--note", "two")
        script = cli_test.SOURCE / "tests/journal/verify_export.py"
        subprocess.run([sys.executable, "-B", script, self.exported()], check=True)

    def test_program_is_named_once_a_build_and_takes_no_number(self):
        self.ok("job", "add", self.job, "--note", "one")
        self.ok("job", "add", self.job, "--note", "two")
        shown = self.show()
        self.assertEqual([entry["entry"] for entry in shown["entries"]], [1, 2, 3, 4])
        self.assertEqual([one["kind"] for one in shown["of_record"]], ["program"])
        fields = shown["of_record"][0]["fields"]
        version = run("--version").stdout.strip()
        self.assertEqual(version, "weighwright " + fields["version"])
        notes = subprocess.run(["readelf", "-n", cli_test.PROGRAM], capture_output=True, text=True).stdout
        self.assertIn(fields["build"], notes)
        self.assertEqual(run("job", "add", self.job, "--entry", "program", "version=9", "build=9").returncode, 2)

    def test_forged_entry_in_an_export_is_refused_by_its_line(self):
        self.ok("job", "add", self.job, "--note", "zero drifts")
        lines = self.exported().read_text().splitlines()
        line = json.loads(lines[-1])
        # Somebody without the key changes what was said, with a hash that fits.
        content = lines[-1][: lines[-1].rindex(',"previous":"')].replace("drifts", "stands") + "}"
        data = (b"weighwright journal entry 1\0" + len(content.encode()).to_bytes(8, "little")
                + content.encode() + bytes.fromhex(line["previous"]))
        new = hashlib.blake2b(data, digest_size=32).hexdigest()
        lines[-1] = (content[:-1] + f',"previous":"{line["previous"]}","hash":"{new}",'
                     f'"signature":"{line["signature"]}"}}')
        lines[0] = lines[0].replace(line["hash"], new)
        wrong = self.file("wrong.jsonl", "\n".join(lines) + "\n")
        for verb in ["import", "merge"]:
            target = self.folder / "new.job" if verb == "import" else self.job
            result = run("job", verb, target, wrong)
            self.assertEqual(result.returncode, 2, result.stdout)
            self.assertIn(f"wrong.jsonl:{len(lines)}", result.stderr)
            self.assertIn("forged", result.stderr)

    def test_merge_says_whose_chains_it_holds_and_which_are_known(self):
        copy = self.folder / "copy.job"
        self.ok("job", "backup", self.job, copy)
        self.on_machine("other")
        self.as_device(TRUCK)
        os.environ["WEIGHWRIGHT_AUTHOR"] = "B. Other"
        self.ok("job", "add", copy, "--note", "in the truck")
        self.on_machine("own")
        self.as_device("00000000000000aa")
        chains = {one["device"]: one for one in self.json_of("job", "merge", self.job, copy)["chains"]}
        self.assertEqual(chains[TRUCK]["known"], "unknown")
        self.assertEqual(chains[TRUCK]["authors"], ["B. Other"])
        self.assertEqual(chains["00000000000000aa"]["known"], "own")
        self.assertNotEqual(chains[TRUCK]["key"], chains["00000000000000aa"]["key"])
        text = self.ok("job", "merge", self.job, copy)
        self.assertIn("B. Other", text)
        self.assertIn("known on this machine", text)
        self.assertNotIn("NOT known", text)

    def test_entry_under_this_machines_number_without_its_key_is_refused(self):
        copy = self.folder / "copy.job"
        self.ok("job", "backup", self.job, copy)
        self.on_machine("forger")
        self.as_device("00000000000000cc")
        self.ok("job", "add", copy, "--note", "in the name of cc")
        self.on_machine("own")
        result = run("job", "merge", self.job, copy)
        self.assertEqual(result.returncode, 2)
        self.assertIn("00000000-1", result.stderr)
        self.assertIn("forged", result.stderr)

    def test_backup_restored_on_its_own_machine_is_told_and_goes_on_as_a_new_device(self):
        copy = self.folder / "copy.job"
        self.ok("job", "backup", self.job, copy)
        self.ok("job", "add", self.job, "--note", "after the backup")
        text = self.ok("job", "merge", copy, self.job)
        self.assertIn("second copy", text)
        self.ok("job", "add", copy, "--note", "goes on")
        shown = self.show(copy)
        self.assertEqual(shown["entries"][-1]["kind"], "note")
        self.assertNotEqual(shown["entries"][-1]["name"].split("-")[0], "00000000")
        self.assertIn("chain_closed", [one["kind"] for one in shown["of_record"]])
        self.assertIn("WHOLE", self.ok("job", "verify", copy))

    def test_journal_from_before_signatures_opens_and_says_that_it_is_unsigned(self):
        old = self.folder / "old.job"
        shutil.copy(cli_test.SOURCE / OLD / "version_1.job", old)
        verified = self.json_of("job", "verify", old)
        self.assertTrue(verified["whole"])
        self.assertTrue(all(chain["signed_entries"] == 0 for chain in verified["chains"]))
        self.assertIn("not signed", self.ok("job", "verify", old))
        self.assertIn("not signed", self.ok("job", "show", old))
        self.assertEqual(old.read_bytes(), (cli_test.SOURCE / OLD / "version_1.job").read_bytes())
        self.ok("job", "add", old, "--note", "goes on")
        self.assertIn("WHOLE", self.ok("job", "verify", old))

    def test_damaged_end_of_the_log_is_broken_and_nothing_is_written_over_it(self):
        # A log as a killed program leaves it: SQLite itself keeps one open meanwhile.
        reader = sqlite3.connect(self.job)
        reader.execute("begin")
        reader.execute("select count(*) from entries").fetchone()
        self.ok("job", "add", self.job, "--note", "before")
        self.ok("job", "add", self.job, "--note", "acknowledged")
        site = self.folder / "copied.job"
        shutil.copy(self.job, site)
        log = bytearray(Path(f"{self.job}-wal").read_bytes())
        reader.close()
        log[-4096 - 20] ^= 1  # in the last frame's header
        wal = Path(f"{site}-wal")
        wal.write_bytes(log)
        text = self.ok("job", "verify", site, code=1)
        self.assertIn("BROKEN", text)
        self.assertIn("rescue", text)
        result = run("job", "add", site, "--note", "after")
        self.assertEqual(result.returncode, 2)
        self.assertIn("rescue", result.stderr)
        self.assertEqual(wal.read_bytes(), bytes(log))
        new = self.folder / "new.job"
        self.ok("job", "rescue", site, new)
        self.assertIn("acknowledged", self.ok("job", "show", new))
        self.ok("job", "add", new, "--note", "after")


if __name__ == "__main__":
    cli_test.PROGRAM, cli_test.SOURCE = sys.argv[1], Path(sys.argv[2])
    cli_test.DATA, cli_test.EXAMPLES = cli_test.SOURCE / "tests/cli/data", cli_test.SOURCE / "examples"
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
