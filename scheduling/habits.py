"""A vendor's habit: how what it takes compares with what it quotes.

The ratio actual / quoted is lognormal. Before any return the trade's prior stands
(median 1.15, log-sd 0.45: common practice, no source); each return moves it by the
conjugate normal-inverse-gamma update (Gelman et al., Bayesian Data Analysis,
section 3.3; from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from scheduling.plan import PastReturn

PRIOR_MEDIAN = 1.15
PRIOR_LOG_SD = 0.45
PRIOR_RETURNS = 4.0  # the prior weighs as much as this many returns
PRIOR_DEGREES = 5.0


@dataclass(frozen=True, slots=True)
class Habit:
    """Actual over quoted as a lognormal."""

    median: float
    log_sd: float

    def quantile(self, chance: float | NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the ratio not exceeded with the given chance."""
        return np.asarray(self.median * np.exp(self.log_sd * ndtri(chance)))


def ratio_of(past: PastReturn) -> float:
    """Return actual over quoted of one return, without the days it only waited.

    Parameters
    ----------
    past : PastReturn
        In the vendor's working days; `waited_days` is less than `actual_days`.
    """
    return (past.actual_days - past.waited_days) / past.quoted_days


def habit(history: Sequence[PastReturn]) -> Habit:
    """Return the predictive habit for the next return.

    Parameters
    ----------
    history : sequence of PastReturn
        Quoted and actual length of past returns, in working days; may be empty. The
        days it waited before the vendor could start teach nothing: they are taken out.

    Notes
    -----
    The predictive distribution is Student's t in the log; it is kept as a lognormal
    of the same centre with the posterior mean of the variance, so that with no
    history it is exactly the prior.
    """
    logs = np.array([math.log(ratio_of(one)) for one in history])
    count = len(logs)
    centre = math.log(PRIOR_MEDIAN)
    prior_variance = PRIOR_LOG_SD**2 / (1.0 + 1.0 / PRIOR_RETURNS)
    weight = PRIOR_RETURNS + count
    squares = PRIOR_DEGREES * prior_variance
    if count:
        mean = float(logs.mean())
        squares += float(((logs - mean) ** 2).sum())
        squares += PRIOR_RETURNS * count / weight * (mean - centre) ** 2
        centre = (PRIOR_RETURNS * centre + count * mean) / weight
    variance = squares / (PRIOR_DEGREES + count) * (1.0 + 1.0 / weight)
    return Habit(math.exp(centre), math.sqrt(variance))
