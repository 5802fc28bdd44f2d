"""Moments as the clock on the wall shows them.

Clock changes: the IANA time zone database for Europe/London gives 28 March 2027,
01:00 to 02:00, as the hour that is skipped, and 11 January as UTC+0.
"""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
import time_machine
from django.core.exceptions import ValidationError

from builds.models import Show, WallClockField, Workshop
from tests.factories.show import ShowFactory

SKIPPED = datetime(2027, 3, 28, 1, 30)


@pytest.mark.django_db
def test_a_moment_in_the_skipped_hour_comes_back_unmoved():
    ShowFactory(move_in=SKIPPED)
    assert Show.objects.get().move_in == SKIPPED


@pytest.mark.django_db
def test_moments_sort_in_time_order():
    ShowFactory(key="late", move_in=datetime(2027, 10, 1, 9, 0))
    ShowFactory(key="soon", move_in=datetime(2027, 9, 30, 16, 0))
    assert [one.key for one in Show.objects.order_by("move_in")] == ["soon", "late"]


def test_text_that_is_no_moment_is_refused():
    with pytest.raises(ValidationError):
        WallClockField().to_python("next Tuesday")


@pytest.mark.parametrize(
    ("true_time", "on_the_wall"),
    [
        ((2027, 1, 11, 8, 0, 0), (2027, 1, 11, 8, 0)),
        ((2027, 1, 11, 8, 0, 1), (2027, 1, 11, 8, 15)),
        ((2027, 1, 11, 8, 14, 59), (2027, 1, 11, 8, 15)),
        ((2027, 1, 11, 23, 50, 0), (2027, 1, 12, 0, 0)),
        ((2027, 6, 11, 8, 0, 0), (2027, 6, 11, 9, 0)),  # summer time: UTC+1
    ],
)
def test_the_clock_rounds_up_to_the_quarter(true_time, on_the_wall):
    with time_machine.travel(datetime(*true_time, tzinfo=ZoneInfo("UTC"))):
        shop = Workshop(timezone="Europe/London")
        assert shop.clock() == datetime(*on_the_wall)


def test_a_stopped_clock_stands():
    assert Workshop(now=datetime(2027, 1, 11, 8, 5)).clock().minute == 5
