"""Chances printed in textbooks, against the engine's simulated ones.

The books sum means and variances along the critical path and read a normal table.
That leaves out the other paths (merge bias: the true chance is lower), takes
((b-a)/6)^2 for the variance of a beta whose own variance differs, and takes the sum
for a normal. The size of that error is measured here for each example with an
independent numpy simulation of the same PERT-beta network; the engine has to meet
the simulation, and the book's figure within that error.
"""

import math

import numpy as np
import pytest
from scipy.stats import norm

from scheduling.estimates import pert_mean, pert_sd
from tests.scheduling.reference import tables
from tests.scheduling.reference.cases import (
    answered,
    chance,
    length_samples,
    textbook,
)

OWN = 400_000
ENGINE = 20_000

# table, critical path, due, printed chance, error of the approximation (measured)
CHANCES = {
    # Hillier & Lieberman, 0.84; the second path has mean 40 and variance 10.2
    "reliable": (tables.RELIABLE, "ABCEFJLN", 47, 0.8413, 0.03),
    # Heizer & Render [from memory] print 0.7157 from z = 0.57; exact 0.7146
    "foundry": (tables.FOUNDRY, "ACEGH", 16, 0.7146, 0.03),
    # Taylor chapter 8: .9633 by table, 0.9632 recomputed; one path, no merging
    "taylor": (tables.TAYLOR_PATH, "1357", 28, 0.9632, 0.03),
    # UNCG SCM 304, recomputed
    "greensboro at 25": (tables.GREENSBORO, "ACEG", 25, 0.8849, 0.02),
    "greensboro at 20": (tables.GREENSBORO, "ACEG", 20, 0.0359, 0.035),
    # fourteen activities, recomputed
    "fourteen": (tables.FOURTEEN, "ACEHIKMN", 55, 0.893, 0.045),
}


@pytest.mark.parametrize("name", CHANCES)
def test_the_books_normal_chance_is_as_printed(name):
    table, path, due, printed, _ = CHANCES[name]
    rows = [table[job][1:] for job in path]
    mean = sum(pert_mean(*row) for row in rows)
    sd = math.sqrt(sum(pert_sd(*row) ** 2 for row in rows))
    assert norm.cdf((due - mean) / sd) == pytest.approx(printed, abs=6e-4)


@pytest.mark.parametrize("name", CHANCES)
def test_simulated_chance_meets_an_independent_simulation(name):
    """Within four standard errors; the book's own figure within its error."""
    table, _, due, printed, error = CHANCES[name]
    own = float((length_samples(table, OWN, seed=20270104) <= due).mean())
    result = answered(textbook(table, due=due), samples=ENGINE, seed=11)
    got = chance(result)
    allowed = 4 * math.sqrt(own * (1 - own) * (1 / OWN + 1 / ENGINE))
    assert got == pytest.approx(own, abs=allowed)
    assert abs(own - printed) < error


def test_the_foundrys_99_in_100_date():
    """Heizer & Render [from memory]: 15 + 2.33 x 1.76 = 19.1 weeks."""
    sd = math.sqrt(sum(pert_sd(*tables.FOUNDRY[job][1:]) ** 2 for job in "ACEGH"))
    assert 15 + norm.ppf(0.99) * sd == pytest.approx(19.1, abs=0.05)


def test_percentiles_of_the_finish_meet_an_independent_simulation():
    """P50, P80 and P90 of the Reliable network, within four standard errors.

    The standard error of a percentile is sqrt(p(1-p)/n) / f, the density f taken
    from the independent draws; one minute is added, for answers show minutes.
    """
    drawn = length_samples(tables.RELIABLE, OWN, seed=5)
    result = answered(textbook(tables.RELIABLE, due=47), samples=ENGINE, seed=3)
    levels = result["shows"]["show"]["entries"]["car"]["levels"]["complete"]
    for key, p in (("p50", 0.5), ("p80", 0.8), ("p90", 0.9)):
        low, own, high = np.quantile(drawn, [p - 0.02, p, p + 0.02])
        density = 0.04 / (high - low)
        error = math.sqrt(p * (1 - p) * (1 / OWN + 1 / ENGINE)) / density
        from_now = np.datetime64(levels[key]) - np.datetime64("2027-01-04T00:00")
        got = from_now / np.timedelta64(3600, "s")
        assert got == pytest.approx(own, abs=4 * error + 1 / 60), key
