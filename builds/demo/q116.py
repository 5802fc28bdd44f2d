"""Q-116, the four-wheel drive: in mock-up, waiting for a gearbox adaptor."""

from __future__ import annotations

from datetime import date
from typing import Any

from builds.demo.car import Car, extra

BUILD: dict[str, Any] = {
    "id": "q116",
    "name": "Q-116 Oskell Fellside 4, 1972",
    "rank": 4,
    "customer": "Ms R. Talgarve",
    "wanted": "End of August 2027",
    "note": "Four-wheel drive, restomod with a new bought-in engine; in mock-up.",
}

ADAPTOR = {
    "phase": "Mock-up and dry build",
    "area": "engine and gearbox",
    "level": "on the stand",
}
EXTRAS = (
    extra(
        "X01", "Gearbox adaptor measured and drawn", "bench", "4 8 16", "C06 B10",
        trade="fabrication", **ADAPTOR,
    ),
    extra(
        "X02", "Gearbox adaptor made", "outside", "15 25 50", "X01", vendor="dunnock",
        **ADAPTOR,
    ),
    extra(
        "X03", "Adaptor checked in and trial fitted raw", "check", "2 3 7", "X02",
        trade="fabrication", note="Bore, dowels and run-out measured", **ADAPTOR,
    ),
)  # fmt: skip

FACTS: dict[str, dict[str, Any]] = {
    "X02": {
        "sent": "2026-12-02", "promised": "2027-01-15", "pieces": 1,
        "holder": "Dunnock & Reave",
        "promises": [
            {"date": "2027-01-15", "given": "2026-12-02", "by": "Imogen Vasterling",
             "said": "Back in the middle of January"},
        ],
    },
    "D08": {
        "state": "under way", "started": "2027-01-06T08:15", "remaining": 7,
        "person": "nkechi",
    },
    "E14": {
        "state": "under way", "started": "2026-11-30T09:00",
        "holder": "Ostry Screens",
        "note": "A good windscreen is being looked for; a made one is the fall-back",
    },
    "H04": {"note": "Torvane are shut from 1 to 12 February: send before or after"},
    "M02": {"needed_by": "2027-08-31"},
}  # fmt: skip

CAR = Car(
    id="q116",
    done="A B C D02 X01",
    last_done=date(2026, 12, 22),
    dropped="E17 H01 H02 H03 J05 M03 M04",
    scales={
        "D": 0.6,
        "E10": 0.6,
        "E14": 0.8,
        "E21": 0.7,
        "F": 0.75,
        "G": 0.8,
        "I": 0.7,
        "K": 0.7,
        "L": 0.6,
        "M": 0.6,
    },
    links={"D01": "X03", "H06": "H04 B10 D14"},
    titles={
        "H04": "Gearbox and transfer box rebuilt",
        "H05": "Both final drives rebuilt",
        "H06": "Clutch, adaptor, bellhousing; engine and gearbox mated",
        "M02": "Full detail and handed over",
    },
    extras=EXTRAS,
    facts=FACTS,
    pins={
        "A03": date(2026, 7, 17),
        "B10": date(2026, 10, 30),
    },
)
