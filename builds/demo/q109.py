"""Q-109, the open car for Saltmere: painted, on its wheels, engine in."""

from __future__ import annotations

from datetime import date
from typing import Any

from builds.demo.car import Car, extra
from builds.demo.pieces import HOOD_Q109, gone_out

BUILD: dict[str, Any] = {
    "id": "q109",
    "name": "Q-109 Brisenza Orlo Spyder, 1961",
    "rank": 2,
    "customer": "Dr O. Iyanda",
    "wanted": "Complete for Saltmere, 3 July 2027; would like Fennimore Hall too",
    "note": "To original, show class. An open car: no headlining.",
}

HOOD = {"phase": "Body assembly, glass, trim", "level": "on the stand"}
EXTRAS = (
    extra(
        "X01", "Hood frame rebuilt and trial fitted", "check", "16 28 50", "C09",
        trade="panel", area="body", **HOOD,
    ),
    extra(
        "X02", "Windscreen frame trial fitted", "check", "3 5 12", "F07 K02",
        trade="fitting", area="body", **HOOD,
    ),
    extra(
        "X03", "Hood frame in, hood cut and fitted", "outside", "3 5 10", "E11 K07",
        vendor="twell", area="body", places="cabin:2", flags="commitment",
        note="Frame on and folding freely before any cloth is cut", **HOOD,
    ),
    extra(
        "X04", "Hood and windscreen fixings at the zinc plater", "outside", "5 8 15",
        "X05", vendor="brindle", area="brightwork", flags="commitment", **HOOD,
    ),
    extra(
        "X05", "Fixings degreased, counted and photographed for zinc", "bench",
        "2 3 6", "X02", trade="prep", area="brightwork", **HOOD,
    ),
)  # fmt: skip

FACTS: dict[str, dict[str, Any]] = {
    "E10": {
        "sent": "2026-12-16", "pieces": 22, "pieces_noted": 21,
        "holder": "Orrelstane Plating",
        "piece_list": gone_out(
            "q109-e10", "Orrelstane Plating", "2026-12-16", HOOD_Q109
        ),
        "note": "Our list says 22 pieces, their goods-in note says 21",
    },
    "E11": {"note": "Count against our list of 22, not their note"},
    "I04": {
        "state": "under way", "started": "2027-01-05T08:15", "remaining": 8,
        "person": "sunniva",
    },
    "K03": {
        "state": "under way", "started": "2027-01-07T08:15", "remaining": 12,
        "person": "tomos",
    },
    "X04": {"pieces": 24},
    "K07": {"unbroken": False, "note": "Set in rubber in its frame; nothing is bonded"},
}  # fmt: skip

CAR = Car(
    id="q109",
    done="A B C D E06 E07 E08 E09 E12 E13 E14 E15 E16 E17 E18 E19 E20 E21 E22 F G "
    "H01 H02 H03 H04 H05 H06 H07 H08 I01 I02 I03 J01 K01 K02 K04 X01 X02",
    last_done=date(2027, 1, 8),
    dropped="D10 E01 E02 E03 E04 E05 J05 K06 K08",
    scales={"L": 0.8},
    links={
        "E09": "D14 X01",
        "K03": "K02",
        "K07": "K05 X02 X04",
        "K09": "E17 K02 X02",
        "L04": "K10 K09 X03",
    },
    titles={
        "E10": "Hood frame at the chrome plater",
        "E11": "Hood frame checked in and offered up",
        "E21": "Seats, cards and dash rail made",
        "K05": "Dash and trimmed rail in",
        "K07": "Windscreen set in its frame and on the car",
        "L10": "Ignition and carburettors set on a rolling road",
    },
    extras=EXTRAS,
    facts=FACTS,
    pins={
        "A03": date(2025, 12, 12),
        "E17": date(2026, 10, 30),
        "E18": date(2026, 6, 30),
        "E19": date(2026, 8, 28),
        "E20": date(2026, 7, 17),
        "E21": date(2026, 12, 18),
        "H05": date(2026, 9, 25),
        "H08": date(2026, 10, 16),
        "I03": date(2026, 10, 30),
    },
)
