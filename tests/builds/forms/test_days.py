"""Days and moments as people write them."""

from datetime import date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.forms.days import read_day, read_moment

MONDAY = date(2027, 1, 11)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("fri", "2027-01-15"),
        ("Friday", "2027-01-15"),
        ("mon", "2027-01-11"),
        ("next fri", "2027-01-22"),
        ("today", "2027-01-11"),
        ("Tomorrow", "2027-01-12"),
        ("in 2 weeks", "2027-01-25"),
        ("+3", "2027-01-14"),
        ("15 may", "2027-05-15"),
        ("15th May", "2027-05-15"),
        ("May 15", "2027-05-15"),
        ("15/5", "2027-05-15"),
        ("15/5/27", "2027-05-15"),
        ("15.5.2027", "2027-05-15"),
        ("2027-05-15", "2027-05-15"),
        ("10 jan", "2028-01-10"),
        ("29 feb", "2028-02-29"),
    ],
)
def test_a_day_is_understood(typed, day):
    assert read_day(typed, MONDAY) == date.fromisoformat(day)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("31/2", "There is no 31 February 2027"),
        ("5/15/27", "There is no month 15"),
        ("29 feb 2027", "There is no 29 February 2027"),
        ("1/1/9999", "too far away"),
        ("soon", "is not a day"),
        ("0/0/0", "is not a day"),
        ("15 sprune", "There is no month"),
    ],
)
def test_what_is_no_day_is_refused_in_words(typed, words):
    with pytest.raises(ValueError, match=words):
        read_day(typed, MONDAY)


@pytest.mark.parametrize(
    ("typed", "moment"),
    [
        ("11 jun 16:00", "2027-06-11T16:00"),
        ("fri 4pm", "2027-01-15T16:00"),
        ("sat 9am", "2027-01-16T09:00"),
        ("11/6/27 at 4:30 pm", "2027-06-11T16:30"),
        ("2027-06-11T16:00", "2027-06-11T16:00"),
        ("tomorrow noon", "2027-01-12T12:00"),
        ("12am", None),
        ("august 3 at 9:00", "2027-08-03T09:00"),
    ],
)
def test_a_moment_is_understood(typed, moment):
    if moment is None:
        with pytest.raises(ValueError, match="is not a day"):
            read_moment(typed, MONDAY)
    else:
        assert read_moment(typed, MONDAY) == datetime.fromisoformat(moment)


def test_a_day_alone_is_no_moment_unless_a_time_is_usual():
    with pytest.raises(ValueError, match="Which time"):
        read_moment("11 jun", MONDAY)
    assert read_moment("11 jun", MONDAY, time(8)) == datetime(2027, 6, 11, 8)


@pytest.mark.parametrize("typed", ["fri 25:00", "fri 10:75", "fri 13pm"])
def test_what_is_no_time_is_refused(typed):
    with pytest.raises(ValueError, match="is not a time"):
        read_moment(typed, MONDAY)


# ISO 8601 as the standard library writes it is the outside check.
@given(st.dates(date(1970, 1, 1), date(2199, 12, 31)))
def test_every_iso_day_is_itself(day):
    assert read_day(day.isoformat(), MONDAY) == day
    assert read_day(f"{day.day}/{day.month}/{day.year}", MONDAY) == day
    assert read_day(f"{day.day} {day:%B} {day.year}", MONDAY) == day


@given(st.dates(date(2027, 1, 11), date(2028, 1, 10)))
def test_a_day_without_a_year_is_the_next_one(day):
    if (day.day, day.month) != (29, 2):
        assert read_day(f"{day.day} {day:%b}", MONDAY) == day


LIKELY_LETTERS = "0123456789 /.-:apmtfrisunjd+,٣²"


@given(st.one_of(st.text(max_size=60), st.text(LIKELY_LETTERS, max_size=20)))
def test_whatever_is_typed_is_a_day_or_refused_in_words(typed):
    for read in (read_day, read_moment):
        assert understood(read, typed) or refused(read, typed).endswith(".")


def understood(read, typed) -> bool:
    try:
        return read(typed, MONDAY).year >= 1970
    except (ValueError, OverflowError):
        return False


def refused(read, typed) -> str:
    with pytest.raises((ValueError, OverflowError)) as error:
        read(typed, MONDAY)
    return "." if error.type is OverflowError else str(error.value)
