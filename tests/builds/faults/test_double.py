"""One form, sent ten times at the same moment."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import psycopg
import pytest

from tests.builds.faults.conftest import REDIS

pytestmark = [
    pytest.mark.faults,
    pytest.mark.fault("F12"),
    pytest.mark.skipif(not REDIS, reason="TEST_REDIS_URL names no Redis"),
]


def ten_times(site) -> None:
    barrier = Barrier(10)

    def press(_number):
        barrier.wait()
        return site.post("/new/person/", name="Ana", once="0123456789abcdef" * 2)

    with ThreadPoolExecutor(10) as people:
        answers = list(people.map(press, range(10)))
    assert {one.status for one in answers} == {302}, [one.text for one in answers]
    assert len({one.heads["Location"] for one in answers}) == 1
    assert site.get("/people/").text.count(">Ana<") == 1


def test_it_is_done_once_and_ten_get_the_same_answer(lead_site):
    ten_times(lead_site)


def test_on_postgresql_too(sample_there, serve):
    address, session = sample_there("double")
    ten_times(serve(address, session, REDIS_URL=REDIS))
    with psycopg.connect(address) as connection:
        words = "select count(*) from builds_person where name = 'Ana'"
        assert connection.execute(words).fetchone() == (1,)
