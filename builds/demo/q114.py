"""Q-114, the coupe for Fennimore Hall: shell at paint, everything waiting for it."""

from __future__ import annotations

from datetime import date
from typing import Any

from builds.demo.car import Car, extra
from builds.demo.pieces import (
    ANODISE_Q114,
    BADGES_Q114,
    BRIGHT_Q114,
    DRAWINGS_Q114,
    gone_out,
)

BUILD: dict[str, Any] = {
    "id": "q114",
    "name": "Q-114 Halvane Corrant 2+2 coupe, 1967",
    "rank": 1,
    "customer": "Mr D. Arkwold",
    "wanted": "Complete for Fennimore Hall, 12 June 2027 (fixed)",
    "note": "Restomod: fuel injection, five-speed, air conditioning. It must drive "
    "onto the lawn under its own power, so running is the least that counts there.",
}

TANK = {"phase": "Away at vendors and making", "area": "underside", "level": "running"}
EXTRAS = (
    extra(
        "X01", "Fuel tank machined from our drawing", "outside", "15 25 50",
        "D10", vendor="dunnock", **TANK,
    ),
    extra(
        "X02", "Tank trial fitted in the rear subframe with the exhaust hung", "check",
        "2 4 8", "X01 E15 G01", trade="fabrication",
        note="Exhaust clearance measured hot side and cold; write the gap down", **TANK,
    ),
    extra(
        "X03", "Tank welded up, filled with water and watched for leaks", "bench",
        "6 8 16", "X02", trade="fabrication", grade=3, flags="commitment safety",
        note="Aluminium, new: never held fuel. Weld only after the trial fit", **TANK,
    ),
    extra(
        "X04", "Tank at the anodiser, black", "outside", "5 10 20", "X03",
        vendor="sallowfield", flags="commitment",
        note="Shares a black batch; threads plugged, count and faces looked at on "
        "return before it is fitted", **TANK,
    ),
)  # fmt: skip

LEAD = "Imogen Vasterling"
FACTS: dict[str, dict[str, Any]] = {
    "F02": {
        "state": "under way", "started": "2026-12-07T08:00", "remaining": 6,
        "holder": "Larkhollow Paint", "note": "In high-build, second round of blocking",
    },
    "E10": {
        "sent": "2026-12-04", "promised": "2027-01-29", "pieces": 14,
        "pieces_noted": 14, "holder": "Orrelstane Plating",
        "piece_list": gone_out(
            "q114-e10", "Orrelstane Plating", "2026-12-04", BRIGHT_Q114
        ),
        "promises": [
            {"date": "2027-01-22", "given": "2026-12-04", "by": LEAD,
             "said": "Seven weeks"},
            {"date": "2027-01-29", "given": "2026-12-18", "by": LEAD,
             "said": "A week more: copper bath down"},
        ],
    },
    "E04": {
        "sent": "2027-01-07", "pieces": 9, "holder": "Sallowfield Anodic",
        "piece_list": gone_out(
            "q114-e04", "Sallowfield Anodic", "2027-01-07", ANODISE_Q114
        ),
    },
    "E17": {
        "sent": "2026-11-09", "pieces": 3, "holder": "Tarn & Ottery",
        "piece_list": gone_out(
            "q114-e17", "Tarn & Ottery", "2026-11-09", BADGES_Q114
        ),
        "promises": [
            {"date": None, "given": "2026-12-17", "by": LEAD,
             "said": "In the next firing; would not give a date"},
        ],
    },
    "I03": {
        "sent": "2026-12-30", "pieces": 3, "holder": "Wexcote Looms",
        "piece_list": gone_out(
            "q114-i03", "Wexcote Looms", "2026-12-30", DRAWINGS_Q114
        ),
        "note": "Out with them: the signed loom drawing, three sheets",
    },
    "H03": {
        "sent": "2026-12-14", "pieces": 1, "holder": "Kellwen Engines",
        "note": "Machining finished in December; being built",
    },
    "E18": {
        "state": "under way", "started": "2026-12-14T10:30",
        "note": "Three leathers and two carpets sent as samples; not chosen",
    },
    "J01": {"note": "Easier with no engine in the way. Pedal box plates come first"},
    "M04": {"note": "Wainthorpe want show weeks booked by 1 May"},
}  # fmt: skip

CAR = Car(
    id="q114",
    done="A B C D E01 E02 E03 E06 E07 E08 E09 E12 E13 E14 E15 E16 E20 E22 F01 "
    "G01 G02 H01 H02 H04 H05 H08 I01 I02 X01",
    last_done=date(2027, 1, 8),
    scales={
        "E17": 0.5,
        "E18": 0.6,
        "E19": 0.8,
        "E21": 0.7,
        "F": 0.9,
        "I": 0.8,
        "K": 0.75,
        "L": 0.6,
        "M": 0.75,
    },
    links={"G02": "E08 B10", "J01": "G04 E05", "J02": "J01 E16 X04"},
    extras=EXTRAS,
    facts=FACTS,
    pins={
        "A03": date(2026, 3, 6),
        "E20": date(2026, 9, 30),
        "E22": date(2026, 6, 30),
        "G01": date(2026, 12, 22),
        "H04": date(2026, 8, 14),
        "H05": date(2026, 10, 30),
        "H08": date(2026, 10, 2),
        "X01": date(2026, 11, 13),
    },
)
