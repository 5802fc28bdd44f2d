"""Networks of jobs that nobody would draw: refused in names, or worked out."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.urls import reverse

import scheduling
from builds.actions.errors import PlanRefused, RingFound
from builds.actions.exchange import replace_plan
from builds.actions.links import add_link
from builds.models import Job, Link, LinkKind
from tests.factories.build import BuildFactory
from tests.factories.job import JobFactory

pytestmark = pytest.mark.django_db
QUICK: dict[str, Any] = {"schedules": 1, "samples": 20}


def job(key: str, *after: str, **more: Any) -> dict[str, Any]:
    return {"id": key, "estimate": {"likely": 1}, "after": list(after)} | more


def plan(*jobs: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"now": "2027-01-11T08:00", "jobs": list(jobs)} | more


def refused(data: dict[str, Any]) -> str:
    """Hand it in as a file; nothing is kept; give the words."""
    with pytest.raises(PlanRefused) as error:
        replace_plan(by=None, text=json.dumps(data))
    assert not Job.objects.exists()
    return f"{error.value.words} {[one['where'] for one in error.value.faults]}"


def test_a_job_that_waits_for_itself():
    assert "weld" in refused(plan(job("weld", "weld")))


def test_two_that_wait_for_each_other():
    words = refused(plan(job("weld", "paint"), job("paint", "weld")))
    assert "weld" in words
    assert "paint" in words


def test_a_ring_of_a_thousand_is_named():
    ring = [job(f"j{n}", f"j{(n - 1) % 1000}") for n in range(1000)]
    words = refused(plan(*ring))
    assert "j0" in words
    assert "j999" in words


def test_a_ring_made_on_the_site_is_named(lena, car):
    first = JobFactory(key="first", title="First", build=car)
    second = JobFactory(key="second", title="Second", build=car)
    add_link(by=lena, job=second, before=first, kind=LinkKind.AFTER)
    with pytest.raises(RingFound) as error:
        add_link(by=lena, job=first, before=second, kind=LinkKind.AFTER)
    assert {"First", "Second"} == set(error.value.titles)
    assert Link.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "named"),
    [
        (job("weld", "gone"), "gone"),
        (job("weld", estimate={"likely": -1}), "weld"),
        (job("weld", estimate={"likely": 1e309}), "weld"),
        (job("weld", estimate={"low": 9, "likely": 5, "high": 1}), "weld"),
        (job("weld", build="nobody's"), "nobody's"),
    ],
)
def test_what_is_wrong_is_named(wrong, named):
    assert named in refused(plan(wrong))


def test_the_same_wish_twice_is_one(lena, car):
    first = JobFactory(key="first", build=car)
    second = JobFactory(key="second", build=car)
    add_link(by=lena, job=second, before=first, kind=LinkKind.AFTER)
    with pytest.raises(Exception, match="already"):
        add_link(by=lena, job=second, before=first, kind=LinkKind.AFTER)
    assert Link.objects.count() == 1


def answered(data: dict[str, Any]) -> dict[str, Any]:
    return scheduling.answer(scheduling.read_plan(data), **QUICK).as_dict()


def test_a_chain_of_five_thousand_is_worked_out():
    """Five thousand hours by a clock that never stops: deeper than Python recurses."""
    chain = [job(f"j{n}", *([f"j{n - 1}"] if n else [])) for n in range(5000)]
    assert answered(plan(*chain))["duration_hours"] == pytest.approx(5000)


def test_everybody_waits_for_everybody():
    left = [job(f"a{n}") for n in range(300)]
    right = [job(f"b{n}", *[f"a{m}" for m in range(300)]) for n in range(300)]
    assert answered(plan(*left, *right))["duration_hours"] == pytest.approx(2)


def test_no_length_and_ten_years():
    still = {"likely": 0, "fixed": True}
    long = {"likely": 87_600, "fixed": True}
    found = answered(plan(job("a", estimate=still), job("b", "a", estimate=long)))
    assert found["duration_hours"] == pytest.approx(87_600)


def test_everything_on_one_pair_of_hands():
    ana = {"id": "ana", "trades": {"weld": 2}}
    one = {"trade": "weld", "estimate": {"likely": 1, "fixed": True}}
    jobs = [job(f"j{n}", **one) for n in range(100)]
    found = answered(plan(*jobs, people=[ana]))
    ends = sorted(one["planned_finish"] for one in found["jobs"].values())
    assert len(set(ends)) == 100


def test_a_link_to_a_job_that_has_gone_is_not_found(lead_client, shop):
    JobFactory(key="weld", build=BuildFactory(key="coupe"))
    sent = {"before": "gone", "kind": "after"}
    answer = lead_client.post(reverse("link_add", args=["weld"]), sent)
    assert answer.status_code == 422
    assert not Link.objects.exists()
