"""Plan files handed in to be answered: each once, whoever asks."""

from __future__ import annotations

import time
from collections.abc import Mapping
from typing import Any

from django.utils import timezone

import scheduling
from builds.models import FileState, PlanFile
from builds.planning.engine import digest
from builds.planning.pulse import LOST


def hand_in(text: str | bytes, options: Mapping[str, Any]) -> PlanFile:
    """Keep a plan file to be answered, or give the row of the same input.

    Raises PlanError with every fault. One that failed before is tried again.
    """
    plan = scheduling.read_plan(text)
    row, new = PlanFile.objects.get_or_create(
        input_hash=digest(plan, options),
        defaults={"text": scheduling.dump_plan(plan), "options": dict(options)},
    )
    if not new and row.state == FileState.FAILED:
        row.state, row.error = FileState.QUEUED, ""
        row.save(update_fields=["state", "error"])
    return row


def answer_file(pk: int, *, takes_over: bool = False) -> PlanFile | None:
    """Answer one file; None if another worker has it, or it is answered."""
    states = [FileState.QUEUED, *([FileState.RUNNING] if takes_over else [])]
    taken = PlanFile.objects.filter(pk=pk, state__in=states).update(
        state=FileState.RUNNING, seen=timezone.now()
    )
    if not taken:
        return None
    row = PlanFile.objects.get(pk=pk)
    began = time.monotonic()
    try:
        plan = scheduling.read_plan(row.text)
        answer = scheduling.answer(plan, **row.options)
        row.answer, row.state = answer.as_dict(), FileState.DONE
    except Exception as error:
        row.error, row.state = f"{type(error).__name__}: {error}", FileState.FAILED
        raise
    finally:
        row.seconds = time.monotonic() - began
        row.share, row.finished = 1.0, timezone.now()
        row.save()
    return row


def give_back_lost() -> None:
    """Queue again what was taken by someone who gives no sign of life."""
    PlanFile.objects.filter(
        state=FileState.RUNNING, seen__lt=timezone.now() - LOST
    ).update(state=FileState.QUEUED, seen=None)
