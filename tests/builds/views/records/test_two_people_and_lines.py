"""Two people edit one week, the levels or somebody's trades: line by line is chosen."""

from __future__ import annotations

import pytest

from builds.models import Person, WorkCalendar, Workshop
from tests.builds.views.records.saving import hidden, save, typed
from tests.factories.job import JobFactory
from tests.factories.workshop import CalendarFactory


@pytest.fixture
def world(tom):
    CalendarFactory(key="late", position=1)


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

    def test_what_was_typed_is_not_lost_when_the_other_gave_it_another_name(
        self, lead_client, opened
    ):
        save(lead_client, self.where, opened | {"name": "Evenings"}, 302)
        mine = opened | {"sat": "9-12"}
        words = save(lead_client, self.where, mine, 409)
        for said in ("Evenings", "late", "Saturday", "09:00-12:00"):
            assert said in words
        there = "/weeks/Evenings/"
        assert f'action="{there}"' in words
        chosen = mine | {"version": hidden(words, "version"), "keep-name": "theirs"}
        save(lead_client, there, chosen, 302)
        week = WorkCalendar.objects.get(key="Evenings")
        assert week.week["sat"] == ["09:00-12:00"]
        assert not WorkCalendar.objects.filter(key="late").exists()

    def test_or_the_old_name_is_given_back(self, lead_client, opened):
        save(lead_client, self.where, opened | {"name": "Evenings"}, 302)
        words = save(lead_client, self.where, opened, 409)
        chosen = opened | {"version": hidden(words, "version"), "keep-name": "yours"}
        save(lead_client, "/weeks/Evenings/", chosen, 302)
        assert WorkCalendar.objects.filter(key="late").exists()

    def test_an_old_address_leads_to_the_week_by_all_its_names(
        self, lead_client, opened
    ):
        save(lead_client, self.where, opened | {"name": "Evenings"}, 302)
        second = typed(lead_client, "/weeks/Evenings/") | {"name": "Nights"}
        save(lead_client, "/weeks/Evenings/", second, 302)
        assert lead_client.get(self.where)["Location"] == "/weeks/Nights/"
        third = typed(lead_client, "/weeks/Nights/") | {"name": "late"}
        save(lead_client, "/weeks/Nights/", third, 302)
        assert lead_client.get("/weeks/Evenings/")["Location"] == self.where
        assert lead_client.get("/weeks/never/").status_code == 404

    def test_of_a_week_that_was_taken_away_nothing_is_there(self, lead_client, opened):
        save(lead_client, self.where, opened | {"name": "Evenings"}, 302)
        lead_client.post("/weeks/Evenings/remove/")
        assert not WorkCalendar.objects.filter(key="Evenings").exists()
        assert lead_client.post(self.where, opened).status_code == 404

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
