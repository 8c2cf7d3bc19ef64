"""The model's size against the judged parts: metres, Y up, and nothing left out.

glTF 2.0 has metres and +Y up, right-handed; a holder's x, z, -y are therefore glTF's x, y, z. Whether
the file is valid glTF is said by the validator in gltf/; this only asks if it shows the same holder.
"""

import json
import struct

import numpy as np

MAGIC, JSON_CHUNK = 0x46546C67, 0x4E4F534A
# The model may be coarser than the cut files: facets of round things (mm).
SIZE_TOL_MM = 0.2


def check_model(data, solids, verdict):
    """Bounding size of model.glb against that of the solids (parts and things) of the holder."""
    try:
        have = model_size(data)
    except (ValueError, KeyError, IndexError, TypeError, struct.error) as error:
        verdict.add("model", "model.glb", "unreadable", "glTF 2.0 binary", repr(error)[:120])
        return
    boxes = np.array([s.bounding_box() for s in solids])
    x, y, z = boxes[:, 3:].max(axis=0) - boxes[:, :3].min(axis=0)
    for axis, got, want in zip("xyz", have, (x, z, y)):
        verdict.most("model size error mm", abs(got - want))
        if abs(got - want) > SIZE_TOL_MM:
            verdict.add("model", f"model.glb size along {axis}", float(got), f"{want:.2f} +- {SIZE_TOL_MM} mm")


def model_size(data):
    """Size in mm of all corners of the scene's meshes, at their nodes' places."""
    magic, version, length = struct.unpack_from("<III", data, 0)
    chunk, kind = struct.unpack_from("<II", data, 12)
    if magic != MAGIC or version != 2 or length != len(data) or kind != JSON_CHUNK:
        raise ValueError("not a GLB of version 2")
    doc = json.loads(data[20:20 + chunk])
    # the binary chunk follows, after its own head of two words
    binary = data[20 + chunk + 8:]
    points = []
    for root in doc["scenes"][doc.get("scene", 0)]["nodes"]:
        collect(doc, binary, root, np.eye(4), points)
    corners = np.vstack(points)
    return 1000 * (corners.max(axis=0) - corners.min(axis=0))


def collect(doc, binary, index, matrix, points):
    """Corners of the meshes of one node and its children."""
    node = doc["nodes"][index]
    matrix = matrix @ local_matrix(node)
    if "mesh" in node:
        for primitive in doc["meshes"][node["mesh"]]["primitives"]:
            own = positions(doc, binary, primitive["attributes"]["POSITION"])
            points.append(own @ matrix[:3, :3].T + matrix[:3, 3])
    for child in node.get("children", []):
        collect(doc, binary, child, matrix, points)


def positions(doc, binary, index):
    """Rows of x, y, z of one accessor: a box about a leaning thing would be larger than the thing."""
    accessor = doc["accessors"][index]
    view = doc["bufferViews"][accessor["bufferView"]]
    start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
    stride = view.get("byteStride", 12)
    raw = np.frombuffer(binary, np.uint8, (accessor["count"] - 1) * stride + 12, start)
    rows = np.lib.stride_tricks.as_strided(raw, (accessor["count"], 12), (stride, 1))
    return np.ascontiguousarray(rows).view("<f4").astype(float)


def local_matrix(node):
    """A node's own matrix (glTF stores columns), or its translation, rotation and scale."""
    if "matrix" in node:
        return np.array(node["matrix"], float).reshape(4, 4).T
    x, y, z, w = node.get("rotation", (0, 0, 0, 1))
    turn = np.array([[1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
                     [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
                     [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)]])
    m = np.eye(4)
    m[:3, :3] = turn * np.array(node.get("scale", (1, 1, 1)), float)
    m[:3, 3] = node.get("translation", (0, 0, 0))
    return m
