"""A consignment is made up, leaves and comes back: all of it at one stroke."""

import pytest

from builds.actions.consignment_leaves import DropOff, send_consignment
from builds.actions.consignments import (
    change_consignment,
    create_consignment,
    part_consignment,
)
from builds.actions.counting import Counted, Return
from builds.actions.goods_in import Signature, take_in_consignment
from builds.actions.undo_together import undo_consignment_act
from builds.models import Consignment, Event, Job, Kind, Piece, State
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.vendor import VendorFactory

TOMOS = DropOff("Tomos", {"pedals": 7})
PETRA = Signature("Petra")


@pytest.fixture
def anodiser(shop):
    return VendorFactory(key="anodiser", name="Wrenfold Anodic")


@pytest.fixture
def pedals(car, anodiser):
    """Seven brackets of the coupe, trial fitted."""
    fit = JobFactory(build=car, kind=Kind.CHECK, state=State.DONE)
    return OutsideJobFactory(
        key="pedals", title="Anodise the pedals", build=car, vendor=anodiser,
        pieces=7, after=[fit], commitment=True,
    )  # fmt: skip


@pytest.fixture
def caps(other_car, anodiser):
    """Two caps of the saloon, still to be trial fitted."""
    fit = JobFactory(
        key="fit", build=other_car, kind=Kind.CHECK, title="Trial fit the caps"
    )
    drilled = JobFactory(build=other_car, title="Drill the caps", after=[fit])
    return OutsideJobFactory(
        key="caps", title="Anodise the caps", build=other_car, vendor=anodiser,
        pieces=2, after=[drilled],
    )  # fmt: skip


@pytest.fixture
def batch(lena, anodiser, pedals, caps):
    """Both of them, after the caps were trial fitted and drilled."""
    caps.links.all().delete()
    row = create_consignment(
        by=lena, vendor=anodiser, jobs=[pedals, caps], name="Black batch"
    )
    Event.objects.all()._raw_delete("default")
    return row


def send(by, row, **counts):
    drop_off = DropOff("Tomos", {"pedals": 7, "caps": 2} | counts)
    return send_consignment(
        by=by, consignment=row, version=row.version, drop_off=drop_off
    )


def states():
    jobs = Job.objects.filter(key__in=["pedals", "caps"]).order_by("key")
    return [(one.state, one.pieces, one.pieces_back) for one in jobs]


def test_nine_with_two_not_trial_fitted_go_as_seven(lena, anodiser, pedals, caps):
    """7 + 2 are nine; the two are refused by the name of their trial fit."""
    with assert_refused("“Trial fit the caps” has not been passed"):
        create_consignment(by=lena, vendor=anodiser, jobs=[pedals, caps])
    row = create_consignment(by=lena, vendor=anodiser, jobs=[pedals])
    send_consignment(by=lena, consignment=row, version=1, drop_off=TOMOS)
    assert states() == [("open", 2, 0), ("under way", 7, 0)]


def test_it_leaves_at_one_stroke(lena, batch):
    with assert_one_event("sent consignment"):
        send(lena, batch)
    assert states() == [("under way", 2, 0), ("under way", 7, 0)]
    rows = Piece.objects.all()
    assert {(one.holder, one.state, one.count) for one in rows} == {
        ("Wrenfold Anodic", "out", 7),
        ("Wrenfold Anodic", "out", 2),
    }
    assert all(one.trail.last().signed == "Tomos" for one in rows)
    batch.refresh_from_db()
    assert (batch.signed, batch.left.isoformat()) == ("Tomos", "2027-01-11T08:00:00")


def test_nothing_leaves_if_one_of_it_may_not(lena, batch, caps, other_car):
    late = JobFactory(build=other_car, title="Deburr the caps")
    caps.links.create(before=late)
    with assert_refused("waits for “Deburr the caps”"):
        send(lena, batch)
    assert states() == [("open", 2, 0), ("open", 7, 0)]
    assert {one.state for one in Piece.objects.all()} == {"here"}


def test_counted_at_the_door_it_has_to_be_what_the_list_says(lena, batch):
    with assert_refused("the list says 7 and 6 were counted"):
        send(lena, batch, pedals=6)
    assert states() == [("open", 2, 0), ("open", 7, 0)]


def test_somebody_signs_for_it(lena, batch):
    with assert_refused("whoever takes it"):
        send_consignment(by=lena, consignment=batch, version=1, drop_off=DropOff(" "))


