#!/usr/bin/env python3
"""Judges packages: puts the cut files together as solids and measures what a bench would show.

    judge.py PACKAGE.zip [...] [--json]

Exit code 0 if nothing was found, 1 if anything was, 2 if a file could not be opened.
"""

import argparse
import json
import sys
import time
import traceback
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from burn import burn
from cutfile import read_dxf
from emptyslots import check_slots
from faults import Verdict
from glb import check_model
from joints import JointJudge
from pieces import check_pieces
from read import read_package
from replay import check_order
from sheets import check_sheets
from solids import Part, apart, check_pair, extrude, placed, placement_of
from svgfile import check_twin
from things import check_things, thing_of
from ways import check_ways

WORKERS = 2


def judge_bytes(name: str, data: bytes) -> Verdict:
    """Judges one package from its bytes."""
    verdict = Verdict(name)
    start = time.perf_counter()
    package = read_package(name, data, verdict)
    if package is not None:
        try:
            judge_package(package, verdict)
        except Exception as error:  # a package that breaks the judge is a fault, and the others are still judged
            at = traceback.extract_tb(error.__traceback__)[-1]
            verdict.add("not-judged", name, repr(error)[:200], "a package that can be read", f"{at.name}:{at.lineno}")
    verdict.counts["milliseconds"] = round(1000 * (time.perf_counter() - start))
    return verdict


def judge_file(path) -> Verdict:
    """Judges one package on disk."""
    return judge_bytes(Path(path).name, Path(path).read_bytes())


def judge_package(package, verdict):
    """All checks, in the order of the bench: files, burning, assembly, joints, things, sheets."""
    parts, part_files = burn_parts(package, verdict)
    by_code = {p.code: p for p in parts}
    joints = [j for j in package.assembly.get("joints", []) if j["a"] in by_code and j["b"] in by_code]
    check_pairs(parts, joints, verdict)
    for joint in joints:
        a, b = by_code[joint["a"]], by_code[joint["b"]]
        JointJudge(joint, a, b, [p for p in parts if p.holder == a.holder], verdict).judge()
    for host in parts:
        mine = [(j, by_code[j["a"]]) for j in joints if j["kind"] == "tab" and j["b"] == host.code]
        check_slots(host, mine, [p for p in parts if p.holder == host.holder], verdict)
    check_order(package.assembly, parts, joints, verdict)
    made = [thing_of(t, verdict) for t in package.assembly.get("things", [])]
    things = [t for t in made if t]
    check_things(things, parts, verdict)
    check_ways(package.assembly.get("things", []), things, parts, verdict)
    if len({p.holder for p in parts}) == 1 and "model.glb" in package.files:
        check_model(package.files["model.glb"], [s.solid for s in parts + things], verdict)
    check_sheet_files(package, part_files, verdict)


def burn_parts(package, verdict):
    """Every part of the list as a solid at its place, and its cut file."""
    parts, files = [], []
    for entry in package.assembly["parts"]:
        code = entry["code"]
        verdict.count("parts")
        if entry["file"] not in package.files:
            verdict.add("missing-file", code, entry["file"], "in the package")
            continue
        cut = read_dxf(entry["file"], package.files[entry["file"]], verdict)
        files.append((code, cut))
        burnt = burn(cut, float(entry["kerf_mm"]), verdict)
        if burnt is None:
            continue
        rotation, origin = placement_of(entry["placement"], code, verdict)
        t = float(entry["thickness_mm"])
        solid = placed(extrude(burnt.sharp, 0.0, t), rotation, origin)
        part = Part(code, str(entry.get("holder", "")), rotation, origin, t, burnt, solid)
        check_pieces(part, verdict)
        parts.append(part)
    listed = {e["file"] for e in package.assembly["parts"]}
    for name in package.matching(r"parts/.*\.dxf"):
        if name not in listed:
            verdict.add("extra-file", name, "no part of the list", "one part a file")
    return parts, files


def check_pairs(parts, joints, verdict):
    """Every two parts of one holder whose boxes meet."""
    between = {}
    for j in joints:
        between.setdefault(frozenset((j["a"], j["b"])), []).append(j)
    for i, a in enumerate(parts):
        for b in parts[i + 1:]:
            if a.holder == b.holder and not apart(a.box, b.box):
                check_pair(a, b, between.get(frozenset((a.code, b.code)), []), verdict)


def check_sheet_files(package, part_files, verdict):
    """Each sheet with its SVG twin, and all sheets against the list of parts."""
    cuts = []
    for name in package.matching(r"sheets/.*\.dxf"):
        cut = read_dxf(name, package.files[name], verdict)
        twin = name[:-4] + ".svg"
        size = None
        if twin in package.files:
            size = check_twin(cut, package.files[twin], verdict)
        else:
            verdict.add("missing-file", twin, "absent", "beside its DXF")
        cuts.append((cut, size))
    if not cuts:
        verdict.add("missing-file", "sheets/", "no sheet", "at least one DXF")
    check_sheets(cuts, part_files, verdict)


def print_verdict(verdict):
    """One package for people."""
    print(f"{'ok  ' if verdict.ok else 'FAIL'} {verdict.package}")
    print("     " + ", ".join(f"{k} {v}" for k, v in verdict.counts.items()))
    print("     worst: " + ", ".join(f"{k} {v:.4f}" for k, v in verdict.worst.items()))
    for fault in verdict.faults:
        print("     - " + fault.line())


def main(argv=None) -> int:
    """The command line."""
    parser = argparse.ArgumentParser(description="Judges packages from their cut files alone.")
    parser.add_argument("packages", nargs="+")
    parser.add_argument("--json", action="store_true", help="one JSON object a package, one a line")
    args = parser.parse_args(argv)
    absent = [p for p in args.packages if not Path(p).is_file()]
    if absent:
        print("no such file: " + ", ".join(absent), file=sys.stderr)
        return 2
    if len(args.packages) > 1:
        with ProcessPoolExecutor(WORKERS) as pool:
            verdicts = list(pool.map(judge_file, args.packages))
    else:
        verdicts = [judge_file(args.packages[0])]
    for verdict in verdicts:
        if args.json:
            print(json.dumps(verdict.as_dict()))
        else:
            print_verdict(verdict)
    if not args.json:
        print(f"{len(verdicts)} packages, {sum(not v.ok for v in verdicts)} with faults")
    return 0 if all(v.ok for v in verdicts) else 1


if __name__ == "__main__":
    sys.exit(main())
