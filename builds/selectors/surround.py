"""What stands around every page: the workshop's name and how fresh the answer is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.db.models import Max, Min
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
    asked = _asked()
    return {
        "workshop": workshop,
        "forecast": _freshness(workshop, asked),
        "alarms": alarms(asked.get(ForecastState.QUEUED), lead=user.role == Role.LEAD),
    }


def _asked() -> dict[str, Asked]:
    """Give since when the oldest question of each state is asked, and the newest."""
    runs = Forecast.objects.order_by().values_list("state")
    found = runs.annotate(Min("asked_at"), Max("asked_at"))
    return {state: Asked(*when) for state, *when in found}


def _freshness(workshop: Workshop, asked: Mapping[str, Asked]) -> Freshness:
    waiting = any(one in asked for one in AWAITED)
    if ForecastState.DONE not in asked:
        return Freshness(None, waiting, False)
    done = asked[ForecastState.DONE].newest
    zone = ZoneInfo(workshop.timezone)
    local = done.astimezone(zone).replace(tzinfo=None)
    changed = max(one.newest for one in asked.values()) != done
    return Freshness(workshop.now or local, waiting, changed and not waiting)
