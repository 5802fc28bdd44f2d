"""The hands page, and one person's weeks, which they may see themselves."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from builds.access.gates import lead_only, load_hand, staff_only
from builds.access.roles import is_lead
from builds.forms.weeks import WeeksForm
from builds.models import Person, Workshop
from builds.planning.hours import load_of
from builds.selectors.answers import moment, newest
from builds.selectors.hand import hand_page
from builds.selectors.hands import hands_page, span_of
from builds.selectors.plan_words import plan_words
from builds.selectors.weeks import WEEK, Hours

USUAL, USUAL_DIARY = 12, 4
ROW = "lead/_hand_row.html"


@lead_only
@require_safe
def hands(request: HttpRequest) -> HttpResponse:
    forecast = newest()
    if forecast is None:
        return render(request, "lead/hands.html", {"page": None})
    today = (moment(forecast.summary["now"]) or Workshop.current().clock()).date()
    weeks = WeeksForm(request.GET).count(USUAL)
    load = load_of(forecast.answer, span_of(today, weeks)[1])
    opened = request.GET.get("row", "")
    page = hands_page(load, now=today, weeks=weeks, opened=opened)
    context = {"page": page, "plan": plan_words(forecast.summary), "row": page.opened}
    part = page.opened and request.headers.get("HX-Target") == page.opened.slug
    return render(request, ROW if part else "lead/hands.html", context)


@staff_only
@load_hand
@require_safe
def hand(request: HttpRequest, person: Person) -> HttpResponse:
    forecast, lead = newest(), is_lead(request.user)
    answer = forecast.answer if forecast else {}
    today = (moment(answer.get("now")) or Workshop.current().clock()).date()
    form = WeeksForm(request.GET)
    weeks, first = form.count(USUAL_DIARY), form.monday(today)
    load = load_of(answer, first + WEEK * weeks) if answer else None
    page = hand_page(
        person,
        load.people.get(person.key, Hours()) if load else Hours(),
        today=today,
        first=first,
        weeks=weeks,
        job_page="job" if lead else "bench_job",
    )
    context = {"page": page, "known": bool(answer), "lead": lead}
    context |= {"plan": plan_words(answer)}
    return render(request, "lead/hand.html", context)
