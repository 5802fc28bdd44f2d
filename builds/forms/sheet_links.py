"""What a job of a sheet waits for, and the places it takes up, from one cell each.

`Strip shell; with Blast shell; Prime + 2d`: names or ids of jobs, `with` or `by`
before them, and a wait behind.
"""

from __future__ import annotations

import re

from builds.actions.sheet_rows import LinkAsked
from builds.forms.lengths import read_length
from builds.forms.sheet_fields import split
from builds.models import Job, LinkKind, Place
from builds.selectors.sheet_cells import Known

KIND = re.compile(r"(after|with|by)[: ]\s*(.+)", re.IGNORECASE)
WAIT = re.compile(r"(.+?)\s*\+\s*([^+]+)")
USES = re.compile(r"(.+?)\s+x\s*([0-9]{1,4})", re.IGNORECASE)
SEPARATOR = re.compile("[;\n]")
COMMA = re.compile(",")
WEEK = 5
NO_JOB = "There is no job called “{0}”, neither here nor in the plan."
ITSELF = "A job cannot wait for itself."


def read_links(cell: str, job: Job, known: Known) -> list[LinkAsked]:
    """Read what a job waits for; raises ValueError."""
    car = job.build.key if job.build else ""
    links = _links(cell, car, known)
    for link in links:
        if link.before is job:
            raise ValueError(ITSELF)
    if len({(link.before.key, link.kind) for link in links}) < len(links):
        raise ValueError("One job is named twice.")
    return links


def read_places(cell: str) -> list[tuple[str, int]]:
    """Read `Ramp; Booth x2`: names of places and how much is taken up of each."""
    found: dict[str, int] = {}
    for part in split(cell, commas=True):
        match = USES.fullmatch(part)
        name, uses = (match[1], int(match[2])) if match else (part, 1)
        if name in found:
            raise ValueError(f"“{name}” is there twice.")
        if not uses:
            raise ValueError(f"“{part}”: nothing of a place is not a place.")
        found[name] = uses
    return list(found.items())


def links_of(job: Job) -> list[LinkAsked]:
    """Give what a job waits for now."""
    return [
        LinkAsked(one.before, one.kind, one.wait_days, one.wait_hours)
        for one in job.links.all()
    ]


def uses_of(job: Job) -> list[tuple[Place, int]]:
    """Give the places a job takes up now."""
    return [(use.place, use.uses) for use in job.place_uses.all()]


def _links(cell: str, car: str, known: Known) -> list[LinkAsked]:
    """Read the parts one by one, each as long as it can be: names hold semicolons."""
    marks = SEPARATOR if SEPARATOR.search(cell) else COMMA
    cuts = [mark.span() for mark in marks.finditer(cell)]
    ends = [(len(cell), len(cell)), *reversed(cuts)]
    links, at = [], 0
    while at < len(cell):
        spans = [(cell[at:end].strip(), after) for end, after in ends if end >= at]
        whole = next((one for one in spans if _known(one[0], car, known)), spans[-1])
        if whole[0]:
            links.append(_link(whole[0], car, known))
        at = max(whole[1], at + 1)
    return links


def _known(part: str, car: str, known: Known) -> bool:
    try:
        return bool(part) and bool(_link(part, car, known))
    except ValueError:
        return False


def _link(part: str, car: str, known: Known) -> LinkAsked:
    """Read one; the whole of it may be a name, with a plus or a “by” in it."""
    whole = _found(known, part, car)
    if whole is not None:
        return LinkAsked(whole, LinkKind.AFTER)
    kind, name = LinkKind.AFTER.value, part
    match = KIND.fullmatch(part)
    if match:
        kind, name = match[1].casefold(), match[2]
    days = hours = 0.0
    match = WAIT.fullmatch(name)
    if match and _found(known, name, car) is None:
        name, length = match[1], read_length(match[2])
        days, hours = length.weeks * WEEK + length.days + length.number, length.hours
    before = _found(known, name, car)
    if before is None:
        raise ValueError(NO_JOB.format(name))
    return LinkAsked(before, kind, days, hours)


def _found(known: Known, name: str, car: str) -> Job | None:
    return known.jobs.find(name, car)
