"""Every form, filled in with everything but what was asked for: never a fault of ours.

OWASP ASVS 5.0, 2.2.1 (positive validation).
"""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from tests.builds.access.matrix import EVERY, MATRIX
from tests.builds.access.walker import who_may
from tests.builds.catalogue.nasty import spoilt, typed

pytestmark = pytest.mark.django_db
ANSWERS = {200, 204, 302, 400, 403, 404, 405, 409, 413, 422, 429}
POSTED = sorted(
    name
    for name, roles in MATRIX.items()
    if any(one[1] != 405 for one in roles.values())
)
TAKEN = [name for name in POSTED if MATRIX[name][who_may(name)][1] not in (403, 405)]
TOLD = settings(
    deadline=None,
    max_examples=8,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


def test_fields_are_found_at_all(walker):
    """The walk below would pass if nothing were found on the pages."""
    pages = {name: walker.fields(walker.world.address(name)) for name in POSTED}
    assert {"name", "once"} <= set(pages["person_new"])
    assert sum(map(len, pages.values())) > 150


@pytest.mark.parametrize("name", POSTED)
def test_asvs_2_2_1_nothing_typed_is_a_fault_of_ours(name, walker):
    role = who_may(name)
    where = walker.world.address(name, role)
    names = sorted(set(walker.fields(where)) - {"csrfmiddlewaretoken"})

    @TOLD
    @given(data=typed(names))
    def send(data):
        answer = walker.ask(role, "POST", where, data)
        assert answer.status_code in ANSWERS, data
        assert b"Traceback" not in answer.content

    send()


@pytest.mark.parametrize("name", TAKEN)
def test_asvs_2_2_1_nor_is_one_thing_amiss_in_what_is_else_as_it_should_be(
    name, walker
):
    """What is sound but for one field or two gets further in than nonsense."""
    role = who_may(name)
    where = walker.world.address(name, role)
    fields = walker.filled_in(name)
    fields.pop("once", None)
    sound = {one: value for one, value in fields.items() if value is not None}

    @TOLD
    @given(wrong=spoilt(list(fields)))
    def send(wrong):
        answer = walker.ask(role, "POST", where, sound | wrong)
        assert answer.status_code in ANSWERS, sound | wrong
        assert b"Traceback" not in answer.content

    send()


def test_every_address_that_takes_something_is_walked():
    assert set(POSTED) <= set(EVERY)
    assert len(POSTED) > 50
