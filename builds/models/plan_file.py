"""One plan file handed in to be answered, apart from the workshop's own plan."""

from __future__ import annotations

from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.db.models import Q

from builds.models.run import Run


class FileState(models.TextChoices):
    """How far the answer to a plan file has got."""

    QUEUED = "queued", "Queued"
    RUNNING = "running", "Running"
    DONE = "done", "Done"
    FAILED = "failed", "Failed"


class PlanFile(Run):
    """A plan file, by its hash, and its answer.

    `options` is what the engine was asked for besides: seconds, schedules, samples.
    """

    input_hash = models.CharField(max_length=64, unique=True)
    state = models.CharField(max_length=20, choices=FileState, default=FileState.QUEUED)
    text = models.TextField()
    options: models.JSONField[Any, Any] = models.JSONField(default=dict, blank=True)
    answer = models.JSONField(default=dict, blank=True, encoder=DjangoJSONEncoder)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=Q(state__in=FileState.values), name="file_state_is_known"
            ),
        )

    def __str__(self) -> str:
        return f"{self.state} {self.input_hash[:8]}"
