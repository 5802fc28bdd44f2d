"""Who to ring today, and why: promises due or overdue, slots, decisions, counts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from scheduling.conditions import day_words
from scheduling.network import Network, slot_vendor
from scheduling.plan import Job, Vendor
from scheduling.shared_plan import SharedPlan
from scheduling.timeline import PER_DAY, PER_WEEK
from scheduling.work import SENT_KINDS, begun

WEEK = 7
SLOT_AHEAD = 2 * PER_WEEK
ORDER = ("overdue", "today", "count", "no date", "decision", "slot", "this week")


@dataclass(frozen=True, slots=True)
class Call:
    """One call to make."""

    job: str
    build: str | None
    vendor: str | None
    whom: str
    why: str
    due: date | None
    kind: str
    gain_probability: float


def calls_of(
    network: Network, shared: SharedPlan, gains: Mapping[str, float]
) -> list[Call]:
    """Return the calls to make today, those that move a show most first in each kind.

    Parameters
    ----------
    gains : mapping of job id to chance gained if it ended today
    """
    vendors = {vendor.id: vendor for vendor in network.plan.vendors}
    calls = [
        call
        for number, node in enumerate(network.nodes)
        if not node.gone
        for work in node.works
        for call in _calls(work.job, network, shared, number, vendors, gains)
    ]
    calls.sort(
        key=lambda call: (ORDER.index(call.kind), -call.gain_probability, call.job)
    )
    return calls


def _calls(
    job: Job,
    network: Network,
    shared: SharedPlan,
    number: int,
    vendors: Mapping[str, Vendor],
    gains: Mapping[str, float],
) -> Iterator[Call]:
    vendor = vendors.get(job.vendor or "")
    whom = job.holder or (vendor.name or vendor.id if vendor else "the supplier")
    found: Iterable[tuple[str, str, date | None]] = ()
    if begun(job) and job.kind in SENT_KINDS:
        found = _away(job, network.plan.now.date())
    elif begun(job) and job.kind == "decision":
        builds = {build.id: build for build in network.plan.builds}
        build = builds.get(job.build or "")
        whom = (build.customer if build else "") or "the customer"
        found = [("decision", _asked(job), job.needed_by)]
    elif slot_vendor(network, network.nodes[number]):
        found = _slot(network, shared.start[number])
    for kind, why, due in found:
        yield Call(
            job.id, job.build, job.vendor, whom, why, due, kind, gains.get(job.id, 0.0)
        )


def _away(job: Job, today: date) -> Iterator[tuple[str, str, date | None]]:
    noted = job.pieces_noted
    if noted is not None and job.pieces is not None and noted != job.pieces:
        yield (
            "count",
            f"{job.pieces} pieces went out, their note says {noted}.",
            job.promised,
        )
    if job.promised is None:
        out = f"Out since {job.sent.day} {job.sent:%b}, no" if job.sent else "No"
        yield "no date", f"{out} date promised.", None
    elif job.promised < today:
        late = (today - job.promised).days
        word = "day" if late == 1 else "days"
        yield (
            "overdue",
            f"Promised {_day(job.promised)}, {late} {word} over.",
            job.promised,
        )
    elif job.promised == today:
        yield "today", "Promised for today.", job.promised
    elif job.promised <= today + timedelta(days=WEEK):
        yield "this week", f"Promised for {_day(job.promised)}.", job.promised


def _slot(network: Network, start: float) -> Iterator[tuple[str, str, date | None]]:
    if start - network.now <= SLOT_AHEAD:
        moment = network.clocks.timeline.moment(start // PER_DAY * PER_DAY)
        yield "slot", f"Slot on {day_words(moment)}: confirm it.", moment.date()


def _asked(job: Job) -> str:
    if job.started is None:
        return "No answer yet."
    return f"Asked on {_day(job.started.date())}, no answer yet."


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"
