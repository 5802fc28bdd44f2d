"""Printed textbook networks: lengths, critical paths, floats, means, variances.

"Recomputed" marks a figure worked out again by an independent script where the page
prints it only in part.
"""

import pytest

from scheduling.estimates import pert_mean, pert_sd
from tests.scheduling.reference import tables
from tests.scheduling.reference.cases import (
    NOW,
    answered,
    fixed,
    hours_after,
    textbook,
    written,
)

PRINTED = 0.006  # two printed decimals

# table, printed length, critical path, printed floats, variance of the path
NETWORKS = {
    # Hillier & Lieberman: 44 weeks, variance 9; floats recomputed
    "reliable": (
        tables.RELIABLE,
        44.0,
        "ABCEFJLN",
        {"D": 4, "G": 4, "H": 4, "M": 4, "I": 2, "K": 1},
        9.0,
    ),
    # Heizer & Render [from memory], recomputed; variance 112/36 = 3.11
    "foundry": (tables.FOUNDRY, 15.0, "ACEGH", {"B": 1, "D": 1, "F": 6}, 112 / 36),
    # Wikipedia prints 19.51 and slacks 3.84, 4.68 from rounded means; exact 19.50
    "encyclopedia": (
        tables.ENCYCLOPEDIA,
        19.5,
        "aceg",
        {"b": 3.8333, "d": 4.6667, "f": 4.6667},
        None,
    ),
    # Taylor chapter 8: 24 weeks, variance 5
    "taylor": (tables.TAYLOR_PATH, 24.0, "1357", {}, 5.0),
    # UNCG SCM 304: 23 weeks, A-C-E-G
    "greensboro": (tables.GREENSBORO, 23.0, "ACEG", None, None),
    # Unit-4 course page: 17 weeks, C-F-H-J
    "ten": (tables.TEN_ACTIVITIES, 17.0, "CFHJ", None, 1 + 16 / 9 + 1 + 1),
    # fourteen activities: T 50.83, variance 11.19 recomputed; floats printed for A-F
    "fourteen": (tables.FOURTEEN, 50.8333, "ACEHIKMN", None, 11.19),
}


@pytest.fixture(scope="module")
def results():
    return {name: answered(textbook(case[0])) for name, case in NETWORKS.items()}


@pytest.mark.parametrize("name", NETWORKS)
def test_length_and_critical_path_are_the_books(results, name):
    _, length, path, _, _ = NETWORKS[name]
    result = results[name]
    assert result["duration_hours"] == pytest.approx(length, abs=PRINTED)
    assert result["critical_path"] == list(path)
    on_path = {job for job, one in result["jobs"].items() if one["critical"]}
    assert on_path == set(path)


@pytest.mark.parametrize(
    "name", [name for name, case in NETWORKS.items() if case[3] is not None]
)
def test_every_float_is_the_books(results, name):
    table, _, _, floats, _ = NETWORKS[name]
    expected = dict.fromkeys(table, 0.0) | floats
    got = {job: one["total_float_hours"] for job, one in results[name]["jobs"].items()}
    assert got == pytest.approx(expected, abs=PRINTED)


def test_fourteen_activities_print_the_floats_of_the_first_six(results):
    jobs = results["fourteen"]["jobs"]
    printed = {"A": 0, "B": 8.00, "C": 0, "D": 1.83, "E": 0, "F": 1.83}
    got = {job: jobs[job]["total_float_hours"] for job in printed}
    assert got == pytest.approx(printed, abs=PRINTED)


@pytest.mark.parametrize(
    "name", [name for name, case in NETWORKS.items() if case[4] is not None]
)
def test_variance_along_the_path_is_the_books(name):
    table, length, path, _, variance = NETWORKS[name]
    rows = [table[job][1:] for job in path]
    assert sum(pert_mean(*row) for row in rows) == pytest.approx(length, abs=PRINTED)
    assert sum(pert_sd(*row) ** 2 for row in rows) == pytest.approx(
        variance, abs=PRINTED
    )


