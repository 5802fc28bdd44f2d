"""What finished and begun work says about the factors jobs share.

A car whose first ten jobs all ran long is a hard car; a plater late with three parts
is busy. Each shared factor is a standard normal score; lengths are lognormal, so

    log length - log median of the estimate = sum of share x score + own spread

is linear in the scores, and finished work moves them as in a Kalman filter. Work that
is not done yet says "longer than this": the two moments of the truncated normal are
kept, one observation after another (assumed-density filtering; Minka 2001, Expectation
propagation for approximate Bayesian inference, section 3; from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr

from scheduling.estimates import LogNormal
from scheduling.network import Network
from scheduling.plan import Job
from scheduling.shared_plan import pace_of
from scheduling.work import HAND_KINDS, SENT_KINDS, Work, work_of

Floats = NDArray[np.float64]
Shares = Mapping[str, float]

LEAST = 0.01  # of the median: shorter is a slip of the finger, not a length


@dataclass(frozen=True, slots=True)
class Seen:
    """One job's log length above what was estimated, or what it is known to exceed."""

    shares: Shares
    own: float
    log: float
    done: bool


class Learned:
    """Scores of the shared factors given what has been seen, jointly normal."""

    def __init__(self, seen: Sequence[Seen]) -> None:
        names = sorted({name for one in seen for name in one.shares})
        self._place = {name: number for number, name in enumerate(names)}
        self._mean = np.zeros(len(names))
        self._spread = np.eye(len(names))
        for one in seen:
            self._take(one)
        self._root = np.linalg.cholesky(self._spread) if names else self._spread

    def _take(self, seen: Seen) -> None:
        row = np.zeros(len(self._mean))
        for name, share in seen.shares.items():
            row[self._place[name]] = share
        along = self._spread @ row
        total = math.sqrt(float(row @ along) + seen.own**2)
        off = (seen.log - float(row @ self._mean)) / total
        shift, shrink = (off, 1.0) if seen.done else _beyond(off)
        self._mean += along * (shift / total)
        self._spread -= np.outer(along, along) * (shrink / total**2)

    def scores(self, name: str, normal: Callable[[str], Floats]) -> Floats:
        """Return the scores of one factor from independent normal ones by name."""
        if name not in self._place:
            return normal(name)
        number = self._place[name]
        found = np.full_like(normal(name), self._mean[number])
        for other, place in self._place.items():
            if self._root[number, place]:
                found += self._root[number, place] * normal(other)
        return found


def _beyond(bar: float) -> tuple[float, float]:
    """Return the mean of a standard normal above `bar`, and the variance it loses."""
    ratio = math.exp(-(bar**2) / 2.0 - float(log_ndtr(-bar))) / math.sqrt(2.0 * math.pi)
    return ratio, min(ratio * (ratio - bar), 1.0)


def seen_in(network: Network, shares_of: Callable[[Work], Shares]) -> list[Seen]:
    """Return what a plan's finished and begun jobs say, in the order of the plan.

    Parameters
    ----------
    network : Network
    shares_of : function
        From a job's work to the log-sds of the factors it shares, by name.

    Notes
    -----
    Hands count only where it is known whose, and where that person did nothing else
    in between: a clock that runs while a job lies there teaches the wrong thing.
    """
    found = []
    for work in _lengths(network):
        shares = shares_of(work)
        one = _seen(network, work, shares) if shares else None
        if one:
            found.append(one)
    return found


def _lengths(network: Network) -> Iterator[Work]:
    """Return the finished and begun work of those jobs that tell how long they took."""
    for job in network.plan.jobs:
        if job.state == "done":
            if job.kind in (*HAND_KINDS, *SENT_KINDS) and _tells(network, job):
                yield work_of(job, network.plan, network.clocks, network.now)
        elif job.id in network.index:
            node = network.nodes[network.index[job.id]]
            begun = (one for one in node.works if one.job is job and one.begun)
            yield from (one for one in begun if _tells(network, job))


def _seen(network: Network, work: Work, shares: Shares) -> Seen | None:
    job, law = work.job, work.spread
    if not isinstance(law, LogNormal):
        return None
    if work.promise:
        return _promised(network, work, shares)
    done = job.state == "done"
    length = _length(network, work) if done else work.spent
    if job.kind in HAND_KINDS and job.person:
        length /= pace_of(network, work, (job.person,))
    if length < LEAST * math.exp(law.mu):
        return None
    return Seen(shares, law.sigma, math.log(length) - law.mu, done)


def _tells(network: Network, job: Job) -> bool:
    if job.kind in SENT_KINDS:
        return True
    if job.rework_chance or job.people > 1 or not job.person or job.started is None:
        return False
    return not any(
        other.person == job.person and other.id != job.id and _overlap(job, other)
        for other in network.plan.jobs
    )


def _overlap(job: Job, other: Job) -> bool:
    if other.kind not in HAND_KINDS or other.started is None or job.started is None:
        return False
    begins = max(job.started, other.started)
    return all(one.finished is None or begins < one.finished for one in (job, other))


def _length(network: Network, work: Work) -> float:
    """Return what a finished job took: quarters, or working days."""
    job, quarter = work.job, network.clocks.timeline.quarter
    if job.started is None or job.finished is None:
        return 0.0
    begin, end = quarter(job.started), quarter(job.finished)
    if begin < 0:  # from before the calendars were written
        return 0.0
    if work.in_days:
        return work.clock.days_worked(end) - work.clock.days_worked(begin)
    return work.clock.worked(end) - work.clock.worked(begin)


def _promised(network: Network, work: Work, shares: Shares) -> Seen | None:
    """Return that a promised part has not come back yet."""
    promise, vendor = work.promise, f"vendor:{work.job.vendor}"
    if promise is None or promise.log_sd <= 0 or vendor not in shares:
        return None
    share = min(shares[vendor], 0.95 * promise.log_sd)
    clock = work.clock
    gone = clock.days_worked(network.now) - clock.days_worked(max(promise.base, 0.0))
    if gone <= 0:
        return None
    own = math.sqrt(promise.log_sd**2 - share**2)
    log = math.log(gone / promise.quoted_days / promise.median)
    return Seen({vendor: share}, own, log, done=False)
