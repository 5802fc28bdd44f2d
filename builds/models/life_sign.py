"""When something that should go on by itself was last seen doing it."""

from __future__ import annotations

from datetime import timedelta

from django.db import models
from django.utils import timezone


class LifeSign(models.Model):
    """The last sign of life of one thing: the worker, the nightly copy, the probe."""

    WORKER = "worker"
    COPY = "copy"
    PROBE = "probe"

    name = models.CharField(max_length=40, unique=True)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.name} at {self.at:%Y-%m-%d %H:%M}"

    @classmethod
    def leave(cls, name: str) -> None:
        """Say that it is there now."""
        cls.objects.update_or_create(name=name, defaults={"at": timezone.now()})

    @classmethod
    def ages(cls) -> dict[str, timedelta]:
        """Give how long each has been silent; a sign from the future is of no age."""
        now = timezone.now()
        return {
            name: max(now - at, timedelta())
            for name, at in cls.objects.values_list("name", "at")
        }
