"""The long look from a terminal."""

import signal
from unittest import mock

import pytest
from django.core.management import CommandError, call_command

from builds.models import Forecast, ForecastState, Search
from builds.planning import search as searching
from tests.factories.job import JobFactory

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def test_it_looks_and_says_what_came_of_it(capsys):
    JobFactory()
    with mock.patch.object(searching, "TURN", 0.5):
        call_command("improve", minutes=1)
    assert "No better plan was found" in capsys.readouterr().out
    search = Search.objects.get()
    assert (search.state, search.share) == ("done", 1.0)
    assert Forecast.objects.latest_done().input_hash == search.input_hash


def test_a_question_nobody_answers_does_not_hold_it_up(capsys):
    JobFactory()
    Forecast.objects.create(state=ForecastState.QUEUED)
    with mock.patch.object(searching, "TURN", 0.5):
        call_command("improve", minutes=1)
    assert "No better plan was found" in capsys.readouterr().out
    assert not Forecast.objects.filter(state=ForecastState.QUEUED).exists()


def test_it_tells_how_far_it_is(capsys):
    JobFactory()

    def half(plan, *, watch, following, **_):
        watch(0.5)
        return following

    with mock.patch.object(searching, "look", half):
        call_command("improve", minutes=1)
    assert " 16 of 100" in capsys.readouterr().out


def test_what_cannot_be_is_told(capsys):
    with pytest.raises(CommandError, match="no open job"):
        call_command("improve")
    JobFactory()
    with pytest.raises(CommandError, match="from 1 to 60"):
        call_command("improve", minutes=0)


def test_what_a_worker_has_taken_over_is_left_to_it(capsys):
    JobFactory()
    real = searching.claim

    def slower(pk, turn, **how):
        Search.objects.update(turn=turn + 1)
        return real(pk, turn, **how)

    with mock.patch.object(searching, "claim", slower):
        call_command("improve", minutes=1)
    assert "A worker has taken it over" in capsys.readouterr().out


@pytest.mark.django_db(transaction=True)
def test_the_engine_is_told_when_somebody_stops_it(capsys):
    JobFactory()
    heard = []

    def stopped(plan, *, watch, following, **_):
        Search.objects.update(stop_asked=True)
        heard.append(watch(0.5))
        return following

    with mock.patch.object(searching, "look", stopped):
        call_command("improve", minutes=1)
    assert heard == [False]
    assert Search.objects.get().state == "stopped"


def test_the_way_to_stop_is_put_back_afterwards():
    JobFactory()
    before = signal.getsignal(signal.SIGINT)
    with (
        mock.patch.object(searching, "look", side_effect=MemoryError),
        pytest.raises(MemoryError),
    ):
        call_command("improve", minutes=1)
    assert signal.getsignal(signal.SIGINT) is before
