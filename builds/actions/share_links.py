"""Addresses given out, replaced and taken back; and found again by their secret."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from builds.access.tokens import SHOWN, digest_of, new_token
from builds.actions.errors import Refused
from builds.actions.record import record
from builds.models import Build, Person, ShareKind, ShareLink, User, Vendor

USUAL = timedelta(days=90)
LONGEST_DAYS = 365
VISIT = timedelta(minutes=30)
KEPT = {Build: "build", Person: "person", Vendor: "vendor"}


@transaction.atomic
def give_link(
    *,
    by: User,
    kind: ShareKind,
    what: Build | Person | Vendor,
    days: int = USUAL.days,
) -> tuple[ShareLink, str]:
    """Make an address; give its row and its secret, which is not kept."""
    if not 1 <= days <= LONGEST_DAYS:
        raise Refused(f"An address holds for 1 to {LONGEST_DAYS} days.")
    secret = new_token()
    link = ShareLink.objects.create(
        kind=kind,
        digest=digest_of(secret),
        shown=secret[:SHOWN],
        by=by,
        expires_at=timezone.now() + timedelta(days=days),
        **{KEPT[type(what)]: what},
    )
    _record(by, "gave address", link, {"holds_days": days})
    return link, secret


@transaction.atomic
def revoke_link(*, by: User, link: ShareLink) -> ShareLink:
    """Take an address back: from now on it opens nothing."""
    if link.revoked_at is None:
        link.revoked_at = timezone.now()
        link.save(update_fields=["revoked_at"])
        _record(by, "took address back", link, {})
    return link


@transaction.atomic
def replace_link(*, by: User, link: ShareLink) -> tuple[ShareLink, str]:
    """Give a new address in place of one that has gone astray."""
    what = link.what
    assert isinstance(what, Build | Person | Vendor)
    revoke_link(by=by, link=link)
    return give_link(by=by, kind=ShareKind(link.kind), what=what)


def open_link(*, secret: str, kinds: tuple[ShareKind, ...]) -> ShareLink | None:
    """Give what a secret opens, if it still does; a visit is counted once."""
    now = timezone.now()
    found = ShareLink.objects.open_now().filter(kind__in=kinds)
    link = found.filter(digest=digest_of(secret)).select_related("build").first()
    if link is not None and (link.opened_at is None or link.opened_at < now - VISIT):
        same = ShareLink.objects.filter(pk=link.pk)
        same.update(opened=F("opened") + 1, opened_at=now)
    return link


def is_open(*, secret: str, kinds: tuple[ShareKind, ...]) -> bool:
    """Say whether a secret opens something, without counting it as a visit."""
    found = ShareLink.objects.open_now().filter(kind__in=kinds)
    return found.filter(digest=digest_of(secret)).exists()


def tell(*, link: ShareLink, told: dict[str, Any]) -> None:
    """Keep what a calendar said, so that a change can be told as one."""
    if told != link.told:
        ShareLink.objects.filter(pk=link.pk).update(told=told)


def _record(by: User, verb: str, link: ShareLink, after: dict[str, Any]) -> None:
    facts = {"kind": link.kind, "shown": link.shown, **after}
    record(
        by=by,
        verb=verb,
        subject=link.what,
        build=link.build,
        after=facts,
        planned=False,
    )
