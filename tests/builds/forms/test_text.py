"""Words people type or paste."""

import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from builds.forms.choice import NumberField, WholeField
from builds.forms.text import LinesField, TextField, search_words
from builds.forms.typed import DayField, DurationField, MomentField

FIELDS = [
    TextField(required=False),
    LinesField(required=False),
    DayField(required=False),
    DurationField(required=False),
    MomentField(required=False),
    WholeField(required=False),
    NumberField(required=False),
]


@pytest.mark.parametrize("field", FIELDS[:5], ids=lambda one: type(one).__name__)
def test_a_nul_is_refused_in_words(field):
    with pytest.raises(ValidationError, match="cannot be kept"):
        field.clean("weld\0it")


@pytest.mark.parametrize("field", FIELDS, ids=lambda one: type(one).__name__)
def test_a_megabyte_is_refused(field):
    with pytest.raises(ValidationError):
        field.clean("9" * 1_000_000)


def test_too_long_says_how_much():
    with pytest.raises(ValidationError, match=r"4001 letters.*no more than 4000"):
        TextField().clean("x" * 4001)


def test_marks_that_turn_the_line_round_are_taken_out():
    assert TextField().clean("\u202egnidlew\u202c tank") == "gnidlew tank"


def test_a_line_has_no_breaks_and_lines_keep_theirs():
    assert TextField().clean(" weld\r\n it ") == "weld it"
    assert LinesField().clean(" weld\r\nit ") == "weld\nit"


def test_a_search_takes_anything():
    assert search_words(" tank\0\u202e  weld " + "x" * 200).startswith("tank weld x")


@given(st.text(max_size=80))
@pytest.mark.parametrize("field", FIELDS, ids=lambda one: type(one).__name__)
def test_whatever_is_typed_is_kept_or_refused(field, typed):
    try:
        kept, words = str(field.clean(typed)), ["kept"]
    except ValidationError as error:
        kept, words = "", error.messages
    assert "\0" not in kept
    assert all(words)
