"""What every run of the engine tells about itself."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone


class Run(models.Model):
    """How far a run is, and what came of it.

    `seen` is the last sign of life of whoever works on it: one that gives none is
    taken for lost. `faults` is [{where, what, fix}] of a plan that cannot be used.
    """

    progress = models.CharField(max_length=80, default="", blank=True)
    share = models.FloatField(
        default=0, validators=[MinValueValidator(0), MaxValueValidator(1)]
    )
    seen = models.DateTimeField(null=True, blank=True)
    faults = models.JSONField(default=list, blank=True)
    error = models.TextField(blank=True)
    asked_at = models.DateTimeField(default=timezone.now, db_index=True)
    finished = models.DateTimeField(null=True, blank=True)
    seconds = models.FloatField(null=True, blank=True)

    class Meta:
        abstract = True
