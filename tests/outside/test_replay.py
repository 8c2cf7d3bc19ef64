"""The replay judged: right orders pass, and each wrong one is found."""

import math
import unittest

import synth
from judge import judge_bytes

DOWN = (0, 0, -1)


def lap():
    """Two dividers: the one that is slotted from below is pushed down onto the other."""
    scene = synth.lap()
    scene.steps = [synth.step(1, ["V2"], ["V1"], DOWN, 40.5)]
    return scene


def grid():
    """Six dividers hold nothing yet: the first of the others joins one of them, then all come together."""
    scene = synth.grid(3)
    xs, ys = ["X1", "X2", "X3"], ["Y1", "Y2", "Y3"]
    scene.steps = [synth.step(1, ["Y1"], ["X1"], DOWN, 40.5)]
    have = ["X1", "Y1"]
    for n, code in enumerate(xs[1:], 2):
        scene.steps.append(synth.step(n, [code], have, (0, 0, 1), 40.5))
        have = have + [code]
    for n, code in enumerate(ys[1:], 4):
        scene.steps.append(synth.step(n, [code], have, DOWN, 40.5))
        have = have + [code]
    return scene


def tab(phi_deg=60.0):
    """A leaning plate with flush tabs goes in along its own plane as well as straight down."""
    scene = synth.leaning_tab(phi_deg)
    c, s = math.cos(math.radians(phi_deg)), math.sin(math.radians(phi_deg))
    scene.steps = [synth.step(1, ["D1"], ["H"], (0, -c, -s), 70)]
    return scene


class Replays(unittest.TestCase):
    """Pushes in small moves."""

    def faults(self, scene):
        """What the judge says of the order."""
        return [f for f in judge_bytes("scene", synth.package(scene)).faults if f.check == "order"]

    def blamed(self, scene, *words):
        """Something is found, and it names these words."""
        faults = self.faults(scene)
        self.assertTrue(faults)
        text = "\n".join(f.line() for f in faults)
        for word in words:
            self.assertIn(word, text)

    def test_right_orders_pass(self):
        for make in (lap, grid, tab):
            scene = make()
            self.assertEqual([f.line() for f in self.faults(scene)], [], make.__name__)
            verdict = judge_bytes("scene", synth.package(scene))
            self.assertEqual(verdict.counts["pushes"], len(scene.steps))
            self.assertGreater(verdict.counts["moves tried"], 5)

    def test_flush_tab_straight_down(self):
        scene = tab()
        scene.steps[0]["direction"] = list(DOWN)
        self.assertEqual(self.faults(scene), [])

    def test_squeezed_lap_passes(self):
        scene = synth.lap(fit=-0.04)
        scene.steps = lap().steps
        self.assertEqual([f.line() for f in self.faults(scene)], [])

    def test_wrong_side(self):
        scene = lap()
        scene.steps[0]["direction"] = [0, 0, 1]
        self.blamed(scene, "step 1", "V2 through V1")

    def test_aslant(self):
        scene = lap()
        a = math.radians(3)
        scene.steps[0]["direction"] = [math.sin(a), 0, -math.cos(a)]
        self.blamed(scene, "V2 through V1")

    def test_tab_pushed_in_sideways(self):
        scene = tab()
        scene.steps[0]["direction"] = [1, 0, 0]
        self.blamed(scene, "D1 through H")

    def test_one_too_early(self):
        scene = grid()
        # X2 and X3 change places with the last two: they would have to come from the side
        scene.steps[1]["direction"] = [0, 1, 0]
        self.blamed(scene, "step 2")

    def test_begins_in_one_another(self):
        scene = lap()
        scene.steps[0]["travel_mm"] = 12
        self.blamed(scene, "clear of one another")

    def test_pushed_onto_what_is_not_there(self):
        scene = grid()
        scene.steps[0], scene.steps[1] = scene.steps[1], scene.steps[0]
        self.blamed(scene, "hold together already", "number 1")

    def test_a_part_left_over(self):
        scene = grid()
        scene.steps.pop()
        self.blamed(scene, "one whole at the end", "Y3")

    def test_nonsense(self):
        for key, value in (("direction", [0, 0, -2]), ("direction", [0, 1]), ("travel_mm", -1)):
            scene = lap()
            scene.steps[0][key] = value
            self.blamed(scene, "unit vector")
        scene = lap()
        scene.steps = "later"
        self.blamed(scene, "list of objects")


if __name__ == "__main__":
    unittest.main()
