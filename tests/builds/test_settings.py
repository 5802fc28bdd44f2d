"""The settings a served site runs with."""

import subprocess
import sys

from django.conf import settings
from django.db import connection

SERVED = {
    "PATH": "",
    "SECRET_KEY": "k3y-" * 16 + "0123456789abcdefghij",
    "ALLOWED_HOSTS": "workshop.example",
}


def run(*command, **environment):
    return subprocess.run(
        [sys.executable, *command],
        cwd=settings.BASE_DIR,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


def test_django_finds_nothing_to_warn_of():
    """Django's own deployment checklist, `manage.py check --deploy`."""
    done = run("manage.py", "check", "--deploy", "--fail-level", "WARNING", **SERVED)
    assert done.returncode == 0, done.stderr
    assert "no issues (0 silenced)" in done.stdout


def test_a_site_without_a_key_does_not_serve():
    environment = {name: SERVED[name] for name in ("PATH", "ALLOWED_HOSTS")}
    for way_in in ("builds.wsgi", "builds.asgi"):
        done = run("-c", f"import {way_in}", **environment)
        assert done.returncode == 1
        assert "SECRET_KEY setting must not be empty" in done.stderr


def test_a_site_with_a_key_does():
    assert run("-c", "import builds.wsgi", **SERVED).returncode == 0


def test_nothing_is_loaded_from_anywhere_else():
    """OWASP ASVS 5.0, 3.4.3: a policy with default-src or object-src 'none' and
    base-uri 'none', no inline script."""
    policy = settings.CONTENT_SECURITY_POLICY["DIRECTIVES"]
    assert policy["default-src"] == policy["base-uri"] == ["'none'"]
    assert policy["frame-ancestors"] == ["'none'"]
    assert {source for sources in policy.values() for source in sources} == {
        "'none'",
        "'self'",
    }


def test_a_written_change_survives_a_power_cut_and_waits_its_turn(db):
    """SQLite's pragma documentation: synchronous 2 is FULL. In WAL mode a weaker one
    may lose the last commits when the power goes."""
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor:
        assert cursor.execute("PRAGMA synchronous").fetchone() == (2,)
        assert cursor.execute("PRAGMA foreign_keys").fetchone() == (1,)
        assert cursor.execute("PRAGMA busy_timeout").fetchone() == (20000,)
    assert connection.transaction_mode == "IMMEDIATE"
