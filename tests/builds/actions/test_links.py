"""What waits for what."""

import pytest

from builds.actions.errors import RingFound
from builds.actions.links import add_link, remove_link
from builds.models import Link, LinkKind
from tests.assertions import assert_one_event, assert_refused
from tests.factories.job import JobFactory


def test_a_link_is_added(lena, car):
    fit, weld = JobFactory(key="fit", build=car), JobFactory(build=car)
    with assert_one_event("added link"):
        add_link(by=lena, job=weld, before=fit, wait_hours=24)
    link = Link.objects.get()
    assert (link.job, link.before, link.wait_hours) == (weld, fit, 24)


def test_a_ring_is_refused_with_the_titles_in_it(lena, car):
    fit = JobFactory(build=car, title="Fit")
    weld = JobFactory(build=car, title="Weld", after=[fit])
    with assert_refused("wait for each other in a ring") as error:
        add_link(by=lena, job=fit, before=weld)
    assert isinstance(error.value, RingFound)
    assert sorted(error.value.titles) == ["Fit", "Weld"]
    assert Link.objects.count() == 1


def test_the_same_link_twice_is_refused(lena, car):
    fit = JobFactory(build=car)
    weld = JobFactory(build=car, after=[fit])
    with assert_refused("already waits for"):
        add_link(by=lena, job=weld, before=fit)
    add_link(by=lena, job=weld, before=fit, kind=LinkKind.WITH)


def test_a_link_is_removed(lena, car):
    weld = JobFactory(build=car, after=[JobFactory(build=car)])
    with assert_one_event("removed link"):
        remove_link(by=lena, link=weld.links.get())
    assert not Link.objects.exists()


@pytest.mark.parametrize("kind", LinkKind.values)
def test_a_ring_of_any_kind_is_a_ring(lena, car, kind):
    fit = JobFactory(build=car)
    weld = JobFactory(build=car)
    weld.links.create(before=fit, kind=kind)
    with assert_refused("ring"):
        add_link(by=lena, job=fit, before=weld)
