"""Q-118, the estate: shell stripped, both sills rotten, waiting for a yes."""

from __future__ import annotations

from datetime import date
from typing import Any

from builds.demo.car import Car, extra

BUILD: dict[str, Any] = {
    "id": "q118",
    "name": "Q-118 Tolmarsh Carrick estate, 1958",
    "rank": 5,
    "customer": "The Brennick family",
    "wanted": "No date: not another winter",
    "note": "Sympathetic, for road use. Sound parts are cleaned and kept.",
}

STAND = {"level": "on the stand"}
EXTRAS = (
    extra(
        "X01", "Both sills: rot cut out, inner, outer and ends made", "bench",
        "30 50 90", "C03 C04", trade="structural", grade=3, phase="Metalwork",
        area="body", places="spit", flags="commitment safety",
        note="Found when the shell came back bare; not in the first price", **STAND,
    ),
    extra(
        "X02", "Engine cleaned, resealed and valves set on the bench", "bench",
        "16 28 50", "B05", trade="mechanical", phase="Engine and gearbox",
        area="engine and gearbox", **STAND,
    ),
    extra(
        "X03", "Old loom repaired on the bench", "bench", "16 26 48", "B06",
        trade="electrical", phase="Electrics", area="electrics",
        note="Original colours kept; every branch checked before it goes back", **STAND,
    ),
    extra(
        "X04", "Old fixings and brackets cleaned and bagged", "bench", "14 24 44",
        "B09", trade="prep", phase="Strip-down", area="whole car",
        note="Old lining and gasket dust: wet method, bagged", **STAND,
    ),
)  # fmt: skip

FACTS: dict[str, dict[str, Any]] = {
    "C03": {
        "state": "under way", "started": "2026-12-18T11:00",
        "note": "Both sills. Asked on 18 December 2026 with photographs and a price",
    },
    "C04": {
        "state": "under way", "started": "2027-01-07T08:15", "remaining": 4,
        "person": "rafe",
    },
    "X01": {"found": "asked"},
    "X04": {
        "state": "under way", "started": "2027-01-05T08:45", "remaining": 14,
        "person": "petra",
    },
}  # fmt: skip

CAR = Car(
    id="q118",
    done="A B C01 C02",
    last_done=date(2026, 12, 22),
    dropped="D01 D02 D03 D04 D05 D06 D07 D10 D11 E01 E02 E03 E04 E05 E14 E17 E18 E19 "
    "H01 H02 H03 H04 H08 I01 I02 I03 J05 L10 M03 M04",
    scales={"C": 0.7, "F01": 0.7, "K": 0.8, "L": 0.8, "E21": 0.6},
    links={
        "C05": "C03 C04 X01",
        "E06": "D14 X04",
        "D12": "C10 D08 D09",
        "E15": "H07",
        "H06": "X02",
        "I04": "X03 K01",
        "E21": "E20",
    },
    titles={
        "E21": "Seats, cards and headlining repaired",
        "H06": "Clutch, bellhousing; engine and gearbox mated",
        "M02": "Full detail and handed over",
    },
    extras=EXTRAS,
    facts=FACTS,
    pins={
        "A03": date(2026, 10, 30),
    },
)
