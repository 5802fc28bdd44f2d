"""A form pressed twice is done once, and the second press sees what the first did."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any, TypeVar

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect

from builds.actions.sent_forms import keep_answer, take_form
from builds.models import User

WORD = re.compile("[0-9a-f]{32}")
TWICE = "That had already reached us, so it is done once."
UNTOLD = ("csrfmiddlewaretoken",)

REFUSED = "refused"
VERSION = "X-Job-Version"  # of the job, before an act and after it

View = Callable[..., HttpResponseBase]
Answer = TypeVar("Answer", bound=HttpResponseBase)


class OnceMiddleware:
    """Let a form with a one-time word in it through once; stands last of all.

    A form that was not accepted has not counted, and may be sent again.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Go on; the work is done when the view is known."""
        return self.get_response(request)

    def process_view(
        self,
        request: HttpRequest,
        view: View,
        args: tuple[Any, ...],
        kwargs: dict[str, Any],
    ) -> HttpResponseBase | None:
        """Do the view in one transaction with the note that the form has come."""
        user = request.user
        if request.method != "POST" or not isinstance(user, User):
            return None
        if not WORD.fullmatch(request.POST.get("once", "")):
            return None
        with transaction.atomic():
            form, first = take_form(by=user, content=_content(request))
            if not first:
                messages.info(request, TWICE)
                return at_version(redirect(form.answer), form.version)
            answer = view(request, *args, **kwargs)
            if answer.status_code == 302 and not is_refused(answer):
                version = answer.get(VERSION)
                keep_answer(
                    form=form,
                    answer=answer["Location"],
                    version=int(version) if version else None,
                )
            else:
                transaction.set_rollback(True)
        return answer


def _content(request: HttpRequest) -> Iterator[str]:
    yield request.get_full_path()
    for name, values in sorted(request.POST.lists()):
        if name not in UNTOLD:
            yield name
            yield from map(str, values)
    for name, file in sorted(request.FILES.items()):
        yield from (name, str(getattr(file, "name", "")), str(getattr(file, "size", 0)))


def not_done(answer: Answer) -> Answer:
    """Say that the way on means no: the form has not counted, and may come again."""
    setattr(answer, REFUSED, True)
    return answer


def is_refused(answer: HttpResponseBase) -> bool:
    """Say whether the way on means no."""
    return bool(getattr(answer, REFUSED, False))


def at_version(answer: Answer, version: int | None) -> Answer:
    """Tell with an answer which version of its job the act led to."""
    if version is not None:
        answer[VERSION] = str(version)
    return answer
