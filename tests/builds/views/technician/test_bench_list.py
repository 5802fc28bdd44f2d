"""One screen: what now, what next, what is in the way."""

import re

import pytest
from django.urls import reverse

from builds.models import DaysAway, State
from builds.selectors.bench import bench_list
from tests.assertions import assert_forbidden, assert_needs_login
from tests.conftest import client_of
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.people import PersonFactory, UserFactory


def titles(jobs):
    return [job.title for job in jobs]


def test_now_is_what_they_have_under_way(tom, car):
    JobFactory(build=car, title="Mine", state=State.UNDER_WAY, person=tom.person)
    other = PersonFactory()
    JobFactory(build=car, title="Theirs", state=State.UNDER_WAY, person=other)
    assert titles(bench_list(tom).now) == ["Mine"]


def test_a_helper_sees_what_the_plan_has_them_on(tom, car, answered):
    JobFactory(key="lift", build=car, title="Lift", state=State.UNDER_WAY)
    answered(jobs={"lift": {"who": ["lena", "tom"], "condition": "under way"}})
    assert titles(bench_list(tom).now) == ["Lift"]


def test_next_begins_with_what_is_planned_for_today(tom, car, answered):
    for key in ("a", "b", "c"):
        JobFactory(key=key, title=key, build=car, trade="panel")
    answered(today={"tom": ["c", "b"]}, jobs={})
    assert titles(bench_list(tom).next) == ["c", "b", "a"]


@pytest.mark.parametrize(
    ("facts", "offered"),
    [
        ({"trade": "panel", "trade_level": 3}, True),
        ({"trade": "engine"}, False),
        ({"trade": None}, False),
    ],
)
def test_what_they_could_also_take_on_is_of_their_trade(tom, car, facts, offered):
    JobFactory(build=car, title="Gap the door", **facts)
    assert titles(bench_list(tom).next) == (["Gap the door"] if offered else [])


def test_a_trade_held_at_a_lower_level_is_not_offered(tom, car):
    tom.person.trades.update(level=2)
    JobFactory(build=car, trade="panel", trade_level=3)
    assert bench_list(tom).next == ()


def test_what_they_are_to_help_with_is_shown_and_not_theirs_to_start(
    technician_client, tom, car, answered
):
    """The plan puts helpers beside somebody whose trade is enough."""
    tom.person.trades.update(level=1)
    JobFactory(key="hood", title="Hang the hood", build=car, trade="panel", people=2)
    answered(today={"tom": ["hood"]}, jobs={})
    found = bench_list(tom)
    assert (titles(found.next), found.may_start) == (["Hang the hood"], False)
    page = technician_client.get(reverse("bench")).content.decode()
    assert "Hang the hood" in page
    assert ">Start<" not in page


def test_of_their_own_trade_the_first_is_theirs_to_start(technician_client, weld):
    page = technician_client.get(reverse("bench")).content.decode()
    assert page.count(">Start<") == 1


def test_a_job_named_for_somebody_else_is_not_offered(tom, car):
    JobFactory(build=car, trade="panel", person=PersonFactory())
    assert bench_list(tom).next == ()


def test_a_job_waiting_for_another_is_in_the_way_with_the_reason(tom, weld, answered):
    JobFactory(
        key="paint", title="Paint", build=weld.build, person=tom.person, after=[weld]
    )
    answered(jobs={"paint": {"condition": "waiting", "reasons": ["Waits for Ana."]}})
    (job,) = bench_list(tom).in_the_way
    assert (job.title, job.reasons) == ("Paint", ("Waits for Ana.",))


def test_what_people_said_since_counts_before_the_answer(tom, weld, answered):
    """The forecast may be minutes old; the work before has been finished since."""
    answered(jobs={"weld": {"condition": "waiting", "who": ["tom"]}})
    assert titles(bench_list(tom).in_the_way) == ["Weld the sill"]
    first = JobFactory(build=weld.build)
    weld.links.create(before=first)
    answered_again = bench_list(tom).in_the_way
    assert titles(answered_again) == ["Weld the sill"]


def test_only_the_nearest_waiting_jobs_are_named_and_the_rest_counted(tom, car):
    first = JobFactory(build=car, trade="other")
    for _ in range(8):
        JobFactory(build=car, person=tom.person, after=[first])
    found = bench_list(tom)
    assert (len(found.in_the_way), found.more_waiting) == (5, 3)


def test_work_at_a_vendor_and_cars_left_out_are_not_on_the_list(tom, car, other_car):
    OutsideJobFactory(build=car, person=tom.person)
    other_car.left_out = True
    other_car.save()
    JobFactory(build=other_car, trade="panel")
    found = bench_list(tom)
    assert (found.now, found.next, found.in_the_way) == ((), (), ())


def test_a_sign_in_without_a_person_is_told_so(shop):
    client = client_of(UserFactory(username="new", role="technician"))
    page = client.get(reverse("bench")).content.decode()
    assert "Ask the lead to tie it to you" in page


def test_the_page_is_small_and_reads_the_rows_in_few_questions(
    technician_client, car, tom, django_assert_max_num_queries
):
    """The number of questions does not grow with the number of jobs."""
    for _ in range(30):
        JobFactory(build=car, trade="panel")
    technician_client.get(reverse("bench"))  # a visit's first look is noted down
    with django_assert_max_num_queries(13):
        page = technician_client.get(reverse("bench"))
    assert len(page.content) < 30_000
    assert re.findall(r"<h2[^>]*>(.*?)</h2>", page.content.decode()) == [
        "Now",
        "Next",
        "In the way",
    ]


def test_the_list_is_for_technicians(lead_client, customer_client, client, shop):
    assert_forbidden(lead_client.get(reverse("bench")))
    assert_forbidden(customer_client.get(reverse("bench")))
    assert_needs_login(client.get(reverse("bench")))


def test_nothing_is_changed_by_looking(technician_client, weld):
    assert technician_client.post(reverse("bench")).status_code == 405
    assert DaysAway.objects.count() == 0
