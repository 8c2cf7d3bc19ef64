"""What enters a slot, measured: the fit across it, the play along it, and how far a tab reaches through.

Fit is the width of the slot in the host's own plane less the shadow of what enters: the entering
slab's rectangle, clipped to the host's thickness, seen along the host's normal. It holds at any angle.
"""

from dataclasses import dataclass

import numpy as np

from section import FAR, clip_to_slab, void_at

# Material of the entering part that reaches less than this (mm) into the host is a shoulder, not a tab.
ENTERS_MM = 0.25


@dataclass
class Entry:
    """One entering rectangle in one section: fit (None where the slot is open to one side), reach, place."""

    s: float
    fit: float | None
    proud: float
    shadow: tuple
    void: tuple | None


def entries(enter, host, s) -> list:
    """Everything of `enter` that stands in the slab of `host` in the section at s."""
    found = []
    material = host.along_q(s)
    for span in enter.along_q(s):
        corners = host.coords(enter.rectangle(span))
        clipped = clip_to_slab(corners, host.t)
        if len(clipped) == 0 or np.ptp(clipped[:, 1]) < ENTERS_MM:
            continue
        shadow = (float(clipped[:, 0].min()), float(clipped[:, 0].max()))
        low, high = -corners[:, 1].min(), corners[:, 1].max() - host.t
        void = void_at(material, sum(shadow) / 2)
        fit = None
        if void and -FAR < void[0] and void[1] < FAR:
            fit = (void[1] - void[0]) - (shadow[1] - shadow[0])
        elif void is None:
            # no slot at all: the whole shadow is squeeze
            fit = -(shadow[1] - shadow[0])
        found.append(Entry(s, fit, float(min(low, high)), shadow, void))
    return found


def end_play(enter_span, host, entry):
    """Slot length less tab width along the common line; None where the slot is open at an end."""
    if entry.void is None or entry.fit is None:
        return None
    void = void_at(host.along_s(sum(entry.void) / 2), entry.s)
    if void is None or void[0] <= -FAR or void[1] >= FAR:
        return None
    return (void[1] - void[0]) - (enter_span[1] - enter_span[0])
