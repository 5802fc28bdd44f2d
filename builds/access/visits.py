"""How long a visit lasts, and that a lead has a second factor before anything else.

OWASP ASVS 5.0, 7.3.1 and 7.3.2 (how long), 6.3.3 (more than one factor).
"""

from __future__ import annotations

import time
from collections.abc import Callable

from django.conf import settings
from django.contrib.auth import logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from builds.access.passwords import has_factor
from builds.access.roles import is_lead
from builds.models import User

HOUR = 3600
IDLE = {"lead": 12 * HOUR}  # everybody else: SESSION_COOKIE_AGE, 14 days
LONGEST = 30 * 24 * HOUR
NOTED_EVERY = 600
SINCE, SEEN = "since", "seen"
# What a lead without a second factor needs for getting one, or for leaving.
STILL_OPEN = ("mfa_", "account_", "sign_", "usersessions_", "enter")


class VisitMiddleware:
    """End visits that are over; lead whoever lacks a second factor to set one up."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Look at the clock, and go on."""
        if request.user.is_authenticated and _is_over(request):
            logout(request)
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *_args: object) -> HttpResponse | None:
        """Show the way to a second factor, if there is none where one is needed."""
        match = request.resolver_match
        name = (match.url_name if match else "") or ""
        if not settings.SECOND_FACTOR or name.startswith(STILL_OPEN):
            return None
        user = request.user
        if not isinstance(user, User) or not is_lead(user):
            return None
        return None if has_factor(user) else redirect("mfa_index")


def _is_over(request: HttpRequest) -> bool:
    """Say whether a visit is over, and note now and then that it goes on."""
    session, now = request.session, int(time.time())
    since, seen = session.get(SINCE, now), session.get(SEEN, 0)
    role = getattr(request.user, "role", "")
    idle = IDLE.get(role, settings.SESSION_COOKIE_AGE)
    if now - since > LONGEST or (seen and now - seen > idle):
        return True
    if now - seen > NOTED_EVERY:
        session[SINCE], session[SEEN] = since, now
        session.set_expiry(idle)
    return False
