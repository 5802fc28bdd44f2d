"""What a phone may keep: a technician's own pages, and nothing of anybody else."""

from __future__ import annotations

import json
import re

import pytest
from django.conf import settings
from django.contrib.staticfiles import finders
from django.test import Client
from django.urls import reverse

from builds.access import visits
from builds.views.phone.worker import release, shell
from tests.builds.access.test_every_url import EVERY, MATRIX
from tests.factories.job import JobFactory, OutsideJobFactory

KEPT = {"bench", "goods_in"}  # of the pages that need no key
PLAIN = sorted(name for name, one in EVERY.items() if not one.pattern.converters)


@pytest.mark.parametrize("role", ["lead", "technician", "customer"])
def test_only_a_technicians_pages_may_be_kept(role, request, shop):
    client = request.getfixturevalue(f"{role}_client")
    may = {
        name
        for name in PLAIN
        if MATRIX[name][role][0] == 200 and "X-Keep" in client.get(reverse(name))
    }
    assert may == (KEPT if role == "technician" else set())


def test_the_mark_says_whose_they_are(technician_client, tom, car):
    JobFactory(key="weld", build=car)
    for path in (reverse("bench"), reverse("bench_job", args=["weld"])):
        assert technician_client.get(path)["X-Keep"] == str(tom.pk)
    refused = technician_client.post(reverse("bench_stop", args=["weld"]), {})
    assert refused.status_code == 422
    assert "X-Keep" not in refused


def test_they_name_neither_owners_nor_money(technician_client, car):
    zinc = OutsideJobFactory(
        key="zinc", build=car, sent="2027-01-04", state="under way", value=98765
    )
    for name, *keys in (("bench",), ("goods_in",), ("bench_job", "zinc")):
        page = technician_client.get(reverse(name, args=keys))
        assert "X-Keep" in page
        text = page.content.decode()
        assert car.customer not in text
        assert "98765" not in text
    assert zinc.value == 98765


def test_the_program_may_stand_before_the_whole_site_and_is_looked_up_each_time(db):
    answer = Client().get(reverse("worker"))
    assert answer["Content-Type"].startswith("text/javascript")
    assert answer["Service-Worker-Allowed"] == "/"
    assert answer["Cache-Control"] == "no-cache"
    assert "worker-src 'self'" in answer["Content-Security-Policy"]


def test_it_names_its_release_and_what_is_there(db):
    text = Client().get(reverse("worker")).content.decode()
    told = json.loads(re.match(r"const RELEASE = (.*);\n", text)[1])
    assert told["release"] == release()
    assert all(finders.find(one.removeprefix("/static/")) for one in told["shell"])
    assert not any("worker.js" in one for one in told["shell"])
    assert Client().get(told["offline"]).status_code == 200


def test_another_script_is_another_release(tmp_path, monkeypatch):
    before = release()
    monkeypatch.setattr("builds.views.phone.worker.ROOM", tmp_path)
    for name in shell():
        found = finders.find(name)
        if name.startswith("builds/") and found:
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).write_bytes((settings.BASE_DIR / found).read_bytes())
    assert release() == before
    with (tmp_path / "builds/js/worker.js").open("a") as script:
        script.write("// more")
    assert release() != before


def test_a_visit_that_ends_by_itself_leaves_what_waits_on_the_phone(
    technician_client, monkeypatch
):
    technician_client.get(reverse("bench"))
    monkeypatch.setattr(visits, "LONGEST", -1)
    ended = technician_client.get(reverse("bench"))
    assert ended.status_code == 302
    assert ended["Clear-Site-Data"] == '"cache"'


def test_signing_out_leaves_nothing(technician_client):
    left = technician_client.post(reverse("sign_out"))
    assert left["Clear-Site-Data"] == '"cache", "storage"'
