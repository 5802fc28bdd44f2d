"""The sample workshop out to a sheet and in again: the same, to the letter."""

from __future__ import annotations

import json

import pytest
from django.urls import reverse

from builds.actions.exchange import replace_plan
from builds.demo.plan import demo_plan
from builds.models import Job
from builds.planning.exchange import export_plan
from tests.builds.views.records.handing_in import hand_in, look, take

# A record of what happened, or more than a cell holds; the plan file has them.
NOT_IN_A_SHEET = ("promises", "piece_list", "ways", "way")


def plan_but_records() -> dict:
    plan = json.loads(export_plan())
    for job in plan["jobs"]:
        for name in NOT_IN_A_SHEET:
            job.pop(name, None)
    for vendor in plan["vendors"]:
        vendor.pop("batch", None)
    return plan


@pytest.fixture
def sample(lena):
    replace_plan(by=lena, text=json.dumps(demo_plan()), pin_clock=True)


@pytest.mark.parametrize("name", ["workshop.xlsx", "jobs.csv", "people.csv"])
def test_out_and_in_again_changes_nothing(lead_client, sample, name):
    before = export_plan()
    file = lead_client.get(reverse("sheet_download", args=[name]))
    page = look(lead_client, hand_in(lead_client, file.content, name))
    assert "Everything in this file is in the plan" in page
    assert export_plan() == before


def test_into_a_workshop_without_jobs_gives_identical_jobs(lead_client, sample, lena):
    """All but what stands in NOT_IN_A_SHEET, and a vendor's rule of batches."""
    wanted = plan_but_records()
    download = reverse("sheet_download", args=["workshop.xlsx"])
    file = lead_client.get(download).content
    bare = demo_plan() | {"jobs": [], "consignments": []}
    replace_plan(by=lena, text=json.dumps(bare), pin_clock=True)
    assert not Job.objects.exists()
    take(lead_client, hand_in(lead_client, file, "workshop.xlsx"))
    found = plan_but_records()
    assert found["jobs"] == wanted["jobs"]
    assert len(found["jobs"]) > 400
    assert found["people"] == wanted["people"]
    assert found["vendors"] == wanted["vendors"]


def test_another_title_from_a_sheet_changes_nothing_else(lead_client, sample):
    going = {"process": "anodise", "colour": "black", "alloy": "6082"}
    going |= {"kilos": 1.25, "visible": True, "value": 480.0}
    Job.objects.filter(pk=Job.objects.filter(kind="outside").first().pk).update(**going)
    job = Job.objects.get(**going)
    before = json.loads(export_plan())
    text = f"Id,Job\n{job.key},Anodise it all\n"
    take(lead_client, hand_in(lead_client, text.encode(), "jobs.csv"))
    after = json.loads(export_plan())
    (changed,) = [one for one in after["jobs"] if one not in before["jobs"]]
    (old,) = [one for one in before["jobs"] if one["id"] == job.key]
    assert changed == old | {"title": "Anodise it all"}


def test_the_template_moves_into_an_empty_workshop(lead_client, tom):
    download = reverse("sheet_download", args=["template.xlsx"])
    file = lead_client.get(download).content
    number = hand_in(lead_client, file, "template.xlsx")
    problems = lead_client.get(reverse("sheet", args=[number])).context["looked"]
    assert problems.problems == ()
    take(lead_client, number)
    kinds = set(Job.objects.values_list("kind", flat=True))
    assert {"bench", "check", "outside", "order"} <= kinds
