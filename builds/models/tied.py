"""Which fields of a row the rules of its table tie together."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import models


def untied(row: models.Model, names: Iterable[str]) -> set[str]:
    """Give the fields that no rule ties to those of these names; none of a new row.

    What was kept has met its rules, and Django asks each of the database, three
    statements at a time. So whoever sets some fields has only these asked again.
    """
    if row._state.adding:
        return set()
    given = {row._meta.get_field(name).name for name in names}
    rules = map(_fields_of, row._meta.constraints)
    tied = given.union(*(named for named in rules if not given.isdisjoint(named)))
    return {field.name for field in row._meta.fields} - tied


def _fields_of(rule: models.BaseConstraint) -> set[str]:
    condition = getattr(rule, "condition", None)
    found = set(condition.referenced_base_fields) if condition else set()
    return found.union(getattr(rule, "fields", ()))
