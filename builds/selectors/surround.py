"""What stands around every page: the workshop's name and how fresh the answer is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db.models import Q, Subquery
from django.http import HttpRequest
from django.utils import timezone

from builds.models import Forecast, ForecastState, Workshop
from builds.models.forecast import AWAITED
from builds.models.user import Role
from builds.selectors.alarms import Asked, alarms


@dataclass(frozen=True, slots=True)
class Freshness:
    """When the dates on the page were worked out, and whether that still holds."""

    at: datetime | None
    running: bool
    stale: bool


def surround(request: HttpRequest) -> dict[str, object]:
    """Give every template `workshop`, and to those who work here how fresh it is.

    From here on moments are shown as the workshop's own clock shows them.
    """
    workshop = Workshop.current()
    timezone.activate(ZoneInfo(workshop.timezone))
    user = request.user
    if not user.is_authenticated or user.role == Role.CUSTOMER:
        return {"workshop": workshop}
    runs = _runs()
    waiting = [one for one in runs if one.state in AWAITED]
    return {
        "workshop": workshop,
        "forecast": _freshness(workshop, runs, bool(waiting)),
        "alarms": alarms(waiting, lead=user.role == Role.LEAD),
    }


def _runs() -> list[Asked]:
    """Give what is awaited, the newest answer and the newest question, newest first."""
    runs = Forecast.objects.order_by("-asked_at", "-pk")
    last, done = runs, runs.filter(state=ForecastState.DONE)
    either = Q(pk=Subquery(last.values("pk")[:1])) | Q(
        pk=Subquery(done.values("pk")[:1])
    )
    found = runs.filter(Q(state__in=AWAITED) | either).values_list("state", "asked_at")
    return [Asked(*one) for one in found]


def _freshness(workshop: Workshop, runs: list[Asked], waiting: bool) -> Freshness:
    done = next((one for one in runs if one.state == ForecastState.DONE), None)
    if done is None:
        return Freshness(None, waiting, False)
    zone = ZoneInfo(workshop.timezone)
    local = done.asked_at.astimezone(zone).replace(tzinfo=None)
    return Freshness(workshop.now or local, waiting, runs[0] != done and not waiting)
