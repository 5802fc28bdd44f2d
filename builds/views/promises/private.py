"""The vendor's own page: reached by a private link, without an account.

The token in the address is handed over once for a cookie that only these pages get.
Wrong, expired, revoked and guessed ones get the same answer.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from builds.access.visitors import address_of
from builds.actions.errors import Refused
from builds.actions.knocks import LOOKS, MISSES, is_full, knock
from builds.actions.replies import put_in_date
from builds.actions.vendor_links import find_link, note_opening
from builds.forms.calls import ReplyForm
from builds.models import Job, VendorLink, Workshop
from builds.selectors.private_vendor import one_of_theirs, with_them

COOKIE = "vendor-link" if settings.AT_HOME else "__Secure-vendor-link"
PATH = "/v/"
QUIET = {
    # Not "no-referrer": browsers would then send forms from nowhere ("Origin: null"),
    # which is refused. The page's own address holds no secret; the door's says nothing.
    "Referrer-Policy": "same-origin",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
    "Cache-Control": "no-store",
}

View = Callable[..., HttpResponse]


def _quiet(view: View) -> View:
    """Say on every answer that it is nobody else's and not to be kept."""

    @wraps(view)
    def quiet(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        answer = view(request, *args, **kwargs)
        for name, value in QUIET.items():
            answer.headers.setdefault(name, value)
        return answer

    return quiet


def _by_cookie(view: View) -> View:
    """Turn the cookie into its link, or answer as to any stranger."""

    @wraps(view)
    def found(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        token = request.COOKIES.get(COOKIE, "")
        link = _look_up(request, token)
        if not isinstance(link, VendorLink):
            return link
        return view(request, link, *args, **kwargs)

    return found


@require_safe
@_quiet
def private_door(request: HttpRequest, token: str) -> HttpResponse:
    link = _look_up(request, token)
    if not isinstance(link, VendorLink):
        return link
    note_opening(link)
    answer = _secret(redirect("private_page"))
    answer.set_cookie(
        COOKIE,
        token,
        max_age=max(int((link.expires_at - timezone.now()).total_seconds()), 0),
        path=PATH,
        secure=not settings.AT_HOME,
        httponly=True,
        samesite="Lax",
    )
    return answer


@require_safe
@_quiet
@_by_cookie
def private_page(request: HttpRequest, link: VendorLink) -> HttpResponse:
    return _show(request, link)


@_quiet
@_by_cookie
def private_date(request: HttpRequest, link: VendorLink, job_key: str) -> HttpResponse:
    if request.method != "POST":
        return HttpResponseNotAllowed(["POST"])
    job = one_of_theirs(link.vendor, job_key)
    if job is None:
        return _nothing(request)
    form = _form(job, request.POST)
    if not form.is_valid():
        return _show(request, link, form, job)
    given = form.cleaned_data
    try:
        put_in_date(
            link=link,
            job=job,
            day=given["promised"],
            said=given["said"],
            speaker=given["speaker"],
        )
    except Refused as refused:
        form.add_error(None, refused.words)
        return _show(request, link, form, job)
    messages.success(request, "Thank you. The workshop sees it and will confirm.")
    return redirect(reverse("private_page"))


def _look_up(request: HttpRequest, token: str) -> VendorLink | HttpResponse:
    """Give the link, or the answer to somebody without one."""
    whose = address_of(request)
    if is_full(MISSES, whose):
        return _too_often(request)
    link = find_link(token) if token else None
    if link is None:
        if token:
            knock(MISSES, whose)
        return _nothing(request)
    if knock(LOOKS, f"link {link.pk}") > LOOKS.most:
        return _too_often(request)
    return link


def _form(job: Job, data: Any = None) -> ReplyForm:
    return ReplyForm(data, now=Workshop.current().clock(), auto_id=f"date-{job.pk}-%s")


def _show(
    request: HttpRequest,
    link: VendorLink,
    sent: ReplyForm | None = None,
    job: Job | None = None,
) -> HttpResponse:
    now = Workshop.current().clock()
    pieces = [
        (
            one,
            sent
            if sent is not None and job is not None and one.key == job.key
            else ReplyForm(now=now, auto_id=f"date-{number}-%s"),
        )
        for number, one in enumerate(with_them(link.vendor))
    ]
    context = {"vendor": link.vendor, "pieces": pieces, "asked": job and job.key}
    status = 422 if sent is not None else 200
    return render(request, "promises/private.html", context, status=status)


def _nothing(request: HttpRequest) -> HttpResponse:
    return _secret(render(request, "promises/private_gone.html", status=404))


def _too_often(request: HttpRequest) -> HttpResponse:
    return _secret(render(request, "promises/private_later.html", status=429))


def _secret(answer: HttpResponse) -> HttpResponse:
    """Let nobody be told the address it was answered at: there may be a token in it."""
    answer["Referrer-Policy"] = "no-referrer"
    return answer
