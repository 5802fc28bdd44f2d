"""Dates, hours and odds in words."""

from datetime import date, datetime

import pytest

from builds.charts import wording


@pytest.mark.parametrize(
    ("chance", "word", "shown"),
    [
        # Bounds: Mastrandrea and others, IPCC guidance note on uncertainties, 2010.
        (0.90, "very likely", "90 in 100"),
        (0.894, "likely", "89 in 100"),
        (0.66, "likely", "66 in 100"),
        (0.654, "even", "65 in 100"),
        (0.33, "even", "33 in 100"),
        (0.324, "doubtful", "32 in 100"),
        (0.10, "doubtful", "10 in 100"),
        (0.094, "remote", "9 in 100"),
        (0.0, "remote", "0 in 100"),
        (0.001, "remote", "under 1 in 100"),
        (0.999, "very likely", "over 99 in 100"),
        (1.0, "very likely", "100 in 100"),
        (None, "not known", "not known"),
    ],
)
def test_odds(chance, word, shown):
    assert wording.odds_word(chance) == word
    assert wording.in_100(chance) == shown


def test_days():
    # 14 May 2027 is a Friday: ISO 8601 week date 2027-W19-5.
    assert date.fromisocalendar(2027, 19, 5) == date(2027, 5, 14)
    assert wording.day("2027-05-14") == "Fri 14 May"
    assert wording.day_year(date(2027, 5, 14)) == "Fri 14 May 2027"
    assert wording.moment("2027-05-14T16:00") == "Fri 14 May, 16:00"
    assert wording.moment(date(2027, 5, 14)) == "Fri 14 May"
    assert wording.clock(datetime(2027, 5, 14, 7, 45)) == "07:45"
    assert wording.day(None) == wording.day("") == "no date"


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        ("2027-06-03", "2027-06-18", "3 to 18 June"),
        ("2027-05-28", "2027-06-03", "28 May to 3 June"),
        ("2027-06-03T08:00", "2027-06-03T16:00", "3 June"),
        ("2027-12-30", "2028-01-04", "30 December 2027 to 4 January 2028"),
        (None, "2027-06-18", "Fri 18 Jun"),
        (None, None, "no date"),
    ],
)
def test_stretches(first, last, words):
    assert wording.day_range(first, last) == words


def test_short_stretches():
    assert wording.short_range("2027-01-17", "2027-02-03") == "17 Jan to 3 Feb"
    assert wording.short_range("2027-01-17", "2027-01-17T12:00") == "17 Jan"


def test_lengths():
    assert wording.hours(2.5) == "2 h 30"
    assert wording.hours(0.75) == "45 min"
    assert wording.hours(8) == "8 h"
    assert wording.hours(None) == "not estimated"
    assert wording.counted(1, "job,jobs") == "1 job"
    assert wording.counted(0, "job,jobs") == "0 jobs"


def test_whole_hours_are_rounded_one_way():
    given = (0.5, 8.49, 8.5, 9.5, 8.4999999999)
    assert [wording.whole_hours(one) for one in given] == [1, 8, 9, 10, 9]


def test_in_hand():
    assert wording.in_hand(6) == "6 working days in hand"
    assert wording.in_hand(-1) == "1 working day late"
    assert wording.in_hand(0.04) == "nothing in hand"
    assert wording.in_hand(None) == "no show to be ready for"
