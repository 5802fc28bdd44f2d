"""The same form sent twice counts once, with script or without."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta
from hashlib import sha256

from django.utils import timezone

from builds.models import SentForm, User

KEPT = timedelta(days=7)


def take_form(*, by: User, content: Iterable[str]) -> tuple[SentForm, bool]:
    """Give the row of a form, and whether this is the first time that it came.

    Inside a transaction: the second of two that come at once waits for the first.
    What was typed belongs to it, so going back and sending something else is new.
    """
    old = SentForm.objects.filter(at__lt=timezone.now() - KEPT)
    old.delete()
    mark = sha256("\0".join(content).encode(errors="replace")).hexdigest()
    return SentForm.objects.get_or_create(by=by, content=mark)


def keep_answer(*, form: SentForm, answer: str, version: int | None = None) -> None:
    """Keep what sending the form led to: an address, and a version of its job."""
    form.answer, form.version = answer, version
    form.save(update_fields=["answer", "version"])
