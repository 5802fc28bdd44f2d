"""A new version is put in place while people are at work."""

from __future__ import annotations

import signal

import pytest

from tests.builds.faults.conftest import REDIS
from tests.builds.faults.site import Crowd, until

pytestmark = [
    pytest.mark.faults,
    pytest.mark.fault("F19"),
    pytest.mark.skipif(not REDIS, reason="TEST_REDIS_URL names no Redis"),
]


def test_of_three_new_starts_nobody_notices_anything(lead_site):
    """gunicorn's documentation, "Signal Handling": HUP starts new workers and lets
    the old ones finish."""
    site = lead_site
    with Crowd(lambda person, turn: site.get("/people/"), people=4) as crowd:
        for _ in range(3):
            crowd.goes_on()
            begun = site.log.read_text().count("Booting worker")
            site.process.send_signal(signal.SIGHUP)
            until(lambda b=begun: site.log.read_text().count("Booting worker") >= b + 2)
            crowd.goes_on()
    assert {answer.status for _, answer in crowd.done} == {200}


def test_told_to_stop_it_answers_what_it_has_begun(lead_site):
    """No answer is cut off: either the request was taken and answered, or the
    connection was never taken."""
    site = lead_site
    with Crowd(lambda person, turn: site.get("/people/"), people=4) as crowd:
        crowd.goes_on()
        site.process.send_signal(signal.SIGTERM)
        assert site.process.wait(timeout=60) == 0
    answered = [one for _, one in crowd.done if one.status]
    assert {one.status for one in answered} == {200}
    assert all(one.text.rstrip().endswith("</html>") for one in answered)
