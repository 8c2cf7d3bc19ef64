"""The same jobs by what a maker can pick from a package registry."""
import itertools

import rectpack
import spyrrow

ALGORITHMS = [
    rectpack.MaxRectsBssf,
    rectpack.MaxRectsBaf,
    rectpack.MaxRectsBl,
    rectpack.MaxRectsBlsf,
    rectpack.SkylineBlWm,
    rectpack.SkylineMwfWm,
    rectpack.GuillotineBssfSas,
]
SORTS = [rectpack.SORT_AREA, rectpack.SORT_PERI, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_DIFF]
BINS = [rectpack.PackingBin.BBF, rectpack.PackingBin.BFF, rectpack.PackingBin.Global]
UNITS = 1000  # rectpack wants whole numbers


def rectpack_best(instance):
    """Sheets of the best setting; each bounding box is grown by the gap, the sheet too, and all may turn."""
    gap = instance["spacing"]
    boxes = []
    for part in instance["parts"]:
        xs, ys = zip(*part["outer"])
        boxes.append([round((max(v) - min(v) + gap) * UNITS) for v in (xs, ys)])
    room = [round((side - gap) * UNITS) for side in instance["sheet"]]
    return min(rectpack_sheets(boxes, room, *s) for s in itertools.product(ALGORITHMS, SORTS, BINS))


def rectpack_sheets(boxes, room, algorithm, sort, bins):
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline, bin_algo=bins, pack_algo=algorithm, sort_algo=sort, rotation=True
    )
    for number, (w, h) in enumerate(boxes):
        packer.add_rect(w, h, number)
    packer.add_bin(*room, count=float("inf"))
    packer.pack()
    placed = sum(len(b) for b in packer)
    return len(packer) if placed == len(boxes) else float("inf")


def spyrrow_length(instance, seconds, seed=1):
    """Length of a strip as high as a sheet within its margins, in sheet lengths."""
    gap = instance["spacing"]
    items = [
        spyrrow.Item(str(p["id"]), [tuple(q) for q in p["outer"]], 1, [float(r) for r in p["rots"]])
        for p in instance["parts"]
    ]
    strip = spyrrow.StripPackingInstance("job", instance["sheet"][1] - 2 * gap, items)
    config = spyrrow.StripPackingConfig(
        early_termination=False,
        min_items_separation=gap,
        total_computation_time=seconds,
        num_workers=1,
        seed=seed,
    )
    return strip.solve(config).width / instance["sheet"][0]
