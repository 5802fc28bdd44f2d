"""Who can sign in at the demo workshop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from builds.demo import q109, q114, q116, q118, q121
from builds.demo.people import people

Role = Literal["lead", "technician", "customer"]
LEAD = "imogen"
CUSTOMERS = {
    "arkwold": q114,
    "iyanda": q109,
    "quist": q121,
    "talgarve": q116,
    "brennick": q118,
}


@dataclass(frozen=True, slots=True)
class Login:
    """One sign-in: staff are people of the plan, customers have cars."""

    username: str
    display_name: str
    role: Role
    person: str | None = None
    builds: tuple[str, ...] = ()


def cast() -> tuple[Login, ...]:
    """Return everyone who can sign in, the lead first."""
    staff = [_staff(one["id"], one["name"]) for one in people()]
    customers = [
        Login(username, car.BUILD["customer"], "customer", builds=(car.CAR.id,))
        for username, car in CUSTOMERS.items()
    ]
    return (*staff, *customers)


def _staff(person: str, name: str) -> Login:
    role: Role = "lead" if person == LEAD else "technician"
    return Login(person, name, role, person=person)
