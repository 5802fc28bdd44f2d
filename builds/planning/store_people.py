"""The part of the plan that is who, where and when, into rows."""

from __future__ import annotations

from collections.abc import Mapping

from builds.models import (
    Build,
    DaysAway,
    PastReturn,
    Person,
    PersonTrade,
    Place,
    Show,
    ShowEntry,
    Vendor,
    VendorClosure,
    WorkCalendar,
)
from builds.planning.batch_text import write_batch
from builds.planning.upsert import replace_children, upsert
from scheduling import plan as records

Calendars = Mapping[str, WorkCalendar]


def people(plan: records.Plan, calendars: Calendars) -> dict[str, Person]:
    """Write the people with their trades and days away."""
    rows = upsert(
        Person,
        (
            Person(
                key=one.id,
                name=one.name,
                calendar=_calendar(calendars, one.calendar),
                note=one.note,
                left_out=one.left_out,
            )
            for one in plan.people
        ),
    )
    replace_children(
        PersonTrade,
        (
            PersonTrade(
                person=rows[one.id],
                trade=trade,
                level=one.trades.get(trade),
                pace=one.pace.get(trade),
            )
            for one in plan.people
            for trade in dict.fromkeys([*one.trades, *one.pace])
        ),
    )
    replace_children(
        DaysAway,
        (
            DaysAway(person=rows[one.id], first=span.first, last=span.last)
            for one in plan.people
            for span in one.away
        ),
    )
    return rows


def places(plan: records.Plan, calendars: Calendars) -> dict[str, Place]:
    """Write the places."""
    return upsert(
        Place,
        (
            Place(
                key=one.id,
                name=one.name,
                capacity=one.capacity,
                calendar=_calendar(calendars, one.calendar),
            )
            for one in plan.places
        ),
    )


def vendors(plan: records.Plan, calendars: Calendars) -> dict[str, Vendor]:
    """Write the vendors with their closures and past returns."""
    rows = upsert(
        Vendor,
        (_vendor(one, _calendar(calendars, one.calendar)) for one in plan.vendors),
    )
    replace_children(
        VendorClosure,
        (
            VendorClosure(vendor=rows[one.id], first=span.first, last=span.last)
            for one in plan.vendors
            for span in one.closed
        ),
    )
    replace_children(
        PastReturn,
        (
            PastReturn(
                vendor=rows[one.id],
                quoted_days=past.quoted_days,
                actual_days=past.actual_days,
                waited_days=past.waited_days,
                what=past.what,
                back=past.back,
            )
            for one in plan.vendors
            for past in one.history
        ),
    )
    return rows


def _vendor(one: records.Vendor, calendar: WorkCalendar | None) -> Vendor:
    return Vendor(
        key=one.id,
        name=one.name,
        calendar=calendar,
        minimum_charge=one.minimum_charge,
        slot_every=one.slots.every_working_days if one.slots else None,
        slot_from=one.slots.first if one.slots else None,
        batch=write_batch(one.batch),
        reject_chance=one.reject_chance,
        does=one.does,
        phone=one.phone,
        note=one.note,
        left_out=one.left_out,
    )


def shows(plan: records.Plan, builds: Mapping[str, Build]) -> dict[str, Show]:
    """Write the shows with the cars entered."""
    rows = upsert(
        Show,
        (
            Show(key=one.id, name=one.name, move_in=one.move_in, left_out=one.left_out)
            for one in plan.shows
        ),
    )
    replace_children(
        ShowEntry,
        (
            ShowEntry(show=rows[one.id], build=builds[entry.build], level=entry.level)
            for one in plan.shows
            for entry in one.entries
        ),
    )
    return rows


def _calendar(calendars: Calendars, key: str | None) -> WorkCalendar | None:
    return None if key is None else calendars[key]
