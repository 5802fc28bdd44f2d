"""Which plan people follow: the new one, or the order of the old."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.record import record, update
from builds.models import User, Workshop
from builds.planning.following import told
from builds.selectors.answers import newest_run, one_before


@transaction.atomic
def follow_new_plan(*, by: User) -> Workshop:
    """Let people follow the plan as it stands now; what moves is told against it."""
    forecast = newest_run()
    if forecast is None:
        raise Refused("There is no plan yet.")
    return _settle(by, "followed plan", told(forecast), keep=False)


@transaction.atomic
def keep_old_order(*, by: User) -> Workshop:
    """Let the plan keep to the order people follow, until they follow a new one."""
    shop = Workshop.current()
    followed = shop.followed or _before()
    if not followed:
        raise Refused("There is no plan before this one whose order could be kept.")
    return _settle(by, "kept order", followed, keep=True)


def _before() -> dict[str, Any]:
    forecast = newest_run()
    return told(one_before(forecast)) if forecast else {}


def _settle(
    by: User, verb: str, followed: Mapping[str, Any], *, keep: bool
) -> Workshop:
    shop = Workshop.objects.select_for_update().get_or_create(pk=1)[0]
    was = {"keep_order": shop.keep_order}
    update(shop, {"followed": dict(followed), "keep_order": keep})
    after = {"keep_order": keep}
    record(by=by, verb=verb, subject=shop, before=was, after=after, typed=False)
    return shop
