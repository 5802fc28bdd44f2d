"""Let somebody sign in at a real workshop."""

from __future__ import annotations

import sys
from getpass import getpass
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from builds.actions.errors import Refused
from builds.actions.sign_ins import give_sign_in
from builds.models import Build, Person, Role


class Command(BaseCommand):
    help = "Let somebody sign in; the password is asked for, or read from a pipe."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("username")
        parser.add_argument("--role", choices=Role.values, required=True)
        parser.add_argument("--person", help="the key of who works here under the name")
        parser.add_argument(
            "--car", action="append", default=[], help="the key of a customer's car"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            user = give_sign_in(
                by=None,
                username=options["username"],
                role=Role(options["role"]),
                password=_password(),
                person=_person(options["person"]),
                cars=[_car(key) for key in options["car"]],
            )
        except Refused as error:
            raise CommandError(error.words) from error
        self.stdout.write(f"{user} may sign in as {user.get_role_display()}.")


def _password() -> str:
    if sys.stdin.isatty():
        return getpass("Password: ")
    return sys.stdin.readline().rstrip("\n")


def _person(key: str | None) -> Person | None:
    if key is None:
        return None
    found = Person.objects.filter(key=key).first()
    if found is None:
        raise CommandError(f"Nobody here has the key “{key}”.")
    return found


def _car(key: str) -> Build:
    found = Build.objects.filter(key=key).first()
    if found is None:
        raise CommandError(f"No car has the key “{key}”.")
    return found
