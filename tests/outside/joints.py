"""Every joint of the list, measured on the burnt parts in sections square to its common line."""

import numpy as np

from section import FAR, View, at_depth, common_line, directed_gap, void_at
from slots import end_play, entries

# How far a measured fit may be from the joint's own (mm).
FIT_TOL_MM = 0.02
# Play along a slot at a tab: trade practice 0.2 (tab 12 in slot 12.2), no published source.
PLAY_MM = 0.2
# A tab flush with its host may stand back by this much at most (mm): under a sliding tray 0.3 is practice.
RECESS_MM = 0.3
# A void on the line of a corner longer than this (mm) is no play between fingers: something must fill it.
HOLE_MM = 0.6
# A loose contact may be this much wider (mm) than its clearance says.
REST_TOL_MM = 0.05
# How deep in the host (share of its thickness, from the side of the tab's body) tabs are looked for.
LOOK = 0.3
# A hook stops this far above its slot's end at most (mm), as laps do: practice, no published source.
SEAT_PLAY_MM = 0.5
# Where in a cell sections are taken.
SHARES = (0.15, 0.5, 0.85)


class JointJudge:
    """Measures one joint between parts a and b; `parts` are all parts of the holder."""

    def __init__(self, joint, a, b, parts, verdict):
        self.joint, self.a, self.b, self.parts, self.verdict = joint, a, b, parts, verdict
        self.fit = float(joint["fit_mm"])
        self.name = f"{joint['id']} ({joint['kind']} {a.code}-{b.code})"
        self.measured = 0

    def judge(self):
        """Measures by kind; a joint at which nothing could be measured is a fault."""
        v, kind = self.verdict, self.joint["kind"]
        v.count("joints")
        v.count(f"joints {kind}")
        if kind == "rest":
            return self.rest()
        e = common_line(self.a, self.b)
        if e is None:
            # parallel plates share a face, never an edge: the overlap check is all there is
            v.count("joints parallel")
            return None
        self.va, self.vb = View(self.a, e), View(self.b, e)
        {"tab": self.tab, "hook": self.hook, "corner": self.corner, "lap": self.lap}[kind]()
        if self.measured == 0:
            v.add("joint-empty", self.name, "nothing meets there", "at least one cell of the joint")
        return None

    def say(self, check, s, have, need, why=""):
        """A fault at the place s along the joint's line."""
        self.verdict.add(check, f"{self.name} at s {s:.2f}", float(have), need, why)

    def near(self, check, s, have, want, tol=FIT_TOL_MM):
        """The measure must be `want` within the tolerance."""
        self.measured += 1
        self.verdict.count("measures")
        self.verdict.most(f"{check} error mm", abs(have - want))
        if abs(have - want) > tol + 1e-9:
            self.say(check, s, have, f"{want:.3f} +- {tol} mm")

    def rest(self):
        """A loose contact: nothing interlocks, and the clearance is no more than said."""
        limit = max(0.0, self.fit) + REST_TOL_MM
        gap = self.a.solid.min_gap(self.b.solid, limit + 5.0)
        self.verdict.most("rest gap mm", gap - max(0.0, self.fit))
        if gap > limit:
            self.verdict.add("rest-gap", self.name, float(gap), f"<= {limit:.3f} mm")

    # --- tab: a enters, b has the slot -------------------------------------------------------

    def tab(self):
        """Each tab against its slot, and the shoulders between the tabs."""
        va, vb = self.va, self.vb
        z = vb.coords(np.vstack([va.point(q, va.t / 2) for q in (va.a[:, 1].min(), va.a[:, 1].max())]))[:, 1]
        body_low = -z.min() > z.max() - vb.t
        look = at_depth(va, vb, (LOOK if body_low else 1 - LOOK) * vb.t, va.t / 2)
        cells = va.along_s(look)
        for cell in cells:
            self.tab_cell(cell)
        self.shoulders(cells)

    def hook(self):
        """A tab whose slot is open at one end of the line: across it measures as a tab, along it hangs."""
        self.tab()
        va, vb = self.va, self.vb
        ends = []
        for low, high in va.along_s(at_depth(va, vb, vb.t / 2, va.t / 2)):
            for entry in entries(va, vb, (low + high) / 2):
                if entry.void is not None and entry.fit is not None:
                    ends.append((low, high, void_at(vb.along_s(sum(entry.void) / 2), entry.s)))
        for low, high, slot in ends:
            if slot is None or (slot[0] <= -FAR) == (slot[1] >= FAR):
                self.say("hook-open", (low + high) / 2, 0.0, "a slot open at one end, so that it can be lifted out")
                continue
            play = high - slot[1] if slot[0] <= -FAR else slot[0] - low
            self.near("hook seat", (low + high) / 2, abs(play), SEAT_PLAY_MM / 2, SEAT_PLAY_MM / 2)

    def tab_cell(self, cell):
        """One tab: fit in three sections, play along the line, reach."""
        va, vb = self.va, self.vb
        for share in SHARES:
            s = cell[0] + share * (cell[1] - cell[0])
            for entry in entries(va, vb, s):
                if entry.fit is None:
                    if vb.along_q(s):
                        self.say("slot-open", s, 0.0, "a slot closed on both sides")
                    continue
                self.near("fit", s, entry.fit, self.fit)
                self.reach(entry)
                play = end_play(cell, vb, entry) if share == 0.5 else None
                if share == 0.5:
                    self.verdict.count("tabs")
                if play is not None:
                    self.near("play", s, play, self.joint.get("play_mm", PLAY_MM))

    def reach(self, entry):
        """A tab ends flush: it does not stand proud, and stands back no more than practice allows."""
        want = float(self.joint.get("proud_mm", 0.0))
        self.verdict.most("proud mm", entry.proud)
        self.verdict.most("recess mm", -entry.proud)
        if entry.proud > want + FIT_TOL_MM:
            self.say("tab-proud", entry.s, entry.proud, f"<= {want + FIT_TOL_MM:.3f} mm")
        elif entry.proud < min(want, 0.0) - RECESS_MM - FIT_TOL_MM:
            self.say("tab-short", entry.s, -entry.proud, f"<= {RECESS_MM + FIT_TOL_MM:.3f} mm back")

    def shoulders(self, cells):
        """Between the tabs the entering part ends on the host's near face."""
        for left, right in zip(cells, cells[1:]):
            if right[0] - left[1] > 1.0:
                self.contact(self.va, self.vb, (left[1] + right[0]) / 2, strict=False)

    # --- corner: both end there, fingers by turns ---------------------------------------------

    def corner(self):
        """Flanks between fingers, contact behind each finger, and no hole along the corner."""
        cells = self.line_cells()
        for cell in cells:
            self.verdict.count("fingers")
            loser, winner = (self.vb, self.va) if cell[2] == "a" else (self.va, self.vb)
            for share in SHARES:
                self.contact(loser, winner, cell[0] + share * (cell[1] - cell[0]), strict=True)
        flanks = [None] + [self.flank(p, c) for p, c in zip(cells, cells[1:])] + [None]
        for cell, left, right in zip(cells, flanks, flanks[1:]):
            if left is not None and right is not None:
                self.near("finger fit", (cell[0] + cell[1]) / 2, left + right, self.fit)

    def line_cells(self):
        """Material on the line midway through both slabs: (from, to, owner), in order."""
        va, vb = self.va, self.vb
        on_a = va.along_s(at_depth(va, vb, vb.t / 2, va.t / 2))
        on_b = vb.along_s(at_depth(vb, va, va.t / 2, vb.t / 2))
        return sorted([(*i, "a") for i in on_a] + [(*i, "b") for i in on_b])

    def flank(self, before, after):
        """The gap between two neighbours on the line: half the fit if they are the two parts of the joint."""
        gap, s = after[0] - before[1], (after[0] + before[1]) / 2
        if gap > HOLE_MM:
            if not self.filled(s):
                self.say("corner-hole", s, gap, f"<= {HOLE_MM} mm, or another part in it")
            return None
        if before[2] == after[2]:
            return None
        self.near("flank", s, gap, self.fit / 2)
        return gap

    def filled(self, s) -> bool:
        """Whether another part of the holder stands on the joint's middle line at s."""
        va, vb = self.va, self.vb
        return self.held(va.point(at_depth(va, vb, vb.t / 2, va.t / 2), va.t / 2) + va.e * s)

    def held(self, place) -> bool:
        """Whether a third part of the holder stands at a place: where three meet, it may stand between two."""
        return any(holds(p, place) for p in self.parts if p not in (self.a, self.b))

    def contact(self, loser, winner, s, strict):
        """Smallest way of the loser along its own plane until it touches the winner, in the section at s."""
        target = [winner.rectangle(w) for w in winner.along_q(s)]
        best, wedge, middle = None, None, None
        for span in loser.along_q(s):
            for t in target:
                gap = directed_gap(loser.rectangle(span), t, loser.u, loser.n)
                if gap is not None and (best is None or gap[0] < best):
                    best, wedge = gap[0], gap[1] - gap[0]
                    ahead = (t @ loser.u).mean() > sum(span) / 2 + loser.u @ (loser.point(0.0, 0.0))
                    middle = span[1] + best / 2 if ahead else span[0] - best / 2
        if best is None or (not strict and best > 1.0):
            return
        limit = max(0.0, self.fit) + FIT_TOL_MM + (self.square_end(loser, winner) if strict else 0.0)
        self.verdict.count("contacts")
        self.verdict.most("contact gap over limit mm", best - limit)
        self.verdict.most("open wedge mm", wedge)
        if best > limit and not self.held(loser.point(middle, loser.t / 2) + loser.e * s):
            self.say("contact-gap", s, best, f"<= {limit:.3f} mm at the leading arris")

    @staticmethod
    def square_end(loser, winner):
        """What square-cut ends leave open at an obtuse corner, T*cos^2/sin of the inner angle; 0 if acute.

        The winner's end stands back at its inner face, so that its near face is missing just where the
        loser's arris would touch it.
        """
        cos = float(outward(loser, winner) @ outward(winner, loser))
        return winner.t * cos * cos / np.sqrt(1 - cos * cos) if cos < 0 else 0.0

    # --- lap: each enters the other -----------------------------------------------------------

    def lap(self):
        """Each part's slot against the other's thickness, section by section; both must enter."""
        seen = set()
        for low, high, owner in self.line_cells():
            enter, host = (self.va, self.vb) if owner == "a" else (self.vb, self.va)
            for share in SHARES:
                s = low + share * (high - low)
                for entry in entries(enter, host, s):
                    if entry.fit is None:
                        continue
                    seen.add(owner)
                    self.near("fit", s, entry.fit, self.fit)
        for owner in {"a", "b"} - seen:
            code = self.a.code if owner == "a" else self.b.code
            self.verdict.add("lap-empty", self.name, f"{code} enters nowhere", "each part in the other's slot")


def outward(view, other):
    """Direction in a plate's own plane, square to the common line, from the corner into its body."""
    middle = at_depth(view, other, other.t / 2, view.t / 2)
    body = (view.a[:, 1].min() + view.a[:, 1].max()) / 2
    return view.u * (1.0 if body > middle else -1.0)


def holds(part, place) -> bool:
    """Whether a point in space lies in a part."""
    from shapely.geometry import Point

    local = part.rotation.T @ (place - part.origin)
    return 0 <= local[2] <= part.thickness and part.burnt.sharp.covers(Point(local[0], local[1]))
