"""The condition of a job, derived and never typed, with its reasons in words."""

from __future__ import annotations

from calendar import month_abbr
from dataclasses import dataclass
from datetime import datetime
from functools import cache

from scheduling.network import Network
from scheduling.plan import Job, Person
from scheduling.timeline import PER_DAY, PER_HOUR
from scheduling.work import HAND_KINDS, SENT_KINDS, begun

CONDITIONS = (
    "waiting",
    "clear",
    "under way",
    "away",
    "back, to check",
    "part back",
    "done",
    "left out",
)


@dataclass(frozen=True, slots=True)
class Condition:
    """A word, the reasons for it, and the open jobs it waits for."""

    word: str
    reasons: tuple[str, ...] = ()
    waits_for: tuple[str, ...] = ()


def day_words(moment: datetime) -> str:
    """Return a date as people say it: 29 Jan."""
    return f"{moment.day} {_month(moment.month)}"


@cache
def _month(number: int) -> str:
    return month_abbr[number]  # written anew each time it is asked for


def condition_of(
    job: Job, network: Network, expected: dict[str, datetime | None]
) -> Condition:
    """Return the condition of a job at the status moment.

    Parameters
    ----------
    job : Job
    network : Network
    expected : dict
        When each open job is finished with an even chance.
    """
    if job.state in ("done", "left out"):
        return Condition(job.state)
    if begun(job):
        return _begun(job, expected)
    waits_for, reasons = _links(job, network, expected)
    reasons += _partners(job, network, waits_for)
    reasons += _own(job, network)
    return Condition(
        "waiting" if reasons else "clear", tuple(reasons), tuple(waits_for)
    )


def _begun(job: Job, expected: dict[str, datetime | None]) -> Condition:
    if job.kind not in SENT_KINDS:
        reasons = ("The customer has not chosen.",) if job.kind == "decision" else ()
        return Condition("under way", reasons)
    if job.pieces and job.pieces_back >= job.pieces:
        return Condition("back, to check", ("All counted in; not yet checked.",))
    reason = _away_words(job, expected.get(job.id))
    if job.pieces_back:
        return Condition(
            "part back", (f"{job.pieces_back} of {job.pieces} counted in.", reason)
        )
    return Condition("away", (reason,))


def _away_words(job: Job, when: datetime | None) -> str:
    if job.promised:
        return f"Promised for {day_words(datetime(*job.promised.timetuple()[:3]))}."
    return (
        f"No date given; expected about {day_words(when)}."
        if when
        else "No date given."
    )


def _links(
    job: Job, network: Network, expected: dict[str, datetime | None]
) -> tuple[list[str], list[str]]:
    waits_for: list[str] = []
    reasons: list[str] = []
    for link in job.after:
        before = network.jobs[link.job]
        if before.state == "left out" or link.kind == "by":
            continue
        if link.kind == "with" and begun(before):
            continue
        if before.state != "done":
            waits_for.append(before.id)
            reasons.append(_waits_words(before, network, expected.get(before.id)))
    node = network.nodes[network.index[job.id]]
    if not reasons and node.release > network.now and job.not_before is None:
        reasons.append(f"Standing until {_moment_words(network, node.release)}.")
    if not reasons and job.commitment:
        checks = _open_checks(job, network)
        waits_for += checks
        reasons += [
            f"{_title(network.jobs[one])} has not been passed." for one in checks
        ]
    return waits_for, reasons


def _open_checks(job: Job, network: Network) -> list[str]:
    here = network.index[job.id]
    return [
        work.job.id
        for number in sorted(network.ancestors([here]) - {here})
        for work in network.nodes[number].works
        if work.job.kind == "check" and not network.nodes[number].gone
    ]


def _title(job: Job) -> str:
    return job.title or job.id


def _waits_words(before: Job, network: Network, when: datetime | None) -> str:
    if before.kind == "decision":
        return f"The customer has not chosen: {_title(before)}."
    words = f"Waits for {_title(before)}"
    holder = _holder(before, network)
    if holder:
        words += f", with {holder}"
    return f"{words}, expected {day_words(when)}." if when else f"{words}."


def _holder(job: Job, network: Network) -> str:
    if begun(job) and job.kind in SENT_KINDS:
        names = {vendor.id: vendor.name for vendor in network.plan.vendors}
        return job.holder or names.get(job.vendor or "", "") or (job.vendor or "")
    if job.person:
        names = {person.id: person.name for person in network.plan.people}
        return names.get(job.person) or job.person
    return ""


def _partners(job: Job, network: Network, waits_for: list[str]) -> list[str]:
    """Return what keeps a consignment from leaving: its other pieces."""
    node = network.nodes[network.index[job.id]]
    found = []
    for work in node.works:
        late = [
            link.job
            for link in work.job.after
            if network.jobs[link.job].state in ("open", "under way")
            and link.kind != "by"
        ]
        if work.job.id != job.id and late:
            waits_for.extend(one for one in late if one not in waits_for)
            found.append(f"Leaves together with {_title(work.job)}, not ready yet.")
    return found


def _own(job: Job, network: Network) -> list[str]:
    reasons = []
    node = network.nodes[network.index[job.id]]
    if job.not_before and node.release > network.now:
        reasons.append(f"Not before {day_words(job.not_before)}.")
    if job.kind == "outside" and job.vendor:
        reasons += _vendor_reasons(job, network)
    if job.kind in HAND_KINDS:
        reasons += _hands_reasons(job, network)
        reasons += _place_reasons(job, network)
    return reasons


def _vendor_reasons(job: Job, network: Network) -> list[str]:
    vendor = next(one for one in network.plan.vendors if one.id == job.vendor)
    today = network.plan.now.date()
    name = vendor.name or vendor.id
    reasons = [
        f"{name} is closed until {day_words(datetime(*span.last.timetuple()[:3]))}."
        for span in vendor.closed
        if span.first <= today <= span.last
    ]
    days = network.slots.get(vendor.id, ()) if job.slot else ()
    here = int(network.now // PER_DAY)
    coming = [day for day in days if day >= here]
    if coming and coming[0] > here:
        slot = _moment_words(network, coming[0] * PER_DAY)
        reasons.append(f"{name}'s next slot is {slot}.")
    return reasons


def _hands_reasons(job: Job, network: Network) -> list[str]:
    work = network.nodes[network.index[job.id]].work
    if not work.teams:
        return [f"Nobody here can do it ({job.trade})."] if job.trade else []
    today = network.plan.now.date()
    people = {person.id: person for person in network.plan.people}

    def away(person: Person) -> bool:
        return any(span.first <= today <= span.last for span in person.away)

    if any(not any(away(people[one]) for one in team) for team in work.teams):
        return []
    names = sorted({people[team[0]].name or team[0] for team in work.teams})
    return [f"{' and '.join(names)} away."]


def _place_reasons(job: Job, network: Network) -> list[str]:
    reasons = []
    for use in job.places:
        place = next(one for one in network.plan.places if one.id == use.place)
        if network.in_use[use.place] + use.uses > place.capacity:
            reasons.append(f"{place.name or place.id} is full.")
    return reasons


def _moment_words(network: Network, quarter: float) -> str:
    moment = network.clocks.timeline.moment(quarter)
    at = f" {moment:%H:%M}" if quarter % PER_DAY >= PER_HOUR / 4 else ""
    return day_words(moment) + at
