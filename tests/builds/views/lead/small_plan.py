"""A small plan with one of everything the morning sheet speaks of, and its answer."""

from __future__ import annotations

from datetime import date

from builds.models import Build, Forecast, Found, Job, Kind, Promise, ShowEntry, State
from builds.planning.replan import replan
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.show import ShowFactory


def plan_for_a_show(car: Build) -> dict[str, Job]:
    """Chrome is late at the plater's; fitting it and the check wait for it."""
    show = ShowFactory(key="summer", name="Summer show")
    ShowEntry.objects.create(show=show, build=car, level="complete")
    plating = OutsideJobFactory(
        key="chrome",
        build=car,
        title="Bumpers at the plater",
        vendor__name="Brindle Plating",
        vendor__phone="01632 960001",
        state=State.UNDER_WAY,
        started="2026-12-01T08:00",
        sent=date(2026, 12, 1),
        pieces=8,
        pieces_noted=7,
        phase="Plating",
        area="bumpers",
    )
    Promise.objects.create(
        job=plating, date=None, given=date(2026, 12, 21), said="After the holiday"
    )
    fitting = JobFactory(
        key="fit",
        build=car,
        title="Bumpers fitted",
        trade="panel",
        after=[plating],
        phase="Assembly",
    )
    check = JobFactory(
        key="gaps",
        build=car,
        title="Gaps looked over",
        kind=Kind.CHECK,
        trade="panel",
        after=[fitting],
        phase="Assembly",
    )
    doors = JobFactory(key="doors", build=car, title="Doors hung", trade="panel")
    sills = JobFactory(
        key="sills",
        build=car,
        title="Sills rotten inside",
        trade="panel",
        found=Found.ASKED,
    )
    return {job.key: job for job in (plating, fitting, check, doors, sills)}


def answered(car: Build) -> Forecast:
    """Plan for a show and let the engine answer."""
    plan_for_a_show(car)
    forecast = replan()
    assert forecast.state == "done", forecast.error
    return forecast
