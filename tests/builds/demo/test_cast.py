"""Who can sign in at the demo workshop, and what customers read."""

from __future__ import annotations

import re

from builds.demo.cast import cast
from builds.demo.diary import diary
from builds.demo.plan import NOW, demo_plan

PLAN = demo_plan()


def test_everyone_in_the_shop_and_every_customer_can_sign_in():
    logins = cast()
    staff = {one.person for one in logins if one.role != "customer"}
    cars = [build for one in logins for build in one.builds]
    assert staff == {person["id"] for person in PLAN["people"]}
    assert sorted(cars) == sorted(build["id"] for build in PLAN["builds"])
    assert [one.person for one in logins if one.role == "lead"] == ["imogen"]
    assert len({one.username for one in logins}) == len(logins) == 13


def test_customers_have_the_name_on_their_build_and_are_no_person_of_the_shop():
    customers = {build["id"]: build["customer"] for build in PLAN["builds"]}
    for one in cast():
        if one.role == "customer":
            assert one.person is None
            assert [customers[build] for build in one.builds] == [one.display_name]


def test_each_car_has_notes_up_to_this_week_and_none_from_the_future():
    for build in PLAN["builds"]:
        days = [str(note.day) for note in diary() if note.build == build["id"]]
        assert days == sorted(days)
        assert "2027-01-04" <= days[-1] < NOW[:10]


def test_notes_name_no_staff_no_vendor_and_no_price():
    names = {
        word.lower()
        for one in (*PLAN["people"], *PLAN["vendors"])
        for word in re.findall(r"[A-Z]\w{3,}", one["name"])
    } - {"paint", "engines", "tank", "badges", "screens", "test", "covered"}
    for note in diary():
        words = set(re.findall(r"\w+", note.words.lower()))
        assert not words & (names - {"powder", "blast", "plating", "rolling", "road"})
        assert not re.search(r"[£$€]|\bprice|\bsafe\b|\blegal\b|\btested\b", note.words)
