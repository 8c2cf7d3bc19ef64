"""Reads a sheet's SVG and compares it with its DXF twin: the same lines, only with y turned over.

Arc arithmetic from SVG 2, appendix B.2 (end point to centre), for circular arcs without rotation.
"""

import math
import re
import xml.etree.ElementTree as ET

import numpy as np

from contour import Contour
from cutfile import LAYERS

NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
TOKEN = re.compile(r"[A-Za-z]|" + NUMBER.pattern)
# How far length (mm) and area (mm2) of the twins may differ, per contour: rounding of printed digits.
TWIN_TOL = 0.01


class SvgError(ValueError):
    """The file is not what a cut sheet's SVG may be."""


def read_svg(data: bytes):
    """(width mm, height mm, contours) of a sheet's SVG. Raises SvgError."""
    try:
        root = ET.fromstring(data)
    except ET.ParseError as error:
        raise SvgError(str(error)) from error
    size = [millimetres(root.get(k, "")) for k in ("width", "height")]
    box = [float(v) for v in NUMBER.findall(root.get("viewBox", ""))]
    if len(box) != 4 or abs(box[2] - size[0]) > 1e-3 or abs(box[3] - size[1]) > 1e-3:
        raise SvgError(f"viewBox {box} is not the size {size} in mm")
    contours = []
    walk(root, None, np.eye(3), contours)
    return size[0], size[1], contours


def millimetres(text) -> float:
    """A length that says mm."""
    found = re.fullmatch(r"\s*(" + NUMBER.pattern + r")mm\s*", text)
    if not found:
        raise SvgError(f"size {text!r} is not in mm")
    return float(found.group(1))


def walk(node, layer, matrix, out):
    """Collects contours under a node, with the layer of the innermost named group."""
    tag = node.tag.split("}")[-1]
    if tag in ("title", "desc", "metadata", "style", "defs"):
        return
    if node.get("id") in LAYERS:
        layer = node.get("id")
    if node.get("transform"):
        matrix = matrix @ transform(node.get("transform"))
    drawn = {"path": path, "polyline": polyline, "polygon": polyline, "line": line, "circle": circle}.get(tag)
    if drawn:
        for rows, closed in drawn(node):
            out.append(Contour(layer or "(none)", moved(rows, matrix), closed, len(out)))
    elif tag not in ("svg", "g", "text"):
        raise SvgError(f"element {tag}")
    for child in node:
        walk(child, layer, matrix, out)


def transform(text):
    """Translations and matrices without scale; nothing else belongs in a cut sheet."""
    matrix = np.eye(3)
    for name, body in re.findall(r"(\w+)\s*\(([^)]*)\)", text):
        v = [float(x) for x in NUMBER.findall(body)]
        if name == "translate":
            step = np.array([[1, 0, v[0]], [0, 1, v[1] if len(v) > 1 else 0], [0, 0, 1]], float)
        elif name == "matrix":
            step = np.array([[v[0], v[2], v[4]], [v[1], v[3], v[5]], [0, 0, 1]], float)
        elif name == "scale":
            step = np.diag([v[0], v[1] if len(v) > 1 else v[0], 1.0])
        elif name == "rotate" and len(v) == 1:
            c, s = math.cos(math.radians(v[0])), math.sin(math.radians(v[0]))
            step = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])
        else:
            raise SvgError(f"transform {name}")
        matrix = matrix @ step
    if abs(abs(np.linalg.det(matrix[:2, :2])) - 1) > 1e-9:
        raise SvgError("a transform that scales")
    return matrix


def moved(rows, matrix):
    """Rows under a rigid motion; a mirror turns the bulges round."""
    xy = rows[:, :2] @ matrix[:2, :2].T + matrix[:2, 2]
    return np.column_stack([xy, rows[:, 2] * np.sign(np.linalg.det(matrix[:2, :2]))])


def polyline(node):
    """Points of a polyline or polygon."""
    v = np.array([float(x) for x in NUMBER.findall(node.get("points", ""))]).reshape(-1, 2)
    yield np.column_stack([v, np.zeros(len(v))]), node.tag.endswith("polygon")


