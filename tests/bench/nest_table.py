"""Panel jobs at each effort beside rectpack and spyrrow. Prints one line a job and the sums."""
import argparse
import json
import math
import pathlib
import resource
import subprocess
import tempfile

import layout_judge
import rivals
from make_instances import area, made

HERE = pathlib.Path(__file__).parent
EFFORTS = ("quick", "normal", "thorough")


def arguments():
    p = argparse.ArgumentParser(description=__doc__)
    p.add_argument("--nest", required=True, help="the built example nest_instance")
    p.add_argument("--made", type=int, default=20, help="how many jobs to make beside the three in data/")
    p.add_argument("--seed", type=int, default=1, help="seed of the first one")
    p.add_argument("--efforts", default=",".join(EFFORTS), help="which efforts, with commas")
    p.add_argument("--spyrrow", type=int, default=10, metavar="SECONDS", help="time by the clock for spyrrow a job; 0: without it")
    return p.parse_args()


def jobs(count, seed):
    given = ((f.stem, json.loads(f.read_text())) for f in sorted((HERE / "data").glob("inst*.json")))
    return dict(given) | {f"seed {s}": job for s, job in made(count, seed)}


def bound(job):
    net = sum(area(p["outer"]) - sum(map(area, p["holes"])) for p in job["parts"])
    return net, math.ceil(net / (job["sheet"][0] * job["sheet"][1]))


def user_seconds(whose=resource.RUSAGE_CHILDREN):
    return resource.getrusage(whose).ru_utime


def nest_all(nest, effort, all_jobs):
    """Layouts of all jobs at one effort: sheets, judged; smallest gap and edge; user seconds."""
    sheets, gap, edge = {}, math.inf, math.inf
    with tempfile.TemporaryDirectory() as folder:
        files = []
        for number, job in enumerate(all_jobs.values()):
            files.append(pathlib.Path(folder) / f"job{number}.json")
            files[-1].write_text(json.dumps(job))
        out = pathlib.Path(folder) / "out"
        out.mkdir()
        before = user_seconds()
        subprocess.run([nest, effort, out, *files], check=True, stdout=subprocess.DEVNULL)
        seconds = user_seconds() - before
        for file, (name, job) in zip(files, all_jobs.items()):
            sheets[name], g, e = layout_judge.judge(job, json.loads((out / file.name).read_text()))
            gap, edge = min(gap, g), min(edge, e)
    return sheets, gap, edge, seconds


def rectpack_column(all_jobs):
    return {"rectpack": {name: rivals.rectpack_best(job) for name, job in all_jobs.items()}}


def spyrrow_columns(all_jobs, seconds, notes):
    """Its strips in sheet lengths, and rounded up; notes what time it really had."""
    if not seconds:
        return {}
    before = user_seconds(resource.RUSAGE_SELF)
    strips = {name: rivals.spyrrow_length(job, seconds) for name, job in all_jobs.items()}
    user = (user_seconds(resource.RUSAGE_SELF) - before) / len(all_jobs)
    notes.append(f"spyrrow: {seconds} s by the clock and {user:.1f} s of user time a job")
    return {"strip": strips, "spyrrow": {name: math.ceil(s) for name, s in strips.items()}}


def cell(value):
    return f"{value:9.3f}" if isinstance(value, float) else f"{value:9}"


def main():
    args = arguments()
    all_jobs = jobs(args.made, args.seed)
    notes = []
    columns = {"bound": {n: bound(j)[1] for n, j in all_jobs.items()}}
    columns |= rectpack_column(all_jobs) | spyrrow_columns(all_jobs, args.spyrrow, notes)
    for effort in args.efforts.split(","):
        columns[effort], gap, edge, seconds = nest_all(args.nest, effort, all_jobs)
        notes.append(f"{effort}: gap at least {gap:.9f}, edge at least {edge:.9f} mm by shapely; {seconds / len(all_jobs):.2f} s of user time a job")
    last = columns[args.efforts.split(",")[-1]]
    net = {n: bound(j)[0] / (j["sheet"][0] * j["sheet"][1]) for n, j in all_jobs.items()}
    print(f"Panel jobs: three in data/, {args.made} made from seed {args.seed} on")
    print(f"{'job':10}" + "".join(f"{c:>9}" for c in columns) + "     used")
    for name in all_jobs:
        print(f"{name:10}" + "".join(cell(c[name]) for c in columns.values()) + f"{net[name] / last[name]:9.3f}")
    sums = {c: sum(v.values()) for c, v in columns.items()}
    print(f"{'all':10}" + "".join(cell(s) for s in sums.values()) + f"{sum(net.values()) / sum(last.values()):9.3f}")
    for line in notes:
        print(line)
    for effort in args.efforts.split(","):
        print(verdict(effort, columns, sums))


def verdict(effort, columns, sums):
    worse = [n for n, s in columns[effort].items() if s > columns["rectpack"][n]]
    parts = [
        f"{effort}: worse than rectpack's best on {len(worse)} jobs{': ' if worse else ''}{', '.join(worse)}",
        f"{100 * (1 - sums[effort] / sums['rectpack']):.1f} % fewer sheets than it",
        f"{100 * (sums[effort] / sums['bound'] - 1):.1f} % above the bound",
    ]
    if "spyrrow" in sums:
        parts.append(f"{sums['spyrrow'] - sums[effort]} sheets fewer than spyrrow")
    return "; ".join(parts)


main()
