"""Every form, sent as the page has it and once more with fields it does not have.

OWASP ASVS 5.0, 15.3.3; OWASP Mass Assignment Cheat Sheet. What comes of it must be
the same, row by row, in everything the site keeps.
"""

from __future__ import annotations

from itertools import count
from typing import Any

import pytest
import time_machine
from django.apps import apps
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import models
from django.utils import timezone

from tests.builds.access.matrix import MATRIX
from tests.builds.access.rows import Rows, everything
from tests.builds.access.walker import who_may

pytestmark = pytest.mark.django_db
POSTED = sorted(n for n in MATRIX if MATRIX[n][who_may(n)][1] not in (403, 405))
KEYS = {
    "build": "saloon", "job": "his-weld", "vendor": "trimmer", "person": "tess",
    "user": "otto", "piece": "brass", "place": "booth", "show": "summer",
}  # fmt: skip
# What people try, whether the site knows it or not.
TRIED = {
    "role": "lead", "is_staff": "on", "is_superuser": "on", "is_active": "",
    "username": "mallory", "password": "an invented workshop", "groups": "1",
    "user_permissions": "1", "workshop": "2", "cost": "1", "price": "1",
    "owner": "otto", "user": "otto", "by": "otto", "__class__": "lead", "pk": "1",
}  # fmt: skip


def fitting(field: models.Field[Any, Any]) -> str:
    """Give something that would be taken for a field, and is not what is there."""
    if field.is_relation:
        return KEYS.get(field.name, "his-weld")
    if isinstance(field, models.BooleanField):
        return "on"
    if isinstance(field, models.DateField):
        return "2027-02-02"
    if isinstance(field, models.IntegerField | models.FloatField):
        return "7"
    return str(field.choices[-1][0]) if field.choices else "saloon"


FIELDS = {
    name: fitting(field)
    for model in apps.get_app_config("builds").get_models()
    for field in model._meta.concrete_fields
    for name in (field.name, field.attname)
}
EXTRAS = (FIELDS | TRIED, dict.fromkeys(FIELDS | TRIED, "1"))
FILES = {"move_in": ("jobs.csv", b"Job\nSand\n")}
# These need a second factor, a paired phone, the sample workshop, a whole plan file or
# a consignment that has left to do anything.
NOTHING_COMES_OF = {
    "account_reauthenticate", "enter", "exchange", "goods_in_consignment",
    "mfa_activate_totp", "mfa_add_webauthn", "mfa_deactivate_totp",
    "mfa_generate_recovery_codes", "mfa_remove_webauthn", "phone_pair",
}  # fmt: skip


@pytest.fixture
def came_of(walker, monkeypatch):
    """Return a way to post: no clock and no chance, so that twice leaves the same."""

    def post(name: str, sent: dict[str, str]) -> tuple[int, Rows]:
        drawn = count()
        monkeypatch.setattr(
            "builds.access.tokens.token_urlsafe", lambda size: f"{next(drawn):043}"
        )
        monkeypatch.setattr(
            "builds.models.forecast.token_hex", lambda size: f"{next(drawn):032}"
        )
        files = {"file": SimpleUploadedFile(*FILES[name])} if name in FILES else {}
        role = who_may(name)
        with walker.taken_back(role) as client:
            where = walker.world.address(name, role)
            code = client.post(where, sent | files).status_code
            return code, everything()

    with time_machine.travel(timezone.now(), tick=False):
        yield post


def unasked(extra: dict[str, str], asked: dict[str, str | None]) -> dict[str, str]:
    """Give every field the site knows that this form does not ask for."""
    prefixes = {one.split("-")[0] + "-" for one in asked if "-" in one}
    every = {p + name: one for p in ("", *prefixes) for name, one in extra.items()}
    return {name: value for name, value in every.items() if name not in asked}


@pytest.mark.parametrize("name", POSTED)
def test_asvs_15_3_3_what_a_form_does_not_ask_for_changes_nothing(
    name, walker, came_of
):
    asked = walker.filled_in(name)
    sent = {one: value for one, value in asked.items() if value is not None}
    wanted = came_of(name, sent)
    assert wanted[0] == 302 or name in NOTHING_COMES_OF, (wanted[0], sent)
    for extra in EXTRAS:
        assert came_of(name, unasked(extra, asked) | sent) == wanted
