"""Packages made by hand arithmetic, to judge the judge: clean scenes, which a test then spoils.

Finished outlines are written down from the trade's formulas for plates at any angle; drawn outlines
are the finished ones grown by half a kerf with mitred corners. Nothing of the judge is used here.
"""

import io
import json
import math
import struct
import zipfile
from copy import deepcopy
from dataclasses import dataclass, field

import ezdxf
import numpy as np
from shapely.geometry import Polygon

FIXED_TIME = (1980, 1, 1, 0, 0, 0)


@dataclass
class Plate:
    """One part: finished outline and openings (corner lists), round openings, axes and origin in space."""

    code: str
    thickness: float
    outer: list
    holes: list = field(default_factory=list)
    rounds: list = field(default_factory=list)
    x_axis: tuple = (1, 0, 0)
    y_axis: tuple = (0, 1, 0)
    origin: tuple = (0, 0, 0)
    kerf: float = 0.2

    def placement(self):
        """Row-major 4x4."""
        x, y = np.array(self.x_axis, float), np.array(self.y_axis, float)
        m = np.eye(4)
        m[:3, 0], m[:3, 1], m[:3, 2], m[:3, 3] = x, y, np.cross(x, y), self.origin
        return [float(v) for v in m.flatten()]

    def drawn(self):
        """Rows of x, y, bulge by layer, as the cut file holds them."""
        shape = Polygon(self.outer, self.holes).buffer(self.kerf / 2, join_style="mitre", mitre_limit=20)
        out = [("openings", [(x, y, 0.0) for x, y in r.coords[:-1]]) for r in shape.interiors]
        for x, y, r in self.rounds:
            drawn = r - self.kerf / 2
            out.append(("openings", [(x - drawn, y, 1.0), (x + drawn, y, 1.0)]))
        out.append(("edges", [(x, y, 0.0) for x, y in shape.exterior.coords[:-1]]))
        return out


@dataclass
class Scene:
    """A whole package before it is written."""

    plates: list
    joints: list
    things: list = field(default_factory=list)
    steps: list | None = None

    def plate(self, code):
        """The plate of this code."""
        return next(p for p in self.plates if p.code == code)

    def copy(self):
        """A copy to spoil."""
        return deepcopy(self)


def joint(ident, kind, a, b, fit):
    """One row of the joints' list."""
    return {"id": ident, "kind": kind, "a": a, "b": b, "fit_mm": fit}


def comb(length, depths, z_cells, gap):
    """Outline of a wall whose left edge steps between two depths, cell by cell, with play at each step."""
    left = []
    for i, (z0, z1) in enumerate(zip(z_cells, z_cells[1:])):
        x = depths[i]
        # a finger gives way on both flanks, a notch grows on both: half the play each
        grow = gap / 2 if x == max(depths) else -gap / 2
        low = z0 if i == 0 else z0 - grow
        high = z1 if i == len(z_cells) - 2 else z1 + grow
        left += [(x, low), (x, high)]
    return [(length, z_cells[0]), (length, z_cells[-1])] + left[::-1]


def corner(angle_deg=90.0, ta=3.1, tb=3.1, fit=0.04, fingers=5, kerf=0.2):
    """Two upright walls that end at each other under the inner angle; wall A owns the odd cells."""
    psi = math.radians(angle_deg)
    cells = [12.0 * i for i in range(fingers + 1)]
    d = (math.cos(psi), math.sin(psi), 0)
    far_a, far_b = max(0.0, ta / math.tan(psi)), max(0.0, tb / math.tan(psi))
    near_a = (tb + max(0.0, ta * math.cos(psi))) / math.sin(psi)
    near_b = (ta + max(0.0, tb * math.cos(psi))) / math.sin(psi)
    # both give way by half of each boundary's gap of half the fit
    a = comb(100, [far_a if i % 2 == 0 else near_a for i in range(fingers)], cells, fit / 2)
    b = comb(80, [near_b if i % 2 == 0 else far_b for i in range(fingers)], cells, fit / 2)
    return Scene(
        # A's file normal is x cross z = -y: its outer face is y = 0
        [Plate("A", ta, a, x_axis=(1, 0, 0), y_axis=(0, 0, 1), origin=(0, ta, 0), kerf=kerf),
         Plate("B", tb, b, x_axis=d, y_axis=(0, 0, 1), origin=(0, 0, 0), kerf=kerf)],
        [joint("J1", "corner", "A", "B", fit)],
    )


