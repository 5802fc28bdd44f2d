"""The same small workshop that the matrix of roles walks over."""

from __future__ import annotations

import re

import pytest

from tests.builds.access.test_every_url import EVERY, MATRIX, USERS, address, world
from tests.builds.catalogue.fields import fields_on
from tests.conftest import client_of

__all__ = ["world"]


def who_may(name: str) -> str:
    """Give a role that gets furthest at an address."""
    ranks = {role: min(MATRIX[name][role]) for role in USERS}
    return min(ranks, key=lambda role: (ranks[role] in (403, 404), ranks[role]))


@pytest.fixture
def clients(lena, tom, carla, otto):
    users = {"lead": lena, "technician": tom, "customer": carla, "other": otto}
    return {role: client_of(user) for role, user in users.items()}


def plain(where: str) -> str:
    """Give an address without its numbers, which differ from test to test."""
    return re.sub(r"/\d+/", "/0/", where)


FOUND: dict[str, set[str]] = {}  # the pages are read once, not for each test


@pytest.fixture
def names_of(clients, world):
    """Return a way to give the fields sent to an address, by any page of any role."""
    if not FOUND:
        read_pages(clients, world)
    return lambda where: FOUND.get(plain(where), set())


def read_pages(clients, world) -> None:
    for name in EVERY:
        for role, client in clients.items():
            if MATRIX[name][role][0] == 200:
                where = address(name, world)
                html = client.get(where).content.decode(errors="replace")
                for action, names in fields_on(where, html).items():
                    FOUND.setdefault(plain(action), set()).update(names)
