"""The engine's plan into rows: the whole workshop, in one transaction.

A thing that keeps its key keeps its row, so sign-ins, diaries and the record of
who did what stay attached to it.
"""

from __future__ import annotations

from dataclasses import asdict

from django.db import transaction
from django.db.models import F

from builds.models import (
    Build,
    Consignment,
    Job,
    Person,
    Place,
    Show,
    Vendor,
    WorkCalendar,
    Workshop,
)
from builds.planning import store_jobs, store_people, store_pieces
from builds.planning.calendar_text import write_hours, write_span, write_week
from builds.planning.upsert import remove_others, upsert
from scheduling import plan as records


@transaction.atomic
def store_plan(plan: records.Plan, *, pin_clock: bool = False) -> None:
    """Replace the workshop by this plan; `pin_clock` also stops its clock there."""
    Workshop.objects.select_for_update().filter(pk=1).first()
    _store_workshop(plan, pin_clock=pin_clock)
    Job.objects.update(version=F("version") + 1)
    for model in (Build, Consignment, Person, Place, Vendor, Show, Workshop):
        model._default_manager.update(version=F("version") + 1)
    calendars = upsert(WorkCalendar, _calendars(plan))
    people = store_people.people(plan, calendars)
    places = store_people.places(plan, calendars)
    vendors = store_people.vendors(plan, calendars)
    builds = upsert(Build, map(_build, plan.builds))
    shows = store_people.shows(plan, builds)
    jobs = store_jobs.jobs(plan, builds, people, vendors)
    store_jobs.jobs_parts(plan, jobs, places)
    store_jobs.ways(plan, jobs, vendors)
    store_pieces.pieces(plan, jobs)
    loads = store_jobs.consignments(plan, vendors, jobs)
    remove_others(Consignment, loads)
    remove_others(Job, jobs)
    remove_others(Show, shows)
    remove_others(Build, builds)
    remove_others(Vendor, vendors)
    remove_others(Place, places)
    remove_others(Person, people)
    remove_others(WorkCalendar, calendars)


def _store_workshop(plan: records.Plan, *, pin_clock: bool) -> None:
    fields = {
        "timezone": plan.timezone,
        "reading": plan.reading,
        "seed": plan.seed,
        "samples": plan.samples,
        "factors": None if plan.factors is None else asdict(plan.factors),
        "levels": list(plan.levels),
        "now": plan.now if pin_clock else None,
        "followed": None,
        "keep_order": False,
    }
    Workshop.objects.update_or_create(pk=1, defaults=fields)


def _calendars(plan: records.Plan) -> list[WorkCalendar]:
    """Give the plan's calendars, or the one a plan without any goes by."""
    if not plan.calendars:
        return [WorkCalendar(key="always", elapsed=True, implied=True)]
    return [_calendar(one) for one in plan.calendars]


def _calendar(one: records.Calendar) -> WorkCalendar:
    return WorkCalendar(
        key=one.id,
        week=write_week(one.week),
        holidays=one.holidays or "",
        closed=[write_span(span) for span in one.closed],
        open={day.isoformat(): write_hours(hours) for day, hours in one.open.items()},
        elapsed=one.elapsed,
    )


def _build(one: records.Build) -> Build:
    return Build(
        key=one.id,
        name=one.name,
        rank=one.rank,
        customer=one.customer,
        wanted=one.wanted,
        note=one.note,
        left_out=one.left_out,
    )
