"""One of everything an address can name, and one of somebody else's beside it."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from allauth.mfa.models import Authenticator
from allauth.usersessions.models import UserSession
from django.urls import reverse

from builds.actions.replies import put_in_date
from builds.actions.share_links import give_link
from builds.actions.vendor_links import make_link
from builds.models import (
    Build,
    Event,
    Found,
    Kind,
    LinkKind,
    PairedPhone,
    Piece,
    PieceMove,
    Role,
    ShareKind,
    SheetFile,
    ShowEntry,
    State,
    User,
    Vendor,
    Way,
)
from tests.builds.access.matrix import arguments
from tests.factories.build import BuildFactory
from tests.factories.job import JobFactory, OutsideJobFactory
from tests.factories.people import PersonFactory, UserFactory
from tests.factories.piece import PieceFactory
from tests.factories.place import PlaceFactory
from tests.factories.show import ShowFactory
from tests.factories.vendor import VendorFactory
from tests.factories.workshop import CalendarFactory, WorkshopFactory

OUT = {"state": "under way", "started": "2027-01-04T08:00", "sent": "2027-01-04"}
PASSWORD = "an invented workshop"
KEYS = {
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
ACTS = tomllib.loads(Path(__file__).with_name("acts.toml").read_text())


@dataclass
class World:
    """Who is there, the numbers of what is theirs, and numbers of somebody else's."""

    folder: Path
    users: dict[str, User] = field(default_factory=dict)
    numbers: dict[str, int] = field(default_factory=dict)
    foreign: dict[str, int] = field(default_factory=dict)
    # The secret that each holder of an address or of a private link has.
    secrets: dict[str, str] = field(default_factory=dict)

    def address(self, of: str, role: str = "lead", **swapped: Any) -> str:
        """Give an address as somebody asks for it: with the secret they hold."""
        secret = self.secrets.get(role, "guessed")
        job = ACTS.get(of, {}).get("job", KEYS["job_key"])
        facts = {**KEYS, "job_key": job, "number": self.numbers.get(of, 1)}
        facts |= {"secret": secret, "token": secret, **swapped}
        return reverse(of, kwargs={one: facts[one] for one in arguments(of)})


def build_world(folder: Path) -> World:
    CalendarFactory()
    CalendarFactory(key="evenings", position=1)
    WorkshopFactory()
    PlaceFactory(key="booth")
    world = World(folder)
    _cars(world)
    _jobs(world)
    _firms(world)
    _pieces(world)
    _records(world)
    return world


def _cars(world: World) -> None:
    coupe = BuildFactory(key="coupe", name="Grey coupe", customer="Carla")
    saloon = BuildFactory(key="saloon", name="Red saloon", customer="Otto")
    summer = ShowFactory(key="summer")
    entry = ShowEntry.objects.create(show=summer, build=coupe)
    elsewhere = ShowEntry.objects.create(show=ShowFactory(), build=saloon)
    world.numbers["entry_withdraw"] = entry.pk
    world.foreign["entry_withdraw"] = elsewhere.pk
    people = {
        name: PersonFactory(key=name, name=name.title(), trades=["panel"])
        for name in ("lena", "lars", "tom", "tess")
    }
    for role, name, kind in (
        ("lead", "lena", Role.LEAD),
        ("disabled", "lars", Role.LEAD),
        ("technician", "tom", Role.TECHNICIAN),
        ("colleague", "tess", Role.TECHNICIAN),
    ):
        user = UserFactory(username=name, role=kind, person=people[name])
        user.set_password(PASSWORD)
        user.save()
        world.users[role] = user
    for role, name, car in (("customer", "carla", coupe), ("other", "otto", saloon)):
        world.users[role] = UserFactory(username=name, role=Role.CUSTOMER, cars=[car])
    for role, what in (("link", coupe), ("other_link", saloon)):
        link, secret = give_link(by=world.users["lead"], kind=ShareKind.CAR, what=what)
        world.secrets[role] = secret
        if role == "link":
            both = ("address_replace", "address_revoke")
            world.numbers |= dict.fromkeys(both, link.pk)


