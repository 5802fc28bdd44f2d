"""What the customer reads about their car."""

from __future__ import annotations

from datetime import date

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.record import check_sane, record
from builds.models import Build, Update, User, Workshop


@transaction.atomic
def post_update(
    *, by: User, build: Build, words: str, day: date | None = None
) -> Update:
    """Add a page to the car's diary."""
    if not words.strip():
        raise Refused("Write something for the customer to read.")
    check_sane(words)
    page = Update.objects.create(
        build=build, day=day or Workshop.current().clock().date(), words=words, by=by
    )
    after = {"day": page.day}
    record(
        by=by,
        verb="posted update",
        subject=build,
        build=build,
        after=after,
        words=words,
        planned=False,
    )
    return page
