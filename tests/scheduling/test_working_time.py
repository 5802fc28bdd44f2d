"""Working time, one moment at a time and many at once."""

import numpy as np
import pytest

import scheduling
from scheduling.calendars import Clocks
from scheduling.many_moments import (
    add_days_each,
    add_each,
    days_worked_each,
    opening_each,
    worked_each,
)
from scheduling.timeline import PER_DAY
from scheduling.working_time import Clock
from tests.scheduling.test_judge import workshop

PLAN = scheduling.read_plan(workshop())
CLOCKS = Clocks(PLAN)
NAMES = ("calendar:shop", "person:ana", "vendor:plater", "place:booth")


def clock(name: str) -> Clock:
    return CLOCKS.of(frozenset({name}))


def moments() -> np.ndarray:
    """Return moments up to well past the written calendar, whole and in part."""
    random = np.random.default_rng(3)
    end = CLOCKS.timeline.end
    return np.concatenate([random.uniform(0, 1.2 * end, 300), np.arange(0, 672, 7.5)])


@pytest.mark.parametrize("name", NAMES)
def test_many_moments_are_each_moment(name: str) -> None:
    one, at = clock(name), moments()
    work = np.random.default_rng(4).uniform(0, 400, len(at))
    for many, single in (
        (worked_each(one, at), [one.worked(x) for x in at]),
        (opening_each(one, at), [one.opening(x) for x in at]),
        (days_worked_each(one, at), [one.days_worked(x) for x in at]),
        (add_each(one, at, work), [one.add(*x) for x in zip(at, work, strict=True)]),
        (
            add_days_each(one, at, work / 32),
            [one.add_days(*x) for x in zip(at, work / 32, strict=True)],
        ),
    ):
        assert np.allclose(many, single, atol=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_back_undoes_add_to_a_moment_of_the_same_work(name: str) -> None:
    one = clock(name)
    for moment in moments()[:200]:
        ended = one.add(moment, 37.0)
        again = one.back(ended, 37.0)
        assert one.worked(again) == pytest.approx(one.worked(moment), abs=1e-6)
        assert again >= moment - 1e-6


def test_work_counts_open_quarters_and_stops_at_the_close() -> None:
    """Monday 11 January 2027, 08:00-12:00 and 13:00-17:00, counted by hand."""
    shop = clock("calendar:shop")
    monday = CLOCKS.timeline.quarter(PLAN.now.date())
    assert shop.add(monday + 32, 16) == monday + 48  # four hours end at noon
    assert shop.add(monday + 32, 17) == monday + 53  # and one more quarter at 13:15
    assert shop.opening(monday + 48) == monday + 52
    assert shop.add(monday + 32, 32) == monday + 68  # the day's close, not Tuesday
    assert shop.opening(monday + 68) == monday + PER_DAY + 32


def test_a_person_away_has_no_hours_and_the_shop_has() -> None:
    """Ana is away on Thursday 14 January."""
    thursday = CLOCKS.timeline.quarter(PLAN.now.date()) + 3 * PER_DAY
    span = thursday, thursday + PER_DAY
    worked = [clock(name).worked for name in ("person:ana", "calendar:shop")]
    assert [one(span[1]) - one(span[0]) for one in worked] == [0, 32]