def line(node):
    """A line."""
    v = [float(node.get(k, 0)) for k in ("x1", "y1", "x2", "y2")]
    yield np.array([[v[0], v[1], 0.0], [v[2], v[3], 0.0]]), False


def circle(node):
    """A circle as two half circles."""
    x, y, r = (float(node.get(k, 0)) for k in ("cx", "cy", "r"))
    yield np.array([[x - r, y, 1.0], [x + r, y, 1.0]]), True


def path(node):
    """The subpaths of a path made of M, L, H, V, A and Z."""
    tokens = TOKEN.findall(re.sub(r"[\s,]+", " ", node.get("d", "")))
    rows, at, start, command, i = [], np.zeros(2), np.zeros(2), None, 0
    while i < len(tokens):
        if tokens[i].isalpha():
            command = tokens[i]
            i += 1
        if command in ("Z", "z"):
            yield closed_rows(rows), True
            rows, at = [], start
            continue
        need = {"M": 2, "L": 2, "H": 1, "V": 1, "A": 7}.get(command.upper() if command else "")
        if need is None:
            raise SvgError(f"path command {command}")
        v = [float(x) for x in tokens[i:i + need]]
        i += need
        if len(v) < need:
            raise SvgError("a path that ends early")
        if command in "Mm" and rows:
            yield np.array(rows), False
            rows = []
        to = target(command, v, at)
        if command in "Mm":
            start, command = to, "L" if command == "M" else "l"
        elif not rows:
            rows.append([*at, 0.0])
        if command in "Aa" and rows:
            rows[-1][2] = bulge_of(at, to, v)
        rows.append([*to, 0.0])
        at = to
    if len(rows) > 1:
        yield np.array(rows), False


def target(command, v, at):
    """Where one command ends."""
    base = at if command.islower() else np.zeros(2)
    if command in "Hh":
        return np.array([base[0] + v[0], at[1]])
    if command in "Vv":
        return np.array([at[0], base[1] + v[0]])
    return base + np.array(v[-2:])


def bulge_of(a, b, v):
    """Bulge of a circular SVG arc; positive sweep is counter-clockwise in the file's own y-down numbers' algebra."""
    rx, ry, _, large, sweep = v[:5]
    if abs(rx - ry) > 1e-9:
        raise SvgError("an elliptic arc")
    half = math.hypot(*(b - a)) / 2
    angle = 2 * math.asin(min(1.0, half / rx))
    if large:
        angle = 2 * math.pi - angle
    return math.tan(angle / 4) * (1 if sweep else -1)


def closed_rows(rows):
    """Drops an end point that repeats the start, which Z would draw as an edge of no length."""
    if len(rows) > 2 and math.hypot(rows[0][0] - rows[-1][0], rows[0][1] - rows[-1][1]) < 1e-9:
        rows = rows[:-1]
    return np.array(rows)


def check_twin(cut, data, verdict):
    """Counts, lengths and areas by layer agree between the DXF and the SVG; all lines lie on the sheet."""
    name = cut.name[:-4] + ".svg"
    try:
        width, height, contours = read_svg(data)
    except (SvgError, ValueError, IndexError) as error:
        verdict.add("svg", name, "unreadable", "a plain SVG in mm", str(error)[:120])
        return None
    verdict.count("svg files")
    for layer in {c.layer for c in contours} | set(LAYERS):
        twin, own = [c for c in contours if c.layer == layer], cut.on(layer)
        if len(twin) != len(own):
            verdict.add("svg-twin", f"{name} {layer}", len(twin), f"{len(own)} contours as in the DXF")
            continue
        for measure in ("length", "area"):
            if layer == "mark" and measure == "area":
                continue
            pairs = zip(measures(twin, measure), measures(own, measure))
            worst = max((abs(x - y) for x, y in pairs), default=0.0)
            verdict.most(f"svg {measure} error", worst)
            if worst > TWIN_TOL:
                verdict.add("svg-twin", f"{name} {layer} {measure}", worst, f"<= {TWIN_TOL} from the DXF")
    return width, height


def measures(contours, kind):
    """Sorted lengths, or sorted areas without their sign (y runs the other way in SVG)."""
    return sorted(abs(getattr(c, kind)()) for c in contours)
