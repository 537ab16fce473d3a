#!/usr/bin/env python3
"""`serve` of the built program, asked over the wire as a phone asks it.

Usage: serve_test.py PROGRAM SOURCE_DIR [unittest arguments]

Outside checks: answers are held against schema/page-api.json by python3-jsonschema (JSON Schema
2020-12, as OpenAPI 3.1 uses it); TLS is looked at with the openssl program and Python's ssl; the QR
code is read by zbarimg (package zbar-tools) or compared with what the program qrencode draws; headers
are those of the OWASP Secure Headers Project and of the Fetch standard.
"""

import http.client
import json
import os
import re
import shutil
import signal
import socket
import ssl
import subprocess
import sys
import tempfile
import threading
import time
import unittest
from pathlib import Path

import jsonschema

# outside check: every answer of the page's interface | JSON Schema by `python3-jsonschema`
#  (Debian) against the OpenAPI file that is shipped
# outside check: TLS: version, certificate, fingerprint | `openssl s_client` (Debian)
# outside check: headers, foreign origins, Fetch metadata, DNS rebinding, cookies | Fetch
#  standard; W3C Fetch Metadata; RFC 9110, 7.2; RFC 6265bis, 4.1.3.2; OWASP Secure Headers Project

PROGRAM = Path(sys.argv[1])
SOURCE = Path(sys.argv[2])
DECK = SOURCE / "examples/three-modules.toml"
READINGS = (SOURCE / "examples/three-modules-readings.csv").read_text()
DESCRIPTION = json.loads((SOURCE / "schema/page-api.json").read_text())
NAMED = {"/api/entries", "/api/undo", "/api/practice"}  # POST: what changes something names the journal


class Served:
    """A running server; ends with the block."""

    def __init__(self, folder, *options, rehearse=True):
        self.folder = Path(folder)
        self.job = self.folder / "site.job"
        self.lan = "--lan" in options
        self.environment = dict(os.environ, XDG_DATA_HOME=str(self.folder / "kept"),
                                WEIGHWRIGHT_DEVICE="00000000000000aa", WEIGHWRIGHT_AUTHOR="A. Tester")
        command = [PROGRAM, "serve", self.job, "--port", "0", *options]
        if rehearse:
            command += ["--rehearse", DECK, "--seed", "5"]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                                        env=self.environment)
        self.lines = []
        self.changed = threading.Condition()
        self.reader = threading.Thread(target=self.read_on, daemon=True)
        self.reader.start()
        self.wait_for(r"Ctrl-C ends it")
        self.port = int(re.search(r"https?://[^ ]*:(\d+)/", self.text()).group(1))

    def read_on(self):
        for line in self.process.stdout:
            with self.changed:
                self.lines.append(line)
                self.changed.notify_all()

    def text(self):
        with self.changed:
            return "".join(self.lines)

    def wait_for(self, pattern, count=1):
        """The last of `count` matches; the patience only bounds a failure."""
        end = time.monotonic() + 60
        with self.changed:
            while True:
                found = re.findall(pattern, "".join(self.lines))
                if len(found) >= count:
                    return found[-1]
                if self.process.poll() is not None and not self.reader.is_alive():
                    raise AssertionError("it ended: " + self.process.stderr.read())
                if not self.changed.wait(max(0.0, min(1.0, end - time.monotonic()))) and time.monotonic() > end:
                    raise AssertionError(f"{pattern!r} was not printed:\n" + "".join(self.lines))

    def code(self, number=1):
        return self.wait_for(r"Code: (\S+)", number)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
        try:
            self.process.wait(60)
        finally:
            self.process.kill()
            self.process.wait()
            self.reader.join()
            self.process.stdout.close()
            self.process.stderr.close()

    def phone(self, **options):
        return Phone(self, **options)


class Answer:
    def __init__(self, status, headers, body):
        self.status, self.headers, self.body = status, headers, body

    def json(self):
        return json.loads(self.body)


