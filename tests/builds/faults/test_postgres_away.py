"""PostgreSQL stops under people who are at work, in order or all at once."""

from __future__ import annotations

import psycopg
import pytest

from tests.builds.faults.conftest import REDIS
from tests.builds.faults.site import Crowd, until, well

pytestmark = [
    pytest.mark.faults,
    pytest.mark.skipif(not REDIS, reason="TEST_REDIS_URL names no Redis"),
]
JOBS = ("q114-x03", "q109-x04", "q121-x01")
WORDS = "select words from builds_event where verb = 'reported trouble'"


@pytest.fixture(scope="module")
def address(sample_there):
    return sample_there("site")


@pytest.mark.parametrize(
    "way",
    [
        pytest.param("stop_fast", marks=pytest.mark.fault("F6")),
        pytest.param("kill", marks=pytest.mark.fault("F7")),
    ],
)
def test_it_is_said_while_it_is_away_and_goes_on_by_itself(
    way, postgres, address, serve
):
    site = serve(*address, REDIS_URL=REDIS)

    def report(person, turn):
        if turn % 2:
            return site.get("/people/")
        job = JOBS[person % len(JOBS)]
        return site.report(job, f"{way} {person}-{turn}")

    with Crowd(report, people=4) as crowd:
        crowd.goes_on()
        getattr(postgres, way)()
        seen = len(crowd.done)
        until(
            lambda: any(one.status == 503 for _, one in crowd.done[seen:]), crowd.told
        )
        assert site.get("/readyz").status == 503
        assert site.get("/healthz").status == 200
        postgres.start()
        crowd.goes_on()
    done = crowd.done

    said_no = [answer for _, answer in done if answer.status not in (200, 302)]
    assert {answer.status for answer in said_no} == {503}
    assert all("Retry-After" in answer.heads for answer in said_no)
    assert all("was not saved" in answer.text for answer in said_no)
    assert all(map(well, done[-4:]))
    with psycopg.connect(address[0]) as connection:
        kept = {row[0] for row in connection.execute(WORDS)}
    promised = {f"{way} {name}" for name, one in done if one.status == 302}
    assert promised
    assert promised <= kept
