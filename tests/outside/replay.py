"""The order of assembly replayed: every push in small moves, with nothing passing through anything."""

import math

import numpy as np

from solids import LEFT_MM3, TOUCH_MM, shrunk, spot

# Moves of a push (mm): half of the thinnest sheet, so that nothing slips through a sheet between two of them.
MOVE_MM = 0.75
# A pair is looked at this often on its way at most: the moves of a long way grow instead.
MOST_MOVES = 60
# A direction is a unit vector within this: the rounding of printed numbers.
UNIT_TOL = 1e-6


def check_order(assembly, parts, joints, verdict):
    """The steps of every holder. A package that lists its holders has to say how each goes together."""
    steps = assembly.get("steps")
    if steps is None and "holders" not in assembly:
        return
    if not isinstance(steps, list) or not all(isinstance(s, dict) for s in steps):
        verdict.add("order", "/steps", str(type(steps).__name__), "a list of objects")
        return
    for holder in sorted({p.holder for p in parts}):
        mine = [p for p in parts if p.holder == holder]
        Replay(holder, mine, joints, verdict).run([s for s in steps if s.get("holder") == holder])


class Replay:
    """One holder, from single parts to the whole."""

    def __init__(self, holder, parts, joints, verdict):
        self.holder, self.verdict = holder, verdict
        self.parts = {p.code: p for p in parts}
        self.units = {frozenset([p.code]) for p in parts}
        self.squeeze = {}
        for j in joints:
            pair = frozenset((j["a"], j["b"]))
            self.squeeze[pair] = max(self.squeeze.get(pair, 0.0), -j["fit_mm"])
        self.made = {}

    def run(self, steps):
        """All steps; what is left over at the end is a fault."""
        for i, step in enumerate(steps):
            where = f"holder {self.holder}, step {step.get('number', i + 1)}"
            if step.get("number") != i + 1:
                self.verdict.add("order", where, str(step.get("number")), f"number {i + 1}")
            self.step(step, where)
        if len(self.units) > 1:
            left = " | ".join(sorted(" ".join(sorted(u)) for u in self.units))
            self.verdict.add("order", f"holder {self.holder}", len(self.units), "one whole at the end", left)

    def step(self, step, where):
        """One push."""
        moved, onto = frozenset(step.get("moved", [])), frozenset(step.get("onto", []))
        for name, unit in (("moved", moved), ("onto", onto)):
            if unit not in self.units:
                self.verdict.add("order", where, f"{name} {' '.join(sorted(unit))}", "parts that hold together already, all of them")
                return
        way, travel = np.array(step.get("direction", []), float), float(step.get("travel_mm", -1))
        if way.shape != (3,) or abs(np.linalg.norm(way) - 1) > UNIT_TOL or travel < 0:
            self.verdict.add("order", where, f"{way} over {travel}", "a unit vector and a way of 0 or more")
            return
        self.verdict.count("pushes")
        self.units -= {moved, onto}
        self.units.add(moved | onto)
        self.begins_apart(moved, onto, way, travel, where)
        for a in sorted(moved):
            for b in sorted(onto):
                self.push(self.parts[a], self.parts[b], way, travel, where)

    def begins_apart(self, moved, onto, way, travel, where):
        """Drawn back by the whole travel, both are clear of one another along the way."""
        front = max(along(self.parts[c].solid, way)[1] for c in moved) - travel
        back = min(along(self.parts[c].solid, way)[0] for c in onto)
        if front - back > TOUCH_MM:
            self.verdict.add("order", where, front - back, "clear of one another where the push begins")

    def push(self, a, b, way, travel, where):
        """One moving part past one standing part."""
        limit = TOUCH_MM + self.squeeze.get(frozenset((a.code, b.code)), 0.0)
        moving, standing = self.slim(a, limit / 2), self.slim(b, limit / 2)
        worst = (0.0, 0.0, None)
        for back in moves(moving.bounding_box(), standing.bounding_box(), way, travel):
            self.verdict.count("moves tried")
            both = moving.translate(list(-way * back)) ^ standing
            if not both.is_empty() and both.volume() > max(LEFT_MM3, worst[0]):
                box = both.bounding_box()
                worst = (both.volume(), back, [(box[i] + box[i + 3]) / 2 for i in range(3)])
        if worst[2] is not None:
            self.verdict.add("order", f"{where}: {a.code} through {b.code} near {spot(worst[2])}", worst[0],
                             "no shared room (mm3) on the way", f"{worst[1]:.2f} mm before its end")

    def slim(self, part, by):
        """The part with so much taken off every face."""
        key = (part.code, round(by, 6))
        if key not in self.made:
            self.made[key] = shrunk(part, by)
        return self.made[key]


def along(solid, way):
    """From and to of a solid along a direction."""
    points = solid.to_mesh64().vert_properties[:, :3] @ way
    return float(points.min()), float(points.max())


def moves(a, b, way, travel, step=MOVE_MM, most=MOST_MOVES) -> list:
    """How far back from its end the first box is looked at: wherever it meets the second one on the way."""
    low, high = 0.0, travel
    for k in range(3):
        # drawn back by s it spans a - way s
        if abs(way[k]) < 1e-12:
            if a[k] >= b[k + 3] or b[k] >= a[k + 3]:
                return []
            continue
        ends = sorted(((a[k] - b[k + 3]) / way[k], (a[k + 3] - b[k]) / way[k]))
        low, high = max(low, ends[0]), min(high, ends[1])
    if high <= low:
        return []
    n = min(most, math.ceil((high - low) / step) + 1)
    return [float(s) for s in np.linspace(low, high, n + 1)]
