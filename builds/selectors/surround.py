"""What stands around every page: the workshop's name and how fresh the answer is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db.models import Subquery
from django.http import HttpRequest
from django.utils import timezone

from builds.models import Forecast, ForecastState, Workshop
from builds.models.user import Role
from builds.selectors.alarms import Waiting, alarms


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
    asked = Forecast.objects.waiting().values_list("state", "asked_at")
    waiting = [Waiting(*one) for one in asked]
    return {
        "workshop": workshop,
        "forecast": _freshness(workshop, bool(waiting)),
        "alarms": alarms(waiting, lead=user.role == Role.LEAD),
    }


def _freshness(workshop: Workshop, waiting: bool) -> Freshness:
    runs = Forecast.objects.order_by("-asked_at", "-pk")
    newest = Subquery(runs.values("pk")[:1])
    done = runs.filter(state=ForecastState.DONE).annotate(newest=newest)
    facts = done.values_list("pk", "asked_at", "newest").first()
    if facts is None:
        return Freshness(None, waiting, False)
    pk, asked_at, last = facts
    local = asked_at.astimezone(ZoneInfo(workshop.timezone)).replace(tzinfo=None)
    return Freshness(workshop.now or local, waiting, last != pk and not waiting)
