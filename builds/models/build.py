"""One car for one customer."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from builds.models.keyed import Keyed


class Build(Keyed):
    """A car; the lowest `rank` comes first."""

    name = models.TextField(blank=True)
    rank = models.PositiveIntegerField(default=1)
    customer = models.TextField(blank=True)
    wanted = models.TextField(blank=True)
    note = models.TextField(blank=True)
    left_out = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)


class Update(models.Model):
    """A page of the diary the customer reads."""

    build = models.ForeignKey(Build, on_delete=models.CASCADE, related_name="updates")
    day = models.DateField()
    words = models.TextField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True
    )

    class Meta:
        ordering = ("-day", "-pk")

    def __str__(self) -> str:
        return f"{self.day}: {self.words[:40]}"
