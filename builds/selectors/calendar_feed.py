"""The plan's dates as a calendar file (RFC 5545): of a person, a car, a vendor.

An entry keeps its UID for good, made from this site's key so that two workshops'
calendars do not meet; SEQUENCE goes up by one each time what it says has changed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from uuid import NAMESPACE_URL, uuid5
from zoneinfo import ZoneInfo

from django.db.models import QuerySet
from django.utils.crypto import salted_hmac
from icalendar import Calendar, Event

from builds.models import (
    Forecast,
    Job,
    Kind,
    ShareKind,
    ShareLink,
    ShowEntry,
    State,
    Workshop,
)
from builds.selectors.answers import moment, newest, planned_of

MAKER = "-//workshop-plan//dates//EN"
FETCH_AGAIN = timedelta(hours=1)
OUTSIDE = (Kind.OUTSIDE, Kind.ORDER)


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: a moment to a moment, or a whole day."""

    about: str
    title: str
    start: datetime | date
    end: datetime | date
    words: str = ""


def calendar_of(link: ShareLink) -> tuple[bytes, dict[str, Any]]:
    """Give the file, and what it says for the next time."""
    shop, forecast = Workshop.current(), newest()
    calendar = Calendar()
    calendar.add("prodid", MAKER)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", f"{link.what}, {shop.name}")
    calendar.add("refresh-interval", FETCH_AGAIN, parameters={"value": "DURATION"})
    told: dict[str, Any] = {}
    if forecast is not None:
        zone = ZoneInfo(shop.timezone)
        for entry in _entries(link, forecast):
            uid = _uid(link, entry)
            said = [entry.title, str(entry.start), str(entry.end), entry.words]
            old = link.told.get(uid, [said, 0])
            told[uid] = [said, old[1] + (old[0] != said)]
            stamp = forecast.finished or forecast.asked_at
            calendar.add_component(_event(entry, uid, told[uid][1], stamp, zone))
    calendar.add_missing_timezones()
    return calendar.to_ical(), told


def _event(
    entry: Entry, uid: str, sequence: int, stamp: datetime, zone: ZoneInfo
) -> Event:
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", stamp)
    event.add("sequence", sequence)
    event.add("summary", entry.title)
    event.add("dtstart", _local(entry.start, zone))
    event.add("dtend", _local(entry.end, zone))
    if entry.words:
        event.add("description", entry.words)
    # Whole days of a vendor's keep nobody from doing something else.
    whole = not isinstance(entry.start, datetime)
    event.add("transp", "TRANSPARENT" if whole else "OPAQUE")
    return event


def _local(when: datetime | date, zone: ZoneInfo) -> datetime | date:
    return when.replace(tzinfo=zone) if isinstance(when, datetime) else when


def _uid(link: ShareLink, entry: Entry) -> str:
    key = salted_hmac("calendar", f"{link.kind}:{entry.about}").hexdigest()
    return str(uuid5(NAMESPACE_URL, f"urn:workshop-plan:{key}"))


def _entries(link: ShareLink, forecast: Forecast) -> Iterator[Entry]:
    jobs = Job.objects.filter(state__in=(State.OPEN, State.UNDER_WAY))
    jobs = jobs.select_related("build", "vendor")
    if link.kind == ShareKind.VENDOR_DATES:
        yield from _returns(forecast, jobs.filter(vendor=link.vendor))
    elif link.kind == ShareKind.CAR_DATES:
        yield from _work(forecast, jobs.filter(build=link.build))
        yield from _shows(link)
    elif link.person is not None:
        theirs = forecast.jobs.for_person(link.person.key)
        yield from _work(forecast, jobs.filter(key__in=theirs.values("key")))


def _work(forecast: Forecast, jobs: QuerySet[Job]) -> Iterator[Entry]:
    facts = planned_of(forecast, [job.key for job in jobs])
    for job in jobs:
        planned = facts.get(job.key, {})
        start, end = (
            moment(planned.get("planned_start")),
            moment(planned.get("planned_finish")),
        )
        if start and end and job.kind != Kind.MARK:
            title = f"{job.build}: {job}" if job.build else str(job)
            with_whom = f"At {job.vendor}." if job.vendor else ""
            yield Entry(f"job-{job.pk}", title, start, max(end, start), with_whom)


def _returns(forecast: Forecast, rows: QuerySet[Job]) -> Iterator[Entry]:
    jobs = rows.filter(kind__in=OUTSIDE)
    facts = planned_of(forecast, [job.key for job in jobs])
    for job in jobs:
        planned = moment(facts.get(job.key, {}).get("planned_finish"))
        day = job.promised or (planned.date() if planned else None)
        if day is None:
            continue
        said = "They promised this day." if job.promised else "As planned so far."
        title = f"Back: {job}" + (f" ({job.build})" if job.build else "")
        yield Entry(f"back-{job.pk}", title, day, day + timedelta(days=1), said)


def _shows(link: ShareLink) -> Iterator[Entry]:
    for entry in ShowEntry.objects.filter(build=link.build).select_related("show"):
        move_in = entry.show.move_in
        title = f"Move-in: {entry.show}"
        yield Entry(f"show-{entry.show_id}", title, move_in, move_in)
