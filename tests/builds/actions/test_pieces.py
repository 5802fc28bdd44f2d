"""The list of a job's pieces, and that however they are booked they add up."""

import pytest
from django.db import IntegrityError, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from builds.actions import outside
from builds.actions.counting import Counted, Return
from builds.actions.errors import Refused
from builds.actions.goods_in import Signature, take_in
from builds.actions.jobs import change_job
from builds.actions.pieces import list_piece, move_piece, strike_piece
from builds.actions.undo import undo_act
from builds.models import Job, PieceMove
from builds.planning.exchange import export_plan, import_plan
from builds.selectors.last_act import last_act
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.piece import PieceFactory


@pytest.fixture
def job(car):
    return OutsideJobFactory(key="plate", title="Plate", build=car, pieces=4)


def counts(job):
    job.refresh_from_db()
    return job.pieces, job.pieces_back


def test_a_name_is_given_to_what_was_only_counted(lena, job):
    with assert_one_event("listed piece"):
        row = list_piece(by=lena, job=job, name="Front bumper")
    assert (row.count, row.holder, row.place) == (1, "Test workshop", "stores")
    assert counts(job) == (4, 0)
    names = sorted(job.piece_list.values_list("name", "count"))
    assert names == [("", 3), ("Front bumper", 1)]


def test_beyond_the_count_the_list_grows_until_it_has_left(lena, job):
    list_piece(by=lena, job=job, name="Irons", count=4)
    list_piece(by=lena, job=job, name="Badge")
    assert counts(job) == (5, 0)
    outside.send_job(by=lena, job=job)
    with assert_refused("5 pieces went out, and all of them are named"):
        list_piece(by=lena, job=job, name="Cap")


def test_the_list_goes_out_and_comes_back_with_its_job(lena, job):
    list_piece(by=lena, job=job, name="Irons", count=4)
    with assert_refused("The list of “Plate” has 4 pieces, not 3"):
        outside.send_job(by=lena, job=job, pieces=3)
    outside.send_job(by=lena, job=job, pieces=4)
    assert job.piece_list.get().state == "out"
    with assert_refused("Count them in at goods-in"):
        outside.check_in_pieces(by=lena, job=job, pieces_back=2)
    outside.check_in_pieces(by=lena, job=job, pieces_back=4, pieces_noted=4)
    assert counts(job) == (4, 4)
    assert job.piece_list.get().state == "back"


@pytest.mark.parametrize("act", ["send", "count", "book"])
def test_taken_back_the_list_follows(lena, job, act):
    list_piece(by=lena, job=job, name="Irons", count=4)
    where = ["here"]
    outside.send_job(by=lena, job=job)
    where.append("out")
    if act == "count":
        outside.check_in_pieces(by=lena, job=job, pieces_back=4)
    if act == "book":
        outside.book_back(by=lena, job=job)
    undo_act(by=lena, event=last_act(job))
    was = "here" if act == "send" else "out"
    assert job.piece_list.get().state == was
    assert counts(job) == (4, 0)


def test_a_count_that_the_list_denies_is_refused(lena, job):
    list_piece(by=lena, job=job, name="Irons", count=4)
    with assert_refused("has 4 pieces, not 6"):
        change_job(by=lena, job=job, fields={"pieces": 6})


def test_a_piece_that_moved_stays_on_the_list(lena, job):
    row = list_piece(by=lena, job=job, name="Badge", count=2)
    strike_piece(by=lena, piece=row)
    assert counts(job) == (2, 0)
    kept = list_piece(by=lena, job=job, name="Cap")
    move_piece(by=lena, piece=kept, holder="Nkechi", place="panel bay")
    with assert_refused("has a trail"):
        strike_piece(by=lena, piece=kept)


