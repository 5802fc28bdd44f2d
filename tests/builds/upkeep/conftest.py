"""A workshop worth losing."""

from __future__ import annotations

import hashlib
import io
import json

import pytest
from django.core.management import call_command
from django.db import connection

from builds.actions.demo import load_demo
from builds.models import Forecast, Role, User
from builds.upkeep.databases import LEFT_OUT, counts
from builds.upkeep.locked import new_key

PASSWORD = "long enough for one factor"


@pytest.fixture
def kept(settings, tmp_path):
    """Where copies go, with a key; and where media lie."""
    settings.BACKUP_FOLDER = str(tmp_path / "copies")
    settings.BACKUP_KEY = new_key()
    settings.MEDIA_ROOT = str(tmp_path / "media")
    return tmp_path / "copies"


@pytest.fixture
def workshop(transactional_db, kept, tmp_path):
    """The sample workshop, someone who leads it, and a picture."""
    load_demo()
    User.objects.create_user("lena", password=PASSWORD, role=Role.LEAD)
    picture = tmp_path / "media" / "q114" / "sill.jpg"
    picture.parent.mkdir(parents=True)
    picture.write_bytes(b"not really a picture")


@pytest.fixture
def everything():
    """Return a way to say all that the database holds: row counts and one hash."""

    def everything():
        with connection.cursor() as cursor:
            found = counts(connection.introspection.table_names(), cursor)
        out = io.StringIO()
        left_out = [*LEFT_OUT, "builds.lifesign"]  # making a copy leaves one
        call_command("dumpdata", exclude=left_out, natural_foreign=True, stdout=out)
        # PostgreSQL keeps the keys of a JSON field in an order of its own.
        whole = json.dumps(json.loads(out.getvalue()), sort_keys=True)
        for name in ("builds_lifesign", "django_session"):
            found.pop(name, None)
        return found, hashlib.sha256(whole.encode()).hexdigest()

    return everything


@pytest.fixture
def destroy():
    """Return a way to lose every table."""

    def destroy():
        tables = connection.introspection.table_names()
        with connection.cursor() as cursor:
            if connection.vendor == "sqlite":
                cursor.execute("pragma foreign_keys = off")
            for name in tables:
                more = "" if connection.vendor == "sqlite" else " cascade"
                cursor.execute(f'drop table "{name}"{more}')
            if connection.vendor == "sqlite":
                cursor.execute("pragma foreign_keys = on")
        assert connection.introspection.table_names() == []

    return destroy


def odds() -> dict:
    """Give what the newest forecast says of every show."""
    return Forecast.objects.latest_done().answer["shows"]
