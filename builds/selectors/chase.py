"""The chase list: everything promised or asked, and what to ask about it today."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Q, QuerySet
from django.urls import reverse

from builds.charts import wording
from builds.models import Job, Kind, Promise, State, Vendor, VendorReply, Workshop
from builds.selectors.answers import Facts, newest, planned_of
from builds.selectors.chase_words import counts_differ, questions
from builds.selectors.morning_lines import car_of, title_of
from builds.selectors.pieces_out import BEGUN, out_since
from builds.selectors.promises import last_word, slips

AWAY = (Kind.OUTSIDE, Kind.ORDER)
OPEN = (State.OPEN, State.UNDER_WAY)
WEEK = timedelta(days=7)
LITTLE = 0.005
HEADS = {
    "overdue": "Overdue",
    "today": "Due today",
    "week": "Due this week",
    "unanswered": "No date, or no answer",
}


@dataclass(frozen=True, slots=True)
class Gain:
    """What it would do to a show if this were back today."""

    show: str
    now: float
    then: float


@dataclass(frozen=True, slots=True)
class ChaseLine:
    """One thing to ring about."""

    key: str
    title: str
    url: str
    car: str
    whom: str
    vendor: str
    phone: str
    group: str
    state: str
    since: date | None
    due: date | None
    slips: int
    last: str
    ask: tuple[str, ...]
    gain: Gain | None
    can_log: bool

    @property
    def presses(self) -> bool:
        """Say whether it cannot wait."""
        return self.group in ("overdue", "today")


@dataclass(frozen=True, slots=True)
class ChaseGroup:
    """The lines of one heading, those that move a show most first."""

    name: str
    head: str
    lines: tuple[ChaseLine, ...]


@dataclass(frozen=True, slots=True)
class ChasePage:
    """The whole list, and the dates vendors put in that wait for a yes."""

    groups: tuple[ChaseGroup, ...]
    replies: tuple[VendorReply, ...]


def chase_page() -> ChasePage:
    """Give the list as promises stand now; what moves a show is the newest answer's."""
    lines = chase_lines()
    groups = tuple(
        ChaseGroup(name, head, found)
        for name, head in HEADS.items()
        if (found := tuple(one for one in lines if one.group == name))
    )
    return ChasePage(groups, open_replies())


def chase_lines() -> tuple[ChaseLine, ...]:
    """Give every line: the most pressing group first, in it what moves a show most."""
    forecast = newest()
    gains = _gains(forecast.summary if forecast else {})
    today = Workshop.current().clock().date()
    grouped = [(job, group) for job in _jobs() if (group := _group(job, today))]
    planned = planned_of(forecast, [job.key for job, _ in grouped])
    found = [
        _line(job, group, today, planned.get(job.key, {}), gains.get(job.key))
        for job, group in grouped
    ]
    order = list(HEADS)
    found.sort(
        key=lambda line: (
            order.index(line.group),
            -(line.gain.then - line.gain.now) if line.gain else 0.0,
            line.due or date.max,
            line.key,
        )
    )
    return tuple(found)


def chase_of(vendor: Vendor) -> tuple[ChaseLine, ...]:
    """Give the lines about one vendor."""
    return tuple(one for one in chase_lines() if one.vendor == vendor.key)


def open_replies() -> tuple[VendorReply, ...]:
    """Give the dates vendors put in by their link that nobody has decided on."""
    rows = VendorReply.objects.filter(state="open")
    return tuple(rows.select_related("job__build", "link__vendor"))


def _jobs() -> QuerySet[Job]:
    out = BEGUN & Q(kind__in=AWAY)
    asked = Q(kind=Kind.DECISION, state=State.UNDER_WAY)
    jobs = Job.objects.filter(out | asked, state__in=OPEN)
    jobs = jobs.exclude(build__left_out=True)
    return jobs.select_related("build", "vendor").prefetch_related("promises")


def _group(job: Job, today: date) -> str:
    due = job.needed_by if job.kind == Kind.DECISION else job.promised
    if job.kind == Kind.DECISION or due is None:
        return "unanswered"
    if due < today:
        return "overdue"
    if due == today:
        return "today"
    if due <= today + WEEK:
        return "week"
    return "unanswered" if counts_differ(job) else ""


def _line(
    job: Job, group: str, today: date, facts: Facts, gain: Gain | None
) -> ChaseLine:
    said: list[Promise] = list(job.promises.all())
    decision = job.kind == Kind.DECISION
    moved = slips(said)
    return ChaseLine(
        key=job.key,
        title=title_of(job),
        url=reverse("job", args=[job.key]),
        car=car_of(job),
        whom=_whom(job),
        vendor=job.vendor.key if job.vendor else "",
        phone=job.vendor.phone if job.vendor else "",
        group=group,
        state=_state(job, today),
        since=out_since(job),
        due=job.needed_by if decision else job.promised,
        slips=moved,
        last=last_word(said[-1] if said else None),
        ask=questions(job, group, moved, facts.get("in_hand_days")),
        gain=gain,
        can_log=not decision,
    )


def _whom(job: Job) -> str:
    if job.kind == Kind.DECISION:
        return (job.build.customer if job.build else "") or "the customer"
    return job.holder or str(job.vendor or "the supplier")


def _state(job: Job, today: date) -> str:
    if job.kind == Kind.DECISION:
        return "Asked, no answer yet"
    if job.promised is None:
        return "On back-order, no date" if job.back_order else "No date given"
    if job.promised < today:
        late = wording.counted((today - job.promised).days, "day,days")
        return f"Promised {wording.day(job.promised)}, {late} over"
    return f"Promised {wording.day(job.promised)}"


def _gains(answer: Facts) -> Mapping[str, Gain]:
    """Give what each job would move most, if it ended today."""
    found: dict[str, Gain] = {}
    shows = answer.get("shows", {})
    rows: Iterable[Facts] = answer.get("moves_show", ())
    for row in rows:
        if row["gain_probability"] > LITTLE and row["show"] in shows:
            gain = Gain(
                shows[row["show"]]["name"],
                row["probability_now"],
                row["probability_then"],
            )
            found.setdefault(row["job"], gain)
    return found
