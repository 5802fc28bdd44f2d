"""Goods in: pieces counted and signed for, and what becomes of the others."""

from datetime import date

import pytest

from builds.actions.counting import Again, Counted, Return, mismatch
from builds.actions.goods_in import Signature, take_in
from builds.actions.undo import undo_act
from builds.models import Event, Job, PastReturn, Piece, PieceMove, PieceState, State
from builds.selectors.last_act import last_act
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory, OutsideJobFactory

SENT = date(2027, 1, 4)  # a Monday; now is the Monday after
PETRA = Signature("Petra")


def out(car, count, **facts):
    return OutsideJobFactory(
        key="plate", title="Bright trim at the plater", build=car, pieces=count,
        vendor__name="Hartcombe Plating", state=State.UNDER_WAY, sent=SENT,
        started="2027-01-04T08:00", **facts,
    )  # fmt: skip


@pytest.fixture
def fourteen(car):
    """Fourteen pieces at the plater; fitting the trim and the badge wait for them."""
    job = out(car, 14, low=5.0, likely=10.0, high=20.0)
    JobFactory(key="trim", title="Fit the trim", build=car, after=[job])
    JobFactory(key="grille", title="Fit the grille", build=car, after=[job])
    return job


def by_state(job):
    rows = Piece.objects.filter(job=job)
    return {one.state: one.count for one in rows}


def before(key):
    return set(Job.objects.get(key=key).links.values_list("before__key", flat=True))


def test_fourteen_back_with_three_rejected(lena, fourteen):
    """14 out, 11 good, 3 pitted: 11 close the old step, 3 open a fresh one."""
    ret = Return(
        fourteen,
        {"": Counted(good=11, rejected=3, why="pitted")},
        noted=14,
        accepted=True,
        again=Again(3.0, 6.0, 12.0),
        waits=frozenset(["trim"]),
    )
    with assert_one_event("counted in"):
        take_in(by=lena, ret=ret, signature=PETRA)
    fourteen.refresh_from_db()
    assert (fourteen.state, fourteen.pieces, fourteen.pieces_back) == ("done", 11, 11)
    assert by_state(fourteen) == {"back": 11}
    fresh = Job.objects.get(key__startswith="plate-again")
    assert (fresh.state, fresh.sent, fresh.pieces, fresh.pieces_back) == (
        *("open", None, 3),
        0,
    )
    assert (fresh.low, fresh.likely, fresh.high) == (3.0, 6.0, 12.0)
    assert fresh.vendor == fourteen.vendor
    assert by_state(fresh) == {"rejected": 3}
    assert before("trim") == {"plate", fresh.key}
    assert before("grille") == {"plate"}  # the good pieces free it
    assert PastReturn.objects.count() == 1


def test_eleven_of_twelve_with_the_missing_one_named(lena, car):
    """12 out, 11 in the box, 12 on their note: nobody signs until the one is named."""
    job = out(car, 12, pieces_noted=12)
    JobFactory(key="fit", title="Fit", build=car, after=[job])
    short = {"": Counted(good=11)}
    with assert_refused("Name what is missing before you sign"):
        take_in(by=lena, ret=Return(job, short, noted=12), signature=PETRA)
    nameless = {"": Counted(good=11, missing=1)}
    with assert_refused("say which of the 12 is missing"):
        take_in(by=lena, ret=Return(job, nameless, noted=12), signature=PETRA)
    named = {"": Counted(good=11, missing=1, which="left-hand hinge cap")}
    ret = Return(job, named, noted=12, accepted=True)
    take_in(by=lena, ret=ret, signature=PETRA)
    job.refresh_from_db()
    assert (job.state, job.pieces, job.pieces_back) == ("done", 11, 11)
    lost = Piece.objects.get(state=PieceState.MISSING)
    assert (str(lost), lost.count) == ("left-hand hinge cap", 1)
    assert (lost.holder, lost.job.state) == ("Hartcombe Plating", "under way")
    assert before("fit") == {"plate", lost.job.key}
    trail = [(one.holder, one.state, one.signed) for one in lost.trail.all()]
    assert trail == [
        ("Hartcombe Plating", "out", ""),
        ("Hartcombe Plating", "missing", "Petra"),
    ]


def test_a_part_return_leaves_the_job_open(lena, fourteen):
    """5 of 14 in, nothing said of the other 9: they are simply still to come."""
    ret = Return(fourteen, {"": Counted(good=5)}, noted=5)
    take_in(by=lena, ret=ret, signature=PETRA)
    fourteen.refresh_from_db()
    assert (fourteen.state, fourteen.pieces, fourteen.pieces_back) == (
        *("under way", 14),
        5,
    )
    assert by_state(fourteen) == {"back": 5, "out": 9}
    assert Job.objects.count() == 3


