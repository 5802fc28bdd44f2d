"""Drawn durations: the same seed, the same numbers, job by job and sample by sample.

Every job, vendor, car and person has random numbers of its own (`uniforms`), so a
change to one job leaves all other draws alone: common random numbers for every
comparison.
"""

from __future__ import annotations

import math
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from scheduling.away import PromisedReturn
from scheduling.compiled import PLAIN
from scheduling.estimates import USUAL_FACTORS, Spread
from scheduling.many_moments import add_days_each
from scheduling.network import Network
from scheduling.plan import Factors, Plan
from scheduling.sampling.draw_steps import draw_rows
from scheduling.sampling.learned import Learned, seen_in
from scheduling.sampling.quantiles import SCORES, read, table_of
from scheduling.sampling.uniforms import key_of, uniforms
from scheduling.shared_plan import SharedPlan, pace_of
from scheduling.threads import side_by_side
from scheduling.work import HAND_KINDS, SENT_KINDS, Remainder, Team, Work

Floats = NDArray[np.float64]

BLOCK = 5_000
NEARLY_ONE = 1.0 - 1e-12
ASK = np.dtype(
    [
        *((name, np.uint64) for name in ("key", "again", "second")),
        *((name, np.float64) for name in ("chance", "pace")),
        *((name, np.int64) for name in ("row", "table", "fresh", "common")),
    ],
    align=True,
)


def factors_of(plan: Plan) -> Factors:
    """Return the plan's shared factors, or its reading's defaults."""
    return plan.factors or USUAL_FACTORS[plan.reading]


