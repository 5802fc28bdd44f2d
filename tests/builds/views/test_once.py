"""A form pressed twice is done once; what was not accepted may be sent again."""

from html import unescape

import pytest
from django.urls import reverse

from builds.models import (
    Build,
    DaysAway,
    Event,
    Job,
    Link,
    Person,
    Place,
    Promise,
    SentForm,
    Show,
    ShowEntry,
    Vendor,
    VendorClosure,
    WorkCalendar,
)
from tests.conftest import client_of
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.people import UserFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory

# The page a form stands on, where it is sent, what is typed and what it makes.
FORMS = {
    "a car": ("car_new", "car_new", {"name": "Van", "rank": "1"}, Build),
    "a job": (
        "job_new", "job_new",
        {"title": "Sand", "kind": "bench", "likely": "2h", "people": "1", "slot": "on"},
        Job,
    ),
    "someone": ("person_new", "person_new", {"name": "Ana"}, Person),
    "a vendor": ("vendor_new", "vendor_new", {"name": "Glass"}, Vendor),
    "a show": ("show_new", "show_new", {"name": "May", "move_in": "3 may 9:00"}, Show),
    "a week": ("week_new", "week_new", {"name": "Late", "mon": "17-20"}, WorkCalendar),
    "a place": ("place_new", "place_new", {"name": "Ramp", "capacity": "1"}, Place),
    "days away": ("person", "days_away_add", {"away-first": "1 feb"}, DaysAway),
    "days shut": ("vendor", "closure_add", {"shut-first": "1 feb"}, VendorClosure),
    "an entry": ("show", "entry_add", {"build": "coupe"}, ShowEntry),
    "a link": ("link_add", "link_add", {"before": "first", "kind": "after"}, Link),
    "a promise": ("job", "job_promise", {"promised": "1 feb", "said": "x"}, Promise),
    "trouble": ("job", "job_trouble", {"reason": "A part is wrong"}, Event),
}  # fmt: skip


@pytest.fixture
def world(car, tom):
    JobFactory(key="first", build=car)
    VendorFactory(key="plater", name="Plater")
    OutsideJobFactory(
        key="plate", build=car, vendor=Vendor.objects.get(), state="under way",
        started="2027-01-04T08:00", sent="2027-01-04",
    )  # fmt: skip
    ShowFactory(key="summer")


def where(name: str) -> str:
    keys = {
        "job_new": "coupe", "person": "tom", "days_away_add": "tom",
        "vendor": "plater", "closure_add": "plater", "show": "summer",
        "entry_add": "summer", "link_add": "plate", "job": "plate",
        "job_promise": "plate", "job_trouble": "plate",
    }  # fmt: skip
    return reverse(name, args=[keys[name]] if name in keys else [])


def word_on(client, page: str, action: str) -> str:
    """Give the one-time word of the form that is sent to `action`."""
    text = unescape(client.get(page).content.decode())
    form = text.split(f'action="{action}"')[-1].split("</form>")[0]
    return form.split('name="once" value="')[1].split('"')[0]


@pytest.mark.parametrize("name", FORMS)
def test_pressed_twice_there_is_one(lead_client, world, name):
    page, target, typed, model = FORMS[name]
    word = word_on(lead_client, where(page), where(target))
    before, sent = model.objects.count(), typed | {"once": word}
    first = lead_client.post(where(target), sent)
    assert first.status_code == 302
    events = Event.objects.count()
    second = lead_client.post(where(target), sent, follow=True)
    assert model.objects.count() == before + 1
    assert Event.objects.count() == events
    assert second.redirect_chain[0][0] == first["Location"]
    assert "That had already reached us" in second.content.decode()


def test_without_a_word_every_sending_counts(lead_client, shop):
    for _ in range(2):
        lead_client.post(reverse("person_new"), {"name": "Ana"})
    assert Person.objects.filter(name="Ana").count() == 2


@pytest.mark.parametrize("word", ["", "a" * 31, "Z" * 32, "\0" * 32])
def test_a_word_nobody_gave_out_is_no_word(lead_client, shop, word):
    lead_client.post(reverse("person_new"), {"name": "Ana", "once": word})
    assert not SentForm.objects.exists()


def test_what_was_not_accepted_may_be_sent_again(lead_client, shop):
    sent = {"name": "Glass", "reject_chance": "5", "once": "a" * 32}
    wrong = lead_client.post(reverse("vendor_new"), sent | {"reject_chance": "500"})
    assert wrong.status_code == 422
    assert not SentForm.objects.exists()
    lead_client.post(reverse("vendor_new"), sent)
    assert Vendor.objects.count() == 1


def test_going_back_and_typing_something_else_is_not_lost(lead_client, shop):
    for name in ("Ana", "Bea"):
        lead_client.post(reverse("person_new"), {"name": name, "once": "a" * 32})
    assert Person.objects.filter(name__in=["Ana", "Bea"]).count() == 2


def test_the_word_of_one_person_does_not_stop_another(lead_client, shop):
    sent = {"name": "Ana", "once": "a" * 32}
    other = client_of(UserFactory(username="second", role="lead"))
    for client in (lead_client, other):
        client.post(reverse("person_new"), sent)
    assert Person.objects.filter(name="Ana").count() == 2


def test_what_the_bench_was_refused_may_be_sent_again(technician_client, world, car):
    """The job is not under way yet: stopping it is refused, and later is not."""
    job = JobFactory(key="weld", build=car)
    sent = {"how": "left", "left": "1h", "once": "a" * 32}
    address = reverse("bench_stop", args=["weld"])
    refused = technician_client.post(address, sent, follow=True)
    assert "“Job" in refused.content.decode()
    assert not SentForm.objects.exists()
    Job.objects.filter(pk=job.pk).update(state="under way", started="2027-01-11T08:00")
    technician_client.post(address, sent)
    job.refresh_from_db()
    assert job.remaining == 1.0


def test_old_words_are_forgotten(lead_client, lena, shop):
    SentForm.objects.create(by=lena, content="old")
    SentForm.objects.update(at="2020-01-01T00:00Z")
    lead_client.post(reverse("person_new"), {"name": "Ana", "once": "a" * 32})
    assert not SentForm.objects.filter(content="old").exists()
