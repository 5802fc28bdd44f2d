"""Where work is done."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from builds.models.keyed import Keyed


class Place(Keyed):
    """Something that holds so much work at once: a ramp, the booth, an engine bay."""

    name = models.TextField(blank=True)
    capacity = models.PositiveIntegerField(default=1)
    calendar = models.ForeignKey(
        "builds.WorkCalendar", on_delete=models.SET_NULL, null=True, blank=True
    )
    version = models.PositiveIntegerField(default=1)

    class Meta(Keyed.Meta):
        constraints = (
            models.CheckConstraint(
                condition=Q(capacity__gte=1), name="a_place_holds_something"
            ),
        )


class PlaceUse(models.Model):
    """So many units of a place that a job takes up."""

    job = models.ForeignKey(
        "builds.Job", on_delete=models.CASCADE, related_name="place_uses"
    )
    place = models.ForeignKey(Place, on_delete=models.CASCADE, related_name="used_by")
    uses = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=Q(uses__gte=1), name="a_use_takes_something_up"
            ),
        )

    def __str__(self) -> str:
        return f"{self.place_id} x {self.uses}"
