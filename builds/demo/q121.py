"""Q-121, the saloon for its mechanical work only: it runs, with eleven snags."""

from __future__ import annotations

from datetime import date
from typing import Any

from builds.demo.car import Car, extra
from builds.demo.table import Row

BUILD: dict[str, Any] = {
    "id": "q121",
    "name": "Q-121 Lindqvarn 210 saloon, 1974",
    "rank": 3,
    "customer": "Mr F. Quist",
    "wanted": "A run on 24 April 2027",
    "note": "Mechanical only. Runs, untrimmed; brake lines in.",
}


def _snag(
    number: int, title: str, hours: str, area: str, trade: str = "mechanical",
    flags: str = "",
) -> Row:  # fmt: skip
    return extra(
        f"S{number:02d}", title, "bench", hours, "L02", trade=trade, area=area,
        flags=flags, phase="Commissioning", level="road-ready" if flags else "complete",
    )  # fmt: skip


SNAGS = (
    _snag(1, "Oil weep at the sump gasket", "3 5 9", "engine and gearbox"),
    _snag(2, "Clutch bites low on the pedal", "1 2 4", "underside"),
    _snag(3, "Temperature sender reads low", "1 2 5", "electrics", "electrical"),
    _snag(4, "Handbrake travel too long", "1 2 4", "underside", flags="safety"),
    _snag(5, "Propshaft centre bearing noisy", "3 4 8", "underside"),
    _snag(6, "Nearside front wheel bearing has play", "2 3 5", "underside",
          flags="safety"),
    _snag(7, "Steering column bush knocks", "2 4 8", "cabin", flags="safety"),
    _snag(8, "Fuel smell at the filler hose", "1 2 4", "underside", flags="safety"),
    _snag(9, "Reversing lamp dead", "1 1 3", "electrics", "electrical"),
    _snag(10, "Exhaust touches the tunnel on the overrun", "1 2 5", "underside"),
    _snag(11, "Throttle cable sticks when hot", "1 2 4", "engine and gearbox",
          flags="safety"),
)  # fmt: skip

TRIM = {"phase": "Body assembly, glass, trim", "area": "cabin"}
OTHERS = (
    extra(
        "X01", "Pedal pads, gear lever and handbrake grip at the anodiser, black",
        "outside", "5 10 20", "X03", vendor="sallowfield", flags="commitment", **TRIM,
    ),
    extra(
        "X02", "Carpet rails, brackets and trim clips at the zinc plater", "outside",
        "5 8 15", "X04", vendor="brindle", flags="commitment", **TRIM,
    ),
    extra(
        "X03", "Small alloy parts deburred, masked and counted", "bench", "2 3 5",
        "S04", trade="fitting", **TRIM,
    ),
    extra(
        "X04", "Rails and brackets degreased, counted and photographed for zinc",
        "bench", "2 3 6", "B09", trade="prep",
        note="High-tensile bolts stay out of this tin", **TRIM,
    ),
)  # fmt: skip

FACTS: dict[str, dict[str, Any]] = {
    **{snag.code: {"snag": True} for snag in SNAGS},
    "L03": {
        "state": "under way", "started": "2027-01-07T08:15", "remaining": 4,
        "person": "jory",
    },
    "X01": {"pieces": 6},
    "X02": {"pieces": 31},
    "M02": {"needed_by": "2027-04-23"},
}  # fmt: skip

CAR = Car(
    id="q121",
    done="A B G01 G02 G03 G04 H01 H02 H03 H05 H06 H07 H09 I06 J01 J02 J03 K12 L01 L02",
    last_done=date(2027, 1, 6),
    dropped="B01 B02 B03 B06 B08 C01 C02 C03 C04 C05 C06 C07 C08 C09 C10 "
    "D01 D02 D03 D04 D05 D06 D07 D08 D09 D10 D11 D12 D13 D14 "
    "E01 E02 E03 E04 E05 E06 E07 E08 E09 E10 E11 E12 E13 E14 E15 E16 E17 E18 E19 "
    "E20 E21 E22 F01 F02 F03 F04 F05 F06 F07 H04 H08 I01 I02 I03 I04 I05 J05 "
    "K01 K02 K03 K04 K05 K06 K07 K08 K09 L12 M01 M03 M04",
    scales={"A": 0.5, "B": 0.6, "H02": 0.6, "K": 0.6, "L11": 0.7, "M02": 0.5},
    links={
        "K10": "S05 S07 S10 X02 J04",
        "K11": "K10 X01",
        "L06": "J04 L02 S04 S06",
        "L07": "L03 L05 L06 S04 S06 S07 S08 S11",
        "M02": "L11 K11 S01 S02 S03 S09",
    },
    titles={
        "K10": "Old carpets, seats and belts back in",
        "K11": "Old door cards, console and small trim back in",
        "M02": "Cleaned and handed over for the run",
    },
    extras=(*SNAGS, *OTHERS),
    facts=FACTS,
    pins={
        "A03": date(2026, 9, 18),
        "H05": date(2026, 10, 30),
    },
)
