"""The newest answer of the engine, read in one place."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import datetime
from math import floor

from builds.charts import Finish
from builds.models import Forecast, ForecastState
from builds.selectors.kept_answers import Facts as Facts
from builds.selectors.kept_answers import kept

BROKEN = "It could not be worked out. Tell whoever looks after this program."


def newest() -> Forecast | None:
    """Give the newest run that is done; its summary is no one's to change."""
    return _with_summary(newest_run())


def newest_run() -> Forecast | None:
    """Give the same, for whom it is enough when it was asked."""
    return Forecast.objects.defer("summary").latest_done()


def planned_of(forecast: Forecast | None, keys: Collection[str]) -> dict[str, Facts]:
    """Give what an answer says of these jobs, by key; nothing where there is none."""
    return kept(forecast).facts(keys) if forecast else {}


def planned_now(keys: Collection[str]) -> dict[str, Facts]:
    """Give what the newest answer says of these jobs."""
    return planned_of(newest_run(), keys)


def answer_about(forecast: Forecast | None, keys: Collection[str]) -> Facts:
    """Give an answer with no more jobs in it than these; empty where there is none."""
    if forecast is None:
        return {}
    return {**forecast.summary, "jobs": planned_of(forecast, keys)}


def one_before(forecast: Forecast) -> Forecast | None:
    """Give the run that was done before this one."""
    done = Forecast.objects.filter(asked_at__lt=forecast.asked_at)
    return _with_summary(done.defer("summary").latest_done())


def _with_summary(found: Forecast | None) -> Forecast | None:
    """Give a run its summary as this process knows it."""
    if found is not None:
        found.summary = kept(found).summary
    return found


def failure() -> tuple[str, ...]:
    """Say why the newest question has no answer; nothing if it has, or is asked yet."""
    runs = Forecast.objects.filter(state__in=(ForecastState.DONE, ForecastState.FAILED))
    last = runs.defer("summary").order_by("-asked_at", "-pk").first()
    if last is None or last.state == ForecastState.DONE:
        return ()
    return tuple(_sentences(one) for one in last.faults) or (BROKEN,)


def _sentences(fault: Facts) -> str:
    what = str(fault["what"]).rstrip(".")
    return f"{what[:1].upper()}{what[1:]}. {fault['fix']}"


def moment(text: str | None) -> datetime | None:
    """Read a moment of the answer."""
    return datetime.fromisoformat(text) if text else None


def whole_days(days: float | None) -> float | None:
    """Give days in hand without the part of a day nobody can be sure of."""
    return None if days is None else float(floor(days))


def finish_of(points: Facts | None) -> Finish | None:
    """Give the 10, 50, 80 and 90 % finishes of a level."""
    if not points or not points.get("p50"):
        return None
    return Finish(
        *(datetime.fromisoformat(points[f"p{one}"]) for one in (10, 50, 80, 90))
    )


def entries(answer: Facts) -> Iterator[tuple[str, str, Facts]]:
    """Give every (show, car, entry) of an answer."""
    for show, facts in answer.get("shows", {}).items():
        for build, entry in facts["entries"].items():
            yield show, build, entry


def wanted_chance(entry: Facts) -> float:
    """Give the chance of the level that is wanted."""
    return float(entry["levels"][entry["level"]]["probability"])
