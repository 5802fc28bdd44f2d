"""What stands around every page of the lead's, a refusal and a way elsewhere.

OWASP ASVS 5.0, V3, V4 and V14.
"""

from __future__ import annotations

import pytest

from tests.builds.access.matrix import MATRIX

pytestmark = pytest.mark.django_db
LOOKED_AT = sorted(n for n, roles in MATRIX.items() if roles["lead"][0] == 200)
PICTURE = "image/jpeg"


@pytest.fixture(scope="module")
def answers(walker):
    pages = [walker.world.address(name) for name in LOOKED_AT]
    found = [walker.ask("lead", "GET", where) for where in (*pages, "/nothing/here/")]
    return [*found, walker.ask("anonymous", "GET", "/")]


def test_asvs_3_4_2_no_other_site_may_read_answers(answers):
    assert not any("Access-Control-Allow-Origin" in one for one in answers)


def test_asvs_3_4_3_nothing_but_our_own_is_loaded(answers):
    for one in answers:
        policy = one["Content-Security-Policy"]
        assert "default-src 'none'" in policy
        assert "base-uri 'none'" in policy
        assert "unsafe" not in policy


def test_asvs_3_4_4_no_browser_guesses_what_an_answer_is(answers):
    assert {one["X-Content-Type-Options"] for one in answers} == {"nosniff"}


def test_asvs_3_4_5_no_address_of_ours_is_told_to_others(answers):
    assert {one["Referrer-Policy"] for one in answers} <= {"same-origin", "no-referrer"}


def test_a_page_with_a_form_says_where_the_form_comes_from(answers):
    """Fetch standard, "append a request Origin header": with "no-referrer" it is null,
    and Django takes no form from there. No test without a browser shows it."""
    forms = [one for one in answers if b'method="post"' in one.content]
    assert forms
    assert {one["Referrer-Policy"] for one in forms} == {"same-origin"}


def test_asvs_3_4_6_no_page_is_framed(answers):
    assert all(
        "frame-ancestors 'none'" in one["Content-Security-Policy"] for one in answers
    )


def test_asvs_3_4_8_no_page_is_held_by_another(answers):
    assert {one["Cross-Origin-Opener-Policy"] for one in answers} == {"same-origin"}


def test_asvs_4_1_1_every_answer_says_what_it_is(answers):
    for one in answers:
        if one.content:
            kind = one["Content-Type"]
            bare = ("application/json", PICTURE)
            assert kind in bare or "charset=utf-8" in kind


def test_asvs_14_3_2_no_browser_keeps_a_page_of_ours(answers):
    """But photographs of pieces, for an hour: signing out clears them."""
    for one in answers:
        page = one["Content-Type"] != PICTURE
        if one.status_code == 200 and one.content and page:
            assert (
                "no-store" in one["Cache-Control"] or "no-cache" in one["Cache-Control"]
            )
