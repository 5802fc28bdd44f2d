"""Every action writes one event, names who did it and asks for one forecast."""

from datetime import date, datetime

import pytest

from builds.actions import (
    builds,
    calendars,
    consignments,
    decisions,
    diary,
    exchange,
    goods_in,
    hands,
    levels,
    people,
    pieces,
    places,
    shows,
    vendors,
    workshop,
)
from builds.actions.counting import Counted, Return
from builds.models import (
    DaysAway,
    Event,
    Forecast,
    Kind,
    ShowEntry,
    State,
    VendorClosure,
    WorkCalendar,
)
from builds.planning.exchange import export_plan
from tests.assertions import assert_refused
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.piece import PieceFactory
from tests.factories.place import PlaceFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory
from tests.factories.workshop import CalendarFactory

FIRST, LAST = date(2027, 2, 1), date(2027, 2, 5)
JUNE = datetime(2027, 6, 11, 16, 0)


def _entry(car):
    return ShowEntry.objects.create(show=ShowFactory(), build=car)


def _away(tom):
    return DaysAway.objects.create(person=tom.person, first=FIRST, last=LAST)


def _closure():
    return VendorClosure.objects.create(vendor=VendorFactory(), first=FIRST, last=LAST)


def _question(car, **facts):
    return JobFactory(build=car, kind=Kind.DECISION, **facts)


def _piece(car, state="here"):
    sent = {"sent": "2027-01-04", "state": "under way", "started": "2027-01-04T08:00"}
    job = OutsideJobFactory(build=car, pieces=1, **(sent if state == "out" else {}))
    return PieceFactory(key="iron", job=job, state=state)


def _consignment(lena, car):
    job = OutsideJobFactory(build=car)
    return consignments.create_consignment(by=lena, vendor=job.vendor, jobs=[job])