def leaning_tab(phi_deg=60.0, t=3.1, big_t=4.0, fit=0.1, kerf=0.2, play=0.2):
    """A plate that leans at phi on a level host, with two flush tabs: slot T*cot(phi) + t*sin(phi)."""
    phi = math.radians(phi_deg)
    c, s = math.cos(phi), math.sin(phi)
    tabs = [(20, 32), (70, 85)]
    shoulder = big_t / s
    outer = [(0, shoulder)]
    for x0, x1 in tabs:
        outer += [(x0, shoulder), (x0, 0), (x1, 0), (x1, shoulder)]
    outer += [(100, shoulder), (100, 50), (0, 50)]
    y0, y1 = -t * s - fit / 2, big_t * c / s + fit / 2
    slots = [[(a - play / 2, y0), (b + play / 2, y0), (b + play / 2, y1), (a - play / 2, y1)] for a, b in tabs]
    return Scene(
        [Plate("D1", t, outer, x_axis=(1, 0, 0), y_axis=(0, c, s), kerf=kerf),
         Plate("H", big_t, [(-10, -30), (110, -30), (110, 60), (-10, 60)], slots, kerf=kerf)],
        [joint("J1", "tab", "D1", "H", fit)],
    )


def step(number, moved, onto, direction, travel):
    """One row of the order of assembly."""
    return {"holder": "", "number": number, "moved": moved, "onto": onto, "direction": list(direction), "travel_mm": travel}


def lap(angle_deg=90.0, ta=3.1, tb=4.0, fit=0.08, kerf=0.2):
    """Two upright dividers half-lapped in the middle: slot (t + T*cos)/sin + fit, depths sum to height + 0.5."""
    psi = math.radians(angle_deg)
    c, s = abs(math.cos(psi)), math.sin(psi)
    height, low = 40.0, 18.0

    def slotted(width, top):
        w = width / 2
        if top:
            return [(-50, 0), (50, 0), (50, height), (w, height), (w, low), (-w, low), (-w, height), (-50, height)]
        return [(-50, 0), (-w, 0), (-w, low + 0.5), (w, low + 0.5), (w, 0), (50, 0), (50, height), (-50, height)]

    d = (math.cos(psi), math.sin(psi), 0)
    normal = np.cross(d, (0, 0, 1))
    return Scene(
        [Plate("V1", ta, slotted((tb + ta * c) / s + fit, True), x_axis=(1, 0, 0), y_axis=(0, 0, 1),
               origin=(0, ta / 2, 0), kerf=kerf),
         Plate("V2", tb, slotted((ta + tb * c) / s + fit, False), x_axis=d, y_axis=(0, 0, 1),
               origin=tuple(-normal * tb / 2), kerf=kerf)],
        [joint("J1", "lap", "V1", "V2", fit)],
    )


def hook(t=3.1, big_t=4.0, fit=0.08, seat=0.5, kerf=0.2):
    """An upright divider that hangs in a wall's slot, which is open to the top; it stops `seat` above the slot's end."""
    half, end = (t + fit) / 2, 20.0
    wall = [(-50, 0), (50, 0), (50, 40), (half, 40), (half, end), (-half, end), (-half, 40), (-50, 40)]
    divider = [(big_t, 0), (60, 0), (60, 40), (0, 40), (0, end + seat), (big_t, end + seat)]
    return Scene(
        [Plate("D1", t, divider, x_axis=(0, 1, 0), y_axis=(0, 0, 1), origin=(-t / 2, 0, 0), kerf=kerf),
         Plate("H", big_t, wall, x_axis=(1, 0, 0), y_axis=(0, 0, 1), origin=(0, big_t, 0), kerf=kerf)],
        [joint("J1", "hook", "D1", "H", fit)],
    )


