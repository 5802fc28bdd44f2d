"""Outside jobs that travel together."""

from __future__ import annotations

from django.db import models

from builds.models.keyed import Keyed
from builds.models.wall_clock import WallClockField


class Consignment(Keyed):
    """Outside jobs that leave for one vendor together and come back together.

    `leaves` is when it is to go, `left` when it went, `signed` who took it there.
    """

    vendor = models.ForeignKey(
        "builds.Vendor", on_delete=models.CASCADE, related_name="consignments"
    )
    name = models.TextField(blank=True)
    leaves = WallClockField(null=True, blank=True)
    left = WallClockField(null=True, blank=True)
    signed = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)
    jobs = models.ManyToManyField(
        "builds.Job", through="builds.ConsignmentJob", related_name="consignments"
    )


class ConsignmentJob(models.Model):
    """One job of a consignment."""

    consignment = models.ForeignKey(
        Consignment, on_delete=models.CASCADE, related_name="loads"
    )
    job = models.ForeignKey("builds.Job", on_delete=models.CASCADE)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("job",), name="a_job_travels_once"),
        )

    def __str__(self) -> str:
        return f"{self.job_id} in {self.consignment_id}"
