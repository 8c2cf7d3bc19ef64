"""The 500 rectangle instances at each effort beside the published sums of bins. Prints one line a class and the sums."""
import argparse
import csv
import pathlib
import resource
import subprocess
import tempfile

from make_rectangles import instances, line

HERE = pathlib.Path(__file__).parent


def arguments():
    p = argparse.ArgumentParser(description=__doc__)
    p.add_argument("--nest", required=True, help="the built example nest_rectangles")
    p.add_argument("--seed", type=int, default=1, help="seed of the 500 instances")
    p.add_argument("--instances", type=pathlib.Path, help="a file of instances instead, as make_rectangles.py prints them")
    p.add_argument("--efforts", default="quick,normal,thorough", help="which efforts, with commas")
    p.add_argument("--every", type=int, default=1, help="take only each EVERY-th instance of a class and size, up to 10")
    return p.parse_args()


def published():
    with open(HERE / "data" / "bins_published.csv") as f:
        rows = csv.DictReader(row for row in f if not row.startswith("#"))
        return {(int(r["class"]), int(r["parts"])): (int(r["lower_bound"]), int(r["published"])) for r in rows}


def read(file):
    """Instances as make_rectangles.py prints them; a part may have a count as its third number."""
    for row in file.read_text().split():
        name, _, side, _, *sides = row.split(";")
        kind, count, number = map(int, name.strip("cl").split("_"))
        parts = []
        for part in sides:
            w, h, *n = map(int, part.split(","))
            parts += [(w, h)] * (n[0] if n else 1)
        yield kind, count, number, int(side), parts


def pack(nest, effort, file):
    """Bins by class, and user seconds."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    out = subprocess.run([nest, effort, file], check=True, capture_output=True, text=True).stdout
    seconds = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before
    bins = {}
    for row in out.splitlines():
        name, _, sheets, _ = row.split(",")
        if name != "all":
            kind = int(name.split('_')[0][1:])
            bins[kind] = bins.get(kind, 0) + int(sheets)
    return bins, seconds


def bound(side, rectangles):
    """Bins needed by area, or by the parts of which no two share a bin, whichever is more."""
    alone = sum(2 * min(w, h) > side for w, h in rectangles)
    return max(alone, -(-sum(w * h for w, h in rectangles) // side**2))


def main():
    args = arguments()
    every = list(read(args.instances)) if args.instances else list(instances(args.seed))
    chosen = [i for i in every if i[2] % args.every == 1 % args.every]
    share = len(chosen) / len(every)
    columns = {"bound*": {}, "publ.*": {}, "bound": {}}
    for (kind, _), (lower, sums) in published().items():
        columns["bound*"][kind] = columns["bound*"].get(kind, 0) + lower
        columns["publ.*"][kind] = columns["publ.*"].get(kind, 0) + sums
    for kind, _, _, side, rectangles in chosen:
        columns["bound"][kind] = columns["bound"].get(kind, 0) + bound(side, rectangles)
    notes = []
    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder) / "instances.txt"
        file.write_text("".join(line(*i) + "\n" for i in chosen))
        for effort in args.efforts.split(","):
            columns[effort], seconds = pack(args.nest, effort, file)
            notes.append(f"{effort}: {seconds / len(chosen):.2f} s of user time an instance")
    source = args.instances or f"by the published rules, seed {args.seed}"
    print(f"{len(chosen)} rectangle instances, {source}; turns by 90 degrees")
    print("starred: the 500 instances of the literature (lower bound, published sum); bound: of the instances here")
    print(f"{'class':6}" + "".join(f"{c:>9}" for c in columns))
    for kind in columns["bound"]:
        print(f"{kind:5} " + "".join(f"{c[kind]:9}" for c in columns.values()))
    print(f"{'all':6}" + "".join(f"{sum(c.values()):9}" for c in columns.values()))
    for note in notes:
        print(note)
    if share < 1:
        print(f"only {share:.0%} of the instances: do not compare with the starred sums")


main()
