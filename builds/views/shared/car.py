"""The customer's page by an address: the secret is changed for a cookie at once."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from builds.actions.share_links import is_open, open_link
from builds.models import ShareKind
from builds.selectors.owner import owner_page
from builds.views.shared.door import nothing, with_care

KINDS = (ShareKind.CAR,)
COOKIE = "car-link" if settings.AT_HOME else "__Secure-car-link"
KEPT_DAYS = 30


@require_safe
@with_care
def car_link(request: HttpRequest, secret: str) -> HttpResponse:
    if not is_open(secret=secret, kinds=KINDS):
        return nothing(request)
    answer = redirect("car_by_link")
    answer.set_cookie(
        COOKIE,
        secret,
        max_age=KEPT_DAYS * 24 * 3600,
        path=reverse("car_by_link"),
        secure=not settings.AT_HOME,
        httponly=True,
        samesite="Lax",
    )
    return answer


@require_safe
@with_care
def car_by_link(request: HttpRequest) -> HttpResponse:
    link = open_link(secret=request.COOKIES.get(COOKIE, ""), kinds=KINDS)
    if link is None or link.build is None:
        return nothing(request)
    ends = link.expires_at if link.ends_soon else None
    page = {"page": owner_page(link.build), "by_link": True, "ends": ends}
    page["days_left"] = (link.expires_at - timezone.now()).days
    return render(request, "customer/car.html", page)
