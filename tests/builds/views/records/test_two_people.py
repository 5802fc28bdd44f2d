"""Two people edit the same thing: both are seen, and nothing is lost unseen."""

from __future__ import annotations

import pytest
from django.urls import reverse

from builds.models import Event, Person, Place, Show, Vendor, Workshop
from tests.builds.views.records.pages import words_of
from tests.factories.place import PlaceFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory

# The page, its rows, what both change and what only one of them does.
PAGES = {
    "person": (Person, "note", {"name": "Tom B"}),
    "vendor": (Vendor, "note", {"phone": "1"}),
    "place": (Place, "name", {"capacity": "4"}),
    "show": (Show, "name", {"move_in": "3 may 2027 9:00"}),
    "workshop": (Workshop, "name", {"town": "Ostermere"}),
}
KEYS = {"person": "tom", "vendor": "plater", "place": "booth", "show": "summer"}


@pytest.fixture
def world(tom):
    VendorFactory(key="plater", name="Plater")
    PlaceFactory(key="booth")
    ShowFactory(key="summer")


def typed(client, where: str) -> dict[str, str]:
    form = client.get(where).context["form"]
    sent = {}
    for name, field in form.fields.items():
        value = field.prepare_value(form[name].value())
        if value not in (None, False):
            sent[name] = str(value)
    return sent


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
