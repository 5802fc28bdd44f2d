"""Acts that a phone kept while it had no connection, taken in one by one.

The phone sends the form it has to the address the form has, in the order in which
buttons were pressed. Heads say how long ago that was and which version of the job was
on the page; the answer is short instead of a page.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.utils import timezone
from django.views.decorators.http import require_safe

from builds.access.gates import technician_only
from builds.actions.errors import Refused
from builds.actions.late import was_pressed
from builds.models import Job
from builds.views.once import VERSION, is_refused

AGO = "X-Pressed-Ago"  # seconds, by the phone's own clock
NOTED_FROM = timedelta(minutes=1)
LONGEST = timedelta(days=3)  # below KEPT in builds/actions/sent_forms.py
OLD = "That was pressed more than three days ago. Does it still hold?"
SIGN_IN = "Sign in again, and it is sent."


class OutboxMiddleware:
    """Answer a phone that sends what it kept: done, not done and why, or sign in."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Do it as a page would, with the moment of the press noted."""
        if request.method != "POST" or AGO not in request.headers:
            return self.get_response(request)
        if not request.user.is_authenticated:
            return JsonResponse({"words": [SIGN_IN]}, status=401)
        ago = _ago(request)
        if ago > LONGEST:
            return JsonResponse({"words": [OLD]}, status=409)
        with was_pressed(_noted(ago)):
            answer = self.get_response(request)
        return _short(request, answer) if answer.status_code == 302 else answer


@technician_only
@require_safe
def outbox(request: HttpRequest) -> HttpResponse:
    """Say who is here, and give the word without which no form is taken."""
    return JsonResponse({"who": str(request.user.pk), "token": get_token(request)})


def check_unchanged(request: HttpRequest, job: Job) -> None:
    """Refuse what was pressed on a page that showed an older version of the job."""
    seen = request.headers.get(VERSION, "")
    if AGO in request.headers and seen and seen != str(job.version):
        raise Refused(f"“{job}” has changed since. Look at it, then decide.")


def _ago(request: HttpRequest) -> timedelta:
    """Give how long ago it was pressed: never in the time to come."""
    told = request.headers.get(AGO, "")[:10]
    return timedelta(seconds=int(told) if told.isascii() and told.isdecimal() else 0)


def _noted(ago: timedelta) -> datetime | None:
    return timezone.now() - ago if ago >= NOTED_FROM else None


def _short(request: HttpRequest, answer: HttpResponse) -> HttpResponse:
    """Turn the way on into what the page it leads to would say."""
    words = [str(message) for message in messages.get_messages(request)]
    status = 409 if is_refused(answer) else 200
    short = JsonResponse({"words": words}, status=status)
    if VERSION in answer:
        short[VERSION] = answer[VERSION]
    return short
