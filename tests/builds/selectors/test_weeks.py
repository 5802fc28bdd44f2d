"""Hours gathered by week. ISO weeks are checked against the calendar of Python."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.selectors.weeks import Hours, Own, Stretch, monday_of, weeks_of

MONDAY = date(2027, 1, 11)


def stretch(job, day, hours, start=8):
    begins = datetime(day.year, day.month, day.day, start)
    return Stretch(job, begins, begins + timedelta(hours=hours), hours)


def own(day, hours):
    begins = datetime(day.year, day.month, day.day, 8)
    return Own(begins, begins + timedelta(hours=hours), hours)


TUESDAY, NEXT = MONDAY + timedelta(days=1), MONDAY + timedelta(days=8)
ANA = Hours(
    own=(own(MONDAY, 8), own(TUESDAY, 8), own(NEXT, 8)),
    # 20 h asked in the first week, which has 16; 14 h are given then, 6 h the next.
    asked=(stretch("sill", MONDAY, 14), stretch("floor", TUESDAY, 6)),
    given=(
        stretch("sill", MONDAY, 8),
        stretch("sill", TUESDAY, 6),
        stretch("floor", NEXT, 6),
    ),
)


def test_a_week_says_what_is_asked_given_had_and_left():
    first, second = weeks_of(ANA, MONDAY, 2)
    assert (first.has, first.asked, first.given) == (16, 20, 14)
    assert (first.over, first.free) == (4, 2)
    assert (second.has, second.asked, second.given) == (8, 0, 6)
    assert (second.over, second.free) == (0, 2)


def test_what_is_asked_and_not_given_yet_waits():
    # 20 h asked, 14 given by the first Sunday: 6 wait; none after the second.
    assert [week.waiting for week in weeks_of(ANA, MONDAY, 2)] == [6, 0]


def test_a_week_names_its_jobs_with_their_hours():
    (first,) = weeks_of(ANA, MONDAY, 1)
    assert first.given_jobs == (("sill", 14),)
    assert first.asked_jobs == (("sill", 14), ("floor", 6))


def test_less_than_half_an_hour_is_nothing():
    barely = Hours(own=(own(MONDAY, 8),), asked=(stretch("a", MONDAY, 8.25),))
    (week,) = weeks_of(barely, MONDAY, 1)
    assert week.over == 0


@pytest.mark.parametrize("year", [2020, 2026, 2027, 2032])
def test_the_number_of_a_week_is_the_iso_one(year):
    """Outside check: `date.fromisocalendar`, which knows years of 53 weeks."""
    for number in range(1, 53):
        monday = date.fromisocalendar(year, number, 1)
        for day in range(1, 8):
            assert monday_of(date.fromisocalendar(year, number, day)) == monday
        (week,) = weeks_of(Hours(), monday, 1)
        assert week.number == number


days = st.integers(0, 400).map(lambda n: MONDAY + timedelta(days=n))
stretches = st.builds(
    stretch, st.sampled_from("abc"), days, st.integers(1, 32).map(lambda n: n / 4)
)


@given(st.lists(stretches), st.lists(stretches))
def test_the_sum_of_the_weeks_is_the_hours_planned(given_, asked):
    hours = Hours(given=tuple(given_), asked=tuple(asked))
    weeks = weeks_of(hours, MONDAY, 58)
    assert sum(week.given for week in weeks) == sum(one.hours for one in given_)
    assert sum(week.asked for week in weeks) == sum(one.hours for one in asked)
    by_job = sum(hours for week in weeks for _, hours in week.given_jobs)
    assert by_job == sum(one.hours for one in given_)
