#!/usr/bin/env python3
"""Asks a running service to cut parts of packages again, and puts them between their old neighbours.

    recut.py http://127.0.0.1:8080

Every part of every example is cut again: without a sheet it must be the first file byte for byte; on another
lot the part, burnt with that lot's kerf and as thick as that lot, must fit its old neighbours as the lot says.
Exit code 0 if nothing was found, 1 if anything was.
"""

import io
import json
import sys
import urllib.error
import urllib.request
import zipfile
from dataclasses import replace
from pathlib import Path

from burn import burn
from cutfile import read_dxf
from faults import Verdict
from joints import SHARES, JointJudge
from judge import burn_parts
from read import read_package
from slots import entries
from service import TIMEOUT_S, Service
from solids import apart, check_pair, extrude, placed

# Today's sheets: how much thicker than the first one (mm). Trade practice: thinner by more than 0.1 is refused.
LOTS = (0.04, -0.06)
# Their kerf (mm), another than any example's.
KERF_MM = 0.21
LINE = "a-line-that-stands-in-no-package"
EXAMPLES = Path(__file__).resolve().parents[2] / "shared" / "examples"


def recut(base, package, order):
    """Posts a form (RFC 7578): the files that come back, by name."""
    body = b""
    for name, data in (("package", package), ("recut", json.dumps(order).encode())):
        body += f'--{LINE}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n'.encode() + data + b"\r\n"
    request = urllib.request.Request(
        base + "/v1/recuts", data=body + f"--{LINE}--\r\n".encode(), method="POST",
        headers={"Content-Type": f"multipart/form-data; boundary={LINE}", "Accept": "application/zip"})
    with urllib.request.urlopen(request, timeout=TIMEOUT_S) as answer:
        archive = zipfile.ZipFile(io.BytesIO(answer.read()))
    return {name: archive.read(name) for name in archive.namelist()}


class Between(JointJudge):
    """A joint of which one part was cut again from a sheet thicker by `by`."""

    def __init__(self, joint, a, b, parts, verdict, code, by):
        moved = dict(joint)
        if joint["kind"] in ("tab", "hook") and joint["a"] == code:
            moved["fit_mm"] = joint["fit_mm"] - by
        elif by < 0:
            # the old neighbour was cut for a thicker part: it stands proud of this one
            moved["proud_mm"] = joint.get("proud_mm", 0.0) - by
        super().__init__(moved, a, b, parts, verdict)
        self.code, self.by = code, by

    def lap(self):
        """The old neighbour's slot is off by the sheet; the own one follows the neighbour."""
        for low, high, owner in self.line_cells():
            enter, host = (self.va, self.vb) if owner == "a" else (self.vb, self.va)
            mine = (self.a if owner == "a" else self.b).code == self.code
            for share in SHARES:
                s = low + share * (high - low)
                for entry in entries(enter, host, s):
                    if entry.fit is not None:
                        self.near("fit", s, entry.fit, self.fit - (self.by if mine else 0.0))


def judge_part(package, parts, code, files, by, verdict, expected=None):
    """Puts one part between its old neighbours; `expected` other than `by` is a control that must fail."""
    report = json.loads(files["recut.json"])
    line = next(p for p in report["parts"] if p["code"] == code)
    old = next(p for p in parts if p.code == code)
    burnt = burn(read_dxf(line["file"], files[line["file"]], verdict), KERF_MM, verdict)
    if burnt is None:
        return
    thickness = old.thickness + by
    origin = old.origin + old.rotation[:, 2] * line["moved_mm"]
    solid = placed(extrude(burnt.sharp, 0.0, thickness), old.rotation, origin)
    new = replace(old, origin=origin, thickness=thickness, burnt=burnt, solid=solid)
    all_parts = [new if p.code == code else p for p in parts]
    by_code = {p.code: p for p in all_parts}
    for joint in package.assembly["joints"]:
        if code not in (joint["a"], joint["b"]):
            continue
        a, b = by_code[joint["a"]], by_code[joint["b"]]
        holder = [p for p in all_parts if p.holder == new.holder]
        judge = Between(joint, a, b, holder, verdict, code, by if expected is None else expected)
        judge.judge()
        check_pair(a, b, [judge.joint | {"fit_mm": min(joint["fit_mm"], joint["fit_mm"] - by)}], verdict)
    for other in all_parts:
        joined = any({code, other.code} == {j["a"], j["b"]} for j in package.assembly["joints"])
        if other.code != code and not joined and not apart(new.box, other.box):
            check_pair(new, other, [], verdict)


def judge_example(base, path, totals) -> list:
    """All parts of one example, on all lots. The verdicts that found something."""
    status, _, data = Service(base).make(json.loads(path.read_text()))
    verdict = Verdict(path.stem)
    if status != 200:
        verdict.add("not-made", path.stem, status, "200")
        return [verdict]
    package = read_package(path.stem, data, verdict)
    parts, _ = burn_parts(package, verdict)
    first = recut(base, data, {"parts": [p.code for p in parts]})
    for entry in package.assembly["parts"]:
        totals["same bytes"] += first.get(entry["file"]) == package.files[entry["file"]]
        if first.get(entry["file"]) != package.files[entry["file"]]:
            verdict.add("other-bytes", entry["code"], "other bytes", "the first file's")
    found = [verdict]
    for i, entry in enumerate(package.assembly["parts"]):
        by = LOTS[i % len(LOTS)]
        sheet = {"id": "today", "material": entry["material"], "readings_mm": [entry["thickness_mm"] + by], "kerf_mm": KERF_MM}
        one = Verdict(f"{path.stem} {entry['code']} {by:+.2f}")
        try:
            files = recut(base, data, {"parts": [entry["code"]], "sheet": sheet})
        except urllib.error.HTTPError as error:
            one.add("refused", entry["code"], error.code, "200", error.read()[:300].decode(errors="replace"))
            found.append(one)
            continue
        judge_part(package, parts, entry["code"], files, by, one)
        control = Verdict("control")
        judge_part(package, parts, entry["code"], files, by, control, expected=-by)
        totals["parts"] += 1
        totals["measures"] += one.counts.get("measures", 0)
        totals["worst"] = max(totals["worst"], one.worst.get("fit error mm", 0.0))
        totals["controls that failed"] += not control.ok
        found.append(one)
    return [v for v in found if not v.ok]


def main(argv) -> int:
    """Judges all examples and prints what was measured."""
    totals = {"same bytes": 0, "parts": 0, "measures": 0, "worst": 0.0, "controls that failed": 0}
    bad = []
    for path in sorted(EXAMPLES.glob("*.json")):
        bad += judge_example(argv[0].rstrip("/"), path, totals)
    for verdict in bad:
        for fault in verdict.faults[:5]:
            print(f"{verdict.package}: {fault.line()}")
    print(f"recut: {totals['same bytes']} parts byte for byte; {totals['parts']} parts on other lots, "
          f"{totals['measures']} measures, worst fit off by {totals['worst']:.4f} mm; "
          f"{totals['controls that failed']} controls with the wrong lot were found out; {len(bad)} with faults")
    # most parts enter a slot somewhere: with the wrong lot expected, those must be found out
    return 1 if bad or totals["parts"] == 0 or totals["controls that failed"] * 2 < totals["parts"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
