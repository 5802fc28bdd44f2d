"""Drawn durations: the same seed gives the same numbers, job by job and block by block.

Every job, vendor, car and person has a random stream of its own (counter-based
Philox, Salmon et al. 2011), so a change to one job leaves all other draws alone:
common random numbers for every comparison.
"""

from __future__ import annotations

import hashlib
import math
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from scheduling.estimates import USUAL_FACTORS
from scheduling.many_moments import add_days_each
from scheduling.network import Network
from scheduling.plan import Factors, Plan
from scheduling.shared_plan import SharedPlan, pace_of
from scheduling.work import HAND_KINDS, SENT_KINDS, PromisedReturn, Work

Floats = NDArray[np.float64]

BLOCK = 5_000
NEARLY_ONE = 1.0 - 1e-12


def stream(seed: int, name: str, block: int) -> np.random.Generator:
    """Return the random stream of one named thing in one block."""
    digest = hashlib.blake2b(f"{name}\0{block}".encode(), digest_size=8).digest()
    key = np.array([seed % 2**64, int.from_bytes(digest, "little")], dtype=np.uint64)
    return np.random.Generator(np.random.Philox(key=key))


def factors_of(plan: Plan) -> Factors:
    """Return the plan's shared factors, or its reading's defaults."""
    return plan.factors or USUAL_FACTORS[plan.reading]


class Drawer:
    """Draws one block of samples for every job of a network."""

    def __init__(
        self, network: Network, shared: SharedPlan, seed: int, block: int, size: int
    ) -> None:
        self._network, self._shared = network, shared
        self._seed, self._block, self._size = seed, block, size
        self._factors = factors_of(network.plan)
        self._rejects = {one.id: one.reject_chance for one in network.plan.vendors}
        self._scores: dict[str, Floats] = {}
        self._common: dict[tuple[tuple[float, str], ...], Floats] = {}

    def all(self, threads: int = 1) -> Floats:
        """Return the drawn amounts, jobs x samples, in the order of the nodes.

        Lengths in each job's own unit, or moments of return where promised. The
        numbers are the same whatever the number of threads.
        """
        works = [
            (number, work)
            for number, node in enumerate(self._network.nodes)
            for work in node.works
        ]
        amounts = np.empty((len(works), self._size))
        for number, work in works:
            self._prepare(number, work)

        def draw(first: int) -> None:
            for row in range(first, len(works), threads):
                amounts[row] = self._draw(*works[row])

        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(draw, range(threads)))
        return amounts

    def _prepare(self, number: int, work: Work) -> None:
        """Draw what several jobs share, before any thread asks for it."""
        if work.promise:
            self._score(f"vendor:{work.job.vendor}")
            return
        key = self._key(number, work)
        if key and key not in self._common:
            total = sum(share * self._score(name) for share, name in key)
            self._common[key] = np.exp(total)

    def _score(self, name: str) -> Floats:
        if name not in self._scores:
            random = stream(self._seed, name, self._block)
            self._scores[name] = random.standard_normal(self._size)
        return self._scores[name]

    def _draw(self, number: int, work: Work) -> Floats:
        random = stream(self._seed, f"job:{work.job.id}", self._block)
        scores = random.standard_normal(self._size)
        if work.promise:
            return self._returned(work, work.promise, scores)
        if work.spent > 0:
            length = work.spread.draw_beyond(work.spent, scores)
        else:
            length = work.spread.draw(scores)
        key = self._key(number, work)
        if key:
            length *= self._common[key]
        pace = self._pace(number, work)
        length *= pace
        chance = self._again(work)
        if chance > 0:
            again = random.random(self._size) < chance
            second = work.spread.draw(random.standard_normal(self._size))
            length = np.where(again, length + pace * second, length)
        return length

    def _again(self, work: Work) -> float:
        """Return the chance that the whole job has to be done a second time."""
        chance = work.job.rework_chance
        if work.job.kind == "outside" and work.job.vendor:
            chance = 1.0 - (1.0 - chance) * (1.0 - self._rejects[work.job.vendor])
        return chance if work.length > 0 else 0.0

    def _spreads(self, work: Work) -> bool:
        return work.length > 0 and not (work.job.estimate and work.job.estimate.fixed)

    def _key(self, number: int, work: Work) -> tuple[tuple[float, str], ...]:
        """Return what a job shares with others: its vendor, its car, its people."""
        factors, job = self._factors, work.job
        if not self._spreads(work):
            return ()
        found = []
        if factors.vendor and job.kind in SENT_KINDS and job.vendor:
            found.append((factors.vendor, f"vendor:{job.vendor}"))
        if factors.build and job.build and job.kind in (*HAND_KINDS, *SENT_KINDS):
            found.append((factors.build, f"build:{job.build}"))
        team = self._shared.team[number]
        if factors.person and team:
            found.append((factors.person, f"person:{team[0]}"))
        return tuple(found)

    def _pace(self, number: int, work: Work) -> float:
        team = self._shared.team[number]
        return pace_of(self._network, work, team) if team else 1.0

    def _returned(self, work: Work, promise: PromisedReturn, scores: Floats) -> Floats:
        """Return when a promised part is back, given that it is not back yet."""
        if promise.log_sd <= 0:
            return np.full(self._size, promise.due)
        common = min(self._factors.vendor, 0.95 * promise.log_sd)
        own = math.sqrt(promise.log_sd**2 - common**2)
        centre = math.log(promise.median) + common * self._score(
            f"vendor:{work.job.vendor}"
        )
        now = self._network.now
        gone = work.clock.days_worked(now) - work.clock.days_worked(
            max(promise.base, 0.0)
        )
        if gone > 0:
            bar = (math.log(gone / promise.quoted_days) - centre) / own
            below = ndtr(bar)
            scores = ndtri(np.minimum(below + (1.0 - below) * ndtr(scores), NEARLY_ONE))
        days = promise.quoted_days * np.exp(centre + own * scores)
        base = np.full(self._size, max(promise.base, 0.0))
        return np.maximum(add_days_each(work.clock, base, days), now)
