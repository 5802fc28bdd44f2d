"""Ask the engine about the whole workshop and keep what it says."""

from __future__ import annotations

import time
from datetime import datetime, timedelta

from django.db import IntegrityError, transaction
from django.db.models import Max
from django.utils import timezone

import scheduling
from builds.models import Forecast, ForecastState
from builds.planning.engine import ask
from builds.planning.following import plan_followed
from builds.planning.pulse import LOST, Pulse
from builds.planning.question import Question, as_rows, read_question

KEPT = 20  # answered forecasts; each may hold a megabyte


def replan(*, at: datetime | None = None) -> Forecast:
    """Answer the plan as it stands; the same plan is never worked out twice.

    The claim is made before the plan is read, so a change made meanwhile leaves a
    queued forecast of its own behind.
    """
    forecast = _claim()
    try:
        question = read_question(at=at)
        known = _known(question.digest, forecast)
        return known or _work_out(forecast, question)
    except scheduling.PlanError as error:
        return _fail(forecast, str(error), faults=error.faults)
    except Exception as error:
        _fail(forecast, f"{type(error).__name__}: {error}")
        raise


def answered(question: Question, *, asked_at: datetime) -> Forecast:
    """Give the answer to a question, worked out if nobody has asked it before."""
    known = Forecast.objects.filter(
        state=ForecastState.DONE, input_hash=question.digest
    ).first()
    if known:
        return known
    state = ForecastState.RUNNING
    forecast = Forecast.objects.create(
        state=state, asked_at=asked_at, seen=timezone.now()
    )
    try:
        return _work_out(forecast, question)
    except Exception as error:
        _fail(forecast, f"{type(error).__name__}: {error}")
        raise


def give_back_lost() -> None:
    """Queue again what was taken by someone who gives no sign of life."""
    running = Forecast.objects.filter(state=ForecastState.RUNNING)
    running.exclude(seen__gte=timezone.now() - LOST).update(state=ForecastState.QUEUED)


def _claim() -> Forecast:
    """Take the newest question; the older ones are answered by it too."""
    now = timezone.now()
    with transaction.atomic():
        queued = list(
            Forecast.objects.select_for_update()
            .filter(state=ForecastState.QUEUED)
            .order_by("pk")
        )
        forecast = queued.pop() if queued else Forecast(state=ForecastState.QUEUED)
        _supersede(queued)
        forecast.state = ForecastState.RUNNING
        forecast.progress = "Reading the plan"
        forecast.seen = now
        forecast.asked_at = _after_all(now)
        forecast.share = 0.0
        forecast.save()
    return forecast


def _after_all(now: datetime) -> datetime:
    """Give a time behind every other question's, though the clock was set back."""
    newest = Forecast.objects.aggregate(newest=Max("asked_at"))["newest"]
    return max(now, newest + timedelta(microseconds=1)) if newest else now


def _supersede(forecasts: list[Forecast]) -> None:
    Forecast.objects.filter(pk__in=[one.pk for one in forecasts]).update(
        state=ForecastState.SUPERSEDED, finished=timezone.now(), progress=""
    )


def _known(digest: str, forecast: Forecast) -> Forecast | None:
    """Give the answer to this very plan, if there is one, as the newest again."""
    known = Forecast.objects.filter(state=ForecastState.DONE, input_hash=digest).first()
    if known is None:
        return None
    _supersede([forecast])
    known.asked_at = forecast.asked_at
    known.save(update_fields=["asked_at"])
    return known


def _work_out(forecast: Forecast, question: Question) -> Forecast:
    forecast.input_hash = question.digest
    forecast.progress = "Working it out"
    forecast.seen = timezone.now()
    forecast.save(update_fields=["input_hash", "progress", "seen"])
    began = time.monotonic()
    forecast.answer = ask(
        question.plan,
        following=plan_followed(question.shop),
        watch=Pulse(forecast, fresh=True),
    )
    forecast.seconds = time.monotonic() - began
    return _finish(forecast)


def _finish(forecast: Forecast) -> Forecast:
    forecast.state = ForecastState.DONE
    forecast.progress = ""
    forecast.share = 1.0
    forecast.finished = timezone.now()
    try:
        with transaction.atomic():
            forecast.save()
    except IntegrityError:
        done = Forecast.objects.filter(state=ForecastState.DONE)
        first = done.filter(input_hash=forecast.input_hash).first()
        if first is None:  # the answer itself cannot be kept
            raise
        _supersede([forecast])  # another worker answered the same plan first
        return first
    _tidy(forecast)
    return forecast


def _tidy(forecast: Forecast) -> None:
    """Close what a newer answer has overtaken and drop old answers."""
    _supersede(
        list(Forecast.objects.filter(state=ForecastState.RUNNING, pk__lt=forecast.pk))
    )
    answered = Forecast.objects.exclude(state__in=("queued", "running"))
    newest_first = answered.order_by("-asked_at", "-pk").values_list("pk", flat=True)
    if old := list(newest_first[KEPT:]):
        Forecast.objects.filter(pk__in=old).delete()


def _fail(
    forecast: Forecast, words: str, *, faults: tuple[scheduling.Fault, ...] = ()
) -> Forecast:
    forecast.state = ForecastState.FAILED
    forecast.answer = {}  # what cannot be kept must not stand in the way of the words
    forecast.progress = ""
    forecast.error = words
    forecast.faults = as_rows(faults)
    forecast.finished = timezone.now()
    forecast.save()
    return forecast
