"""A technician's phone: paired by a square to scan, opened with a few digits."""

from __future__ import annotations

import logging

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from builds.access.arrivals import arrive
from builds.access.gates import lead_only
from builds.access.step_up import asked_again
from builds.actions import phones as act
from builds.forms.phones import PhoneForm, PinForm
from builds.models import PairedPhone
from builds.upkeep.doors import tell
from builds.views.records.answers import attempt, done, posted, show, who
from builds.views.shared.door import nothing, with_care

COOKIE = "phone" if settings.AT_HOME else "__Host-phone"
KEPT = 365 * 24 * 3600
INVITATION = "phone_invitation"  # in the session until it has been shown


@lead_only
@asked_again
@require_http_methods(["GET", "POST"])
def phones(request: HttpRequest) -> HttpResponse:
    form = PhoneForm(posted(request))
    made = attempt(form, lambda: act.invite_phone(by=who(request), user=form.chosen()))
    if made:
        where = request.build_absolute_uri(reverse("phone_pair", args=[made[1]]))
        request.session[INVITATION] = {"where": where, "whose": str(made[0].user)}
        return redirect("phones")
    new = request.session.pop(INVITATION, None)
    paired = PairedPhone.objects.filter(ended_at=None).exclude(pin="")
    page = {"new": new, "phones": paired.select_related("user")}
    answer = show(request, "phones.html", form, **page)
    answer["Cache-Control"] = "no-store, private"
    return answer


@lead_only
@require_POST
def phone_end(request: HttpRequest, number: int) -> HttpResponse:
    phone = get_object_or_404(PairedPhone, pk=number)
    act.end_phone(by=who(request), phone=phone)
    return done(request, f"Now {phone} opens nothing any more.", "phones")


@with_care
@require_http_methods(["GET", "POST"])
def phone_pair(request: HttpRequest, secret: str) -> HttpResponse:
    phone = act.invited(secret)
    if phone is None:
        return nothing(request)
    form = PinForm(posted(request))
    made = attempt(
        form,
        lambda: act.pair_phone(invitation=secret, pin=form.cleaned_data["pin"]),
    )
    if made is None:
        return _ask(request, form, phone, reverse("phone_pair", args=[secret]))
    arrive(request, made[0].user)
    answer = redirect("bench")
    answer.set_cookie(
        COOKIE,
        made[1],
        max_age=KEPT,
        secure=not settings.AT_HOME,
        httponly=True,
        samesite="Lax",
    )
    return answer


@with_care
@require_http_methods(["GET", "POST"])
def phone_pin(request: HttpRequest) -> HttpResponse:
    phone = act.phone_of(request.COOKIES.get(COOKIE, ""))
    if phone is None:
        return redirect("sign_in")
    form = PinForm(posted(request))
    if form.is_bound and form.is_valid():
        wrong = act.open_phone(phone=phone, pin=form.cleaned_data["pin"])
        if not wrong:
            arrive(request, phone.user)
            return redirect("bench")
        tell("Wrong digits on a phone.", phone.user, level=logging.WARNING)
        form.add_error("pin", wrong)
    return _ask(request, form, phone, reverse("phone_pin"))


def _ask(
    request: HttpRequest, form: PinForm, phone: PairedPhone, action: str
) -> HttpResponse:
    page = {"form": form, "whose": phone.user, "action": action, "new": not phone.pin}
    status = 422 if form.is_bound else 200
    answer = render(request, "accounts/pin.html", page, status=status)
    # With "no-referrer" browsers send forms from nowhere ("Origin: null"), and those
    # are refused.
    answer["Referrer-Policy"] = "same-origin"
    return answer
