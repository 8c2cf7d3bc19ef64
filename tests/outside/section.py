"""Two slabs in the section square to their common line.

A plate is a slab, so a section square to the common line e = n_a x n_b cuts it into rectangles: along
the plate where the line through its outline runs inside, and across it from 0 to the thickness. All
that a joint is about can be measured on those rectangles, at any angle.
"""

import numpy as np

from burn import rings

# Plates nearer to parallel than this (sine of the angle) have no common line to speak of: 3 degrees.
PARALLEL_SIN = 0.05
FAR = 1e9


class View:
    """One part seen along a common line: s runs along the line, q across it in the part's plane, z through it."""

    def __init__(self, part, e):
        self.part, self.e = part, e
        self.n = part.normal
        self.u = np.cross(self.n, e)
        self.t = part.thickness
        self.o = part.origin
        local = np.array([part.rotation.T @ e, part.rotation.T @ self.u])[:, :2]
        shift = np.array([e @ part.origin, 0.0])
        starts, ends = [], []
        for ring in rings(part.burnt.sharp):
            p = np.array(ring) @ local.T + shift
            starts.append(p)
            ends.append(np.roll(p, -1, axis=0))
        self.a = np.vstack(starts) if starts else np.zeros((0, 2))
        self.b = np.vstack(ends) if ends else np.zeros((0, 2))

    def along_q(self, s):
        """Material intervals across the common line at the place s."""
        return self._cut(0, s)

    def along_s(self, q):
        """Material intervals along the common line at the distance q."""
        return self._cut(1, q)

    def _cut(self, axis, value):
        a, b = self.a, self.b
        hit = (a[:, axis] <= value) != (b[:, axis] <= value)
        a, b = a[hit], b[hit]
        other = 1 - axis
        share = (value - a[:, axis]) / (b[:, axis] - a[:, axis])
        cuts = np.sort(a[:, other] + share * (b[:, other] - a[:, other]))
        return [(float(x), float(y)) for x, y in zip(cuts[::2], cuts[1::2])]

    def point(self, q, z):
        """A point of the section plane through the world's origin, in space."""
        flat = self.o - self.e * (self.e @ self.o)
        return flat + q * self.u + z * self.n

    def coords(self, p):
        """(q, z) of points in the section plane (rows, in space), in this part's frame."""
        d = np.atleast_2d(p) - self.point(0.0, 0.0)
        return np.column_stack([d @ self.u, d @ self.n])

    def rectangle(self, span):
        """The four corners of one section rectangle, in space."""
        (q0, q1), t = span, self.t
        return np.array([self.point(q, z) for q, z in ((q0, 0), (q1, 0), (q1, t), (q0, t))])


def common_line(a, b):
    """Unit direction of the line in which two plates' planes meet, or None if they are near parallel."""
    e = np.cross(a.normal, b.normal)
    size = np.linalg.norm(e)
    return None if size < PARALLEL_SIN else e / size


def at_depth(view, host, z_host, z_own):
    """q in `view` of the line that runs at height z_own in its slab and at z_host in the host's slab."""
    p = view.point(0.0, z_own)
    z = (p - host.point(0.0, 0.0)) @ host.n
    return (z_host - z) / (view.u @ host.n)


def clip_to_slab(corners, t):
    """A convex polygon (rows q, z) clipped to 0 <= z <= t."""
    for keep, edge in ((1.0, 0.0), (-1.0, t)):
        out = []
        for p, r in zip(corners, np.roll(corners, -1, axis=0)):
            dp, dr = keep * (p[1] - edge), keep * (r[1] - edge)
            if dp >= 0:
                out.append(p)
            if (dp > 0 > dr) or (dp < 0 < dr):
                out.append(p + (r - p) * dp / (dp - dr))
        corners = np.array(out)
        if len(corners) < 3:
            return np.zeros((0, 2))
    return corners


def voids(intervals):
    """The gaps between material intervals, the outer two running to infinity."""
    edges = [-FAR] + [v for pair in intervals for v in pair] + [FAR]
    return list(zip(edges[::2], edges[1::2]))


def void_at(intervals, where):
    """The gap that holds this place, or None if there is material."""
    return next((v for v in voids(intervals) if v[0] <= where <= v[1]), None)


def directed_gap(mover, target, u, n):
    """Free way of a convex section (rows, space) along u until it touches the target: (first arris, last arris).

    Measured on every arris that the two have in common across u; None if they pass each other by.
    """
    m = np.column_stack([mover @ u, mover @ n])
    g = np.column_stack([target @ u, target @ n])
    low, high = max(m[:, 1].min(), g[:, 1].min()), min(m[:, 1].max(), g[:, 1].max())
    if high - low < 0.2 * (m[:, 1].max() - m[:, 1].min()):
        return None
    if g[:, 0].mean() < m[:, 0].mean():
        m[:, 0], g[:, 0] = -m[:, 0], -g[:, 0]
    heights = [h for h in np.concatenate([m[:, 1], g[:, 1], [low, high]]) if low <= h <= high]
    gaps = [span_at(g, h)[0] - span_at(m, h)[1] for h in heights]
    return float(min(gaps)), float(max(gaps))


def span_at(polygon, height):
    """Extent of a convex polygon (rows along, across) at one height across."""
    found = []
    for p, r in zip(polygon, np.roll(polygon, -1, axis=0)):
        low, high = min(p[1], r[1]), max(p[1], r[1])
        if high - low < 1e-9:
            if abs(height - p[1]) < 1e-6:
                found += [p[0], r[0]]
        elif low - 1e-9 <= height <= high + 1e-9:
            found.append(p[0] + (r[0] - p[0]) * min(1.0, max(0.0, (height - p[1]) / (r[1] - p[1]))))
    return min(found), max(found)
