"""A plan replaces the workshop whole or not at all."""

from unittest import mock

import pytest

from builds.models import Build, Event, Job, Person, Update, Workshop
from builds.planning import store
from builds.planning.exchange import PlanError, import_plan
from tests.factories.job import JobFactory

pytestmark = pytest.mark.django_db

SMALL = {
    "now": "2027-01-11T08:00",
    "people": [{"id": "tom", "name": "Thomas"}],
    "builds": [{"id": "coupe", "name": "Grey coupe"}],
    "jobs": [{"id": "weld", "build": "coupe", "estimate": {"likely": 8}}],
}


def test_sign_ins_stay_with_their_person_and_car(tom, carla):
    import_plan(SMALL, pin_clock=False)
    tom.refresh_from_db()
    assert (tom.person.key, tom.person.name) == ("tom", "Thomas")
    assert [car.key for car in carla.cars.all()] == ["coupe"]


def test_the_diary_and_the_record_stay(car):
    Update.objects.create(build=car, day="2027-01-08", words="In primer.")
    Event.objects.create(verb="changed build", subject="Grey coupe", build=car)
    import_plan(SMALL, pin_clock=False)
    assert Update.objects.get().build.key == "coupe"
    assert Event.objects.get().build.key == "coupe"


def test_what_the_file_does_not_name_is_gone(other_car):
    import_plan(SMALL, pin_clock=False)
    assert [one.key for one in Build.objects.all()] == ["coupe"]


def test_someone_editing_a_job_is_told_that_the_plan_was_replaced(car):
    job = JobFactory(key="weld", build=car)
    import_plan(SMALL, pin_clock=False)
    assert Job.objects.get(key="weld").version > job.version


def test_a_file_with_faults_changes_nothing_and_names_each(car):
    wrong = {
        "jobs": [
            {"id": "a", "estimate": {"likely": 1}, "after": ["nowhere"]},
            {"id": "b", "estimate": {"likely": 1}, "build": "nowhere"},
        ]
    }
    with pytest.raises(PlanError) as error:
        import_plan(wrong, pin_clock=False)
    assert len(error.value.faults) == 2
    assert [one.key for one in Build.objects.all()] == ["coupe"]


@pytest.mark.parametrize("where", ["jobs", "jobs_parts", "consignments"])
def test_a_failure_half_way_changes_nothing(car, tom, where):
    before = [one.name for one in Person.objects.all()]
    with (
        mock.patch.object(store.store_jobs, where, side_effect=OSError("disk full")),
        pytest.raises(OSError, match="disk full"),
    ):
        import_plan(SMALL, pin_clock=False)
    assert [one.name for one in Person.objects.all()] == before
    assert Build.objects.get().version == 1


@pytest.mark.parametrize("pin_clock", [True, False])
def test_the_clock_stands_only_when_told_to(shop, pin_clock):
    import_plan(SMALL, pin_clock=pin_clock)
    assert (Workshop.current().now is not None) == pin_clock