class Phone:
    """A browser as far as it matters: an address, a user agent, cookies, one connection a request."""

    def __init__(self, served, address="127.0.0.1", agent="A phone's browser"):
        self.served, self.address, self.agent, self.cookie = served, address, agent, None

    def connection(self, timeout=60):
        where = dict(timeout=timeout, source_address=(self.address, 0))
        if not self.served.lan:
            return http.client.HTTPConnection("127.0.0.1", self.served.port, **where)
        # The kept certificate is what is trusted; its names must fit, too.
        context = ssl.create_default_context(cafile=self.served.folder / "kept/weighwright/page-certificate.pem")
        return http.client.HTTPSConnection("127.0.0.1", self.served.port, context=context, **where)

    def ask(self, method, path, body=None, **headers):
        connection = self.connection()
        sent = {"User-Agent": self.agent}
        if body is not None and not isinstance(body, (str, bytes)):
            body = json.dumps(body)
        if method == "POST":
            sent["Content-Type"] = "application/json"
        if self.cookie:
            sent["Cookie"] = self.cookie
        sent.update({name.replace("_", "-"): value for name, value in headers.items()})
        try:
            connection.request(method, path, body, sent)
            got = connection.getresponse()
            answer = Answer(got.status, dict((k.lower(), v) for k, v in got.getheaders()), got.read())
        finally:
            connection.close()
        if "set-cookie" in answer.headers:
            self.cookie = answer.headers["set-cookie"].split(";")[0]
        return answer

    def get(self, path, **headers):
        return self.ask("GET", path, **headers)

    def post(self, path, body, **headers):
        return self.ask("POST", path, body, **headers)

    def events(self, wanted, seconds=30):
        """[(name, data)] of the stream until each name of `wanted` came."""
        connection = self.connection(seconds)
        headers = {"User-Agent": self.agent, "Accept": "text/event-stream"}
        if self.cookie:
            headers["Cookie"] = self.cookie
        connection.request("GET", "/api/events", headers=headers)
        got = connection.getresponse()
        events, name = [], None
        try:
            while got.status == 200 and not wanted <= {event[0] for event in events}:
                line = got.readline().decode().rstrip("\n")
                if line.startswith("event: "):
                    name = line[7:]
                elif line.startswith("data: "):
                    events.append((name, line[6:]))
        finally:
            connection.close()
        return got, events


class ServeTest(unittest.TestCase):
    def setUp(self):
        kept = tempfile.TemporaryDirectory()
        self.addCleanup(kept.cleanup)
        self.folder = Path(kept.name)

    def served(self, *options, **more):
        served = Served(self.folder, *options, **more)
        self.addCleanup(served.__exit__)
        return served

    def fits(self, answer, method, path):
        """The status is described, and the body fits the schema of that status."""
        described = DESCRIPTION["paths"][path][method.lower()]["responses"]
        self.assertIn(str(answer.status), described, f"{method} {path}: {answer.body[:300]}")
        content = described[str(answer.status)].get("content", {})
        kind = answer.headers.get("content-type", "")
        if not content:
            self.assertEqual(answer.body, b"")
            return
        self.assertIn(kind, content)
        if kind != "application/json":
            return
        schema = {"$schema": "https://json-schema.org/draft/2020-12/schema",
                  "components": DESCRIPTION["components"], **content[kind]["schema"]}
        errors = list(jsonschema.Draft202012Validator(schema).iter_errors(answer.json()))
        self.assertEqual([], [f"{list(e.absolute_path)}: {e.message[:200]}" for e in errors], f"{method} {path}")

    def shown(self):
        done = subprocess.run([PROGRAM, "job", "show", self.folder / "site.job", "--json", "--all"],
                              capture_output=True, text=True)
        return json.loads(done.stdout)


