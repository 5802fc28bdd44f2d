"""Which columns are what, by the headings people write."""

from __future__ import annotations

import pytest

from sheets.columns import JOBS, PEOPLE, SORTS, VENDORS
from sheets.guess import guess_columns, guess_heading_row, guess_sort
from sheets.table import Table


@pytest.mark.parametrize("sort", SORTS.values(), ids=str)
def test_our_own_headings_are_known(sort):
    headings = [one.heading for one in sort.columns]
    wanted = dict(enumerate(one.name for one in sort.columns))
    assert guess_columns(headings, sort) == wanted


def test_other_words_and_capitals_are_known():
    headings = ["TASK ", "Hours", "Depends-on", "Supplier", "Mood"]
    found = guess_columns(headings, JOBS)
    assert found == {0: "title", 1: "likely", 2: "after", 3: "vendor"}


def test_a_heading_may_say_more():
    assert guess_columns(["Job (what to do)", "Likely in hours"], JOBS) == {
        0: "title",
        1: "likely",
    }


def test_no_meaning_is_given_twice():
    found = guess_columns(["Task", "Job", "Title"], JOBS)
    assert found == {1: "title"}


def test_headings_in_row_three():
    rows = (("Jobs of the van", ""), ("", ""), ("Job", "Hours"), ("Sand", "2"))
    assert guess_heading_row(Table("x", rows), JOBS) == 3


def test_the_sort_by_its_name_or_its_headings():
    jobs = (("Task", "Hours", "After"), ("Sand", "2", ""))
    people = (("Name", "Skills", "Holidays"), ("Ana", "panel", ""))
    vendors = (("Company", "Tel", "Services"), ("Plater", "1", "x"))
    assert guess_sort(Table("People", jobs)) == "people"
    assert guess_sort(Table("Sheet1", jobs)) == "jobs"
    assert guess_sort(Table("Sheet1", people)) == "people"
    assert guess_sort(Table("Sheet1", vendors)) == "vendors"
    assert PEOPLE.needed == VENDORS.needed == "name"
