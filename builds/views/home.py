"""The way in: to one's own page, signing in, and the doors of the demo."""

from __future__ import annotations

from typing import cast

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.contrib.auth.views import LogoutView
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from builds.access.arrivals import arrive
from builds.models import Role, User

OWN_PAGE = {
    Role.LEAD: "morning",
    Role.TECHNICIAN: "bench",
    Role.CUSTOMER: "my_car",
}

sign_out = LogoutView.as_view()


@login_required
def home(request: HttpRequest) -> HttpResponse:
    role = Role(cast(User, request.user).role)
    return redirect(OWN_PAGE[role])


@require_POST
def enter(request: HttpRequest) -> HttpResponse:
    """Sign in as the first of a role; only where everything is invented."""
    who = request.POST.get("who", "")
    if not settings.DEMO or who not in Role.values:
        raise Http404
    somebody = User.objects.filter(role=who, is_active=True).order_by("pk").first()
    if somebody is None:
        raise Http404
    arrive(request, somebody)
    return redirect("home")
