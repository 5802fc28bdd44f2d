"""The figures behind a job's date, each with what it means."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from builds.charts import wording
from builds.models import Job
from builds.selectors.answers import Facts

LONG = 10.0


@dataclass(frozen=True, slots=True)
class Number:
    """One figure, and one plain sentence about it."""

    name: str
    value: str
    meaning: str


def numbers(facts: Facts, titles: Mapping[str, str]) -> tuple[Number, ...]:
    """Give the figures of an open job; a job without dates has none."""
    if not facts.get("planned_finish") or facts.get("condition") == "done":
        return ()
    return (
        *_room(facts),
        *_held(facts, titles),
        *_chances(facts),
        *_driver(facts, titles),
    )


def keys_named(facts: Facts) -> set[str]:
    """Give the jobs the figures speak of."""
    driver = facts.get("driven_by")
    return {*facts.get("frees", ()), *([driver] if driver else [])}


def title_of(job: Job) -> str:
    """Give what people call a job."""
    return job.title or job.key


def _room(facts: Facts) -> Iterator[Number]:
    if facts.get("in_hand_days") is not None:
        yield Number(
            "In hand",
            wording.in_hand(facts["in_hand_days"]),
            "How many working days it can end later before the show is missed, if all "
            "else takes its usual time. Only the order of jobs counts here, not people "
            "and places.",
        )
    if facts.get("total_float_hours") is not None:
        yield Number(
            "Float",
            f"{_amount(facts['total_float_hours'])} in all, "
            f"{_amount(facts.get('free_float_hours') or 0.0)} before the next job",
            "How long it can slip before the last job of the plan ends later, and "
            "before it pushes the next job, in the working time of whoever does it.",
        )


def _held(facts: Facts, titles: Mapping[str, str]) -> Iterator[Number]:
    holds = facts.get("holds", 0)
    yield Number(
        "Holds up",
        f"{wording.counted(holds, 'job,jobs')}, "
        f"{_amount(facts.get('held_hours', 0.0))} of work"
        if holds
        else "nothing",
        "Every open job that comes after it, near or far, and the work in them.",
    )
    if not holds:
        return
    yield Number(
        "Waits for this alone",
        wording.counted(facts["only_this"], "job,jobs")
        if facts.get("only_this")
        else "none",
        "These have no other way forward: whatever else gets done, this job stands "
        "before them.",
    )
    freed = [titles.get(key, key) for key in facts.get("frees", ())]
    yield Number(
        "Frees",
        _named(freed) or "nothing by itself",
        "What becomes clear the moment this is finished.",
    )


def _chances(facts: Facts) -> Iterator[Number]:
    if facts.get("criticality") is not None:
        yield Number(
            "Drives the date",
            wording.in_100(facts["criticality"]),
            "Of 100 ways the work may go, in so many this job sets the date: a day "
            "lost here is a day lost at the end.",
        )
    if facts.get("p50") and facts.get("p80"):
        yield Number(
            "Likely end",
            f"even chance by {wording.day_year(facts['p50'])}, "
            f"80 in 100 by {wording.day_year(facts['p80'])}",
            "One time in two it is finished by the first date; four times in five by "
            "the second. Promise the second.",
        )


def _driver(facts: Facts, titles: Mapping[str, str]) -> Iterator[Number]:
    driver = facts.get("driven_by")
    if driver:
        yield Number(
            "Held longest by",
            titles.get(driver, driver),
            "Of all that comes first, this ends last.",
        )


def _amount(hours: float) -> str:
    """Say a length; minutes no longer count in a long one."""
    if round(hours, 1) == 0:
        return "nothing"
    return wording.hours(hours if hours < LONG else round(hours))


def _named(titles: list[str], most: int = 4) -> str:
    shown = ", ".join(titles[:most])
    more = len(titles) - most
    return f"{shown} and {more} more" if more > 0 else shown
