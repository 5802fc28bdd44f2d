"""What a job holds up, and what if it came late or ended today."""

import pytest
from django.urls import reverse

from builds.models import Consignment, Event, Forecast, LinkKind, ShowEntry, State
from builds.planning.replan import replan
from builds.selectors.knock_on import knock_on_page
from builds.selectors.what_if import compare
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.show import ShowFactory


@pytest.fixture
def entered(car, weld, paint):
    """The car is wanted on Monday at four, when its two jobs just end."""
    for job in (weld, paint):
        job.fixed = True
        job.save()
    show = ShowFactory(name="Winter show", move_in="2027-01-11T16:30")
    ShowEntry.objects.create(show=show, build=car)
    return show


def holds(job):
    page = knock_on_page(job)
    return page.holds, {node.job.title for node in page.chart.nodes[1:]}


def test_everything_after_it_is_held_near_or_far(look, car, weld, paint):
    JobFactory(build=car, title="Polish", after=[paint])
    assert holds(weld) == (2, {"Paint", "Polish"})
    page = look(weld, "knock_on")
    assert "Weld the sill holds up 2 jobs." in page
    assert "The same as a list, in order of time" in page


def test_left_out_jobs_pass_the_order_on_and_are_not_held(car, weld, paint):
    JobFactory(build=car, title="Polish", after=[paint])
    paint.state = State.LEFT_OUT
    paint.save()
    assert holds(weld) == (1, {"Polish"})


def test_what_has_begun_no_longer_waits_to_start(weld, paint):
    paint.state = State.UNDER_WAY
    paint.save()
    assert holds(weld) == (0, set())
    paint.links.update(kind=LinkKind.BY)
    assert holds(weld) == (1, {"Paint"})


def test_what_is_done_holds_nothing(look, weld, paint):
    weld.state, weld.finished = State.DONE, "2027-01-08T12:00"
    weld.save()
    assert holds(weld) == (0, set())
    assert "It is done, so it cannot come late." in look(weld, "knock_on", days=5)


def test_what_travels_together_holds_up_together(car, plating):
    chrome = OutsideJobFactory(build=car, title="Chrome", vendor=plating.vendor)
    load = Consignment.objects.create(key="van", vendor=plating.vendor)
    for job in (plating, chrome):
        load.loads.create(job=job)
    JobFactory(build=car, title="Bumper on", after=[chrome])
    assert holds(plating) == (1, {"Bumper on"})


def test_the_count_is_the_engines_own(car, weld, paint, plating):
    """Two ways to the same number: the picture's own walk and the engine's sets."""
    trim = JobFactory(build=car, after=[paint, plating])
    JobFactory(build=car, after=[trim])
    JobFactory(build=car, state=State.LEFT_OUT, after=[weld])
    facts = replan().answer["jobs"]
    for job in (weld, paint, plating, trim):
        assert knock_on_page(job).holds == facts[job.key]["holds"]


def test_five_days_late_is_set_beside_now(look, weld, entered):
    page = look(weld, "knock_on", days=5)
    assert "If it ended 5 working days later" in page
    assert "100 in 100" in page
    assert "100 fewer in 100" in page
    # Monday and five working days is the next Monday.
    assert "7 days later" in page


def test_ended_today_brings_the_car_forward(look, car, weld):
    weld.likely, weld.fixed = 40, True  # a week of eight-hour days
    weld.save()
    page = look(weld, "knock_on", ended="today")
    assert "If it ended today" in page
    assert "sooner" in page


def test_nothing_is_stored(look, weld, entered):
    look(weld, "knock_on", days=5)
    look(weld, "knock_on", ended="today")
    weld.refresh_from_db()
    assert weld.state == State.OPEN
    assert not Event.objects.exists()
    assert not Forecast.objects.exists()


def test_no_days_at_all_change_nothing(look, weld, entered):
    page = look(weld, "knock_on", days=0)
    assert "no change" in page
    assert "later</span>" not in page


@pytest.mark.parametrize("days", ["-1", "366", "soon", "", "1e9", "5.5"])
def test_other_days_are_refused_with_what_to_write(look, weld, days):
    page = look(weld, "knock_on", status=422, days=days)
    assert "Write a number of days from 0 to 365." in page
    assert f'value="{days}"' in page or not days


def test_the_part_is_the_same_without_the_page_around_it(look, weld, entered):
    part = look(weld, "knock_on", headers={"HX-Target": "slide"}, days=5)
    assert part.strip().startswith("<section")
    assert "<html" not in part
    assert part.strip() in look(weld, "knock_on", days=5)


def test_without_an_answer_it_is_drawn_all_the_same(look, weld, paint):
    assert "Weld the sill holds up 1 job." in look(weld, "knock_on")


def test_a_job_that_is_not_there(lead_client, shop):
    assert lead_client.get(reverse("knock_on", args=["gone"])).status_code == 404


def test_a_car_that_left_the_plan_meanwhile_is_not_compared(car):
    now = {
        "shows": {},
        "builds": {"coupe": {"wanted_level": "complete", "levels": {}}},
    }
    assert compare(now, {}).dates == ()
