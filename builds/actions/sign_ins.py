"""Who may sign in, as what."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.record import record
from builds.models import Build, Person, Role, User


@transaction.atomic
def give_sign_in(
    *,
    by: User | None,
    username: str,
    role: Role,
    password: str,
    person: Person | None = None,
    cars: Sequence[Build] = (),
) -> User:
    """Let somebody sign in; done again, it changes their role, cars and password."""
    if role == Role.CUSTOMER and not cars:
        raise Refused("Name at least one car of the customer's.")
    user = User.objects.filter(username=username).first() or User(username=username)
    user.role, user.person = role, person
    user.set_password(password)
    try:
        validate_password(password, user)
        user.full_clean()
    except ValidationError as error:
        raise Refused(" ".join(error.messages)) from error
    user.save()
    user.cars.set(cars)
    record(by=by, verb="gave sign-in", subject=user, planned=False)
    return user
