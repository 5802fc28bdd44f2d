"""What goes to a vendor and comes back."""

from datetime import date

import pytest

from builds.actions.outside import book_back, check_in_pieces, send_job
from builds.actions.promises import record_promise
from builds.actions.undo import undo_act
from builds.models import Event, Kind, PastReturn, State
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory, OutsideJobFactory

SENT = date(2027, 1, 4)  # a Monday; now is the Monday after


@pytest.fixture
def job(car):
    return OutsideJobFactory(build=car, title="Plate", likely=5)


@pytest.fixture
def away(lena, job):
    send_job(by=lena, job=job, sent=SENT, pieces=5)
    job.refresh_from_db()
    Event.objects.all()._raw_delete("default")
    return job


def test_sending_keeps_the_day_and_the_count(tom, job):
    with assert_one_event("sent job"):
        send_job(by=tom, job=job, sent=SENT, pieces=5)
    job.refresh_from_db()
    assert (job.state, job.sent, job.pieces) == (State.UNDER_WAY, SENT, 5)


def test_sent_without_a_day_is_sent_today(tom, job):
    send_job(by=tom, job=job)
    job.refresh_from_db()
    assert job.sent == date(2027, 1, 11)


def test_sending_twice_sends_once(tom, job):
    send_job(by=tom, job=job, sent=SENT)
    send_job(by=tom, job=job)
    job.refresh_from_db()
    assert job.sent == SENT
    assert Event.objects.count() == 1


def test_nothing_is_sent_tomorrow(tom, job):
    with assert_refused("still to come"):
        send_job(by=tom, job=job, sent=date(2027, 1, 12))


def test_what_waits_is_not_sent(tom, car):
    job = OutsideJobFactory(build=car, after=[JobFactory(build=car, title="Weld")])
    with assert_refused("waits for “Weld”"):
        send_job(by=tom, job=job)


def test_plating_cannot_be_undone_so_it_waits_for_its_check(lena, car):
    check = JobFactory(build=car, kind=Kind.CHECK, title="Trial fit")
    done = JobFactory(build=car, state=State.DONE, after=[check])
    job = OutsideJobFactory(build=car, commitment=True, after=[done])
    with assert_refused("“Trial fit” has not been passed"):
        send_job(by=lena, job=job)


def test_bench_work_is_not_sent(tom, car):
    with assert_refused("not work for a vendor"):
        send_job(by=tom, job=JobFactory(build=car))


def test_pieces_are_counted_in_all_told(tom, away):
    with assert_one_event("checked in pieces"):
        check_in_pieces(by=tom, job=away, pieces_back=3, pieces_noted=4)
    check_in_pieces(by=tom, job=away, pieces_back=5)
    away.refresh_from_db()
    assert (away.pieces_back, away.pieces_noted) == (5, 4)
    assert away.state == State.UNDER_WAY


def test_more_than_went_cannot_be_back(tom, away):
    with assert_refused("5 went out; 6 cannot be back"):
        check_in_pieces(by=tom, job=away, pieces_back=6)


def test_nothing_is_counted_in_that_was_not_sent(tom, job):
    with assert_refused("not with a vendor"):
        check_in_pieces(by=tom, job=job, pieces_back=1)


def test_booking_back_ends_the_job_and_learns_how_long_it_took(lena, away):
    """Quoted five days; out Monday, back the next Monday: five working days."""
    with assert_one_event("booked back"):
        book_back(by=lena, job=away)
    away.refresh_from_db()
    assert (away.state, away.pieces_back) == (State.DONE, 5)
    past = PastReturn.objects.get()
    assert (past.vendor, past.quoted_days, past.actual_days) == (away.vendor, 5, 5)


def test_the_first_date_they_gave_is_what_they_quoted(lena, away):
    # Thursday is three working days after Monday; they moved it to Friday later.
    record_promise(by=lena, job=away, promised=date(2027, 1, 7), given=SENT)
    record_promise(by=lena, job=away, promised=date(2027, 1, 8))
    book_back(by=lena, job=away)
    assert PastReturn.objects.get().quoted_days == 3


def test_booking_back_twice_learns_once(lena, away):
    book_back(by=lena, job=away)
    book_back(by=lena, job=away)
    assert PastReturn.objects.count() == 1


def test_a_promise_replaces_the_last_and_none_is_lost(lena, away):
    record_promise(by=lena, job=away, promised=date(2027, 1, 15), said="Friday")
    with assert_one_event("recorded promise"):
        record_promise(by=lena, job=away, promised=None, said="Would not say")
    away.refresh_from_db()
    assert away.promised is None
    said = [(one.date, one.said) for one in away.promises.all()]
    assert said == [(date(2027, 1, 15), "Friday"), (None, "Would not say")]
    assert away.promises.last().given == date(2027, 1, 11)


def test_nobody_promises_bench_work(lena, car):
    with assert_refused("not work for a vendor"):
        record_promise(by=lena, job=JobFactory(build=car), promised=None)


def test_days_it_only_lay_there_are_kept_apart(lena, away):
    """Out Monday 4th, they could start on Thursday 7th, back on Monday 11th.

    Five working days after the 4th; of those Tuesday and Wednesday it lay there.
    """
    day = date(2027, 1, 8)
    record_promise(by=lena, job=away, promised=day, could_start=date(2027, 1, 7))
    book_back(by=lena, job=away)
    past = PastReturn.objects.get()
    assert (past.actual_days, past.waited_days) == (5, 2)
    # Promised for Friday 8th: four days, two of them waiting.
    assert past.quoted_days == 2
    assert (past.what, past.back) == ("Plate", date(2027, 1, 11))


@pytest.mark.parametrize(("slot", "waited"), [(6, 1), (4, 0)])
def test_a_wait_for_their_slot_is_none_of_their_time(lena, job, slot, waited):
    """Sent Monday 4th; slots every five working days from Wednesday 6th, or that day.

    Until Wednesday it lay there on Tuesday.
    """
    job.vendor.slot_every, job.vendor.slot_from = 5, date(2027, 1, slot)
    job.vendor.save()
    send_job(by=lena, job=job, sent=SENT)
    book_back(by=lena, job=job)
    past = PastReturn.objects.get()
    found = (past.quoted_days, past.actual_days, past.waited_days)
    assert found == (5, 5, waited)


def test_taking_a_return_back_forgets_what_it_told(lena, away):
    record_promise(
        by=lena, job=away, promised=date(2027, 1, 8), could_start=date(2027, 1, 7)
    )
    book_back(by=lena, job=away)
    undo_act(by=lena, event=Event.objects.first())
    assert not PastReturn.objects.exists()
