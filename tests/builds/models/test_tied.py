"""Rules are asked again of what was set, and of what a rule ties to that."""

import pytest
from django.core.exceptions import ValidationError

from builds.models import Job
from builds.models.tied import untied
from tests.factories.job import JobFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    return JobFactory(likely=4.0, low=2.0, high=8.0)


def test_what_shares_a_rule_is_asked_with_it(job):
    left = untied(job, ["low"])
    assert left.isdisjoint({"low", "likely", "high", "fixed"})
    assert {"title", "people", "kind", "key"} <= left


def test_a_field_in_no_rule_is_asked_alone(job):
    every = {field.name for field in Job._meta.fields}
    assert untied(job, ["note"]) == every - {"note"}


def test_of_a_new_row_all_is_asked(job):
    assert untied(Job(), ["note"]) == set()


@pytest.mark.parametrize(
    ("name", "value"),
    [("likely", 9.0), ("likely", 1.0), ("people", 0), ("kind", "idle"), ("key", "")],
)
def test_every_rule_of_what_was_set_is_still_asked(job, name, value):
    setattr(job, name, value)
    with pytest.raises(ValidationError):
        job.full_clean(exclude=untied(job, [name]))


def test_it_costs_no_statement_for_the_rules_left_out(
    job, django_assert_max_num_queries
):
    job.note = "thin metal"
    with django_assert_max_num_queries(0):
        job.full_clean(exclude=untied(job, ["note"]))
