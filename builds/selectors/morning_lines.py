"""Lines of the morning sheet: what holds up, what moves, calls, and people."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import chain

from django.urls import reverse

from builds.charts import wording
from builds.models import Job, Kind, Person, Promise
from builds.selectors.answers import Facts, moment

Jobs = Mapping[str, Job]

LITTLE = 0.005
PRESSING = ("overdue", "today", "count")


@dataclass(frozen=True, slots=True)
class Holder:
    """A job that is not itself waiting, and how much waits for it."""

    title: str
    url: str
    knock_on: str
    car: str
    holds: int
    only_this: int
    condition: str


@dataclass(frozen=True, slots=True)
class Mover:
    """A job whose end today would move a show: chances before and after."""

    title: str
    url: str
    car: str
    show: str
    verb: str
    now: float
    then: float
    days: float


@dataclass(frozen=True, slots=True)
class Reason:
    """One job to ask about, and everything there is to ask."""

    title: str
    url: str
    why: str
    presses: bool
    last_word: str


@dataclass(frozen=True, slots=True)
class Ring:
    """One call to make, with everything to ask in it."""

    whom: str
    phone: str
    reasons: tuple[Reason, ...]

    @property
    def presses(self) -> bool:
        """Say whether something in it cannot wait."""
        return any(one.presses for one in self.reasons)


@dataclass(frozen=True, slots=True)
class Doing:
    """A job on somebody's list for today."""

    title: str
    url: str
    code: str
    condition: str


@dataclass(frozen=True, slots=True)
class PersonLine:
    """One person's day; `away_until` where they are not here."""

    name: str
    url: str
    jobs: tuple[Doing, ...]
    away_until: date | None


def title_of(job: Job) -> str:
    """Give what people call a job."""
    return job.title or job.key


def car_of(job: Job) -> str:
    """Give the car a job belongs to, as people call it."""
    return (job.build.name or job.build.key) if job.build else ""


def code_of(job: Job) -> str:
    """Give the first word of the car's name: its number, as a rule."""
    return (car_of(job).split() or [""])[0]


def jobs_named(answer: Facts) -> set[str]:
    """Give the keys of the jobs that the sheet can speak of."""
    rows = chain(answer["blocking"], answer["moves_show"], answer["ring"])
    return {row["job"] for row in rows}.union(*answer["today"].values())


def holders(answer: Facts, jobs: Jobs) -> Iterator[Holder]:
    """Give what holds up most, most first."""
    return (
        Holder(
            title=title_of(jobs[row["job"]]),
            url=reverse("job", args=[row["job"]]),
            knock_on=reverse("knock_on", args=[row["job"]]),
            car=car_of(jobs[row["job"]]),
            holds=row["holds"],
            only_this=row["only_this"],
            condition=answer["jobs"][row["job"]]["condition"],
        )
        for row in answer["blocking"]
        if row["job"] in jobs and row["holds"]
    )


def movers(answer: Facts, jobs: Jobs) -> Iterator[Mover]:
    """Give what moves a show, most first, each job with the show it moves most."""
    most: dict[str, Facts] = {}
    for row in answer["moves_show"]:
        most.setdefault(row["job"], row)
    return (
        Mover(
            title=title_of(jobs[row["job"]]),
            url=reverse("job", args=[row["job"]]),
            car=car_of(jobs[row["job"]]),
            show=answer["shows"][row["show"]]["name"],
            verb=_verb(jobs[row["job"]], answer["jobs"][row["job"]]["condition"]),
            now=row["probability_now"],
            then=row["probability_then"],
            days=row["gain_p80_days"],
        )
        for row in most.values()
        if row["job"] in jobs and row["gain_probability"] > LITTLE
    )


def _verb(job: Job, condition: str) -> str:
    if job.kind == Kind.DECISION:
        return "Chosen today"
    if condition in ("away", "part back") or job.kind == Kind.ORDER:
        return "Back today"
    return "Finished today"


def rings(
    answer: Facts, jobs: Jobs, promises: Mapping[str, Promise]
) -> tuple[Ring, ...]:
    """Give the calls to make, one for each firm or customer, most pressing first."""
    calls: dict[tuple[str, str], dict[str, Reason]] = {}
    for row in answer["ring"]:
        if row["job"] in jobs:
            job = jobs[row["job"]]
            asked = calls.setdefault((row["whom"], _phone(job)), {})
            first = asked.get(row["job"])
            asked[row["job"]] = Reason(
                title=title_of(job),
                url=reverse("job", args=[row["job"]]),
                why=f"{first.why} {row['why']}" if first else row["why"],
                presses=row["kind"] in PRESSING or bool(first and first.presses),
                last_word=_last_word(promises.get(row["job"])),
            )
    return tuple(Ring(*whom, tuple(found.values())) for whom, found in calls.items())


def _last_word(promise: Promise | None) -> str:
    """Say what was said the last time, and when."""
    if promise is None or not promise.said:
        return ""
    on = f" {wording.day(promise.given)}" if promise.given else ""
    return f"Last word{on}: “{promise.said}”"


def _phone(job: Job) -> str:
    return job.vendor.phone if job.vendor else ""


def person_lines(
    answer: Facts, jobs: Jobs, people: Sequence[Person]
) -> tuple[PersonLine, ...]:
    """Give what everybody can get on with today."""
    now = moment(answer["now"])
    today = now.date() if now else date.min
    return tuple(
        PersonLine(
            name=person.name or person.key,
            url=reverse("person", args=[person.key]),
            jobs=tuple(
                Doing(
                    title=title_of(jobs[key]),
                    url=reverse("job", args=[key]),
                    code=code_of(jobs[key]),
                    condition=answer["jobs"][key]["condition"],
                )
                for key in answer["today"].get(person.key, ())
                if key in jobs
            ),
            away_until=max(
                (
                    span.last
                    for span in person.away.all()
                    if span.first <= today <= span.last
                ),
                default=None,
            ),
        )
        for person in people
        if not person.left_out
    )
