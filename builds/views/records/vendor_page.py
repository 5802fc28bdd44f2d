"""One vendor's page, which holds two forms: facts and days shut."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_POST

from builds.access.gates import lead_only, load_vendor
from builds.actions import vendors as act
from builds.forms.spans import SpanForm
from builds.forms.vendors import VendorEditForm
from builds.models import Vendor, VendorClosure
from builds.planning.habits import habit_of
from builds.selectors import vendors as read
from builds.selectors.chase import chase_of
from builds.selectors.people import calendars
from builds.views.records.answers import (
    attempt,
    done,
    posted,
    press,
    show,
    undo_by,
    who,
)


def vendor_form(vendor: Vendor, data: QueryDict | None = None) -> VendorEditForm:
    """Give the form of a vendor's facts."""
    facts = VendorEditForm.facts_of(vendor)
    return VendorEditForm(data, calendars=calendars(), now=read.now(), initial=facts)


def show_vendor(
    request: HttpRequest,
    vendor: Vendor,
    *,
    form: VendorEditForm | None = None,
    shut: SpanForm | None = None,
) -> HttpResponse:
    """Show the page with the form that was sent, if any, and the other fresh."""
    return show(
        request,
        "vendor.html",
        form or vendor_form(vendor),
        wrong=shut,
        page=read.vendor_page(vendor=vendor),
        shut=shut or SpanForm(prefix="shut"),
        habit=habit_of(vendor),
        chase=chase_of(vendor),
    )


@lead_only
@load_vendor
@require_POST
def closure_add(request: HttpRequest, vendor: Vendor) -> HttpResponse:
    form = SpanForm(posted(request), now=read.now(), prefix="shut")
    closure = attempt(
        form,
        lambda: act.add_closure(by=who(request), vendor=vendor, **form.days()),
    )
    if closure:
        words = f"{vendor} is shut {form.said()}."
        undo = undo_by("closure_remove", vendor.key, closure.pk)
        return done(request, words, "vendor", vendor.key, undo=undo)
    return show_vendor(request, vendor, shut=form)


@lead_only
@load_vendor
@require_POST
def closure_remove(request: HttpRequest, vendor: Vendor, number: int) -> HttpResponse:
    closure = get_object_or_404(VendorClosure, vendor=vendor, pk=number)
    days = {"shut-first": closure.first, "shut-last": closure.last}
    return press(
        request,
        lambda: act.remove_closure(by=who(request), closure=closure),
        f"{vendor} is open after all.",
        "vendor",
        vendor.key,
        undo=undo_by("closure_add", vendor.key, **days),
    )
