"""Addresses given to people who do not sign in: a customer's page, a calendar."""

from __future__ import annotations

from datetime import timedelta

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone


class ShareKind(models.TextChoices):
    """What an address opens."""

    CAR = "car", "the customer’s page"
    CAR_DATES = "car dates", "calendar of a car"
    PERSON_DATES = "person dates", "calendar of a person"
    VENDOR_DATES = "vendor dates", "calendar of a vendor’s returns"


class ShareLinkQuerySet(models.QuerySet["ShareLink"]):
    """Which addresses still open something."""

    def open_now(self) -> ShareLinkQuerySet:
        """Give those that are neither taken back nor over."""
        return self.filter(revoked_at=None, expires_at__gt=timezone.now())


class ShareLink(models.Model):
    """An address with a secret in it, of which only the hash is kept.

    `shown` are the first letters of the secret, for the list; `told` is what its
    calendar has said so far: for each entry what it said, how often it has changed.
    """

    kind = models.CharField(max_length=20, choices=ShareKind)
    build = models.ForeignKey(
        "builds.Build", on_delete=models.CASCADE, null=True, related_name="shared"
    )
    person = models.ForeignKey(
        "builds.Person", on_delete=models.CASCADE, null=True, related_name="shared"
    )
    vendor = models.ForeignKey(
        "builds.Vendor", on_delete=models.CASCADE, null=True, related_name="shared"
    )
    digest = models.CharField(max_length=64, unique=True)
    shown = models.CharField(max_length=6)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True
    )
    at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    opened = models.PositiveIntegerField(default=0)
    opened_at = models.DateTimeField(null=True, blank=True)
    told = models.JSONField(default=dict, blank=True)

    objects = ShareLinkQuerySet.as_manager()

    class Meta:
        ordering = ("-pk",)
        constraints = (
            models.CheckConstraint(
                condition=Q(kind__startswith="car", build__isnull=False)
                | Q(kind="person dates", person__isnull=False)
                | Q(kind="vendor dates", vendor__isnull=False),
                name="an_address_opens_something",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=ShareKind.values), name="share_kind_is_known"
            ),
        )

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.shown}…"

    @property
    def what(self) -> models.Model | None:
        """Give the car, the person or the vendor."""
        return self.build or self.person or self.vendor

    @property
    def ends_soon(self) -> bool:
        """Say whether it is over within a fortnight."""
        return self.expires_at < timezone.now() + timedelta(days=14)
