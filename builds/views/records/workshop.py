"""The workshop's own settings."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from builds.access.gates import lead_only
from builds.actions.levels import set_levels
from builds.actions.workshop import change_workshop
from builds.forms.levels import LevelsForm
from builds.forms.workshop import WorkshopForm
from builds.selectors.workshop_settings import workshop_page
from builds.views.records.answers import attempt, done, posted, show, who


@lead_only
@require_http_methods(["GET", "POST"])
def workshop(request: HttpRequest) -> HttpResponse:
    page = workshop_page()
    facts = WorkshopForm.facts_of(page.shop)
    form = WorkshopForm(posted(request), now=page.shop.clock(), initial=facts)
    if attempt(
        form,
        lambda: change_workshop(
            by=who(request),
            fields=form.fields_of_row(),
            version=form.version_seen(),
        ),
    ):
        return done(request, "The workshop’s settings are saved.", "workshop")
    return show(request, "workshop.html", form, page=page)


@lead_only
@require_http_methods(["GET", "POST"])
def levels(request: HttpRequest) -> HttpResponse:
    shop = workshop_page().shop
    form = LevelsForm(posted(request), levels=shop.levels, version=shop.version)
    if form.is_bound and form.keeps_theirs():
        return done(request, "The levels stand as they are.", "workshop")
    if attempt(
        form,
        lambda: set_levels(
            by=who(request), levels=form.named(), version=form.version_seen()
        ),
    ):
        return done(request, "The levels are saved.", "workshop")
    return show(request, "levels.html", form)
