"""Take back the last act on a job, while nothing newer has touched what it touched.

What is taken back is found by the Event: its `before` is put back if the rows still
hold its `after`. The same rules hold as for the act that would bring it about.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models, transaction

from builds.actions.errors import NotReady, Refused
from builds.actions.jobs import check_may_leave_out, put_in_places
from builds.actions.links import check_no_ring
from builds.actions.ready import check_may_begin, check_may_end, started_after
from builds.actions.record import change, plain, record
from builds.actions.undo_together import put_rows_back, uncount
from builds.actions.work import locked
from builds.models import Event, Job, Link, LinkKind, PastReturn, Place, State, User
from builds.selectors.last_act import STAYS, act_to_undo, last_act

CHANGED = "Somebody has changed “{job}” since. Take that back first."
GONE = "Not everything it was before is still there, so it cannot be put back."


@transaction.atomic
def undo_act(*, by: User, event: Event) -> Job:
    """Put a job back as it was before its last act; that is an act of its own."""
    if event.job is None:
        raise Refused("That was not done to a job, so it cannot be taken back here.")
    job = locked(event.job)
    _check_may_undo(by, event, job)
    put_back = PUT_BACK.get(event.verb, _put_fields_back)
    before, after = put_back(by, job, event)
    record(
        by=by,
        verb="took back",
        subject=job,
        job=job,
        before=before,
        after=after,
        undoes=event,
    )
    return job


def _check_may_undo(by: User, event: Event, job: Job) -> None:
    if Event.objects.filter(undoes=event).exists():
        raise Refused("That is taken back already.")
    if event.verb in STAYS:
        raise Refused(STAYS[event.verb])
    if last_act(job) != event:
        raise Refused(CHANGED.format(job=job))
    if act_to_undo(by, job) is None:
        raise Refused(f"{event.by or 'The workshop'} did that. Ask them or the lead.")
    if Event.objects.filter(pk__gt=event.pk, verb="replaced plan").exists():
        raise Refused("The whole plan was replaced since, so it cannot be taken back.")


Facts = tuple[Mapping[str, Any], Mapping[str, Any]]


def _put_fields_back(by: User, job: Job, event: Event) -> Facts:
    was = {name: _value(name, value) for name, value in event.before.items()}
    now = plain({name: getattr(job, name) for name in was})
    if any(now[name] != event.after[name] for name in was):
        raise Refused(CHANGED.format(job=job))
    _check_state(job, was.get("state", job.state))
    put_rows_back(by, event.after.get("rows_were", {}))
    return change(job, was)


def _book_out(by: User, job: Job, event: Event) -> Facts:
    """Undo a return: what it told about the vendor goes too."""
    facts = _put_fields_back(by, job, event)
    kept = PastReturn.objects.filter(
        vendor=job.vendor,
        quoted_days=event.after.get("quoted_days"),
        actual_days=event.after.get("actual_days"),
    ).last()
    if kept is not None:
        kept.delete()
    return facts


def _take_link_away(_by: User, job: Job, event: Event) -> Facts:
    link = job.links.filter(**_link(event.after)).first()
    if link is None:
        raise Refused(CHANGED.format(job=job))
    link.delete()
    return event.after, {}


def _put_link_back(_by: User, job: Job, event: Event) -> Facts:
    facts = _link(event.before)
    before = Job.objects.filter(key=facts["before__key"]).first()
    if before is None:
        raise Refused(GONE)
    del facts["before__key"]
    check_no_ring(job, before, facts["kind"])
    Link.objects.create(job=job, before=before, **facts)
    return {}, event.before


def _put_places_back(_by: User, job: Job, event: Event) -> Facts:
    now = {use.place.key: use.uses for use in job.place_uses.select_related("place")}
    if now != event.after["places"]:
        raise Refused(CHANGED.format(job=job))
    wanted = event.before["places"]
    places = Place.objects.in_bulk(wanted, field_name="key")
    if len(places) < len(wanted):
        raise Refused(GONE)
    change(job, {})
    job.place_uses.all().delete()
    put_in_places(job, [(places[key], uses) for key, uses in wanted.items()])
    return event.after, event.before


PUT_BACK: dict[str, Callable[[User, Job, Event], Facts]] = {
    "added link": _take_link_away,
    "removed link": _put_link_back,
    "moved job": _put_places_back,
    "booked back": _book_out,
    "counted in": uncount,
}


def _link(facts: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "before__key": facts["before"],
        "kind": facts["link"],
        "wait_days": facts["wait_days"],
        "wait_hours": facts["wait_hours"],
    }


def _value(name: str, value: Any) -> Any:
    """Turn what an Event holds into what the row holds."""
    field = Job._meta.get_field(name)
    if isinstance(field, models.ForeignKey):
        rows = field.related_model._default_manager.filter(key=value)
        found = None if value is None else rows.first()
        if value is not None and found is None:
            raise Refused(GONE)
        return found
    assert isinstance(field, models.Field)
    try:
        return field.to_python(value)
    except ValidationError as error:
        raise Refused(GONE) from error


def _check_state(job: Job, state: str) -> None:
    """Refuse to go back to where the job could not be brought now."""
    if state == job.state:
        return
    kinds = [LinkKind.AFTER] if job.state == State.DONE else []
    kinds += [LinkKind.WITH] if state == State.OPEN else []
    later = started_after(job, kinds)
    if later and job.state != State.LEFT_OUT:
        words = f"“{later[0]}” has begun on top of it. Take that back first."
        raise NotReady(words, [one.key for one in later])
    if state == State.LEFT_OUT:
        check_may_leave_out(job)
    if state in (State.UNDER_WAY, State.DONE) and job.state == State.OPEN:
        check_may_begin(job)
    if state == State.DONE:
        check_may_end(job)