def grid(n=6, t=3.1, big_t=4.0, fit=0.08, pitch=30.0, kerf=0.2):
    """n dividers across n dividers, every pair half-lapped."""
    length, height, low = pitch * (n + 1), 40.0, 18.0

    def slots(width, mouth, bottom):
        row = []
        for k in range(1, n + 1):
            a, b = k * pitch - width / 2, k * pitch + width / 2
            row += [(a, mouth), (a, bottom), (b, bottom), (b, mouth)]
        return row

    across = [(0, 0), (length, 0), (length, height), *slots(big_t + fit, height, low)[::-1], (0, height)]
    along = [(0, 0), *slots(t + fit, 0, low + 0.5), (length, 0), (length, height), (0, height)]
    ranks = range(1, n + 1)
    plates = [Plate(f"X{i}", t, across, y_axis=(0, 0, 1), origin=(0, i * pitch + t / 2, 0), kerf=kerf) for i in ranks]
    plates += [Plate(f"Y{i}", big_t, along, x_axis=(0, 1, 0), y_axis=(0, 0, 1), origin=(i * pitch - big_t / 2, 0, 0), kerf=kerf)
               for i in ranks]
    return Scene(plates, [joint(f"J{i}-{j}", "lap", f"X{i}", f"Y{j}", fit) for i in ranks for j in ranks])


def deck(kerf=0.2):
    """A deck with two round holes, a bottle standing in one, a block beside it."""
    bottle = {"kind": "revolution", "profile_mm": [[0, 19], [60, 19], [75, 8], [90, 3]]}
    block = {"kind": "prism", "section_mm": [[-5, -5], [5, -5], [5, 5], [-5, 5]], "height_mm": 20}

    def at(x, y, z):
        return [1, 0, 0, x, 0, 1, 0, y, 0, 0, 1, z, 0, 0, 0, 1]

    return Scene(
        [Plate("K", 3.1, [(0, 0), (110, 0), (110, 50), (0, 50)], rounds=[(28, 25, 19.5), (82, 25, 19.5)],
               origin=(0, 0, 30), kerf=kerf)],
        [],
        [{"id": "lube", "shape": bottle, "placement": at(28, 25, 0)},
         {"id": "block", "shape": block, "placement": at(55, 25, 33.1)}],
    )


def dxf_bytes(layers) -> bytes:
    """A DXF file of (layer, rows) polylines, closed."""
    doc = ezdxf.new("R2010", units=4)
    for name in ("mark", "openings", "edges"):
        doc.layers.add(name)
    for layer, rows in layers:
        doc.modelspace().add_lwpolyline(rows, format="xyb", close=True, dxfattribs={"layer": layer})
    out = io.StringIO()
    doc.write(out)
    return out.getvalue().encode()


def svg_bytes(layers, width, height) -> bytes:
    """The same polylines as SVG, y turned over."""
    groups = {}
    for layer, rows in layers:
        d = f"M{rows[0][0]:.6f},{height - rows[0][1]:.6f}"
        for (x, y, bulge), (x1, y1, _) in zip(rows, rows[1:] + rows[:1]):
            if bulge:
                r = math.hypot(x1 - x, y1 - y) * (1 + bulge**2) / (4 * abs(bulge))
                d += f" A{r:.6f} {r:.6f} 0 {int(abs(bulge) > 1)} {int(bulge < 0)} {x1:.6f},{height - y1:.6f}"
            else:
                d += f" L{x1:.6f},{height - y1:.6f}"
        groups.setdefault(layer, []).append(f'<path d="{d} Z"/>')
    body = "".join(f'<g id="{k}" fill="none" stroke="#000">{"".join(v)}</g>' for k, v in groups.items())
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
    return (head + body + "</svg>").encode()


def nest_rows(plates):
    """All plates on one sheet in a row, each turned by a quarter and a bit."""
    layers, x, top = [], 5.0, 0.0
    c, s = math.cos(math.radians(97)), math.sin(math.radians(97))
    for plate in plates:
        turned = [(k, [(c * a - s * b, s * a + c * b, g) for a, b, g in rows]) for k, rows in plate.drawn()]
        xs = [p[0] for _, rows in turned for p in rows]
        ys = [p[1] for _, rows in turned for p in rows]
        dx, dy = x - min(xs), 5 - min(ys)
        layers += [(k, [(a + dx, b + dy, g) for a, b, g in rows]) for k, rows in turned]
        x += max(xs) - min(xs) + 5
        top = max(top, max(ys) - min(ys))
    return layers, math.ceil(x + 5), math.ceil(top + 10)


