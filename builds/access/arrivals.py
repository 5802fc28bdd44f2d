"""Signing somebody in by another way than a password, noted like any other."""

from __future__ import annotations

from allauth.usersessions.models import UserSession
from django.conf import settings
from django.contrib.auth import login
from django.http import HttpRequest

from builds.models import User


def arrive(request: HttpRequest, user: User) -> None:
    """Sign them in on this device, and put the device on their list."""
    login(request, user, backend=settings.AUTHENTICATION_BACKENDS[0])
    UserSession.objects.create_from_request(request)
