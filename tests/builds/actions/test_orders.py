"""Bought-in parts: acknowledged, on back-order, short, wrong, robbed."""

from datetime import date

import pytest

from builds.actions.orders import acknowledge_order, put_on_back_order, receive_order
from builds.actions.robbing import rob_part
from builds.actions.undo import undo_act
from builds.models import Event, Job, Kind, Link, State
from builds.planning.problem import build_plan
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory

OUT = {
    "kind": Kind.ORDER,
    "state": State.UNDER_WAY,
    "started": "2027-01-04T08:00",
    "sent": "2027-01-04",
}


@pytest.fixture
def order(car):
    return JobFactory(
        key="bushes", title="Bushes", build=car, pieces=12, promised="2027-01-15", **OUT
    )


def fresh(job) -> Job:
    return Job.objects.get(pk=job.pk)


def test_an_order_is_acknowledged_with_its_date(lena, order):
    with assert_one_event("acknowledged order"):
        acknowledge_order(by=lena, job=order, promised=date(2027, 1, 20))
    job = fresh(order)
    assert (job.acknowledged, job.promised) == (date(2027, 1, 11), date(2027, 1, 20))
    assert job.promises.get().date == date(2027, 1, 20)


def test_on_back_order_the_date_no_longer_stands(lena, order):
    with assert_one_event("back order"):
        put_on_back_order(by=lena, job=order, said="None in the country")
    job = fresh(order)
    assert (job.back_order, job.promised) == (True, None)
    assert job.promises.get().said == "None in the country"
    acknowledge_order(by=lena, job=job)
    assert not fresh(order).back_order


def test_eleven_of_twelve_leave_the_order_open(lena, order):
    """11 good and 1 wrong: part back; what waits for all twelve waits on."""
    with assert_one_event("received order"):
        receive_order(by=lena, job=order, good=11, wrong=1, words="Left-handed")
    job = fresh(order)
    assert (job.state, job.pieces_back, job.pieces_wrong) == ("under way", 11, 1)
    assert job.promised == date(2027, 1, 15)  # still to come, so it still stands
    (record,) = build_plan().jobs
    assert (record.pieces_back, record.pieces_wrong) == (11, 1)
    undo_act(by=lena, event=Event.objects.first())
    assert fresh(order).pieces_back == 0


def test_a_date_that_has_passed_is_no_date_for_the_rest(lena, order):
    Job.objects.update(promised="2027-01-08")
    receive_order(by=lena, job=order, good=3)
    assert fresh(order).promised is None


def test_with_the_last_one_good_the_order_is_in(lena, order):
    receive_order(by=lena, job=order, good=11, wrong=1)
    with assert_one_event("booked back"):
        receive_order(by=lena, job=order, good=12)
    job = fresh(order)
    assert (job.state, job.pieces_back, job.pieces_wrong) == ("done", 12, 0)


def test_an_order_nobody_counted_is_in_when_all_that_came_is_good(lena, order):
    Job.objects.update(pieces=None)
    receive_order(by=lena, job=order, good=4)
    assert fresh(order).state == State.DONE


@pytest.mark.parametrize(
    ("good", "wrong", "words"),
    [
        (0, 0, "one piece at least"),
        (12, 1, "12 were ordered; 13 cannot have come"),
        (1, 0, "2 are in already"),
    ],
)
def test_counts_that_cannot_be_are_refused(lena, order, good, wrong, words):
    Job.objects.update(pieces_back=2)
    with assert_refused(words):
        receive_order(by=lena, job=order, good=good, wrong=wrong)


@pytest.mark.parametrize("act", [acknowledge_order, put_on_back_order])
def test_only_what_is_on_order_is_spoken_of(lena, car, order, act):
    with assert_refused("not a part on order"):
        act(by=lena, job=JobFactory(build=car))
    with assert_refused("say first when it was ordered"):
        act(by=lena, job=JobFactory(build=car, kind=Kind.ORDER))


# Robbed from another car


@pytest.fixture
def robbed(car, other_car, order):
    """Carla's coupe waits for bushes; Otto's saloon has some for its axle."""
    fit = JobFactory(key="fit", title="Fit bushes", build=car, after=[order])
    axle = JobFactory(key="axle", title="Axle up", build=other_car)
    return fit, axle


def test_what_waited_goes_on_and_the_other_car_is_owed(lena, order, robbed, other_car):
    fit, axle = robbed
    with assert_one_event("robbed part"):
        made = rob_part(by=lena, order=order, donor=other_car, hours=2, first=[axle])
    assert (made.build, made.robbed_for, made.likely) == (other_car, order.build, 2)
    assert made.title == "Put back: Bushes"
    links = set(Link.objects.values_list("job__key", "before__key"))
    assert links == {(made.key, "bushes"), ("axle", made.key)}
    assert fresh(order).build == other_car
    assert not fit.links.exists()
    plan = {job.id: job for job in build_plan().jobs}
    assert plan[made.key].robbed_for == "coupe"


def test_a_ring_is_refused_and_nothing_is_changed(lena, order, robbed, other_car):
    """The order waits for the axle's measure, so the axle cannot wait for the order."""
    _, axle = robbed
    Link.objects.create(job=order, before=axle)
    before = set(Link.objects.values_list("job__key", "before__key"))
    with assert_refused("wait for each other in a ring"):
        rob_part(by=lena, order=order, donor=other_car, hours=2, first=[axle])
    assert set(Link.objects.values_list("job__key", "before__key")) == before
    assert not Job.objects.exclude(robbed_for=None).exists()
    assert fresh(order).build.key == "coupe"


def test_what_cannot_be_robbed_is_refused(lena, car, other_car, order, robbed):
    fit, _ = robbed
    with assert_refused("cannot rob itself"):
        rob_part(by=lena, order=order, donor=car, hours=2)
    with assert_refused("is not an open job of Red saloon"):
        rob_part(by=lena, order=order, donor=other_car, hours=2, first=[fit])
    with assert_refused("not a part on order"):
        rob_part(by=lena, order=fit, donor=other_car, hours=2)
    other_car.left_out = True
    other_car.save()
    with assert_refused("is left out"):
        rob_part(by=lena, order=order, donor=other_car, hours=2)


def test_robbing_is_not_taken_back_by_a_button(lena, order, robbed, other_car):
    rob_part(by=lena, order=order, donor=other_car, hours=2)
    with assert_refused("Rob it back instead"):
        undo_act(by=lena, event=Event.objects.get())
