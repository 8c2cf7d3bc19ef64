"""Changes an example request into another plausible one: numbers of a spec, by kind of number."""

import math

# Share of an example's own size by which spaces and things are scaled: a factor of about 0.7 to 1.4.
SCALE_SIGMA = 0.16
# Sheets are never as thick as the label says: trade.md's ranges are about 5 % either way (common practice).
THICKNESS_SPREAD = 0.05
# Scatter of readings within one sheet (mm), common practice.
READING_SIGMA_MM = 0.03


def is_number(value) -> bool:
    """A JSON number."""
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def scale(value, factor):
    """A number or readings times a factor, in tenths of a millimetre as a person would read them."""
    if isinstance(value, list):
        return [scale(v, factor) for v in value]
    return round(value * factor, 1) if is_number(value) else value


def factor(rng, sigma=SCALE_SIGMA):
    """A log-normal factor, cut at two sigma and a half."""
    return math.exp(max(-2.5 * sigma, min(2.5 * sigma, rng.gauss(0, sigma))))


def mean(value):
    """Mean of a number or of readings."""
    return sum(value) / len(value) if isinstance(value, list) else value


def within(value, row):
    """A number kept in its row's range."""
    low, high = row.get("min"), row.get("max")
    value = value if low is None else max(low, value)
    return value if high is None else min(high, value)


def mutate_space(space, rng, slope_deg=None):
    """Another size of the same kind of space; its diagonals follow, a little out of square."""
    fw, fd, fh = factor(rng), factor(rng), factor(rng)
    for key in list(space):
        if not key.endswith("_mm") or key in ("diagonals_mm",):
            continue
        f = fw if "width" in key else fd if ("depth" in key or "extension" in key) else fh
        space[key] = scale(space[key], f)
    width = next((mean(space[k]) for k in ("width_mm", "floor_width_mm") if k in space), None)
    depth = next((mean(space[k]) for k in ("depth_mm", "floor_depth_mm") if k in space), None)
    if "diagonals_mm" in space and width and depth:
        d, skew = math.hypot(width, depth), rng.uniform(-0.4, 0.4)
        space["diagonals_mm"] = [round(d + skew, 1), round(d - skew, 1)]
    if slope_deg is not None:
        slope_space(space, slope_deg)


def slope_space(space, slope_deg):
    """Gives a case's walls this slope, by its rim's width and depth or by a slope of its own."""
    for key in space:
        if key.startswith("slope") and key.endswith("_deg"):
            space[key] = scale([slope_deg] * len(space[key]), 1) if isinstance(space[key], list) else round(slope_deg, 1)
    height = next((mean(space[k]) for k in ("rim_height_mm", "wall_height_mm", "height_mm", "clear_height_mm") if k in space), None)
    for axis in ("width", "depth"):
        floor, rim = f"floor_{axis}_mm", f"rim_{axis}_mm"
        if floor in space and rim in space and height:
            space[rim] = round(mean(space[floor]) + 2 * height * math.tan(math.radians(slope_deg)), 1)


def mutate_stocks(stocks, rng, materials):
    """Another material, its true thickness by a few readings, another kerf."""
    choices = [(m.get("id", m.get("name")), usual(m)) for m in materials if usual(m) and beam_cuts(m)]
    for stock in stocks:
        had = mean(stock.get("readings_mm", 3.0))
        low, high = had * (1 - THICKNESS_SPREAD), had * (1 + THICKNESS_SPREAD)
        if choices and "material" in stock and rng.random() < 0.6:
            stock["material"], (low, high) = rng.choice(choices)
        true = rng.uniform(low, high)
        stock["readings_mm"] = [round(rng.gauss(true, READING_SIGMA_MM), 2) for _ in range(rng.randint(3, 8))]
        stock["kerf_mm"] = round(rng.uniform(0.12, 0.30), 2)
        if rng.random() < 0.1:
            stock["kerf_applied_by"] = rng.choice(["file", "machine"])


def usual(material):
    """The usual range of a material's true thickness in mm, or None if it says none or is no thin sheet."""
    t = material.get("thickness_mm", material.get("nominal_mm"))
    if isinstance(t, dict):
        t = t.get("usual", t.get("nominal"))
    low_high = (t * (1 - THICKNESS_SPREAD), t * (1 + THICKNESS_SPREAD)) if is_number(t) else t
    return tuple(low_high) if low_high and 1.5 <= low_high[0] <= low_high[1] <= 7.0 else None


def beam_cuts(material) -> bool:
    """Whether a laser may cut it, as far as the material says; the examples are all for a laser."""
    beam = (material.get("processes") or {}).get("co2", {})
    return not (isinstance(beam, dict) and beam.get("permit") == "never")


# Fits by what they are for: lowest and highest (mm), from mallet to loose (common practice, no source).
FITS_MM = {"corner": (-0.05, 0.08), "divider": (0.0, 0.15), "oblique": (0.05, 0.15), "floor": (-0.03, 0.08), "ledge": (0.05, 0.18)}


def mutate_fits(spec, rng):
    """Fits as words or numbers, from mallet to loose; some left to the default."""
    fits = spec.setdefault("fits", {})
    for name, (low, high) in FITS_MM.items():
        if rng.random() < 0.6:
            words = ["slide", "loose"] if low > 0 else ["mallet", "thumb", "slide", "loose"]
            fits[name] = rng.choice(words) if rng.random() < 0.4 else round(rng.uniform(low, high), 2)


def mutate_things(things, rng, most=12):
    """Other sizes of the same things, in proportion; other counts."""
    for thing in things:
        all_over = factor(rng)
        shape = thing.get("shape", {})
        for key, value in list(shape.items()):
            if key.endswith("_mm") and is_number(value) and key != "wall_mm":
                shape[key] = scale(value, all_over * factor(rng, 0.03))
        if is_number(thing.get("count")):
            thing["count"] = rng.randint(1, most)
        if is_number(thing.get("fill")):
            thing["fill"] = round(rng.uniform(0.2, 0.98), 2)


def mutate_options(holder, rng, rows, share=0.6):
    """Numbers of a holder's own options, within the family's ranges; some left out for the default."""
    by_name = {r["name"].split("/")[-1].split(".")[-1]: r for r in rows}
    for key, row in by_name.items():
        have = holder.get(key, row.get("default"))
        if rng.random() > share or not (is_number(have) or isinstance(have, list)):
            continue
        holder[key] = vary(have, row, rng)


def vary(have, row, rng):
    """One option, or each entry of a list: whole numbers by steps, others by a factor."""
    if isinstance(have, list):
        return [vary(v, row, rng) for v in have]
    if not is_number(have):
        return have
    if isinstance(have, int) and row.get("unit") in ("", None, "count", "1"):
        return int(within(have + rng.randint(-1, 2), row))
    return round(within(have * factor(rng), row), 1)
