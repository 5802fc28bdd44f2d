"""A vendor's private way in, and what comes back by it."""

from __future__ import annotations

from datetime import datetime

from django.conf import settings
from django.db import models
from django.db.models import Q


class VendorLink(models.Model):
    """A link to one vendor's own pieces and dates; the token itself is not kept."""

    vendor = models.ForeignKey(
        "builds.Vendor", on_delete=models.CASCADE, related_name="private_links"
    )
    digest = models.CharField(max_length=64, unique=True)
    start = models.CharField(max_length=6)
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True
    )
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    opened = models.PositiveIntegerField(default=0)
    last_opened_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"{self.start}… for {self.vendor_id}"

    def is_open(self, at: datetime) -> bool:
        """Say whether it still leads anywhere."""
        return self.revoked_at is None and at < self.expires_at


class ReplyState(models.TextChoices):
    """What became of a date that a vendor put in."""

    OPEN = "open", "Waits for the lead"
    ACCEPTED = "accepted", "Accepted"
    REFUSED = "refused", "Refused"
    REPLACED = "replaced", "Replaced by a newer one"


class VendorReply(models.Model):
    """A date a vendor put in by their link (empty: cannot say); the lead decides."""

    link = models.ForeignKey(
        VendorLink, on_delete=models.CASCADE, related_name="replies"
    )
    job = models.ForeignKey(
        "builds.Job", on_delete=models.CASCADE, related_name="replies"
    )
    date = models.DateField(null=True, blank=True)
    said = models.TextField(blank=True)
    speaker = models.TextField(blank=True)
    given = models.DateField()
    state = models.CharField(
        max_length=10, choices=ReplyState, default=ReplyState.OPEN, db_index=True
    )

    class Meta:
        ordering = ("pk",)
        verbose_name_plural = "vendor replies"
        constraints = (
            models.UniqueConstraint(
                fields=("job",),
                condition=Q(state="open"),
                name="one_date_of_a_job_waits_for_the_lead",
            ),
            models.CheckConstraint(
                condition=Q(state__in=ReplyState.values), name="reply_state_is_known"
            ),
        )

    def __str__(self) -> str:
        return f"{self.date or 'no date'} for {self.job_id}"


class Knocks(models.Model):
    """How often something was tried from one place since a moment."""

    place = models.CharField(max_length=100, unique=True)
    since = models.DateTimeField(db_index=True)
    count = models.PositiveIntegerField(default=0)

    class Meta:
        verbose_name_plural = "knocks"

    def __str__(self) -> str:
        return f"{self.place}: {self.count}"
