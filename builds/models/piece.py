"""The pieces of a job: each with one holder and one place, and the way it came."""

from __future__ import annotations

from typing import Any, NoReturn
from uuid import uuid4

from django.conf import settings
from django.db import models
from django.db.models import Q

from builds.models.keyed import Keyed
from builds.models.wall_clock import WallClockField

LONGEST = 100  # letters of a holder or a place, as in the plan file


class PieceState(models.TextChoices):
    """Where a piece is on its way out and back."""

    HERE = "here", "here"
    OUT = "out", "gone out"
    BACK = "back", "checked in"
    REJECTED = "rejected", "rejected"
    MISSING = "missing", "missing"


def _rules(what: str) -> tuple[models.CheckConstraint, ...]:
    return (
        models.CheckConstraint(
            condition=Q(count__gte=1), name=f"{what}_is_one_piece_at_least"
        ),
        models.CheckConstraint(condition=~Q(holder=""), name=f"{what}_has_a_holder"),
        models.CheckConstraint(condition=~Q(place=""), name=f"{what}_has_a_place"),
        models.CheckConstraint(
            condition=Q(state__in=PieceState.values), name=f"{what}_state_is_known"
        ),
    )


class Piece(Keyed):
    """Some alike pieces that go the same way together."""

    job = models.ForeignKey(
        "builds.Job", on_delete=models.CASCADE, related_name="piece_list"
    )
    name = models.TextField(blank=True)
    count = models.PositiveIntegerField(default=1)
    holder = models.CharField(max_length=LONGEST)
    place = models.CharField(max_length=LONGEST)
    state = models.CharField(max_length=10, choices=PieceState, default=PieceState.HERE)

    class Meta(Keyed.Meta):
        constraints = _rules("piece")

    def __str__(self) -> str:
        return self.name or str(self.job)


class AppendOnly(models.QuerySet["PieceMove"]):
    """Rows that may be added and read, nothing else."""

    def update(self, **kwargs: Any) -> NoReturn:
        """Refuse: what was signed stays."""
        raise TypeError("A piece's trail is never changed.")

    def delete(self) -> NoReturn:
        """Refuse: what was signed stays."""
        raise TypeError("A piece's trail is never cut.")


def photo_name(move: PieceMove, name: str) -> str:
    """Give a photograph a name nobody can guess, whatever it was called."""
    return f"pieces/{uuid4().hex}.jpg"


class PieceMove(models.Model):
    """Where a piece went, when, and who put a name to it."""

    piece = models.ForeignKey(Piece, on_delete=models.CASCADE, related_name="trail")
    at = WallClockField()
    holder = models.CharField(max_length=LONGEST)
    place = models.CharField(max_length=LONGEST)
    state = models.CharField(max_length=10, choices=PieceState)
    count = models.PositiveIntegerField(default=1)
    signed = models.TextField(blank=True)
    note = models.TextField(blank=True)
    photo = models.FileField(upload_to=photo_name, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True
    )

    objects = AppendOnly.as_manager()

    class Meta:
        ordering = ("pk",)
        constraints = _rules("move")

    def __str__(self) -> str:
        return f"{self.piece_id}: {self.holder}, {self.place}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Write it once."""
        if self.pk is not None:
            raise TypeError("A piece's trail is never changed.")
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refuse: what was signed stays."""
        raise TypeError("A piece's trail is never cut.")
