"""The demo vendors' past returns show the habits they are said to have."""

from __future__ import annotations

import numpy as np
import pytest

from builds.demo.vendors import past_returns, vendors

# Median of actual over quoted, and its log-sd: the invented workshop's own figures.
HABITS = {
    "dunnock": (1.25, 0.45),
    "kellwen": (1.30, 0.40),
    "torvane": (1.10, 0.35),
    "sallowfield": (1.10, 0.35),
    "brindle": (1.05, 0.25),
    "orrelstane": (1.40, 0.60),
    "cobrane": (1.05, 0.25),
    "thrupp": (1.10, 0.30),
    "larkhollow": (1.15, 0.30),
    "twell": (1.20, 0.40),
    "wexcote": (1.15, 0.35),
    "ostry": (1.10, 0.40),
    "tarn": (1.50, 0.60),
    "meridew": (1.05, 0.25),
}
MINIMUM = {"dunnock": 90, "sallowfield": 120, "brindle": 80, "cobrane": 70}
CLOSED = {
    "dunnock": "2027-03-22/2027-03-26",
    "torvane": "2027-02-01/2027-02-12",
    "orrelstane": "2027-04-02/2027-04-16",
    "larkhollow": "2027-04-05/2027-04-09",
    "twell": "2027-01-18/2027-01-22",
    "tarn": "2027-08-01/2027-08-31",
}
FIRMS = {one["id"]: one for one in vendors()}


def log_ratios(firm: str) -> np.ndarray:
    history = FIRMS[firm]["history"]
    return np.log([one["actual_days"] / one["quoted_days"] for one in history])


@pytest.mark.parametrize("firm", HABITS)
def test_past_returns_have_the_median_and_spread(firm):
    # numpy's mean and sample standard deviation; days are whole quarters, so loosely
    median, log_sd = HABITS[firm]
    ratios = log_ratios(firm)
    assert 6 <= len(ratios) <= 12
    assert np.exp(ratios.mean()) == pytest.approx(median, rel=0.03)
    assert ratios.std(ddof=1) == pytest.approx(log_sd, abs=0.03)


def test_unrounded_quotes_give_the_habit_closely():
    history = past_returns(1000, 1.4, 0.6, 9)
    ratios = np.log([one["actual_days"] / one["quoted_days"] for one in history])
    assert np.exp(ratios.mean()) == pytest.approx(1.4, rel=1e-3)
    assert ratios.std(ddof=1) == pytest.approx(0.6, rel=1e-3)


def test_returns_are_in_no_order():
    assert list(log_ratios("orrelstane")) != sorted(log_ratios("orrelstane"))


def test_the_lane_and_the_lorry_have_no_habit_yet():
    assert set(FIRMS) == {*HABITS, "test-lane", "wainthorpe"}
    assert "history" not in FIRMS["test-lane"]


def test_minimum_charges_closures_and_slots():
    charges = {key: one["minimum_charge"] for key, one in FIRMS.items()
               if "minimum_charge" in one}  # fmt: skip
    assert charges == MINIMUM
    closed = {key: one["closed"] for key, one in FIRMS.items() if "closed" in one}
    assert closed == {key: [span] for key, span in CLOSED.items()}
    assert FIRMS["larkhollow"]["slots"]["every_working_days"] == 20