def test_pieces_that_were_never_counted_are_counted_at_the_door(lena, batch):
    Job.objects.filter(key="caps").update(pieces=None)
    Piece.objects.filter(job__key="caps").delete()
    with assert_refused("say how many pieces go"):
        send_consignment(by=lena, consignment=batch, version=1, drop_off=TOMOS)
    send(lena, batch)
    assert Job.objects.get(key="caps").pieces == 2


def test_a_job_travels_once(lena, anodiser, batch, pedals):
    with assert_refused("travels with “Black batch” already"):
        create_consignment(by=lena, vendor=anodiser, jobs=[pedals])


def test_what_has_left_is_not_made_up_anew(lena, batch, pedals):
    send(lena, batch)
    batch.refresh_from_db()
    with assert_refused("has left"):
        change_consignment(by=lena, consignment=batch, jobs=[pedals])
    with assert_refused("has left"):
        part_consignment(by=lena, consignment=batch)
    with assert_refused("has left already"):
        send(lena, batch)


def test_it_is_not_empty(lena, anodiser):
    with assert_refused("Choose what travels"):
        create_consignment(by=lena, vendor=anodiser, jobs=[])


def test_leaving_is_taken_back_at_one_stroke(lena, batch):
    send(lena, batch)
    with assert_one_event("took back"):
        undo_consignment_act(by=lena, consignment=batch, event=Event.objects.first())
    assert states() == [("open", 2, 0), ("open", 7, 0)]
    assert {(one.holder, one.state) for one in Piece.objects.all()} == {
        ("Test workshop", "here")
    }
    batch.refresh_from_db()
    assert (batch.left, batch.signed) == (None, "")
    send(lena, batch)


def back(by, row, version=None, **counts):
    row.refresh_from_db()
    returns = [
        Return(Job.objects.get(key=key), {_lot(key): count}, accepted=True)
        for key, count in counts.items()
    ]
    return take_in_consignment(
        by=by, consignment=row, version=version or row.version, returns=returns,
        signature=PETRA,
    )  # fmt: skip


def _lot(key):
    rows = Piece.objects.filter(job__key=key, state="out")
    return rows.values_list("key", flat=True)[0]


def test_it_comes_back_at_one_stroke(lena, batch):
    send(lena, batch)
    with assert_one_event("counted in consignment"):
        back(lena, batch, pedals=Counted(good=7), caps=Counted(good=2))
    assert states() == [("done", 2, 2), ("done", 7, 7)]


def test_part_of_it_comes_back(lena, batch):
    """7 of 7 pedals and 1 of 2 caps, the other rejected: one job done, one step new."""
    send(lena, batch)
    back(lena, batch, pedals=Counted(good=7), caps=Counted(good=1, rejected=1))
    assert states() == [("done", 1, 1), ("done", 7, 7)]
    fresh = Job.objects.get(key__startswith="caps-again")
    assert (fresh.pieces, fresh.state, fresh.vendor) == (1, "open", batch.vendor)


def test_coming_back_is_taken_back_at_one_stroke(lena, batch):
    send(lena, batch)
    back(lena, batch, pedals=Counted(good=5), caps=Counted(good=1, rejected=1))
    undo_consignment_act(by=lena, consignment=batch, event=Event.objects.first())
    assert states() == [("under way", 2, 0), ("under way", 7, 0)]
    assert Piece.objects.count() == 2
    assert not Job.objects.filter(key__contains="again").exists()
    assert Event.objects.count() == 3


def test_only_the_newest_act_is_taken_back(lena, batch):
    send(lena, batch)
    sent = Event.objects.first()
    back(lena, batch, caps=Counted(good=2))
    with assert_refused("Something has happened to “Black batch” since"):
        undo_consignment_act(by=lena, consignment=batch, event=sent)


def test_what_has_not_left_is_not_counted_in(lena, batch):
    with assert_refused("has not left yet"):
        take_in_consignment(
            by=lena, consignment=batch, version=1, returns=[], signature=PETRA
        )


def test_the_second_of_two_is_told_and_nothing_counts_twice(lena, tom, batch):
    send(lena, batch)
    batch.refresh_from_db()
    seen = batch.version
    back(tom, batch, version=seen, caps=Counted(good=1))
    stale = Consignment.objects.get(pk=batch.pk)
    with assert_refused("tom changed “Black batch” after you opened it"):
        back(lena, stale, version=seen, pedals=Counted(good=7))
    assert states() == [("done", 1, 1), ("under way", 7, 0)]
