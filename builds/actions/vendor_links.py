"""A vendor's private link: made, replaced, revoked, opened."""

from __future__ import annotations

from datetime import timedelta

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from builds.access.tokens import SHOWN, digest_of, new_token
from builds.actions.errors import Refused
from builds.actions.record import record
from builds.models import User, Vendor, VendorLink

USUAL_DAYS, MOST_DAYS = 90, 365


@transaction.atomic
def make_link(
    *, by: User, vendor: Vendor, days: int = USUAL_DAYS
) -> tuple[VendorLink, str]:
    """Make a link; the token is given back once and not kept."""
    if not 1 <= days <= MOST_DAYS:
        raise Refused(f"A link lasts between 1 and {MOST_DAYS} days.")
    token = new_token()
    link = VendorLink.objects.create(
        vendor=vendor,
        digest=digest_of(token),
        start=token[:SHOWN],
        made_by=by,
        expires_at=timezone.now() + timedelta(days=days),
    )
    after = {"link": link.start, "days": days}
    record(by=by, verb="made vendor link", subject=vendor, after=after, planned=False)
    return link, token


@transaction.atomic
def revoke_link(*, by: User, link: VendorLink) -> VendorLink:
    """Let a link lead nowhere from now on."""
    if link.revoked_at is not None:
        return link
    link.revoked_at = timezone.now()
    link.save(update_fields=["revoked_at"])
    record(
        by=by,
        verb="revoked vendor link",
        subject=link.vendor,
        before={"link": link.start},
        planned=False,
    )
    return link


@transaction.atomic
def replace_link(*, by: User, link: VendorLink) -> tuple[VendorLink, str]:
    """Revoke a link and make another for the same vendor."""
    revoke_link(by=by, link=link)
    return make_link(by=by, vendor=link.vendor)


def find_link(token: str) -> VendorLink | None:
    """Give the link a token opens; wrong, expired and revoked ones open none."""
    link = VendorLink.objects.filter(digest=digest_of(token)).first()
    now = timezone.now()
    return link if link is not None and link.is_open(now) else None


def note_opening(link: VendorLink) -> None:
    """Count that a link was opened."""
    VendorLink.objects.filter(pk=link.pk).update(
        opened=F("opened") + 1, last_opened_at=timezone.now()
    )
