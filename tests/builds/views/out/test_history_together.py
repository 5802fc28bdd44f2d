"""The history of one job tells of its leaving and coming back with others."""

from __future__ import annotations

from builds.actions.consignment_leaves import DropOff, send_consignment
from builds.actions.counting import Counted, Return
from builds.actions.goods_in import Signature, take_in_consignment
from builds.actions.undo_together import undo_consignment_act
from builds.models import Event
from builds.selectors.job_history import history
from builds.selectors.record_page import record_page
from tests.factories.job import JobFactory, OutsideJobFactory


def leave(lena, batch) -> Event:
    drop_off = DropOff(signed="Tomos", words="Both boxes")
    send_consignment(by=lena, consignment=batch, version=1, drop_off=drop_off)
    return Event.objects.get(verb="sent consignment")


def come_back(lena, batch, *jobs) -> None:
    for row in (batch, *jobs):
        row.refresh_from_db()
    returns = [
        Return(
            job=job,
            counts={job.piece_list.get().key: Counted(good=job.pieces)},
            version=job.version,
        )
        for job in jobs
    ]
    take_in_consignment(
        by=lena,
        consignment=batch,
        version=batch.version,
        returns=returns,
        signature=Signature(signed="Petra"),
    )


def test_it_says_that_it_left_with_whom_and_what_that_changed(
    look, lena, batch, pedals
):
    leave(lena, batch)
    (act,) = history(pedals)
    assert (act.verb, act.words) == ("sent it out with others", "Both boxes")
    assert "Signed for by: Tomos" in act.changes
    assert any("Wrenfold Anodic" in change for change in act.changes)
    assert act.undo is None  # it is taken back for all of them, on the other page
    assert "sent it out with others." in look("job", "pedals")


def test_it_says_that_it_came_back(lena, batch, pedals, caps):
    leave(lena, batch)
    come_back(lena, batch, pedals, caps)
    newest, oldest = history(pedals)
    assert newest.verb == "counted it in with others"
    assert "Pieces back: from 0 to 7" in newest.changes
    assert oldest.verb == "sent it out with others"
    assert "Pieces back: from 0 to 2" in history(caps)[0].changes


def test_it_says_that_it_was_taken_back(lena, batch, pedals):
    event = leave(lena, batch)
    undo_consignment_act(by=lena, consignment=batch, event=event)
    newest, oldest = history(pedals)
    assert newest.verb == "took back: sent it out with others"
    assert "State: from under way to open" in newest.changes
    assert oldest.verb == "sent it out with others"


def test_what_did_not_travel_has_nothing_of_it(lena, car, batch):
    leave(lena, batch)
    other = OutsideJobFactory(key="ped", build=car)  # part of another's key
    assert history(other) == ()
    assert history(JobFactory(build=car)) == ()


def test_it_stands_in_its_order_among_the_jobs_own_acts(lena, batch, pedals):
    Event.objects.create(job=pedals, by=lena, verb="changed job")
    leave(lena, batch)
    Event.objects.create(job=pedals, by=lena, verb="changed job")
    verbs = [act.verb for act in history(pedals)]
    assert verbs == ["changed it", "sent it out with others", "changed it"]


def test_the_record_of_a_car_says_what_left_and_came_back_with_others(
    lena, batch, pedals, caps
):
    event = leave(lena, batch)
    lines = record_page(build=pedals.build, before=None).lines
    (line,) = [one for one in lines if one.number == event.pk]
    assert (line.verb, line.subject) == ("saw it leave", "Black batch")
    assert "Anodise the pedals: state: from open to under way" in line.changes
    assert "Signed for by: Tomos" in line.changes
    come_back(lena, batch, pedals, caps)
    newest = record_page(build=pedals.build, before=None).lines[0]
    assert "Anodise the caps: pieces back: from 0 to 2" in newest.changes


def test_the_record_of_another_car_has_nothing_of_it(lena, batch):
    leave(lena, batch)
    other = OutsideJobFactory(key="ped").build  # part of another's key
    assert record_page(build=other, before=None).lines == ()


def test_the_record_of_everything_names_the_jobs_that_go_together(look, lena, batch):
    leave(lena, batch)
    page = look("record")
    assert "Jobs: Anodise the pedals, Anodise the caps" in page
    assert "{" not in page.partition("<ul")[2].partition("</ul>")[0]
