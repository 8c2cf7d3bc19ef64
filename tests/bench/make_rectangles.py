"""The ten classes of two-dimensional bin packing instances, by their published rules.

Classes 1-6: J. O. Berkey, P. Y. Wang, Journal of the Operational Research Society 38 (1987) 423-429.
Classes 7-10: S. Martello, D. Vigo, Management Science 44 (1998) 388-399.
python make_rectangles.py SEED prints 500 lines `c<class>_<parts>_<number>;parts;width;height;w,h;w,h;...`.
"""
import random
import sys

SIZES = (20, 40, 60, 80, 100)
INSTANCES = 10
# class: (side of the square bin, longest side of a part; sides are even from 1 on)
BERKEY_WANG = {1: (10, 10), 2: (30, 10), 3: (40, 35), 4: (100, 35), 5: (100, 100), 6: (300, 100)}
BIN = 100  # of Martello & Vigo
# type of a part: ranges of width and height, both included
TYPES = {
    1: ((67, 100), (1, 50)),  # 2/3 W to W, 1 to H/2
    2: ((1, 50), (67, 100)),
    3: ((50, 100), (50, 100)),
    4: ((1, 50), (1, 50)),
}
MAIN_TYPE = {7: 1, 8: 2, 9: 3, 10: 4}  # seven parts in ten; one in ten of each other type


def parts(kind, count, rng):
    if kind in BERKEY_WANG:
        longest = BERKEY_WANG[kind][1]
        return [(rng.randint(1, longest), rng.randint(1, longest)) for _ in range(count)]
    types = list(TYPES)
    weights = [7 if t == MAIN_TYPE[kind] else 1 for t in types]
    chosen = rng.choices(types, weights, k=count)
    return [tuple(rng.randint(*side) for side in TYPES[t]) for t in chosen]


def instances(seed):
    """(class, number of parts, number, side of the bin, parts) of all 500."""
    rng = random.Random(seed)
    for kind in [*BERKEY_WANG, *MAIN_TYPE]:
        side = BERKEY_WANG.get(kind, (BIN,))[0]
        for count in SIZES:
            for number in range(1, INSTANCES + 1):
                yield kind, count, number, side, parts(kind, count, rng)


def line(kind, count, number, side, rectangles):
    fields = [f"c{kind:02d}_{count:03d}_{number:02d}", count, side, side, *(f"{w},{h}" for w, h in rectangles)]
    return ";".join(map(str, fields))


if __name__ == "__main__":
    for i in instances(int(sys.argv[1])):
        print(line(*i))
