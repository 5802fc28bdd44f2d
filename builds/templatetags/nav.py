"""The way about the site, by role."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.template import Library
from django.urls import reverse

from builds.models import Role

register = Library()

# Tab, address name, and the pages that lie behind the same tab.
CARS = (
    "car",
    "car_new",
    "car_record",
    "car_edit",
    "job",
    "job_new",
    "job_edit",
    "job_who",
    "knock_on",
    "link_add",
)
OUT = (
    *("vendors", "vendor", "vendor_new", "piece", "job_pieces"),
    *("consignment", "consignment_new", "consignment_sheet"),
    *("goods_in", "goods_in_job", "goods_in_consignment"),
    *("vendor_links", "ring", "orders", "order", "job_ways", "sending"),
)
WORKSHOP = (
    "addresses",
    "phones",
    "record",
    "levels",
    "week",
    "week_new",
    "place",
    "place_new",
)
LEAD = (
    ("Morning sheet", "morning", ("moved", "better_plan", "better_plan_ask")),
    ("Cars", "cars", CARS),
    ("Out and back", "out", OUT),
    ("Hands", "hands", ("hand", "people", "person", "person_new")),
    ("Shows", "shows", ("show", "show_new")),
    ("Plan file", "exchange", ("move_in", "sheet")),
    ("Workshop", "workshop", WORKSHOP),
)
TABS: dict[str, tuple[tuple[str, str, tuple[str, ...]], ...]] = {
    Role.LEAD: LEAD,
    Role.TECHNICIAN: (
        ("Bench", "bench", ("bench_job", "hand")),
        ("Goods in", "goods_in", ("goods_in_job", "goods_in_consignment", "piece")),
    ),
    Role.CUSTOMER: (("Your car", "my_car", ()),),
}


@dataclass(frozen=True)
class Tab:
    """One way to go."""

    name: str
    url: str
    current: bool


@register.simple_tag(takes_context=True)
def nav_for(context: Mapping[str, Any], user: Any) -> tuple[Tab, ...]:
    """Give the tabs of someone's role; nobody signed in has none."""
    role = getattr(user, "role", "")
    match = getattr(context.get("request"), "resolver_match", None)
    here = match.url_name if match else ""
    return tuple(
        Tab(name, reverse(target), here == target or here in behind)
        for name, target, behind in TABS.get(role, ())
    )