class Drawer:
    """Draws the samples of one block for every job of a network."""

    def __init__(
        self,
        network: Network,
        shared: SharedPlan,
        seed: int,
        block: int,
        size: int,
        learned: Learned | None = None,
    ) -> None:
        self._network, self._shared, self._seed = network, shared, seed
        self._offset, self._size = block * BLOCK, size
        self._factors = factors_of(network.plan)
        self._rejects = {one.id: one.reject_chance for one in network.plan.vendors}
        self._scores: dict[str, Floats] = {}
        self._normals: dict[str, Floats] = {}
        self.learned = learned or Learned(seen_in(network, self._shares))
        self._common: dict[tuple[tuple[float, str], ...], int] = {(): 0}
        self._commons = [np.ones(size)]
        self._table: dict[Spread, int] = {}

    def all(self, threads: int = 1, plain: bool = PLAIN) -> Floats:
        """Return the drawn amounts, jobs x samples, in the order of the nodes.

        Lengths in each job's own unit, or moments of return where promised. The
        numbers are the same whatever the number of threads, compiled or `plain`.
        """
        works = [
            (number, work)
            for number, node in enumerate(self._network.nodes)
            for work in node.works
        ]
        amounts = np.empty((len(works), self._size))
        asks = []
        for row, (number, work) in enumerate(works):
            if work.promise:
                amounts[row] = self._returned(number, work, work.promise)
            elif work.spent > 0:
                amounts[row] = self._left(number, work)
            else:
                asks.append(self._ask(row, number, work))
        found = np.array(asks, dtype=ASK)
        kept = [table_of(law) for law in self._table]
        tables = np.array(kept).reshape(-1, len(SCORES))
        commons = np.array(self._commons)
        if plain:
            self._draw_rows(found, tables, commons, amounts)
            return amounts
        asked = found, tables, commons, amounts, self._offset
        side_by_side([partial(draw_rows, *asked, n, threads) for n in range(threads)])
        return amounts

    def _draw_rows(
        self, asks: NDArray[Any], tables: Floats, commons: Floats, amounts: Floats
    ) -> None:
        for ask in asks:
            common, pace = commons[ask["common"]], ask["pace"]
            lengths = read(tables[ask["table"]], self._uniforms(ask["key"]))
            lengths = lengths * common * pace
            if ask["chance"] > 0:
                again = self._uniforms(ask["again"]) < ask["chance"]
                second = read(tables[ask["fresh"]], self._uniforms(ask["second"]))
                lengths = np.where(again, lengths + second * common * pace, lengths)
            amounts[ask["row"]] = lengths

    def _uniforms(self, key: np.uint64) -> Floats:
        return uniforms(key, self._offset, self._size)

    def _keys(self, work: Work) -> tuple[np.uint64, ...]:
        """Return the keys of a job's length, of its going wrong, and of its rework."""
        name = f"job:{work.job.id}"
        names = (name, f"{name} again", f"{name} second")
        return tuple(key_of(self._seed, one) for one in names)

    def _ask(self, row: int, number: int, work: Work) -> tuple[Any, ...]:
        """Return what one job's row is drawn with."""
        return (
            *self._keys(work),
            self._chance_again(work),
            self._pace(number, work),
            row,
            self._number(work.spread),
            self._number(_whole(work.spread)),
            self._common_row(number, work),
        )

    def _number(self, law: Spread) -> int:
        return self._table.setdefault(law, len(self._table))

    def _common_row(self, number: int, work: Work) -> int:
        """Return the row of what a job shares with others, drawn once for all."""
        key = self._key(self._shared.team[number], work)
        if key not in self._common:
            self._common[key] = len(self._commons)
            total = sum(share * self._score(name) for share, name in key)
            self._commons.append(np.exp(total))
        return self._common[key]

    def _scale(self, number: int, work: Work) -> Floats:
        """Return what lengths are multiplied by: what is shared, and the pace."""
        return self._pace(number, work) * self._commons[self._common_row(number, work)]

    def _left(self, number: int, work: Work) -> Floats:
        """Return what is left of work that has been going for a while.

        It is longer than what has gone by, whatever it shares with its car and vendor.
        """
        scores = ndtri(self._uniforms(self._keys(work)[0]))
        scale = self._scale(number, work)
        left = scale * work.spread.draw_beyond(work.spent / scale, scores)
        return left + self._rework(number, work)

    def _rework(self, number: int, work: Work) -> Floats:
        """Return the whole job a second time in samples where it has to be."""
        chance = self._chance_again(work)
        if chance <= 0.0:
            return np.zeros(self._size)
        _, again, second = self._keys(work)
        wrong = self._uniforms(again) < chance
        length = _whole(work.spread).draw(ndtri(self._uniforms(second)))
        return np.where(wrong, length * self._scale(number, work), 0.0)

    def _score(self, name: str) -> Floats:
        if name not in self._scores:
            self._scores[name] = self.learned.scores(name, self._normal)
        return self._scores[name]

    def _normal(self, name: str) -> Floats:
        if name not in self._normals:
            self._normals[name] = ndtri(self._uniforms(key_of(self._seed, name)))
        return self._normals[name]

    def _shares(self, work: Work) -> dict[str, float]:
        """Return what a finished or begun job shares with others, by name."""
        person = (work.job.person,) if work.job.person else ()
        return {name: share for share, name in self._key(person, work)}

    def _chance_again(self, work: Work) -> float:
        """Return the chance that the whole job has to be done a second time."""
        chance = work.job.rework_chance
        if work.job.kind == "outside" and work.job.vendor:
            chance = 1.0 - (1.0 - chance) * (1.0 - self._rejects[work.job.vendor])
        return chance if work.length > 0 else 0.0

    def _spreads(self, work: Work) -> bool:
        return work.length > 0 and not (work.job.estimate and work.job.estimate.fixed)

    def _key(self, team: Team, work: Work) -> tuple[tuple[float, str], ...]:
        """Return what a job shares with others: its vendor, its car, its people."""
        factors, job = self._factors, work.job
        if not self._spreads(work):
            return ()
        found = []
        if factors.vendor and job.kind in SENT_KINDS and job.vendor:
            found.append((factors.vendor, f"vendor:{job.vendor}"))
        if factors.build and job.build and job.kind in (*HAND_KINDS, *SENT_KINDS):
            found.append((factors.build, f"build:{job.build}"))
        if factors.person and team:
            found.append((factors.person, f"person:{team[0]}"))
        return tuple(found)

    def _pace(self, number: int, work: Work) -> float:
        team = self._shared.team[number]
        return pace_of(self._network, work, team) if team else 1.0

    def _returned(self, number: int, work: Work, promise: PromisedReturn) -> Floats:
        """Return when a piece is back for good: some are found bad and go again."""
        back = self._back(work, promise)
        return add_days_each(work.clock, back, self._rework(number, work))

    def _back(self, work: Work, promise: PromisedReturn) -> Floats:
        """Return when a promised part is back, given that it is not back yet."""
        scores = ndtri(self._uniforms(self._keys(work)[0]))
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


def _whole(law: Spread) -> Spread:
    """Return the law of the whole job where another is what is left of it."""
    return law.whole if isinstance(law, Remainder) else law
