"""Whether everything of the plan has a page of its own to be reached at.

A key stands in an address as it is. One such as `sills/start` would lead to what is
done to the job `sills` instead, and `..` to nowhere.
"""

from __future__ import annotations

from urllib.parse import unquote

from django.urls import Resolver404, resolve, reverse

from builds.actions.errors import PlanRefused, Refused
from builds.models import (
    Build,
    Consignment,
    Job,
    Person,
    Piece,
    Place,
    Show,
    Vendor,
    WorkCalendar,
)
from builds.models.keyed import Keyed

# A thing's name in the plan file, and the names of its pages.
PAGES: dict[type[Keyed], tuple[str, tuple[str, ...]]] = {
    WorkCalendar: ("calendars", ("week",)),
    Person: ("people", ("person",)),
    Place: ("places", ("place",)),
    Vendor: ("vendors", ("vendor",)),
    Build: ("builds", ("car",)),
    Show: ("shows", ("show",)),
    Job: ("jobs", ("job", "bench_job")),
    Piece: ("piece_list", ("piece",)),
    Consignment: ("consignments", ("consignment",)),
}
FIX = "Give it another id: its page could not be opened."


def check_every_address() -> None:
    """Refuse a plan that holds something whose page could not be opened."""
    faults = [
        {"where": f"{group} “{key}”", "what": f"“{key}” leads elsewhere", "fix": FIX}
        for model, (group, _) in PAGES.items()
        for key in model._default_manager.values_list("key", flat=True)
        if not is_reached(model, key)
    ]
    if faults:
        raise PlanRefused(faults)


def check_address(model: type[Keyed], key: str) -> None:
    """Refuse a name under which a page could not be opened."""
    if not is_reached(model, key):
        raise Refused(f"“{key}” cannot be its name: its page could not be opened.")


def is_reached(model: type[Keyed], key: str) -> bool:
    """Say whether the address made from a key leads back to it."""
    if "/" not in key and key not in (".", ".."):
        return True  # an address of one step more than its list is nobody else's
    if {".", ".."} & set(key.split("/")):
        return False
    return all(_leads_back(page, key) for page in PAGES[model][1])


def _leads_back(page: str, key: str) -> bool:
    try:
        match = resolve(unquote(reverse(page, args=[key])))
    except Resolver404:
        return False
    return match.url_name == page and list(match.kwargs.values()) == [key]
