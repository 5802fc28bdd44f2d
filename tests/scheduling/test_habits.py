"""What a vendor's word is worth, against scipy and against known lognormals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import integrate, stats

from scheduling.habits import (
    PRIOR_DEGREES,
    PRIOR_LOG_SD,
    PRIOR_MEDIAN,
    PRIOR_RETURNS,
    habit,
    ratio_of,
)
from scheduling.plan import PastReturn

POINTS = (0.5, 0.8, 0.9, 0.95)


def returns(ratios) -> list[PastReturn]:
    return [PastReturn(10.0, 10.0 * float(one)) for one in ratios]


def test_with_no_history_the_trade_prior_stands():
    # Common practice, no source: median 1.15, log-sd 0.45 of actual over quoted.
    found = [float(habit([]).quantile(one)) for one in POINTS]
    assert found == pytest.approx([1.15, 1.68, 2.05, 2.41], abs=0.005)
    on_time = stats.norm.cdf(-math.log(1.15) / 0.45)
    assert on_time == pytest.approx(0.38, abs=0.005)


def posterior_by_integration(logs) -> tuple[float, float]:
    """The predictive mean and variance of the next log ratio, without the closed form.

    The joint posterior of mean and variance, from scipy's own densities (normal and
    inverse gamma), summed over a fine grid.
    """
    scale = PRIOR_DEGREES * PRIOR_LOG_SD**2 / (1 + 1 / PRIOR_RETURNS) / 2
    centre = math.log(PRIOR_MEDIAN)
    means = np.linspace(centre - 4, centre + 4, 2001)[:, None]
    variances = np.geomspace(1e-3, 30, 2001)[None, :]
    weight = stats.invgamma.logpdf(variances, PRIOR_DEGREES / 2, scale=scale)
    weight = weight + stats.norm.logpdf(
        means, centre, np.sqrt(variances / PRIOR_RETURNS)
    )
    for one in logs:
        weight = weight + stats.norm.logpdf(one, means, np.sqrt(variances))
    density = np.exp(weight - weight.max())

    def total(values):
        along = integrate.trapezoid(values * density, variances[0], axis=1)
        return float(integrate.trapezoid(along, means[:, 0]))

    mass = total(1.0)
    mean = total(means) / mass
    # the predictive variance is what the law has and what is not known of its mean
    spread = total(variances) / mass + total((means - mean) ** 2) / mass
    return mean, spread


@pytest.mark.parametrize("count", [0, 1, 5, 50])
def test_each_return_moves_it_by_the_conjugate_update(count):
    """Gelman et al., Bayesian Data Analysis, 3.3 (from memory), against scipy."""
    logs = np.random.default_rng(count).normal(math.log(1.4), 0.3, count)
    found = habit(returns(np.exp(logs)))
    mean, spread = posterior_by_integration(logs)
    assert math.log(found.median) == pytest.approx(mean, abs=1e-4)
    # The lognormal kept has the centre of the posterior and its mean variance, drawn
    # out by 1 + 1/weight; Student's t with n degrees has n/(n-2) times as much.
    degrees = PRIOR_DEGREES + count
    assert found.log_sd**2 * degrees / (degrees - 2) == pytest.approx(spread, rel=2e-3)


@pytest.mark.parametrize(("median", "log_sd"), [(1.4, 0.6), (1.05, 0.25), (1.25, 0.45)])
def test_after_fifty_returns_the_true_percentiles_are_met(median, log_sd):
    # The fifty returns are the fifty middle points of the law itself: no luck in it.
    true = stats.lognorm(s=log_sd, scale=median)
    found = habit(returns(true.ppf((np.arange(50) + 0.5) / 50)))
    for chance in (0.1, *POINTS):
        assert float(found.quantile(chance)) == pytest.approx(
            true.ppf(chance), rel=0.05
        )


def test_the_days_before_they_could_start_teach_nothing():
    """Out 30 days, of which 18 went by before its slot: 12 days for a quote of 10."""
    past = PastReturn(10.0, 30.0, waited_days=18.0)
    assert ratio_of(past) == pytest.approx(1.2)
    assert habit([past]) == habit([PastReturn(10.0, 12.0)])
