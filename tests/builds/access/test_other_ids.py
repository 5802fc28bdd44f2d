"""Every address with an id in it, asked for with somebody else's and with nobody's.

OWASP ASVS 5.0, 8.2.2; OWASP Insecure Direct Object Reference Prevention Cheat Sheet.
Whoever is let in sees 404, as if it were not there; whoever is not, what they always
see.
"""

from __future__ import annotations

import pytest

from builds.models import Link
from tests.builds.access.matrix import (
    EVERY,
    MATRIX,
    METHODS,
    ROLES,
    SIGNED_IN,
    WRITTEN,
    arguments,
)

pytestmark = pytest.mark.django_db
NOBODYS = {"number": 999_999, "pk": 999_999, "name": "nothing.csv"}
NUMBERED = sorted(n for n in EVERY if arguments(n) & {"number", "pk"})
WITH_ID = sorted(n for n in EVERY if arguments(n) - {"secret", "token"})
NUMBERS = WRITTEN["numbers"]
OWNED = [name for name in NUMBERED if name not in NUMBERS["anyones"]]
# Without a gate: what each finds depends on the secret they hold.
BY_SECRET = ("private_date",)


def expected(name: str, role: str, method: str) -> set[int]:
    own = MATRIX[name][role][METHODS.index(method)]
    if own == 405:  # which of the two is asked first does not matter
        return {404, 405}
    if own == 302 and role in SIGNED_IN and name in NUMBERS["gone_already"]:
        return {302, 404}
    let_in = own != 403 and (role in SIGNED_IN or name in BY_SECRET)
    return {404 if let_in else own}


def check(walker, name: str, swapped: dict[str, object]) -> None:
    where = walker.world.address(name, **swapped)
    for role in ROLES:
        if MATRIX[name][role] == [403, 403]:
            continue  # turned away before an id is looked at: test_every_url.py
        for method in METHODS:
            found = walker.status(role, method, where)
            assert found in expected(name, role, method), f"{method} {where} by {role}"


@pytest.mark.parametrize("name", OWNED)
def test_a_number_of_somebody_elses_opens_nothing(name, walker):
    """Of another job, person, vendor, show, piece, consignment or lead."""
    theirs = walker.world.foreign[name]
    check(walker, name, {"number": theirs, "pk": theirs})


def test_a_link_of_another_job_stays_where_it_is(walker):
    theirs = walker.world.foreign["link_remove"]
    with walker.taken_back("lead") as client:
        client.post(walker.world.address("link_remove", number=theirs))
        assert Link.objects.filter(pk=theirs).exists()


@pytest.mark.parametrize("name", WITH_ID)
def test_an_id_of_nothing_opens_nothing(name, walker):
    for argument in arguments(name):
        check(walker, name, {argument: NOBODYS.get(argument, "nothing")})


@pytest.mark.parametrize("role", ["customer", "link"])
@pytest.mark.parametrize(
    ("argument", "theirs"),
    [("build_key", "saloon"), ("job_key", "his-leather"), ("job_key", "his-weld")],
)
def test_nothing_of_another_customers_car_is_there(argument, theirs, role, walker):
    for name in EVERY:
        if argument in arguments(name):
            where = walker.world.address(name, **{argument: theirs})
            for method in METHODS:
                found = walker.status(role, method, where)
                assert found in (302, 403, 404, 405), f"{method} {where}"
                if found == 302:
                    answer = walker.ask(role, method, where)
                    assert answer["Location"].startswith("/sign-in/")


@pytest.mark.parametrize(
    ("role", "theirs", "others"),
    [
        ("customer", "Grey coupe", "Red saloon"),
        ("other", "Red saloon", "Grey coupe"),
        ("link", "Grey coupe", "Red saloon"),
        ("other_link", "Red saloon", "Grey coupe"),
    ],
)
def test_each_sees_their_own_car_and_no_other(role, theirs, others, walker):
    name = "car_by_link" if "link" in role else "my_car"
    words = walker.ask(role, "GET", walker.world.address(name)).content.decode()
    assert theirs in words
    assert others not in words


@pytest.mark.parametrize("role", ["vendor", "other_vendor"])
def test_a_vendor_puts_dates_to_their_own_jobs_only(role, walker):
    sent = {"promised": "2027-02-01", "speaker": "Petra"}
    own = {"vendor": "plate", "other_vendor": "trim"}
    for one, job in own.items():
        where = walker.world.address("private_date", job_key=job)
        wanted = 302 if one == role else 404
        assert walker.status(role, "POST", where, sent) == wanted
