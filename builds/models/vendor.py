"""Outside firms and what they have said and done."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import models
from django.db.models import F, Q

from builds.models.keyed import Keyed

if TYPE_CHECKING:
    from builds.models.job import Job


class Vendor(Keyed):
    """An outside firm."""

    name = models.TextField(blank=True)
    calendar = models.ForeignKey(
        "builds.WorkCalendar", on_delete=models.SET_NULL, null=True, blank=True
    )
    minimum_charge = models.FloatField(null=True, blank=True)
    slot_every = models.PositiveIntegerField(null=True, blank=True)
    slot_from = models.DateField(null=True, blank=True)
    batch: models.JSONField[Any, Any] = models.JSONField(
        null=True, blank=True, help_text="What one batch is: alike in what, how heavy."
    )
    reject_chance = models.FloatField(default=0.0)
    does = models.TextField(blank=True)
    phone = models.TextField(blank=True)
    note = models.TextField(blank=True)
    left_out = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)

    class Meta(Keyed.Meta):
        constraints = (
            models.CheckConstraint(
                condition=Q(slot_every__isnull=True, slot_from__isnull=True)
                | Q(slot_every__gte=1, slot_from__isnull=False),
                name="a_slot_rule_has_a_day_and_a_spacing",
            ),
            models.CheckConstraint(
                condition=Q(reject_chance__range=(0, 1)),
                name="reject_chance_is_a_chance",
            ),
        )

    def alike(self, job: Job) -> tuple[str, ...]:
        """Give what a job has to share with others of its batch here."""
        return tuple(getattr(job, name) for name in (self.batch or {}).get("same", ()))


class VendorClosure(models.Model):
    """Whole days a vendor is shut, first and last included."""

    vendor = models.ForeignKey(Vendor, on_delete=models.CASCADE, related_name="closed")
    first = models.DateField()
    last = models.DateField()

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=Q(first__lte=F("last")), name="a_closure_ends_after_it_begins"
            ),
        )

    def __str__(self) -> str:
        return f"{self.first} to {self.last}"


class PastReturn(models.Model):
    """What a vendor once quoted and what it took, in the vendor's working days.

    `waited_days` of `actual_days` went by before the vendor could start.
    """

    vendor = models.ForeignKey(Vendor, on_delete=models.CASCADE, related_name="history")
    quoted_days = models.FloatField()
    actual_days = models.FloatField()
    waited_days = models.FloatField(default=0.0)
    what = models.TextField(blank=True)
    back = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=Q(quoted_days__gt=0, actual_days__gt=0),
                name="a_return_took_some_days",
            ),
            models.CheckConstraint(
                condition=Q(waited_days__gte=0, waited_days__lt=F("actual_days")),
                name="a_return_was_worked_on",
            ),
        )

    def __str__(self) -> str:
        return f"quoted {self.quoted_days:g}, took {self.actual_days:g}"


class Promise(models.Model):
    """A date a vendor gave (empty: would not say), when, and who took it.

    `asked` is what was asked in that call, `speaker` who said it.
    """

    job = models.ForeignKey(
        "builds.Job", on_delete=models.CASCADE, related_name="promises"
    )
    date = models.DateField(null=True, blank=True)
    given = models.DateField(null=True, blank=True)
    by = models.TextField(blank=True)
    said = models.TextField(blank=True)
    asked = models.TextField(blank=True)
    speaker = models.TextField(blank=True)

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return str(self.date or "no date")
