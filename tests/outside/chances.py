#!/usr/bin/env python3
"""Plays the chances of fit out: draws thickness and kerf, and counts the joints that close.

    chances.py BERTH REQUEST.json [...]

BERTH_DRAWS (200000) draws a joint from BERTH_SEED (1). Thickness and kerf come from the readings in the request,
angles and fits from the package's assembly.json; nothing but the chances is taken from the report. Exit code 1 when
a chance is farther off than four standard errors of the draw.
"""

import copy
import json
import os
import subprocess
import sys
import tempfile
import zipfile

import numpy as np

# A joint closes when its clearance is this near its fit, and neither refuses nor rattles (common practice).
NEAR_MM, REFUSES_MM, RATTLES_MM = 0.085, -0.08, 0.20
# Calipers show hundredths: no spread is smaller than that of an even hundredth.
CALIPER_SD_MM = 0.01 / 12**0.5
# Stocks that the requests are tried with: eight readings and a known kerf spread; few readings of both.
STOCKS = [
    {"readings_mm": [3.08, 3.12, 3.05, 3.10, 3.14, 3.09, 3.11, 3.07], "kerf_mm": 0.18, "kerf_spread_mm": 0.02},
    {"readings_mm": [3.04, 3.09, 3.06, 3.05], "kerf_readings_mm": [0.182, 0.171, 0.19]},
    {"readings_mm": [3.10, 3.13, 3.11], "kerf_readings_mm": [0.17, 0.18, 0.176, 0.184, 0.179]},
]


def made(berth, request):
    """The package's report and assembly."""
    with tempfile.TemporaryDirectory() as folder:
        package = os.path.join(folder, "made.zip")
        out = subprocess.run([berth, "make", "-", "-o", package], input=json.dumps(request).encode(), capture_output=True)
        if out.returncode != 0:
            raise SystemExit(f"{request['name']} was not made: {out.stderr.decode()[-600:]}{out.stdout.decode()[-600:]}")
        with zipfile.ZipFile(package) as files:
            return json.loads(files.read("report.json")), json.loads(files.read("assembly.json"))


def deviations(rng, readings, own_sd, draws):
    """The next value less the readings' mean: Student's t, or normal where the spread is known."""
    if own_sd is not None:
        more = (1 + 1 / len(readings)) ** 0.5 if readings else 1.0
        return rng.normal(0.0, own_sd * more, draws)
    n = len(readings)
    sd = max(float(np.std(readings, ddof=1)), CALIPER_SD_MM)
    return sd * (1 + 1 / n) ** 0.5 * rng.standard_t(n - 1, draws)


def clearances(joint, parts, drawn):
    """Every clearance of a joint, one array a slot."""
    a, b = parts[joint["a"]], parts[joint["b"]]
    za, zb = (np.array(p["placement"])[[2, 6, 10]] for p in (a, b))
    cos = abs(float(za @ zb))
    sin = (1 - cos * cos) ** 0.5
    (ta, ka), (tb, kb) = drawn[a["stock"]], drawn[b["stock"]]
    fit = joint["fit_mm"]
    if joint["kind"] == "corner":
        return [fit + ka + kb]
    if joint["kind"] == "lap":
        return [fit + ka - (tb + ta * cos) / sin, fit + kb - (ta + tb * cos) / sin]
    flush = joint.get("proud_mm", 0.0) <= 0 and a["thickness_mm"] * cos <= b["thickness_mm"]
    per = sin if flush else 1 / sin
    return [fit + kb - ta * per - tb * cos / sin]


def judge(berth, request, draws, seed, faults):
    """Compares every joint of a request; returns how many, and the worst distance in standard errors."""
    report, assembly = made(berth, request)
    rng = np.random.default_rng(seed)
    drawn = {}
    for stock in request["stocks"]:
        thickness = deviations(rng, stock["readings_mm"], stock.get("thickness_spread_mm"), draws)
        kerf = deviations(rng, stock.get("kerf_readings_mm", []), stock.get("kerf_spread_mm"), draws)
        drawn[stock["id"]] = (thickness, kerf)
    parts = {p["code"]: p for p in assembly["parts"]}
    joints = [j for j in assembly["joints"] if j["kind"] != "rest"]
    told = [(h, j) for h in report["chances"] for j in h["joints"]]
    if len(told) != len(joints):
        faults.append(f"{len(told)} chances for {len(joints)} joints")
        return 0, 0.0
    worst, played = 0.0, {}
    for joint, (holder, entry) in zip(joints, told):
        fit = joint["fit_mm"]
        low = max(fit - NEAR_MM, REFUSES_MM) if fit > REFUSES_MM else fit - NEAR_MM
        high = min(fit + NEAR_MM, RATTLES_MM) if fit < RATTLES_MM else fit + NEAR_MM
        slots = clearances(joint, parts, drawn)

        def closing(by):
            return min(float(np.mean((c + by >= low) & (c + by <= high))) for c in slots)

        chance, best = closing(0.0), closing((low + high) / 2 - fit)
        played.setdefault(holder["holder"], []).append(entry["chance"])
        for name, value, at in (("chance", chance, 0.0), ("best_chance", best, (low + high) / 2 - fit)):
            error = max(value * (1 - value), 1 / draws) ** 0.5 / draws**0.5
            off = max(0.0, abs(value - entry[name]) - 1e-5) / error
            worst = max(worst, off)
            if off > 4:
                faults.append(f"{request['name']} {joint['id']}: {name} {entry[name]} told, {value:.5f} played")
        # the drawn width told as best is no worse than a hundredth to either side
        error = 4 * max(best * (1 - best), 1 / draws) ** 0.5 / draws**0.5
        if max(closing((low + high) / 2 - fit + by) for by in (-0.01, 0.01)) > best + error:
            faults.append(f"{request['name']} {joint['id']}: another width than {entry['best_drawn_mm']} closes better")
        if entry["drawn_mm"] is not None and abs(entry["best_drawn_mm"] - entry["drawn_mm"] - ((low + high) / 2 - fit)) > 2e-4:
            faults.append(f"{request['name']} {joint['id']}: best drawn {entry['best_drawn_mm']}")
    for holder in report["chances"]:
        chances = played.get(holder["holder"], [1.0])
        if abs(holder["all_independent"] - float(np.prod(chances))) > 1e-5 * (len(chances) + 1):
            faults.append(f"{request['name']} {holder['holder']}: the product is {np.prod(chances):.5f}")
        if abs(holder["all_together"] - min(chances)) > 2e-5:
            faults.append(f"{request['name']} {holder['holder']}: the least is {min(chances):.5f}")
    return len(joints), worst


def main(berth, *requests):
    """Every request with every stock."""
    draws, seed = int(os.environ.get("BERTH_DRAWS", 200_000)), int(os.environ.get("BERTH_SEED", 1))
    faults, joints, worst = [], 0, 0.0
    for path in requests:
        with open(path, encoding="utf-8") as file:
            example = json.load(file)
        for k, readings in enumerate(STOCKS):
            request = copy.deepcopy(example)
            request["stocks"] = [
                {"id": s["id"], "material": "birch-ply-3", **copy.deepcopy(STOCKS[(k + i) % len(STOCKS)])}
                for i, s in enumerate(example["stocks"])
            ]
            n, off = judge(berth, request, draws, seed + k, faults)
            joints, worst = joints + n, max(worst, off)
    print(f"{joints} joints of {len(requests)} requests, {draws} draws each from seed {seed}: "
          f"worst {worst:.2f} standard errors, {len(faults)} faults")
    for fault in faults[:20]:
        print(" ", fault)
    return 1 if faults or joints == 0 else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
