"""Who works at the demo workshop, and the productive hours each one gives to cars."""

from __future__ import annotations

from typing import Any

SHOP_WEEK = {
    **{day: ["08:00-12:15", "13:00-16:45"] for day in ("mon", "tue", "wed", "thu")},
    "fri": ["08:00-13:00"],
}
# Breaks, setting up and sweeping out are left out of the hours below.
FULL_DAY = ["08:15-10:15", "10:45-12:15", "13:15-16:15"]
FRIDAY = ["08:15-10:15", "10:45-12:45"]
AFTERNOON = ["13:15-16:15"]
SCHOOL_DAY = ["08:45-10:15", "10:45-12:15", "13:00-15:00"]
SCHOOL_FRIDAY = ["08:45-10:15", "10:45-12:15"]

HOLIDAYS = "GB-ENG"
CLOSED = [
    "2026-12-24/2026-12-29",
    "2027-03-26/2027-03-26",
    "2027-03-29/2027-03-29",
    "2027-05-03/2027-05-03",
    "2027-05-31/2027-05-31",
]


def _calendar(week: dict[str, list[str]]) -> dict[str, Any]:
    return {"week": week, "holidays": HOLIDAYS, "closed": CLOSED}


def calendars() -> dict[str, Any]:
    """Return the shop's opening hours and the hands-on hours of its people."""
    mon_thu = ("mon", "tue", "wed", "thu")
    return {
        "shop": _calendar(SHOP_WEEK),
        "bench": _calendar({**dict.fromkeys(mon_thu, FULL_DAY), "fri": FRIDAY}),
        "office": _calendar(
            {**dict.fromkeys(mon_thu, AFTERNOON), "fri": ["08:15-10:15"]}
        ),
        "three days": _calendar(dict.fromkeys(("mon", "tue", "wed"), FULL_DAY)),
        "school hours": _calendar(
            {**dict.fromkeys(mon_thu, SCHOOL_DAY), "fri": SCHOOL_FRIDAY}
        ),
        "day release": _calendar(
            {**dict.fromkeys(("mon", "tue", "wed"), FULL_DAY), "fri": FRIDAY}
        ),
    }


def _person(
    name: str, calendar: str, trades: dict[str, int], away: str, note: str
) -> dict[str, Any]:
    return {
        "id": name.split()[0].lower(),
        "name": name,
        "calendar": calendar,
        "trades": trades,
        "away": away.split(),
        "note": note,
    }


def people() -> list[dict[str, Any]]:
    """Return the eight people (trade 3 signs off, 2 works alone, 1 with someone)."""
    return [
        _person(
            "Imogen Vasterling", "office", {"lead": 3, "mechanical": 2},
            "2027-02-19/2027-02-19",
            "Lead and owner. In 40 hours a week, 14 of them on jobs.",
        ),
        _person(
            "Rafe Tindlock", "bench", {"structural": 3, "fabrication": 3, "panel": 2},
            "2027-03-29/2027-04-02",
            "Fabricator-welder. In 39 hours a week. The only structural welder.",
        ),
        _person(
            "Nkechi Abara", "bench", {"panel": 3, "fabrication": 2},
            "2027-02-08/2027-02-12",
            "Panel beater. In 39 hours a week. Welds brackets, not structure.",
        ),
        _person(
            "Jory Pellmount", "bench", {"mechanical": 3, "fitting": 2},
            "2027-05-10/2027-05-21",
            "Mechanic. In 39 hours a week.",
        ),
        _person(
            "Sunniva Dray", "three days", {"electrical": 3, "fitting": 1}, "",
            "Auto-electrician. In 24 hours a week, Monday to Wednesday.",
        ),
        _person(
            "Tomos Greel", "bench", {"fitting": 3, "detail": 2, "mechanical": 1},
            "2027-03-01/2027-03-05",
            "Fitter. In 39 hours a week.",
        ),
        _person(
            "Petra Lunde", "school hours", {"prep": 3, "detail": 3, "fitting": 1},
            "2027-02-15/2027-02-19 2027-03-31/2027-04-09",
            "Strip, prep and stores. In 30 hours a week, school hours.",
        ),
        _person(
            "Anselm Wicks", "day release", {"prep": 2, "mechanical": 1, "panel": 1},
            "2027-02-15/2027-02-19 2027-03-29/2027-04-09 2027-06-01/2027-06-04",
            "Apprentice. In 32 hours a week, college on Thursdays; away in its breaks.",
        ),
    ]  # fmt: skip


def places(builds: list[str]) -> list[dict[str, Any]]:
    """Return the shop's bays and the elbow room in each car."""
    bays = [
        {"id": "ramp", "name": "Ramps", "capacity": 2},
        {"id": "spit", "name": "Jig and spit bay", "capacity": 1},
        {"id": "panel-bay", "name": "Panel bay", "capacity": 1},
        {"id": "trim-bay", "name": "Trim and assembly bay", "capacity": 1},
    ]
    for build in builds:
        number = build.upper().replace("Q", "Q-", 1)
        bays += [
            {"id": f"{build}-bay", "name": f"{number} engine bay", "capacity": 2},
            {"id": f"{build}-cabin", "name": f"{number} cabin", "capacity": 2},
        ]
    return bays
