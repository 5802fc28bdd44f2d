"""Everything the site keeps, so that two ways of doing something can be compared."""

from __future__ import annotations

from typing import Any

from django.apps import apps
from django.db import models

# Who is signed in where, and which forms have come.
PASSING = {"Session", "UserSession", "SentForm", "Migration"}
Rows = dict[str, list[dict[str, Any]]]


def everything() -> Rows:
    """Give every row of every table; rows by their place, as numbers are not reused."""
    kept = [one for one in apps.get_models() if one.__name__ not in PASSING]
    rows = {one: list(one._base_manager.order_by("pk").values()) for one in kept}
    place = {
        model: {row[key(model)]: at for at, row in enumerate(found)}
        for model, found in rows.items()
    }
    return {
        model._meta.label: [_plain(model, row, place) for row in found]
        for model, found in rows.items()
    }


def key(model: type[models.Model]) -> str:
    pk = model._meta.pk
    assert pk is not None
    return pk.attname


def _plain(
    model: type[models.Model], row: dict[str, Any], place: dict[Any, dict[Any, int]]
) -> dict[str, Any]:
    plain = {}
    for field in model._meta.concrete_fields:
        value = row[field.attname]
        if field.primary_key:
            value = place[model][value]
        elif field.is_relation:
            value = place.get(field.related_model, {}).get(value, value)
        plain[field.attname] = value
    return plain
