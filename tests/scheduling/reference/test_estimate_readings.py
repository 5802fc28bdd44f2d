"""What low / likely / high stand for, against scipy and published formulas."""

import math

import numpy as np
import pytest
from scipy import stats

from scheduling.estimates import (
    lognormal_from,
    pert_mean,
    pert_sd,
    pert_shape,
    quantile,
)
from scheduling.habits import habit
from scheduling.plan import Estimate, PastReturn

CASE = Estimate(likely=25, low=15, high=50)
SHARES = np.array([0.1, 0.5, 0.8, 0.9])


def test_pert_formula():
    """(15 + 100 + 50) / 6 = 27.5 and 35 / 6 = 5.83; Malcolm et al. 1959."""
    assert pert_mean(15, 25, 50) == pytest.approx(27.5)
    assert pert_sd(15, 25, 50) == pytest.approx(5.83, abs=0.005)


def test_pert_shape_keeps_the_pert_mean_and_mode():
    """Mean a + w alpha/(alpha+beta), mode a + w (alpha-1)/(alpha+beta-2)."""
    alpha, beta = pert_shape(15, 25, 50)
    assert (alpha, beta) == pytest.approx((15 / 7, 27 / 7))
    assert 15 + 35 * alpha / (alpha + beta) == pytest.approx(27.5)
    assert 15 + 35 * (alpha - 1) / (alpha + beta - 2) == pytest.approx(25)


def test_read_as_ends():
    """Beta on 15 to 50: 19.5, 26.9, 33.1, 36.4 (computed); and scipy's own beta."""
    got = quantile(CASE, "ends", "outside", SHARES)
    assert got == pytest.approx([19.5, 26.9, 33.1, 36.4], abs=0.05)
    exact = stats.beta(15 / 7, 27 / 7, loc=15, scale=35).ppf(SHARES)
    assert got == pytest.approx(exact, abs=0.01)


def test_read_as_one_in_ten():
    """Lognormal, P10 15 and P90 50: median 27.39, mean 30.58, P80 40.7, P95 59.3."""
    mu, sigma = lognormal_from(15, 50)
    assert math.exp(mu) == pytest.approx(27.39, abs=0.005)
    assert sigma == pytest.approx(0.4697, abs=5e-5)
    assert math.exp(mu + sigma**2 / 2) == pytest.approx(30.58, abs=0.006)
    shares = np.array([0.1, 0.5, 0.8, 0.9, 0.95])
    got = quantile(CASE, "one-in-ten", "outside", shares)
    assert got == pytest.approx([15, 27.39, 40.7, 50, 59.3], abs=0.05)
    exact = stats.lognorm(s=sigma, scale=math.exp(mu)).ppf(shares)
    assert got == pytest.approx(exact, rel=1e-6)


def test_chrome_read_as_one_in_ten():
    """20 / 40 / 120 working days: median 49, P80 88, P95 155 (computed)."""
    chrome = Estimate(likely=40, low=20, high=120)
    got = quantile(chrome, "one-in-ten", "outside", np.array([0.5, 0.8, 0.95]))
    assert got == pytest.approx([49, 88, 155], abs=0.5)


@pytest.mark.parametrize("reading", ["ends", "one-in-ten"])
def test_fixed_and_equal_ends_have_no_spread(reading):
    same = Estimate(likely=4, low=4, high=4)
    firm = Estimate(likely=4, low=1, high=9, fixed=True)
    for estimate in (same, firm):
        assert quantile(estimate, reading, "bench", SHARES) == pytest.approx([4] * 4)


def test_a_lone_likely_has_no_spread_in_a_textbook_and_some_in_a_workshop():
    lone = Estimate(likely=10)
    assert quantile(lone, "ends", "bench", SHARES) == pytest.approx([10] * 4)
    low, middle, _, high = quantile(lone, "one-in-ten", "bench", SHARES)
    assert low < 10 < high
    assert middle == pytest.approx(10)


def test_a_vendor_with_no_history_is_the_trades_prior():
    """Actual over quoted 1.15, 1.68, 2.05, 2.41: common practice, no source."""
    prior = habit([])
    shares = np.array([0.5, 0.8, 0.9, 0.95])
    got = prior.quantile(shares)
    assert got == pytest.approx([1.15, 1.68, 2.05, 2.41], abs=0.006)
    exact = stats.lognorm(s=0.45, scale=1.15).ppf(shares)
    assert got == pytest.approx(exact, rel=1e-6)
    on_time = stats.norm.cdf(math.log(1 / 1.15) / 0.45)
    assert on_time == pytest.approx(0.38, abs=0.005)
    assert float(prior.quantile(on_time)) == pytest.approx(1.0)


def test_history_moves_the_habit_from_the_prior_to_the_vendors_own():
    """Steady returns of 1.5 pull the median up and narrow the spread."""
    medians, spreads = [], []
    for count in (0, 2, 5, 20, 200):
        learned = habit([PastReturn(10, 15)] * count)
        medians.append(float(learned.quantile(0.5)))
        spreads.append(learned.log_sd)
    assert medians == sorted(medians)
    assert medians[0] == pytest.approx(1.15)
    assert 1.15 < medians[2] < 1.5
    assert medians[-1] == pytest.approx(1.5, abs=0.02)
    assert spreads[-1] < 0.12 < spreads[2] < spreads[0]


def test_a_long_history_is_learned_whatever_the_prior():
    """400 lognormal returns of median 1.3 and log-sd 0.3 come back as such."""
    rng = np.random.default_rng(13)
    ratios = np.exp(rng.normal(math.log(1.3), 0.3, 400))
    learned = habit([PastReturn(10, float(10 * ratio)) for ratio in ratios])
    assert float(learned.quantile(0.5)) == pytest.approx(1.3, rel=0.05)
    assert learned.log_sd == pytest.approx(0.3, abs=0.04)
