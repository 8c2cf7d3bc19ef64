"""Judges a layout with shapely in double precision; shares no code with the project.

python layout_judge.py INSTANCE.json SOLUTION.json prints sheets, smallest gap and smallest distance to an edge.
"""
import json
import math
import sys

from shapely.affinity import rotate, translate
from shapely.geometry import Polygon

NOISE_MM = 1e-9  # of sums of doubles of some hundred millimetres


class Flawed(Exception):
    """The layout breaks a rule."""


def judge(instance, solution):
    """(sheets, smallest gap, smallest distance to an edge); raises Flawed."""
    parts = {p["id"]: p for p in instance["parts"]}
    if sorted(p["id"] for p in solution) != sorted(parts):
        raise Flawed("not every part lies there exactly once")
    sheets = {}
    for placed in solution:
        outline = Polygon(placed["outer"], placed["holes"])
        if not is_turned(parts[placed["id"]], outline):
            raise Flawed(f"part {placed['id']} is not its own outline in an allowed turn")
        sheets.setdefault(placed["sheet"], []).append(outline)
    gap = min(smallest_gap(s) for s in sheets.values())
    edge = min(edge_distance(s, *instance["sheet"]) for s in sheets.values())
    if min(gap, edge) < instance["spacing"] - NOISE_MM:
        raise Flawed(f"gap {gap} or edge {edge} is below {instance['spacing']}")
    return len(sheets), gap, edge


def is_turned(part, outline):
    drawn = Polygon(part["outer"], part["holes"])
    for turn in part["rots"]:
        turned = rotate(drawn, turn, origin=(0, 0))
        moved = translate(turned, outline.bounds[0] - turned.bounds[0], outline.bounds[1] - turned.bounds[1])
        if moved.symmetric_difference(outline).area < 1e-6 * drawn.area:
            return True
    return False


def smallest_gap(outlines):
    pairs = ((a, b) for i, a in enumerate(outlines) for b in outlines[i + 1:])
    return min((a.distance(b) for a, b in pairs), default=math.inf)


def edge_distance(outlines, width, height):
    boxes = [o.bounds for o in outlines]
    return min(min(b[0], b[1], width - b[2], height - b[3]) for b in boxes)


if __name__ == "__main__":
    with open(sys.argv[1]) as i, open(sys.argv[2]) as s:
        print(*judge(json.load(i), json.load(s)))
