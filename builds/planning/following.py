"""The plan people follow, as the engine takes it: when each job was, and whose."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from builds.models import Forecast, Workshop

Facts = Mapping[str, Any]


def told(forecast: Forecast | None) -> dict[str, Any]:
    """Give what people were told by a forecast: when each open job is, and whose."""
    if forecast is None:
        return {}
    planned = forecast.jobs.exclude(planned_start="").exclude(condition="done")
    rows = planned.values_list("key", "planned_start", "who").order_by()
    return {
        key: {"planned_start": start, "who": who.split()} for key, start, who in rows
    }


def following(followed: Facts | None, *, kept: bool) -> dict[str, Any] | None:
    """Give the `following` of `scheduling.answer`; None where there is none to follow.

    `followed` is what `told` gave. With `kept` its order stands before a shorter plan.
    """
    return {"jobs": dict(followed), "keep": kept} if followed else None


def plan_followed(shop: Workshop | None = None) -> dict[str, Any] | None:
    """Give the plan people follow now: the one they were told, else the newest.

    `shop` is the workshop, where somebody has just read it.
    """
    shop = shop or Workshop.current()
    followed = shop.followed or told(Forecast.objects.defer("summary").latest_done())
    return following(followed, kept=shop.keep_order)


def told_so(shop: Workshop | None = None) -> dict[str, Any] | None:
    """Give what the lead said of the order, if anything: it is part of the question."""
    shop = shop or Workshop.current()
    return following(shop.followed, kept=shop.keep_order)
