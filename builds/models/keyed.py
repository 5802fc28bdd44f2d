"""What every row of the plan has: its name in the plan file and its place in it."""

from __future__ import annotations

from django.db import models


class Keyed(models.Model):
    """A thing of the plan; `key` is its id in the plan file."""

    key = models.CharField(max_length=100, unique=True)
    position = models.PositiveIntegerField(default=0)

    class Meta:
        abstract = True
        ordering = ("position", "pk")

    def __str__(self) -> str:
        return getattr(self, "title", "") or getattr(self, "name", "") or self.key
