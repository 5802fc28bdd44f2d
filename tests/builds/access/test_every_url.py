"""Every address, everybody, looked at and posted to: the answer of `roles.toml`.

OWASP Authorization Testing Automation Cheat Sheet: keep the matrix as data; OWASP
ASVS 5.0, 8.2.1 to 8.2.2. An address that is not in the file fails.
"""

from __future__ import annotations

import pytest

from tests.builds.access.matrix import EVERY, MATRIX, METHODS, ROLES, SAME_AS, WRITTEN

pytestmark = pytest.mark.django_db


def test_the_file_and_the_site_name_the_same_addresses():
    assert set(MATRIX) == set(EVERY), "Write the address into roles.toml."


def test_the_file_names_nobody_who_is_not_walked():
    for row in WRITTEN["addresses"].values():
        assert set(row) <= set(ROLES)
        assert set(ROLES) <= {*row, *SAME_AS}


@pytest.mark.parametrize("name", sorted(EVERY))
def test_everybody_gets_what_the_file_says(name, walker):
    """OWASP ASVS 5.0, 7.4.2 too: who is disabled is a stranger at once."""
    found = {
        role: [
            walker.status(role, method, walker.world.address(name, role))
            for method in METHODS
        ]
        for role in ROLES
    }
    assert found == MATRIX[name]
