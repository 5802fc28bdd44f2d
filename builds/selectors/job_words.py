"""A job's stored figures and acts in the words of the trade."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from builds.charts import wording
from builds.models import Job, Kind, LinkKind, Reading

NAMES = {
    "title": "what is to be done",
    "low": "the quicker figure",
    "likely": "the likely figure",
    "high": "the longer figure",
    "fixed": "exactly the likely time",
    "trade_level": "trade level",
    "people": "people together",
    "person": "who",
    "level": "needed to be",
    "area": "part of the car",
    "slot": "needs a slot",
    "commitment": "cannot be undone",
    "unbroken": "may not pause",
    "safety": "safety job",
    "remaining": "left to do",
    "not_before": "not before",
    "needed_by": "wanted by",
    "promised": "promised for",
    "given": "date given on",
    "pieces_back": "pieces back",
    "holder": "the parts are with",
    "signed": "signed for by",
    "pieces_noted": "pieces on their note",
    "rework_chance": "chance it does not pass",
    "found": "found work",
    "snag": "fault found in checking",
    "choice": "chosen",
    "quoted_days": "the vendor’s working days quoted",
    "actual_days": "the vendor’s working days taken",
    "before": "comes first",
    "link": "it waits",
    "wait_days": "working days of waiting",
    "wait_hours": "hours of waiting",
    "build": "car",
    "reason": "how it was left",
    "asked": "what was asked",
    "speaker": "who said it",
    "waited_days": "of those, before they could start",
    "could_start": "they could start on",
    "acknowledged": "order acknowledged on",
    "back_order": "on back-order",
    "pieces_wrong": "pieces that came wrong",
    "robbed_for": "robbed for",
    "way": "way chosen",
    "kilos": "kilograms",
    "visible": "seen side by side",
}
LENGTHS = ("low", "likely", "high", "remaining")
# For the way back; the pages of the pieces say the same in words.
UNSAID = ("piece_rows", "rows_were", "made", "consignment")
Facts = Mapping[str, Any]
Titles = Mapping[tuple[str, str], str]  # what people call (sort of row, key)
ROWS = ("person", "vendor", "build", "before", "robbed_for")


def length(amount: float, kind: str) -> str:
    """Say a stored length in the unit of a kind of job."""
    if kind in (Kind.OUTSIDE, Kind.ORDER):
        return f"{wording.days(amount)} of the vendor’s"
    if kind == Kind.DECISION:
        return wording.counted(round(amount, 1), "day,days")
    return wording.hours(amount) + (" standing" if kind == Kind.STAND else " of work")


def estimate(job: Job, reading: str) -> tuple[str, ...]:
    """Say how long a job takes and what its low and high mean, a sentence each."""
    if job.likely is None:
        return ("A moment: it takes no time.",) if job.kind == Kind.MARK else ()
    likely = f"Most likely {length(job.likely, job.kind)}."
    if job.fixed:
        return (likely, "Exactly that: it is neither quicker nor longer.")
    if job.low is None or job.high is None:
        if reading == Reading.ENDS:
            return (likely, "Only a likely figure: it is taken as exact.")
        return (
            likely,
            "Only a likely figure: the spread usual for this kind is used.",
        )
    low, high = length(job.low, job.kind), length(job.high, job.kind)
    if reading == Reading.ENDS:
        return (likely, f"Never under {low}.", f"Never over {high}.")
    return (
        likely,
        f"One time in ten it is quicker than {low}.",
        f"One time in ten it is longer than {high}.",
    )


def differences(
    before: Mapping[str, Any],
    after: Mapping[str, Any],
    kind: str,
    titles: Titles,
) -> tuple[str, ...]:
    """Say what an act changed: `likely figure: from 2 h to 3 h`."""
    lines = []
    for name in dict.fromkeys((*after, *before)):
        if name in UNSAID:
            continue
        if name == "jobs" and isinstance(after.get(name), Mapping):
            lines += _of_each(before.get(name) or {}, after[name], titles)
            continue
        words = NAMES.get(name, name.replace("_", " "))
        new = _said(name, after.get(name), kind, titles)
        if name in before and name in after:
            old = _said(name, before[name], kind, titles)
            lines.append(f"{words}: from {old} to {new}")
        elif name in after:
            lines.append(f"{words}: {new}")
        else:
            lines.append(
                f"{words}, taken away: {_said(name, before[name], kind, titles)}"
            )
    return tuple(line[:1].upper() + line[1:] for line in lines)


def _of_each(before: Facts, after: Facts, titles: Titles) -> list[str]:
    """Say of every job that travelled with others what that changed."""
    return [
        f"{titles.get(('jobs', key), key)}: {line[:1].lower()}{line[1:]}"
        for key, facts in after.items()
        for line in differences(before.get(key, {}), facts, Kind.OUTSIDE, titles)
    ]


def _said(name: str, value: Any, kind: str, titles: Titles) -> str:
    if value is None or value == "" or value == {}:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if name in LENGTHS:
        return length(value, kind)
    if name == "rework_chance":
        return wording.in_100(value)
    if isinstance(value, int | float):
        return f"{value:g}"
    return _text(name, value, titles)


def _text(name: str, value: Any, titles: Titles) -> str:
    if isinstance(value, Mapping):
        return ", ".join(
            f"{titles.get((name, key), key)} ({uses})" for key, uses in value.items()
        )
    if isinstance(value, list):
        return ", ".join(titles.get((name, str(key)), str(key)) for key in value)
    if name in ROWS:
        return titles.get((name, value), str(value))
    if name == "link" and value in LinkKind.values:
        return str(LinkKind(value).label)
    return _when(str(value))


def _when(text: str) -> str:
    try:
        return wording.moment(text if "T" not in text else datetime.fromisoformat(text))
    except ValueError:
        return text
