"""Seeded nesting instances: python make_instances.py OUT_DIR COUNT [FIRST_SEED]

Each has 60 parts for 600 x 400 sheets with 2 mm between them: 24 panels with fingers, 14 small ones, 10 discs,
7 Ls, 5 rings; a third of the panels keeps its grain (half turns only); 2.8 to 3.7 sheets of net area.
"""
import json
import math
import random
import sys

SHEET, SPACING, DEPTH = (600, 400), 2.0, 3.0


def side(length, fingered, rng):
    """Heights along one edge of a panel: (along, inward) pairs."""
    n = int(length / rng.uniform(9.5, 16))
    if not fingered or n < 3:
        return [(0.0, 0.0)]
    n -= 1 - n % 2  # an odd count: both ends stand out
    pitch = length / n
    out = []
    for k in range(n):
        inward = DEPTH if k % 2 else 0.0
        out += [(k * pitch, inward), ((k + 1) * pitch, inward)]
    return [(round(a, 3), i) for a, i in out[:-1]]


def panel(w, h, rng):
    points = []
    for length, fingered, at in (
        (w, rng.random() < 0.8, lambda a, i: (a, i)),
        (h, rng.random() < 0.8, lambda a, i: (w - i, a)),
        (w, rng.random() < 0.8, lambda a, i: (w - a, h - i)),
        (h, rng.random() < 0.8, lambda a, i: (i, h - a)),
    ):
        points += [at(a, i) for a, i in side(length, fingered, rng)]
    return points


def circle(cx, cy, r, n):
    return [[round(cx + r * math.cos(2 * math.pi * k / n), 3), round(cy + r * math.sin(2 * math.pi * k / n), 3)] for k in range(n)]


def instance(rng):
    parts = []

    def add(kind, outer, holes=(), locked=False):
        rots = [0, 180] if locked else [0, 90, 180, 270]
        parts.append({"id": len(parts), "kind": kind, "outer": [list(p) for p in outer], "holes": list(holes), "rots": rots})

    for _ in range(24):
        add("finger", panel(rng.randint(110, 300), rng.randint(70, 220), rng), locked=rng.random() < 0.33)
    for _ in range(5):
        r = rng.randint(75, 115)
        add("ring", circle(r, r, r, 48), [circle(r, r, r - rng.randint(10, 15), 48)])
    for _ in range(10):
        r = rng.randint(12, 42)
        add("disc", circle(r, r, r, 32))
    for _ in range(7):
        a, b, t = rng.randint(50, 120), rng.randint(40, 110), rng.randint(14, 24)
        add("ell", [(0, 0), (a, 0), (a, t), (t, t), (t, b), (0, b)])
    for _ in range(14):
        add("small", panel(rng.randint(25, 70), rng.randint(23, 50), rng), locked=rng.random() < 0.33)
    return parts


def area(points):
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))) / 2


def made(count, first_seed=1):
    """(seed, job) of the first `count` seeds that give a job of the right size."""
    seed = first_seed
    while count:
        parts = instance(random.Random(seed))
        net = sum(area(p["outer"]) - sum(map(area, p["holes"])) for p in parts)
        if 2.8 <= net / (SHEET[0] * SHEET[1]) <= 3.7:
            count -= 1
            yield seed, {"sheet": SHEET, "spacing": SPACING, "parts": parts}
        seed += 1


if __name__ == "__main__":
    for number, (_, job) in enumerate(made(int(sys.argv[2]), *map(int, sys.argv[3:]))):
        with open(f"{sys.argv[1]}/made{number + 1:02d}.json", "w") as f:
            json.dump(job, f)
