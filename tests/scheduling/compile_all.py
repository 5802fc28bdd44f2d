"""Compiles the engine before any test: `python -m tests.scheduling.compile_all`.

The machine code is kept on disk. Without this the first test to answer a plan would
compile it inside a database transaction, which a server ends when it takes too long.
"""

from __future__ import annotations

import scheduling

HANDS = {"mon": ["08:00-16:00"], "tue": ["08:00-16:00"], "wed": ["08:00-16:00"]}
SHARED = {
    "now": "2027-01-11T08:00",
    "calendars": {"shop": {"week": HANDS}},
    "people": [{"id": "ana", "trades": {"weld": 3}}],
    "jobs": [
        {"id": "cut", "trade": "weld", "estimate": {"likely": 3}},
        {"id": "weld", "trade": "weld", "estimate": {"likely": 2}, "after": ["cut"]},
    ],
}
PLAIN = {
    "now": "2027-01-11T08:00",
    "places": [{"id": "press", "capacity": 2}],
    "jobs": [
        {
            "id": f"j{n}",
            "kind": "stand",
            "places": [{"place": "press", "uses": 1 + n % 2}],
            "estimate": {"likely": 1 + n, "fixed": True},
        }
        for n in range(6)
    ],
}


def main() -> None:
    for rows in (SHARED, PLAIN):
        plan = scheduling.read_plan(rows)
        scheduling.answer(plan, samples=600, schedules=40)
        scheduling.improve(plan, seconds=0.5, samples=20)


if __name__ == "__main__":
    main()
