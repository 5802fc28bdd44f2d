"""The engine's advice on what goes to a vendor, in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from builds.charts import wording
from builds.models import Build, Job, Show
from builds.selectors.answers import Facts, moment, planned_now
from builds.selectors.morning_lines import code_of, title_of

NEAR = timedelta(days=21)
NAMES = {
    "wait": "Wait for the last piece",
    "ready": "Send what is ready, the others as they come",
    "split": "Send what is ready, the others together",
}


@dataclass(frozen=True, slots=True)
class GoingLine:
    """One job that could go along."""

    key: str
    words: str
    near: bool


@dataclass(frozen=True, slots=True)
class LoadLine:
    """What leaves together, when, and when it is back."""

    what: tuple[str, ...]
    leaves: datetime | None
    p50: datetime | None
    p80: datetime | None


@dataclass(frozen=True, slots=True)
class CarOdds:
    """One car at one show."""

    car: str
    show: str
    chance: float


@dataclass(frozen=True, slots=True)
class OptionLine:
    """One way to send them."""

    name: str
    loads: tuple[LoadLine, ...]
    charges: str
    odds: tuple[CarOdds, ...]


@dataclass(frozen=True, slots=True)
class AdvicePage:
    """The whole advice."""

    send_by: str
    send_by_why: tuple[str, ...]
    late: bool
    options: tuple[OptionLine, ...]
    held_back: tuple[str, ...]


def going_lines(loads: Iterable[Sequence[str]]) -> tuple[tuple[GoingLine, ...], ...]:
    """Give what could go together; those that are `near` leave about the same time."""
    listed = [tuple(load) for load in loads]
    keys = {key for load in listed for key in load}
    jobs = {
        job.key: job for job in Job.objects.filter(key__in=keys).select_related("build")
    }
    planned = planned_now(keys)
    return tuple(_lines(load, jobs, planned) for load in listed)


def _lines(
    load: Sequence[str], jobs: Mapping[str, Job], planned: Facts
) -> tuple[GoingLine, ...]:
    starts = {
        key: moment(planned.get(key, {}).get("planned_start"))
        for key in load
        if key in jobs
    }
    first = min((at for at in starts.values() if at), default=None)
    return tuple(
        GoingLine(
            key,
            _words(jobs[key], at),
            at is None or first is None or at - first <= NEAR,
        )
        for key, at in starts.items()
    )


def _words(job: Job, at: datetime | None) -> str:
    what = f"{title_of(job)}, {code_of(job)}" if job.build else title_of(job)
    return f"{what}, by the plan {wording.day(at)}" if at else what


def advice_page(facts: Facts) -> AdvicePage:
    """Put an advice into words."""
    keys = {
        key for one in facts["options"] for load in one["loads"] for key in load["jobs"]
    }
    jobs = {
        job.key: job for job in Job.objects.filter(key__in=keys).select_related("build")
    }
    cars = {one.key: str(one) for one in Build.objects.all()}
    shows = {one.key: str(one) for one in Show.objects.all()}
    options = tuple(_option(one, jobs, cars, shows) for one in facts["options"])
    by = facts["send_by"]
    return AdvicePage(
        send_by=_send_by(by),
        send_by_why=tuple(_why(by, facts["wanted"], cars, shows)),
        late=by["late"],
        options=options,
        held_back=tuple(_named(key, jobs) for key in facts["held_back"]),
    )


def _named(key: str, jobs: Mapping[str, Job]) -> str:
    job = jobs[key]
    return f"{title_of(job)}, {code_of(job)}" if job.build else title_of(job)


def _option(
    one: Facts,
    jobs: Mapping[str, Job],
    cars: Mapping[str, str],
    shows: Mapping[str, str],
) -> OptionLine:
    charges = wording.counted(one["charges"], "batch,batches")
    if one["cost"] is not None:
        charges += f", {one['cost']:g} in minimum charges"
    return OptionLine(
        name=NAMES[one["name"]],
        loads=tuple(
            LoadLine(
                tuple(_named(key, jobs) for key in load["jobs"]),
                moment(load["leaves"]),
                moment(load["p50"]),
                moment(load["p80"]),
            )
            for load in one["loads"]
        ),
        charges=charges,
        odds=tuple(
            CarOdds(cars[row["build"]], shows[row["show"]], row["probability"])
            for row in one["entries"]
        ),
    )


def _send_by(by: Facts) -> str:
    if by["late"]:
        return "Not all together: waiting for the last piece costs a show too much."
    if by["day"] is None:
        return "No last day: together they can leave at any time before the shows."
    return f"Send by {wording.day_year(date.fromisoformat(by['day']))}."


def _why(
    by: Facts, wanted: float, cars: Mapping[str, str], shows: Mapping[str, str]
) -> Iterable[str]:
    for row in by["entries"]:
        after = row["after"] if row["after"] is not None else row["kept"]
        if abs(row["best"] - after) >= 0.005:
            then = "together" if by["late"] else "then"
            words = (
                f"{cars[row['build']]} at {shows[row['show']]}: "
                f"{wording.in_100(row['best'])} if each leaves as soon as it is ready, "
                f"{wording.in_100(row['kept'])} {then}"
            )
            if row["after"] is not None:
                words += f", {wording.in_100(row['after'])} a day of theirs later"
            yield words + "."
    yield (
        f"What is kept is {wording.in_100(wanted)}, or where that is not to be had, "
        "what leaving at once gives less one."
    )
