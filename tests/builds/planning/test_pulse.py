"""How far a run is, and whether it is still wanted."""

import threading
from unittest import mock

import pytest

from builds.models import Forecast
from builds.planning import pulse as pulses
from builds.planning.pulse import EVERY, Pulse

pytestmark = pytest.mark.django_db


@pytest.fixture
def clock():
    with mock.patch.object(pulses.time, "monotonic", return_value=100.0) as clock:
        yield clock


@pytest.fixture
def row():
    return Forecast.objects.create()


def share(row):
    return Forecast.objects.get(pk=row.pk).share


def test_it_writes_its_share_of_the_whole_and_a_sign_of_life(row, clock):
    heard = []
    pulse = Pulse(row, begin=0.5, end=0.75, tell=heard.append)
    assert pulse(0.5)
    assert share(row) == 0.625
    assert Forecast.objects.get().seen is not None
    assert heard == [0.625]


def test_it_writes_no_more_often_than_it_must(row, clock):
    pulse = Pulse(row)
    pulse(0.1)
    pulse(0.2)
    assert share(row) == 0.1
    clock.return_value += EVERY
    pulse(0.3)
    assert share(row) == 0.3


def test_a_row_just_written_is_not_written_at_once(row, clock):
    pulse = Pulse(row, fresh=True)
    assert pulse(0.1)
    assert share(row) == 0
    clock.return_value += EVERY
    pulse(0.3)
    assert share(row) == 0.3


@pytest.mark.parametrize(("told", "kept"), [(-1, 0), (2, 1)])
def test_a_share_stays_between_nothing_and_all(row, clock, told, kept):
    Pulse(row)(told)
    assert share(row) == kept


def test_once_unwanted_it_stays_so(row, clock):
    answers = iter([False, True])
    pulse = Pulse(row, lambda: next(answers))
    assert not pulse(0.1)
    clock.return_value += EVERY
    assert not pulse(0.2)


def test_from_another_thread_it_writes_nothing(row, clock):
    pulse = Pulse(row)
    found = []
    other = threading.Thread(target=lambda: found.append(pulse(0.4)))
    other.start()
    other.join()
    assert found == [True]
    assert share(row) == 0
