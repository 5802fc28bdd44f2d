"""Everybody who asks, each with a browser; what they do is taken back at once."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import product
from typing import Any

from django.db import transaction
from django.test import Client
from django.urls import reverse

from builds.models import User
from tests.builds.access.matrix import EVERY, MATRIX, ROLES
from tests.builds.access.page_forms import Fields, fields_on
from tests.builds.access.world import ACTS, World
from tests.conftest import client_of

# Whose pages are read for their forms.
USERS = ("lead", "technician", "customer", "vendor")
# Pages whose forms depend on what sort of job it is and how far.
BY_JOB = ("job", "job_pieces", "bench_job", "order", "goods_in_job")
DOORS = {
    "link": "car_link",
    "other_link": "car_link",
    "vendor": "private_door",
    "other_vendor": "private_door",
}


def plain(where: str) -> str:
    """Give an address without its numbers, which differ from walk to walk."""
    return re.sub(r"/\d+/", "/0/", where)


def who_may(name: str) -> str:
    """Give who gets furthest at an address."""
    ranks = {role: min(MATRIX[name][role]) for role in USERS}
    return min(ranks, key=lambda role: (ranks[role] in (403, 404), ranks[role]))


class Walker:
    """Asks an address as somebody; nothing that comes of it stays."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.clients = {role: self._client(role) for role in ROLES}
        closed = world.users["disabled"]
        User.objects.filter(pk=closed.pk).update(is_active=False)
        self._forms: Fields = {}

    def _client(self, role: str) -> Client:
        user = self.world.users.get(role)
        client = client_of(user) if user else Client()
        client.raise_request_exception = False
        if role in DOORS:
            assert client.get(self.world.address(DOORS[role], role)).status_code == 302
        elif user:
            client.get(reverse("home"))  # the visit is noted here, not in each test
        return client

    @contextmanager
    def taken_back(self, role: str) -> Iterator[Client]:
        """Give a browser whose doings are taken back, those to its cookies too."""
        client = self.clients[role]
        cookies = client.cookies.copy()
        with transaction.atomic():
            yield client
            transaction.set_rollback(True)
        client.cookies = cookies

    def ask(
        self, role: str, method: str, where: str, data: dict[str, Any] | None = None
    ) -> Any:
        """Give the answer to one request."""
        with self.taken_back(role) as client:
            return getattr(client, method.lower())(where, data)

    def status(
        self, role: str, method: str, where: str, data: dict[str, Any] | None = None
    ) -> int:
        """Give what the answer to one request says of itself."""
        return int(self.ask(role, method, where, data).status_code)

    def fields(self, where: str) -> dict[str, str | None]:
        """Give the fields that any page sends to an address, as they stand there."""
        if not self._forms:
            self._read_pages()
        return dict(self._forms.get(plain(where), {}))

    def filled_in(self, name: str) -> dict[str, str | None]:
        """Give what the form of an address asks for, its empty fields filled in."""
        fields = self.fields(self.world.address(name, who_may(name)))
        fields |= ACTS.get(name, {}).get("sent", {})
        for one in ("csrfmiddlewaretoken", "photo", "file"):
            fields.pop(one, None)
        return fields

    def _pages(self, name: str, role: str, jobs: list[str]) -> Iterator[str]:
        yield self.world.address(name, role)
        if name in BY_JOB:
            for job in jobs:
                yield self.world.address(name, role, job_key=job)

    def _read_pages(self) -> None:
        jobs = sorted({act["job"] for act in ACTS.values() if "job" in act})
        for name, role in product(EVERY, USERS):
            if MATRIX[name][role][0] == 200:
                for where in self._pages(name, role, jobs):
                    html = self.ask(role, "GET", where).content.decode(errors="replace")
                    for action, found in fields_on(where, html).items():
                        self._forms.setdefault(plain(action), {}).update(found)
