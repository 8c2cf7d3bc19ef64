"""An empty slot: a closed opening made for a joint in which nothing stands. No overlap check sees it."""

from shapely.geometry import Polygon

from section import View, common_line
from solids import apart, extrude, placed

# Filled share of a slot's volume below which it counts as empty. A leaning tab fills no less than half
# of its full slot down to 20 degrees, t*T/sin(phi) of (t + T*cos(phi))*T/sin(phi).
FILLED = 0.25
# A slot may stick out of its joint's band by this much (mm): fit, and the squeeze of a wide fit.
BAND_TOL_MM = 0.5


def check_slots(host, joints, parts, verdict):
    """Every closed opening of `host` inside the band of one of its tab joints holds material of some part."""
    bands = [(j, band(host, enter)) for j, enter in joints]
    for hole in host.burnt.sharp.interiors if host.burnt.sharp.geom_type == "Polygon" else []:
        owners = [j["id"] for j, b in bands if b and inside(hole, b)]
        if not owners:
            continue
        verdict.count("slots")
        prism = placed(extrude(Polygon(hole), 0.0, host.thickness), host.rotation, host.origin)
        box, volume = prism.bounding_box(), prism.volume()
        filled = sum((prism ^ p.solid).volume() for p in parts if p is not host and not apart(box, p.box))
        if filled < FILLED * volume:
            c = Polygon(hole).centroid
            where = f"{host.code} slot near ({c.x:.2f}, {c.y:.2f}) of {'/'.join(owners)}"
            verdict.add("empty-slot", where, filled / volume, f">= {FILLED} of the slot filled")


def band(host, enter):
    """The strip of the host's plane under the entering slab: (view, from, to), or None if parallel."""
    e = common_line(host, enter)
    if e is None:
        return None
    vh, ve = View(host, e), View(enter, e)
    qs = [vh_at(vh, ve, zh, ze) for zh in (0.0, vh.t) for ze in (0.0, ve.t)]
    return vh, min(qs), max(qs)


def vh_at(vh, ve, z_host, z_enter):
    """q in the host of the line at one height of either slab."""
    p = vh.point(0.0, z_host)
    return (z_enter - (p - ve.point(0.0, 0.0)) @ ve.n) / (vh.u @ ve.n)


def inside(hole, strip) -> bool:
    """Whether an opening lies in the strip."""
    view, low, high = strip
    local = [float(view.u @ (view.part.rotation[:, :2] @ p[:2])) for p in hole.coords]
    return min(local) > low - BAND_TOL_MM and max(local) < high + BAND_TOL_MM
