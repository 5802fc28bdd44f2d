"""Outside firms and the days they are shut."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.record import change, create, record
from builds.models import User, Vendor, VendorClosure


@transaction.atomic
def create_vendor(*, by: User, name: str, **fields: Any) -> Vendor:
    """Add a vendor."""
    vendor = create(Vendor, name, {"name": name, **fields})
    after = {"name": name, **fields}
    record(by=by, verb="created vendor", subject=vendor, after=after)
    return vendor


@transaction.atomic
def change_vendor(
    *, by: User, vendor: Vendor, fields: Mapping[str, Any], version: int | None = None
) -> Vendor:
    """Change a vendor's facts."""
    return _change(by, vendor, "changed vendor", fields, version)


@transaction.atomic
def leave_out_vendor(*, by: User, vendor: Vendor) -> Vendor:
    """Send this vendor nothing new, for now."""
    return _change(by, vendor, "left out vendor", {"left_out": True})


@transaction.atomic
def restore_vendor(*, by: User, vendor: Vendor) -> Vendor:
    """Work with this vendor again."""
    return _change(by, vendor, "restored vendor", {"left_out": False})


@transaction.atomic
def add_closure(*, by: User, vendor: Vendor, first: date, last: date) -> VendorClosure:
    """Say that a vendor is shut, both days included."""
    if last < first:
        raise Refused("The last day shut is before the first.")
    closure = VendorClosure.objects.create(vendor=vendor, first=first, last=last)
    after = {"first": first, "last": last}
    record(by=by, verb="added closure", subject=vendor, after=after)
    return closure


@transaction.atomic
def remove_closure(*, by: User, closure: VendorClosure) -> Vendor:
    """Say that a vendor is open after all."""
    before = {"first": closure.first, "last": closure.last}
    vendor = closure.vendor
    closure.delete()
    record(by=by, verb="removed closure", subject=vendor, before=before)
    return vendor


def _change(
    by: User,
    vendor: Vendor,
    verb: str,
    fields: Mapping[str, Any],
    version: int | None = None,
) -> Vendor:
    before, after = change(vendor, fields, version=version)
    record(by=by, verb=verb, subject=vendor, before=before, after=after)
    return vendor
