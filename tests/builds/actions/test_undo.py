"""Taking back the last act on a job: exactly, in order, and never over another's."""

import pytest

from builds.actions import decisions, jobs, links, outside, promises, work
from builds.actions.exchange import replace_plan
from builds.actions.undo import undo_act
from builds.models import Event, Job, Kind, Link, PastReturn, Place, PlaceUse, State
from builds.planning.exchange import export_plan
from builds.selectors.last_act import act_to_undo, last_act
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.people import UserFactory
from tests.factories.place import PlaceFactory

NOW = "2027-01-11T08:00"


@pytest.fixture
def weld(car):
    return JobFactory(key="weld", title="Weld", build=car, likely=4.0)


@pytest.fixture
def under_way(weld):
    Job.objects.filter(pk=weld.pk).update(state="under way", started=NOW)
    weld.refresh_from_db()
    return weld


@pytest.fixture
def gone(car):
    """Sent a week ago, with all that a return needs."""
    return OutsideJobFactory(
        key="plate", title="Plate", build=car, state="under way", pieces=3,
        started="2027-01-04T08:00", sent="2027-01-04",
    )  # fmt: skip


def start(by, job):
    work.start_job(by=by, job=job, person=by.person)


def edit(by, job):
    facts = {"title": "Weld twice", "person": by.person, "low": 3.0, "high": 9.0}
    jobs.change_job(by=by, job=job, fields=facts)


def move(by, job):
    jobs.set_places(by=by, job=job, places=[(Place.objects.get(key="booth"), 1)])


def link(by, job):
    links.add_link(by=by, job=job, before=Job.objects.get(key="first"), wait_days=2)


def unlink(by, job):
    links.remove_link(by=by, link=Link.objects.get(job=job))


# Each act, and what has to be there for it.
OPEN_ACTS = {
    "started job": start,
    "finished job": lambda by, job: work.finish_job(by=by, job=job),
    "left out job": lambda by, job: jobs.leave_out_job(by=by, job=job, words="no"),
    "changed job": edit,
    "moved job": move,
    "added link": link,
}
BEGUN_ACTS = {
    "stopped job": lambda by, job: work.stop_job(
        by=by, job=job, remaining=1.5, reason="put down"
    ),
    "finished job": OPEN_ACTS["finished job"],
}
AWAY_ACTS = {
    "booked back": lambda by, job: outside.book_back(by=by, job=job),
    "checked in pieces": lambda by, job: outside.check_in_pieces(
        by=by, job=job, pieces_back=2, pieces_noted=3
    ),
}


def assert_comes_back(by, job, act, verb):
    """The whole plan, returns of vendors too, is as it was to the letter."""
    before = export_plan()
    act(by, job)
    assert export_plan() != before
    event = last_act(job)
    assert event.verb == verb
    with assert_one_event("took back"):
        undo_act(by=by, event=event)
    assert export_plan() == before


@pytest.mark.parametrize("verb", OPEN_ACTS)
def test_an_act_on_an_open_job_is_taken_back(lena, weld, verb):
    JobFactory(key="first")
    PlaceFactory(key="booth")
    assert_comes_back(lena, weld, OPEN_ACTS[verb], verb)


@pytest.mark.parametrize("verb", BEGUN_ACTS)
def test_an_act_on_a_job_under_way_is_taken_back(lena, under_way, verb):
    assert_comes_back(lena, under_way, BEGUN_ACTS[verb], verb)


@pytest.mark.parametrize("verb", AWAY_ACTS)
def test_an_act_on_a_job_away_is_taken_back(lena, gone, verb):
    assert_comes_back(lena, gone, AWAY_ACTS[verb], verb)
    assert not PastReturn.objects.exists()


def test_sending_a_choice_an_answer_and_a_link_taken_away(lena, car):
    first = JobFactory(key="first", build=car)
    plate = OutsideJobFactory(key="plate", build=car)
    assert_comes_back(
        lena, plate, lambda by, job: outside.send_job(by=by, job=job), "sent job"
    )
    found = JobFactory(key="found", build=car, found="asked")
    assert_comes_back(
        lena,
        found,
        lambda by, job: decisions.answer_found_work(by=by, job=job, yes=False),
        "answered found work",
    )
    later = JobFactory(key="later", build=car)
    Link.objects.create(job=later, before=first, kind="with", wait_hours=3)
    assert_comes_back(lena, later, unlink, "removed link")


def test_a_choice_is_taken_back(lena, car):
    leather = JobFactory(key="leather", build=car, kind=Kind.DECISION)
    decisions.record_choice(by=lena, job=leather, choice="Oxblood")
    undo_act(by=lena, event=last_act(leather))
    leather.refresh_from_db()
    assert (leather.state, leather.finished) == (State.OPEN, None)


