"""The held things as solids, and whether a panel or another thing cuts into them."""

import math

import manifold3d as m3
import numpy as np

from solids import TOUCH_MM, apart, deepest, placed, placement_of, spot

# A round thing's mesh is inscribed: no facet leaves the true surface by more than this (mm).
FACET_MM = 0.004
LEAST_SIDES = 96


class Thing:
    """One thing in space."""

    def __init__(self, ident, holder, solid, rotation):
        self.ident, self.holder, self.solid, self.rotation = ident, holder, solid, rotation
        self.box = solid.bounding_box()


def thing_of(entry, verdict) -> Thing | None:
    """A thing of assembly.json, or None with a fault if its shape makes no solid."""
    ident = str(entry.get("id"))
    rotation, origin = placement_of(entry["placement"], f"thing {ident}", verdict)
    shape = entry["shape"]
    try:
        solid = SHAPES[shape.get("kind")](shape)
    except (KeyError, ValueError, TypeError) as error:
        verdict.add("thing", ident, str(shape.get("kind")), "revolution or prism with its numbers", repr(error)[:80])
        return None
    if solid.is_empty() or solid.volume() <= 0:
        verdict.add("thing", ident, "no volume", "a solid")
        return None
    return Thing(ident, entry.get("holder"), placed(solid, rotation, origin), rotation)


def revolution(shape) -> m3.Manifold:
    """A profile of [z, r] rows turned about the z axis."""
    rows = [(float(z), float(r)) for z, r in shape["profile_mm"]]
    widest = max(r for _, r in rows)
    ratio = 1 - FACET_MM / widest if widest > FACET_MM else 0.0
    sides = max(LEAST_SIDES, math.ceil(math.pi / math.acos(ratio)))
    ring = [(r, z) for z, r in rows]
    if ring[0][0] > 0:
        ring.insert(0, (0.0, rows[0][0]))
    if ring[-1][0] > 0:
        ring.append((0.0, rows[-1][0]))
    section = m3.CrossSection([np.array(ring)], m3.FillRule.NonZero)
    return section.revolve(sides)


def prism(shape) -> m3.Manifold:
    """A section of [x, y] rows with a height along z."""
    section = m3.CrossSection([np.array(shape["section_mm"], float)], m3.FillRule.NonZero)
    return section.extrude(float(shape["height_mm"]))


SHAPES = {"revolution": revolution, "prism": prism}


def check_things(things, parts, verdict):
    """Things against parts of their holder, and things against each other."""
    verdict.count("things", len(things))
    for i, thing in enumerate(things):
        for part in parts:
            if thing.holder in (None, part.holder):
                meet(thing, part, f"thing {thing.ident} and {part.code}", verdict)
        for other in things[i + 1:]:
            if thing.holder == other.holder:
                meet(thing, other, f"things {thing.ident} and {other.ident}", verdict)


def meet(a, b, name, verdict):
    """One pair."""
    if apart(a.box, b.box):
        return
    verdict.count("thing pairs tried")
    depth, at = deepest(a.solid ^ b.solid, np.vstack([a.rotation.T, b.rotation.T]))
    verdict.most("thing overlap mm", depth)
    if depth > TOUCH_MM:
        verdict.add("thing-overlap", f"{name} near {spot(at)}", depth, f"<= {TOUCH_MM} mm deep")
