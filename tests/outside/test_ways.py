"""Ways out judged: free ones pass, barred ones are found."""

import unittest

import synth
from judge import judge_bytes


def deck(**pulls):
    """The deck with a bottle in its hole and a block on it, each with its pulls."""
    scene = synth.deck()
    for thing in scene.things:
        thing["pulls"] = [{"direction": list(d), "travel_mm": t} for d, t in pulls.get(thing["id"], [])]
    return scene


class Ways(unittest.TestCase):
    """Pulls in small moves."""

    def faults(self, scene):
        """What the judge says of ways out, and its counts."""
        verdict = judge_bytes("scene", synth.package(scene))
        return [f.line() for f in verdict.faults if f.check == "way-out"], verdict.counts

    def test_straight_up(self):
        faults, counts = self.faults(deck(lube=[((0, 0, 1), 120)], block=[((0, 0, 1), 40)]))
        self.assertEqual(faults, [])
        self.assertEqual(counts["pulls of things"], 2)
        self.assertGreater(counts["moves of things"], 10)

    def test_two_pulls(self):
        faults, _ = self.faults(deck(block=[((0, -1, 0), 30), ((0, 0, 1), 40)]))
        self.assertEqual(faults, [])

    def test_sideways_through_the_deck(self):
        faults, _ = self.faults(deck(lube=[((0, 1, 0), 80)]))
        self.assertEqual(len(faults), 1)
        self.assertIn("thing lube, pull 1: through K", faults[0])

    def test_through_another_thing(self):
        faults, _ = self.faults(deck(block=[((-1, 0, 0), 80)]))
        self.assertIn("through thing lube", faults[0])

    def test_the_second_pull_begins_where_the_first_ends(self):
        faults, _ = self.faults(deck(block=[((0, 0, 1), 5), ((-1, 0, 0), 80)]))
        self.assertIn("pull 2: through thing lube", faults[0])

    def test_nonsense(self):
        faults, _ = self.faults(deck(lube=[((0, 0, 3), 80)]))
        self.assertIn("unit vector", faults[0])


if __name__ == "__main__":
    unittest.main()
