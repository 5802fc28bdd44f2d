"""What waits for what."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q


class LinkKind(models.TextChoices):
    """What of the earlier job the later one waits for."""

    AFTER = "after", "after it has finished"
    WITH = "with", "with its start"
    BY = "by", "to finish no earlier"


class Link(models.Model):
    """`job` waits for `before`, plus a wait in working days or elapsed hours."""

    job = models.ForeignKey(
        "builds.Job", on_delete=models.CASCADE, related_name="links"
    )
    before = models.ForeignKey(
        "builds.Job", on_delete=models.CASCADE, related_name="links_on"
    )
    kind = models.CharField(max_length=10, choices=LinkKind, default=LinkKind.AFTER)
    wait_days = models.FloatField(default=0.0)
    wait_hours = models.FloatField(default=0.0)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.CheckConstraint(
                condition=~Q(job=F("before")), name="a_job_does_not_wait_for_itself"
            ),
            models.CheckConstraint(
                condition=Q(wait_days__gte=0, wait_hours__gte=0),
                name="a_wait_is_not_negative",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=LinkKind.values), name="link_kind_is_known"
            ),
        )

    def __str__(self) -> str:
        return f"{self.job_id} {self.kind} {self.before_id}"
