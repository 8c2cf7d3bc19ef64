"""The judge judged: clean scenes pass, and each spoiled one is found, by name and by how much."""

import json
import math
import unittest

import numpy as np

import synth
from contour import Contour
from judge import judge_bytes
from read import check_finding
from faults import Verdict

CLEAN = {
    "square corner": lambda: synth.corner(),
    "mallet corner": lambda: synth.corner(fit=-0.05),
    "two thicknesses": lambda: synth.corner(90, 3.1, 6.2, kerf=0.28),
    "acute corner": lambda: synth.corner(80, 3.1, 4.0),
    "obtuse corner": lambda: synth.corner(100, 3.1, 4.0),
    "sloping corner": lambda: synth.corner(91.73, 3.1, 3.1),
    "no kerf": lambda: synth.corner(kerf=0.0),
    "square tab": lambda: synth.leaning_tab(89.999),
    "leaning tab 60": lambda: synth.leaning_tab(60),
    "leaning tab 45": lambda: synth.leaning_tab(45, 3.0, 3.0),
    "square lap": lambda: synth.lap(),
    "oblique lap": lambda: synth.lap(70),
    "squeezed lap": lambda: synth.lap(110, fit=-0.04),
    "hook": lambda: synth.hook(),
    "grid of twelve dividers": lambda: synth.grid(),
    "deck with things": lambda: synth.deck(),
}


def faults_of(scene, files=None):
    """The verdict on a scene."""
    return judge_bytes("scene", synth.zip_bytes(files) if files else synth.package(scene))


def checks(verdict):
    """The kinds of faults that were found."""
    return {f.check for f in verdict.faults}


class Clean(unittest.TestCase):
    """No false alarm."""

    def test_clean_scenes_pass(self):
        for name, make in CLEAN.items():
            with self.subTest(name):
                verdict = faults_of(make())
                self.assertEqual([f.line() for f in verdict.faults], [])
                self.assertLess(verdict.worst.get("fit error mm", 0.0), 0.002)

    def test_everything_was_tried(self):
        verdict = faults_of(synth.leaning_tab(60))
        self.assertEqual(verdict.counts["tabs"], 2)
        self.assertEqual(verdict.counts["slots"], 2)
        self.assertEqual(faults_of(synth.corner()).counts["fingers"], 5)
        self.assertEqual(faults_of(synth.deck()).counts["things"], 2)

    def test_fillets_are_counted_not_blamed(self):
        verdict = faults_of(synth.corner(fit=0.0, kerf=0.3))
        self.assertEqual(verdict.faults, [])
        self.assertGreater(verdict.counts["fillet overlaps"], 0)
        self.assertLessEqual(verdict.worst["fillet mm"], 0.15 + 1e-6)

    def test_open_wedge_of_a_leaning_shoulder(self):
        # open wedge t*cot(phi) along the plate, whose height square to the host is t*cos(phi): trade practice
        verdict = faults_of(synth.leaning_tab(60, t=3.1))
        self.assertAlmostEqual(verdict.worst["open wedge mm"], 3.1 / math.tan(math.radians(60)), places=3)


