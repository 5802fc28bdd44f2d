"""What the plan holds, as the words of a sheet's cells.

Whatever stands here is read back as the same: `builds/forms/sheet_plan.py` takes a
cell that has not changed as nothing to do.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from builds.models import Build, Job, Kind, Link, Person, Place, Vendor
from builds.selectors.sheet_names import Names

DAYS = (Kind.OUTSIDE, Kind.ORDER, Kind.DECISION)


@dataclass(frozen=True, slots=True)
class Known:
    """Everything of the plan that a cell can name."""

    builds: Names[Build]
    places: Names[Place]
    people: Names[Person]
    vendors: Names[Vendor]
    jobs: Names[Job]


def read_known() -> Known:
    """Read everything that a cell can name, with what hangs on it."""
    jobs = Job.objects.select_related("build", "person", "vendor").prefetch_related(
        "links__before", "place_uses__place"
    )
    people = Person.objects.select_related("calendar")
    vendors = Vendor.objects.select_related("calendar")
    return Known(
        Names(Build.objects.all()),
        Names(Place.objects.all()),
        Names(people.prefetch_related("trades", "away")),
        Names(vendors.prefetch_related("closed")),
        Names(jobs),
    )


def job_cells(job: Job, known: Known) -> dict[str, str]:
    """Give a job's cells by the names of their columns."""
    return {
        "id": job.key,
        "build": known.builds.say(job.build),
        "title": job.title,
        "kind": job.kind,
        "low": length(job.low, job.kind),
        "likely": length(job.likely, job.kind),
        "high": length(job.high, job.kind),
        "fixed": yes(job.fixed),
        "after": "; ".join(_link(link) for link in job.links.all()),
        "trade": job.trade or "",
        "trade_level": number(job.trade_level),
        "people": str(job.people),
        "person": known.people.say(job.person),
        "places": "; ".join(
            known.places.say(use.place) + (f" x{use.uses}" if use.uses != 1 else "")
            for use in job.place_uses.all()
        ),
        "level": job.level or "",
        "phase": job.phase,
        "area": job.area,
        "vendor": known.vendors.say(job.vendor),
        "slot": yes(job.slot),
        "pieces": number(job.pieces),
        "process": job.process,
        "colour": job.colour,
        "alloy": job.alloy,
        "kilos": number(job.kilos),
        "visible": yes(job.visible),
        "value": number(job.value),
        "commitment": yes(job.commitment),
        "unbroken": yes(job.unbroken),
        "safety": yes(job.safety),
        "not_before": moment(job.not_before),
        "needed_by": moment(job.needed_by),
        "rework_chance": number(job.rework_chance * 100 or None),
        "found": job.found,
        "snag": yes(job.snag),
        "state": job.state,
        "started": moment(job.started),
        "finished": moment(job.finished),
        "remaining": length(job.remaining, job.kind),
        "sent": moment(job.sent),
        "promised": moment(job.promised),
        "pieces_back": number(job.pieces_back or None),
        "pieces_noted": number(job.pieces_noted),
        "holder": job.holder,
        "note": job.note,
    }


def person_cells(person: Person) -> dict[str, str]:
    """Give a person's cells."""
    trades = []
    for one in person.trades.all():
        level = f" {one.level}" if one.level is not None else ""
        pace = f" pace {number(one.pace)}" if one.pace is not None else ""
        trades.append(f"{one.trade}{level}{pace}")
    return {
        "id": person.key,
        "name": person.name,
        "trades": "; ".join(trades),
        "calendar": person.calendar.key if person.calendar else "",
        "away": spans([(one.first, one.last) for one in person.away.all()]),
        "left_out": yes(person.left_out),
        "note": person.note,
    }


def vendor_cells(vendor: Vendor) -> dict[str, str]:
    """Give a vendor's cells."""
    return {
        "id": vendor.key,
        "name": vendor.name,
        "does": vendor.does,
        "phone": vendor.phone,
        "calendar": vendor.calendar.key if vendor.calendar else "",
        "minimum_charge": number(vendor.minimum_charge),
        "slot_every": number(vendor.slot_every),
        "slot_from": moment(vendor.slot_from),
        "reject_chance": number(vendor.reject_chance * 100 or None),
        "closed": spans([(one.first, one.last) for one in vendor.closed.all()]),
        "left_out": yes(vendor.left_out),
        "note": vendor.note,
    }


def yes(flag: bool) -> str:
    """Say yes, or nothing."""
    return "yes" if flag else "no"


def number(value: float | None) -> str:
    """Write a number with all its figures, or nothing."""
    if value is None:
        return ""
    whole = float(value).is_integer()
    return str(int(value)) if whole else repr(round(value, 10))


def moment(value: date | None) -> str:
    """Write a day, and its time if it has one."""
    if isinstance(value, datetime):
        return value.strftime("%Y-%m-%d %H:%M")
    return value.isoformat() if value else ""


def length(amount: float | None, kind: str) -> str:
    """Write a length of work as 2h30 or 3d; a bare number where neither is exact."""
    if amount is None:
        return ""
    if kind in DAYS:
        return f"{number(amount)}d"
    minutes = round(amount * 60)
    if round(minutes / 60, 4) != amount:
        return repr(amount)
    hours, rest = divmod(minutes, 60)
    return f"{hours}h{rest:02}" if rest else f"{hours}h"


def spans(days: list[tuple[date, date]]) -> str:
    """Write days away or shut: one day, or the first to the last."""
    return "; ".join(
        str(first) if first == last else f"{first} to {last}" for first, last in days
    )


def _link(link: Link) -> str:
    kind = "" if link.kind == "after" else f"{link.kind} "
    days = f"{number(link.wait_days)}d" if link.wait_days else ""
    hours = f"{number(link.wait_hours)}h" if link.wait_hours else ""
    wait = f" + {days}{hours}" if days or hours else ""
    return f"{kind}{link.before.key}{wait}"
