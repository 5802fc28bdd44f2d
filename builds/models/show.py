"""Dated events and the cars entered."""

from __future__ import annotations

from django.db import models

from builds.models.keyed import Keyed
from builds.models.wall_clock import WallClockField


class Show(Keyed):
    """A dated event; its move-in does not move by itself."""

    name = models.TextField(blank=True)
    move_in = WallClockField()
    left_out = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)


class ShowEntry(models.Model):
    """A car entered for a show and the readiness level wanted there."""

    show = models.ForeignKey(Show, on_delete=models.CASCADE, related_name="entries")
    build = models.ForeignKey(
        "builds.Build", on_delete=models.CASCADE, related_name="entries"
    )
    # In the plan file no level (the top one) and an empty name are different.
    level = models.TextField(null=True, blank=True)  # noqa: DJ001

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("show", "build"), name="a_car_enters_a_show_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.build_id} at {self.show_id}"
