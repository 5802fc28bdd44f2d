"""Shows: in the diary, moved, cancelled and put back."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from builds.access.gates import lead_only, load_show
from builds.actions import shows as act
from builds.forms.shows import ShowEditForm, ShowForm
from builds.models import Show
from builds.selectors import shows as read
from builds.selectors.vendors import now
from builds.views.records.answers import attempt, done, posted, show, turn, who
from builds.views.records.entries import show_show


@lead_only
@require_GET
def shows(request: HttpRequest) -> HttpResponse:
    return show(request, "shows.html", shows=read.show_rows())


@lead_only
@require_http_methods(["GET", "POST"])
def show_new(request: HttpRequest) -> HttpResponse:
    form = ShowForm(posted(request), now=now())
    made = attempt(
        form, lambda: act.create_show(by=who(request), **form.fields_of_row())
    )
    if made:
        words = f"{made} is in the diary. Enter a car for it."
        return done(request, words, "show", made.key)
    return show(request, "show_new.html", form)


@lead_only
@load_show
@require_http_methods(["GET", "POST"])
def show_edit(request: HttpRequest, show: Show) -> HttpResponse:
    facts = ShowEditForm.facts_of(show)
    form = ShowEditForm(posted(request), now=now(), initial=facts)
    if attempt(
        form,
        lambda: act.change_show(
            by=who(request),
            show=show,
            fields=form.fields_of_row(),
            version=form.version_seen(),
        ),
    ):
        return done(request, f"{show} is saved.", "show", show.key)
    show.refresh_from_db()
    return show_show(request, show, form=form)


@lead_only
@load_show
@require_POST
def show_cancel(request: HttpRequest, show: Show) -> HttpResponse:
    words = f"Nothing is planned for {show} any more."
    return turn(request, act.cancel_show, words, "show", "show_restore", show=show)


@lead_only
@load_show
@require_POST
def show_restore(request: HttpRequest, show: Show) -> HttpResponse:
    words = f"{show} is planned for again."
    return turn(request, act.restore_show, words, "show", "show_cancel", show=show)
