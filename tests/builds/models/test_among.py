"""One of many words, handed over as one value."""

import pytest

from builds.models import Job
from tests.factories.job import JobFactory

pytestmark = pytest.mark.django_db

ODD = ("a, b", 'say "when"', "{x}", "o'clock", "back\\slash", "NULL")


def found(keys):
    return set(Job.objects.filter(key__among=keys).values_list("key", flat=True))


def test_each_is_found_however_it_is_written(car):
    for key in (*ODD, "another"):
        JobFactory(key=key, build=car)
    assert found(ODD) == set(ODD)


def test_none_are_among_none(car):
    JobFactory(key="weld", build=car)
    assert found([]) == set()


def test_what_is_not_there_is_no_matter(car):
    JobFactory(key="weld", build=car)
    assert found(["weld", "gone"]) == {"weld"}
    left = Job.objects.exclude(key__among=["gone"])
    assert [one.key for one in left] == ["weld"]
