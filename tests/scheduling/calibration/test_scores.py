"""The counting behind the calibration table, on cases worked by hand."""

from __future__ import annotations

import math
from random import Random
from statistics import NormalDist

import pytest

from tests.scheduling.calibration.bands import faults_of
from tests.scheduling.calibration.scores import Event, brier, murphy, row_of, table


def events(*told: tuple[float, bool]) -> list[Event]:
    return [Event(life, *one) for life, one in enumerate(told)]


@pytest.mark.parametrize(
    ("chance", "happened", "score"),
    [(1.0, True, 0.0), (1.0, False, 1.0), (0.7, True, 0.09), (0.3, True, 0.49)],
)
def test_brier_of_one_forecast(chance: float, happened: bool, score: float) -> None:
    """The usual four of rain tomorrow, with one outcome class; from memory."""
    assert brier(events((chance, happened))) == pytest.approx(score)


def test_murphys_three_terms_by_hand() -> None:
    """Three told 0.5, of which two happen; two told 1, of which both do.

    Base 4/5. Reliability 3 (1/6)^2 / 5; resolution (3 (2/15)^2 + 2 (1/5)^2) / 5;
    uncertainty 0.8 x 0.2; Brier 0.75 / 5.
    """
    told = events((0.5, True), (0.5, True), (0.5, False), (1.0, True), (1.0, True))
    assert murphy(told) == pytest.approx((1 / 60, 2 / 75, 0.16))
    assert brier(told) == pytest.approx(0.15)


def test_murphys_terms_add_up_to_the_brier_score() -> None:
    random = Random(3)
    told = [
        Event(life, round(random.random(), 2), random.random() < 0.4)
        for life in range(500)
    ]
    reliability, resolution, uncertainty = murphy(told)
    assert reliability - resolution + uncertainty == pytest.approx(brier(told))


def test_a_line_of_the_table_by_hand() -> None:
    row = row_of(events((0.5, True), (0.7, False), (0.6, True), (0.6, False)))
    assert (row.count, row.told, row.happened) == pytest.approx((4, 60.0, 50.0))
    lone = math.sqrt(0.6**2 + 0.6**2 + 0.5**2 + 0.5**2) / 4  # distances from -0.1
    assert row.error == pytest.approx(100 * lone)


def test_events_of_one_workshop_count_as_one() -> None:
    """Ten copies of a workshop's event know no more than the event."""
    once = [Event(life, 0.5, life % 2 == 0) for life in range(20)]
    assert row_of(once * 10).error == pytest.approx(row_of(once).error)


def test_every_forecast_is_in_one_tenth() -> None:
    told = events(*((chance / 100, True) for chance in range(101)))
    assert [row.count for row in table(told)] == [10] * 9 + [11]


@pytest.mark.parametrize(("believed", "kept"), [(1.0, True), (0.6, False)])
def test_the_bands_tell_true_forecasts_from_too_sure_ones(
    believed: float, kept: bool
) -> None:
    """A lognormal length told with its true spread, then with six tenths of it."""
    random = Random(11)
    told = []
    for life in range(20_000):
        length = random.gauss(0.0, 1.0)
        law = NormalDist(0.0, believed)
        date = law.inv_cdf(random.uniform(0.001, 0.999))
        told.append(Event(life, law.cdf(date), length <= date, "week"))
        for kind, chance in (("p50", 0.5), ("p80", 0.8)):
            told.append(Event(life, chance, length <= law.inv_cdf(chance), kind))
    assert (not faults_of(told)) is kept
