"""How the form of a job is laid out."""

from builds.forms.record import Section

SECTIONS = (
    Section(
        "What it is",
        (("title",), ("kind", "level"), ("area", "phase"), ("note",)),
    ),
    Section(
        "How long it takes",
        (("low", "likely", "high"), ("fixed",)),
        "Write 2h30, 90m, 1.5d or a bare number. A bare number means working hours for"
        " bench work and checks, the vendor’s working days for work outside and orders,"
        " days for a decision, and hours on the clock for standing. The likely"
        " length is enough; if you write a quicker one, write a longer one too.",
    ),
    Section(
        "Who does it",
        (("trade", "trade_level"), ("person", "people")),
    ),
    Section(
        "Outside the workshop",
        (("vendor", "pieces"), ("slot",)),
        "For work at a vendor and for parts on order.",
    ),
    Section(
        "What goes with what",
        (("process", "colour"), ("alloy", "kilos"), ("visible", "value")),
        "Parts of one batch share these, as far as the vendor asks for it.",
    ),
    Section(
        "When",
        (("not_before", "needed_by"),),
        "Write fri, 15 may, 15/5/27 or tomorrow; a time as in 15 may 13:00.",
    ),
    Section(
        "What else to know",
        (
            ("commitment",),
            ("unbroken",),
            ("safety",),
            ("snag",),
            ("found", "rework_chance"),
        ),
    ),
)
