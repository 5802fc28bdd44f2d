"""Phones that open with a few digits, because somebody let them."""

from __future__ import annotations

from django.conf import settings
from django.db import models


class PairedPhone(models.Model):
    """A phone of somebody's; without a `pin` it is only invited so far.

    `digest` is the hash of the secret the phone keeps, or of the invitation.
    """

    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="phones"
    )
    digest = models.CharField(max_length=64, unique=True)
    pin = models.CharField(max_length=200, blank=True, default="")
    misses = models.PositiveSmallIntegerField(default=0)
    at = models.DateTimeField(auto_now_add=True)
    seen_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"the phone of {self.user}"