def _jobs(world: World) -> None:
    coupe, saloon = Build.objects.get(key="coupe"), Build.objects.get(key="saloon")
    tom = world.users["technician"]
    first = JobFactory(key="first", build=coupe)
    weld = JobFactory(key="weld", build=coupe, trade="panel", person=tom.person)
    his = JobFactory(key="his-weld", build=saloon, trade="panel")
    JobFactory(key="hinges", build=coupe, kind=Kind.ORDER, pieces=2, **OUT)
    JobFactory(key="sand", build=coupe, state=State.UNDER_WAY, started=OUT["started"])
    JobFactory(key="rot", build=coupe, found=Found.ASKED)
    done = {"started": OUT["started"], "finished": "2027-01-04T09:00"}
    JobFactory(key="strip", build=coupe, state=State.DONE, **done)
    JobFactory(key="leather", build=coupe, kind=Kind.DECISION)
    JobFactory(key="his-leather", build=saloon, kind=Kind.DECISION)
    for job, numbers in ((weld, world.numbers), (his, world.foreign)):
        numbers["link_remove"] = job.links.create(before=first, kind=LinkKind.WITH).pk
        note = Event.objects.create(job=job, by=tom, verb="changed job", subject="Weld")
        way = Way.objects.create(job=job, key="in-house", likely=4).pk
        numbers |= dict.fromkeys(("job_undo", "bench_undo"), note.pk)
        numbers |= dict.fromkeys(("way_remove", "way_pick"), way)
    for role, numbers in (("technician", world.numbers), ("colleague", world.foreign)):
        person = world.users[role].person
        assert person is not None
        day = person.away.create(first="2027-02-01", last="2027-02-01")
        numbers["days_away_remove"] = day.pk


def _firms(world: World) -> None:
    lead = world.users["lead"]
    coupe = Build.objects.get(key="coupe")
    links = ("vendor_link_replace", "vendor_link_revoke")
    for role, key, job, numbers in (
        ("vendor", "plater", "plate", world.numbers),
        ("other_vendor", "trimmer", "trim", world.foreign),
    ):
        vendor = VendorFactory(key=key)
        closure = vendor.closed.create(first="2027-02-01", last="2027-02-05")
        numbers["closure_remove"] = closure.pk
        out = OutsideJobFactory(key=job, build=coupe, vendor=vendor, **OUT)
        link, world.secrets[role] = make_link(by=lead, vendor=vendor)
        numbers |= dict.fromkeys(links, link.pk)
        reply = put_in_date(link=link, job=out, day=date(2027, 1, 20))
        numbers |= dict.fromkeys(("reply_accept", "reply_refuse"), reply.pk)
    plater = Vendor.objects.get(key="plater")
    OutsideJobFactory(key="spare", build=coupe, vendor=plater)
    for key, numbers in (("tin", world.numbers), ("zinc", world.foreign)):
        job = OutsideJobFactory(key=f"{key}-it", build=coupe, vendor=plater)
        plater.consignments.create(key=key).loads.create(job=job)
        sent = Event.objects.create(
            by=lead, verb="created consignment", after={"consignment": key}
        )
        numbers["consignment_undo"] = sent.pk


def _pieces(world: World) -> None:
    coupe = Build.objects.get(key="coupe")
    for key, numbers in (("iron", world.numbers), ("brass", world.foreign)):
        job = OutsideJobFactory(build=coupe, pieces=1)
        piece: Piece = PieceFactory(key=key, job=job)
        move = piece.trail.create(
            at="2027-01-04T08:00", holder="Petra", place="stores", state="here"
        )
        (world.folder / f"{key}.jpg").write_bytes(b"a picture")
        PieceMove._base_manager.filter(pk=move.pk).update(photo=f"{key}.jpg")
        numbers["piece_photo"] = move.pk


def _records(world: World) -> None:
    for role, numbers in (("lead", world.numbers), ("disabled", world.foreign)):
        file = SheetFile.objects.create(
            by=world.users[role],
            name="jobs.csv",
            tables=[["Jobs", [["Job"], ["Sand"]], []]],
        )
        numbers |= dict.fromkeys(("sheet", "sheet_take"), file.pk)
        visit = UserSession.objects.create(
            user=world.users[role], ip="192.0.2.1", session_key=role, data={}
        )
        numbers["usersessions_end"] = visit.pk
    passkey = Authenticator.objects.create(
        user=world.users["disabled"], type=Authenticator.Type.WEBAUTHN, data={}
    )
    world.foreign["mfa_remove_webauthn"] = passkey.pk
    tom = world.users["technician"]
    world.numbers["phone_end"] = PairedPhone.objects.create(user=tom, digest="x").pk
