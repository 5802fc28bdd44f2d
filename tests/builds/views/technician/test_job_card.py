"""What the card says: what is needed, where the parts are, the cautions, who signs."""

import html
from datetime import UTC, datetime

import time_machine
from django.urls import reverse

from builds.cautions import STANDING_NOTE
from builds.models import Event, Kind, State, Workshop
from tests.assertions import is_marked
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.people import PersonFactory
from tests.factories.place import PlaceFactory


def card(client, job, **data):
    page = client.get(reverse("bench_job", args=[job.key]), data)
    assert page.status_code == 200
    return html.unescape(page.content.decode())


def test_it_says_where_the_work_is_done_and_who_has_the_parts(technician_client, weld):
    weld.place_uses.create(place=PlaceFactory(name="Spit"))
    weld.holder, weld.note = "the shelf by the door", "Drawing 4"
    weld.save()
    page = card(technician_client, weld)
    assert "Spit" in page
    assert "the shelf by the door" in page
    assert "Drawing 4" in page


def test_it_says_who_has_what_comes_before(technician_client, car):
    plating = OutsideJobFactory(
        build=car, title="Zinc", sent="2027-01-04", vendor__name="Brindle"
    )
    page = card(technician_client, JobFactory(build=car, after=[plating]))
    assert "Zinc, with Brindle" in page
    assert "sign-away" in page


def test_it_names_who_signs_off_in_that_trade(technician_client, weld):
    PersonFactory(name="Ida", trades=["panel"])
    PersonFactory(name="Olaf", trades=["engine"])
    page = card(technician_client, weld)
    assert "Tom, Ida" in page
    assert "Olaf" not in page


def test_welding_shows_its_caution_and_the_standing_note(technician_client, weld):
    """The caution itself: UK HSE Safety Bulletin STSU1-2019 on weld fume."""
    page = card(technician_client, weld)
    assert "Weld fume" in page
    assert STANDING_NOTE in page


def test_desk_work_shows_no_caution(technician_client, car):
    job = JobFactory(build=car, title="Write the list", trade="lead")
    assert STANDING_NOTE not in card(technician_client, job)


def test_what_cannot_be_undone_names_the_check_not_passed(technician_client, car):
    fit = JobFactory(build=car, title="Trial fit", kind=Kind.CHECK)
    tank = JobFactory(build=car, title="Weld tank", commitment=True, after=[fit])
    page = card(technician_client, tank)
    assert "“Trial fit” has not been passed, and this work cannot be undone." in page
    assert reverse("bench_start", args=[tank.key]) not in page
    fit.state = State.DONE
    fit.finished = fit.started = "2027-01-08T08:00"
    fit.save()
    page = card(technician_client, tank)
    assert "has not been passed" not in page
    assert reverse("bench_start", args=[tank.key]) in page


def test_a_clear_job_can_be_started_and_one_under_way_stopped(technician_client, weld):
    page = card(technician_client, weld)
    assert reverse("bench_start", args=["weld"]) in page
    assert is_marked(page, "stop", "hidden")  # for who starts it without a connection
    weld.state = State.UNDER_WAY
    weld.save()
    page = card(technician_client, weld)
    assert reverse("bench_start", args=["weld"]) not in page
    assert reverse("bench_stop", args=["weld"]) in page
    assert not is_marked(page, "stop", "hidden")


def test_the_question_asked_for_is_open(technician_client, weld):
    weld.state = State.UNDER_WAY
    weld.save()
    assert is_marked(card(technician_client, weld, ask="stop"), "stop", "open")
    assert not is_marked(card(technician_client, weld), "stop", "open")


def test_work_at_a_vendor_can_be_counted_in_and_nothing_else(technician_client, car):
    zinc = OutsideJobFactory(build=car, sent="2027-01-04", state=State.UNDER_WAY)
    page = card(technician_client, zinc)
    assert reverse("bench_count", args=[zinc.key]) in page
    assert reverse("bench_start", args=[zinc.key]) not in page
    assert reverse("bench_stop", args=[zinc.key]) not in page


def test_a_moment_is_as_the_workshops_own_clock_shows_it(technician_client, weld):
    # Kolkata is five and a half hours ahead all year (tz database).
    Workshop.objects.update(timezone="Asia/Kolkata")
    with time_machine.travel(datetime(2027, 1, 12, 20, tzinfo=UTC), tick=False):
        Event.objects.create(job=weld, verb="reported trouble")
    assert "Wed 13 Jan, 01:30" in card(technician_client, weld)


class TestWhoMayStart:
    def test_who_lacks_the_trade_is_told_who_has_it(self, technician_client, car):
        PersonFactory(name="Ida", trades=["engine"])
        PersonFactory(name="Left", trades=["engine"], left_out=True)
        page = card(technician_client, JobFactory(build=car, trade="engine"))
        assert "This asks for engine, level 2." in page
        assert "Who may start it: Ida." in " ".join(page.split())
        assert ">Start<" not in page
        assert 'id="stop"' not in page

    def test_where_nobody_has_it_the_lead_is_told(self, technician_client, car):
        page = card(technician_client, JobFactory(build=car, trade="gilding"))
        assert "Nobody in the workshop has it." in page
        assert ">Start<" not in page

    def test_a_level_counts_too(self, technician_client, car, tom):
        tom.person.trades.update(level=1)
        page = card(technician_client, JobFactory(build=car, trade="panel"))
        assert ">Start<" not in page
        helped = JobFactory(build=car, trade="panel", trade_level=1)
        assert ">Start<" in card(technician_client, helped)

    def test_a_trade_without_a_level_is_to_work_alone(
        self, technician_client, car, tom
    ):
        tom.person.trades.update(level=None)
        page = card(technician_client, JobFactory(build=car, trade="panel"))
        assert ">Start<" in page
        strict = JobFactory(build=car, trade="panel", trade_level=3)
        assert ">Start<" not in card(technician_client, strict)

    def test_a_job_that_asks_for_no_trade_is_anybodys(self, technician_client, car):
        assert ">Start<" in card(technician_client, JobFactory(build=car, trade=None))
