"""Finished parts and things as solids in space, and how deep any two of them stand in each other."""

from dataclasses import dataclass, field

import manifold3d as m3
import numpy as np

from burn import Burnt, rings

# Deepest overlap that counts as touching (mm).
TOUCH_MM = 0.02
# Overlap volumes below this (mm3) are rounding of faces that lie flush.
NOISE_MM3 = 1e-6
# What may be left of an overlap when both solids were shrunk by the allowed depth (mm3).
LEFT_MM3 = 1e-9
# A placement's axes may be this far from orthonormal: the rounding of printed numbers.
ROTATION_TOL = 1e-6


@dataclass
class Part:
    """One finished part in space: rotation and origin of its file frame, thickness, outline, solid."""

    code: str
    holder: str
    rotation: np.ndarray
    origin: np.ndarray
    thickness: float
    burnt: Burnt
    solid: m3.Manifold
    slices: dict = field(default_factory=dict)

    @property
    def normal(self) -> np.ndarray:
        """The direction from the file's face z = 0 to the face z = thickness."""
        return self.rotation[:, 2]

    @property
    def box(self):
        """Bounding box in space, 6 numbers."""
        return self.solid.bounding_box()


def placement_of(numbers, where, verdict):
    """Rotation and origin of a placement; a fault if it mirrors, scales or shears."""
    m = np.array(numbers, float).reshape(4, 4)
    r = m[:3, :3]
    off = float(np.abs(r.T @ r - np.eye(3)).max())
    if not np.isfinite(m).all() or off > ROTATION_TOL or np.abs(m[3] - [0, 0, 0, 1]).max() > ROTATION_TOL:
        verdict.add("placement", where, off, f"a rigid motion within {ROTATION_TOL}")
    elif np.linalg.det(r) < 0:
        verdict.add("placement", where, "mirrored", "a rotation: a part is turned, never mirrored")
    return r, m[:3, 3]


def extrude(shape, z0, z1) -> m3.Manifold:
    """A flat shape as a solid between two heights of its own frame."""
    flat = rings(shape)
    if not flat:
        return m3.Manifold()
    section = m3.CrossSection([np.array(r) for r in flat], m3.FillRule.EvenOdd)
    return section.extrude(z1 - z0).translate([0, 0, z0])


def placed(solid, rotation, origin) -> m3.Manifold:
    """The solid moved into the holder."""
    return solid.transform(np.column_stack([rotation, origin]))


def part_solid(part_like, shape) -> m3.Manifold:
    """Another outline of the same part, at the same place."""
    return placed(extrude(shape, 0.0, part_like.thickness), part_like.rotation, part_like.origin)


def shrunk(part, by) -> m3.Manifold:
    """The part with `by` taken off every face, edges and openings included."""
    shape = part.burnt.sharp.buffer(-by, join_style="mitre", mitre_limit=10.0)
    return placed(extrude(shape, by, part.thickness - by), part.rotation, part.origin)


def apart(a, b) -> bool:
    """Whether two bounding boxes leave no room for an overlap."""
    return any(a[i] >= b[i + 3] or b[i] >= a[i + 3] for i in range(3))


def components(solid) -> list:
    """The separate bodies of a solid that are more than rounding."""
    if solid.is_empty() or solid.volume() < NOISE_MM3:
        return []
    return [c for c in solid.decompose() if c.volume() >= NOISE_MM3]


def width(body, axes) -> float:
    """Smallest width of a body across its own faces and across the given directions (rows)."""
    mesh = body.to_mesh64()
    points = mesh.vert_properties[:, :3]
    tri = points[mesh.tri_verts.astype(int)]
    normals = np.cross(tri[:, 1] - tri[:, 0], tri[:, 2] - tri[:, 0])
    size = np.linalg.norm(normals, axis=1)
    keep = size > 1e-9 * max(size.max(), 1e-12)
    unit = np.unique(np.round(normals[keep] / size[keep][:, None], 6), axis=0)
    spans = np.ptp(points @ np.vstack([unit, axes]).T, axis=0)
    return float(spans.min())


def deepest(overlap, axes):
    """The widest of an overlap's bodies: (depth in mm, where). (0, None) if there is none."""
    worst, at = 0.0, None
    for body in components(overlap):
        depth = width(body, axes)
        if depth > worst:
            box = body.bounding_box()
            worst, at = depth, [(box[i] + box[i + 3]) / 2 for i in range(3)]
    return worst, at


def spot(at) -> str:
    """A place in the holder, for people."""
    return "(" + ", ".join(f"{v:.2f}" for v in at) + ")"


def check_pair(a, b, joints, verdict):
    """How deep two parts stand in each other, against what their joint's squeeze allows."""
    squeeze = max([0.0] + [-j["fit_mm"] for j in joints])
    limit = TOUCH_MM + squeeze
    axes = np.vstack([a.rotation.T, b.rotation.T])
    verdict.count("pairs tried")
    depth, at = deepest(a.solid ^ b.solid, axes)
    if depth > limit:
        # A body that bends round a corner is wide though it is thin everywhere: only what survives
        # shrinking both parts by half the limit is deeper than the limit.
        left = shrunk(a, limit / 2) ^ shrunk(b, limit / 2)
        if left.is_empty() or left.volume() < LEFT_MM3:
            depth = limit
    verdict.most("overlap mm", depth - squeeze)
    if depth > limit:
        name = f"{a.code} and {b.code}" + (f" at {'/'.join(j['id'] for j in joints)}" if joints else ", no joint")
        verdict.count("overlaps")
        verdict.add("overlap", f"{name} near {spot(at)}", depth, f"<= {limit:.3f} mm deep")
    elif joints:
        count_fillets(a, b, limit, axes, verdict)


def count_fillets(a, b, limit, axes, verdict):
    """Overlaps that are there only because the round beam leaves fillets in re-entrant corners: counted."""
    if a.burnt.kerf_mm == 0 and b.burnt.kerf_mm == 0:
        return
    both = part_solid(a, a.burnt.physical) ^ part_solid(b, b.burnt.physical)
    if both.is_empty() or both.volume() < NOISE_MM3:
        return
    for one in (a, b):
        # what is left beside the sharp part is that part's own fillets
        for body in components(both - one.solid):
            depth = width(body, axes)
            if depth > limit:
                verdict.count("fillet overlaps")
                verdict.most("fillet mm", depth)