class Spoiled(unittest.TestCase):
    """Each fault is found."""

    def blame(self, scene, check, *names, least=None, files=None):
        """The fault of this check names these parts or joints; `least` is the least it must say."""
        verdict = faults_of(scene, files)
        hits = [f for f in verdict.faults if f.check == check]
        self.assertTrue(hits, f"no {check} among {[f.line() for f in verdict.faults]}")
        for name in names:
            self.assertTrue(any(name in f.where for f in hits), f"{name} not named: {[f.line() for f in hits]}")
        if least is not None:
            self.assertGreaterEqual(max(abs(f.have) for f in hits), least)
        return verdict

    def test_slot_narrowed(self):
        scene = synth.leaning_tab(60)
        slot = scene.plate("H").holes[1]
        scene.plate("H").holes[1] = [(x, y + 0.3 if y < 0 else y) for x, y in slot]
        verdict = self.blame(scene, "fit", "J1", "D1", "H", least=0.19)
        self.assertIn("overlap", checks(verdict))

    def test_slot_widened(self):
        scene = synth.leaning_tab(60)
        slot = scene.plate("H").holes[0]
        scene.plate("H").holes[0] = [(x, y - 0.05 if y < 0 else y) for x, y in slot]
        self.blame(scene, "fit", "J1", least=0.149)

    def test_slot_moved_across(self):
        scene = synth.leaning_tab(60)
        scene.plate("H").holes[0] = [(x, y + 0.2) for x, y in scene.plate("H").holes[0]]
        self.blame(scene, "overlap", "D1", "H", "J1", least=0.1)

    def test_slot_moved_along(self):
        scene = synth.leaning_tab(60)
        scene.plate("H").holes[0] = [(x + 0.5, y) for x, y in scene.plate("H").holes[0]]
        self.blame(scene, "overlap", "D1", "H", least=0.39)

    def test_slot_too_long(self):
        scene = synth.leaning_tab(60)
        scene.plate("H").holes[0] = [(x + (0.1 if x > 25 else 0), y) for x, y in scene.plate("H").holes[0]]
        self.blame(scene, "play", "J1", least=0.29)

    def test_hook_closed_at_the_top(self):
        scene = synth.hook()
        wall = scene.plate("H")
        half = (3.1 + 0.08) / 2
        wall.outer = [(-50, 0), (50, 0), (50, 45), (-50, 45)]
        wall.holes = [[(-half, 20), (half, 20), (half, 40.2), (-half, 40.2)]]
        self.blame(scene, "hook-open", "J1")

    def test_hook_that_hangs_in_the_air(self):
        self.blame(synth.hook(seat=1.5), "hook seat", "J1", least=1.49)

    def test_hook_slot_too_wide(self):
        scene = synth.hook()
        scene.plate("H").outer[3] = (1.69, 40)
        scene.plate("H").outer[4] = (1.69, 20)
        self.blame(scene, "fit", "J1", least=0.1)

    def test_tab_lengthened(self):
        scene = synth.leaning_tab(60)
        scene.plate("D1").outer = [(x, y - 0.5 if y == 0 and x > 50 else y) for x, y in scene.plate("D1").outer]
        self.blame(scene, "tab-proud", "J1", "D1", least=0.4)

    def test_tab_shortened(self):
        scene = synth.leaning_tab(90 - 1e-3)
        scene.plate("D1").outer = [(x, 1.0 if y == 0 else y) for x, y in scene.plate("D1").outer]
        self.blame(scene, "tab-short", "J1", least=0.99)

    def test_tab_cut_off_leaves_an_empty_slot(self):
        scene = synth.leaning_tab(60)
        outer = scene.plate("D1").outer
        scene.plate("D1").outer = [p for i, p in enumerate(outer) if i not in (1, 2, 3, 4)]
        self.blame(scene, "empty-slot", "H", "J1")

    def test_placement_shifted(self):
        scene = synth.leaning_tab(60)
        scene.plate("D1").origin = (0, 0, 0.5)
        verdict = faults_of(scene)
        self.assertTrue(checks(verdict) & {"contact-gap", "tab-short", "overlap"})

    def test_placement_turned(self):
        for make, code in ((synth.corner, "B"), (lambda: synth.leaning_tab(60), "D1"), (synth.lap, "V2")):
            scene = make()
            plate = scene.plate(code)
            plate.x_axis, plate.y_axis = plate.y_axis, tuple(-v for v in plate.x_axis)
            self.assertTrue(checks(faults_of(scene)) & {"overlap", "joint-empty", "lap-empty", "empty-slot"})

    def test_placement_tilted_a_little(self):
        scene = synth.leaning_tab(60)
        c, s = math.cos(math.radians(61)), math.sin(math.radians(61))
        scene.plate("D1").y_axis = (0, c, s)
        self.assertFalse(faults_of(scene).ok)

    def test_placement_mirrored(self):
        files = synth.package_files(synth.corner())
        assembly = json.loads(files["assembly.json"])
        assembly["parts"][0]["placement"][0] = -1.0
        files["assembly.json"] = json.dumps(assembly).encode()
        self.blame(None, "placement", "A", files=files)

    def test_finger_flank(self):
        scene = synth.corner()
        scene.plate("A").outer = [(x, y + 0.1 if abs(y - 12) < 0.1 else y) for x, y in scene.plate("A").outer]
        self.blame(scene, "flank", "J1", least=0.079)

    def test_finger_too_short_and_corner_hole(self):
        scene = synth.corner()
        near = max(x for x, _ in scene.plate("A").outer[2:])
        scene.plate("A").outer = [(x + 0.2 if x == near else x, y) for x, y in scene.plate("A").outer]
        self.blame(scene, "contact-gap", "J1", least=0.19)
        scene = synth.corner()
        scene.plate("A").outer = [(near if 23 < y < 37 and x < near else x, y) for x, y in scene.plate("A").outer]
        self.blame(scene, "corner-hole", "J1", least=11.0)
        # the same hole with a third part in it is none
        block = [(0.01, 0.01), (3.09, 0.01), (3.09, 3.09), (0.01, 3.09)]
        scene.plates.append(synth.Plate("C", 11.9, block, origin=(0, 0, 24.05), kerf=0.2))
        self.assertNotIn("corner-hole", checks(faults_of(scene)))

    def test_one_slot_of_seventy_two_is_named(self):
        scene = synth.grid()
        outer = scene.plate("Y4").outer
        scene.plate("Y4").outer = [(x - 0.3, y) if abs(x - (90 + 1.59)) < 0.01 else (x, y) for x, y in outer]
        verdict = self.blame(scene, "fit", "J3-4", "X3", "Y4", least=0.21)
        self.assertTrue(all("J3-4" in f.where for f in verdict.faults), [f.line() for f in verdict.faults])

    def test_lap_slot_and_missing_lap(self):
        scene = synth.lap()
        scene.plate("V1").outer = [(x + 0.1 if 0 < x < 10 else x, y) for x, y in scene.plate("V1").outer]
        self.blame(scene, "fit", "J1", "V1", least=0.1)
        scene = synth.lap()
        scene.plate("V1").outer = [(-50, 0), (50, 0), (50, 40), (-50, 40)]
        self.blame(scene, "overlap", "V1", "V2", least=3.0)

    def test_wrong_kerf_is_seen(self):
        files = synth.package_files(synth.leaning_tab(60))
        assembly = json.loads(files["assembly.json"])
        assembly["parts"][1]["kerf_mm"] = 0.3
        files["assembly.json"] = json.dumps(assembly).encode()
        self.blame(None, "fit", "J1", files=files)

    def test_wrong_thickness_is_seen(self):
        files = synth.package_files(synth.leaning_tab(60))
        assembly = json.loads(files["assembly.json"])
        assembly["parts"][0]["thickness_mm"] = 3.25
        files["assembly.json"] = json.dumps(assembly).encode()
        self.blame(None, "fit", "J1", files=files, least=0.0)

    def test_thing_cuts_the_deck(self):
        scene = synth.deck()
        scene.things[0]["placement"][3] += 1.0
        self.blame(scene, "thing-overlap", "lube", "K", least=0.4)
        scene = synth.deck()
        scene.things[1]["placement"][3] -= 10.0
        self.blame(scene, "thing-overlap", "lube", "block")

    def test_part_in_two_pieces(self):
        scene = synth.leaning_tab(60, kerf=0.2)
        scene.plate("H").holes.append([(50, -29.9), (51, -29.9), (51, 59.9), (50, 59.9)])
        # two webs of a tenth, drawn 0.3 wide, burnt away by a kerf of 0.4
        files = synth.package_files(scene)
        assembly = json.loads(files["assembly.json"])
        assembly["parts"][1]["kerf_mm"] = 0.5
        files["assembly.json"] = json.dumps(assembly).encode()
        self.blame(None, "pieces", "H", files=files)

    def test_loose_contact(self):
        scene = synth.corner()
        scene.joints = [synth.joint("R1", "rest", "A", "B", 0.0)]
        self.assertNotIn("rest-gap", checks(faults_of(scene)))
        scene.plate("B").origin = (0, 0, 200.0)
        self.blame(scene, "rest-gap", "R1", least=0.1)


