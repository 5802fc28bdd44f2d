"""Plan files handed in: each is answered once."""

import json
from datetime import timedelta
from unittest import mock

import pytest
from django.utils import timezone

import scheduling
from builds.models import FileState, PlanFile
from builds.planning.many import answer_file, give_back_lost, hand_in
from builds.planning.pulse import LOST
from builds.tasks import files as tasks

pytestmark = pytest.mark.django_db

OPTIONS = {"schedules": 1, "samples": 20}


def plan(hours: float) -> str:
    row = {"id": "weld", "estimate": {"likely": hours, "fixed": True}}
    return json.dumps({"now": "2027-01-11T08:00", "jobs": [row]})


def test_the_same_input_is_kept_and_answered_once():
    first, again = hand_in(plan(4), OPTIONS), hand_in(plan(4.0), OPTIONS)
    assert first == again
    assert answer_file(first.pk).answer["duration_hours"] == 4
    with mock.patch.object(scheduling, "answer") as engine:
        assert answer_file(first.pk) is None
        assert hand_in(plan(4), OPTIONS).state == FileState.DONE
    engine.assert_not_called()


def test_another_plan_or_another_effort_is_another_file():
    keys = {hand_in(plan(4), OPTIONS).pk, hand_in(plan(5), OPTIONS).pk}
    keys.add(hand_in(plan(4), OPTIONS | {"samples": 30}).pk)
    assert len(keys) == 3


def test_a_file_with_faults_is_not_kept():
    with pytest.raises(scheduling.PlanError):
        hand_in('{"jobs": [{"id": "a", "after": ["b"]}]}', OPTIONS)
    assert not PlanFile.objects.exists()


def test_one_that_failed_is_tried_again():
    row = hand_in(plan(4), OPTIONS)
    with (
        mock.patch.object(scheduling, "answer", side_effect=MemoryError("too big")),
        pytest.raises(MemoryError),
    ):
        answer_file(row.pk)
    row.refresh_from_db()
    assert (row.state, row.error) == ("failed", "MemoryError: too big")
    assert hand_in(plan(4), OPTIONS).state == FileState.QUEUED
    assert answer_file(row.pk).state == FileState.DONE


def test_one_in_hand_is_left_alone_until_its_worker_is_dead():
    row = hand_in(plan(4), OPTIONS)
    PlanFile.objects.update(state=FileState.RUNNING, seen=timezone.now())
    give_back_lost()
    assert answer_file(row.pk) is None
    PlanFile.objects.update(seen=timezone.now() - LOST - timedelta(seconds=1))
    give_back_lost()
    assert answer_file(row.pk).state == FileState.DONE


def test_the_drain_hands_over_what_waits_but_not_while_the_line_moves(settings):
    settings.REDIS_URL = "redis://localhost:1/0"
    waits, moves = hand_in(plan(4), OPTIONS), hand_in(plan(5), OPTIONS)
    with mock.patch.object(tasks.answer_plan_file, "delay") as delay:
        PlanFile.objects.filter(pk=moves.pk).update(seen=timezone.now())
        assert tasks.take_up_again() == 0
        PlanFile.objects.filter(pk=moves.pk).delete()
        assert tasks.take_up_again() == 1
    delay.assert_called_once_with(waits.pk)


def test_answers_nobody_fetched_for_days_are_forgotten():
    row = hand_in(plan(4), OPTIONS)
    answer_file(row.pk)
    PlanFile.objects.update(finished=timezone.now() - tasks.KEPT, seen=None)
    tasks.take_up_again()
    assert not PlanFile.objects.exists()
