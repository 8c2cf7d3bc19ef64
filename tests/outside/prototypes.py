#!/usr/bin/env python3
"""Asks a running service for prototypes of every example, and judges them as packages.

    prototypes.py http://127.0.0.1:8080

The parts of a prototype, as a knife cuts them, go together with their squeeze, and the box round them is the
design's. Exit code 0 if nothing was found, 1 if anything was.
"""

import json
import sys
import urllib.error
import urllib.request
from pathlib import Path

import numpy as np

from faults import Verdict
from judge import burn_parts, judge_bytes
from read import read_package
from service import TIMEOUT_S, Service

EXAMPLES = Path(__file__).resolve().parents[2] / "shared" / "examples"
# Board sold as 5 mm reads 4.6 to 5.2; cardboard is taken as its label says.
BOARDS = ({"readings_mm": [4.9]}, {"material": "cardboard-3"})
# Outsides nearer than this are kept (mm): a knife does not do better.
KEPT_MM = 0.1


def prototype(base, design, board):
    """The prototype's package."""
    request = urllib.request.Request(
        base + "/v1/prototypes", data=json.dumps({"design": design, "board": board}).encode(), method="POST",
        headers={"Content-Type": "application/json", "Accept": "application/zip"})
    with urllib.request.urlopen(request, timeout=TIMEOUT_S) as answer:
        return answer.read()


def outsides(name, data):
    """Width, depth and height of the box round the burnt parts of each holder, by its letter."""
    verdict = Verdict(name)
    parts, _ = burn_parts(read_package(name, data, verdict), verdict)
    boxes = {}
    for part in parts:
        box = np.array(part.box)
        low, high = boxes.get(part.holder, (box[:3], box[3:]))
        boxes[part.holder] = (np.minimum(low, box[:3]), np.maximum(high, box[3:]))
    return {holder: high - low for holder, (low, high) in boxes.items()}


def judge_one(base, name, design, board, totals) -> Verdict:
    """One design in one board."""
    data = prototype(base, design, board)
    verdict = judge_bytes(name, data)
    _, _, made = Service(base).make(design)
    ours, theirs = outsides(name, data), outsides(name, made)
    for holder, size in theirs.items():
        off = float(np.abs(ours[holder] - size).max())
        totals["outside"] = max(totals["outside"], off)
        if off > KEPT_MM:
            verdict.add("outside", f"holder {holder}", off, f"<= {KEPT_MM} mm off the design's")
    totals["prototypes"] += 1
    totals["measures"] += verdict.counts.get("measures", 0)
    return verdict


def main(argv) -> int:
    """Judges all examples in all boards and prints what was measured."""
    totals = {"prototypes": 0, "measures": 0, "outside": 0.0}
    bad = []
    for path in sorted(EXAMPLES.glob("*.json")):
        for board in BOARDS:
            name = f"{path.stem} in {board}"
            try:
                verdict = judge_one(argv[0].rstrip("/"), name, json.loads(path.read_text()), board, totals)
            except urllib.error.HTTPError as error:
                verdict = Verdict(name)
                verdict.add("refused", name, error.code, "200", error.read()[:300].decode(errors="replace"))
            bad += [] if verdict.ok else [verdict]
    for verdict in bad:
        for fault in verdict.faults[:5]:
            print(f"{verdict.package}: {fault.line()}")
    print(f"prototypes: {totals['prototypes']}, {totals['measures']} measures, outsides off by at most "
          f"{totals['outside']:.4f} mm; {len(bad)} with faults")
    return 1 if bad or totals["prototypes"] == 0 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