class TestDescription(ServeTest):
    """Every path of the description on a practice site, each answer against its schema."""

    def test_is_sound(self):
        jsonschema.Draft202012Validator.check_schema(DESCRIPTION["components"]["schemas"]["Site"])
        for name, schema in DESCRIPTION["components"]["schemas"].items():
            jsonschema.Draft202012Validator.check_schema(schema)
        used = set(re.findall(r'"#/components/schemas/(\w+)"', json.dumps(DESCRIPTION)))
        free = {"Live", "Revision"}  # data of events
        self.assertEqual(used | free, set(DESCRIPTION["components"]["schemas"]))

    def test_is_kept_by_every_answer(self):
        phone = self.served().phone()
        asked = set()

        def ask(method, path, body=None, status=200, **headers):
            if method == "POST" and path in NAMED:
                body = {"journal": journal, **body}
            answer = phone.ask(method, path, body, **headers)
            self.assertEqual(answer.status, status, f"{method} {path} {answer.body[:500]}")
            self.fits(answer, method, path)
            asked.add((method.lower(), path))
            return answer

        self.assertEqual(ask("GET", "/api/openapi.json").json(), DESCRIPTION)
        ask("GET", "/api/session")
        ask("POST", "/api/pair", {"code": "AAAA-AAAA", "name": "R. Example"}, 404)
        ask("POST", "/api/leave", {})
        first = ask("GET", "/api/site")
        journal = first.json()["journal"]
        self.assertEqual(ask("GET", "/api/entries").json()["journal"], journal)
        ask("GET", "/api/site", None, 304, If_None_Match=first.headers["etag"])
        ask("GET", "/api/entries")
        ask("GET", "/api/export")
        ask("GET", "/api/questions")
        answers = ["R76 III", "60 t, 20 kg", "0.3 m, +7 m, +6.4 m, +7 m; across 2.4 m",
                   "A 7 m, B 7 m, C 7 m; A on B, C on B", "cells", "25 t, 2 mV/V", "screws M20", "analog 10 V"]
        ask("POST", "/api/draft", {"name": "Practice bridge", "answers": answers})
        wrong = ask("POST", "/api/draft", {"answers": ["no such rulebook"]}, 400)
        self.assertIn("question", wrong.json())
        practice = ask("POST", "/api/practice", {"lines": ["cells"]}).json()
        ask("POST", "/api/practice", {"lines": ["cells", "no such command"]}, 400)
        table = practice["answers"][0]["table"]
        recorded = ask("POST", "/api/entries", {"token": "token-0001", "ticks": ["locked_out"], "notes": ["a note"],
                                                "author": "T. Brook", "typed_at": "2026-11-25T18:04:11+01:00",
                                                "tables": [{"name": "cells.csv", "text": table}]})
        again = ask("POST", "/api/entries", {"token": "token-0001", "ticks": ["locked_out"], "notes": ["a note"],
                                             "author": "T. Brook", "typed_at": "2026-11-25T18:04:11+01:00",
                                             "tables": [{"name": "cells.csv", "text": table}]})
        self.assertEqual(recorded.json()["site"]["entry_count"], again.json()["site"]["entry_count"])
        self.assertNotEqual(ask("GET", "/api/site").headers["etag"], first.headers["etag"])
        ask("POST", "/api/entries", {"token": "token-0002", "tables": [{"name": "x.csv", "text": "stand,mV\n9Z,1\n"}]},
            400)
        ask("POST", "/api/undo", {"token": "token-0003", "entry": "", "remark": "typed twice"})
        ask("POST", "/api/undo", {"token": "token-0004", "entry": "4711"}, 400)
        for path, body in [("/api/entries", {"token": "token-0007", "notes": ["of another site"]}),
                           ("/api/undo", {"token": "token-0008", "entry": ""}), ("/api/practice", {"lines": ["cells"]})]:
            ask("POST", path, {**body, "journal": "0" * 63 + "1"}, 409)
        ask("GET", "/api/entries")
        ask("GET", "/api/site")
        # A test by the rulebook, and the papers of the site.
        examples = SOURCE / "examples"
        ask("POST", "/api/entries", {"token": "token-0005", "entry": {"kind": "occasion", "fields": {"occasion": "new"}}})
        tables = [{"name": name, "text": (examples / f"three-modules-{name}").read_text()}
                  for name in ("weights.csv", "results.csv")]
        ask("POST", "/api/entries", {"token": "token-0006", "tables": tables})
        test = ask("GET", "/api/site").json()["test"]
        self.assertEqual(test["outcome"], "pass")
        # Build-up and repeats of the example stood at other loads than this plan's, and pass as well.
        self.assertEqual({line["state"] for line in test["lines"]
                          if line["required"] and line["check"] in ("zero", "eccentric")}, {"done"})
        for paper in ("report", "sheet", "plan", "chart", "csv", "rules"):
            ask("GET", "/api/paper/" + paper)
        ask("GET", "/api/paper/dcc", None, 400)
        self.assertEqual(ask("GET", "/api/phones").json(), {"phones": [], "here": True})
        ask("POST", "/api/put_out", {"phone": "1"}, 404)
        ask("POST", "/api/instruments", {})
        stream, events = phone.events({"live", "site"})
        self.assertEqual(stream.getheader("Content-Type"), "text/event-stream")
        asked.add(("get", "/api/events"))
        for name, data in events:
            schema = {"components": DESCRIPTION["components"],
                      "$ref": "#/components/schemas/" + {"live": "Live", "site": "Revision"}[name]}
            jsonschema.Draft202012Validator(schema).validate(json.loads(data))
        self.assertEqual(asked, {(m, p) for p, ms in DESCRIPTION["paths"].items() for m in ms})

    def test_is_kept_by_every_refusal(self):
        phone = self.served().phone()
        posts = [path for path, methods in DESCRIPTION["paths"].items() if "post" in methods]
        for path in posts:
            for body, headers in [("{", {}), ("[]", {}), ('{"odd":1}', {}), (b'{"token":"\xff"}', {}),
                                  ("[" * 100000, {}), ("{}", {"Content_Type": "text/plain"}),
                                  ("{}", {"Origin": "http://foreign.example"}), ("{}", {"Host": "foreign.example"})]:
                if path == "/api/pair" and not headers:
                    continue  # nobody needs a code here
                answer = phone.post(path, body, **headers)
                self.assertGreaterEqual(answer.status, 400, f"{path} {body[:20]}")
                self.fits(answer, "POST", path)
                self.assertTrue(answer.json()["faults"][0]["what"])
        for path in ["/api", "/api/", "/api/nothing", "/api/site/", "/api/../api/site"]:
            self.assertEqual(phone.get(path).status, 404, path)
        before = self.shown()["entry_count"]
        self.assertEqual(phone.get("/api/site").json()["entry_count"], before)


