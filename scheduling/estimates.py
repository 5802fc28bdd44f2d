"""How long a job may take: estimates as distributions.

Two readings of low / likely / high. *one-in-ten*: low and high are the 10 % and
90 % points of a lognormal. *ends*: they are the ends of a PERT-beta (Malcolm et al.
1959, Operations Research 7:646-669).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray
from scipy.special import betainc, betaincinv, ndtr, ndtri

from scheduling.plan import Estimate, Factors, Kind, Reading

Floats = NDArray[np.float64]

Z90 = 1.2815515655446004  # the 90 % point of the standard normal
KIND_SPREAD: dict[str, float] = {
    # log standard deviations where only `likely` is given; common practice, no source
    "bench": 0.35,
    "check": 0.25,
    "outside": 0.45,
    "order": 0.45,
    "decision": 0.6,
    "stand": 0.25,
    "mark": 0.0,
}
# the shared factors of a plan that gives none, by its reading
USUAL_FACTORS = {
    "one-in-ten": Factors(vendor=0.25, build=0.12, person=0.0),
    "ends": Factors(vendor=0.0, build=0.0, person=0.0),
}
NEARLY_ONE = 1.0 - 1e-12
TABLE_POINTS = 1025


class Spread(Protocol):
    """A duration in the job's own unit, drawn through standard normal scores."""

    @property
    def expected(self) -> float:
        """Return the length a plan without odds counts with."""
        ...

    def draw(self, scores: Floats) -> Floats:
        """Return the durations whose standard normal scores are given."""
        ...

    def draw_beyond(self, spent: Floats, scores: Floats) -> Floats:
        """Return what is left of durations known to exceed `spent`, one per score."""
        ...

    def __hash__(self) -> int:
        """Tell laws apart: tables are kept by law."""
        ...


@dataclass(frozen=True, slots=True)
class Fixed:
    """No spread."""

    expected: float

    def draw(self, scores: Floats) -> Floats:
        """Return the one value for every score."""
        return np.full(len(scores), self.expected)

    def draw_beyond(self, spent: Floats, scores: Floats) -> Floats:
        """Return what is left, at least a tenth of the whole."""
        return np.maximum(self.expected - spent, 0.1 * self.expected)


@dataclass(frozen=True, slots=True)
class LogNormal:
    """exp(mu + sigma Z); `likely` is what the plan without odds counts with."""

    mu: float
    sigma: float
    expected: float

    def draw(self, scores: Floats) -> Floats:
        """Return exp(mu + sigma z) for every score."""
        return np.exp(self.mu + self.sigma * scores)

    def draw_beyond(self, spent: Floats, scores: Floats) -> Floats:
        """Return the rest of lognormal durations that exceed `spent`."""
        below = ndtr((np.log(spent) - self.mu) / self.sigma)
        chance = below + (1.0 - below) * ndtr(scores)
        reached = np.exp(self.mu + self.sigma * ndtri(np.minimum(chance, NEARLY_ONE)))
        return np.maximum(reached - spent, 0.02 * spent)


@dataclass(frozen=True, slots=True)
class PertBeta:
    """A beta on low..high with PERT's shape, drawn by table."""

    low: float
    high: float
    alpha: float
    beta: float
    expected: float

    def _quantiles(self, chance: Floats) -> Floats:
        grid = np.linspace(0.0, 1.0, TABLE_POINTS)
        points = betaincinv(self.alpha, self.beta, grid)
        return self.low + (self.high - self.low) * np.interp(chance, grid, points)

    def draw(self, scores: Floats) -> Floats:
        """Return the beta quantiles of every score."""
        return self._quantiles(ndtr(scores))

    def draw_beyond(self, spent: Floats, scores: Floats) -> Floats:
        """Return the rest of durations that exceed `spent`."""
        inside = (spent - self.low) / (self.high - self.low)
        below = betainc(self.alpha, self.beta, np.clip(inside, 0.0, 1.0))
        chance = below + (1.0 - below) * ndtr(scores)
        return np.maximum(self._quantiles(chance) - spent, 0.02 * self.high)


def lognormal_from(low: float, high: float) -> tuple[float, float]:
    """Return (mu, sigma) of the log for given 10 % and 90 % points.

    Parameters
    ----------
    low, high : float
        Any unit, 0 <= low <= high; a zero low counts as a thousandth of high.
    """
    low = max(low, high / 1000.0)
    mean = (math.log(low) + math.log(high)) / 2.0
    return mean, (math.log(high) - math.log(low)) / (2.0 * Z90)


def pert_mean(low: float, likely: float, high: float) -> float:
    """Return (a + 4m + b) / 6."""
    return (low + 4.0 * likely + high) / 6.0


def pert_sd(low: float, likely: float, high: float) -> float:
    """Return (b - a) / 6."""
    return (high - low) / 6.0


def pert_shape(low: float, likely: float, high: float) -> tuple[float, float]:
    """Return the beta's (alpha, beta): 1 + 4(m-a)/(b-a) and 1 + 4(b-m)/(b-a)."""
    width = high - low
    return 1.0 + 4.0 * (likely - low) / width, 1.0 + 4.0 * (high - likely) / width


def spread(estimate: Estimate, reading: Reading, kind: Kind) -> Spread:
    """Return the distribution an estimate stands for.

    Parameters
    ----------
    estimate : Estimate
        In the unit of the job's kind.
    reading : {"one-in-ten", "ends"}
        How low and high are meant. Under "ends" a lone `likely` has no spread.
    kind : str
        Gives the spread where only `likely` is known (`KIND_SPREAD`).
    """
    likely, low, high = estimate.likely, estimate.low, estimate.high
    if estimate.fixed or (likely <= 0 and not high):
        return Fixed(likely)
    if low is None or high is None:
        sigma = KIND_SPREAD[kind] if reading == "one-in-ten" else 0.0
        return LogNormal(math.log(likely), sigma, likely) if sigma else Fixed(likely)
    if high <= low:
        return Fixed(likely)
    if reading == "one-in-ten":
        return LogNormal(*lognormal_from(low, high), likely)
    shape = pert_shape(low, likely, high)
    return PertBeta(low, high, *shape, pert_mean(low, likely, high))


def quantile(
    estimate: Estimate, reading: Reading, kind: Kind, chance: Floats
) -> Floats:
    """Return the durations reached with the given chances (0 to 1)."""
    return spread(estimate, reading, kind).draw(ndtri(np.asarray(chance, dtype=float)))
