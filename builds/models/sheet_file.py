"""A spreadsheet handed in, on its way into the plan."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class SheetFile(models.Model):
    """The words of a file's sheets, what was said about them, and when it was taken.

    `tables`: [[name, rows, unread cells]]; `said`: what each sheet stands for, by its
    place: {"0": {"sort": "jobs", "heading": 1, "columns": {"0": "title"}, "car": ""}}.
    The file itself is not kept.
    """

    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE)
    name = models.TextField()
    tables = models.JSONField(default=list)
    said = models.JSONField(default=dict)
    at = models.DateTimeField(auto_now_add=True, db_index=True)
    taken_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return self.name
