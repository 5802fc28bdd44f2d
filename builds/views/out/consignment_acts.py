"""What is done to a consignment: it leaves, it is taken apart, an act is taken back."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_POST

from builds.access.gates import lead_only, load_consignment
from builds.actions.consignment_leaves import send_consignment
from builds.actions.consignments import part_consignment
from builds.actions.undo_together import undo_consignment_act
from builds.forms.consignments import LeaveForm
from builds.models import Consignment, Event
from builds.selectors.consignment import consignment_page
from builds.views.out.consignments import show_consignment
from builds.views.records.answers import attempt, done, press, who


@lead_only
@load_consignment
@require_POST
def leave(request: HttpRequest, consignment: Consignment) -> HttpResponse:
    jobs = [one.job for one in consignment_page(consignment).loads]
    form = LeaveForm(request.POST, jobs=jobs, files=request.FILES)
    row = attempt(
        form,
        lambda: send_consignment(
            by=who(request),
            consignment=consignment,
            version=form.cleaned_data["version"],
            drop_off=form.drop_off(),
        ),
    )
    if row is None:
        consignment.refresh_from_db()
        return show_consignment(request, consignment, leaving=form)
    words = f"“{row}” has left with {row.signed}."
    return done(request, words, "consignment", row.key, undo=undo_of(row))


@lead_only
@load_consignment
@require_POST
def apart(request: HttpRequest, consignment: Consignment) -> HttpResponse:
    return press(
        request,
        lambda: part_consignment(by=who(request), consignment=consignment),
        f"“{consignment}” is taken apart: each of its jobs goes on its own.",
        "out",
    )


@lead_only
@load_consignment
@require_POST
def take_back(
    request: HttpRequest, consignment: Consignment, number: int
) -> HttpResponse:
    event = get_object_or_404(
        Event, pk=number, after__consignment=consignment.key, job=None
    )
    return press(
        request,
        lambda: undo_consignment_act(
            by=who(request), consignment=consignment, event=event
        ),
        f"“{consignment}” is as it was before.",
        "consignment",
        consignment.key,
    )


def undo_of(row: Consignment) -> str:
    """Give the address that takes the newest act on it back, if it can be."""
    number = consignment_page(row).undo
    return reverse("consignment_undo", args=[row.key, number]) if number else ""
