"""Lengths of work as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builds.forms.lengths import read_length, say_length, type_length
from builds.models import Kind


@pytest.mark.parametrize(
    ("typed", "kind", "amount"),
    [
        ("2h30", "bench", 2.5),
        ("2:30", "bench", 2.5),
        ("90m", "bench", 1.5),
        ("3", "bench", 3.0),
        ("2,5", "check", 2.5),
        ("1.5d", "bench", 12.0),  # a usual day of 8 hours
        ("1d 4h", "bench", 12.0),
        ("1½ h", "bench", 1.5),
        ("1w", "bench", 40.0),
        ("3", "outside", 3.0),
        ("3d", "order", 3.0),
        ("2 weeks", "outside", 10.0),
        ("2w", "decision", 14.0),
        ("2d", "stand", 48.0),
        ("36h", "stand", 36.0),
    ],
)
def test_a_length_is_understood_by_its_kind(typed, kind, amount):
    assert read_length(typed).for_kind(kind, 8.0) == amount


@pytest.mark.parametrize("kind", ["outside", "order", "decision"])
def test_hours_are_not_days_at_a_vendor(kind):
    with pytest.raises(ValueError, match="counted in"):
        read_length("4h").for_kind(kind, 8.0)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("-3", "is not a length"),
        ("abc", "is not a length"),
        ("2h75", "59 minutes"),
        ("9" * 40, "too long"),
        ("nan", "is not a length"),
        ("inf", "is not a length"),
        ("1e9", "is not a length"),
        ("٣h", "is not a length"),
    ],
)
def test_what_is_no_length_is_refused_in_words(typed, words):
    with pytest.raises(ValueError, match=words):
        read_length(typed)


@given(st.integers(1, 10_000), st.sampled_from(["bench", "check", "stand"]))
def test_a_stored_length_is_written_and_read_back(minutes, kind):
    typed = type_length(minutes / 60, kind)
    assert read_length(typed).for_kind(kind, 8.0) == pytest.approx(
        minutes / 60, abs=1e-3
    )


@given(st.integers(1, 4000), st.sampled_from(["outside", "order", "decision"]))
def test_stored_days_are_written_and_read_back(quarters, kind):
    typed = type_length(quarters / 4, kind)
    assert read_length(typed).for_kind(kind, 8.0) == quarters / 4


@given(st.one_of(st.text(max_size=60), st.text("0123456789.,:hdwm ½", max_size=20)))
def test_whatever_is_typed_is_a_length_or_refused_in_words(typed):
    try:
        length = read_length(typed)
    except ValueError as error:
        refused = str(error)
    else:
        refused = ""
        assert 0 <= length.for_kind("bench", 8.0) < 1e9
    assert not refused or "Write it like" in refused


def test_a_length_is_said_with_its_unit():
    assert say_length(2.5, Kind.BENCH) == "2 h 30 of work"
    assert say_length(3, Kind.OUTSIDE) == "3 working days of the vendor’s"
    assert say_length(1, Kind.DECISION) == "1 day"
    assert say_length(36, Kind.STAND) == "36 h standing"
