"""Questions the tests ask again and again."""

from __future__ import annotations

import re
from contextlib import contextmanager

import pytest
from django.http import HttpResponse

from builds.actions.errors import Refused
from builds.models import Event


def assert_needs_login(response: HttpResponse) -> None:
    asked = response.status_code == 302 and "sign-in" in response["Location"]
    assert asked, f"Can a stranger see this? Got {response.status_code}."


def assert_forbidden(response: HttpResponse) -> None:
    assert response.status_code == 403, "Can the wrong role do this?"


@contextmanager
def assert_one_event(verb: str):
    before = Event.objects.count()
    yield
    verbs = list(Event.objects.values_list("verb", flat=True))
    assert len(verbs) - before == 1, f"How many events were written? {verbs}"
    assert verbs[0] == verb


@contextmanager
def assert_no_event():
    before = Event.objects.count()
    yield
    assert Event.objects.count() == before, "Was something done after all?"


@contextmanager
def assert_refused(words: str):
    """Nothing was written, and the words say why."""
    before = Event.objects.count()
    with pytest.raises(Refused) as error:
        yield error
    assert words in error.value.words
    assert Event.objects.count() == before


def is_marked(page: str, name: str, word: str) -> bool:
    """Say whether the part with this id carries a bare attribute, such as `open`."""
    return bool(re.search(rf'id="{name}"[^>]*\s{word}[\s>]', page))
