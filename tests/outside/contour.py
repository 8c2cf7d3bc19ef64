"""Outlines of lines and true arcs, as cut files hold them.

The arithmetic of a bulge is written here from its definition (tangent of a quarter of the included
angle, positive when the arc runs counter-clockwise: DXF reference, LWPOLYLINE group 42), because
curve libraries flatten arcs through Bezier curves and lose 1e-4 of the length.
"""

import math
from dataclasses import dataclass

import numpy as np

# Chords are allowed to leave an arc by this much (mm): a twentieth of the tolerance of every verdict.
CHORD_MM = 0.001


@dataclass
class Contour:
    """One polyline of a cut file: rows of x, y, bulge; the bulge belongs to the edge that starts there."""

    layer: str
    rows: np.ndarray
    closed: bool
    order: int = 0

    def edges(self):
        """Yields (start, end, bulge) for every edge."""
        n = len(self.rows)
        last = n if self.closed else n - 1
        for i in range(last):
            a, b = self.rows[i], self.rows[(i + 1) % n]
            yield a[:2], b[:2], float(a[2])

    def length(self) -> float:
        """Exact length in mm."""
        return sum(edge_length(a, b, bulge) for a, b, bulge in self.edges())

    def area(self) -> float:
        """Exact signed area in mm2, positive when counter-clockwise; arcs are counted as circle segments."""
        total = 0.0
        for a, b, bulge in self.edges():
            total += (a[0] * b[1] - b[0] * a[1]) / 2
            if bulge:
                angle = 4 * math.atan(bulge)
                r = radius(a, b, bulge)
                total += r * r / 2 * (angle - math.sin(angle))
        return total

    def points(self, chord_mm: float = CHORD_MM) -> np.ndarray:
        """The vertices of the flattened contour, without a repeated end."""
        out = []
        for a, b, bulge in self.edges():
            out.append(a[None, :])
            if bulge:
                out.append(arc_points(a, b, bulge, chord_mm))
        if not self.closed:
            out.append(self.rows[-1:, :2])
        return np.vstack(out)


def edge_length(a, b, bulge) -> float:
    """Length of one edge, line or arc."""
    if not bulge:
        return math.hypot(*(b - a))
    return abs(4 * math.atan(bulge)) * radius(a, b, bulge)


def radius(a, b, bulge) -> float:
    """Radius of the arc of this bulge: chord * (1 + bulge^2) / (4 * |bulge|)."""
    return math.hypot(*(b - a)) * (1 + bulge * bulge) / (4 * abs(bulge))


def centre(a, b, bulge):
    """Centre of the arc: on the chord's bisector, chord * (1 - bulge^2) / (4 * bulge) to its left."""
    mid, d = (a + b) / 2, b - a
    return mid + np.array([-d[1], d[0]]) * (1 - bulge * bulge) / (4 * bulge)


def arc_points(a, b, bulge, chord_mm):
    """Points on the arc strictly between its ends, no chord farther than chord_mm from the arc."""
    c, r = centre(a, b, bulge), radius(a, b, bulge)
    angle = 4 * math.atan(bulge)
    step = 2 * math.acos(max(0.0, 1 - chord_mm / r)) if r > chord_mm else math.pi / 2
    n = max(2, math.ceil(abs(angle) / step))
    start = math.atan2(a[1] - c[1], a[0] - c[0])
    turn = start + angle * np.arange(1, n) / n
    return np.column_stack([c[0] + r * np.cos(turn), c[1] + r * np.sin(turn)])
