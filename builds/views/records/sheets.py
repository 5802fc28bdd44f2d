"""Spreadsheets of jobs, people and vendors: handed in, looked through, taken in."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from builds.access.gates import lead_only
from builds.actions.errors import Refused
from builds.actions.sheets import hand_in_sheet, say_sheet
from builds.demo.sheet import template_tables
from builds.forms.sheet_preview import SHOWN, preview, take_in
from builds.forms.sheets import SheetFileForm, said_forms
from builds.models import SheetFile
from builds.selectors.exchange import exchange_page
from builds.selectors.sheets import sheet_table, sheet_tables
from builds.views.once import not_done
from builds.views.records.answers import attempt, done, show, who
from sheets.columns import SORTS
from sheets.writing import write_csv, write_xlsx

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
CSV = "text/csv; charset=utf-8"


@lead_only
@require_http_methods(["GET", "POST"])
def move_in(request: HttpRequest) -> HttpResponse:
    sent = request.method == "POST"
    form = SheetFileForm(request.POST, files=request.FILES) if sent else SheetFileForm()
    file = attempt(
        form,
        lambda: hand_in_sheet(
            by=who(request), name=form.cleaned_data["file"].name, tables=form.rows()
        ),
    )
    if file:
        return redirect("sheet", file.pk)
    return show(request, "move_in.html", form, page=exchange_page())


@lead_only
@require_http_methods(["GET", "POST"])
def sheet(request: HttpRequest, number: int) -> HttpResponse:
    file = _own(request, number)
    data = request.POST if request.method == "POST" else None
    forms = said_forms(file, data)
    if data is not None and all(form.is_valid() for form in forms):
        try:
            say_sheet(file=file, said={str(f.at): f.words() for f in forms})
        except Refused as refused:
            messages.error(request, refused.words)
        return redirect("sheet", file.pk)
    page = {"file": file, "forms": forms, "shown": SHOWN, "wrong": data is not None}
    page["looked"] = preview(by=who(request), file=file) if not file.taken_at else None
    status = 200 if data is None else 422
    return render(request, "records/sheet.html", page, status=status)


@lead_only
@require_POST
def sheet_take(request: HttpRequest, number: int) -> HttpResponse:
    file = _own(request, number)
    try:
        took = take_in(by=who(request), file=file, mark=request.POST.get("mark", ""))
    except Refused as refused:
        messages.error(request, refused.words)
        return not_done(redirect("sheet", file.pk))
    words = f"{file} is in the plan: {took.new} added, {took.changed} changed."
    return done(request, words, "cars")


@lead_only
@require_GET
def sheet_download(request: HttpRequest, name: str) -> HttpResponse:
    stem, _, kind = name.rpartition(".")
    if kind == "xlsx" and stem == "workshop":
        return _file(write_xlsx(sheet_tables()), name, XLSX)
    if kind == "xlsx" and stem == "template":
        return _file(write_xlsx(template_tables()), name, XLSX)
    if kind == "csv" and stem in SORTS:
        return _file(write_csv(sheet_table(SORTS[stem])), name, CSV)
    raise Http404


def _own(request: HttpRequest, number: int) -> SheetFile:
    """Give a file that this very person handed in."""
    return get_object_or_404(SheetFile, pk=number, by=who(request))


def _file(data: bytes, name: str, kind: str) -> HttpResponse:
    answer = HttpResponse(data, content_type=kind)
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
