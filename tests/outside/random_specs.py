#!/usr/bin/env python3
"""Random requests to a running service; every package that comes back is judged.

    random_specs.py http://127.0.0.1:PORT

BERTH_RANDOM_N packages (default 300) are judged, by turns over all families, from the seed BERTH_SEED.
A refusal is an answer too: it must say by how much. Requests and packages with faults are kept in out/.
Exit code 0 if nothing was found.
"""

import json
import os
import random
import sys
from collections import Counter, deque
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from judge import WORKERS, judge_bytes, print_verdict
from requests_by_family import random_request
from service import Service, judge_refusal

# Packages wanted may cost at most this many requests each, or the requests are not worth their name.
MOST_TRIES = 6
# Least share of a family's requests that must be accepted, so that every family is really judged.
LEAST_ACCEPTED = 0.15
KEEP = Path(__file__).resolve().parents[2] / "out" / "judge"


class Run:
    """One run: what was asked, what came back, what was found."""

    def __init__(self, service, n, seed, workers=WORKERS):
        self.service, self.n, self.seed, self.workers = service, n, seed, workers
        self.accepted, self.refused, self.reasons = Counter(), Counter(), Counter()
        self.counts, self.worst, self.bad = Counter(), {}, []

    def go(self) -> bool:
        """Asks and judges until enough packages were judged. True if nothing was found."""
        families, materials = self.service.families(), self.service.materials()
        waiting, tries = deque(), 0
        with ProcessPoolExecutor(self.workers) as pool:
            while sum(self.accepted.values()) < self.n and tries < MOST_TRIES * self.n:
                family = families[tries % len(families)]
                name = f"{family['name']}-{self.seed}-{tries}"
                spec = random_request(random.Random(name), family, materials)
                tries += 1
                self.ask(pool, waiting, family["name"], name, spec)
                while len(waiting) > 2 * self.workers:
                    self.take(*waiting.popleft())
            while waiting:
                self.take(*waiting.popleft())
        return self.enough(families) and not self.bad

    def ask(self, pool, waiting, family, name, spec):
        """One request: a package goes to the judges, a refusal is judged at once."""
        status, kind, body = self.service.make(spec)
        if status == 200 and kind == "application/zip":
            self.accepted[family] += 1
            waiting.append((pool.submit(judge_bytes, name, body), spec, body))
        elif status == 422:
            self.refused[family] += 1
            self.reasons.update(codes(body))
            verdict = judge_refusal(name, kind, body)
            if not verdict.ok:
                self.keep(verdict, spec, body)
        else:
            verdict = judge_refusal(name, kind, b"{}")
            verdict.add("answer", name, status, "200 with a ZIP, or 422", body[:200].decode(errors="replace"))
            self.keep(verdict, spec, body)

    def take(self, future, spec, body):
        """The judge's word on one package."""
        verdict = future.result()
        self.counts.update({k: v for k, v in verdict.counts.items()})
        for key, value in verdict.worst.items():
            self.worst[key] = max(value, self.worst.get(key, value))
        if not verdict.ok:
            self.keep(verdict, spec, body)

    def keep(self, verdict, spec, body):
        """Prints a bad one and keeps its request and answer."""
        self.bad.append(verdict)
        KEEP.mkdir(parents=True, exist_ok=True)
        (KEEP / f"{verdict.package}.spec.json").write_text(json.dumps(spec, indent=1))
        (KEEP / f"{verdict.package}.answer").write_bytes(body)
        print_verdict(verdict)

    def enough(self, families) -> bool:
        """Whether as many as wanted were judged, and of every family a fair share."""
        starved = []
        for name in (f["name"] for f in families):
            asked = self.accepted[name] + self.refused[name]
            if self.accepted[name] < LEAST_ACCEPTED * max(asked, 1):
                starved.append(f"{name} {self.accepted[name]} of {asked}")
        if starved:
            print("too few accepted: " + ", ".join(starved))
        if sum(self.accepted.values()) < self.n:
            print(f"only {sum(self.accepted.values())} of {self.n} packages after {MOST_TRIES * self.n} requests")
        return not starved and sum(self.accepted.values()) >= self.n

    def summary(self):
        """The run in a few lines."""
        print(f"seed {self.seed}: judged {sum(self.accepted.values())} packages "
              f"{dict(self.accepted)}, refused {sum(self.refused.values())} {dict(self.refused)}, with faults {len(self.bad)}")
        print("counts: " + ", ".join(f"{k} {v}" for k, v in sorted(self.counts.items())))
        print("worst: " + ", ".join(f"{k} {v:.4f}" for k, v in sorted(self.worst.items())))
        print("refused for: " + ", ".join(f"{k} {v}" for k, v in self.reasons.most_common(12)))


def codes(body):
    """The codes of a refusal's refusing findings."""
    try:
        return [f["code"] for f in json.loads(body)["findings"] if f.get("verdict") == "refuse"]
    except (ValueError, KeyError, TypeError, AttributeError):
        return []


def main(argv) -> int:
    """The command line."""
    if len(argv) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    n = int(os.environ.get("BERTH_RANDOM_N", "300"))
    seed = int(os.environ.get("BERTH_SEED") or random.SystemRandom().randrange(10**6))
    print(f"BERTH_SEED={seed} BERTH_RANDOM_N={n}")
    run = Run(Service(argv[1]), n, seed)
    ok = run.go()
    run.summary()
    return 0 if ok else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv))
