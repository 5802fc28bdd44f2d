"""The private links of a vendor, for the lead."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.utils import timezone

from builds.models import Vendor, VendorLink


@dataclass(frozen=True, slots=True)
class LinkLine:
    """One link: how it begins, how long it lasts, how often it was opened."""

    number: int
    start: str
    made_at: datetime
    made_by: str
    expires_at: datetime
    opened: int
    last_opened_at: datetime | None
    state: str

    @property
    def is_open(self) -> bool:
        """Say whether it still leads anywhere."""
        return self.state == "open"


def link_lines(vendor: Vendor) -> tuple[LinkLine, ...]:
    """Give a vendor's links, the newest first."""
    now = timezone.now()
    rows = vendor.private_links.select_related("made_by")
    return tuple(_line(one, now) for one in rows)


def _line(link: VendorLink, now: datetime) -> LinkLine:
    state = "open" if link.is_open(now) else "expired"
    return LinkLine(
        number=link.pk,
        start=link.start,
        made_at=link.made_at,
        made_by=str(link.made_by or "somebody"),
        expires_at=link.expires_at,
        opened=link.opened,
        last_opened_at=link.last_opened_at,
        state="revoked" if link.revoked_at else state,
    )
