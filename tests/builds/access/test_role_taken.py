"""What somebody may do is asked anew with every request.

OWASP ASVS 5.0, 8.3.2: a role that is taken away is gone with the next request.
"""

from __future__ import annotations

import pytest

from builds.models import Role, User
from tests.builds.access.matrix import EVERY, MATRIX, METHODS

pytestmark = pytest.mark.django_db
THEIRS = "usersessions_end"  # the visit in the address stays their own


def get_of(walker, role: str, name: str) -> list[int]:
    where = walker.world.address(name, role)
    return [walker.status(role, method, where) for method in METHODS]


@pytest.mark.parametrize("name", sorted(EVERY))
def test_a_lead_who_is_one_no_more_gets_what_a_colleague_gets(name, walker):
    User.objects.filter(username="lena").update(role=Role.TECHNICIAN)
    wanted = MATRIX[name]["lead" if name == THEIRS else "colleague"]
    assert get_of(walker, "lead", name) == wanted


@pytest.mark.parametrize("name", sorted(EVERY))
def test_a_technician_who_is_one_no_more_gets_what_a_customer_gets(name, walker):
    User.objects.filter(username="tom").update(role=Role.CUSTOMER)
    assert get_of(walker, "technician", name) == MATRIX[name]["other"]
