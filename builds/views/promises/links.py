"""The lead's side of a vendor's private link."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from builds.access.gates import lead_only, load_vendor
from builds.actions.vendor_links import make_link, replace_link, revoke_link
from builds.forms.calls import LinkForm
from builds.models import Vendor, VendorLink
from builds.selectors.vendor_links import link_lines
from builds.views.records.answers import attempt, done, who

SHOWN_ONCE = "vendor-link-to-show"


@lead_only
@load_vendor
@require_safe
def vendor_links(request: HttpRequest, vendor: Vendor) -> HttpResponse:
    return _show(request, vendor, LinkForm())


@lead_only
@load_vendor
@require_POST
def vendor_link_make(request: HttpRequest, vendor: Vendor) -> HttpResponse:
    form = LinkForm(request.POST)
    made = attempt(
        form,
        lambda: make_link(
            by=who(request), vendor=vendor, days=form.cleaned_data["days"]
        ),
    )
    if made is None:
        return _show(request, vendor, form, status=422)
    return _show_once(request, vendor, made[1])


@lead_only
@load_vendor
@require_POST
def vendor_link_replace(
    request: HttpRequest, vendor: Vendor, number: int
) -> HttpResponse:
    link = get_object_or_404(VendorLink, vendor=vendor, pk=number)
    _, token = replace_link(by=who(request), link=link)
    return _show_once(request, vendor, token)


@lead_only
@load_vendor
@require_POST
def vendor_link_revoke(
    request: HttpRequest, vendor: Vendor, number: int
) -> HttpResponse:
    link = get_object_or_404(VendorLink, vendor=vendor, pk=number)
    revoke_link(by=who(request), link=link)
    return done(request, "That link leads nowhere now.", "vendor_links", vendor.key)


def _show_once(request: HttpRequest, vendor: Vendor, token: str) -> HttpResponse:
    request.session[SHOWN_ONCE] = [vendor.key, token]
    return redirect("vendor_links", vendor.key)


def _show(
    request: HttpRequest, vendor: Vendor, form: LinkForm, status: int = 200
) -> HttpResponse:
    key, token = request.session.pop(SHOWN_ONCE, None) or ("", "")
    address = ""
    if key == vendor.key:
        address = request.build_absolute_uri(reverse("private_door", args=[token]))
    context = {
        "vendor": vendor,
        "form": form,
        "links": link_lines(vendor),
        "address": address,
    }
    answer = render(request, "promises/vendor_links.html", context, status=status)
    answer["Cache-Control"] = "no-store"
    return answer
