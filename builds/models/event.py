"""Who did what, and when: written once and never changed."""

from __future__ import annotations

from typing import Any, NoReturn

from django.conf import settings
from django.db import models


class AppendOnly(models.QuerySet["Event"]):
    """Rows that may be added and read, nothing else."""

    def update(self, **kwargs: Any) -> NoReturn:
        """Refuse: what was written stays."""
        raise TypeError("Events are never changed.")

    def delete(self) -> NoReturn:
        """Refuse: what was written stays."""
        raise TypeError("Events are never deleted.")


class Event(models.Model):
    """One thing someone did. `by` is empty when the workshop did it by itself."""

    at = models.DateTimeField(auto_now_add=True, db_index=True)
    # Only of what a phone without a connection sent later.
    pressed_at = models.DateTimeField(null=True, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True
    )
    verb = models.CharField(max_length=40)
    build = models.ForeignKey(
        "builds.Build",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="events",
    )
    job = models.ForeignKey(
        "builds.Job",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="events",
    )
    subject = models.TextField(blank=True)
    before = models.JSONField(default=dict, blank=True)
    after = models.JSONField(default=dict, blank=True)
    words = models.TextField(blank=True)
    # One to one: an act is taken back once.
    undoes = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="undone"
    )

    objects = AppendOnly.as_manager()

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"{self.verb}: {self.subject}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write it once."""
        if self.pk is not None:
            raise TypeError("Events are never changed.")
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refuse: what was written stays."""
        raise TypeError("Events are never deleted.")
