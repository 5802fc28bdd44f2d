"""Where somebody is signed in, and ending it there."""

from __future__ import annotations

from allauth.usersessions.models import UserSession
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from builds.access.gates import signed_in


@signed_in
@require_POST
def session_end(request: HttpRequest, number: int) -> HttpResponse:
    session = get_object_or_404(UserSession, pk=number, user=request.user)
    session.end()
    messages.success(request, "That device is signed out.")
    return redirect("usersessions_list")
