"""Parts away and work begun: what is known of them is what they are drawn on."""

from __future__ import annotations

import math
from statistics import NormalDist
from typing import Any

import numpy as np
import pytest

import scheduling
from scheduling.sampling.draws import Drawer

SIZE = 4000
DAY = 96.0


def plan(job: dict[str, Any], **vendor: Any) -> dict[str, Any]:
    return {
        "now": "2027-01-11T08:00",
        "factors": {"vendor": 0.0, "build": 0.0},
        "calendars": {"all": {"elapsed": True}},
        "vendors": [{"id": "plater", "calendar": "all", **vendor}],
        "jobs": [{"id": "plate", "kind": "outside", "vendor": "plater", **job}],
    }


def drawn(document: dict[str, Any]) -> tuple[Any, float]:
    """Return the draws of the one job, and the quarter of the status moment."""
    found = scheduling.answer(scheduling.read_plan(document), samples=5).found
    rows = Drawer(found.network, found.shared, 1, 0, SIZE).all()
    return rows[0], found.network.now


ESTIMATE = {"low": 8, "likely": 10, "high": 15}
AWAY = {"estimate": ESTIMATE, "promised": "2027-01-21", "sent": "2027-01-11"}


def test_a_promised_piece_may_be_refused_too() -> None:
    """Of pieces refused one time in four, one in four is away a second time."""
    plain, _ = drawn(plan(AWAY))
    again, _ = drawn(plan(AWAY, reject_chance=0.25))
    later = again > plain + 1e-6
    assert abs(later.mean() - 0.25) < 3.5 * math.sqrt(0.25 * 0.75 / SIZE)
    second = (again - plain)[later] / DAY
    middle = math.sqrt(8 * 15)  # the median of a lognormal through 8 and 15 days
    assert np.median(second) == pytest.approx(middle, rel=0.04)


def test_quoted_days_run_from_the_hour_it_left_where_that_is_known() -> None:
    """Ten days quoted on Monday, habit 1.15: half are back 11.5 days after it left."""
    left = AWAY | {"started": "2027-01-11T08:00", "state": "under way"}
    moments, now = drawn(plan(left))
    assert np.median(moments - now) / DAY == pytest.approx(11.5, rel=0.03)
    morning = {**plan(left), "now": "2027-01-11T12:00"}
    noon, later = drawn(morning)
    assert np.median(noon - later) / DAY == pytest.approx(11.5 - 4 / 24, rel=0.03)


def test_begun_work_is_drawn_on_what_it_and_its_factor_have_lasted() -> None:
    """P(rest > 5 days) given 12 gone: a lognormal with the factor in its spread.

    One job alone, so factor and own spread add up: log-sd sqrt(0.25^2 + own^2).
    """
    begun = {
        "estimate": ESTIMATE,
        "sent": "2027-01-11",
        "started": "2027-01-11T08:00",
        "state": "under way",
    }
    document = plan(begun) | {
        "now": "2027-01-23T08:00",
        "factors": {"vendor": 0.25, "build": 0.0},
    }
    rest, _ = drawn(document)
    own = math.log(15 / 8) / (2 * 1.2815515655446004)
    law = NormalDist(math.log(8 * 15) / 2, math.hypot(0.25, own))
    exact = (1 - law.cdf(math.log(17))) / (1 - law.cdf(math.log(12)))
    # two moments stand for the truncated normal: a point is allowed for that
    assert abs(float(np.mean(rest > 5.0)) - exact) < 0.01 + 3.5 * math.sqrt(
        exact * (1 - exact) / SIZE
    )


def test_hours_since_a_start_weeks_ago_all_count() -> None:
    """Drying since three weeks before: most of four weeks has gone by, not one day."""
    dry = {
        "id": "plate",
        "kind": "stand",
        "estimate": {"low": 600, "likely": 700, "high": 800},
        "state": "under way",
        "started": "2026-12-21T08:00",
    }
    document = plan({}) | {"jobs": [dry]}
    rest, _ = drawn(document)
    assert np.median(rest) / 4 == pytest.approx(math.sqrt(600 * 800) - 504, rel=0.1)
