"""Everything behind the question mark of every address: never a fault of ours."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.conf import settings as project
from django.urls import reverse
from hypothesis import HealthCheck, given, settings

from tests.builds.access.matrix import EVERY, MATRIX
from tests.builds.access.walker import who_may
from tests.builds.access.world import PASSWORD
from tests.builds.catalogue.nasty import typed

pytestmark = pytest.mark.django_db
ANSWERS = {200, 302, 400, 403, 404, 405, 410, 422, 429}
READ = re.compile(r"""GET(?:\.get|\.getlist)?[(\[]["'](\w+)["']""")
USUAL = {"sort", "page", "q", "date", "next", "from", "to", "weeks"}


def parameters() -> list[str]:
    """Give every name that the views ask for, and those that people try."""
    sources = (Path(project.BASE_DIR) / "builds").rglob("*.py")
    asked = {name for path in sources for name in READ.findall(path.read_text())}
    return sorted(asked | USUAL)


@pytest.mark.parametrize("name", sorted(EVERY))
def test_nothing_behind_the_question_mark_is_a_fault_of_ours(name, walker):
    role = who_may(name)
    where = walker.world.address(name, role)

    @settings(
        deadline=None,
        max_examples=4,
        suppress_health_check=[HealthCheck.function_scoped_fixture],
    )
    @given(data=typed(parameters()))
    def ask(data):
        assert walker.status(role, "GET", where, data) in ANSWERS, data

    ask()


@pytest.mark.parametrize(
    "next_page",
    ["https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example",
     "javascript:alert(1)", "http:elsewhere.example", "\thttps://elsewhere.example"],
)  # fmt: skip
def test_asvs_3_7_2_nobody_is_sent_elsewhere_after_signing_in(next_page, walker):
    """OWASP ASVS 5.0, 3.7.2: redirects only to where the site itself means."""
    sent = {"login": "lena", "password": PASSWORD, "next": next_page}
    where = reverse("sign_in") + f"?next={next_page}"
    answer = walker.ask("anonymous", "POST", where, sent)
    assert answer.status_code == 302
    assert "elsewhere" not in answer["Location"]
    assert "javascript" not in answer["Location"]


def test_the_walk_reaches_every_address():
    assert set(MATRIX) == set(EVERY)
    assert "next" in parameters()
