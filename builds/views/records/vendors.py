"""Vendors: who does work outside, and when they are shut."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from builds.access.gates import lead_only, load_vendor
from builds.actions import vendors as act
from builds.forms.vendors import VendorForm
from builds.models import Vendor
from builds.selectors import vendors as read
from builds.selectors.people import calendars
from builds.views.records.answers import attempt, done, posted, show, turn, who
from builds.views.records.vendor_page import show_vendor, vendor_form


@lead_only
@require_GET
def vendors(request: HttpRequest) -> HttpResponse:
    return show(request, "vendors.html", vendors=read.vendor_rows())


@lead_only
@require_http_methods(["GET", "POST"])
def vendor_new(request: HttpRequest) -> HttpResponse:
    form = VendorForm(posted(request), calendars=calendars(), now=read.now())
    vendor = attempt(
        form, lambda: act.create_vendor(by=who(request), **form.fields_of_row())
    )
    if vendor:
        return done(request, f"{vendor} is in the book.", "vendor", vendor.key)
    return show(request, "vendor_new.html", form)


@lead_only
@load_vendor
@require_http_methods(["GET", "POST"])
def vendor(request: HttpRequest, vendor: Vendor) -> HttpResponse:
    form = vendor_form(vendor, posted(request))
    if attempt(
        form,
        lambda: act.change_vendor(
            by=who(request),
            vendor=vendor,
            fields=form.fields_of_row(),
            version=form.version_seen(),
        ),
    ):
        return done(request, f"{vendor} is saved.", "vendor", vendor.key)
    vendor.refresh_from_db()
    return show_vendor(request, vendor, form=form)


@lead_only
@load_vendor
@require_POST
def vendor_leave_out(request: HttpRequest, vendor: Vendor) -> HttpResponse:
    words = f"{vendor} gets nothing new."
    return turn(
        request, act.leave_out_vendor, words, "vendor", "vendor_restore", vendor=vendor
    )


@lead_only
@load_vendor
@require_POST
def vendor_restore(request: HttpRequest, vendor: Vendor) -> HttpResponse:
    words = f"{vendor} gets work again."
    return turn(
        request, act.restore_vendor, words, "vendor", "vendor_leave_out", vendor=vendor
    )
