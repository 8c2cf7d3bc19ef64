"""Routes of nested sheets beside OR-tools: see README.md.

The sheets come from the example `route_instance`, which nests seeded panel jobs. OR-tools (routing, guided local
search) gets `--seconds` a sheet, three times:
- `entries`: it chooses the vertices at which contours are entered as this project does: each vertex is a node,
  the vertices of a contour stand in a disjunction of which exactly one is visited; it starts from nearest next;
- `turns`: from the vertices of nearest next it finds the order, then the best vertices for that order are computed
  here (dynamic programming), ROUNDS times, all within the same time;
- `order`: it is given the vertices that this project chose, one node a contour, and finds the order alone.
All keep what has to come first, begin at the sheet's zero and end anywhere. Every order, this project's too, is
measured and checked here. The shortest of the three counts.
"""
import argparse
import json
import math
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from ortools.constraint_solver import pywrapcp, routing_enums_pb2

# OR-tools counts in whole numbers: hundredths of a millimetre
UNIT = 100
ROUNDS = 5


def solve(nodes, owner, contours, before, seconds, hint):
    """(contour, point) in the order that was found, or None. `nodes` are points, `owner` their contours."""
    points = [(0.0, 0.0), *nodes]
    end = len(points)
    manager = pywrapcp.RoutingIndexManager(end + 1, 1, [0], [end])
    routing = pywrapcp.RoutingModel(manager)
    matrix = [[round(UNIT * math.dist(p, q)) for q in points] + [0] for p in points] + [[0] * (end + 1)]
    transit = routing.RegisterTransitMatrix(matrix)
    routing.SetArcCostEvaluatorOfAllVehicles(transit)
    steps = routing.RegisterUnaryTransitCallback(lambda _: 1)
    routing.AddDimension(steps, 0, contours + 2, True, "step")
    step = routing.GetDimensionOrDie("step")
    of = [[] for _ in range(contours)]
    for k, c in enumerate(owner):
        of[c].append(manager.NodeToIndex(k + 1))
    solver = routing.solver()
    for group in of:
        if len(group) > 1:
            routing.AddDisjunction(group, 10_000_000, 1)
            solver.Add(sum(routing.ActiveVar(i) for i in group) == 1)
    for first, then in before:
        when = [sum(step.CumulVar(i) * routing.ActiveVar(i) for i in of[c]) for c in (first, then)]
        solver.Add(when[0] <= when[1])
    search = pywrapcp.DefaultRoutingSearchParameters()
    search.first_solution_strategy = routing_enums_pb2.FirstSolutionStrategy.PATH_CHEAPEST_ARC
    search.local_search_metaheuristic = routing_enums_pb2.LocalSearchMetaheuristic.GUIDED_LOCAL_SEARCH
    search.time_limit.FromMilliseconds(round(1000 * seconds))
    if hint:
        routing.CloseModelWithParameters(search)
        start = routing.ReadAssignmentFromRoutes([[manager.NodeToIndex(k + 1) for k in hint]], True)
        found = routing.SolveFromAssignmentWithParameters(start, search) if start else None
    else:
        found = routing.SolveWithParameters(search)
    if not found:
        return None
    out, index = [], found.Value(routing.NextVar(routing.Start(0)))
    while not routing.IsEnd(index):
        k = manager.IndexToNode(index) - 1
        out.append((owner[k], nodes[k]))
        index = found.Value(routing.NextVar(index))
    return out


def measured(order, contours, before):
    """Way of an order in mm; raises when a contour is missing or comes too early."""
    at = {c: k for k, (c, _) in enumerate(order)}
    if sorted(at) != list(range(contours)) or len(order) != contours:
        raise ValueError("not every contour once")
    if any(at[a] > at[b] for a, b in before):
        raise ValueError("something is freed too early")
    way, here = 0.0, (0.0, 0.0)
    for _, p in order:
        way += math.dist(here, p)
        here = p
    return way


def nearest(contours, before):
    """Nearest vertex next, as (contour, point): the first tour of the model with all vertices."""
    left, out, here = set(range(len(contours))), [], (0.0, 0.0)
    while left:
        ready = [c for c in left if not any(b == c and a in left for a, b in before)]
        c, p = min(((c, tuple(p)) for c in ready for p in contours[c]), key=lambda cp: math.dist(here, cp[1]))
        out.append((c, p))
        left.remove(c)
        here = p
    return out


