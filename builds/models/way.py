"""Ways to get one job done: in house, or at some vendor."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from builds.models.job import Kind


class Way(models.Model):
    """One way, with how long it takes, what it costs and how it may go wrong."""

    job = models.ForeignKey("builds.Job", on_delete=models.CASCADE, related_name="ways")
    key = models.CharField(max_length=100)
    name = models.TextField(blank=True)
    kind = models.CharField(max_length=20, choices=Kind, default=Kind.BENCH)
    vendor = models.ForeignKey(
        "builds.Vendor",
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="ways",
    )
    # In the plan file no trade and an empty name are different.
    trade = models.TextField(null=True, blank=True)  # noqa: DJ001
    trade_level = models.PositiveSmallIntegerField(null=True, blank=True)
    low = models.FloatField(null=True, blank=True)
    likely = models.FloatField(null=True, blank=True)
    high = models.FloatField(null=True, blank=True)
    fixed = models.BooleanField(default=False)
    cost = models.FloatField(null=True, blank=True)
    spoil_chance = models.FloatField(default=0.0)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("job", "key"), name="a_way_is_named_once"),
            models.CheckConstraint(
                condition=Q(spoil_chance__range=(0, 1)),
                name="spoil_chance_is_a_chance",
            ),
        )

    def __str__(self) -> str:
        return self.name or self.key
