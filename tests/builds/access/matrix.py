"""What `roles.toml` says, and every address there is."""

from __future__ import annotations

import tomllib
from pathlib import Path

from django.urls import URLPattern, URLResolver, get_resolver

WRITTEN = tomllib.loads(Path(__file__).with_name("roles.toml").read_text())
SAME_AS: dict[str, str] = WRITTEN["same_as"]
SIGNED_IN = ("lead", "technician", "customer", "other", "colleague")
ROLES = ("anonymous", "lead", "technician", "customer", "other", *SAME_AS)
METHODS = ("GET", "POST")


def patterns(resolver: URLResolver) -> list[URLPattern]:
    found = []
    for one in resolver.url_patterns:
        found += patterns(one) if isinstance(one, URLResolver) else [one]
    return found


def whole(row: dict[str, list[int]]) -> dict[str, list[int]]:
    """Give what everybody gets at an address, those too who are not named."""

    def of(role: str) -> list[int]:
        return row[role] if role in row else of(SAME_AS[role])

    return {role: of(role) for role in ROLES}


EVERY = {one.name: one for one in patterns(get_resolver())}
MATRIX = {name: whole(row) for name, row in WRITTEN["addresses"].items()}


def arguments(name: str) -> set[str]:
    """Give the arguments of an address."""
    return set(EVERY[name].pattern.converters)
