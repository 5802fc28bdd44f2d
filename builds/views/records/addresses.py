"""Addresses given to customers and calendars: given, replaced, taken back."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from builds.access.gates import lead_only
from builds.access.step_up import asked_again
from builds.actions import share_links as act
from builds.forms.share_links import ShareLinkForm
from builds.models import ShareKind, ShareLink
from builds.views.records.answers import attempt, done, posted, show, who

NEW = "new_address"  # in the session until it has been shown


@lead_only
@asked_again
@require_http_methods(["GET", "POST"])
def addresses(request: HttpRequest) -> HttpResponse:
    form = ShareLinkForm(posted(request), first=request.GET.get("opens", ""))
    made = attempt(form, lambda: act.give_link(by=who(request), **form.chosen()))
    if made:
        return _shown_once(request, *made)
    links = ShareLink.objects.select_related("build", "person", "vendor", "by")
    page = {"links": links.open_now(), "new": request.session.pop(NEW, None)}
    answer = show(request, "addresses.html", form, **page)
    answer["Cache-Control"] = "no-store, private"
    return answer


@lead_only
@asked_again
@require_POST
def address_replace(request: HttpRequest, number: int) -> HttpResponse:
    link = get_object_or_404(ShareLink.objects.open_now(), pk=number)
    return _shown_once(request, *act.replace_link(by=who(request), link=link))


@lead_only
@require_POST
def address_revoke(request: HttpRequest, number: int) -> HttpResponse:
    link = get_object_or_404(ShareLink, pk=number)
    act.revoke_link(by=who(request), link=link)
    return done(request, f"That address opens nothing any more: {link}", "addresses")


def _shown_once(request: HttpRequest, link: ShareLink, secret: str) -> HttpResponse:
    page = "car_link" if link.kind == ShareKind.CAR else "dates"
    where = request.build_absolute_uri(reverse(page, args=[secret]))
    request.session[NEW] = {"where": where, "what": str(link.what)}
    return redirect("addresses")
