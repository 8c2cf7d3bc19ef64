"""Each part is one piece after burning, and it is still there."""

from burn import polygons

# A crumb smaller than this (mm2) is dust, not a piece.
CRUMB_MM2 = 0.01


def check_pieces(part, verdict):
    """One piece a part; a second one has dropped off, none at all was burnt away."""
    pieces = [p for p in polygons(part.burnt.physical) if p.area > CRUMB_MM2]
    if len(pieces) != 1:
        areas = ", ".join(f"{p.area:.2f}" for p in pieces[:4])
        verdict.add("pieces", part.code, len(pieces), "one piece", f"areas {areas} mm2" if pieces else "burnt away")
    lost = len(part.burnt.drawn.interiors) - sum(len(p.interiors) for p in pieces)
    if pieces and lost:
        verdict.add("pieces", part.code, lost, "0 openings lost to another cut")
