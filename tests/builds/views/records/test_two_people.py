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
    WorkCalendar,
    Workshop,
)
from builds.planning.exchange import export_plan
from tests.builds.views.records.pages import words_of
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


def save(client, where: str, sent: dict[str, str], status: int) -> str:
    answer = client.post(where, sent)
    assert answer.status_code == status, words_of(answer)
    return words_of(answer)


def hidden(words: str, name: str) -> str:
    return words.split(f'name="{name}" value="')[1].split('"')[0]


class TestWeek:
    where = "/weeks/late/"

    @pytest.fixture
    def opened(self, lead_client, world):
        return typed(lead_client, self.where)

    def week(self) -> dict[str, list[str]]:
        return WorkCalendar.objects.get(key="late").week

    def test_each_day_is_chosen_by_itself(self, lead_client, opened):
        theirs = opened | {"mon": "7-11", "tue": "7-11"}
        save(lead_client, self.where, theirs, 302)
        mine = opened | {"mon": "12-20", "tue": "12-20", "sat": "9-12"}
        words = save(lead_client, self.where, mine, 409)
        for said in ("Monday", "07:00-11:00", "12:00-20:00", "Saturday"):
            assert said in words
        assert self.week()["mon"] == ["07:00-11:00"]
        chosen = mine | {"version": hidden(words, "version"), "keep-mon": "theirs"}
        save(lead_client, self.where, chosen, 302)
        week = self.week()
        assert week["mon"] == ["07:00-11:00"]
        assert week["tue"] == ["12:00-20:00"]
        assert week["sat"] == ["09:00-12:00"]
        assert week["wed"] == ["08:00-12:00", "12:30-16:30"]

    def test_a_name_given_meanwhile_by_one_is_not_given_away(self, lead_client, opened):
        save(lead_client, self.where, opened | {"name": "Evenings"}, 302)
        assert lead_client.post(self.where, opened).status_code == 404
        assert WorkCalendar.objects.filter(key="Evenings").exists()

    def test_a_day_shut_by_the_other_stays_shut(self, lead_client, opened):
        save(lead_client, self.where, opened | {"fri": ""}, 302)
        mine = opened | {"mon": "12-20"}
        words = save(lead_client, self.where, mine, 409)
        assert "nothing" in words
        chosen = mine | {"version": hidden(words, "version"), "keep-fri": "theirs"}
        save(lead_client, self.where, chosen, 302)
        assert "fri" not in self.week()
        assert self.week()["mon"] == ["12:00-20:00"]


class TestLevels:
    where = "/workshop/levels/"
    names = ("on the stand", "running", "road-ready", "complete")

    @pytest.fixture
    def opened(self, lead_client, world):
        return typed(lead_client, self.where)

    def test_the_second_sees_both_and_keeps_the_others(self, lead_client, opened):
        save(lead_client, self.where, opened | {"name-1": "drives"}, 302)
        mine = opened | {"name-3": "finished"}
        words = save(lead_client, self.where, mine, 409)
        assert "on the stand, drives, road-ready, complete" in words
        assert "on the stand, running, road-ready, finished" in words
        chosen = mine | {
            "version": hidden(words, "version"),
            "keep-levels": "theirs",
        }
        save(lead_client, self.where, chosen, 302)
        assert Workshop.current().levels[1] == "drives"
        assert Workshop.current().levels[3] == "complete"

    def test_the_second_sees_both_and_keeps_their_own(self, lead_client, opened, car):
        """Lines stand where they stood on the page, whatever has become of them."""
        job = JobFactory(build=car, level="complete")
        swapped = {"order-0": "2", "order-1": "1"}
        save(lead_client, self.where, opened | swapped, 302)
        mine = opened | {"name-3": "finished"}
        words = save(lead_client, self.where, mine, 409)
        job.refresh_from_db()
        assert job.level == "complete"
        save(lead_client, self.where, mine | {"version": hidden(words, "version")}, 302)
        assert Workshop.current().levels == [*self.names[:3], "finished"]
        job.refresh_from_db()
        assert job.level == "finished"

    def test_what_the_other_renamed_is_not_lost_where_it_is_asked_for(
        self, lead_client, opened, car
    ):
        job = JobFactory(build=car, level="running")
        save(lead_client, self.where, opened | {"name-1": "drives"}, 302)
        mine = opened | {"name-3": "finished"}
        words = save(lead_client, self.where, mine, 409)
        kept = save(
            lead_client, self.where, mine | {"version": hidden(words, "version")}, 422
        )
        assert "“drives” is what" in kept
        job.refresh_from_db()
        assert job.level == "drives"
        assert Workshop.current().levels[1] == "drives"


class TestTrades:
    where = "/people/tom/trades/"

    @pytest.fixture
    def opened(self, lead_client, world):
        form = lead_client.get("/people/tom/").context["trades"]
        sent = {"trades-version": str(form.version)}
        for one in (form.management_form, *form.forms):
            for field in one:
                sent[field.html_name] = str(field.value() or "")
        return sent

    def trades(self) -> dict[str, tuple[int | None, float | None]]:
        tom = Person.objects.get(key="tom")
        return {one.trade: (one.level, one.pace) for one in tom.trades.all()}

    def line(self, number: int, trade: str, level: str, pace: str = ""):
        before = f"trades-{number}-"
        return {before + "trade": trade, before + "level": level, before + "pace": pace}

    def test_each_trade_is_chosen_by_itself(self, lead_client, opened):
        theirs = opened | self.line(0, "panel", "1") | self.line(1, "weld", "2")
        save(lead_client, self.where, theirs, 302)
        mine = opened | self.line(0, "panel", "2", "1.5") | self.line(1, "trim", "3")
        words = save(lead_client, self.where, mine, 409)
        assert "Someone else has changed this since" in words
        for said in ("works alone, pace 1.5", "beside someone", "signs off", "nothing"):
            assert said in words
        assert self.trades() == {"panel": (1, None), "weld": (2, None)}
        chosen = mine | {
            "trades-version": hidden(words, "trades-version"),
            "keep-panel": "theirs",
            "keep-weld": "theirs",
            "keep-trim": "yours",
        }
        save(lead_client, self.where, chosen, 302)
        assert self.trades() == {
            "panel": (1, None),
            "trim": (3, None),
            "weld": (2, None),
        }

    def test_keeping_ones_own_leaves_out_what_the_other_added(
        self, lead_client, opened
    ):
        save(lead_client, self.where, opened | self.line(1, "weld", "2"), 302)
        mine = opened | self.line(0, "panel", "1")
        words = save(lead_client, self.where, mine, 409)
        sent = mine | {"trades-version": hidden(words, "trades-version")}
        save(lead_client, self.where, sent, 302)
        assert self.trades() == {"panel": (1, None)}

    def test_the_same_line_typed_by_both_is_not_lost(self, lead_client, opened):
        both = opened | self.line(1, "weld", "2")
        save(lead_client, self.where, both, 302)
        words = save(lead_client, self.where, both, 409)
        sent = both | {"trades-version": hidden(words, "trades-version")}
        save(lead_client, self.where, sent, 302)
        assert self.trades() == {"panel": (3, None), "weld": (2, None)}

    def test_one_who_saves_alone_is_not_asked(self, lead_client, opened):
        save(lead_client, self.where, opened | self.line(0, "panel", "1"), 302)
        page = lead_client.get("/people/tom/").context["trades"]
        again = opened | self.line(0, "panel", "2")
        save(lead_client, self.where, again | {"trades-version": page.version}, 302)
        assert self.trades() == {"panel": (2, None)}


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
