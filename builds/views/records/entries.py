"""Cars entered for a show and withdrawn from it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_POST

from builds.access.gates import lead_only, load_show
from builds.actions import shows as act
from builds.forms.shows import EntryForm, ShowEditForm
from builds.models import Show, ShowEntry
from builds.selectors.shows import show_page
from builds.views.records import answers
from builds.views.records.answers import attempt, done, posted, press, undo_by, who


def show_show(
    request: HttpRequest,
    show: Show,
    *,
    form: ShowEditForm | None = None,
    entry: EntryForm | None = None,
) -> HttpResponse:
    """Show the page with the form that was sent, if any, and the other fresh."""
    page = show_page(show=show)
    return answers.show(
        request,
        "show.html",
        form or ShowEditForm(now=page.now, initial=ShowEditForm.facts_of(show)),
        wrong=entry,
        page=page,
        entry=entry or EntryForm(builds=page.builds, levels=page.levels),
    )


@lead_only
@load_show
@require_POST
def entry_add(request: HttpRequest, show: Show) -> HttpResponse:
    page = show_page(show=show)
    form = EntryForm(posted(request), builds=page.builds, levels=page.levels)
    entry = attempt(
        form,
        lambda: act.enter_build(by=who(request), show=show, **form.cleaned_data),
    )
    if entry:
        return done(request, f"{entry.build} is entered.", "show", show.key)
    return show_show(request, show, entry=form)


@lead_only
@load_show
@require_POST
def entry_withdraw(request: HttpRequest, show: Show, number: int) -> HttpResponse:
    entry = get_object_or_404(ShowEntry, show=show, pk=number)
    car = entry.build
    return press(
        request,
        lambda: act.withdraw_build(by=who(request), entry=entry),
        f"{car} is withdrawn.",
        "show",
        show.key,
        undo=undo_by("entry_add", show.key, build=car.key, level=entry.level or ""),
    )
