"""Forms that have reached us, so that the same one sent twice counts once."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class SentForm(models.Model):
    """A form by the hash of its one-time word and all that was typed in it.

    `answer` is the address the first sending led to, `version` that of its job then.
    """

    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE)
    content = models.CharField(max_length=64)
    answer = models.TextField(blank=True)
    version = models.PositiveIntegerField(null=True, blank=True)
    at = models.DateTimeField(auto_now_add=True, db_index=True)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("by", "content"), name="a_form_counts_once_for_each_person"
            ),
        )

    def __str__(self) -> str:
        return f"{self.content[:8]} by {self.by_id}"
