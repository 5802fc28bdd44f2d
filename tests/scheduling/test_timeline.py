"""Many moments are written as one is."""

from datetime import date

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from scheduling.timeline import Timeline

LINE = Timeline(date(2027, 1, 4), 700)
QUARTERS = st.floats(-5000, 60_000) | st.integers(-5000, 60_000).map(float)


@given(quarters=st.lists(QUARTERS, min_size=1, max_size=20))
def test_moments_at_once_are_written_as_one_by_one(quarters: list[float]) -> None:
    wanted = [LINE.moment(one).isoformat(timespec="minutes") for one in quarters]
    assert LINE.texts(np.array(quarters)).tolist() == wanted