def solid_points(scene):
    """Corner points of all plates and things in space."""
    out = []
    for p in scene.plates:
        m = np.array(p.placement()).reshape(4, 4)
        flat = [(x, y, z, 1) for x, y in p.outer for z in (0, p.thickness)]
        out.append((np.array(flat) @ m.T)[:, :3])
    for t in scene.things:
        m, shape = np.array(t["placement"], float).reshape(4, 4), t["shape"]
        if shape["kind"] == "prism":
            flat = [(x, y, z, 1) for x, y in shape["section_mm"] for z in (0, shape["height_mm"])]
        else:
            flat = [(x, y, z, 1) for z, r in shape["profile_mm"] for x in (-r, r) for y in (-r, r)]
        out.append((np.array(flat) @ m.T)[:, :3])
    return np.vstack(out)


def glb_bytes(scene) -> bytes:
    """A model of one box round the scene, in metres, Y up."""
    p = solid_points(scene)[:, [0, 2, 1]] * [0.001, 0.001, -0.001]
    low, high = p.min(axis=0).astype("<f4"), p.max(axis=0).astype("<f4")
    corners = np.array([[(low, high)[i][0], (low, high)[j][1], (low, high)[k][2]]
                        for i in (0, 1) for j in (0, 1) for k in (0, 1)], "<f4")
    faces = np.array([0, 1, 3, 0, 3, 2, 4, 6, 7, 4, 7, 5, 0, 4, 5, 0, 5, 1, 2, 3, 7, 2, 7, 6, 0, 2, 6, 0, 6, 4, 1, 5, 7, 1, 7, 3], "<u2")
    body = corners.tobytes() + faces.tobytes()
    doc = {
        "asset": {"version": "2.0"}, "scene": 0, "scenes": [{"nodes": [0]}], "nodes": [{"mesh": 0}],
        "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
        "accessors": [
            {"bufferView": 0, "componentType": 5126, "count": 8, "type": "VEC3",
             "min": [float(v) for v in low], "max": [float(v) for v in high]},
            {"bufferView": 1, "componentType": 5123, "count": 36, "type": "SCALAR"},
        ],
        "bufferViews": [{"buffer": 0, "byteLength": 96, "target": 34962},
                        {"buffer": 0, "byteOffset": 96, "byteLength": 72, "target": 34963}],
        "buffers": [{"byteLength": len(body)}],
    }
    text = json.dumps(doc).encode()
    text += b" " * (-len(text) % 4)
    length = 12 + 8 + len(text) + 8 + len(body)
    return (struct.pack("<III", 0x46546C67, 2, length) + struct.pack("<II", len(text), 0x4E4F534A) + text
            + struct.pack("<II", len(body), 0x004E4942) + body)


def package_files(scene) -> dict:
    """All files of a package, as the judge expects them."""
    sheet, width, height = nest_rows(scene.plates)
    assembly = {
        "format": "berth-assembly/1", "unit": "mm", "joints": scene.joints, "things": scene.things,
        "parts": [{"code": p.code, "file": f"parts/{p.code}.dxf", "material": "birch-ply-3",
                   "thickness_mm": p.thickness, "kerf_mm": p.kerf, "placement": p.placement()} for p in scene.plates],
    }
    if scene.steps is not None:
        assembly["steps"] = scene.steps
    files = {f"parts/{p.code}.dxf": dxf_bytes(p.drawn()) for p in scene.plates}
    files |= {
        "assembly.json": json.dumps(assembly).encode(), "report.json": b'{"verdict": "ok", "findings": []}',
        "spec.json": b"{}", "bill.json": b"{}", "bill.csv": b"", "cautions.txt": b"", "model.glb": glb_bytes(scene),
        "plan.svg": b"", "sheets/01-birch-ply-3.dxf": dxf_bytes(sheet),
        "sheets/01-birch-ply-3.svg": svg_bytes(sheet, width, height),
    }
    return files


def zip_bytes(files) -> bytes:
    """Files as a ZIP, sorted, with one time stamp."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(files):
            archive.writestr(zipfile.ZipInfo(name, FIXED_TIME), files[name])
    return out.getvalue()


def package(scene) -> bytes:
    """A scene as a package."""
    return zip_bytes(package_files(scene))