def best_vertices(order, contours):
    """The same order with the vertices that make it shortest."""
    layers, reach = [], [(0.0, (0.0, 0.0), None)]
    for c, _ in order:
        step = []
        for p in contours[c]:
            way, k = min((w + math.dist(q, p), k) for k, (w, q, _) in enumerate(reach))
            step.append((way, tuple(p), k))
        layers.append(step)
        reach = step
    k, out = min(range(len(reach)), key=lambda i: reach[i][0]), []
    for (c, _), layer in zip(reversed(order), reversed(layers)):
        out.append((c, layer[k][1]))
        k = layer[k][2]
    return out[::-1]


def in_turns(order, contours, before, seconds):
    """Order by OR-tools and vertices by dynamic programming, in turns."""
    for _ in range(ROUNDS):
        owner, points = [c for c, _ in order], [p for _, p in order]
        found = solve(points, owner, len(contours), before, seconds / ROUNDS, list(range(len(order))))
        order = best_vertices(found, contours) if found else order
    return order


def one(line, seconds):
    """One sheet: ways by router in mm, and milliseconds."""
    sheet = json.loads(line)
    contours, before = sheet["contours"], [tuple(b) for b in sheet["before"]]
    n = len(contours)
    out = {"sheet": sheet["sheet"], "contours": n}
    first = nearest(contours, before)
    out["nearest"] = measured(first, n, before)
    for effort in ("quick", "normal", "thorough"):
        order = [(c, tuple(contours[c][v])) for c, v in sheet[effort]["order"]]
        way = measured(order, n, before)
        if abs(way - sheet[effort]["travel_mm"]) > 1e-3:
            raise ValueError(f"{sheet['sheet']}: {way} measured, {sheet[effort]['travel_mm']} said")
        out[effort], out[effort + " ms"] = way, sheet[effort]["ms"]
    nodes = [tuple(p) for c in contours for p in c]
    owner = [i for i, c in enumerate(contours) for _ in c]
    ways = {"order": ([p for _, p in order], [c for c, _ in order], None)}
    begin = {(c, p): k for k, (c, p) in reversed(list(enumerate(zip(owner, nodes))))}
    ways["entries"] = (nodes, owner, [begin[step] for step in first])
    for name, (points, whose, hint) in ways.items():
        start = time.perf_counter()
        found = solve(points, whose, n, before, seconds, hint)
        out[name + " ms"] = 1000 * (time.perf_counter() - start)
        out[name] = measured(found, n, before) if found else math.inf
    start = time.perf_counter()
    out["turns"] = measured(in_turns(first, contours, before, seconds), n, before)
    out["turns ms"] = 1000 * (time.perf_counter() - start)
    return out


def sheets_of(route, count, seed):
    """Lines of JSON, one a sheet, of seeded panel jobs."""
    maker = Path(__file__).with_name("make_instances.py")
    with tempfile.TemporaryDirectory() as folder:
        # a job has three to five sheets
        subprocess.run([sys.executable, maker, folder, str(count // 2 + 1), str(seed)], check=True)
        jobs = sorted(p.name for p in Path(folder).glob("*.json"))
        made = subprocess.run([Path(route).resolve(), str(count), *jobs], cwd=folder, check=True, capture_output=True)
        return made.stdout.decode().splitlines()


def options():
    """What the table can be told."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--route", required=True, help="the example route_instance")
    parser.add_argument("--sheets", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1, help="of the first job")
    parser.add_argument("--seconds", type=float, default=3.0, help="for OR-tools, a sheet and a way of asking")
    parser.add_argument("--workers", type=int, default=1, help="sheets that OR-tools works on at once")
    return parser.parse_args()


def main():
    asked = options()
    lines = sheets_of(asked.route, asked.sheets, asked.seed)
    with ProcessPoolExecutor(asked.workers) as pool:
        rows = list(pool.map(one, lines, [asked.seconds] * len(lines)))
    ways = ("nearest", "entries", "turns", "order", "quick", "normal", "thorough")
    print(f"first seed {asked.seed}; sheet, contours, way in mm by: " + ", ".join(ways))
    for r in rows:
        print(f"{r['sheet']:16} {r['contours']:4} " + " ".join(f"{r[w]:8.1f}" for w in ways))
    best = sum(min(r["order"], r["turns"], r["entries"]) for r in rows)
    print(f"{len(rows)} sheets, {sum(r['contours'] for r in rows)} contours; OR-tools' shortest of three: {best:.0f} mm")
    for w in ways:
        time_ms = [r[w + " ms"] for r in rows if w + " ms" in r]
        spent = f", {sum(time_ms) / len(time_ms):9.3f} ms a sheet, longest {max(time_ms):.1f}" if time_ms else ""
        print(f"{w:10} {sum(r[w] for r in rows):9.0f} mm, {sum(r[w] for r in rows) / best:.4f} of OR-tools{spent}")


if __name__ == "__main__":
    main()
