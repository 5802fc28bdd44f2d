"""One whole build of 120 jobs against an independent script's figures.

The table is the demonstration build. Every job counts in working days (hours at 6.5
a day), people are without limit and nothing is shared between jobs. The figures were
computed by an independent script, not published; hence two days' tolerance.
"""

import csv
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest

from tests.scheduling.reference.cases import answered, fixed, three_points, week

TABLE = Path(__file__).parents[3] / "builds" / "demo" / "jobs.csv"
NOW = "2027-01-04T08:00"  # a Monday, opening time
HOURS_A_DAY = 6.5
TOLERANCE = 2.0

CHAIN = (
    "A01 A05 B04 B05 B07 B08 C01 C02 C03 C05 C06 D01 D03 D10 E01 E02 D12 D13 D14 "
    "F01 F02 F03 F04 F05 F06 F07 G03 G04 J01 H07 I05 K10 L04 L05 L07 L08 L09 L11 "
    "L12 M01 M02 M04"
)


def rows():
    with TABLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def job_of(row, spread):
    unit = HOURS_A_DAY if row["unit"] == "h" else 1.0
    low, likely, high = (float(row[key]) / unit for key in ("low", "likely", "high"))
    estimate = three_points(low, likely, high) if spread else fixed(likely)
    return {
        "id": row["code"],
        "build": "car",
        "kind": "order",
        "estimate": estimate,
        "after": row["after"].split(),
    }


def plan_of(reading, spread=True):
    return {
        "now": NOW,
        "reading": reading,
        "factors": {"vendor": 0, "build": 0, "person": 0},
        "calendars": {"shop": {"week": week(hours=["08:00-14:30"])}},
        "builds": [{"id": "car"}],
        "jobs": [job_of(row, spread) for row in rows()],
    }


def working_days(text):
    """Return working days from NOW, the last one in part."""
    moment = datetime.fromisoformat(text)
    whole = np.busday_count(NOW[:10], moment.date())
    part = (moment.hour + moment.minute / 60 - 8) / HOURS_A_DAY
    return float(whole) + min(max(part, 0.0), 1.0)


def test_the_table_is_the_one_the_figures_are_for():
    table = rows()
    assert len(table) == 120
    likely = sum(float(row["likely"]) for row in table if row["unit"] == "h")
    assert likely == 1535


def test_longest_chain_at_likely():
    """202 working days, on the chain worked out by the independent script."""
    result = answered(plan_of("one-in-ten", spread=False))
    finish = max(job["early_finish"] for job in result["jobs"].values())
    assert working_days(finish) == pytest.approx(202, abs=TOLERANCE)
    assert result["critical_path"] == CHAIN.split()


def test_floats_at_likely():
    """In working days: chrome 34, seats 41, glass 42, anodise 48, loom 68 and on."""
    jobs = answered(plan_of("one-in-ten", spread=False))["jobs"]
    expected = {
        "E10": 34,
        "E21": 41,
        "E14": 42,
        "E04": 48,
        "I03": 68,
        "H02": 101,
        "E17": 106,
        "E18": 110,
    }
    got = {job: jobs[job]["total_float_hours"] / HOURS_A_DAY for job in expected}
    assert got == pytest.approx(expected, abs=1.0)


@pytest.mark.parametrize(
    ("reading", "expected"),
    [
        # an earlier run printed 277, 328, 378; 100,000 numpy draws give these
        ("one-in-ten", (277.6, 327.7, 374.3)),
        # an earlier run printed 228, 240, 245
        ("ends", (228.5, 239.8, 245.6)),
    ],
)
def test_percentiles_of_the_whole_build(reading, expected):
    """P50, P80, P90; the last to four days, three of its standard errors."""
    result = answered(plan_of(reading), samples=20_000, seed=5)
    level = result["builds"]["car"]["levels"]["complete"]
    got = [working_days(level[key]) for key in ("p50", "p80", "p90")]
    assert got[:2] == pytest.approx(expected[:2], abs=TOLERANCE)
    assert got[2] == pytest.approx(expected[2], abs=2 * TOLERANCE)
