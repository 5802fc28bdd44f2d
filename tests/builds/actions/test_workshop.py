"""Working weeks, places and levels: what may be taken away, and what follows."""

import json

import pytest

from builds.actions.calendars import (
    change_calendar,
    create_calendar,
    make_usual,
    remove_calendar,
)
from builds.actions.levels import set_levels
from builds.actions.places import change_place, remove_place
from builds.models import Event, Place, PlaceUse, ShowEntry, WorkCalendar, Workshop
from builds.planning.exchange import export_plan, import_plan
from tests.assertions import assert_refused
from tests.factories.job import JobFactory
from tests.factories.place import PlaceFactory
from tests.factories.show import ShowFactory
from tests.factories.workshop import CalendarFactory

EVENINGS = {"week": {"mon": ["17:00-21:00"]}}


def test_the_first_week_takes_the_place_of_day_and_night(lena):
    import_plan({"people": [{"id": "ana", "calendar": "always"}]}, pin_clock=False)
    create_calendar(by=lena, name="Evenings", **EVENINGS)
    plan = json.loads(export_plan())
    assert list(plan["calendars"]) == ["Evenings"]
    assert "calendar" not in plan["people"][0]


def test_a_week_is_named_once(lena):
    create_calendar(by=lena, name="Evenings", **EVENINGS)
    with assert_refused("called “Evenings” already"):
        create_calendar(by=lena, name="Evenings", **EVENINGS)
    usual = WorkCalendar.objects.get(position=0)
    with assert_refused("called “Evenings” already"):
        change_calendar(by=lena, calendar=usual, fields={}, name="Evenings")


def test_a_week_keeps_its_people_under_a_new_name(lena, tom):
    week = CalendarFactory(key="evenings", position=1)
    tom.person.calendar = week
    tom.person.save()
    change_calendar(by=lena, calendar=week, fields={}, name="Late")
    plan = json.loads(export_plan())
    assert list(plan["calendars"])[1] == "Late"
    assert plan["people"][1]["calendar"] == "Late"
    event = Event.objects.get()
    assert (event.before, event.after) == ({"name": "evenings"}, {"name": "Late"})


def test_the_usual_week_comes_first(lena):
    week = CalendarFactory(key="evenings", position=7)
    make_usual(by=lena, calendar=week)
    assert next(iter(json.loads(export_plan())["calendars"])) == "evenings"


def test_a_week_in_use_is_not_taken_away(lena, tom):
    week = CalendarFactory(key="evenings", position=1)
    PlaceFactory(name="Booth", calendar=week)
    tom.person.calendar = week
    tom.person.save()
    with assert_refused("the week of “Tom” and “Booth”"):
        remove_calendar(by=lena, calendar=week)
    with assert_refused("usual week"):
        remove_calendar(by=lena, calendar=WorkCalendar.objects.all()[0])


def test_a_place_with_work_to_come_is_not_taken_away(lena, car):
    place = PlaceFactory(name="Booth")
    job = JobFactory(build=car, title="Spray")
    PlaceUse.objects.create(job=job, place=place)
    with assert_refused("“Booth” is asked for by “Spray”"):
        remove_place(by=lena, place=place)
    job.state, job.started, job.finished = "done", "2027-01-04", "2027-01-05"
    job.save()
    remove_place(by=lena, place=place)
    assert not Place.objects.exists()
    assert Event.objects.get().before["uses"] == {job.key: 1}


def test_a_place_is_not_made_too_small_for_its_work(lena, car):
    place = PlaceFactory(name="Bay", capacity=2)
    PlaceUse.objects.create(job=JobFactory(build=car), place=place, uses=2)
    with assert_refused(""):
        change_place(by=lena, place=place, fields={"capacity": 1})


def named(*names):
    return [(one, one) for one in names]


def test_levels_swap_names_and_whoever_asks_keeps_asking(lena, car):
    job = JobFactory(build=car, level="running")
    entry = ShowEntry.objects.create(show=ShowFactory(), build=car, level="complete")
    new = [("running", "complete"), ("complete", "running")]
    set_levels(by=lena, levels=new)
    job.refresh_from_db()
    entry.refresh_from_db()
    assert (job.level, entry.level) == ("complete", "running")
    assert Workshop.current().levels == ["complete", "running"]
    assert job.version == 2, "Is an open form of the job told?"


@pytest.mark.parametrize(
    ("levels", "words"),
    [
        ([], "Keep one level at least"),
        (named("running", "running"), "“running” is there twice"),
        (named("complete"), "“running” is what “Spin” must be done for"),
        (named("running"), "“complete” is what Grey coupe has to be at Summer"),
    ],
)
def test_levels_that_cannot_be_are_refused(lena, car, levels, words):
    JobFactory(build=car, level="running", title="Spin")
    show = ShowFactory(name="Summer")
    ShowEntry.objects.create(show=show, build=car, level="complete")
    with assert_refused(words):
        set_levels(by=lena, levels=levels)


def test_what_is_only_of_the_site_outlives_a_plan_file(lena):
    Workshop.objects.update(phone="01632 960900", address="Tannery Yard")
    import_plan(export_plan(), pin_clock=True)
    assert Workshop.current().phone == "01632 960900"
    assert "960900" not in export_plan()
