#!/usr/bin/env python3
"""Photos lose where they were taken, as another program sees it.

Usage: photo_cli_test.py PROGRAM SOURCE_DIR [unittest arguments]
"""

import base64
import io
import json
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

from PIL import Image

# outside check: photos without position: Exif, XMP, trailers; pixels and time stay | Pillow 9.4 (Debian)

PROGRAM = Path(sys.argv[1]).resolve()
SOURCE = Path(sys.argv[2]).resolve()
kGps = 0x8825
kOrientation = 0x0112
kTime = 0x0132


def picture():
    image = Image.new("RGB", (24, 16))
    image.putdata([((x * 11) % 256, (y * 17) % 256, (x * y) % 256) for y in range(16) for x in range(24)])
    return image


def exif():
    data = Image.Exif()
    data[kOrientation] = 6
    data[kTime] = "2026:11:25 18:04:11"
    data[kGps] = {1: "N", 2: (54.0, 25.0, 12.34), 3: "W", 4: (2.0, 7.0, 45.6), 29: "2026:11:25"}
    return data


def saved(kind, **more):
    to = io.BytesIO()
    picture().save(to, kind, exif=exif(), **more)
    return to.getvalue()


class TestPhotos(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = Path(folder.name)
        self.run_program("job", "new", "site.job", str(SOURCE / "examples/three-modules.toml"))

    def run_program(self, *arguments, code=0):
        done = subprocess.run([PROGRAM, *arguments], cwd=self.folder, capture_output=True, text=True,
                              env={"XDG_DATA_HOME": str(self.folder / "data"), "PATH": "/usr/bin:/bin",
                                   "WEIGHWRIGHT_AUTHOR": "A. Tester"})
        self.assertEqual(done.returncode, code, done.stdout + done.stderr)
        return done.stdout + done.stderr

    def kept(self, name, photo, *options):
        (self.folder / name).write_bytes(photo)
        said = self.run_program("job", "add", "site.job", name, *options)
        export = self.folder / "export.jsonl"
        export.unlink(missing_ok=True)
        self.run_program("job", "export", "site.job", "export.jsonl")
        found = [json.loads(line) for line in export.read_text().splitlines()]
        bytes_of = [base64.b64decode(one["base64"]) for one in found if "base64" in one]
        self.assertTrue(bytes_of, "an attachment is in the export")
        return bytes_of[-1], said

    def check(self, kept, original):
        image = Image.open(io.BytesIO(kept))
        self.assertEqual(dict(image.getexif().get_ifd(kGps)), {}, "no position is left")
        before = Image.open(io.BytesIO(original))
        self.assertEqual(list(image.convert("RGB").getdata()), list(before.convert("RGB").getdata()))
        return image

    def test_jpeg_loses_its_position_and_nothing_else(self):
        photo = saved("JPEG", quality=95)
        self.assertTrue(Image.open(io.BytesIO(photo)).getexif().get_ifd(kGps), "there is one to lose")
        kept, said = self.kept("pit.jpg", photo)
        image = self.check(kept, photo)
        self.assertEqual(image.getexif()[kTime], "2026:11:25 18:04:11")
        self.assertEqual(image.getexif()[kOrientation], 6)
        self.assertIn("taken out", said)

    def test_jpeg_loses_packets_and_trailers_that_repeat_it(self):
        photo = saved("JPEG", quality=95)
        xmp = b"http://ns.adobe.com/xap/1.0/\x00<x exif:GPSLatitude='54,25.2N'/>"
        packet = b"\xff\xe1" + (len(xmp) + 2).to_bytes(2, "big") + xmp
        spiked = photo[:2] + packet + photo[2:] + b"film with its own place: 54.42 N"
        kept, _ = self.kept("pit.jpg", spiked)
        self.check(kept, photo)
        self.assertNotIn(b"GPSLatitude", kept)
        self.assertNotIn(b"54.42", kept)

    def test_progressive_jpeg(self):
        photo = saved("JPEG", quality=95, progressive=True)
        kept, _ = self.kept("pit.jpg", photo)
        self.check(kept, photo)

    def test_png_and_webp(self):
        for kind, name in [("PNG", "pit.png"), ("WEBP", "pit.webp")]:
            photo = saved(kind, **({"lossless": True} if kind == "WEBP" else {}))
            kept, _ = self.kept(name, photo)
            self.check(kept, photo)

    def test_kept_on_purpose(self):
        photo = saved("JPEG", quality=95)
        kept, _ = self.kept("pit.jpg", photo, "--keep-position")
        self.assertEqual(kept, photo)

    def test_without_position_stays_byte_for_byte(self):
        to = io.BytesIO()
        picture().save(to, "JPEG")
        kept, said = self.kept("pit.jpg", to.getvalue())
        self.assertEqual(kept, to.getvalue())
        self.assertNotIn("taken out", said)

    def test_a_kind_that_it_can_not_be_taken_out_of_is_refused_with_the_remedy(self):
        (self.folder / "pit.heic").write_bytes(b"\x00\x00\x00\x18ftypheic" + bytes(64))
        said = self.run_program("job", "add", "site.job", "pit.heic", code=2)
        self.assertIn("pit.heic", said)
        self.assertIn("--keep-position", said)
        self.run_program("job", "add", "site.job", "pit.heic", "--keep-position")

    def test_every_byte_cut_off_or_changed_is_survived(self):
        photo = saved("JPEG", quality=40)
        for cut in range(2, min(len(photo), 400), 23):
            (self.folder / "pit.jpg").write_bytes(photo[:cut])
            done = subprocess.run([PROGRAM, "job", "add", "site.job", "pit.jpg"], cwd=self.folder, capture_output=True,
                                  env={"XDG_DATA_HOME": str(self.folder / "data"), "PATH": "/usr/bin:/bin"})
            self.assertIn(done.returncode, (0, 2), done.stderr)


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
