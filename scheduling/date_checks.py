"""Days and hours that cannot be: wrong years, wrong order, no working time at all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime

from scheduling.errors import Fault
from scheduling.formats import day_text, hours_text, moment_text, span_text
from scheduling.plan import Calendar, Hours, Job, Plan, Span
from scheduling.timeline import WEEKDAYS
from scheduling.whereabouts import Spot, spots

FIRST_YEAR, LAST_YEAR = 1970, 2200
QUARTER = 15
MINUTES_A_DAY = 1440

Dated = tuple[Spot | None, str, date]


def date_faults(plan: Plan) -> Iterator[Fault]:
    """Yield what is wrong with the plan's days, spans and opening hours."""
    for spot, rest, day in _dates(plan):
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            yield Fault(
                spot.at(rest) if spot else rest,
                f"is {_shown(day)}, outside the years {FIRST_YEAR} to {LAST_YEAR}",
                "Correct the year.",
            )
    for spot, rest, span in _spans(plan):
        if span.first > span.last:
            what = f"is {span_text(span)}, which ends before it begins"
            yield Fault(spot.at(rest), what, "Write the earlier day first.")
    for spot, calendar in spots("calendars", plan.calendars):
        yield from _calendar_faults(spot, calendar)


def _shown(day: date) -> str:
    return moment_text(day) if isinstance(day, datetime) else day_text(day)


def _spans(plan: Plan) -> Iterator[tuple[Spot, str, Span]]:
    for spot, calendar in spots("calendars", plan.calendars):
        yield from _numbered(spot, "closed", calendar.closed)
    for spot, person in spots("people", plan.people):
        yield from _numbered(spot, "away", person.away)
    for spot, vendor in spots("vendors", plan.vendors):
        yield from _numbered(spot, "closed", vendor.closed)


def _numbered(
    spot: Spot, key: str, all_spans: Sequence[Span]
) -> Iterator[tuple[Spot, str, Span]]:
    for number, span in enumerate(all_spans):
        yield spot, f".{key}[{number}]", span


def _dates(plan: Plan) -> Iterator[Dated]:
    yield None, "now", plan.now
    for spot, rest, span in _spans(plan):
        yield spot, rest, span.first
        if span.last != span.first:
            yield spot, rest, span.last
    yield from _single_dates(plan)
    for spot, job in spots("jobs", plan.jobs):
        yield from ((spot, rest, day) for rest, day in _job_dates(job))


def _single_dates(plan: Plan) -> Iterator[Dated]:
    for spot, calendar in spots("calendars", plan.calendars):
        for day in calendar.open:
            yield spot, f'.open["{day_text(day)}"]', day
    for spot, vendor in spots("vendors", plan.vendors):
        if vendor.slots:
            yield spot, ".slots.from", vendor.slots.first
    for spot, show in spots("shows", plan.shows):
        yield spot, ".move_in", show.move_in
    for spot, consignment in spots("consignments", plan.consignments):
        if consignment.leaves:
            yield spot, ".leaves", consignment.leaves


def _job_dates(job: Job) -> Iterator[tuple[str, date]]:
    given: dict[str, date | None] = {
        ".started": job.started,
        ".finished": job.finished,
        ".not_before": job.not_before,
        ".needed_by": job.needed_by,
        ".sent": job.sent,
        ".promised": job.promised,
    }
    for number, promise in enumerate(job.promises):
        given[f".promises[{number}].date"] = promise.date
        given[f".promises[{number}].given"] = promise.given
    yield from ((rest, day) for rest, day in given.items() if day is not None)


def _calendar_faults(spot: Spot, calendar: Calendar) -> Iterator[Fault]:
    for name, hours in calendar.week.items():
        yield from _day_faults(spot.at(f".week.{name}"), hours)
    for day, hours in calendar.open.items():
        yield from _day_faults(spot.at(f'.open["{day_text(day)}"]'), hours)
    if not calendar.elapsed and not _ever_open(calendar):
        yield Fault(
            spot.at(),
            "has no working time: no weekday opens for a whole quarter-hour",
            'Give a weekday its hours, for example "mon": ["08:00-16:00"].',
        )


def _ever_open(calendar: Calendar) -> bool:
    # Single open days do not count: after the last of them work would never end.
    return any(
        -(-one.opens // QUARTER) < one.closes // QUARTER
        for name in WEEKDAYS
        for one in calendar.week.get(name, ())
    )


def _day_faults(where: str, hours: Sequence[Hours]) -> Iterator[Fault]:
    until = Hours(0, 0)
    for one in sorted(hours, key=lambda each: (each.opens, each.closes)):
        if not 0 <= one.opens < one.closes <= MINUTES_A_DAY:
            what = f"has {hours_text(one)}, which closes before it opens"
            yield Fault(where, what, "Write opening before closing.")
        elif one.opens < until.closes:
            what = f"has {hours_text(until)} and {hours_text(one)}, which overlap"
            yield Fault(where, what, "Let the hours of a day follow each other.")
        until = max(until, one, key=lambda each: each.closes)
