"""The job page: what it is, why its date is what it is, and what can be done."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from django.urls import reverse

from builds.cautions import STANDING_NOTE, Caution, cautions_for
from builds.models import (
    Job,
    Kind,
    Link,
    LinkKind,
    Person,
    Promise,
    State,
)
from builds.selectors import job_words
from builds.selectors.answers import Facts, moment, planned_now
from builds.selectors.bench import AT_VENDOR, IN_HOUSE, condition_of, held_jobs
from builds.selectors.job_history import Act, history, promises
from builds.selectors.job_numbers import Number, keys_named, numbers, title_of
from builds.selectors.who import why_no_hands

GONE = (State.DONE, State.LEFT_OUT)
BEGIN = ("start", "finish", "send")  # not while work before it is open


@dataclass(frozen=True, slots=True)
class Linked:
    """A job that comes before or after, and how the later one waits."""

    link: int
    title: str
    url: str
    car: str
    condition: str
    finish: datetime | None
    wait: str


@dataclass(frozen=True, slots=True)
class JobPage:
    """Everything on the job page."""

    job: Job
    title: str
    car_url: str
    condition: str
    reasons: tuple[str, ...]
    acts: frozenset[str]
    at_vendor: bool
    begun: date | None
    start: datetime | None
    finish: datetime | None
    who: tuple[str, ...]
    by_hand: bool
    needed_for: str
    places: tuple[str, ...]
    numbers: tuple[Number, ...]
    estimate: tuple[str, ...]
    first: tuple[Linked, ...]
    later: tuple[Linked, ...]
    open_after: tuple[str, ...]
    promises: tuple[Promise, ...]
    history: tuple[Act, ...]
    cautions: tuple[Caution, ...]
    standing_note: str


def job_page(job: Job, *, reading: str) -> JobPage:
    """Give the job page; without an answer of the engine it has no dates or odds.

    `reading` is what the workshop means by the low and the high of an estimate.
    """
    job = Job.objects.select_related("build", "vendor", "person").get(pk=job.pk)
    before = list(job.links.select_related("before__build"))
    after = list(job.links_on.select_related("job__build"))
    pairs = [(link, link.before) for link in before]
    pairs_after = [(link, link.job) for link in after]
    around = [other.key for _, other in (*pairs, *pairs_after)]
    planned = planned_now([job.key, *around])
    facts = planned.get(job.key, {})
    held = held_jobs([job, *(one for _, one in (*pairs, *pairs_after))])
    condition = condition_of(job, facts, held=job.pk in held)
    return JobPage(
        job=job,
        title=title_of(job),
        car_url=reverse("car", args=[job.build.key]) if job.build else "",
        condition=condition,
        reasons=_reasons(facts, condition),
        acts=acts_of(job, held=job.pk in held),
        at_vendor=job.kind in AT_VENDOR,
        begun=job.started or job.sent,
        start=moment(facts.get("planned_start")),
        finish=job.finished or moment(facts.get("planned_finish")),
        who=_who(job, facts),
        by_hand=not why_no_hands(job),
        needed_for=facts.get("needed_for") or job.level or "",
        places=tuple(str(place) for place in job.places.all()),
        numbers=numbers(facts, _titles(facts)) if job.state not in GONE else (),
        estimate=job_words.estimate(job, reading),
        first=_linked(pairs, planned, held),
        later=_linked(pairs_after, planned, held),
        open_after=_open([link.job for link in after]),
        promises=promises(job),
        history=history(job),
        cautions=cautions_for(
            job.title, job.kind, job.trade, job.phase, job.note, job.area
        ),
        standing_note=STANDING_NOTE,
    )


def acts_of(job: Job, *, held: bool) -> frozenset[str]:
    """Give the names of the acts that fit how far a job has got."""
    acts: set[str] | None = {
        State.DONE: {"reopen"},
        State.LEFT_OUT: {"restore"},
    }.get(State(job.state))
    if acts is None:
        stopped = BEGIN if held and job.state == State.OPEN else ()
        acts = {"trouble", "leave_out", *_forward(job)}.difference(stopped)
    if job.safety:
        acts.discard("leave_out")
    if job.found and job.state in (State.OPEN, State.LEFT_OUT):
        acts.add("found")
    return frozenset(acts)


def open_after(job: Job) -> tuple[str, ...]:
    """Give the open jobs that wait for this one, by title."""
    return _open(link.job for link in job.links_on.select_related("job"))


def same_promise(job: Job, by: str, said: str, day: object, given: object) -> bool:
    """Say whether the newest date kept for a job is this very one."""
    last = job.promises.last()
    return last is not None and (last.date, last.given, last.by, last.said) == (
        day,
        given,
        by,
        said,
    )


def _forward(job: Job) -> set[str]:
    """Give what moves an open job on."""
    under_way = job.state == State.UNDER_WAY
    if job.kind == Kind.DECISION:
        return {"choice"}
    if job.kind in AT_VENDOR:
        if job.sent:
            return {"promise", "count", "back"}
        return {"promise", "send", *({"finish"} if under_way else ())}
    if job.kind in IN_HOUSE:
        return {"finish", "stop" if under_way else "start"}
    return {"finish"}


def _reasons(facts: Facts, condition: str) -> tuple[str, ...]:
    """Give why it stands where it stands, unless it has moved on since."""
    if facts.get("condition") != condition:
        return ()
    return tuple(facts.get("reasons", ()))


def _who(job: Job, facts: Facts) -> tuple[str, ...]:
    if job.kind in AT_VENDOR:
        return (str(job.vendor),) if job.vendor else ()
    keys = list(facts.get("who", ())) or ([job.person.key] if job.person else [])
    names = {one.key: str(one) for one in Person.objects.filter(key__in=keys)}
    return tuple(names[key] for key in keys if key in names)


def _titles(facts: Facts) -> dict[str, str]:
    named = Job.objects.filter(key__in=keys_named(facts))
    return {job.key: title_of(job) for job in named}


def _open(jobs: Iterable[Job]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(title_of(j) for j in jobs if j.state not in GONE))


def _linked(
    pairs: Iterable[tuple[Link, Job]],
    planned: Mapping[str, Facts],
    held: Collection[int],
) -> tuple[Linked, ...]:
    return tuple(
        Linked(
            link=link.pk,
            title=title_of(other),
            url=reverse("job", args=[other.key]),
            car=str(other.build or ""),
            condition=condition_of(
                other, planned.get(other.key, {}), held=other.pk in held
            ),
            finish=moment(planned.get(other.key, {}).get("planned_finish")),
            wait=_wait(link),
        )
        for link, other in pairs
    )


def _wait(link: Link) -> str:
    words = [] if link.kind == LinkKind.AFTER else [LinkKind(link.kind).label]
    if link.wait_days:
        words.append(f"and {link.wait_days:g} working days of waiting")
    if link.wait_hours:
        words.append(f"and {link.wait_hours:g} hours of waiting")
    return " ".join(str(word) for word in words)
