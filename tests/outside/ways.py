"""How the held things come out: their pulls in small moves, with every part and every other thing in place."""

import numpy as np

from replay import UNIT_TOL, moves
from solids import NOISE_MM3, TOUCH_MM, deepest, spot

# What a thing and a part may share while they slide along one another (mm3): less than a film 0.02 thick on 50 mm2.
SLIDING_MM3 = 1.0
# Moves of a thing (mm) and how often a pair is looked at on its way at most: things are thicker than sheets.
MOVE_MM, MOST_MOVES = 3.0, 10


def check_ways(entries, things, parts, verdict):
    """The pulls of every thing that has some; one without any comes out after another thing only."""
    pulls = {str(e.get("id")): e.get("pulls", []) for e in entries}
    for thing in things:
        at = np.zeros(3)
        for n, pull in enumerate(pulls.get(thing.ident, [])):
            way, travel = np.array(pull.get("direction", []), float), float(pull.get("travel_mm", -1))
            where = f"thing {thing.ident}, pull {n + 1}"
            if way.shape != (3,) or abs(np.linalg.norm(way) - 1) > UNIT_TOL or travel < 0:
                verdict.add("way-out", where, f"{way} over {travel}", "a unit vector and a way of 0 or more")
                break
            verdict.count("pulls of things")
            moved = thing.solid.translate(list(at))
            for other in parts + [t for t in things if t is not thing]:
                pass_by(moved, thing, other, way, travel, where, verdict)
            at = at + way * travel


def pass_by(moved, thing, other, way, travel, where, verdict):
    """One pull past one part or thing."""
    name = getattr(other, "code", None) or f"thing {other.ident}"
    for onward in moves(moved.bounding_box(), other.solid.bounding_box(), -way, travel, MOVE_MM, MOST_MOVES):
        verdict.count("moves of things")
        both = moved.translate(list(way * onward)) ^ other.solid
        if both.is_empty() or both.volume() < max(NOISE_MM3, SLIDING_MM3):
            continue
        depth, at = deepest(both, np.vstack([thing.rotation.T, other.rotation.T]))
        if depth > TOUCH_MM:
            verdict.add("way-out", f"{where}: through {name} near {spot(at)}", depth, f"<= {TOUCH_MM} mm deep",
                        f"after {onward:.1f} mm")
            return
