"""Working-day arithmetic against published examples, numpy and python-holidays.

The published functions do not count the day they start from, so a job here starts at
quarter to midnight of that day and has to end on the published date.
"""

from datetime import date, datetime, timedelta

import holidays
import numpy as np
import pytest

from tests.scheduling.reference.cases import (
    ALL_DAYS,
    CLOSES,
    WORKDAYS,
    answered,
    closed,
    fixed,
    week,
    written,
)


def late_evening(day):
    return f"{day}T23:45"


def finish_after(start, days, off=(), weekdays=WORKDAYS):
    plan = {
        "now": late_evening(start),
        "calendars": {"shop": {"week": week(weekdays), "closed": closed(off)}},
        "jobs": [{"id": "part", "kind": "order", "estimate": fixed(days)}],
    }
    job = answered(plan, samples=20)["jobs"]["part"]
    assert job["planned_finish"] == job["early_finish"]
    return job["early_finish"]


THREE_OFF = ("2008-11-26", "2008-12-04", "2009-01-21")
YEAR_END = ("2001-12-24", "2001-12-25", "2001-12-26", "2001-12-31", "2002-01-01")


@pytest.mark.parametrize(
    ("start", "days", "off", "published"),
    [
        # spreadsheet WORKDAY help [from memory]
        ("2008-10-01", 151, (), "2009-04-30"),
        ("2008-10-01", 151, THREE_OFF, "2009-05-05"),
        # spreadsheet NETWORKDAYS help [from memory]: 110, 109 and 107 days from
        # 2012-10-01 to 2013-03-01, both counted, so from the evening before
        ("2012-09-30", 110, (), "2013-03-01"),
        ("2012-09-30", 109, ("2012-11-22",), "2013-03-01"),
        (
            "2012-09-30",
            107,
            ("2012-11-22", "2012-12-04", "2013-01-21"),
            "2013-03-01",
        ),
        # LibreOffice help, WORKDAY
        ("2001-12-01", 17, YEAR_END, "2001-12-28"),
        # pages with WORKDAY examples
        ("2009-11-01", 20, ("2009-11-11", "2009-11-26"), "2009-12-01"),
        ("2007-05-06", 30, ("2007-05-28",), "2007-06-18"),
        # numpy documentation, busday_count [from memory]: 21 and 260, to the last
        # weekday of January and of December 2011
        ("2010-12-31", 21, (), "2011-01-31"),
        ("2010-12-31", 260, (), "2011-12-30"),
    ],
)
def test_published_working_day_examples(start, days, off, published):
    assert finish_after(start, days, off) == f"{published}T{CLOSES}"


@pytest.mark.parametrize(
    ("start", "days", "weekday", "published"),
    [
        # numpy documentation [from memory]: 53 Saturdays in 2011
        ("2010-12-31", 53, "sat", "2011-12-31"),
        # ... and the second Sunday of May 2012
        ("2012-04-30", 2, "sun", "2012-05-13"),
    ],
)
def test_numpy_documentation_examples_of_one_weekday(start, days, weekday, published):
    assert finish_after(start, days, (), (weekday,)) == f"{published}T{CLOSES}"


def test_counting_ten_working_days_back():
    """1999-07-14 less 10 working days, holiday 07-05: 1999-06-29 (published).

    A cure that ends on 14 July at opening time fixes the end; the ten-day order
    beside it has to start at opening time of the published day at the latest.
    """
    now, end = datetime(1999, 6, 1, 8), datetime(1999, 7, 14, 8)
    cure = {"id": "cure", "kind": "stand"}
    cure["estimate"] = fixed((end - now) / timedelta(hours=1))
    plan = {
        "now": written(now),
        "calendars": {"shop": {"week": week(), "closed": closed(["1999-07-05"])}},
        "jobs": [cure, {"id": "part", "kind": "order", "estimate": fixed(10)}],
    }
    assert answered(plan)["jobs"]["part"]["late_start"] == "1999-06-29T08:00"


