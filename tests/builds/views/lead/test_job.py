"""The job page: what it says, with an answer of the engine and without one."""

import json

import pytest
from django.core.management import call_command
from django.urls import reverse

from builds.cautions import STANDING_NOTE
from builds.models import Job, Kind, LinkKind, Reading, State, User, Workshop
from builds.selectors.job import job_page
from builds.selectors.job_words import differences
from tests.assertions import assert_forbidden
from tests.conftest import client_of
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.people import PersonFactory

FACTS = {
    "condition": "clear",
    "reasons": [],
    "planned_start": "2027-01-11T08:00",
    "planned_finish": "2027-01-11T12:00",
    "who": ["tom"],
    "needed_for": "running",
    "in_hand_days": 6.0,
    "total_float_hours": 12.5,
    "free_float_hours": 0.0,
    "holds": 3,
    "only_this": 1,
    "frees": ["paint"],
    "held_hours": 41.0,
    "criticality": 0.62,
    "driven_by": None,
    "p50": "2027-01-11T13:00",
    "p80": "2027-01-12T09:00",
}


def test_without_an_answer_it_says_what_is_known(look, weld, paint):
    page = look(weld)
    assert "Grey coupe" in page
    assert "metal, left sill" in page
    assert "Its dates and odds have not been worked out yet." in page
    assert reverse("job", args=["paint"]) in page


def test_every_figure_has_its_sentence(look, weld, paint, answered, tom):
    answered(jobs={"weld": FACTS})
    page = look(weld)
    for words in (
        "6 working days in hand",
        "12 h in all, nothing before the next job",
        "3 jobs, 41 h of work",
        "1 job",
        "62 in 100",
        "even chance by Mon 11 Jan 2027, 80 in 100 by Tue 12 Jan 2027",
    ):
        assert words in page
    assert page.count("<summary>Frees: <strong>Paint</strong>") == 1
    assert "Tom" in page
    assert "running" in page


def test_each_figure_is_explained(weld, answered):
    answered(jobs={"weld": FACTS})
    found = job_page(weld, reading=Reading.ONE_IN_TEN).numbers
    assert [one.name for one in found] == [
        "In hand",
        "Float",
        "Holds up",
        "Waits for this alone",
        "Frees",
        "Drives the date",
        "Likely end",
    ]
    assert all(one.meaning.endswith(".") for one in found)


def test_reasons_are_said_unless_the_job_has_moved_on(look, weld, answered):
    answered(jobs={"weld": FACTS | {"reasons": ["The spit is taken until Friday."]}})
    assert "The spit is taken until Friday." in look(weld)
    weld.state = State.UNDER_WAY
    weld.save()
    assert "The spit is taken until Friday." not in look(weld)


def test_what_comes_first_can_be_taken_away_and_added_to(look, weld, paint):
    page = look(paint)
    link = paint.links.get()
    assert reverse("link_remove", args=["paint", link.pk]) in page
    assert reverse("link_add", args=["paint"]) in page
    assert "sign-waiting" in page


def test_a_wait_between_two_jobs_is_said(look, weld, car):
    cure = JobFactory(build=car, title="Cure")
    cure.links.create(before=weld, kind=LinkKind.WITH, wait_days=2)
    assert "with its start and 2 working days of waiting" in look(cure)


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (Kind.BENCH, "Most likely 4 h of work."),
        (Kind.OUTSIDE, "Most likely 4 working days of the vendor’s."),
        (Kind.DECISION, "Most likely 4 days."),
        (Kind.STAND, "Most likely 4 h standing."),
    ],
)
def test_the_estimate_is_in_the_unit_of_the_kind(look, car, kind, words):
    page = look(JobFactory(build=car, kind=kind, likely=4))
    assert words in page
    assert "Only a likely figure: the spread usual for this kind is used." in page


def test_low_and_high_are_one_time_in_ten(look, car):
    page = look(JobFactory(build=car, low=2, likely=4, high=9.5))
    assert "One time in ten it is quicker than 2 h of work." in page
    assert "One time in ten it is longer than 9 h 30 of work." in page


def test_low_and_high_are_ends_where_the_workshop_means_ends(look, car):
    Workshop.objects.update(reading=Reading.ENDS)
    page = look(JobFactory(build=car, low=2, likely=4, high=9.5))
    assert "Never over 9 h 30 of work." in page
    assert "One time in ten" not in page