class Files(unittest.TestCase):
    """Faults of the files themselves."""

    def spoiled(self, change, scene=None):
        """The kinds of faults after a change to the package's files."""
        files = synth.package_files(scene or synth.leaning_tab(60))
        change(files)
        return checks(judge_bytes("scene", synth.zip_bytes(files)))

    def layers(self):
        """Part H as layers, to be written again with a fault."""
        return synth.leaning_tab(60).plate("H").drawn()

    def test_missing_extra_and_unsafe_files(self):
        self.assertIn("missing-file", self.spoiled(lambda f: f.pop("cautions.txt")))
        self.assertIn("missing-file", self.spoiled(lambda f: f.pop("parts/H.dxf")))
        self.assertIn("extra-file", self.spoiled(lambda f: f.update({"parts/Z.dxf": f["parts/H.dxf"]})))
        self.assertIn("unsafe-name", self.spoiled(lambda f: f.update({"../x": b""})))
        self.assertIn("json", self.spoiled(lambda f: f.update({"report.json": b"{"})))
        self.assertIn("json", self.spoiled(lambda f: f.update({"report.json": b'{"a": NaN}'})))
        self.assertEqual(checks(judge_bytes("x", b"PK no zip")), {"zip"})

    def test_contour_faults(self):
        def doubled(files):
            files["parts/H.dxf"] = synth.dxf_bytes(self.layers() + [self.layers()[0]])

        def zero_edge(files):
            layer, rows = self.layers()[-1]
            files["parts/H.dxf"] = synth.dxf_bytes(self.layers()[:-1] + [(layer, [rows[0], *rows])])

        def crossing(files):
            layer, rows = self.layers()[-1]
            rows[1], rows[2] = rows[2], rows[1]
            files["parts/H.dxf"] = synth.dxf_bytes(self.layers()[:-1] + [(layer, rows)])

        def late(files):
            files["parts/H.dxf"] = synth.dxf_bytes(self.layers()[::-1])

        def stranger(files):
            files["parts/H.dxf"] = synth.dxf_bytes([*self.layers(), ("engrave", [(0, 0, 0), (1, 0, 0), (1, 1, 0)])])

        for change, want in ((doubled, "doubled-edge"), (zero_edge, "zero-edge"), (crossing, "crossing-contour"),
                             (late, "cut-order"), (stranger, "layer")):
            with self.subTest(want):
                self.assertIn(want, self.spoiled(change))

    def test_sheet_faults(self):
        scene = synth.leaning_tab(60)
        sheet, width, height = synth.nest_rows(scene.plates)

        def put(files, layers):
            files["sheets/01-birch-ply-3.dxf"] = synth.dxf_bytes(layers)
            files["sheets/01-birch-ply-3.svg"] = synth.svg_bytes(layers, width, height)

        mirror = [(k, [(-x + width, y, -g) for x, y, g in rows]) for k, rows in sheet]
        # D1's own tabs are unequal, so a mirrored D1 is no turned one
        self.assertIn("sheet-mirrored", self.spoiled(lambda f: put(f, mirror)))
        self.assertIn("sheet-missing", self.spoiled(lambda f: put(f, sheet[1:])))
        self.assertIn("sheet-extra", self.spoiled(lambda f: put(f, [*sheet, ("edges", [(1, 180, 0), (2, 180, 0), (2, 181, 0)])])))
        self.assertIn("sheet-edge", self.spoiled(lambda f: put(f, [(k, [(x - 10, y, g) for x, y, g in r]) for k, r in sheet])))
        moved = [(k, [(x + 0.02, y, g) for x, y, g in r]) if i == 0 else (k, r) for i, (k, r) in enumerate(sheet)]
        svg = synth.svg_bytes(moved[1:], width, height)
        self.assertIn("svg-twin", self.spoiled(lambda f: f.update({"sheets/01-birch-ply-3.svg": svg})))

    def test_model_of_another_size(self):
        scene = synth.leaning_tab(60)
        other = scene.copy()
        other.plate("H").outer = [(x * 1.1, y) for x, y in other.plate("H").outer]
        self.assertIn("model", self.spoiled(lambda f: f.update({"model.glb": synth.glb_bytes(other)}), scene))
        self.assertIn("model", self.spoiled(lambda f: f.update({"model.glb": b"glTF"}), scene))

    def test_findings_need_numbers(self):
        finding = {"code": "web-thin", "verdict": "refuse", "where": "/things/0", "why": "too thin",
                   "have": {"web_mm": 3.0}, "need": {"web_mm": 5.0}}
        good, bad = Verdict("x"), Verdict("x")
        check_finding(finding, "f", good)
        check_finding({**finding, "have": {}, "need": "more"}, "f", bad)
        self.assertTrue(good.ok)
        self.assertFalse(bad.ok)


