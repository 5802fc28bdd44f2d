"""Every address, every role, looked at and posted to: the answer of `roles.toml`.

OWASP Authorization Testing Automation Cheat Sheet: keep the matrix as data; OWASP
ASVS 5.0, 8.2.1 to 8.2.2. An address that is not in the file fails.
"""

from __future__ import annotations

import tomllib
from datetime import date
from pathlib import Path

import pytest
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from builds.actions.replies import put_in_date
from builds.actions.share_links import give_link
from builds.actions.vendor_links import make_link
from builds.models import (
    Event,
    Kind,
    LinkKind,
    PairedPhone,
    PieceMove,
    ShareKind,
    SheetFile,
    ShowEntry,
    Way,
)
from tests.conftest import client_of
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.piece import PieceFactory
from tests.factories.place import PlaceFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory
from tests.factories.workshop import CalendarFactory

MATRIX = tomllib.loads(Path(__file__).with_name("roles.toml").read_text())
USERS = {
    "lead": "lena",
    "technician": "tom",
    "customer": "carla",
    "other": "otto",
}
ROLES = ("anonymous", *USERS)
METHODS = ("GET", "POST")


def patterns(resolver: URLResolver) -> list[URLPattern]:
    found = []
    for one in resolver.url_patterns:
        found += patterns(one) if isinstance(one, URLResolver) else [one]
    return found


EVERY = {one.name: one for one in patterns(get_resolver())}


@pytest.fixture
def world(lena, tom, carla, otto, car, other_car, settings, tmp_path):
    """One of everything an address can name, by the name of the address's argument."""
    first = JobFactory(key="first", build=car)
    weld = JobFactory(key="weld", build=car, trade="panel")
    show = ShowFactory(key="summer")
    vendor = VendorFactory(key="plater")
    note = Event.objects.create(job=weld, by=tom, verb="changed job", subject="Weld")
    closure = vendor.closed.create(first="2027-02-01", last="2027-02-05")
    handed_in = SheetFile.objects.create(
        by=lena, name="jobs.csv", tables=[["Jobs", [["Job"], ["Sand"]], []]]
    )
    address_of_car, _ = give_link(by=lena, kind=ShareKind.CAR, what=car)
    numbers = {
        "sheet": handed_in.pk,
        "address_replace": address_of_car.pk,
        "address_revoke": address_of_car.pk,
        "phone_end": PairedPhone.objects.create(user=tom, digest="x").pk,
        "sheet_take": handed_in.pk,
        "link_remove": weld.links.create(before=first, kind=LinkKind.WITH).pk,
        "days_away_remove": tom.person.away.create(
            first="2027-02-01", last="2027-02-01"
        ).pk,
        "closure_remove": closure.pk,
        "job_undo": note.pk,
        "bench_undo": note.pk,
        "entry_withdraw": ShowEntry.objects.create(show=show, build=car).pk,
    }
    plate = OutsideJobFactory(
        key="plate",
        build=car,
        vendor=vendor,
        state="under way",
        started="2027-01-04T08:00",
        sent="2027-01-04",
    )
    link, _ = make_link(by=lena, vendor=vendor)
    reply = put_in_date(link=link, job=plate, day=date(2027, 1, 20))
    numbers |= dict.fromkeys(("reply_accept", "reply_refuse"), reply.pk)
    way = Way.objects.create(job=weld, key="in-house", likely=4)
    numbers |= dict.fromkeys(("way_remove", "way_pick"), way.pk)
    numbers |= dict.fromkeys(("vendor_link_replace", "vendor_link_revoke"), link.pk)
    tinned = OutsideJobFactory(key="tinned", build=car, vendor=vendor)
    tin = vendor.consignments.create(key="tin")
    tin.loads.create(job=tinned)
    sent = Event.objects.create(
        by=lena, verb="created consignment", after={"consignment": "tin"}
    )
    piece = PieceFactory(key="iron", job=OutsideJobFactory(build=car, pieces=1))
    photo = piece.trail.create(
        at="2027-01-04T08:00", holder="Petra", place="stores", state="here"
    )
    settings.MEDIA_ROOT = tmp_path
    photo_file = tmp_path / "iron.jpg"
    photo_file.write_bytes(b"a picture")
    PieceMove._base_manager.filter(pk=photo.pk).update(photo="iron.jpg")
    numbers |= {"consignment_undo": sent.pk, "piece_photo": photo.pk}
    CalendarFactory(key="evenings", position=1)
    PlaceFactory(key="booth")
    JobFactory(key="leather", build=car, kind=Kind.DECISION)
    JobFactory(key="his-leather", build=other_car, kind=Kind.DECISION)
    keys = {
        "build_key": "coupe",
        "job_key": "weld",
        "person_key": "tom",
        "vendor_key": "plater",
        "show_key": "summer",
        "calendar_key": "evenings",
        "place_key": "booth",
        "name": "jobs.csv",
        "secret": "guessed",
        "token": "guessed",
        "piece_key": "iron",
        "consignment_key": "tin",
        "pk": 1,
    }
    return keys, numbers


def address(name: str, world, **swapped) -> str:
    keys, numbers = world
    wanted = EVERY[name].pattern.converters
    facts = {**keys, "number": numbers.get(name, 1), **swapped}
    return reverse(name, kwargs={one: facts[one] for one in wanted})


def status(client: Client, method: str, where: str) -> int:
    """Ask, and leave everything as it was."""
    client.raise_request_exception = False
    with transaction.atomic():
        found = getattr(client, method.lower())(where).status_code
        transaction.set_rollback(True)
    return found


def test_the_file_and_the_site_name_the_same_addresses():
    assert set(MATRIX) == set(EVERY), "Write the address into roles.toml."


@pytest.mark.parametrize("name", sorted(EVERY))
def test_everybody_gets_what_the_file_says(name, world, request):
    expected = MATRIX[name]
    assert set(expected) == set(ROLES)
    for role in ROLES:
        user = USERS.get(role)
        for method, code in zip(METHODS, expected[role], strict=True):
            client = client_of(request.getfixturevalue(user)) if user else Client()
            found = status(client, method, address(name, world))
            assert found == code, f"{name}: {method} by {role}"


def named(argument: str) -> list[str]:
    return sorted(n for n in EVERY if argument in EVERY[n].pattern.converters)


@pytest.mark.parametrize("name", named("build_key"))
def test_the_car_of_another_customer_is_not_there(name, world, customer_client):
    """Second pass, the key swapped: never 200, and 404 where their own is shown."""
    for method, own in zip(METHODS, MATRIX[name]["customer"], strict=True):
        found = status(
            customer_client, method, address(name, world, build_key="saloon")
        )
        assert found == (own if own == 403 else 404)


@pytest.mark.parametrize("name", named("job_key"))
def test_no_customer_gets_at_a_job_of_another(name, world, customer_client):
    for method in METHODS:
        where = address(name, world, job_key="his-leather")
        assert status(customer_client, method, where) in (403, 404)


@pytest.mark.parametrize("name", sorted(n for n, e in MATRIX.items() if e))
def test_a_sign_in_that_was_closed_is_a_stranger(name, world, lena):
    """OWASP ASVS 5.0, 7.4.2: a disabled account's sessions end at once."""
    client = client_of(lena)
    lena.is_active = False
    lena.save()
    for method, code in zip(METHODS, MATRIX[name]["anonymous"], strict=True):
        assert status(client, method, address(name, world)) == code
