"""A consignment: made up, looked at, printed."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from builds.access.gates import lead_only, load_consignment
from builds.actions import consignments as act
from builds.forms.consignments import LeaveForm, MakeUpForm
from builds.models import Consignment, Vendor, Workshop
from builds.selectors.consignment import consignment_page
from builds.selectors.consignment_sheet import consignment_sheet as read_sheet
from builds.selectors.ready_to_go import could_start
from builds.views.records.answers import attempt, done, posted, who


@lead_only
@require_http_methods(["GET", "HEAD", "POST"])
def consignment_new(request: HttpRequest) -> HttpResponse:
    vendor = _vendor(request)
    offered = could_start(vendor)
    form = MakeUpForm(
        posted(request),
        offered=[one.job for one in offered],
        now=Workshop.current().clock(),
        initial={"jobs": [one.job.key for one in offered if one.ready]},
    )
    row = attempt(
        form,
        lambda: act.create_consignment(
            by=who(request),
            vendor=vendor,
            jobs=form.chosen(),
            leaves=form.cleaned_data["leaves"],
            name=form.cleaned_data["name"],
        ),
    )
    if row:
        return done(request, f"“{row}” is put together.", "consignment", row.key)
    context = {"vendor": vendor, "form": form, "offered": offered}
    status = 422 if form.is_bound else 200
    return render(request, "out/consignment_new.html", context, status=status)


@lead_only
@load_consignment
@require_http_methods(["GET", "HEAD", "POST"])
def consignment(request: HttpRequest, consignment: Consignment) -> HttpResponse:
    form = make_up_form(request, consignment)
    row = attempt(
        form,
        lambda: act.change_consignment(
            by=who(request),
            consignment=consignment,
            jobs=form.chosen(),
            leaves=form.cleaned_data["leaves"],
            name=form.cleaned_data["name"],
            version=form.cleaned_data["version"],
        ),
    )
    if row:
        return done(request, f"“{row}” is changed.", "consignment", row.key)
    return show_consignment(request, consignment, form=form)


@lead_only
@load_consignment
@require_safe
def consignment_sheet(request: HttpRequest, consignment: Consignment) -> HttpResponse:
    site = request.build_absolute_uri("/")
    context = {"page": read_sheet(consignment, site=site)}
    return render(request, "out/consignment_sheet.html", context)


def make_up_form(request: HttpRequest | None, row: Consignment) -> MakeUpForm:
    """Give the form of what travels in it, with what was sent if anything was."""
    page = consignment_page(row)
    inside = [one.job for one in page.loads]
    return MakeUpForm(
        posted(request) if request else None,
        offered=[*inside, *(one.job for one in page.others)],
        now=Workshop.current().clock(),
        initial={
            "name": row.name,
            "leaves": row.leaves,
            "jobs": [one.key for one in inside],
            "version": row.version,
        },
    )


def show_consignment(
    request: HttpRequest,
    row: Consignment,
    *,
    form: MakeUpForm | None = None,
    leaving: LeaveForm | None = None,
) -> HttpResponse:
    """Show the page with the form that was sent, if any, and the other fresh."""
    page = consignment_page(row)
    jobs = [one.job for one in page.loads]
    initial = {"version": row.version}
    context = {
        "page": page,
        "form": form or make_up_form(None, row),
        "leaving": leaving or LeaveForm(jobs=jobs, initial=initial),
    }
    bad = bool((form and form.is_bound) or (leaving and leaving.is_bound))
    status = 422 if bad else 200
    return render(request, "out/consignment.html", context, status=status)


def _vendor(request: HttpRequest) -> Vendor:
    data = posted(request) or request.GET
    vendor = Vendor.objects.filter(key=data.get("vendor", "")).first()
    if vendor is None:
        raise Http404
    return vendor