class TestHeaders(ServeTest):
    # OWASP Secure Headers Project, "Response headers" and its "Best practices" (proposed values).
    WANTED = {
        "x-content-type-options": "nosniff",
        "x-frame-options": "DENY",
        "referrer-policy": "no-referrer",
        "cross-origin-opener-policy": "same-origin",
        "cross-origin-embedder-policy": "require-corp",
        "cross-origin-resource-policy": "same-origin",
    }
    # OWASP, "Prevent information disclosure via HTTP headers": these are to be taken away.
    REMOVED = ["server", "x-powered-by", "via", "x-aspnet-version"]

    def test_stand_on_every_answer(self):
        phone = self.served().phone()
        answers = [phone.get("/"), phone.get("/nothing"), phone.get("/api/session"), phone.get("/api/nothing"),
                   phone.post("/api/entries", "{"), phone.ask("DELETE", "/api/site"),
                   phone.get("/api/site", Host="foreign.example"), phone.get("/api/site", Range="bytes=0-1,x")]
        for answer in answers:
            for name, value in self.WANTED.items():
                self.assertEqual(answer.headers.get(name), value, name)
            policy = dict((part.split()[0], part.split()[1:]) for part in
                          answer.headers["content-security-policy"].split(";"))
            self.assertEqual(policy["default-src"], ["'none'"])
            self.assertEqual(policy["script-src"], ["'self'"])
            self.assertEqual(policy["frame-ancestors"], ["'none'"])
            self.assertNotIn("unsafe", answer.headers["content-security-policy"])
            for name in self.REMOVED + ["access-control-allow-origin", "strict-transport-security"]:
                self.assertNotIn(name, answer.headers)
            permissions = answer.headers["permissions-policy"]
            self.assertIn("screen-wake-lock=(self)", permissions)
            for feature in ["camera", "microphone", "geolocation", "usb", "serial"]:
                self.assertIn(feature + "=()", permissions)

    def test_keep_the_api_out_of_caches(self):
        phone = self.served().phone()
        for path in ["/api/session", "/api/site", "/api/entries", "/api/export"]:
            self.assertEqual(phone.get(path).headers["cache-control"], "no-store")