def test_who_has_it_is_kept_and_can_be_taken_back(lena, job):
    row = list_piece(by=lena, job=job, name="Irons", count=4)
    with assert_one_event("moved piece"):
        move_piece(
            by=lena, piece=row, holder="Nkechi", place="panel bay", signed="Nkechi"
        )
    job.refresh_from_db()
    assert job.holder == "Nkechi"
    undo_act(by=lena, event=last_act(job))
    row.refresh_from_db()
    assert (row.holder, row.place) == ("Test workshop", "stores")


def test_bench_work_has_no_list(lena, car):
    with assert_refused("no pieces to go out"):
        list_piece(by=lena, job=JobFactory(build=car), name="Iron")


@pytest.mark.parametrize(
    "wrong", [{"holder": ""}, {"place": ""}, {"count": 0}, {"state": "adrift"}]
)
def test_the_database_itself_wants_a_holder_and_a_place(job, wrong):
    with pytest.raises(IntegrityError), transaction.atomic():
        PieceFactory(job=job, **wrong)


def test_a_trail_is_never_changed(lena, job):
    row = list_piece(by=lena, job=job, name="Iron")
    line = row.trail.get()
    for act in (line.save, line.delete, PieceMove.objects.all().delete):
        with pytest.raises(TypeError):
            act()
    with pytest.raises(TypeError):
        PieceMove.objects.update(signed="somebody else")


def test_a_photograph_outlives_the_plan_being_read_in_again(lena, job):
    from django.core.files.base import ContentFile

    row = list_piece(by=lena, job=job, name="Iron")
    move_piece(
        by=lena, piece=row, holder="Petra", place="stores",
        photo=ContentFile(b"a picture"),
    )  # fmt: skip
    import_plan(export_plan(), pin_clock=True)
    photos = [bool(one.photo) for one in PieceMove.objects.filter(piece__key=row.key)]
    assert photos.count(True) == 1


ACTS = st.lists(
    st.tuples(
        st.sampled_from(["name", "send", "in", "accept", "all", "undo", "move"]),
        *(st.integers(0, 6) for _ in range(3)),
    ),
    max_size=8,
)


def _act(by, act, first, second, third):
    jobs = list(Job.objects.order_by("pk"))
    job = jobs[first % len(jobs)]
    piece = job.piece_list.order_by("pk").first()
    if act == "name":
        list_piece(by=by, job=job, name=f"Iron {second}", count=second)
    if act == "send":
        outside.send_job(by=by, job=job)
    if act == "all":
        outside.book_back(by=by, job=job)
    if act == "move" and piece:
        move_piece(by=by, piece=piece, holder="Nkechi", place="panel bay")
    if act == "undo" and last_act(job):
        undo_act(by=by, event=last_act(job))
    if act in ("in", "accept"):
        key = piece.key if piece else ""
        counted = Counted(first, second, third, which="cap")
        ret = Return(job, {key: counted}, accepted=act == "accept")
        take_in(by=by, ret=ret, signature=Signature("Petra"))


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(count=st.integers(1, 6), acts=ACTS)
def test_however_they_are_booked_they_add_up(lena, car, count, acts):
    """No piece is ever lost or doubled, and each is with one person in one place."""
    with transaction.atomic():
        OutsideJobFactory(key="plate", build=car, pieces=count)
        _book(lena, acts)
        transaction.set_rollback(True)


def _book(by, acts):
    total = Job.objects.get().pieces
    for act, *numbers in acts:
        try:
            with transaction.atomic():
                _act(by, act, *numbers)
        except Refused:
            continue
        before, total = total, sum(one.pieces for one in Job.objects.all())
        assert total == before or (act == "name" and total > before)
        _adds_up()


def _adds_up():
    for job in Job.objects.all():
        rows = list(job.piece_list.all())
        assert all(one.holder and one.place and one.count for one in rows)
        if rows:
            back = sum(one.count for one in rows if one.state == "back")
            assert (job.pieces, job.pieces_back) == (
                sum(one.count for one in rows),
                back,
            )
