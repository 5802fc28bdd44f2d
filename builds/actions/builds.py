"""Cars: taken on, changed, left out and put back."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from builds.actions.record import change, create, record
from builds.models import Build, User


@transaction.atomic
def create_build(*, by: User, name: str, **fields: Any) -> Build:
    """Take a car on."""
    build = create(Build, name, {"name": name, **fields})
    after = {"name": name, **fields}
    record(by=by, verb="created build", subject=build, build=build, after=after)
    return build


@transaction.atomic
def change_build(
    *, by: User, build: Build, fields: Mapping[str, Any], version: int | None = None
) -> Build:
    """Change a car's facts; raises Conflict if it is no longer at `version`."""
    return _change(by, build, "changed build", fields, version)


@transaction.atomic
def leave_out_build(*, by: User, build: Build) -> Build:
    """Take a car and all its jobs out of the plan, for now."""
    return _change(by, build, "left out build", {"left_out": True}, None)


@transaction.atomic
def restore_build(*, by: User, build: Build) -> Build:
    """Put a car back into the plan."""
    return _change(by, build, "restored build", {"left_out": False}, None)


def _change(
    by: User, build: Build, verb: str, fields: Mapping[str, Any], version: int | None
) -> Build:
    before, after = change(build, fields, version=version)
    record(by=by, verb=verb, subject=build, build=build, before=before, after=after)
    return build