def test_dates_of_a_vendor_are_newest_first_and_none_is_gone(look, plating):
    plating.promises.create(date="2027-01-20", given="2027-01-04", by="Ida")
    plating.promises.create(date=None, given="2027-01-08", said="Ring on Monday")
    page = look(plating)
    assert page.index("Ring on Monday") < page.index("Wed 20 Jan 2027")
    assert "by Ida" in page


def test_welding_shows_its_caution_and_the_standing_note(look, weld, car):
    """The caution itself: UK HSE Safety Bulletin STSU1-2019 on weld fume."""
    page = look(weld)
    assert "Weld fume" in page
    assert STANDING_NOTE in page
    desk = JobFactory(build=car, title="Write the list", trade="lead")
    assert STANDING_NOTE not in look(desk)


def test_history_says_who_and_from_what_to_what(look, press, weld, lena):
    press("start", weld)
    press("stop", weld, left="2h30", words="Rod 3")
    page = look(weld)
    assert "lena put it down. “Rod 3”" in page
    assert "Left to do: from nothing to 2 h 30 of work" in page
    assert "State: from open to under way" in page
    assert page.index("put it down.") < page.index("started it.")


def test_changes_name_rows_by_what_people_call_them():
    found = differences(
        {"person": "tom", "needed_by": None, "safety": False},
        {"person": "ida", "needed_by": "2027-02-01", "safety": True},
        Kind.BENCH,
        {("person", "tom"): "Tom", ("person", "ida"): "Ida"},
    )
    assert found == (
        "Who: from Tom to Ida",
        "Wanted by: from nothing to Mon 1 Feb",
        "Safety job: from no to yes",
    )


def test_a_title_cannot_write_the_page(lead_client, car):
    job = JobFactory(build=car, title="<script>alert(1)</script>")
    for name in ("job", "knock_on"):
        page = lead_client.get(reverse(name, args=[job.key])).content.decode()
        assert "<script>alert" not in page
        assert "&lt;script&gt;alert" in page


def test_a_key_of_any_letters_has_its_page(look, car):
    """The plan file allows any name, with a slash in it too."""
    look(JobFactory(build=car, key="a/b c%?#é"))
    look(JobFactory(build=car, key="x/y"), "knock_on")


def test_only_the_lead_sees_it(technician_client, customer_client, weld):
    for client in (technician_client, customer_client):
        assert_forbidden(client.get(reverse("job", args=["weld"])))


def test_no_dates_for_what_is_left_out(look, weld, answered):
    answered(jobs={"weld": FACTS})
    weld.state = State.LEFT_OUT
    weld.save()
    page = look(weld)
    assert "It is left out, so it takes no time." in page
    assert "62 in 100" not in page


@pytest.fixture
def demo(db, settings):
    settings.DEMO = True
    call_command("load_demo", verbosity=0)
    return client_of(User.objects.filter(role="lead").first())


def test_twenty_questions_to_the_database_at_the_size_of_the_demo(
    demo, django_assert_max_num_queries
):
    demo.get(reverse("people"))  # the first look of a visit is noted down
    for job in Job.objects.filter(
        state__in=(State.OPEN, State.UNDER_WAY), sent__isnull=False
    )[:3]:
        for name in ("job", "knock_on"):
            where = reverse(name, args=[job.key])
            with django_assert_max_num_queries(20):
                page = demo.get(where)
            assert page.status_code == 200


def test_twenty_questions_with_every_sort_of_history(
    lead_client, lena, weld, paint, plating, answered, django_assert_max_num_queries
):
    answered(jobs=json.loads(json.dumps({"weld": FACTS})))
    PersonFactory(key="ida")
    for name, was in (
        ("person", "ida"),
        ("vendor", plating.vendor.key),
        ("build", "coupe"),
        ("before", "plating"),
    ):
        weld.events.create(verb="changed job", before={name: was}, by=lena)
    OutsideJobFactory(build=weld.build).links.create(before=weld)
    lead_client.get(reverse("people"))  # the first look of a visit is noted down
    with django_assert_max_num_queries(20):
        lead_client.get(reverse("job", args=["weld"]))
