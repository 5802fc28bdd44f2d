"""Which plan people follow: the new one, or the order of the old."""

import pytest

from builds.actions.exchange import replace_plan
from builds.actions.plan import follow_new_plan, keep_old_order
from builds.models import Forecast, ForecastState, Workshop
from builds.planning.exchange import export_plan
from builds.planning.following import following, plan_followed, told
from tests.assertions import assert_one_event, assert_refused


def forecast(start, more=None):
    sill = {"planned_start": start, "planned_finish": "2027-01-13T12:00"}
    jobs = {"sill": sill | {"who": ["tom"], "condition": "clear"}} | (more or {})
    return Forecast.objects.create(
        state=ForecastState.DONE, input_hash=start, answer={"jobs": jobs}
    )


@pytest.fixture
def two_plans(shop):
    """The sill was on Monday and is on Wednesday now."""
    forecast("2027-01-11T08:00")
    forecast("2027-01-13T08:00")


MONDAY = {"sill": {"planned_start": "2027-01-11T08:00", "who": ["tom"]}}
WEDNESDAY = {"sill": {"planned_start": "2027-01-13T08:00", "who": ["tom"]}}


def test_the_new_plan_is_the_one_people_follow(lena, two_plans):
    with assert_one_event("followed plan"):
        follow_new_plan(by=lena)
    shop = Workshop.current()
    assert (shop.followed, shop.keep_order) == (WEDNESDAY, False)
    assert Forecast.objects.filter(state="queued").count() == 1


def test_the_order_that_is_kept_is_that_of_the_plan_before(lena, two_plans):
    with assert_one_event("kept order"):
        keep_old_order(by=lena)
    shop = Workshop.current()
    assert (shop.followed, shop.keep_order) == (MONDAY, True)


def test_an_order_once_followed_is_the_one_kept(lena, two_plans):
    follow_new_plan(by=lena)
    forecast("2027-01-20T08:00")
    keep_old_order(by=lena)
    shop = Workshop.current()
    assert (shop.followed, shop.keep_order) == (WEDNESDAY, True)


def test_following_again_lets_the_old_order_go(lena, two_plans):
    keep_old_order(by=lena)
    follow_new_plan(by=lena)
    shop = Workshop.current()
    assert (shop.followed, shop.keep_order) == (WEDNESDAY, False)


def test_there_has_to_be_a_plan(lena):
    with assert_refused("There is no plan yet."):
        follow_new_plan(by=lena)
    with assert_refused("no plan before this one"):
        keep_old_order(by=lena)


def test_a_plan_file_read_in_brings_no_old_order(lena, two_plans):
    keep_old_order(by=lena)
    replace_plan(by=lena, text=export_plan())
    shop = Workshop.current()
    assert (shop.followed, shop.keep_order) == (None, False)


def test_what_people_were_told_leaves_out_what_is_done_or_not_planned(shop):
    done = {"planned_start": "2027-01-04T08:00", "condition": "done"}
    gone = {"planned_start": None, "condition": "left out"}
    found = forecast("2027-01-11T08:00", more={"done": done, "gone": gone})
    assert told(found) == MONDAY


def test_nobody_was_told_anything_without_a_plan():
    assert told(None) == {}


@pytest.mark.parametrize("kept", [True, False])
def test_the_engine_is_told_whose_order_and_how_firmly(kept):
    assert following(MONDAY, kept=kept) == {"jobs": MONDAY, "keep": kept}


@pytest.mark.parametrize("kept", [True, False])
@pytest.mark.parametrize("nothing", [None, {}])
def test_with_no_plan_to_follow_the_engine_is_told_nothing(nothing, kept):
    assert following(nothing, kept=kept) is None


def test_people_follow_the_newest_plan_until_they_are_told_another(lena, shop):
    assert plan_followed() is None
    forecast("2027-01-11T08:00")
    forecast("2027-01-13T08:00")
    assert plan_followed() == {"jobs": WEDNESDAY, "keep": False}
    keep_old_order(by=lena)
    assert plan_followed() == {"jobs": MONDAY, "keep": True}
