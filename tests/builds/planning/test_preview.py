"""What if: answers about a plan that is not."""

import json

import pytest

from builds.models import Forecast, Job, Link
from builds.planning.exchange import PlanError
from builds.planning.preview import preview
from builds.planning.problem import build_plan
from tests.factories.job import JobFactory

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


@pytest.fixture
def chain(car):
    """Fit, then weld, four hours each, in eight-hour days."""
    fit = JobFactory(key="fit", build=car, likely=4, fixed=True)
    weld = JobFactory(key="weld", build=car, likely=4, fixed=True, after=[fit])
    return fit, weld


def planned(answer, key):
    return answer["jobs"][key]["planned_finish"]


def test_nothing_is_stored(chain):
    before = build_plan()
    preview(finish=["fit"], delay={"weld": 3}, change={"weld": {"title": "Braze"}})
    assert build_plan() == before
    assert not Forecast.objects.exists()


def test_a_job_that_ends_now_lets_the_next_begin_now(chain):
    # Four hours from 08:00, none of them in the break at noon.
    answer = preview(finish=["fit"])
    assert answer["jobs"]["fit"]["condition"] == "done"
    assert planned(answer, "weld") == "2027-01-11T12:00"


def test_a_late_job_moves_what_waits_for_it_by_working_days(chain):
    # Fit ends on Monday at noon; one working day later is Tuesday at noon; weld
    # then takes the afternoon, 12:30 to 16:30.
    answer = preview(delay={"fit": 1})
    assert planned(answer, "weld") == "2027-01-12T16:30"


def test_the_days_a_job_is_late_are_not_a_job_of_the_answer(chain):
    assert "(late)" not in json.dumps(preview(delay={"fit": 1}))


def test_the_car_is_late_with_its_last_job(chain):
    in_time = preview()["builds"]["coupe"]["levels"]["complete"]["planned"]
    late = preview(delay={"weld": 1})["builds"]["coupe"]["levels"]["complete"]
    assert late["planned"] > in_time


def test_any_field_of_a_job_may_be_tried(chain):
    answer = preview(change={"fit": {"estimate": {"likely": 2, "fixed": True}}})
    assert planned(answer, "fit") == "2027-01-11T10:00"


def test_a_change_that_cannot_be_is_refused_with_its_reason(chain):
    with pytest.raises(PlanError):
        preview(change={"fit": {"after": ["weld"]}})


def test_the_stored_links_are_untouched(chain):
    preview(delay={"fit": 1})
    assert Link.objects.get().before.key == "fit"
    assert Job.objects.count() == 2


def test_a_field_of_nothing_is_taken_out(chain, tom):
    Job.objects.filter(key="fit").update(person=tom.person)
    assert preview()["jobs"]["fit"]["who"] == ["tom"]
    assert preview(change={"fit": {"person": None}})["jobs"]["fit"]["who"] == []
