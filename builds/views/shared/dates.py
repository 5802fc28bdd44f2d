"""A calendar that a calendar program fetches by itself (RFC 5545)."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from builds.actions.share_links import open_link, tell
from builds.models import ShareKind
from builds.selectors.calendar_feed import calendar_of
from builds.views.shared.door import nothing, with_care

KINDS = (ShareKind.CAR_DATES, ShareKind.PERSON_DATES, ShareKind.VENDOR_DATES)


@require_safe
@with_care
def dates(request: HttpRequest, secret: str) -> HttpResponse:
    link = open_link(secret=secret, kinds=KINDS)
    if link is None:
        return nothing(request)
    text, told = calendar_of(link)
    tell(link=link, told=told)
    answer = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    answer["Content-Disposition"] = 'inline; filename="workshop.ics"'
    return answer
