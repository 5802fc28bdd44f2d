"""Calendars, read back by the icalendar library (RFC 5545)."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest
from django.test import Client
from django.urls import reverse
from icalendar import Calendar

from builds.actions.share_links import give_link
from builds.models import Forecast, ForecastState, Job, ShareKind, Workshop
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory

LONDON = ZoneInfo("Europe/London")


@pytest.fixture
def plan(car, other_car, tom):
    Workshop.objects.update(timezone="Europe/London")
    JobFactory(key="sand", title="Sand; fill, prime", build=car, trade="panel")
    JobFactory(key="his", title="His", build=other_car)
    vendor = VendorFactory(key="plater", name="Plater")
    OutsideJobFactory(
        key="plate", title="Plate", build=car, vendor=vendor, promised="2027-07-20"
    )
    say(sand="2027-07-01T09:00", his="2027-07-02T09:00", plate="2027-07-05T09:00")
    return vendor


def say(**starts: str) -> None:
    Forecast.objects.all().delete()
    Forecast.objects.create(
        state=ForecastState.DONE,
        answer={
            "jobs": {
                key: {
                    "planned_start": start,
                    "planned_finish": start.replace("T09", "T15"),
                    "who": ["tom"] if key == "sand" else [],
                }
                for key, start in starts.items()
            }
        },
    )


def fetch(secret: str) -> Calendar:
    answer = Client().get(reverse("dates", args=[secret]))
    assert answer["Content-Type"].startswith("text/calendar")
    lines = answer.content.split(b"\r\n")
    assert max(map(len, lines)) <= 75, "RFC 5545, 3.1: lines are folded"
    return Calendar.from_ical(answer.content)


def events(secret: str) -> dict[str, object]:
    return {str(one["SUMMARY"]): one for one in fetch(secret).walk("VEVENT")}


def test_a_persons_work_by_the_workshops_clock(lena, tom, plan):
    _, secret = give_link(by=lena, kind=ShareKind.PERSON_DATES, what=tom.person)
    calendar = fetch(secret)
    (event,) = calendar.walk("VEVENT")
    assert event["SUMMARY"] == "Grey coupe: Sand; fill, prime"
    start = datetime(2027, 7, 1, 9, tzinfo=LONDON)
    assert event.decoded("DTSTART") == start
    assert event["DTSTART"].params["TZID"] == "Europe/London"
    assert event.decoded("DTSTAMP").utcoffset().total_seconds() == 0
    (zone,) = calendar.walk("VTIMEZONE")
    assert zone["TZID"] == "Europe/London"
    assert zone.walk("DAYLIGHT"), "July is summer time"
    assert calendar["VERSION"] == "2.0"
    assert calendar["PRODID"]


def test_a_cars_work_and_nobody_elses(lena, car, plan):
    ShowFactory(key="summer", name="Summer", move_in="2027-08-01T16:00").entries.create(
        build=car
    )
    _, secret = give_link(by=lena, kind=ShareKind.CAR_DATES, what=car)
    found = events(secret)
    assert len(found) == 3
    assert "Move-in: Summer" in found
    assert not any("His" in words for words in found)


def test_a_vendors_returns_are_whole_days(lena, plan):
    _, secret = give_link(by=lena, kind=ShareKind.VENDOR_DATES, what=plan)
    (event,) = events(secret).values()
    assert event.decoded("DTSTART") == date(2027, 7, 20)
    assert event.decoded("DTEND") == date(2027, 7, 21)
    assert event["DTSTART"].params["VALUE"] == "DATE"


def test_the_uid_stays_and_the_sequence_goes_up_with_a_change(lena, tom, plan):
    _, secret = give_link(by=lena, kind=ShareKind.PERSON_DATES, what=tom.person)
    first, again = fetch(secret), fetch(secret)
    say(sand="2027-07-03T09:00")
    moved, after = fetch(secret), fetch(secret)
    Job.objects.filter(key="sand").update(title="Sand twice")
    renamed = fetch(secret)
    each = [one.walk("VEVENT")[0] for one in (first, again, moved, after, renamed)]
    assert len({str(event["UID"]) for event in each}) == 1
    assert [int(event["SEQUENCE"]) for event in each] == [0, 0, 1, 1, 2]


def test_two_calendars_of_one_job_do_not_share_a_uid(lena, tom, car, plan):
    _, mine = give_link(by=lena, kind=ShareKind.PERSON_DATES, what=tom.person)
    _, cars = give_link(by=lena, kind=ShareKind.CAR_DATES, what=car)
    title = "Grey coupe: Sand; fill, prime"
    assert events(mine)[title]["UID"] != events(cars)[title]["UID"]


def test_done_work_and_an_unknown_plan_leave_an_empty_calendar(lena, tom, plan):
    _, secret = give_link(by=lena, kind=ShareKind.PERSON_DATES, what=tom.person)
    Job.objects.update(state="left out")
    assert events(secret) == {}
    Forecast.objects.all().delete()
    assert events(secret) == {}


def test_without_a_secret_there_is_no_calendar(plan):
    assert Client().get(reverse("dates", args=["guess"])).status_code == 404
