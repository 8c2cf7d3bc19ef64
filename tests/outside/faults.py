"""What the judge has to say: faults, each with a place, a number and its limit."""

from dataclasses import asdict, dataclass, field


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong: which check, where, how much, and how much was allowed."""

    check: str
    where: str
    have: float | str
    need: str
    why: str = ""

    def line(self) -> str:
        """The fault as one line for people."""
        have = f"{self.have:.4f}" if isinstance(self.have, float) else str(self.have)
        tail = f" ({self.why})" if self.why else ""
        return f"{self.check}: {self.where}: {have}, needs {self.need}{tail}"


@dataclass
class Verdict:
    """All faults of one package, with the counts and worst numbers that were measured."""

    package: str
    counts: dict = field(default_factory=dict)
    worst: dict = field(default_factory=dict)
    faults: list = field(default_factory=list)
    notes: list = field(default_factory=list)

    def add(self, check, where, have, need, why=""):
        """Notes one fault."""
        self.faults.append(Fault(check, where, have, need, why))

    def count(self, name, by=1):
        """Counts something that was tried or met."""
        self.counts[name] = self.counts.get(name, 0) + by

    def most(self, name, value):
        """Keeps the largest value seen under this name."""
        self.worst[name] = max(float(value), self.worst.get(name, float("-inf")))

    @property
    def ok(self) -> bool:
        """Whether nothing was found."""
        return not self.faults

    def as_dict(self) -> dict:
        """The verdict as plain data, for --json."""
        return {
            "package": self.package,
            "ok": self.ok,
            "counts": self.counts,
            "worst": {k: round(v, 6) for k, v in self.worst.items()},
            "faults": [asdict(f) for f in self.faults],
            "notes": self.notes,
        }