class TestPage(ServeTest):
    def test_comes_from_a_folder(self):
        page = self.folder / "page"
        (page / "assets").mkdir(parents=True)
        (page / "index.html").write_text("<!doctype html><title>t</title>")
        (page / "assets/a.js").write_text("1")
        (self.folder / "secret.txt").write_text("secret")
        phone = self.served("--page", page).phone()
        self.assertEqual(phone.get("/").body, b"<!doctype html><title>t</title>")
        self.assertEqual(phone.get("/assets/a.js").headers["content-type"], "text/javascript; charset=utf-8")
        # OWASP Web Security Testing Guide, directory traversal: plain, encoded, doubly encoded.
        for path in ["/../secret.txt", "/assets/../../secret.txt", "/%2e%2e/secret.txt", "/..%2fsecret.txt",
                     "/%252e%252e/secret.txt", "/..%5csecret.txt", "//secret.txt", "/%2fetc/passwd"]:
            answer = phone.get(path)
            self.assertEqual(answer.status, 404, path)
            self.assertNotIn(b"secret\n", answer.body)

    def test_that_is_built_in(self):
        phone = self.served().phone()
        answer = phone.get("/", Accept_Encoding="gzip")
        if answer.status == 503:
            self.skipTest("built without the page")
        import gzip
        self.assertEqual(answer.headers["content-encoding"], "gzip")
        plain = phone.get("/")
        self.assertNotIn("content-encoding", plain.headers)
        self.assertEqual(gzip.decompress(answer.body), plain.body)
        self.assertEqual(phone.get("/", If_None_Match=plain.headers["etag"]).status, 304)
        names = re.findall(rb'(?:src|href)="[./]*(assets/[^"]+)"', plain.body)
        self.assertTrue(names)
        for name in names:
            asset = phone.get("/" + name.decode())
            self.assertEqual(asset.status, 200, name)
            self.assertIn("immutable", asset.headers["cache-control"])


