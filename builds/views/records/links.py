"""What must come first: found by typing, added, taken away."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from builds.access.gates import lead_only, load_job
from builds.actions import links as act
from builds.actions.errors import Refused
from builds.forms.links import LinkForm
from builds.forms.text import search_words
from builds.models import Job, Link
from builds.selectors.job_form import first_page, link_of, other_job
from builds.views.records.answers import (
    attempt,
    done,
    posted,
    press,
    show,
    undo_by,
    who,
)

FOUND = "link_add.html#found"


@lead_only
@load_job
@require_http_methods(["GET", "POST"])
def link_add(request: HttpRequest, job: Job) -> HttpResponse:
    form = LinkForm(posted(request))
    link = attempt(form, lambda: _add(request, job, form))
    if link:
        undo = undo_by("link_remove", job.key, link.pk)
        words = f"“{link.before}” comes first now."
        return done(request, words, "link_add", job.key, undo=undo)
    first = first_page(job=job, asked=search_words(request.GET.get("q", "")))
    page = FOUND if getattr(request, "htmx", False) else "link_add.html"
    return show(request, page, form, job=job, first=first)


@lead_only
@load_job
@require_POST
def link_remove(request: HttpRequest, job: Job, number: int) -> HttpResponse:
    link = link_of(job=job, number=number)
    if link is None:
        messages.info(request, "That was taken away already.")
        return redirect("link_add", job.key)
    before = link.before
    return press(
        request,
        lambda: act.remove_link(by=who(request), link=link),
        f"“{before}” no longer has to come first.",
        "link_add",
        job.key,
        undo=_put_back(job, link),
    )


def _add(request: HttpRequest, job: Job, form: LinkForm) -> Link:
    before = other_job(key=form.cleaned_data["before"])
    if before is None:
        raise Refused("That job is no longer there. Look for it again.")
    return act.add_link(by=who(request), job=job, before=before, **form.waits())


def _put_back(job: Job, link: Link) -> str:
    wait = f"{link.wait_days:g}d{link.wait_hours:g}h"
    return undo_by(
        "link_add", job.key, before=link.before.key, kind=link.kind, wait=wait
    )
