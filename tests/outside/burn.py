"""Burns a drawn outline: what is left of the sheet when half a kerf on either side of each line is gone.

The beam is a disc of diameter kerf that follows every line. Convex corners of what is left stay sharp;
re-entrant corners keep a fillet of half a kerf. Tab meets slot in such corners, so two outlines are
made: `physical` with the fillets, and `sharp` with mitred corners, by which joints are measured. The
fillets are counted apart: char crushes there, and every cut joint of the trade has them.
"""

from dataclasses import dataclass

from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.polygon import orient

# A mitre longer than this many half-kerfs belongs to a corner under 12 degrees, which nothing drawn has.
MITRE_LIMIT = 10.0


@dataclass
class Burnt:
    """The finished outline of one part: drawn, after burning, and after burning without fillets."""

    drawn: Polygon
    physical: Polygon | MultiPolygon
    sharp: Polygon | MultiPolygon
    kerf_mm: float


def burn(cut, kerf_mm, verdict) -> Burnt | None:
    """The finished part of a cut file with exactly one edge contour. None, with a fault, if there is none."""
    edges = [c for c in cut.on("edges") if c.closed]
    if len(edges) != 1:
        verdict.add("part-edge", cut.name, len(edges), "exactly one closed edge")
        return None
    holes = [c.points() for c in cut.on("openings") if c.closed]
    drawn = Polygon(edges[0].points(), holes)
    if not drawn.is_valid:
        verdict.add("part-outline", cut.name, "invalid", "openings apart, and inside the edge")
        return None
    return erode(orient(drawn), kerf_mm)


def erode(drawn: Polygon, kerf_mm: float) -> Burnt:
    """Erosion by the beam's radius."""
    if kerf_mm == 0:
        return Burnt(drawn, drawn, drawn, 0.0)
    half = kerf_mm / 2
    physical = drawn.buffer(-half, quad_segs=4, join_style="round")
    sharp = drawn.buffer(-half, join_style="mitre", mitre_limit=MITRE_LIMIT)
    return Burnt(drawn, physical, sharp, kerf_mm)


def polygons(shape) -> list:
    """The polygons of a shape, whether one or many."""
    if shape.is_empty:
        return []
    return list(shape.geoms) if isinstance(shape, MultiPolygon) else [shape]


def rings(shape) -> list:
    """All rings of a shape as coordinate arrays without the repeated end."""
    out = []
    for polygon in polygons(shape):
        for ring in (polygon.exterior, *polygon.interiors):
            out.append([p[:2] for p in ring.coords[:-1]])
    return out