def test_acts_are_taken_back_one_after_another(lena, weld):
    start(lena, weld)
    work.finish_job(by=lena, job=weld)
    undo_act(by=lena, event=last_act(weld))
    weld.refresh_from_db()
    assert weld.state == State.UNDER_WAY
    undo_act(by=lena, event=last_act(weld))
    weld.refresh_from_db()
    assert (weld.state, weld.started, weld.person) == (State.OPEN, None, None)
    assert last_act(weld) is None


def test_nothing_is_taken_back_twice(lena, weld):
    start(lena, weld)
    event = last_act(weld)
    undo_act(by=lena, event=event)
    with assert_refused("taken back already"):
        undo_act(by=lena, event=event)


def test_a_newer_act_stands_in_the_way(lena, tom, weld):
    start(tom, weld)
    event = last_act(weld)
    weld.refresh_from_db()
    jobs.change_job(by=lena, job=weld, fields={"note": "mind the seam"})
    with assert_refused("changed “Weld” since"):
        undo_act(by=lena, event=event)


def test_a_row_that_is_no_longer_what_the_act_made_it_is_left_alone(lena, weld):
    jobs.change_job(by=lena, job=weld, fields={"level": "running"})
    Job.objects.update(level="driving")
    with assert_refused("changed “Weld” since"):
        undo_act(by=lena, event=last_act(weld))


def test_what_is_built_on_it_stands_in_the_way(lena, weld, car):
    work.finish_job(by=lena, job=weld)
    paint = JobFactory(key="paint", title="Paint", build=car, after=[weld])
    start(lena, paint)
    with assert_refused("“Paint” has begun on top of it"):
        undo_act(by=lena, event=last_act(weld))


def test_what_began_beside_it_stands_in_the_way(lena, weld, car):
    start(lena, weld)
    grind = JobFactory(key="grind", title="Grind", build=car)
    Link.objects.create(job=grind, before=weld, kind="with")
    work.start_job(by=lena, job=grind)
    with assert_refused("“Grind” has begun on top of it"):
        undo_act(by=lena, event=last_act(weld))


def test_a_link_that_would_close_a_ring_now_is_not_put_back(lena, weld, car):
    first = JobFactory(key="first", build=car)
    link(lena, weld)
    unlink(lena, weld)
    links.add_link(by=lena, job=first, before=weld)
    with assert_refused("in a ring"):
        undo_act(by=lena, event=last_act(weld))


def test_a_place_that_is_gone_is_not_put_back(lena, weld):
    booth = PlaceFactory(key="booth")
    PlaceUse.objects.create(job=weld, place=booth)
    jobs.set_places(by=lena, job=weld, places=[])
    booth.delete()
    with assert_refused("Not everything it was before is still there"):
        undo_act(by=lena, event=last_act(weld))


def test_a_plan_file_stands_in_the_way(lena, weld):
    start(lena, weld)
    replace_plan(by=lena, text=export_plan(), pin_clock=True)
    weld.refresh_from_db()
    with assert_refused("whole plan was replaced"):
        undo_act(by=lena, event=last_act(weld))


@pytest.mark.parametrize(
    ("verb", "words"),
    [("created job", "Leave it out"), ("recorded promise", "is kept")],
)
def test_what_stays_says_what_to_do_instead(lena, gone, verb, words):
    promises.record_promise(by=lena, job=gone, promised=None, said="soon")
    jobs.create_job(by=lena, build=gone.build, title="New", likely=1.0)
    event = Event.objects.get(verb=verb)
    assert act_to_undo(lena, event.job) is None
    with assert_refused(words):
        undo_act(by=lena, event=event)


def test_a_technician_takes_back_only_their_own(lena, tom, weld):
    other = UserFactory(username="sam", role="technician")
    start(tom, weld)
    assert act_to_undo(other, weld) is None
    with assert_refused("Tom" if str(tom) == "Tom" else "tom"):
        undo_act(by=other, event=last_act(weld))
    undo_act(by=tom, event=last_act(weld))


def test_trouble_that_was_told_is_no_act_on_the_rows(lena, tom, weld):
    start(tom, weld)
    work.report_trouble(by=tom, job=weld, reason="A part is wrong")
    assert last_act(weld).verb == "started job"


def test_a_safety_job_put_back_is_not_left_out_again_by_undoing(lena, weld):
    jobs.leave_out_job(by=lena, job=weld)
    jobs.restore_job(by=lena, job=weld)
    weld.safety = True
    Job.objects.update(safety=True)
    with assert_refused("never left out"):
        undo_act(by=lena, event=last_act(weld))