ACTIONS = {
    "created build": lambda by, car, tom: builds.create_build(by=by, name="Van"),
    "changed build": lambda by, car, tom: builds.change_build(
        by=by, build=car, fields={"rank": 2}
    ),
    "left out build": lambda by, car, tom: builds.leave_out_build(by=by, build=car),
    "restored build": lambda by, car, tom: builds.restore_build(by=by, build=car),
    "created person": lambda by, car, tom: people.create_person(by=by, name="Ana"),
    "changed person": lambda by, car, tom: people.change_person(
        by=by, person=tom.person, fields={"name": "Thomas"}
    ),
    "left out person": lambda by, car, tom: people.leave_out_person(
        by=by, person=tom.person
    ),
    "restored person": lambda by, car, tom: people.restore_person(
        by=by, person=tom.person
    ),
    "set trades": lambda by, car, tom: people.set_trades(
        by=by, person=tom.person, levels={"weld": 3}, paces={"trim": 1.5}
    ),
    "added days away": lambda by, car, tom: people.add_days_away(
        by=by, person=tom.person, first=FIRST, last=LAST
    ),
    "removed days away": lambda by, car, tom: people.remove_days_away(
        by=by, away=_away(tom)
    ),
    "created vendor": lambda by, car, tom: vendors.create_vendor(by=by, name="Plater"),
    "changed vendor": lambda by, car, tom: vendors.change_vendor(
        by=by, vendor=VendorFactory(), fields={"phone": "01632 960 001"}
    ),
    "left out vendor": lambda by, car, tom: vendors.leave_out_vendor(
        by=by, vendor=VendorFactory()
    ),
    "restored vendor": lambda by, car, tom: vendors.restore_vendor(
        by=by, vendor=VendorFactory(left_out=True)
    ),
    "added closure": lambda by, car, tom: vendors.add_closure(
        by=by, vendor=VendorFactory(), first=FIRST, last=LAST
    ),
    "removed closure": lambda by, car, tom: vendors.remove_closure(
        by=by, closure=_closure()
    ),
    "created show": lambda by, car, tom: shows.create_show(
        by=by, name="Summer", move_in=JUNE
    ),
    "changed show": lambda by, car, tom: shows.change_show(
        by=by, show=ShowFactory(), fields={"move_in": JUNE}
    ),
    "cancelled show": lambda by, car, tom: shows.cancel_show(by=by, show=ShowFactory()),
    "restored show": lambda by, car, tom: shows.restore_show(by=by, show=ShowFactory()),
    "entered build": lambda by, car, tom: shows.enter_build(
        by=by, show=ShowFactory(), build=car, level="running"
    ),
    "withdrew build": lambda by, car, tom: shows.withdraw_build(
        by=by, entry=_entry(car)
    ),
    "recorded choice": lambda by, car, tom: decisions.record_choice(
        by=by, job=_question(car), choice="Oxblood"
    ),
    "answered found work": lambda by, car, tom: decisions.answer_found_work(
        by=by, job=JobFactory(build=car, found="asked"), yes=True
    ),
    "posted update": lambda by, car, tom: diary.post_update(
        by=by, build=car, words="In primer."
    ),
    "listed piece": lambda by, car, tom: pieces.list_piece(
        by=by, job=OutsideJobFactory(build=car), name="Gear gate"
    ),
    "moved piece": lambda by, car, tom: pieces.move_piece(
        by=by, piece=_piece(car), holder="Nkechi", place="panel bay"
    ),
    "struck piece": lambda by, car, tom: pieces.strike_piece(by=by, piece=_piece(car)),
    "counted in": lambda by, car, tom: goods_in.take_in(
        by=by,
        ret=Return(_piece(car, state="out").job, {"iron": Counted(good=1)}),
        signature=goods_in.Signature("Petra"),
    ),
    "created consignment": lambda by, car, tom: _consignment(by, car),
    "changed workshop": lambda by, car, tom: workshop.change_workshop(
        by=by, fields={"town": "Ashby"}
    ),
    "changed calendar": lambda by, car, tom: calendars.change_calendar(
        by=by,
        calendar=WorkCalendar.objects.get(),
        fields={"closed": ["2027-03-26/2027-03-29"]},
    ),
    "created place": lambda by, car, tom: places.create_place(by=by, name="Booth"),
    "changed place": lambda by, car, tom: places.change_place(
        by=by, place=PlaceFactory(), fields={"capacity": 2}
    ),
    "named person": lambda by, car, tom: hands.name_person(
        by=by, job=JobFactory(build=car, trade="panel"), person=tom.person
    ),
    "freed job": lambda by, car, tom: hands.name_person(
        by=by, job=JobFactory(build=car, person=tom.person), person=None
    ),
    "created calendar": lambda by, car, tom: calendars.create_calendar(
        by=by, name="Evenings", week={"mon": ["17:00-21:00"]}
    ),
    "chose calendar": lambda by, car, tom: calendars.make_usual(
        by=by, calendar=CalendarFactory(key="evenings")
    ),
    "removed calendar": lambda by, car, tom: calendars.remove_calendar(
        by=by, calendar=CalendarFactory(key="evenings", position=9)
    ),
    "removed place": lambda by, car, tom: places.remove_place(
        by=by, place=PlaceFactory()
    ),
    "changed levels": lambda by, car, tom: levels.set_levels(
        by=by, levels=[("running", "driving"), ("complete", "complete")]
    ),
    "replaced plan": lambda by, car, tom: exchange.replace_plan(
        by=by, text=export_plan()
    ),
}


# Told to people; the plan is as it was, so there is nothing to work out.
UNPLANNED = ("posted update",)


@pytest.mark.parametrize("verb", ACTIONS)
def test_it_writes_one_event_and_asks_for_one_forecast_if_the_plan_changed(
    lena, tom, car, verb
):
    ACTIONS[verb](lena, car, tom)
    event = Event.objects.get()
    assert (event.verb, event.by) == (verb, lena)
    assert event.subject
    asked = 0 if verb in UNPLANNED else 1
    assert Forecast.objects.filter(state="queued").count() == asked


