"""Everything behind the question mark of every address: never a fault of ours."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.conf import settings as project
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.builds.access.matrix import EVERY, MATRIX
from tests.builds.access.walker import who_may
from tests.builds.access.world import PASSWORD
from tests.builds.catalogue.nasty import typed

pytestmark = pytest.mark.django_db
ANSWERS = {200, 302, 400, 403, 404, 405, 410, 422, 429}
READ = re.compile(
    r"""(?:GET|asked)(?:\.get|\.getlist)?[(\[]["'](\w+)["']"""
    r"""|["'](\w+)["'] (?:not )?in request\.GET"""
)
USUAL = {"sort", "page", "q", "date", "next", "from", "to", "weeks", "first"}


def parameters() -> list[str]:
    """Give every name that the views ask for, and those that people try."""
    sources = (Path(project.BASE_DIR) / "builds").rglob("*.py")
    found = [pair for path in sources for pair in READ.findall(path.read_text())]
    return sorted({name for pair in found for name in pair if name} | USUAL)


@pytest.mark.parametrize("name", sorted(EVERY))
def test_nothing_behind_the_question_mark_is_a_fault_of_ours(name, walker):
    role = who_may(name)
    where = walker.world.address(name, role)
    own = list(walker.fields(where))  # of forms that ask by the address, too

    @settings(
        deadline=None,
        max_examples=8,
        suppress_health_check=[HealthCheck.function_scoped_fixture],
    )
    @given(data=st.one_of(typed(own), typed(parameters())))
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
    assert {"next", "odds", "days", "person", "reads", "jobs"} <= set(parameters())


def test_forms_that_ask_by_the_address_are_filled_in_too(walker):
    """The walk above would pass if nothing of theirs were found on the pages."""
    wanted = {"knock_on": "days", "job_who": "person", "sending": "jobs"}
    for name, field in wanted.items():
        assert field in walker.fields(walker.world.address(name, "lead"))
