"""Which forecast counts."""

from datetime import timedelta

import pytest
from django.utils import timezone

from builds.models import AnsweredJob, Forecast, ForecastState

pytestmark = pytest.mark.django_db


def test_the_newest_question_counts_not_the_answer_that_came_last():
    now = timezone.now()
    new = Forecast.objects.create(
        state=ForecastState.DONE, input_hash="b", asked_at=now
    )
    Forecast.objects.create(
        state=ForecastState.DONE,
        input_hash="a",
        asked_at=now - timedelta(minutes=1),
        finished=now + timedelta(minutes=1),
    )
    Forecast.objects.create(state=ForecastState.FAILED, asked_at=now)
    assert Forecast.objects.latest_done() == new


def test_without_an_answer_there_is_none():
    assert Forecast.objects.latest_done() is None


ANSWER = {
    "now": "2027-01-11T08:00",
    "jobs": {
        "weld": {
            "condition": "clear",
            "who": ["ana", "bo"],
            "planned_start": "2027-01-11T08:00",
        },
        "fit": {"condition": "waiting", "who": ["anabel"], "planned_start": None},
        "mark": {"condition": "waiting"},
    },
}


def answered():
    return Forecast.objects.create(
        state=ForecastState.DONE, input_hash="a", answer=ANSWER
    )


def test_an_answer_comes_back_whole():
    assert Forecast.objects.get(pk=answered().pk).answer == ANSWER


def test_its_summary_has_no_jobs_in_it():
    assert answered().summary == {"now": ANSWER["now"]}


def test_its_jobs_are_rows_by_key_with_who_does_them():
    jobs = answered().jobs
    assert [one.key for one in jobs.all()] == ["weld", "fit", "mark"]
    assert [one.key for one in jobs.for_person("ana")] == ["weld"]
    assert [one.key for one in jobs.filter(condition="waiting")] == ["fit", "mark"]
    assert jobs.get(key="weld").facts == ANSWER["jobs"]["weld"]


def test_a_better_answer_takes_the_place_of_all_of_it():
    forecast = answered()
    forecast.answer = {"now": "2027-01-12T08:00", "jobs": {"weld": {"who": []}}}
    forecast.save(update_fields=["summary"])
    found = Forecast.objects.get()
    assert found.answer == {"now": "2027-01-12T08:00", "jobs": {"weld": {"who": []}}}
    assert found.jobs.count() == 1


def test_saving_something_else_leaves_its_jobs_alone():
    forecast = answered()
    rows = list(forecast.jobs.values_list("pk", flat=True))
    forecast.save(update_fields=["asked_at"])
    assert list(forecast.jobs.values_list("pk", flat=True)) == rows


def test_read_anew_it_is_as_others_left_it():
    forecast = answered()
    forecast.jobs.filter(key="mark").delete()
    forecast.refresh_from_db()
    assert set(forecast.answer["jobs"]) == {"weld", "fit"}


def test_a_dropped_answer_takes_its_jobs_along():
    answered().delete()
    assert not AnsweredJob.objects.exists()