def test_a_consignment_is_changed_and_parted(lena, car):
    row = _consignment(lena, car)
    job = OutsideJobFactory(build=car, vendor=row.vendor)
    consignments.change_consignment(by=lena, consignment=row, jobs=[job], leaves=JUNE)
    assert [one.key for one in row.jobs.all()] == [job.key]
    consignments.part_consignment(by=lena, consignment=row)
    assert Event.objects.first().before["jobs"] == [job.key]


def test_a_job_of_another_vendor_does_not_travel_along(lena, car):
    row = _consignment(lena, car)
    with assert_refused("goes to"):
        consignments.change_consignment(
            by=lena, consignment=row, jobs=[OutsideJobFactory(build=car)]
        )


def test_a_choice_closes_the_question_once(carla, car):
    job = _question(car)
    decisions.record_choice(by=carla, job=job, choice="Oxblood")
    decisions.record_choice(by=carla, job=job, choice="Green")
    job.refresh_from_db()
    assert job.state == State.DONE
    assert Event.objects.get().after["choice"] == "Oxblood"


def test_only_a_question_is_answered(carla, car):
    with assert_refused("not a question"):
        decisions.record_choice(by=carla, job=JobFactory(build=car), choice="Green")


def test_no_to_found_work_leaves_it_out(carla, car):
    job = JobFactory(build=car, found="asked")
    decisions.answer_found_work(by=carla, job=job, yes=False)
    job.refresh_from_db()
    assert (job.found, job.state) == ("no", State.LEFT_OUT)


def test_no_to_found_safety_work_is_not_taken(carla, car):
    with assert_refused("never left out"):
        decisions.answer_found_work(
            by=carla, job=JobFactory(build=car, found="asked", safety=True), yes=False
        )


def test_an_empty_page_is_not_posted(lena, car):
    with assert_refused("Write something"):
        diary.post_update(by=lena, build=car, words="  ")


def test_entering_again_changes_the_level(lena, car):
    show = ShowFactory()
    shows.enter_build(by=lena, show=show, build=car, level="running")
    shows.enter_build(by=lena, show=show, build=car, level="complete")
    assert show.entries.get().level == "complete"


def test_a_person_loses_no_trade_their_open_job_needs(lena, tom, car):
    JobFactory(build=car, trade="panel", person=tom.person)
    with assert_refused("does not have the trade"):
        people.set_trades(by=lena, person=tom.person, levels={"weld": 3})
    assert [one.trade for one in tom.person.trades.all()] == ["panel"]


def test_a_file_with_faults_is_refused_and_nothing_changes(lena, car):
    wrong = '{"jobs": [{"id": "a", "after": ["b"]}]}'
    with assert_refused("a job the plan does not have"):
        exchange.replace_plan(by=lena, text=wrong)
    car.refresh_from_db()


@pytest.mark.parametrize(
    "fields",
    [
        {"week": {"mon": ["eight to four"]}},
        {"week": {"someday": ["08:00-16:00"]}},
        {"closed": ["Easter"]},
        {"week": {"mon": ["16:00-08:00"]}},
        {"week": {}},
        {"holidays": "ATLANTIS"},
    ],
)
def test_a_week_nobody_can_read_is_refused(lena, fields):
    calendar = WorkCalendar.objects.get()
    with assert_refused(""):
        calendars.change_calendar(by=lena, calendar=calendar, fields=fields)


@pytest.mark.parametrize(
    "fields",
    [
        {"timezone": "Middle/Earth", "now": None},
        {"factors": {"weather": 1}},
        {"levels": []},
        {"reading": "tea leaves"},
        {"samples": 0},
    ],
)
def test_settings_nobody_can_use_are_refused(lena, fields):
    with assert_refused(""):
        workshop.change_workshop(by=lena, fields=fields)


@pytest.mark.parametrize("words", ["x" * 4001, "a\0b"])
def test_words_no_plan_file_holds_are_refused(lena, car, words):
    with assert_refused("no more than 4000 letters"):
        builds.change_build(by=lena, build=car, fields={"note": words})
    with assert_refused("no more than 4000 letters"):
        diary.post_update(by=lena, build=car, words=words)
