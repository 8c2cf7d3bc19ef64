"""The nested sheets hold exactly the parts: each once, turned but never mirrored, apart, and on the sheet."""

import numpy as np
from shapely.geometry import Polygon

from contour import edge_length

# Two outlines are the same if no edge, arc or turn differs by more than this (mm; bulges by a tenth).
SAME_MM = 0.005
# Least gap between two parts on a sheet (mm): below 1 nothing holds the web; trade practice, no source.
LEAST_GAP_MM = 1.0
GAP_TOL_MM = 0.01


class Flat:
    """One edge contour with its openings."""

    def __init__(self, edge, openings):
        self.edge, self.openings = edge, openings
        self.polygon = Polygon(edge.points(), [o.points() for o in openings])
        self.used = False


def flats(cut) -> list:
    """The parts of a cut file: each edge with the openings that lie directly in it."""
    edges = sorted((c for c in cut.on("edges") if c.closed), key=lambda c: abs(c.area()))
    shells = [Polygon(e.points()) for e in edges]
    mine = [[] for _ in edges]
    for hole in cut.on("openings"):
        if hole.closed:
            at = Polygon(hole.points()).representative_point()
            owner = next((i for i, s in enumerate(shells) if s.contains(at)), None)
            if owner is not None:
                mine[owner].append(hole)
    return [Flat(e, h) for e, h in zip(edges, mine)]


def check_sheets(cuts, part_files, verdict):
    """`part_files`: (code, CutFile) of every part; `cuts`: (CutFile, sheet size or None) of every sheet."""
    lying = []
    for cut, size in cuts:
        here = flats(cut)
        check_layout(cut, here, size, verdict)
        lying += [(cut.name, f) for f in here]
    for code, part_cut in part_files:
        wanted = flats(part_cut)
        if len(wanted) != 1:
            continue
        free = [(n, f) for n, f in lying if not f.used]
        hit = next((f for _, f in free if same(wanted[0], f, mirror=False)), None)
        if hit is not None:
            hit.used = True
        elif any(same(wanted[0], f, mirror=True) for _, f in free):
            verdict.add("sheet-mirrored", code, "mirrored on the sheet", "turned only")
        else:
            verdict.add("sheet-missing", code, "on no sheet", "as in its own file, once")
    for name, flat in lying:
        if not flat.used:
            x, y = flat.polygon.representative_point().coords[0]
            verdict.add("sheet-extra", f"{name} near ({x:.1f}, {y:.1f})", "an outline of no part", "each part once")
    verdict.count("sheets", len(cuts))


def check_layout(cut, here, size, verdict):
    """Parts apart from each other and inside the sheet."""
    for i, a in enumerate(here):
        for b in here[i + 1:]:
            gap = a.polygon.distance(b.polygon)
            if gap < LEAST_GAP_MM - GAP_TOL_MM:
                x, y = a.polygon.representative_point().coords[0]
                verdict.add("sheet-gap", f"{cut.name} near ({x:.1f}, {y:.1f})", float(gap), f">= {LEAST_GAP_MM} mm")
        box = a.polygon.bounds
        if size and (min(box[:2]) < 0 or box[2] > size[0] or box[3] > size[1]):
            verdict.add("sheet-edge", cut.name, max(-min(box[:2]), box[2] - size[0], box[3] - size[1]), "inside the sheet")


def same(part, lying, mirror) -> bool:
    """Whether an outline on a sheet is the part, turned (or mirrored), with the same openings."""
    if len(part.openings) != len(lying.openings):
        return False
    rows = mirrored(part.edge) if mirror else walk_ccw(part.edge)
    want = [centre_and_area(o, mirror) for o in part.openings]
    have = [centre_and_area(o, False) for o in lying.openings]

    def lies(at, area):
        return any(np.hypot(*(at - h)) < 2 * SAME_MM and abs(area - s) < 0.1 for h, s in have)

    # an edge that looks the same turned by half is carried onto itself twice: the openings tell which way it lies
    return any(all(lies(rotation @ at + shift, area) for at, area in want)
               for rotation, shift in motions(rows, walk_ccw(lying.edge)))


def centre_and_area(contour, mirror):
    """Centre and size of an opening, seen in a mirror if asked."""
    p = Polygon(contour.points())
    c = np.array([p.centroid.x, p.centroid.y])
    return (c * [-1, 1] if mirror else c), p.area


def walk_ccw(contour):
    """Rows of x, y, bulge, counter-clockwise, without edges of no length."""
    rows = contour.rows
    if contour.area() < 0:
        rows = np.column_stack([rows[::-1, :2], -np.roll(rows[::-1, 2], -1)])
    return rows


def mirrored(contour):
    """The same contour seen in a mirror, counter-clockwise again."""
    rows = contour.rows * [-1, 1, -1]
    flipped = type(contour)(contour.layer, rows, True)
    return walk_ccw(flipped)


def motions(a, b):
    """Every rotation and shift that carries outline a onto outline b."""
    if len(a) != len(b):
        return
    la, lb = lengths(a), lengths(b)
    for k in range(len(a)):
        if np.abs(la - np.roll(lb, -k)).max() > SAME_MM or np.abs(a[:, 2] - np.roll(b[:, 2], -k)).max() > SAME_MM / 10:
            continue
        rotation, shift = carry(a[:, :2], np.roll(b[:, :2], -k, axis=0))
        if np.abs(a[:, :2] @ rotation.T + shift - np.roll(b[:, :2], -k, axis=0)).max() < SAME_MM:
            yield rotation, shift


def lengths(rows):
    """Edge lengths."""
    nxt = np.roll(rows, -1, axis=0)
    return np.array([edge_length(p[:2], q[:2], float(p[2])) for p, q in zip(rows, nxt)])


def carry(a, b):
    """Least-squares rotation and shift from points a to points b (Kabsch 1976, in the plane)."""
    ca, cb = a.mean(axis=0), b.mean(axis=0)
    h = (a - ca).T @ (b - cb)
    angle = np.arctan2(h[0, 1] - h[1, 0], h[0, 0] + h[1, 1])
    c, s = np.cos(angle), np.sin(angle)
    rotation = np.array([[c, -s], [s, c]])
    return rotation, cb - rotation @ ca
