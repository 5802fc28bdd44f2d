"""Adding a job, changing it, saying where it is done."""

import pytest
from django.urls import reverse

from builds.models import Event, Job, Kind
from tests.assertions import assert_one_event
from tests.builds.views.records.pages import assert_refused_on_the_page, words_of
from tests.factories.job import JobFactory
from tests.factories.place import PlaceFactory
from tests.factories.vendor import VendorFactory

FACTS = {
    "title": "Weld tank", "kind": "bench", "likely": "2h30", "people": "1",
    "slot": "on", "rework_chance": "0",
}  # fmt: skip


def add(client, car, **typed):
    return client.post(reverse("job_new", args=[car.key]), FACTS | typed)


def edit(client, job, **typed):
    facts = FACTS | {"title": job.title, "likely": "4h", "version": str(job.version)}
    return client.post(reverse("job_edit", args=[job.key]), facts | typed)


def test_a_job_is_added_and_asked_what_comes_first(lead_client, car):
    with assert_one_event("created job"):
        response = add(lead_client, car, low="90m", high="1d", not_before="fri 9:00")
    job = Job.objects.get()
    assert response["Location"] == reverse("link_add", args=[job.key])
    assert (job.build, job.low, job.likely, job.high) == (car, 1.5, 2.5, 8.0)
    assert job.not_before.isoformat() == "2027-01-15T09:00:00"
    assert (job.trade, job.level) == (None, None)


def test_what_was_understood_is_shown(lead_client, car):
    JobFactory(key="weld", build=car, likely=2.5, needed_by="2027-05-15")
    page = words_of(lead_client.get(reverse("job_edit", args=["weld"])))
    assert 'value="2h30"' in page
    assert "Understood as 2 h 30 of work." in page
    assert "Understood as Sat 15 May 2027." in page


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"likely": ""}, "Write the likely length"),
        ({"likely": "soon"}, "“soon” is not a length"),
        ({"low": "1h"}, "Write both, the quicker and the longer, or none."),
        ({"low": "3h", "high": "4h"}, "This is more than the likely length."),
        ({"low": "1h", "high": "1h"}, "This is less than the likely length."),
        ({"needed_by": "31/2"}, "There is no 31 February"),
        ({"kind": "outside", "likely": "3"}, "Choose the vendor"),
        ({"kind": "decision"}, "This is counted in days"),
        ({"title": "a\0b"}, "cannot be kept"),
        ({"title": "x" * 1_000_000}, "Write no more than 4000"),
        ({"people": "9" * 30}, "Write 100 or less"),
        ({"person": "nobody\0"}, "no longer on the list"),
        ({"kind": "party"}, "is not one of the available choices"),
        ({"rework_chance": "101"}, "Write 100 or less"),
    ],
)
def test_a_bad_form_is_refused_and_writes_nothing(lead_client, car, typed, words):
    response = add(lead_client, car, **typed)
    assert_refused_on_the_page(response, words)
    assert words_of(response).count(words) >= 2, "At the top and by the field?"
    assert not Job.objects.exists()
    assert not Event.objects.exists()


def test_what_was_typed_is_still_there_after_a_refusal(lead_client, car):
    response = add(lead_client, car, likely="soon", needed_by="15 may")
    page = words_of(response)
    assert 'value="soon"' in page
    assert 'value="15 may"' in page
    assert "Understood as Sat 15 May 2027." in page


def test_the_plan_refuses_what_the_form_could_not_know(lead_client, car, tom):
    JobFactory(build=car, trade="upholstery")
    response = add(lead_client, car, person="tom", trade="upholstery")
    assert_refused_on_the_page(response, "upholstery")
    assert Job.objects.count() == 1


def test_more_than_a_place_holds_is_refused(lead_client, car):
    PlaceFactory(key="booth")
    job = JobFactory(build=car)
    response = lead_client.post(reverse("job_places", args=[job.key]), {"place-0": "2"})
    assert_refused_on_the_page(response, "Write 1 or less.")


def test_a_mark_takes_no_time(lead_client, car):
    add(lead_client, car, kind="mark", likely="2h30")
    assert Job.objects.get().likely is None


