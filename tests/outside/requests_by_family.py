"""Random requests, one function a family, with distributions chosen by hand.

Each starts from the family's own example and moves what a workshop would move: the space, the sheet,
the fits, the things, and the options that matter to that family.
"""

from copy import deepcopy

from mutate import mutate_fits, mutate_options, mutate_space, mutate_stocks, mutate_things

# Case walls slope up to this (degrees); beyond, square-edged corners open too far (trade practice).
STEEPEST_DEG = 10.0


def base(rng, family, materials):
    """The example with another sheet and other fits: common to all families."""
    spec = deepcopy(family["example"])
    mutate_stocks(spec.get("stocks", []), rng, materials)
    mutate_fits(spec, rng)
    spec["name"] = f"random {family['name']} {rng.randrange(10**6)}"
    return spec


def own(spec, family):
    """The holders of this family in a spec."""
    return [h for h in spec.get("holders", []) if h.get("family") == family["name"]]


def compartments(rng, family, materials):
    """Any size of drawer, any grid: lists of sizes or counts change with it."""
    spec = base(rng, family, materials)
    mutate_space(spec["space"], rng)
    mutate_things(spec.get("things", []), rng)
    for holder in own(spec, family):
        mutate_options(holder, rng, family.get("ranges", []), share=0.8)
        for key in ("columns", "rows"):
            if isinstance(holder.get(key), int):
                holder[key] = rng.randint(1, 6)
    return spec


def lean_rack(rng, family, materials):
    """Bottles of another size at another lean; the space keeps most of its size, or nothing would fit."""
    spec = base(rng, family, materials)
    if rng.random() < 0.5:
        mutate_space(spec["space"], rng)
    mutate_things(spec.get("things", []), rng, most=8)
    for holder in own(spec, family):
        mutate_options(holder, rng, family.get("ranges", []))
        if rng.random() < 0.3 and any(r["name"].endswith("lean_deg") for r in family.get("ranges", [])):
            holder["lean_deg"] = round(rng.uniform(15, 60), 1)
    return spec


def deck_rack(rng, family, materials):
    """Standing things of another size; one deck or two, as the options allow."""
    spec = base(rng, family, materials)
    if rng.random() < 0.6:
        mutate_space(spec["space"], rng)
    mutate_things(spec.get("things", []), rng)
    for holder in own(spec, family):
        mutate_options(holder, rng, family.get("ranges", []))
    return spec


def case_liner(rng, family, materials):
    """Cases with walls from upright to ten degrees, one in eight exactly upright."""
    spec = base(rng, family, materials)
    slope = 0.0 if rng.random() < 0.125 else rng.uniform(0.5, STEEPEST_DEG)
    mutate_space(spec["space"], rng, slope_deg=slope)
    mutate_things(spec.get("things", []), rng)
    for holder in own(spec, family):
        mutate_options(holder, rng, family.get("ranges", []))
    return spec


def anything(rng, family, materials):
    """A family that has no function here yet: everything moves a little."""
    spec = base(rng, family, materials)
    mutate_space(spec["space"], rng)
    mutate_things(spec.get("things", []), rng)
    for holder in own(spec, family):
        mutate_options(holder, rng, family.get("ranges", []))
    return spec


BY_FAMILY = {"compartments": compartments, "lean-rack": lean_rack, "deck-rack": deck_rack, "case-liner": case_liner}


def random_request(rng, family, materials):
    """One random request for a holder of this family."""
    return BY_FAMILY.get(family["name"], anything)(rng, family, materials)
