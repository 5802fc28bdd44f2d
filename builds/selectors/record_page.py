"""Who changed what and when: of one car or of the whole workshop, newest first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from builds.models import Build, Event, Job, Workshop
from builds.selectors.acts_together import of_car
from builds.selectors.job_history import say_act, titles_of
from builds.selectors.job_words import differences
from builds.selectors.morning_changes import OTHER_VERBS

SHOWN = 100
# Verbs of acts on things other than jobs, as the record says them.
OTHERS = OTHER_VERBS | {
    "took in sheet": "took in a spreadsheet",
    "handed in sheet": "handed in a spreadsheet",
    "replaced plan": "replaced the whole plan by a file",
    "gave sign-in": "gave a sign-in",
    "gave address": "gave out an address",
    "took address back": "took an address back",
}


@dataclass(frozen=True, slots=True)
class Line:
    """One act: who, what was done, to what, what that changed."""

    number: int
    at: datetime
    by: str
    verb: str
    subject: str
    job: str
    changes: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class RecordPage:
    """Some acts, and the number of the last, if there are older ones."""

    build: Build | None
    lines: tuple[Line, ...]
    older: int | None


def record_page(*, build: Build | None, before: int | None) -> RecordPage:
    """Give the acts before one of them, or the newest."""
    events = Event.objects.select_related("by", "job", "undoes")
    if build is not None:
        events = events.filter(of_car(build))
    if before is not None:
        events = events.filter(pk__lt=before)
    found = list(events[: SHOWN + 1])
    shown = found[:SHOWN]
    older = shown[-1].pk if len(found) > SHOWN else None
    return RecordPage(build, tuple(_lines(shown)), older)


def _lines(events: list[Event]) -> Iterable[Line]:
    titles = titles_of(events)
    zone = ZoneInfo(Workshop.current().timezone)
    for event in events:
        job: Job | None = event.job
        by_itself = job is None and event.undoes is None
        yield Line(
            number=event.pk,
            at=event.at.astimezone(zone).replace(tzinfo=None),
            by=str(event.by or "The workshop"),
            verb=OTHERS.get(event.verb, event.verb) if by_itself else say_act(event),
            subject=event.subject,
            job=job.key if job else "",
            changes=differences(
                event.before, event.after, job.kind if job else "bench", titles
            ),
            words=event.words,
        )