class TestLan(ServeTest):
    def pair(self, served, phone, number=1):
        answer = phone.post("/api/pair", {"code": served.code(number), "name": "R. Example"})
        self.assertEqual(answer.status, 200, answer.body)
        self.fits(answer, "POST", "/api/pair")
        return answer

    def test_lets_in_by_code(self):
        served = self.served("--lan")
        phone = served.phone()
        self.assertFalse(phone.get("/api/session").json()["let_in"])
        answer = phone.get("/api/site")
        self.assertEqual(answer.status, 401)
        self.fits(answer, "GET", "/api/site")
        wrong = phone.post("/api/pair", {"code": "AAAA-AAAA", "name": "R. Example"})
        self.assertEqual(wrong.status, 403)
        self.fits(wrong, "POST", "/api/pair")
        self.pair(served, phone)
        self.assertEqual(phone.get("/api/site").status, 200)
        second = served.phone(address="127.0.0.2")
        self.assertEqual(second.post("/api/pair", {"code": served.code(1), "name": "R. Example"}).status, 200, "the newest code")
        self.assertEqual(phone.post("/api/leave", {}).status, 200)
        self.assertEqual(phone.get("/api/site").status, 401)
        self.assertEqual(second.get("/api/site").status, 200)

    def test_ends_a_stolen_session(self):
        served = self.served("--lan")
        for number, thief in enumerate([dict(agent="Another browser"), dict(address="127.0.0.3")], 1):
            phone = served.phone()
            self.pair(served, phone, number)
            other = served.phone(**thief)
            other.cookie = phone.cookie
            answer = other.get("/api/export")
            self.assertEqual(answer.status, 401)
            self.assertIn("another address or in another browser", answer.json()["faults"][0]["what"])
            self.assertEqual(phone.get("/api/site").status, 401)

    def test_makes_guessers_wait(self):
        served = self.served("--lan")
        phone = served.phone()
        answers = [phone.post("/api/pair", {"code": "AAAA-AAA" + c, "name": "R. Example"}) for c in "ABCDEFGH"]
        self.assertEqual([a.status for a in answers], [403] * 5 + [429] * 3)
        # RFC 6585, 4 and RFC 9110, 10.2.3.
        self.assertGreaterEqual(int(answers[-1].headers["retry-after"]), 1)

    def test_has_a_code_of_the_alphabet(self):
        served = self.served("--lan")
        self.assertRegex(served.code(), r"^[2-9A-HJ-NP-Z]{4}-[2-9A-HJ-NP-Z]{4}$")

    def test_refuses_other_names_and_pages(self):
        served = self.served("--lan")
        phone = served.phone()
        self.pair(served, phone)
        port = served.port
        self.assertEqual(phone.get("/api/site", Host=f"rebound.example:{port}").status, 403)
        self.assertEqual(phone.get("/api/site", Origin=f"https://rebound.example:{port}").status, 403)
        self.assertEqual(phone.get("/api/site", Origin=f"http://127.0.0.1:{port}").status, 403)
        self.assertEqual(phone.get("/api/site", Origin=f"https://127.0.0.1:{port}").status, 200)
        self.assertEqual(phone.get("/api/site", Sec_Fetch_Site="cross-site").status, 403)

    def test_speaks_tls_with_the_printed_certificate(self):
        served = self.served("--lan")
        printed = "".join(re.findall(r"^  ((?:[0-9A-F]{2}:?){16})$", served.text(), re.M))
        shown = subprocess.run(["openssl", "s_client", "-connect", f"127.0.0.1:{served.port}"], input="",
                               capture_output=True, text=True).stdout
        said = subprocess.run(["openssl", "x509", "-noout", "-text"], input=shown, capture_output=True, text=True).stdout
        key = subprocess.run("openssl x509 -noout -pubkey | openssl pkey -pubin -outform DER | openssl dgst -sha256",
                             shell=True, input=shown, capture_output=True, text=True).stdout
        self.assertEqual(printed.replace(":", "").lower(), key.split()[-1], "the fingerprint is the key's")
        self.assertIn("NIST CURVE: P-256", said)
        self.assertIn("IP Address:127.0.0.1", said)
        dates = subprocess.run(["openssl", "x509", "-noout", "-dates"], input=shown, capture_output=True, text=True).stdout
        begins, ends = [ssl.cert_time_to_seconds(d) for d in re.findall(r"not(?:Before|After)=(.*)", dates)]
        self.assertLessEqual(ends - begins, 398 * 86400, "browsers take none for longer")
        self.assertGreater(ends - time.time(), 300 * 86400)
        self.assertRegex(shown, r"TLSv1\.[23]")
        for old in ["-tls1", "-tls1_1"]:
            # SECLEVEL=0: the openssl program of Debian would not even offer these.
            refused = subprocess.run(["openssl", "s_client", old, "-cipher", "ALL:@SECLEVEL=0", "-connect",
                                      f"127.0.0.1:{served.port}"], input="", capture_output=True, text=True)
            self.assertNotEqual(refused.returncode, 0, old)
        new = subprocess.run(["openssl", "s_client", "-tls1_2", "-connect", f"127.0.0.1:{served.port}"], input="",
                             capture_output=True, text=True)
        self.assertEqual(new.returncode, 0)

    def test_keeps_its_key_to_itself_and_keeps_it(self):
        with Served(self.folder, "--lan") as served:
            first = re.findall(r"^  ((?:[0-9A-F]{2}:?){16})$", served.text(), re.M)
        kept = self.folder / "kept/weighwright"
        for name in ["page-key.pem", "page-certificate.pem"]:
            self.assertEqual((kept / name).stat().st_mode & 0o777, 0o600)
        (kept / "page-key.pem").chmod(0o644)
        with Served(self.folder, "--lan") as served:
            self.assertEqual(re.findall(r"^  ((?:[0-9A-F]{2}:?){16})$", served.text(), re.M), first)
        self.assertEqual((kept / "page-key.pem").stat().st_mode & 0o777, 0o600)

    def test_tells_plain_http_where_to_go(self):
        served = self.served("--lan")
        with socket.create_connection(("127.0.0.1", served.port), 20) as plain:
            plain.sendall(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
            answer = b"".join(iter(lambda: plain.recv(4096), b""))
        self.assertTrue(answer.startswith(b"HTTP/1.1 400 "))
        self.assertIn(b"https://", answer)

    def test_shows_a_code_that_a_camera_reads(self):
        served = self.served("--lan")
        code = served.code()
        link = served.wait_for(r"(https://\S+#code=\w+)")
        self.assertTrue(link.endswith("#code=" + code.replace("-", "")))
        rows = []
        for line in served.text().splitlines():
            if re.fullmatch(r"[ ▀▄█]{20,}", line):
                rows.append([c in "▀█" for c in line])
                rows.append([c in "▄█" for c in line])
        self.assertTrue(rows)
        if shutil.which("zbarimg"):
            scale = 6
            width, height = len(rows[0]) * scale, len(rows) * scale
            pixels = b"".join(bytes(0 if dark else 255 for dark in row for _ in range(scale)) * scale for row in rows)
            image = self.folder / "code.pgm"
            image.write_bytes(b"P5 %d %d 255\n" % (width, height) + pixels)
            read = subprocess.run(["zbarimg", "-q", "--raw", image], capture_output=True, text=True).stdout.strip()
            self.assertEqual(read, link)
        elif shutil.which("qrencode"):
            drawn = subprocess.run(["qrencode", "-8", "-l", "M", "-m", "4", "-t", "ASCII", link],
                                   capture_output=True, text=True).stdout.splitlines()
            theirs = [[c == "#" for c in line[::2]] for line in drawn]
            self.assertEqual(rows[:len(theirs)], theirs)
        else:
            self.skipTest("neither zbarimg nor qrencode is installed")


class TestLasting(ServeTest):
    def test_ends_with_a_signal_and_says_so(self):
        for number in [signal.SIGINT, signal.SIGTERM]:
            with Served(self.folder) as served:
                stream = socket.create_connection(("127.0.0.1", served.port), 20)
                stream.sendall(f"GET /api/events HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n\r\n".encode())
                self.assertTrue(stream.recv(10))
                served.process.send_signal(number)
                self.assertEqual(served.process.wait(30), 0)
                stream.close()
            self.assertIn("Ended.", served.text())

    def test_keeps_what_it_acknowledged_when_it_is_killed(self):
        served = self.served()
        acknowledged, lock = [], threading.Lock()
        journal = served.phone().get("/api/site").json()["journal"]

        def enter(phone, name):
            for number in range(10_000):
                text = f"{name}-{number}"
                try:
                    answer = phone.post("/api/entries", {"journal": journal, "token": "kill-" + text + "-token",
                                                          "notes": [text]})
                except (OSError, http.client.HTTPException):
                    return
                if answer.status == 200:
                    with lock:
                        acknowledged.append(text)

        threads = [threading.Thread(target=enter, args=(served.phone(), f"phone{i}")) for i in range(4)]
        for thread in threads:
            thread.start()
        end = time.monotonic() + 100
        while len(acknowledged) < 20 and time.monotonic() < end:
            time.sleep(0.02)
        served.process.send_signal(signal.SIGKILL)
        for thread in threads:
            thread.join()
        self.assertGreaterEqual(len(acknowledged), 20)
        verified = subprocess.run([PROGRAM, "job", "verify", served.job], capture_output=True, text=True)
        self.assertEqual(verified.returncode, 0, verified.stdout + verified.stderr)
        kept = json.dumps(self.shown())
        self.assertEqual([], [text for text in acknowledged if f"{text}\"" not in kept and f"{text} " not in kept])

    def test_takes_nothing_that_was_typed_for_the_site_served_there_before(self):
        """Both journals are called site.job, both are served from one machine; one is practice, one is real."""
        with Served(self.folder) as practice:
            typed_for = practice.phone().get("/api/site").json()["journal"]
        real = Path(self.folder) / "real"
        real.mkdir()
        subprocess.run([PROGRAM, "job", "new", real / "site.job", DECK], check=True, capture_output=True,
                       env=practice.environment)
        with Served(real, rehearse=False) as served:
            phone = served.phone()
            site = phone.get("/api/site").json()
            self.assertEqual(site["job"], "site.job")
            self.assertNotEqual(site["journal"], typed_for)
            for path, body in [("/api/entries", {"token": "token-0001", "notes": ["of the practice site"]}),
                               ("/api/entries", {"token": "token-0002", "tables": [{"name": "cells.csv", "text": READINGS}]}),
                               ("/api/undo", {"token": "token-0003", "entry": ""})]:
                refused = phone.post(path, {**body, "journal": typed_for})
                self.assertEqual(refused.status, 409, refused.body)
                self.assertIn("nothing was recorded", refused.json()["faults"][0]["what"])
                self.assertEqual(phone.post(path, body).status, 400, "a page of the version before names none")
            self.assertEqual(phone.get("/api/site").json()["revision"], site["revision"])
            answer = phone.post("/api/entries", {"token": "token-0001", "notes": ["of this one"], "journal": site["journal"]})
            self.assertEqual(answer.status, 200, answer.body)

    def test_shows_what_another_program_records(self):
        served = self.served()
        phone = served.phone()
        before = phone.get("/api/site")
        subprocess.run([PROGRAM, "job", "add", served.job, "--note", "from a terminal"], check=True,
                       capture_output=True, env=served.environment)
        after = phone.get("/api/site")
        self.assertNotEqual(before.headers["etag"], after.headers["etag"])
        self.assertEqual(after.json()["entry_count"], before.json()["entry_count"] + 1)


class TestArguments(ServeTest):
    def run_it(self, *arguments):
        done = subprocess.run([PROGRAM, "serve", *arguments], capture_output=True, text=True, timeout=60,
                              env=dict(os.environ, XDG_DATA_HOME=str(self.folder / "kept")))
        return done.returncode, done.stdout, done.stderr

    def test_wants_a_journal(self):
        code, out, err = self.run_it(self.folder / "none.job")
        self.assertEqual((code, out), (2, ""))
        self.assertIn("there is no such journal", err)
        (self.folder / "x.job").write_text("no journal")
        code, _, err = self.run_it(self.folder / "x.job")
        self.assertEqual(code, 2)
        self.assertIn("this is no journal", err)

    def test_wants_a_deck_to_rehearse(self):
        code, _, err = self.run_it(self.folder / "n.job", "--rehearse", self.folder / "none.toml")
        self.assertEqual(code, 2)
        self.assertIn("none.toml", err)
        self.assertFalse((self.folder / "n.job").exists())
        code, _, err = self.run_it(self.folder / "n.job", "--seed", "3")
        self.assertEqual(code, 2)

    def test_wants_a_port_that_is_free(self):
        with socket.socket() as taken:
            taken.bind(("127.0.0.1", 0))
            taken.listen()
            port = taken.getsockname()[1]
            code, out, err = self.run_it(self.folder / "n.job", "--rehearse", DECK, "--port", str(port))
        self.assertEqual((code, out), (3, ""))
        self.assertIn(f"port {port} can't be had", err)
        self.assertEqual(self.run_it(self.folder / "n.job", "--port", "70000")[0], 2)

    def test_wants_a_page_in_the_folder(self):
        code, _, err = self.run_it(self.folder / "n.job", "--rehearse", DECK, "--page", self.folder)
        self.assertEqual(code, 2)
        self.assertIn("index.html", err)

    def test_has_another_name(self):
        done = subprocess.run([PROGRAM, "page", "--help"], capture_output=True, text=True)
        self.assertEqual(done.returncode, 0)
        self.assertIn("--rehearse", done.stdout)


if __name__ == "__main__":
    unittest.main(argv=[sys.argv[0], *sys.argv[3:]])
