"""What a plan file of this workshop would hold."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from builds.models import Build, Job, Person, Vendor, Workshop


@dataclass(frozen=True, slots=True)
class ExchangePage:
    """How much there is, and the moment it would be written for."""

    now: datetime
    cars: int
    jobs: int
    people: int
    vendors: int


def exchange_page() -> ExchangePage:
    """Count what there is."""
    return ExchangePage(
        now=Workshop.current().clock(),
        cars=Build.objects.count(),
        jobs=Job.objects.count(),
        people=Person.objects.count(),
        vendors=Vendor.objects.count(),
    )
