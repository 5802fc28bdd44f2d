"""Every form, filled in with everything but what was asked for: never a fault of ours.

OWASP ASVS 5.0, 2.2.1 (positive validation) and 15.3.3 (no field may be set that the
form does not have).
"""

from __future__ import annotations

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings

from builds.models import User
from tests.builds.access.test_every_url import EVERY, MATRIX, address
from tests.builds.catalogue.conftest import FOUND, who_may
from tests.builds.catalogue.nasty import typed

ANSWERS = {200, 204, 302, 400, 403, 404, 405, 409, 413, 422, 429}
POSTED = sorted(
    name
    for name, roles in MATRIX.items()
    if any(one[1] != 405 for one in roles.values())
)
TOLD = settings(
    deadline=None,
    max_examples=8,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


def test_fields_are_found_at_all(names_of, world):
    """The walk below would pass if nothing were found on the pages."""
    assert {"name", "once"} <= names_of(address("person_new", world))
    assert sum(map(len, FOUND.values())) > 150


@pytest.mark.parametrize("name", POSTED)
def test_asvs_2_2_1_nothing_typed_is_a_fault_of_ours(name, world, clients, names_of):
    where = address(name, world)
    names = sorted(names_of(where) - {"csrfmiddlewaretoken"})
    client = clients[who_may(name)]

    @TOLD
    @given(data=typed(names))
    def send(data):
        with transaction.atomic():
            answer = client.post(where, data)
            transaction.set_rollback(True)
        assert answer.status_code in ANSWERS, data
        assert b"Traceback" not in answer.content

    send()


@pytest.mark.parametrize(
    "name", sorted(set(POSTED) & {"person", "person_new", "workshop"})
)
@pytest.mark.parametrize("field", ["role", "is_staff", "is_superuser", "user", "id"])
def test_asvs_15_3_3_no_field_is_set_that_the_form_does_not_have(
    name, field, world, clients, tom
):
    before = list(User.objects.order_by("pk").values("pk", "role", "is_superuser"))
    clients["lead"].post(address(name, world), {"name": "Tom", field: "lead"})
    assert (
        list(User.objects.order_by("pk").values("pk", "role", "is_superuser")) == before
    )


def test_every_address_that_takes_something_is_walked():
    assert set(POSTED) <= set(EVERY)
    assert len(POSTED) > 50
