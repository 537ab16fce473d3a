"""Nothing that the program is linked with, compiled from, or that is in the page is missing from
THIRD-PARTY.txt, and the program shows that text.
    third_party_test.py PROGRAM SOURCE PAGE_BUILD [test]
PAGE_BUILD is where the page was built (bundled-packages.json); "-": built without it."""

import json
import re
import subprocess
import sys
import unittest
from pathlib import Path

# outside check: licences of everything that is linked, included or bundled | `ldd`, Debian's `dpkg`
#  and the module list of the page's own bundler

PROGRAM, SOURCE, PAGE_BUILD = sys.argv[1], Path(sys.argv[2]), sys.argv[3]
sys.path.insert(0, str(SOURCE / ".ci"))
sys.dont_write_bytecode = True
import third_party  # noqa: E402

TEXT = (SOURCE / "THIRD-PARTY.txt").read_text()
NAMED = set(re.findall(r"^== (\S+) ==", TEXT, re.M))


class ThirdParty(unittest.TestCase):
    def test_names_every_library_that_the_program_is_linked_with(self):
        packages = third_party.linked_packages(PROGRAM)
        self.assertIn("libsodium23", packages, "what ldd says was not understood")
        for source, names in third_party.by_source(packages).items():
            self.assertIn(source, NAMED, f"{names}: .ci/third_party.py writes the text anew")

    def test_names_every_library_that_is_compiled_in_from_its_headers(self):
        packages = third_party.header_packages(SOURCE)
        self.assertIn("libeigen3-dev", packages)
        for source, names in third_party.by_source(packages).items():
            self.assertIn(source, NAMED, names)

    def test_names_every_package_of_which_something_is_in_the_page(self):
        if PAGE_BUILD == "-":
            self.skipTest("built without the page")
        bundled = json.loads((Path(PAGE_BUILD) / "bundled-packages.json").read_text())
        self.assertIn("svelte", bundled)
        for name in bundled:
            self.assertIn(f"npm:{name}", NAMED)

    def test_holds_every_licence_that_it_names_in_full(self):
        for name in third_party.in_full(TEXT):
            self.assertIn(f"licence:{name}", NAMED)
        for words in ("GNU LESSER GENERAL PUBLIC LICENSE", "Mozilla Public License", "Boost Software License",
                      "The above copyright notice and this permission notice shall be included"):
            self.assertIn(words, TEXT)

    def test_is_what_the_program_shows(self):
        shown = subprocess.run([PROGRAM, "--licences"], capture_output=True, check=True)
        self.assertEqual(shown.stdout.decode(), TEXT)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1] + sys.argv[4:])