@pytest.mark.parametrize(
    ("table", "means"),
    [
        # UNCG SCM 304, printed expected times
        (tables.GREENSBORO, [8, 10, 3, 7, 6, 7, 6, 3]),
        # Hillier & Lieberman table 10.4 [from memory]
        (tables.RELIABLE, [2, 4, 10, 6, 4, 5, 7, 9, 7, 8, 4, 5, 2, 6]),
    ],
)
def test_printed_means(table, means):
    assert [pert_mean(*row[1:]) for row in table.values()] == pytest.approx(means)
    jobs = answered(textbook(table))["jobs"]
    assert [jobs[name]["duration_hours"] for name in table] == pytest.approx(means)


@pytest.mark.parametrize(
    ("table", "variances"),
    [
        # Unit-4 course page, printed to two decimals
        (
            tables.TEN_ACTIVITIES,
            [0.11, 0.44, 1, 0.11, 1.78, 1.78, 1, 1, 1, 1],
        ),
        # Hillier & Lieberman table 10.4 [from memory]
        (
            tables.RELIABLE,
            [1 / 9, 1, 4, 1, 4 / 9, 1, 1, 4, 1, 1, 0, 1, 1 / 9, 4 / 9],
        ),
    ],
)
def test_printed_variances(table, variances):
    got = [pert_sd(*row[1:]) ** 2 for row in table.values()]
    assert got == pytest.approx(variances, abs=PRINTED)


def test_reliable_with_every_activity_at_its_worst_takes_70_weeks():
    """Hillier & Lieberman; recomputed: A-B-C-D-G-H-M at the pessimistic times."""
    worst = {
        name: (before, high, high, high)
        for name, (before, _, _, high) in tables.RELIABLE.items()
    }
    result = answered(textbook(worst))
    assert result["duration_hours"] == pytest.approx(70.0)
    assert result["critical_path"] == list("ABCDGHM")


# Taylor chapter 8, solution page: arrow -> (length, early start, slack). Slacks are
# printed; the early starts are worked by hand from the arrows.
SIX_EVENTS = {
    "1-2": (7, 0, 2),
    "1-3": (10, 0, 0),
    "2-4": (6, 7, 2),
    "3-4": (5, 10, 0),
    "3-5": (4, 10, 4),
    "4-5": (3, 15, 0),
    "5-6": (2, 18, 0),
}
NINE_EVENTS = {
    "1-2": (8, 0, 1),
    "1-3": (10, 0, 0),
    "1-4": (9, 0, 6),
    "2-5": (6, 8, 1),
    "2-6": (4, 8, 8),
    "3-5": (5, 10, 0),
    "4-5": (0, 9, 6),  # the dummy
    "4-7": (7, 9, 11),
    "5-7": (12, 15, 0),
    "5-8": (15, 15, 1),
    "6-9": (18, 12, 8),
    "7-8": (4, 27, 0),
    "8-9": (7, 31, 0),
}


@pytest.mark.parametrize(
    ("arrows", "length", "path"),
    [
        (SIX_EVENTS, 20, ["1-3", "3-4", "4-5", "5-6"]),
        (NINE_EVENTS, 38, ["1-3", "3-5", "5-7", "7-8", "8-9"]),
    ],
)
def test_activities_on_arrows_with_dummies(arrows, length, path):
    jobs = []
    for name, (duration, _, _) in arrows.items():
        tail = name.split("-")[0]
        before = [other for other in arrows if other.split("-")[1] == tail]
        job = {"id": name, "after": before, "kind": "bench" if duration else "mark"}
        jobs.append(job | ({"estimate": fixed(duration)} if duration else {}))
    result = answered({"now": written(NOW), "reading": "ends", "jobs": jobs})
    assert result["duration_hours"] == pytest.approx(length)
    assert result["critical_path"] == path
    for name, (duration, start, slack) in arrows.items():
        one = result["jobs"][name]
        assert hours_after(one["early_start"]) == start, name
        assert hours_after(one["early_finish"]) == start + duration, name
        assert hours_after(one["late_start"]) == start + slack, name
        assert hours_after(one["late_finish"]) == start + duration + slack, name
        assert one["total_float_hours"] == pytest.approx(slack), name
