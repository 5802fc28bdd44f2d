"""The clock on the wall does what clocks do; dates and order stay sound.

Zone transitions: the IANA time zone database, through zoneinfo.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

import pytest
import time_machine
from django.test import Client
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st

import scheduling
from builds.models import Forecast, Workshop
from builds.planning.replan import replan
from tests.conftest import client_of
from tests.factories.job import JobFactory

pytestmark = pytest.mark.fault("F11")

ZONES = (
    "Europe/London", "Europe/Berlin", "America/New_York", "America/St_Johns",
    "Australia/Lord_Howe", "Pacific/Apia", "Africa/Casablanca", "Asia/Tehran",
    "Antarctica/Troll", "Pacific/Chatham",
)  # fmt: skip
QUARTER = timedelta(minutes=15)
ODD_DAYS = (
    "2024-02-28", "2024-02-29", "2028-02-28", "2028-02-29", "2026-03-29", "2026-10-25",
    "2027-12-31", "2028-01-01", "2026-12-31", "2027-03-28",
)  # fmt: skip
OPEN = {
    day: ["08:00-12:00", "13:00-17:00"] for day in ("mon", "tue", "wed", "thu", "fri")
}


@cache
def transitions(zone: str) -> list[datetime]:
    """Give the moments from 2024 to 2035 around which the zone's offset changes."""
    here, at, found = ZoneInfo(zone), datetime(2024, 1, 1, tzinfo=UTC), []
    while at.year < 2036:
        after = at + timedelta(hours=6)
        if at.astimezone(here).utcoffset() != after.astimezone(here).utcoffset():
            found.append(at)
        at = after
    return found


@settings(deadline=None)
@given(data=st.data())
def test_the_wall_shows_the_next_quarter_also_when_summer_time_ends(data):
    zone = data.draw(st.sampled_from([one for one in ZONES if transitions(one)]))
    around = data.draw(st.sampled_from(transitions(zone)))
    moment = around + timedelta(minutes=data.draw(st.integers(-60, 420)))
    with time_machine.travel(moment, tick=False):
        clock = Workshop(timezone=zone).clock()
    wall = moment.astimezone(ZoneInfo(zone)).replace(tzinfo=None)
    assert timedelta() <= clock - wall < QUARTER
    assert (clock.minute % 15, clock.second, clock.microsecond) == (0, 0, 0)


def worked_hours(begin: datetime, end: datetime) -> float:
    """Count quarter by quarter, with nothing of the engine."""
    hours, at = 0.0, begin
    while at < end:
        if at.weekday() < 5 and (8 <= at.hour < 12 or 13 <= at.hour < 17):
            hours += 0.25
        at += QUARTER
    return hours


@settings(deadline=None, max_examples=30)
@given(
    day=st.sampled_from(ODD_DAYS),
    quarter=st.integers(0, 95),
    hours=st.sampled_from([0.25, 1, 7.75, 8, 8.25, 40]),
)
def test_no_odd_day_makes_work_shorter_or_longer(day, quarter, hours):
    now = datetime.fromisoformat(day) + quarter * QUARTER
    plan = {
        "now": now.isoformat(timespec="minutes"),
        "calendars": {"shop": {"week": OPEN}},
        "people": [{"id": "ana", "calendar": "shop", "trades": {"weld": 2}}],
        "jobs": [
            {"id": "a", "trade": "weld", "estimate": {"likely": hours, "fixed": True}}
        ],
    }
    answer = scheduling.answer(scheduling.read_plan(plan), samples=1, schedules=1)
    job = answer.as_dict()["jobs"]["a"]
    begin = datetime.fromisoformat(job["planned_start"])
    end = datetime.fromisoformat(job["planned_finish"])
    assert now <= begin < end
    assert worked_hours(begin, end) == hours


def test_set_back_an_hour_the_newest_question_still_has_the_newest_answer(shop):
    with time_machine.travel("2027-01-11T10:00Z", tick=False):
        replan()
        JobFactory()
        first = replan()
    JobFactory()
    with time_machine.travel("2027-01-11T09:00Z", tick=False):
        second = replan()
    assert second.pk > first.pk
    assert Forecast.objects.latest_done() == second


def test_a_session_outlives_the_clock_set_back_and_not_a_fortnight(lena):
    def asked(client: Client, at: str) -> int:
        with time_machine.travel(at, tick=False):
            return client.get(reverse("people")).status_code

    with time_machine.travel("2027-10-31T00:30Z", tick=False):
        client = client_of(lena)
    assert asked(client, "2027-10-30T23:30Z") == 200
    assert asked(client, "2027-11-20T00:00Z") == 302
