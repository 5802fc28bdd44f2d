"""The firm's own settings."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from builds.actions.record import change, record, set_checked
from builds.models import User, Workshop


@transaction.atomic
def change_workshop(
    *, by: User, fields: Mapping[str, Any], version: int | None = None
) -> Workshop:
    """Change the workshop's settings."""
    shop = Workshop.current()
    before = {name: getattr(shop, name) for name in fields}
    if shop._state.adding:
        set_checked(shop, fields)
        shop.save(force_insert=True)
        after = dict(fields)
    else:
        before, after = change(shop, fields, version=version)
    record(by=by, verb="changed workshop", subject=shop, before=before, after=after)
    return shop
