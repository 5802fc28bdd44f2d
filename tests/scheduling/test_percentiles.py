"""Percentiles of the samples are numpy's own, to the last digit."""

import numpy as np
import pytest

from scheduling.readiness import POINTS, percentiles_of


@pytest.mark.parametrize("samples", [1, 2, 3, 50, 999, 1000, 2500])
def test_they_are_what_numpy_gives(samples: int) -> None:
    rows = np.random.default_rng(samples).lognormal(5.0, 2.0, (7, samples))
    rows[3] = rows[3].round()  # many alike
    assert (percentiles_of(rows, POINTS) == np.percentile(rows, POINTS, axis=1)).all()
    assert percentiles_of(rows[0], (80,))[0] == np.percentile(rows[0], 80)
