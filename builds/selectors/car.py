"""The build sheet of one car, and the list of all cars."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime

from django.urls import reverse

from builds.charts.ladder import Ladder
from builds.charts.run_in import RunInChart
from builds.models import Build, Found, Job, Kind, State
from builds.selectors.answers import (
    Facts,
    entries,
    moment,
    newest,
    planned_of,
    wanted_chance,
    whole_days,
)
from builds.selectors.bench import condition_of, held_jobs
from builds.selectors.car_charts import ladders, run_in_chart

CONDITIONS = (
    "clear",
    "under way",
    "back, to check",
    "part back",
    "away",
    "waiting",
    "done",
    "left out",
)
OPEN, CLOSED = CONDITIONS[:6], CONDITIONS[6:]
READ = (
    *("key", "title", "kind", "state", "phase", "area", "sent"),
    *("commitment", "snag", "found", "vendor__key", "vendor__name"),
)


@dataclass(frozen=True, slots=True)
class CarRow:
    """A car in the list of cars."""

    name: str
    url: str
    customer: str
    wanted: str
    left_out: bool
    open_jobs: int
    shows: tuple[tuple[str, str, float], ...]
    level: str
    p80: datetime | None


@dataclass(frozen=True, slots=True)
class JobLine:
    """A job on the build sheet."""

    title: str
    url: str
    area: str
    condition: str
    reasons: tuple[str, ...]
    finish: datetime | None
    in_hand: float | None
    commitment: bool
    snag: bool
    found: str


@dataclass(frozen=True, slots=True)
class Phase:
    """The jobs of one phase."""

    name: str
    jobs: tuple[JobLine, ...]


@dataclass(frozen=True, slots=True)
class Tally:
    """How many jobs are in a condition; the address shows only those."""

    condition: str
    count: int
    chosen: bool


@dataclass(frozen=True, slots=True)
class CarPage:
    """Everything on the build sheet."""

    car: Build
    tallies: tuple[Tally, ...]
    chosen: str
    phases: tuple[Phase, ...]
    done: tuple[Phase, ...]
    ladders: tuple[tuple[str, Ladder], ...]
    run_in: RunInChart | None
    decisions: tuple[JobLine, ...]
    found: tuple[JobLine, ...]
    snags: tuple[JobLine, ...]


def car_rows() -> tuple[CarRow, ...]:
    """Give every car with its odds, in the lead's order, left-out ones last."""
    forecast = newest()
    answer: Facts = forecast.summary if forecast else {"shows": {}, "builds": {}}
    gone = (State.DONE, State.LEFT_OUT)
    count = Counter(
        Job.objects.exclude(state__in=gone).values_list("build_id", flat=True)
    )
    cars = sorted(Build.objects.all(), key=lambda one: (one.left_out, one.rank))
    return tuple(_row(car, answer, count[car.pk]) for car in cars)


def _row(car: Build, answer: Facts, open_jobs: int) -> CarRow:
    facts = answer["builds"].get(car.key, {})
    levels = facts.get("levels", {})
    points = levels.get(facts.get("wanted_level"), {})
    return CarRow(
        name=car.name or car.key,
        url=reverse("car", args=[car.key]),
        customer=car.customer,
        wanted=car.wanted,
        left_out=car.left_out,
        open_jobs=open_jobs,
        shows=tuple(
            (answer["shows"][show]["name"], entry["level"], wanted_chance(entry))
            for show, build, entry in entries(answer)
            if build == car.key
        ),
        level=facts.get("wanted_level", ""),
        p80=moment(points.get("p80")),
    )


def car_page(car: Build, chosen: str) -> CarPage:
    """Give the build sheet; `chosen` shows only the jobs in that condition."""
    forecast = newest()
    rows = Job.objects.filter(build=car).select_related("vendor")
    jobs = list(rows.only(*READ))
    facts = planned_of(forecast, [job.key for job in jobs])
    waited = {key for one in facts.values() for key in one.get("waits_for", ())}
    facts |= planned_of(forecast, waited.difference(facts))
    answer: Facts = {**forecast.summary, "jobs": facts} if forecast else {}
    held = held_jobs(jobs)
    lines = {
        job.key: _line(job, facts.get(job.key, {}), held=job.pk in held) for job in jobs
    }
    count = Counter(line.condition for line in lines.values())
    open_jobs = [job for job in jobs if job.state not in (State.DONE, State.LEFT_OUT)]
    return CarPage(
        car=car,
        tallies=tuple(
            Tally(one, count[one], one == chosen) for one in CONDITIONS if count[one]
        ),
        chosen=chosen if chosen in count else "",
        phases=_phases(jobs, lines, {chosen} if chosen in count else OPEN),
        done=() if chosen in count else _phases(jobs, lines, CLOSED),
        ladders=ladders(car, answer),
        run_in=run_in_chart(car, answer, jobs),
        decisions=tuple(lines[j.key] for j in open_jobs if j.kind == Kind.DECISION),
        found=tuple(lines[job.key] for job in jobs if job.found),
        snags=tuple(lines[job.key] for job in open_jobs if job.snag),
    )


def _line(job: Job, facts: Facts, *, held: bool) -> JobLine:
    """Give a job's line; what people said since counts before the answer."""
    condition = condition_of(job, facts, held=held)
    told = facts.get("condition") == condition
    return JobLine(
        title=job.title or job.key,
        url=reverse("job", args=[job.key]),
        area=job.area,
        condition=condition,
        reasons=tuple(facts.get("reasons", ())) if told else (),
        finish=moment(facts.get("planned_finish")),
        in_hand=whole_days(facts.get("in_hand_days")),
        commitment=job.commitment,
        snag=job.snag,
        found=Found(job.found).label if job.found else "",
    )


def _phases(
    jobs: list[Job], lines: Mapping[str, JobLine], shown: Collection[str]
) -> tuple[Phase, ...]:
    phases: dict[str, list[JobLine]] = {}
    for job in jobs:
        line = lines[job.key]
        if line.condition in shown:
            phases.setdefault(job.phase or "Other work", []).append(line)
    return tuple(Phase(name, tuple(found)) for name, found in phases.items())
