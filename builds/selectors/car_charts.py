"""The pictures on the build sheet: the run-in and the level ladder."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

from django.urls import reverse

from builds.charts import (
    Closed,
    Rung,
    RunInJob,
    ladder,
    run_in,
)
from builds.charts.ladder import Ladder
from builds.charts.run_in import RunInChart
from builds.models import Build, Job
from builds.selectors.answers import Facts, entries, finish_of, moment

WEEKEND = 5


def ladders(car: Build, answer: Facts) -> tuple[tuple[str, Ladder], ...]:
    """Give one ladder for each show the car is entered for, or one without odds."""
    if not answer or car.key not in answer["builds"]:
        return ()
    now = _now(answer)
    found = [
        (
            answer["shows"][show]["name"],
            ladder(
                _rungs(entry["levels"]),
                now=now,
                move_in=moment(answer["shows"][show]["move_in"]),
                wanted=entry["level"],
            ),
        )
        for show, build, entry in entries(answer)
        if build == car.key
    ]
    facts = answer["builds"][car.key]
    if not found and facts["levels"]:
        rungs = _rungs(facts["levels"])
        wanted = facts["wanted_level"]
        found = [("", ladder(rungs, now=now, move_in=None, wanted=wanted))]
    return tuple(found)


def _now(answer: Facts) -> datetime:
    return datetime.fromisoformat(answer["now"])


def _rungs(levels: Mapping[str, Facts]) -> list[Rung]:
    return [
        Rung(
            name=name,
            probability=points.get("probability"),
            finish=finish_of(points),
            planned=moment(points["planned"]),
        )
        for name, points in levels.items()
    ]


def run_in_chart(car: Build, answer: Facts, jobs: Sequence[Job]) -> RunInChart | None:
    """Give the run-in to the car's first show, or to its own end."""
    if not answer or not answer["builds"].get(car.key, {}).get("levels"):
        return None
    facts = answer["builds"][car.key]
    shows = [
        answer["shows"][show] for show, build, _ in entries(answer) if build == car.key
    ]
    shows.sort(key=lambda one: str(one["move_in"]))
    chain = {key: place for place, key in enumerate(facts["critical_path"])}
    now = _now(answer)
    drawn = [
        one
        for job in jobs
        if job.key in answer["jobs"]
        for one in [_drawn(job, answer, chain, now)]
        if one
    ]
    move_in = moment(shows[0]["move_in"]) if shows else None
    ends = [now, *(job.finish for job in drawn if job.finish)]
    if move_in:
        ends.append(move_in)
    return run_in(
        drawn,
        now=now,
        move_in=move_in,
        finish=finish_of(facts["levels"][facts["wanted_level"]]),
        closed=_weekends(now, max(ends)),
        show_name=shows[0]["name"] if shows else "",
    )


def _drawn(
    job: Job, answer: Facts, chain: Mapping[str, int], now: datetime
) -> RunInJob | None:
    facts = answer["jobs"][job.key]
    start, finish = moment(facts["planned_start"]), moment(facts["planned_finish"])
    if finish is None:
        return None
    before = [
        moment(answer["jobs"][one]["planned_finish"]) or now
        for one in facts["waits_for"]
        if one in answer["jobs"]
    ]
    return RunInJob(
        id=job.key,
        title=job.title or job.key,
        url=reverse("job", args=[job.key]),
        area=job.area or job.phase or "Other",
        kind=job.kind,
        condition=facts["condition"],
        start=start or finish,
        finish=finish,
        ready=max(before, default=None),
        vendor=(job.vendor.name or job.vendor.key) if job.vendor else "",
        thread=chain.get(job.key),
    )


def _weekends(first: datetime, last: datetime) -> list[Closed]:
    found = []
    day = first.replace(hour=0, minute=0)
    while day < last:
        if day.weekday() == WEEKEND:
            found.append(Closed(day, day + timedelta(days=2)))
        day += timedelta(days=1)
    return found
