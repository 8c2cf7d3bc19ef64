"""Reads one DXF cut file and says whether a machine could cut it as it stands."""

import io
from dataclasses import dataclass, field

import ezdxf
import numpy as np
from shapely.geometry import LineString, Polygon

from contour import Contour, edge_length

LAYERS = ("mark", "openings", "edges")
CUT = ("openings", "edges")
# An edge shorter than this (mm) makes a machine stutter and is nothing to cut; common practice, no source.
ZERO_MM = 0.001
# Two edges with the same ends within this (mm) are one line burnt twice.
SAME_MM = 0.001
MILLIMETRES = 4  # $INSUNITS, DXF reference


@dataclass
class CutFile:
    """The contours of one cut file, in the order in which they are cut."""

    name: str
    contours: list = field(default_factory=list)
    fixes: int = 0

    def on(self, layer):
        """The contours of one layer."""
        return [c for c in self.contours if c.layer == layer]


def read_dxf(name: str, data: bytes, verdict) -> CutFile:
    """Reads a DXF file's contours; every fault goes to the verdict."""
    out = CutFile(name)
    try:
        # newline=None: a DXF file's lines may end in CR LF
        doc = ezdxf.read(io.StringIO(data.decode("utf-8"), newline=None))
    except (ezdxf.DXFError, UnicodeDecodeError, ValueError, KeyError) as error:
        verdict.add("dxf", name, type(error).__name__, "a readable DXF file", str(error)[:120])
        return out
    audit = doc.audit()
    out.fixes = len(audit.fixes)
    verdict.count("dxf files")
    verdict.count("dxf fixes", out.fixes)
    if audit.errors:
        verdict.add("dxf-audit", name, len(audit.errors), "0 errors", audit.errors[0].message[:120])
    unit = doc.header.get("$INSUNITS", 0)
    if unit != MILLIMETRES:
        verdict.add("dxf-unit", name, unit, "$INSUNITS 4 (millimetres)")
    for order, entity in enumerate(doc.modelspace()):
        contour = as_contour(entity, order, name, verdict)
        if contour is not None:
            out.contours.append(contour)
    check_contours(out, verdict)
    return out


def as_contour(entity, order, name, verdict):
    """One DXF entity as a contour, or None (with a fault) if it cannot be cut as such."""
    layer, kind = entity.dxf.layer, entity.dxftype()
    if layer not in LAYERS:
        verdict.add("layer", name, layer, "one of " + ", ".join(LAYERS))
        return None
    if kind == "LINE" and layer == "mark":
        a, b = entity.dxf.start, entity.dxf.end
        return Contour(layer, np.array([[a.x, a.y, 0.0], [b.x, b.y, 0.0]]), False, order)
    if kind != "LWPOLYLINE":
        verdict.add("entity", name, kind, "LWPOLYLINE on " + layer)
        return None
    rows = np.array([(x, y, bulge) for x, y, bulge in entity.get_points("xyb")], float).reshape(-1, 3)
    if not np.isfinite(rows).all() or len(rows) < 2:
        verdict.add("entity", name, len(rows), "two or more finite vertices on " + layer)
        return None
    return Contour(layer, rows, bool(entity.closed), order)


def check_contours(cut: CutFile, verdict):
    """Closed, no zero-length edge, no line burnt twice, no contour through itself, openings before edges."""
    seen = {}
    for contour in cut.contours:
        verdict.count("contours")
        if contour.layer in CUT and not contour.closed:
            verdict.add("open-contour", f"{cut.name} {contour.layer}", "open", "a closed contour")
        for a, b, bulge in contour.edges():
            length = edge_length(a, b, bulge)
            if length < ZERO_MM:
                verdict.add("zero-edge", f"{cut.name} {contour.layer} at {spot(a)}", length, f">= {ZERO_MM} mm")
            key = edge_key(a, b, bulge)
            if key in seen:
                verdict.add("doubled-edge", f"{cut.name} {contour.layer} at {spot(a)}", "burnt twice", "each line once")
            seen[key] = True
        if contour.layer in CUT and contour.closed and not Polygon(contour.points()).is_valid:
            at = spot(contour.rows[0])
            verdict.add("crossing-contour", f"{cut.name} {contour.layer} at {at}", "crosses itself", "a simple contour")
    check_shared_lines(cut, verdict)
    check_order(cut, verdict)


def edge_key(a, b, bulge):
    """The same key for the same line whichever way it is cut; the arc's middle tells arcs from lines."""
    d = b - a
    mid = (a + b) / 2 + np.array([d[1], -d[0]]) * bulge / 2
    ends = sorted([tuple(np.round(a / SAME_MM).astype(int)), tuple(np.round(b / SAME_MM).astype(int))])
    return (*ends, tuple(np.round(mid / SAME_MM).astype(int)))


def check_shared_lines(cut: CutFile, verdict):
    """Two cut contours that share a stretch of line burn it twice, even where their ends differ."""
    rings = [(c, LineString(np.vstack([c.points(), c.rows[:1, :2]]))) for c in cut.contours if c.layer in CUT and c.closed]
    for i, (c1, r1) in enumerate(rings):
        for c2, r2 in rings[i + 1:]:
            if not boxes_touch(r1.bounds, r2.bounds):
                continue
            shared = r1.intersection(r2)
            if shared.length > ZERO_MM:
                verdict.add("doubled-edge", f"{cut.name} {c1.layer}/{c2.layer}", shared.length, "no shared line (mm)")
            elif not shared.is_empty:
                verdict.add("touching-contours", f"{cut.name} {c1.layer}/{c2.layer}", "touch", "contours apart")


def check_order(cut: CutFile, verdict):
    """What lies inside an edge is cut before that edge: afterwards the part may have dropped or turned."""
    edges = [(c, Polygon(c.points())) for c in cut.on("edges") if c.closed]
    for hole in cut.on("openings"):
        if not hole.closed:
            continue
        at = Polygon(hole.points()).representative_point()
        around = [c for c, p in edges if p.contains(at)]
        if not around:
            verdict.add("stray-opening", f"{cut.name} at {spot(hole.rows[0])}", "outside every edge", "inside a part")
        elif any(c.order < hole.order for c in around):
            verdict.add("cut-order", f"{cut.name} at {spot(hole.rows[0])}", "opening after its edge", "openings first")


def boxes_touch(a, b) -> bool:
    """Whether two bounding boxes (min x, min y, max x, max y) meet."""
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def spot(point) -> str:
    """A place in a file, for people."""
    return f"({point[0]:.2f}, {point[1]:.2f})"