def test_good_pieces_free_what_waits_while_the_rest_is_still_out(lena, fourteen):
    fourteen.promises.create(date=date(2027, 1, 29), said="Two weeks")
    Job.objects.filter(pk=fourteen.pk).update(promised=date(2027, 1, 29))
    ret = Return(
        fourteen,
        {"": Counted(good=5)},
        accepted=True,
        waits=frozenset(["grille"]),
    )
    take_in(by=lena, ret=ret, signature=PETRA)
    rest = Job.objects.get(key__startswith="plate-again")
    assert (rest.state, rest.sent, rest.pieces) == ("under way", SENT, 9)
    assert rest.promised == date(2027, 1, 29)
    assert [one.said for one in rest.promises.all()] == ["Two weeks"]
    assert before("trim") == {"plate"}
    assert Job.objects.get(key="plate").state == State.DONE


def test_all_of_it_rejected_frees_nothing(lena, fourteen):
    ret = Return(fourteen, {"": Counted(rejected=14)}, waits=frozenset())
    take_in(by=lena, ret=ret, signature=PETRA)
    fresh = Job.objects.get(key__startswith="plate-again")
    assert before("trim") == before("grille") == {"plate", fresh.key}
    fourteen.refresh_from_db()
    assert (fourteen.state, fourteen.pieces) == ("done", 0)


def test_nothing_is_closed_that_is_not_there(lena, fourteen):
    ret = Return(fourteen, {}, accepted=True)
    with assert_refused("Nothing good of"):
        take_in(by=lena, ret=ret, signature=PETRA)
    with assert_refused("Nothing was counted"):
        take_in(by=lena, ret=Return(fourteen, {}), signature=PETRA)


def test_more_than_went_out_cannot_come_back(lena, fourteen):
    ret = Return(fourteen, {"": Counted(good=12, rejected=3)})
    with assert_refused("14 went out; 15"):
        take_in(by=lena, ret=ret, signature=PETRA)


def test_nobody_counts_in_without_a_name(lena, fourteen):
    ret = Return(fourteen, {"": Counted(good=14)})
    with assert_refused("whoever signs"):
        take_in(by=lena, ret=ret, signature=Signature("  "))


def test_a_page_that_is_out_of_date_counts_nothing_twice(lena, tom, fourteen):
    seen = fourteen.version
    first = Return(fourteen, {"": Counted(good=5)}, version=seen)
    take_in(by=tom, ret=first, signature=PETRA)
    second = Return(fourteen, {"": Counted(good=5)}, version=seen)
    with assert_refused("tom changed “Bright trim at the plater” after"):
        take_in(by=lena, ret=second, signature=PETRA)
    fourteen.refresh_from_db()
    assert fourteen.pieces_back == 5


def test_taken_back_everything_stands_as_it_stood(lena, fourteen):
    """Eleven good, two rejected, one lost: then it was all a mistake."""
    counted = Counted(good=11, rejected=2, missing=1, which="hinge cap")
    ret = Return(fourteen, {"": counted}, accepted=True)
    take_in(by=lena, ret=ret, signature=PETRA)
    assert Job.objects.count() == 5
    event = last_act(fourteen)
    with assert_one_event("took back"):
        undo_act(by=lena, event=event)
    fourteen.refresh_from_db()
    assert (fourteen.state, fourteen.pieces, fourteen.pieces_back) == (
        *("under way", 14),
        0,
    )
    assert by_state(fourteen) == {"out": 14}
    assert Job.objects.count() == 3
    assert before("trim") == {"plate"}
    assert not PastReturn.objects.exists()
    assert "Taken back" in PieceMove.objects.last().note


def test_what_was_done_to_the_fresh_step_keeps_it(lena, fourteen):
    from builds.actions.jobs import change_job

    ret = Return(fourteen, {"": Counted(good=11, rejected=3)})
    take_in(by=lena, ret=ret, signature=PETRA)
    event = last_act(fourteen)
    fresh = Job.objects.get(key__startswith="plate-again")
    change_job(by=lena, job=fresh, fields={"note": "Wants new copper"})
    with assert_refused("Something has happened to"):
        undo_act(by=lena, event=event)


def test_only_what_is_out_is_counted_in(lena, car):
    job = OutsideJobFactory(build=car, pieces=3)
    with assert_refused("not with a vendor"):
        take_in(by=lena, ret=Return(job, {"": Counted(good=3)}), signature=PETRA)


@pytest.mark.parametrize(
    ("out_", "counted", "noted", "words"),
    [
        (12, 12, 12, []),
        (12, 12, None, []),
        (12, 11, None, ["12 are out and 11 were counted"]),
        (12, 11, 12, ["12 are out and 11", "note says 12 and 11 were counted"]),
        (22, 22, 21, ["their note says 21 and 22 were counted"]),
    ],
)
def test_list_note_and_count_are_compared(out_, counted, noted, words):
    said = mismatch("Trim", out_, counted, noted)
    assert len(said) == len(words)
    assert all(part in line for part, line in zip(words, said, strict=True))


def test_the_record_says_who_signed(lena, fourteen):
    ret = Return(fourteen, {"": Counted(good=14)}, noted=14)
    take_in(by=lena, ret=ret, signature=PETRA)
    assert Event.objects.get().after["signed"] == "Petra"
    fourteen.refresh_from_db()
    assert (fourteen.state, fourteen.holder) == ("under way", "Petra")
