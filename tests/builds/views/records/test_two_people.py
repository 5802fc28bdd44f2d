"""Two people edit the same thing: both are seen, and nothing is lost unseen."""

from __future__ import annotations

import pytest
from django.urls import reverse

from builds.actions.exchange import replace_plan
from builds.models import (
    Event,
    Job,
    Person,
    Place,
    Show,
    Vendor,
    Workshop,
)
from builds.planning.exchange import export_plan
from tests.builds.views.records.pages import words_of
from tests.builds.views.records.saving import save, typed
from tests.factories.job import JobFactory
from tests.factories.place import PlaceFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory
from tests.factories.workshop import CalendarFactory

# The page, its rows, what both change and what only one of them does.
PAGES = {
    "person": (Person, "note", {"name": "Tom B"}),
    "vendor": (Vendor, "note", {"phone": "1"}),
    "place": (Place, "name", {"capacity": "4"}),
    "show": (Show, "name", {"move_in": "3 may 2027 9:00"}),
    "workshop": (Workshop, "name", {"town": "Ostermere"}),
}
KEYS = {
    "person": "tom",
    "vendor": "plater",
    "place": "booth",
    "show": "summer",
    "week": "late",
}


@pytest.fixture
def world(tom):
    VendorFactory(key="plater", name="Plater")
    PlaceFactory(key="booth")
    ShowFactory(key="summer")
    CalendarFactory(key="late", position=1)


@pytest.mark.parametrize("page", PAGES)
def test_the_second_sees_both_and_chooses(lead_client, world, page):
    model, both, alone = PAGES[page]
    where = reverse(page, args=[KEYS[page]] if page in KEYS else [])
    opened = typed(lead_client, where)
    first = lead_client.post(where, opened | {both: "Theirs"})
    assert first.status_code == 302
    mine = opened | {both: "Mine"} | alone
    clash = lead_client.post(where, mine)
    assert clash.status_code == 409
    words = words_of(clash)
    assert "Someone else has changed this since" in words
    assert "Theirs" in words
    assert "Mine" in words
    row = model.objects.get(**({"key": KEYS[page]} if page in KEYS else {}))
    assert getattr(row, both) == "Theirs"
    version = str(clash.context["form"]["version"].value())
    sent = mine | {"version": version, f"keep-{both}": "theirs"}
    merged = lead_client.post(where, sent)
    assert merged.status_code == 302
    row.refresh_from_db()
    assert getattr(row, both) == "Theirs"
    (name,) = alone
    assert str(getattr(row, name)) not in ("", "None")
    changes = Event.objects.filter(verb__startswith="changed").first()
    assert set(changes.after) == {name}


def test_a_plan_file_taken_in_meanwhile_counts_as_another_person(
    lead_client, lena, world
):
    JobFactory(key="weld")
    pages = {"person": "tom", "week": "late", "job_edit": "weld"}
    opened = {
        name: typed(lead_client, reverse(name, args=[key]))
        for name, key in pages.items()
    }
    replace_plan(by=lena, text=export_plan().encode())
    for name, key in pages.items():
        sent = opened[name] | {"note": "Mine", "mon": "9-12", "title": "Mine"}
        save(lead_client, reverse(name, args=[key]), sent, 409)
    assert Job.objects.get(key="weld").title != "Mine"
