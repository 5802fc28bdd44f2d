"""Who may see and do what, in short; the whole is in `tests/builds/access/`."""

from __future__ import annotations

import json

import pytest
from django.urls import reverse

from builds.models import Job, Kind, State, Vendor
from tests.factories.job import JobFactory
from tests.factories.vendor import VendorFactory


@pytest.fixture
def jobs(car, other_car):
    JobFactory(key="weld", build=car, title="Weld the sill")
    JobFactory(key="his", build=other_car, kind=Kind.DECISION, title="Choose leather")


def test_asvs_8_2_1_a_technician_does_nothing_that_is_the_leads(
    technician_client, jobs
):
    address = reverse("job_leave_out", args=["weld"])
    assert technician_client.post(address).status_code == 403
    assert not Job.objects.filter(state=State.LEFT_OUT).exists()


def test_asvs_8_2_2_a_customer_does_not_find_anothers_car(customer_client, jobs):
    address = reverse("my_car_of_several", args=["saloon"])
    assert customer_client.get(address).status_code == 404


def test_asvs_8_3_1_what_a_page_does_not_offer_the_server_refuses_too(
    customer_client, jobs
):
    address = reverse("job_choice", args=["his"])
    assert customer_client.post(address, {"choice": "red"}).status_code in (403, 404)


@pytest.mark.parametrize("field", ["state", "version", "position", "key", "started"])
def test_asvs_8_2_3_no_form_reaches_a_field_that_is_not_its_own(
    field, lead_client, jobs
):
    before = Job.objects.filter(key="weld").values(field).get()
    lead_client.post(
        reverse("job_edit", args=["weld"]), {"title": "Weld", field: "done"}
    )
    after = Job.objects.filter(key="weld").values(field).get()
    assert after == before or field == "version"


def test_asvs_15_3_1_a_customer_is_shown_what_is_theirs_and_not_the_row(
    customer_client, car, jobs
):
    Job.objects.update(note="the last owner botched it")
    text = customer_client.get(reverse("my_car")).content.decode()
    assert car.name in text
    assert "botched" not in text


def test_asvs_2_3_1_no_step_is_skipped(lead_client, car):
    first = JobFactory(key="first", build=car)
    second = JobFactory(key="second", build=car)
    second.links.create(before=first)
    answer = lead_client.post(reverse("job_start", args=["second"]))
    assert answer.status_code == 409
    assert Job.objects.get(key="second").state == State.OPEN


def test_asvs_2_2_2_the_server_checks_though_the_browser_may_have(lead_client, shop):
    sent = {"name": "Glass", "reject_chance": "500"}
    assert lead_client.post(reverse("vendor_new"), sent).status_code == 422
    assert not Vendor.objects.exists()


def test_asvs_1_2_2_no_address_is_made_of_what_was_typed(lead_client, shop):
    VendorFactory(key="glass", name="Glass", phone="javascript:alert(1)")
    for name in ("vendors", "vendor"):
        address = reverse(name, args=["glass"] if name == "vendor" else [])
        text = lead_client.get(address).content.decode()
        assert 'href="javascript' not in text


def test_asvs_1_2_3_a_plan_file_is_json_whatever_was_typed(lead_client, car):
    JobFactory(key="weld", build=car, title='"}], "x": "</script>\u2028')
    plan = json.loads(lead_client.get(reverse("plan_download")).content)
    assert plan["jobs"][0]["title"] == '"}], "x": "</script>\u2028'
