"""What the newest answer says is read once, and anew when it is another."""

import pytest

from builds.models import Forecast, ForecastState
from builds.selectors.answers import newest, planned_now, planned_of
from builds.selectors.kept_answers import kept
from tests.factories.job import JobFactory

pytestmark = pytest.mark.django_db

FIRST = {
    "now": "2027-01-11T08:00",
    "jobs": {
        "weld": {"condition": "clear", "who": ["anabel"]},
        "fit": {"condition": "waiting", "who": ["ana", "bo"]},
        "mark": {"condition": "waiting"},
    },
}
BETTER = {"now": "2027-01-12T08:00", "jobs": {"weld": {"condition": "done"}}}


@pytest.fixture
def answer():
    return Forecast.objects.create(
        state=ForecastState.DONE, input_hash="a", answer=FIRST
    )


def improve(forecast):
    forecast.answer = BETTER
    forecast.save(update_fields=["summary"])


def test_the_second_look_asks_only_which_is_the_newest(
    answer, django_assert_num_queries
):
    first = newest().summary, planned_now(["weld", "unheard of"])
    with django_assert_num_queries(2):
        assert (newest().summary, planned_now(["weld", "unheard of"])) == first
    assert first == ({"now": FIRST["now"]}, {"weld": FIRST["jobs"]["weld"]})


def test_only_what_was_not_read_yet_is_read(answer, django_assert_num_queries):
    planned_of(answer, ["weld"])
    with django_assert_num_queries(1):
        assert set(planned_of(answer, ["weld", "fit"])) == {"weld", "fit"}


def test_a_better_answer_in_its_place_is_read_anew(answer):
    newest(), planned_now(["weld"])
    kept(newest()).planned_for("bo")
    improve(Forecast.objects.get())
    assert newest().summary == {"now": BETTER["now"]}
    assert planned_now(["weld", "fit"]) == BETTER["jobs"]
    assert kept(newest()).planned_for("bo") == []


def test_what_an_older_program_wrote_is_read_each_time(answer):
    Forecast.objects.update(mark="")
    newest(), planned_now(["weld"])
    Forecast.objects.update(summary={"now": "later"})
    answer.jobs.filter(key="weld").update(facts={"condition": "done"})
    assert newest().summary == {"now": "later"}
    assert planned_now(["weld"]) == {"weld": {"condition": "done"}}


def test_only_writing_the_answer_gives_it_another_mark(answer):
    mark = answer.mark
    answer.save(update_fields=["asked_at"])
    assert Forecast.objects.get().mark == mark
    improve(answer)
    assert Forecast.objects.get().mark not in ("", mark)


def test_people_are_told_apart_by_their_whole_key(answer):
    found = kept(newest())
    assert found.planned_for("ana") == ["fit"]
    assert found.planned_for("anabel") == ["weld"]
    assert found.planned_for("bel") == []


def test_jobs_that_came_since_and_that_went_are_noticed(answer, car):
    jobs = {key: JobFactory(key=key, build=car) for key in FIRST["jobs"]}
    found = kept(newest())
    assert set(found.not_waiting()) == {"weld"}
    JobFactory(key="found", build=car)
    assert set(found.not_waiting()) == {"weld", "found"}
    jobs["weld"].delete()
    assert set(found.not_waiting()) == {"found"}
