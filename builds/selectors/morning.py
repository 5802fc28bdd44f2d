"""The morning sheet: what the lead has to know at a quarter to eight."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from itertools import islice

from django.db.models import Q
from django.urls import reverse

from builds.charts import wording
from builds.models import Build, Found, Job, Person, Promise, State, Workshop
from builds.selectors.answers import (
    Facts,
    answer_about,
    entries,
    moment,
    newest,
    one_before,
    whole_days,
)
from builds.selectors.morning_changes import Changes, changes
from builds.selectors.morning_lines import (
    Holder,
    Mover,
    PersonLine,
    Ring,
    holders,
    jobs_named,
    movers,
    person_lines,
    rings,
)
from builds.selectors.moved import moved_rows
from builds.selectors.plan_words import plan_words

TOP = 4
CALLS = 6


@dataclass(frozen=True, slots=True)
class LevelLine:
    """One level of one car: its chance, and the day it is reached at 80 in 100."""

    name: str
    probability: float | None
    p50: datetime | None
    p80: datetime | None
    wanted: bool

    @property
    def days(self) -> str:
        """Say from when at an even chance to when at 80 in 100, with the year."""
        if self.p50 is None or self.p80 is None:
            return "no date"
        first, last = self.p50, self.p80
        if first.year != last.year:
            return f"{_short(first)} {first.year} to {_short(last)} {last.year}"
        return f"{wording.short_range(first, last)} {last.year}"


@dataclass(frozen=True, slots=True)
class CarLine:
    """One car on the sheet; `best` is what can be promised at 80 in 100."""

    key: str
    name: str
    url: str
    levels: tuple[LevelLine, ...]
    wanted: str
    best: str | None
    in_hand: float | None


@dataclass(frozen=True, slots=True)
class ShowLine:
    """A show and the cars entered for it."""

    name: str
    url: str
    move_in: datetime | None
    days_to_go: float
    cars: tuple[CarLine, ...]
    all_ready: float | None


@dataclass(frozen=True, slots=True)
class Asked:
    """Found work nobody has said yes to."""

    title: str
    url: str
    car: str
    customer: str


@dataclass(frozen=True, slots=True)
class MorningPage:
    """Everything on the sheet."""

    now: datetime
    shows: tuple[ShowLine, ...]
    undated: tuple[CarLine, ...]
    holders: tuple[Holder, ...]
    movers: tuple[Mover, ...]
    rings_first: tuple[Ring, ...]
    rings_later: tuple[Ring, ...]
    people: tuple[PersonLine, ...]
    idle: tuple[str, ...]
    asked: tuple[Asked, ...]
    problems: tuple[str, ...]
    changes: Changes
    plan_words: str
    moved: int
    samples: int


def morning_page() -> MorningPage | None:
    """Give the sheet from the newest answer, or None before the first."""
    forecast = newest()
    if forecast is None:
        return None
    named = jobs_named(forecast.summary)
    answer = answer_about(forecast, named)
    builds = {build.key: build for build in Build.objects.all()}
    shown = Job.objects.filter(Q(key__in=named) | Q(found=Found.ASKED))
    jobs = {job.key: job for job in shown.select_related("build", "vendor")}
    keys = {job.pk: job.key for job in jobs.values()}
    said = Promise.objects.filter(job__in=keys)
    promises = {keys[one.job_id]: one for one in said}
    calls = rings(answer, jobs, promises)
    people = person_lines(answer, jobs, list(Person.objects.prefetch_related("away")))
    return MorningPage(
        now=moment(answer["now"]) or Workshop.current().clock(),
        shows=_shows(answer, builds),
        undated=_undated(answer, builds),
        holders=tuple(islice(holders(answer, jobs), TOP)),
        movers=tuple(islice(movers(answer, jobs), TOP)),
        rings_first=calls[:CALLS],
        rings_later=calls[CALLS:],
        people=tuple(one for one in people if one.jobs or one.away_until),
        idle=tuple(one.name for one in people if not one.jobs and not one.away_until),
        asked=_asked(jobs),
        problems=tuple(f"{one['what']}. {one['fix']}" for one in answer["problems"]),
        changes=changes(forecast, one_before(forecast), builds),
        plan_words=plan_words(answer),
        moved=len(moved_rows(answer)),
        samples=answer["samples"],
    )


def _short(at: datetime) -> str:
    return wording.short_range(at, at)


def _car_name(build: Build) -> str:
    return build.name or build.key


def _shows(answer: Facts, builds: dict[str, Build]) -> tuple[ShowLine, ...]:
    lines = []
    for key, facts in answer["shows"].items():
        cars = [
            _car(builds[build], entry["levels"], entry["level"], entry["best_level"])
            for build, entry in facts["entries"].items()
            if build in builds
        ]
        lines.append(
            ShowLine(
                name=facts["name"],
                url=reverse("show", args=[key]),
                move_in=moment(facts["move_in"]),
                days_to_go=facts["days_to_go"],
                cars=tuple(cars),
                all_ready=facts["all_ready"] if len(cars) > 1 else None,
            )
        )
    return tuple(sorted(lines, key=lambda line: line.days_to_go))


def _undated(answer: Facts, builds: dict[str, Build]) -> tuple[CarLine, ...]:
    dated = {build for _, build, _ in entries(answer)}
    rest = [
        build
        for build in sorted(builds.values(), key=lambda one: one.rank)
        if build.key not in dated
        and not build.left_out
        and build.key in answer["builds"]
    ]
    return tuple(
        _car(
            build,
            answer["builds"][build.key]["levels"],
            answer["builds"][build.key]["wanted_level"],
            None,
        )
        for build in rest
    )


def _car(build: Build, levels: Facts, wanted: str, best: str | None) -> CarLine:
    lines = tuple(
        LevelLine(
            name=name,
            probability=points.get("probability"),
            p50=moment(points["p50"]),
            p80=moment(points["p80"]),
            wanted=name == wanted,
        )
        for name, points in levels.items()
    )
    return CarLine(
        key=build.key,
        name=_car_name(build),
        url=reverse("car", args=[build.key]),
        levels=lines,
        wanted=wanted,
        best=best,
        in_hand=whole_days(levels[wanted].get("in_hand_days")),
    )


def _asked(jobs: dict[str, Job]) -> tuple[Asked, ...]:
    return tuple(
        Asked(
            title=job.title or job.key,
            url=reverse("job", args=[job.key]),
            car=_car_name(job.build) if job.build else "",
            customer=job.build.customer if job.build else "",
        )
        for job in jobs.values()
        if job.found == Found.ASKED and job.state not in (State.DONE, State.LEFT_OUT)
    )
