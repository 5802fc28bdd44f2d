"""Serve the invented workshop on a free port, from a database of its own.

A process by itself: its rows must not turn up in the other tests' database. Settings
see `pytest` among the modules and behave as they do under test.
"""

from __future__ import annotations

import os
import sys

import django
import pytest  # noqa: F401
from django.core.management import call_command


def main(port: str) -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "builds.settings")
    django.setup()
    call_command("migrate", verbosity=0)
    if not _furnished():
        call_command("load_demo")
    call_command("runserver", f"127.0.0.1:{port}", use_reloader=False, verbosity=0)


def _furnished() -> bool:
    """Say whether another build has served this database before."""
    from builds.models import User

    return User.objects.exists()


if __name__ == "__main__":
    main(sys.argv[1])