class Arcs(unittest.TestCase):
    """The bulge arithmetic against published numbers."""

    def test_bulge_numbers(self):
        # DXF reference, LWPOLYLINE group 42: bulge 1 is a half circle, tan(22.5 deg) a quarter
        quarter = Contour("edges", np.array([[0, 0, math.tan(math.pi / 8)], [10, 0, 0.0]]), False)
        self.assertAlmostEqual(quarter.length(), 7.0710678 * math.pi / 2, places=6)
        circle = Contour("openings", np.array([[-5, 0, 1.0], [5, 0, 1.0]]), True)
        self.assertAlmostEqual(circle.area(), 25 * math.pi, places=9)
        self.assertAlmostEqual(circle.length(), 10 * math.pi, places=9)
        # positive bulge runs counter-clockwise: from (-5, 0) over (0, -5)
        self.assertLess(circle.points()[1][1], 0)

    def test_flattening_stays_within_the_chord_error(self):
        circle = Contour("openings", np.array([[-50, 0, -1.0], [50, 0, -1.0]]), True)
        p = circle.points(0.001)
        mid = (p + np.roll(p, -1, axis=0)) / 2
        self.assertLess(50 - np.hypot(*mid.T).min(), 0.001)
        self.assertLess(circle.area(), 0)


if __name__ == "__main__":
    unittest.main()
