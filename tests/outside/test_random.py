"""The random run against a stand-in service that gives packages of hand-made scenes, good and bad."""

import contextlib
import io
import json
import random
import threading
import unittest
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import random_specs
import synth
from requests_by_family import random_request
from service import Service

EXAMPLE = {
    "name": "Bench drawer 5", "space": {"kind": "case", "floor_width_mm": 372, "floor_depth_mm": 262, "rim_width_mm": 389.1,
                                        "rim_depth_mm": 279.1, "rim_height_mm": 98},
    "stocks": [{"id": "A", "material": "birch-ply-3", "readings_mm": [3.08, 3.12], "kerf_mm": 0.18}],
    "things": [{"id": "lube", "count": 4, "shape": {"kind": "bottle", "diameter_mm": 38, "body_mm": 92, "wall_mm": 1.1}, "fill": 0.9}],
    "holders": [{"family": "case-liner", "height_mm": 70, "columns": 3}],
}
ROWS = [{"name": "height_mm", "unit": "mm", "min": 15, "max": 100, "default": 45},
        {"name": "columns", "unit": "count", "min": 1, "max": 9, "default": 4}]
BIRCH = {"id": "birch-ply-4", "thickness_mm": {"nominal": 4.0, "usual": [3.8, 4.2]}, "processes": {"co2": {"permit": "allowed"}}}
FOAM = {"id": "foam-board-5", "thickness_mm": {"nominal": 5.0, "usual": [4.6, 5.2]}, "processes": {"co2": {"permit": "never"}}}
REFUSAL = {"type": "about:blank", "title": "No", "status": 422, "findings": [
    {"code": "web-thin", "verdict": "refuse", "where": "/things/0", "have": {"web_mm": 3}, "need": {"web_mm": 5}, "why": "thin"}]}


class StandIn(BaseHTTPRequestHandler):
    """Answers as `script` says, one entry a request, over and over."""

    script, asked = [], []

    def log_message(self, *args):
        """Says nothing."""

    def do_GET(self):
        family = {"name": "case-liner", "ranges": ROWS, "example": EXAMPLE, "schema": {}}
        value = {"families": [family]} if "families" in self.path else {"materials": [BIRCH, FOAM]}
        self.send(200, "application/json", json.dumps(value).encode())

    def do_POST(self):
        self.asked.append(json.loads(self.rfile.read(int(self.headers["Content-Length"]))))
        self.send(*self.script[(len(self.asked) - 1) % len(self.script)])

    def send(self, status, kind, body):
        """One answer."""
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)


def run(script, n=4):
    """A run against the stand-in: (ok, run, what was printed)."""
    StandIn.script, StandIn.asked = script, []
    server = ThreadingHTTPServer(("127.0.0.1", 0), StandIn)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    out = io.StringIO()
    try:
        with contextlib.redirect_stdout(out):
            a_run = random_specs.Run(Service(f"http://127.0.0.1:{server.server_port}"), n, seed=7, workers=1)
            ok = a_run.go()
            a_run.summary()
    finally:
        server.shutdown()
        server.server_close()
    return ok, a_run, out.getvalue()


GOOD = (200, "application/zip", synth.package(synth.leaning_tab(60)))
NO = (422, "application/problem+json", json.dumps(REFUSAL).encode())


class RandomRun(unittest.TestCase):
    """What the run accepts and what it reports."""

    def test_good_packages_and_refusals_pass(self):
        ok, a_run, said = run([GOOD, NO])
        self.assertTrue(ok, said)
        self.assertEqual(a_run.accepted["case-liner"], 4)
        self.assertEqual(a_run.reasons["web-thin"], 3)

    def test_bad_package_is_reported(self):
        scene = synth.leaning_tab(60)
        scene.plate("D1").origin = (0, 0, 1.0)
        ok, a_run, said = run([GOOD, (200, "application/zip", synth.package(scene))], n=2)
        self.assertFalse(ok)
        self.assertEqual(len(a_run.bad), 1, said)

    def test_bad_answers_are_reported(self):
        mute = json.loads(json.dumps(REFUSAL))
        mute["findings"][0] |= {"have": {}, "need": {}}
        for answer in ((422, "application/problem+json", json.dumps(mute).encode()), (422, "application/json", NO[2]),
                       (500, "text/plain", b"oops"), (422, "application/problem+json", b"[]")):
            with self.subTest(answer[0]):
                self.assertFalse(run([GOOD, answer], n=2)[0])

    def test_starving_is_reported(self):
        ok, _, said = run([NO] * 9 + [GOOD], n=2)
        self.assertFalse(ok)
        self.assertIn("too few accepted", said)

    def test_requests_are_seeded_plausible_and_various(self):
        family = {"name": "case-liner", "ranges": ROWS, "example": EXAMPLE}

        def make(seed):
            return random_request(random.Random(seed), family, [BIRCH, FOAM])

        self.assertEqual(make("a"), make("a"))
        many = [make(i) for i in range(200)]
        self.assertGreater(len({json.dumps(m) for m in many}), 190)
        for m in many:
            self.assertTrue(15 <= m["holders"][0]["height_mm"] <= 100)
            self.assertTrue(1 <= m["holders"][0]["columns"] <= 9)
            self.assertTrue(all(2.5 < r < 4.6 for r in m["stocks"][0]["readings_mm"]))
            rise = (m["space"]["rim_width_mm"] - m["space"]["floor_width_mm"]) / 2 / m["space"]["rim_height_mm"]
            self.assertTrue(-0.001 <= rise <= 0.18)
        self.assertEqual({m["stocks"][0].get("material") for m in many}, {"birch-ply-3", "birch-ply-4"})


if __name__ == "__main__":
    unittest.main()
