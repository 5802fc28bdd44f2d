"""The lead moves in from a spreadsheet: looked through first, then all or nothing."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from builds.models import Build, Event, Job, Person, Place, Vendor
from tests.builds.views.records.handing_in import hand_in, look, take
from tests.builds.views.records.pages import words_of
from tests.conftest import client_of
from tests.factories.job import JobFactory
from tests.factories.people import UserFactory
from tests.sheets.books import xlsx

HEAD = "Car,Job,Kind,Likely,After,Trade,Who,Vendor,Places"


def test_a_list_of_jobs_becomes_a_plan(lead_client, tom):
    text = f"""{HEAD}
Van,Strip shell,bench,2d,,panel,Tom,,Ramp
Van,Blast shell,Outside,5,Strip shell,,,Brindle Plating,
Van,Prime; both coats,bench,1h30,"Blast shell + 2d; with Strip shell",panel,,,Ramp
"""
    page = look(lead_client, number := hand_in(lead_client, text))
    assert "3 rows would be added" in page
    assert "Brindle Plating" in page
    assert not Job.objects.exists()
    answer = take(lead_client, number)
    assert "3 added" in words_of(answer)
    strip, blast, prime = Job.objects.all()
    assert (strip.likely, strip.person, str(strip.build)) == (16.0, tom.person, "Van")
    assert (blast.kind, blast.likely) == ("outside", 5.0)
    assert str(blast.vendor) == "Brindle Plating"
    assert prime.title == "Prime; both coats"
    links = [(one.before.title, one.kind, one.wait_days) for one in prime.links.all()]
    assert links == [("Blast shell", "after", 2.0), ("Strip shell", "with", 0.0)]
    assert Place.objects.get().name == "Ramp"


def test_every_row_leaves_its_own_word(lead_client, tom, lena):
    number = hand_in(
        lead_client, f"{HEAD}\nVan,Sand,bench,2h,,,,,\nVan,Fill,,1h,Sand,,,,"
    )
    take(lead_client, number)
    for job in Job.objects.all():
        event = Event.objects.get(job=job, verb="created job")
        assert (event.by, event.words) == (lena, "from jobs.csv")
        assert event.after["title"] == job.title
    assert Event.objects.get(verb="took in sheet").after == {"added": 3, "changed": 0}
    assert Event.objects.filter(verb="created build").count() == 1
    assert Event.objects.filter(verb="set links").count() == 1


@pytest.mark.parametrize(
    ("row", "column", "value", "reason"),
    [
        ("Van,Sand,bench,soon,,,,,", "Likely", "soon", "is not a length"),
        ("Van,Sand,welding,2h,,,,,", "Kind", "welding", "Write one of: bench"),
        ("Van,Sand,bench,2h,Strip,,,,", "After", "Strip", "no job called “Strip”"),
        ("Van,Sand,bench,2h,Sand,,,,", "After", "Sand", "cannot wait for itself"),
        ("Van,Sand,bench,,,,,,", "Likely", "", "Write the likely length"),
        ("Van,,bench,2h,,,,,", "Job", "", "What is to be done"),
        ("Van,Sand,outside,2,,,,,", "Vendor", "", "Choose the vendor"),
        ("Van,Sand,outside,2h,,,,X,", "Likely", "2h", "vendor’s working days"),
    ],
)
def test_what_is_wrong_is_told_by_row_column_and_value(
    lead_client, shop, row, column, value, reason
):
    number = hand_in(lead_client, f"{HEAD}\nVan,Fine,bench,1h,,,,,\n{row}")
    answer = lead_client.get(reverse("sheet", args=[number]))
    problem = answer.context["looked"].problems[0]
    assert (problem.row, problem.column, problem.value) == (3, column, value)
    assert reason in problem.reason
    assert "Take all of it" not in words_of(answer)
    refused = lead_client.post(reverse("sheet_take", args=[number]), {"mark": "x"})
    assert refused.status_code == 302
    assert not Job.objects.exists()
    assert not Build.objects.exists()


def test_a_ring_is_found_by_trying_and_told_by_its_jobs(lead_client, shop):
    text = f"{HEAD}\nVan,Sand,bench,2h,Fill,,,,\nVan,Fill,bench,1h,Sand,,,,"
    page = look(lead_client, hand_in(lead_client, text))
    assert "Sand" in page
    assert "wrong" in page
    assert not Job.objects.exists()


def test_the_same_file_twice_adds_nothing(lead_client, shop):
    text = f"{HEAD}\nVan,Sand,bench,2h,,,,,"
    take(lead_client, number := hand_in(lead_client, text))
    assert "This file is in the plan" in look(lead_client, number)
    assert "Everything in this file is in the plan" in look(
        lead_client, hand_in(lead_client, text)
    )


def test_columns_can_be_said_by_hand_and_the_headings_be_in_row_three(
    lead_client, shop
):
    text = "Jobs of the van,\n,\nThing,Stuff\nSand,2h\n"
    number = hand_in(lead_client, text)
    page = reverse("sheet", args=[number])
    said = {"sheet0-sort": "jobs", "sheet0-heading": "3", "sheet0-car": ""}
    lead_client.post(page, said | {"sheet0-column0": "", "sheet0-column1": ""})
    said |= {"sheet0-column0": "title", "sheet0-column1": "likely"}
    assert lead_client.post(page, said).status_code == 302
    take(lead_client, number)
    job = Job.objects.get()
    assert (job.title, job.likely) == ("Sand", 2.0)


def test_one_meaning_for_two_columns_is_refused(lead_client, shop):
    number = hand_in(lead_client, "Job,Work\nSand,x\n")
    said = {"sheet0-sort": "jobs", "sheet0-heading": "1", "sheet0-car": ""}
    said |= {"sheet0-column0": "title", "sheet0-column1": "title"}
    answer = lead_client.post(reverse("sheet", args=[number]), said)
    assert answer.status_code == 422
    assert "“Job” means that already" in words_of(answer)


def test_a_change_made_meanwhile_is_not_written_over_unseen(lead_client, car):
    job = JobFactory(key="sand", title="Sand", build=car, likely=2.0)
    number = hand_in(lead_client, "Id,Job,Likely\nsand,Sand,3h\n")
    page = look(lead_client, number)
    assert "from “2h” to “3h”" in page
    mark = page.split('name="mark" value="')[1].split('"')[0]
    Job.objects.filter(pk=job.pk).update(likely=5.0, version=2)
    answer = lead_client.post(
        reverse("sheet_take", args=[number]), {"mark": mark}, follow=True
    )
    assert "The plan has changed since" in words_of(answer)
    job.refresh_from_db()
    assert job.likely == 5.0


def test_columns_that_are_not_there_are_left_alone(lead_client, car, tom):
    JobFactory(
        key="sand", title="Sand", build=car, trade="panel", note="Ask first", likely=2.0
    )
    take(lead_client, hand_in(lead_client, "Id,Likely\nsand,3h\n"))
    job = Job.objects.get()
    assert (job.likely, job.trade, job.note, job.version) == (
        3.0,
        "panel",
        "Ask first",
        2,
    )
    event = Event.objects.get(verb="changed job")
    assert (event.before, event.after) == ({"likely": 2.0}, {"likely": 3.0})


def test_an_id_of_another_car_is_not_written_over(lead_client, car, other_car):
    JobFactory(key="1", title="Sand", build=other_car)
    number = hand_in(lead_client, "Id,Car,Job,Likely\n1,Grey coupe,Weld,3h\n")
    assert "in another car" in look(lead_client, number)


def test_people_and_vendors_come_first_whatever_their_order(lead_client, shop):
    def more(sheet):
        people = sheet.parent.create_sheet("People")
        people.append(("Name", "Trades", "Away"))
        people.append(("Ana", "panel 3; paint 2 pace 0.8", "2027-02-01 to 2027-02-05"))
        vendors = sheet.parent.create_sheet("Vendors")
        vendors.append(("Name", "Does", "Shut"))
        vendors.append(("Glass", "Windows", "1 feb 27"))

    rows = (("Car", "Job", "Likely", "Who"), ("Van", "Sand", "2h", "Ana"))
    take(lead_client, hand_in(lead_client, xlsx(*rows, change=more), "all.xlsx"))
    ana = Person.objects.get(name="Ana")
    trades = [(one.trade, one.level, one.pace) for one in ana.trades.all()]
    assert trades == [("panel", 3, None), ("paint", 2, 0.8)]
    assert str(ana.away.get()) == "2027-02-01 to 2027-02-05"
    assert str(Vendor.objects.get().closed.get().first) == "2027-02-01"
    assert Job.objects.get().person == ana


def test_a_sum_never_worked_out_is_a_problem_of_its_row(lead_client, shop):
    rows = (("Car", "Job", "Likely"), ("Van", "Sand", "=1+1"))
    number = hand_in(lead_client, xlsx(*rows), "sums.xlsx")
    answer = lead_client.get(reverse("sheet", args=[number]))
    first = answer.context["looked"].problems[0]
    assert (first.row, first.column) == (2, "Likely")
    assert "never worked out" in first.reason


def test_a_file_that_cannot_be_read_says_why(lead_client, shop):
    sent = {"file": SimpleUploadedFile("a.xlsx", b"PK\x03\x04 no")}
    answer = lead_client.post(reverse("move_in"), sent)
    assert answer.status_code == 422
    assert "damaged or not a spreadsheet" in words_of(answer)


def test_another_leads_file_is_not_there(lead_client, shop):
    number = hand_in(lead_client, f"{HEAD}\nVan,Sand,bench,2h,,,,,")
    other = client_of(UserFactory(username="second", role="lead"))
    assert other.get(reverse("sheet", args=[number])).status_code == 404
    assert other.post(reverse("sheet_take", args=[number])).status_code == 404


@pytest.mark.parametrize("name", ["x.csv", "jobs.exe", "workshop.csv", "..", "jobs"])
def test_other_downloads_are_not_there(lead_client, shop, name):
    address = reverse("sheet_download", args=["x"])[:-1] + name
    assert lead_client.get(address).status_code == 404
