"""How ready a car can be: the names of the levels, lowest first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from django.db import transaction
from django.db.models import F

from builds.actions.errors import Refused
from builds.actions.ready import named
from builds.actions.record import change, record
from builds.models import Job, ShowEntry, User, Workshop

Named = Sequence[tuple[str | None, str]]  # what it was called (None: new), and is now


@transaction.atomic
def set_levels(*, by: User, levels: Named, version: int | None = None) -> Workshop:
    """Rename, reorder, add and take away levels; who asks for one keeps asking.

    What it was called counts only while something is called so: otherwise it is new.
    """
    shop = Workshop.current()
    new = [name for _, name in levels]
    _check(new)
    there = list(shop.levels)
    before, after = change(shop, {"levels": new}, version=version)
    kept = {old: name for old, name in levels if old in there}
    for gone in [one for one in there if one not in kept]:
        _check_unused(gone)
    _rename({old: name for old, name in kept.items() if old != name})
    record(by=by, verb="changed levels", subject=shop, before=before, after=after)
    return shop


def _check(names: Sequence[str]) -> None:
    if not names:
        raise Refused("Keep one level at least: it says when a car is ready.")
    for name in names:
        if names.count(name) > 1:
            raise Refused(f"“{name}” is there twice.")


def _check_unused(level: str) -> None:
    jobs = Job.objects.filter(level=level)
    if jobs:
        raise Refused(f"“{level}” is what {named(jobs)} must be done for.")
    entries = ShowEntry.objects.filter(level=level).select_related("show", "build")
    if entries:
        first = entries[0]
        raise Refused(f"“{level}” is what {first.build} has to be at {first.show}.")


def _rename(renamed: Mapping[str | None, str]) -> None:
    """Change the words in the rows that hold them; two levels may swap names."""
    jobs = {old: list(_keys(Job, old)) for old in renamed}
    entries = {old: list(_keys(ShowEntry, old)) for old in renamed}
    for old, name in renamed.items():
        Job.objects.filter(pk__in=jobs[old]).update(
            level=name, version=F("version") + 1
        )
        ShowEntry.objects.filter(pk__in=entries[old]).update(level=name)


def _keys(model: type[Job] | type[ShowEntry], level: str | None) -> list[int]:
    return list(model._default_manager.filter(level=level).values_list("pk", flat=True))
