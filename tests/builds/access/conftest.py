"""One small workshop for a whole file of tests; each leaves it as it was."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.db import transaction
from django.test import override_settings

from tests.builds.access.walker import Walker
from tests.builds.access.world import World, build_world


@pytest.fixture(scope="module")
def world(django_db_setup, django_db_blocker, tmp_path_factory) -> Iterator[World]:
    """One of everything, built once in a transaction that is never kept."""
    folder = tmp_path_factory.mktemp("media")
    with (
        django_db_blocker.unblock(),
        override_settings(MEDIA_ROOT=str(folder)),
        transaction.atomic(),
    ):
        yield build_world(folder)
        transaction.set_rollback(True)


@pytest.fixture(scope="module")
def walker(world) -> Walker:
    """Everybody of the matrix, each with a browser of their own."""
    return Walker(world)
