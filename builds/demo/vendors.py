"""The outside firms of the demo workshop and how they have kept their word.

Past returns are made up so that the logs of actual over quoted have exactly the
median and spread each firm is said to have, up to rounding to quarter days.
"""

from __future__ import annotations

import math
from statistics import NormalDist, fmean, stdev
from typing import Any

from builds.demo.people import CLOSED, HOLIDAYS

VENDOR_DAY = ["08:00-12:30", "13:00-17:00"]
# Numbers set aside for drama in the United Kingdom (Ofcom; from memory).
FIRST_PHONE = 960_010
STRIDE = 7  # returns come in no order; no count below is a multiple of it
QUOTE_SHARES = (1.0, 1.2, 0.8, 1.0, 1.1, 0.9)


def vendor_calendars() -> dict[str, Any]:
    """Return the trade's week, and the two days the screen fitter is in the area."""
    rest = {"holidays": HOLIDAYS, "closed": CLOSED}
    days = ("mon", "tue", "wed", "thu", "fri")
    return {
        "trade week": {"week": dict.fromkeys(days, VENDOR_DAY), **rest},
        "fitter's days": {"week": dict.fromkeys(("wed", "fri"), VENDOR_DAY), **rest},
    }


def past_returns(
    quote: float, median: float, log_sd: float, count: int
) -> list[dict[str, float]]:
    """Return made-up past returns that show a habit.

    Parameters
    ----------
    quote : float
        The usual quote in working days; each past quote is somewhat more or less.
    median, log_sd : float
        Of actual over quoted.
    count : int
        How many returns, at least 2.
    """
    normal = NormalDist()
    scores = [normal.inv_cdf((rank + 0.5) / count) for rank in range(count)]
    middle, width = fmean(scores), stdev(scores)
    returns = []
    for turn in range(count):
        score = (scores[turn * STRIDE % count] - middle) / width
        share = QUOTE_SHARES[turn % len(QUOTE_SHARES)]
        quoted = max(round(quote * share), 1)
        actual = quoted * median * math.exp(log_sd * score)
        returns.append({"quoted_days": quoted, "actual_days": round(actual * 4) / 4})
    return returns


def _vendor(
    key: str, name: str, does: str, habit: tuple[float, float, float, int] | None,
    **more: Any,
) -> dict[str, Any]:  # fmt: skip
    history = {"history": past_returns(*habit)} if habit else {}
    return {
        "id": key, "name": name, "does": does, "calendar": "trade week",
        **history, **more,
    }  # fmt: skip


def _slots(every: int, first: str) -> dict[str, Any]:
    return {"every_working_days": every, "from": first}


def vendors() -> list[dict[str, Any]]:
    """Return fourteen vendors, the test lane and the transport."""
    found = [
        _vendor(
            "dunnock", "Dunnock & Reave", "Machining and propshafts",
            (20, 1.25, 0.45, 10), minimum_charge=90, reject_chance=0.04,
            closed=["2027-03-22/2027-03-26"],
            note="Minimum is a set-up. Wants a dimensioned drawing.",
        ),
        _vendor(
            "kellwen", "Kellwen Engines", "Engine machining and build",
            (45, 1.30, 0.40, 6),
            note="Deposit before a start date. Two engines at a time.",
        ),
        _vendor(
            "torvane", "Torvane Gearboxes", "Gearboxes", (15, 1.10, 0.35, 8),
            closed=["2027-02-01/2027-02-12"],
        ),
        _vendor(
            "sallowfield", "Sallowfield Anodic", "Anodising", (8, 1.10, 0.35, 11),
            minimum_charge=120, reject_chance=0.05, slots=_slots(5, "2027-01-12"),
            batch={"same": ["colour", "alloy"],
                   "days": {"black": ["tue"], "clear": ["thu"]}},
            note="Minimum is a colour a batch, one alloy family. Black on Tuesdays, "
            "clear on Thursdays; our work is black.",
        ),
        _vendor(
            "brindle", "Brindle Tank", "Zinc plating and passivate",
            (6, 1.05, 0.25, 12), minimum_charge=80, reject_chance=0.02,
            batch={"kilos": 25},
            note="Minimum is a tin of up to 25 kg. Bakes 10.9 bolts only if marked.",
        ),
        _vendor(
            "orrelstane", "Orrelstane Plating", "Chrome and nickel",
            (35, 1.40, 0.60, 9), reject_chance=0.08,
            closed=["2027-04-02/2027-04-16"],
            note="Does not dismantle. Price follows once it is stripped.",
        ),
        _vendor(
            "cobrane", "Cobrane Blast & Powder", "Strip, blast and powder",
            (6, 1.05, 0.25, 12), minimum_charge=70, reject_chance=0.03,
            batch={"same": ["colour"]},
            slots=_slots(5, "2027-01-13"),
            note="Minimum is a colour. Colour days: miss yours and wait a week.",
        ),
        _vendor(
            "thrupp", "Vasey Thrupp", "Exhausts", (4, 1.10, 0.30, 8),
            note="The car must be on its wheels, in their bay.",
        ),
        _vendor(
            "larkhollow", "Larkhollow Paint", "Paint", (25, 1.15, 0.30, 8),
            slots=_slots(20, "2026-12-07"), closed=["2027-04-05/2027-04-09"],
            note="One shell at a time; a slot every 20 working days.",
        ),
        _vendor(
            "twell", "Amaris Twell", "Trimming", (30, 1.20, 0.40, 8),
            closed=["2027-01-18/2027-01-22"],
            note="Works alone. Hides must be in before a start date is given.",
        ),
        _vendor(
            "wexcote", "Wexcote Looms", "Wiring looms", (22, 1.15, 0.35, 8),
            note="Works to a frozen drawing; a change goes to the back of the queue.",
        ),
        _vendor(
            "ostry", "Ostry Screens", "Glass and screen fitting",
            (25, 1.10, 0.40, 6), calendar="fitter's days",
            note="The fitter has this area on Wednesdays and Fridays.",
        ),
        _vendor(
            "tarn", "Tarn & Ottery", "Enamel badges", (60, 1.50, 0.60, 6),
            slots=_slots(40, "2026-11-09"), closed=["2027-08-01/2027-08-31"],
            reject_chance=0.05, note="Enamel is fired in runs, every eight weeks.",
        ),
        _vendor(
            "meridew", "Meridew Rolling Road", "Alignment, mapping and A/C",
            (2, 1.05, 0.25, 9),
            note="Book 2 weeks ahead, 4 in show season.",
        ),
        _vendor(
            "test-lane", "Ostermere test lane", "Legality inspection", None,
            note="Quotes 3 days. A re-test must be within 10 days.",
        ),
        _vendor(
            "wainthorpe", "Wainthorpe Transport", "Covered transport", None,
            note="Quotes 1 day. Show weeks must be booked by 1 May.",
        ),
    ]  # fmt: skip
    return [
        one | {"phone": f"01632 {FIRST_PHONE + at}"} for at, one in enumerate(found)
    ]
