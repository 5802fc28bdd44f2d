"""One sample of every job's length, drawn by the random module."""

import math
from random import Random
from statistics import NormalDist
from typing import Any

from scheduling.sampling.draws import factors_of
from scheduling.shared_plan import pace_of
from scheduling.work import HAND_KINDS, SENT_KINDS
from tests.scheduling.bench.clock import PlainClock

NORMAL = NormalDist()


class Lengths:
    """Draws by the plan's own laws; a score is shared by all it touches."""

    def __init__(self, kernel: Any, shared: Any, clocks: dict[int, PlainClock]) -> None:
        self.network, self.shared, self.clocks = kernel.network, shared, clocks
        self.factors = factors_of(self.network.plan)
        self.rejects = {one.id: one.reject_chance for one in self.network.plan.vendors}

    def sample(self, random: Random) -> list[list[tuple[float, float | None]]]:
        """Return (length, finish if promised) of every job of every node."""
        scores: dict[str, float] = {}
        return [
            [self._one(number, work, random, scores) for work in node.works]
            for number, node in enumerate(self.network.nodes)
        ]

    def _one(self, number: int, work: Any, random: Random, scores: Any) -> Any:
        if work.promise:
            return 0.0, self._back(work, random, scores)
        length = self._law(work.spread, work.spent, random)
        length *= self._common(number, work, random, scores)
        again = work.job.rework_chance
        if work.job.kind == "outside" and work.job.vendor:
            again = 1.0 - (1.0 - again) * (1.0 - self.rejects[work.job.vendor])
        if work.length > 0 and again and random.random() < again:
            length += self._law(work.spread, 0.0, random)
        return length, None

    def _law(self, law: Any, spent: float, random: Random) -> float:
        if hasattr(law, "whole"):
            return self._law(law.whole, 0.0, random) * law.share
        if not hasattr(law, "mu"):
            return max(law.expected - spent, 0.1 * law.expected)
        score = random.gauss(0.0, 1.0)
        if spent > 0:
            score = beyond((math.log(spent) - law.mu) / law.sigma, score)
            return max(math.exp(law.mu + law.sigma * score) - spent, 0.02 * spent)
        return math.exp(law.mu + law.sigma * score)

    def _common(self, number: int, work: Any, random: Random, scores: Any) -> float:
        job, team = work.job, self.shared.team[number]
        if work.length <= 0 or (job.estimate and job.estimate.fixed):
            return 1.0
        total = 0.0
        if job.kind in SENT_KINDS and job.vendor:
            name = f"vendor:{job.vendor}"
            total += self.factors.vendor * score_of(name, random, scores)
        if job.build and job.kind in (*HAND_KINDS, *SENT_KINDS):
            name = f"build:{job.build}"
            total += self.factors.build * score_of(name, random, scores)
        if team and self.factors.person:
            total += self.factors.person * score_of(team[0], random, scores)
        return math.exp(total) * (pace_of(self.network, work, team) if team else 1.0)

    def _back(self, work: Any, random: Random, scores: Any) -> float:
        promise, clock = work.promise, self.clocks[id(work.clock)]
        if promise.log_sd <= 0:
            return promise.due
        common = min(self.factors.vendor, 0.95 * promise.log_sd)
        own = math.sqrt(promise.log_sd**2 - common**2)
        centre = math.log(promise.median)
        centre += common * score_of(f"vendor:{work.job.vendor}", random, scores)
        base, now = max(promise.base, 0.0), self.network.now
        gone = clock.days_worked(now) - clock.days_worked(base)
        score = random.gauss(0.0, 1.0)
        if gone > 0:
            score = beyond((math.log(gone / promise.quoted_days) - centre) / own, score)
        days = promise.quoted_days * math.exp(centre + own * score)
        return max(clock.add_days(base, days), now)


def score_of(name: str, random: Random, scores: dict[str, float]) -> float:
    if name not in scores:
        scores[name] = random.gauss(0.0, 1.0)
    return scores[name]


def beyond(bar: float, score: float) -> float:
    """Return a standard normal score given that it is above `bar`."""
    below = NORMAL.cdf(bar)
    chance = below + (1.0 - below) * NORMAL.cdf(score)
    return NORMAL.inv_cdf(min(chance, 1.0 - 1e-12))
