"""What every page of the records does: try the act, say what came of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Protocol, TypeVar, cast
from urllib.parse import urlencode

from django.contrib import messages
from django.forms import BaseFormSet
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse

from builds.actions.errors import Conflict, PlanRefused, Refused
from builds.forms.record import RecordForm
from builds.models import Event, Job, User
from builds.models.keyed import Keyed
from builds.selectors.last_act import act_to_undo

Made = TypeVar("Made")
Faults = tuple[Mapping[str, str], ...]


class Clashing(Protocol):
    """A form that can show two people's changes side by side."""

    def show_conflict(self, conflict: Conflict) -> None:
        """Keep what was typed, beside what the other person wrote."""


def who(request: HttpRequest) -> User:
    """Give who is signed in; the gate has seen to it that somebody is."""
    return cast(User, request.user)


def posted(request: HttpRequest) -> QueryDict | None:
    """Give what was sent; an undo sends it in the address."""
    if request.method != "POST":
        return None
    data = request.GET.copy()
    for name, values in request.POST.lists():
        data.setlist(name, cast(list[str | bytes], values))
    return data


def attempt(form: RecordForm, act: Callable[[], Made]) -> Made | None:
    """Do it if the form is sound; otherwise say on the form why not."""
    if not form.is_bound or not form.is_valid():
        return None
    try:
        return act()
    except Conflict as conflict:
        cast(Clashing, form).show_conflict(conflict)
    except Refused as refused:
        for words in reasons(refused):
            form.add_error(None, words)
    return None


def attempt_all(forms: BaseFormSet[Any], act: Callable[[], Made]) -> Made | None:
    """Do it if all the forms are sound; otherwise say above them why not."""
    if not forms.is_valid():
        return None
    try:
        return act()
    except Conflict as conflict:
        cast(Clashing, forms).show_conflict(conflict)
    except Refused as refused:
        forms.non_form_errors().extend(reasons(refused))
    return None


def attempt_plan(form: RecordForm, act: Callable[[], None]) -> Faults:
    """Do it if the form is sound; give what is wrong with the plan, place by place."""
    if not form.is_bound or not form.is_valid():
        return ()
    try:
        act()
    except PlanRefused as refused:
        return refused.faults
    return ()


def reasons(refused: Refused) -> list[str]:
    """Give why something was not done, a sentence or two for each fault."""
    if isinstance(refused, PlanRefused):
        return str(refused).split("\n")
    return [refused.words]


def show(
    request: HttpRequest,
    template: str,
    form: RecordForm | None = None,
    /,
    *,
    wrong: RecordForm | BaseFormSet[Any] | None = None,
    **context: Any,
) -> HttpResponse:
    """Render a page: 409 for a clash, 422 for a form that was not sound.

    `wrong` is the form that was sent, if it is not the main one of the page.
    """
    sent = wrong or form
    bad = bool(sent is not None and sent.is_bound)
    status = 409 if getattr(sent, "conflict", False) else 422 if bad else 200
    context |= {"form": form, "wrong": sent if bad else None}
    return render(request, f"records/{template}", context, status=status)


def done(
    request: HttpRequest, words: str, target: str, *keys: object, undo: str = ""
) -> HttpResponse:
    """Say that it is done, with the address that takes it back, and go on."""
    messages.success(request, words, extra_tags=f"undo:{undo}" if undo else "")
    return redirect(target, *keys)


def press(
    request: HttpRequest,
    act: Callable[[], object],
    words: str,
    target: str,
    *keys: object,
    undo: str = "",
) -> HttpResponse:
    """Do what a single button asks, say what came of it, and go on."""
    try:
        act()
    except Refused as refused:
        messages.error(request, refused.words)
        return redirect(target, *keys)
    return done(request, words, target, *keys, undo=undo)


def turn(
    request: HttpRequest,
    act: Callable[..., object],
    words: str,
    page: str,
    back: str,
    **row: Keyed,
) -> HttpResponse:
    """Turn something on or off by its button; `back` is the address of the other."""
    (thing,) = row.values()
    return press(
        request,
        lambda: act(by=who(request), **row),
        words,
        page,
        thing.key,
        undo=undo_by(back, thing.key),
    )


def undo_of(name: str, by: User, job: Job, seen: Event | None) -> str:
    """Give the address that takes back what they did to a job since `seen`, if any."""
    event = act_to_undo(by, job)
    if event is None or (seen is not None and event.pk <= seen.pk):
        return ""
    return reverse(name, args=[job.key, event.pk])


def undo_by(name: str, /, *keys: object, **data: object) -> str:
    """Give the address that takes an act back; what it needs stands in the address."""
    address = reverse(name, args=keys)
    return f"{address}?{urlencode(data)}" if data else address