def test_days_go_to_a_vendor(lead_client, car):
    VendorFactory(key="plater")
    add(lead_client, car, kind="outside", likely="2w", vendor="plater")
    job = Job.objects.get()
    assert (job.kind, job.likely, job.vendor.key) == (Kind.OUTSIDE, 10.0, "plater")


def test_only_what_was_typed_anew_is_changed(lead_client, car):
    job = JobFactory(build=car, likely=4.0, low=1.2345, high=9, needed_by="2027-05-15")
    typed = {
        "low": "1h14",
        "high": "9h",
        "needed_by": "15 may 2027",
        "title": "Weld it",
    }
    with assert_one_event("changed job"):
        edit(lead_client, job, **typed)
    job.refresh_from_db()
    assert (job.title, job.low, job.version) == ("Weld it", 1.2345, 2)
    assert set(Event.objects.get().after) == {"title"}


def test_saving_with_nothing_changed_writes_nothing(lead_client, car):
    job = JobFactory(build=car)
    assert edit(lead_client, job).status_code == 302
    assert not Event.objects.exists()


@pytest.mark.fault("F13")
def test_a_conflict_shows_both_and_lets_one_choose(lead_client, car):
    job = JobFactory(build=car)
    edit(lead_client, job, title="Theirs")
    response = edit(lead_client, job, title="Mine", version="1")
    page = words_of(response)
    assert response.status_code == 409
    assert 'name="keep-title" value="theirs"' in page
    assert 'value="Mine"' in page
    edit(lead_client, job, title="Mine", version="2")
    job.refresh_from_db()
    assert job.title == "Mine"


def test_a_change_of_kind_takes_the_lengths_along(lead_client, car):
    job = JobFactory(build=car, likely=4.0)
    edit(lead_client, job, kind="stand", likely="2d")
    job.refresh_from_db()
    assert (job.kind, job.likely) == (Kind.STAND, 48.0)


def test_places_are_said_and_taken_back(lead_client, car):
    job = JobFactory(build=car)
    PlaceFactory(key="booth")
    address = reverse("job_places", args=[job.key])
    with assert_one_event("moved job"):
        assert lead_client.post(address, {"place-0": "1"}).status_code == 302
    assert [use.place.key for use in job.place_uses.all()] == ["booth"]
    lead_client.post(address, {"place-0": ""})
    assert not job.place_uses.exists()


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"reads": "day", "field": "d", "d": "fri"}, "Understood as Fri 15 Jan 2027."),
        ({"reads": "moment", "field": "m", "m": "fri 4pm"}, "Fri 15 Jan 2027, 16:00"),
        (
            {"reads": "length", "field": "low", "low": "1d"},
            "Understood as 8 h of work.",
        ),
        (
            {"reads": "length", "field": "low", "low": "2w", "kind": "outside"},
            "10 working days of the vendor’s",
        ),
        ({"reads": "wait", "field": "w", "w": "2d 6h"}, "2 working days and 6 hours"),
        (
            {"reads": "length", "field": "low", "low": "4h", "kind": "order"},
            "This is counted in the vendor’s working days.",
        ),
        ({"reads": "day", "field": "d", "d": "soon"}, "“soon” is not a day."),
        ({"reads": "day", "field": "d", "d": "\0"}, "cannot be kept"),
        ({"reads": "?", "field": "d", "d": "fri"}, "field__understood"),
        ({}, "field__understood"),
    ],
)
def test_what_is_being_typed_is_said_back(lead_client, asked, words):
    response = lead_client.get(reverse("understood"), asked)
    assert response.status_code == 200
    assert words in words_of(response)


def test_parts_of_the_car_in_use_are_suggested(lead_client, car):
    JobFactory(build=car, area="engine bay", phase="Fitting up")
    page = words_of(lead_client.get(reverse("job_new", args=[car.key])))
    assert '<option value="engine bay">' in page
    assert '<option value="Fitting up">' in page


def test_a_vendor_left_out_is_still_named_on_its_jobs(lead_client, car):
    vendor = VendorFactory(key="plater", name="Plater", left_out=True)
    job = JobFactory(build=car, kind="outside", vendor=vendor)
    page = words_of(lead_client.get(reverse("job_edit", args=[job.key])))
    assert "Plater, left out" in page
