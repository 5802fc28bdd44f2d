"""Write rows by key: new ones are added, known ones overwritten, the rest removed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeVar

from django.db import models
from django.db.models import F

from builds.models.keyed import Keyed

Thing = TypeVar("Thing", bound=Keyed)
Child = TypeVar("Child", bound=models.Model)

KEPT = {"id", "key", "version"}


def upsert(model: type[Thing], rows: Iterable[Thing]) -> dict[str, Thing]:
    """Write the rows in their order and give them by key, each with its number."""
    numbered = list(rows)
    for position, row in enumerate(numbered):
        row.position = position
    keys = [row.key for row in numbered]
    names = [one.attname for one in model._meta.concrete_fields]
    if "version" in names:  # whoever has a page of one open is told when they save
        known = model._default_manager.filter(key__in=keys)
        known.update(version=F("version") + 1)
    written = model._default_manager.bulk_create(
        numbered,
        update_conflicts=True,
        unique_fields=["key"],
        update_fields=[name for name in names if name not in KEPT],
    )
    return {row.key: row for row in written}


def remove_others(model: type[Thing], kept: Mapping[str, Thing]) -> None:
    """Remove the rows whose key is not among `kept`."""
    known = set(model._default_manager.values_list("pk", flat=True))
    gone = known - {row.pk for row in kept.values()}
    model._default_manager.filter(pk__in=gone).delete()


def replace_children(model: type[Child], rows: Iterable[Child]) -> None:
    """Write these rows in place of all there were."""
    model._default_manager.all().delete()
    model._default_manager.bulk_create(list(rows))