def random_calendars(rng, count):
    """Return week masks and closed days, 2027 to 2036."""
    first = np.datetime64("2027-01-01")
    found = []
    while len(found) < count:
        mask = rng.random(7) < 0.7
        if mask.any():
            off = first + rng.choice(3650, size=rng.integers(0, 120), replace=False)
            found.append((mask, np.sort(off)))
    return found


@pytest.mark.parametrize("batch", range(4))
def test_two_thousand_random_cases_meet_numpy(batch):
    """Against numpy.busday_offset: 4 x 500 cases over 4 x 10 random calendars.

    n runs from 1 to 400. For n = 0 the two differ by design: numpy rolls to a
    working day, a job of no length ends where it starts.
    """
    rng = np.random.default_rng(410 + batch)
    calendars = random_calendars(rng, 10)
    plan = {"now": "2027-01-01T00:00", "calendars": {}, "vendors": [], "jobs": []}
    for number, (mask, off) in enumerate(calendars):
        days = [day for day, works in zip(ALL_DAYS, mask, strict=True) if works]
        plan["calendars"][f"c{number}"] = {"week": week(days), "closed": closed(off)}
        plan["vendors"].append({"id": f"v{number}", "calendar": f"c{number}"})
    expected = {}
    for number in range(500):
        which, days = int(rng.integers(10)), int(rng.integers(1, 401))
        start = np.datetime64("2027-01-01") + int(rng.integers(0, 900))
        mask, off = calendars[which]
        end = np.busday_offset(
            start, days, roll="preceding", weekmask=list(mask), holidays=off
        )
        expected[f"j{number}"] = f"{end}T{CLOSES}"
        job = {"id": f"j{number}", "kind": "outside", "vendor": f"v{which}"}
        job |= {"estimate": fixed(days), "not_before": late_evening(start)}
        plan["jobs"].append(job)
    jobs = answered(plan, samples=20)["jobs"]
    got = {name: jobs[name]["early_finish"] for name in expected}
    assert got == expected


def one_day_jobs(now, days):
    """Return the finish of a one-day order from the evening before each day."""
    plan = {
        "now": written(now),
        "calendars": {"shop": {"week": week(), "holidays": "GB-ENG"}},
        "jobs": [
            {
                "id": str(day),
                "kind": "order",
                "estimate": fixed(1),
                "not_before": late_evening(day - timedelta(days=1)),
            }
            for day in days
        ],
    }
    jobs = answered(plan, samples=20)["jobs"]
    return {day: jobs[str(day)]["early_finish"] for day in days}


def days_of(*years):
    for year in years:
        for number in range(366):
            day = date(year, 1, 1) + timedelta(days=number)
            if day.year == year:
                yield day


def shut_by_the_library(days):
    known = holidays.country_holidays("GB", subdiv="ENG", years=range(2026, 2032))
    return {day for day in days if day.weekday() >= 5 or day in known}


@pytest.mark.parametrize("year", [2026, 2027, 2028, 2029, 2030])
def test_english_public_holidays_are_python_holidays(year):
    """A day is closed exactly when the library, or the weekend, says so."""
    days = list(days_of(year))
    finishes = one_day_jobs(datetime(year - 1, 12, 31, 12), days)
    shut = {day for day, end in finishes.items() if end != f"{day}T{CLOSES}"}
    assert shut == shut_by_the_library(days)


def test_public_holidays_hold_for_work_planned_years_ahead():
    """A plan made early in 2026 knows the public holidays of 2030 too."""
    days = [day for day in days_of(2029, 2030) if day.weekday() < 5]
    finishes = one_day_jobs(datetime(2026, 1, 1), days)
    shut = {day for day, end in finishes.items() if end != f"{day}T{CLOSES}"}
    assert shut == shut_by_the_library(days)
