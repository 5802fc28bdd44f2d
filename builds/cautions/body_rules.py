"""Cautions of metal, paint and finishes."""

from __future__ import annotations

from builds.cautions.caution import COMMON_PRACTICE, Caution
from builds.cautions.rule import ANY_WORK, OWN_HANDS, Rule

WELDING = (
    r"\bweld|\btack(ed|ing)?\b|structural repair|inner arches|repair sections"
    r"|skins repaired|\bbraced\b"
)
SHELL = OWN_HANDS | {"outside"}

BODY_RULES = (
    Rule(
        Caution(
            "Welding",
            "Weld fume, mild steel too, is treated as cancer-causing: extract at the "
            "source even for a short job, and add a mask where that is not enough. Go "
            "back and look for smouldering after you stop.",
            "UK HSE Safety Bulletin STSU1-2019; the look-back is common practice",
            "hse.gov.uk, welding fume",
        ),
        (WELDING,),
    ),
    Rule(
        Caution(
            "Fuel tanks and drums",
            "No welding, cutting or grinding on or near a tank or drum that has held "
            "fuel: what stays in a seam can explode. Replace it, or send it to a "
            "specialist who cleans and gas-frees it.",
            "UK HSE leaflet INDG314",
            "hse.gov.uk/mvr/topics/fire.htm",
        ),
        (r"\btank\b|\bdrum\b",),
    ),
    Rule(
        Caution(
            "Galvanised or zinc-plated steel",
            "Zinc fume brings on metal fume fever. Take the coating off well back from "
            "the weld, weld before plating where you can, and extract.",
            "metal finishers' and occupational health pages on welding zinc coatings",
        ),
        (WELDING, r"galvani|zinc"),
    ),
    Rule(
        Caution(
            "Welding aluminium",
            "Very bright arc, ozone, and metal that is hot without showing it. Never "
            "weld parts cleaned with a chlorinated solvent: it can make poisonous gas.",
            COMMON_PRACTICE,
        ),
        (WELDING, r"alumin|\balloy\b"),
    ),
    Rule(
        Caution(
            "Two-pack paint",
            "Isocyanate paint and lacquer can cause asthma for life, also in people "
            "who only walk in. Air-fed mask, proper booth, nobody in until the "
            "measured clearance time is over; health checks for those who spray.",
            "UK HSE motor vehicle repair pages (bodyshop myths 4 and 5)",
            "hse.gov.uk/mvr/bodyshop/myths/myth4.htm",
        ),
        (
            r"epoxy|high-build|colour and clear|lacquer|\bspraying\b|\b2k\b|two-pack"
            r"|isocyanate",
        ),
        ANY_WORK,
    ),
    Rule(
        Caution(
            "Chemical strip and plating",
            "Acids, caustics and chromium salts: work for licensed firms outside. "
            "Parts can come home with liquid in their seams: rinse, dry, gloves and "
            "eye protection when you unpack.",
            "US OSHA FS-3648; UK HSE sheet on hexavalent chromium",
            "osha.gov, hexavalent chromium",
        ),
        (
            r"strip or blast|chemical strip|at the (\w+ )?(anodiser|plater)|pickl"
            r"|(chrome|zinc|anodised parts|hood frame) checked in|\bacid\b",
        ),
        SHELL,
    ),
    Rule(
        Caution(
            "Old paint and body lead",
            "Old reds, oranges and yellows can be rich in lead, and so are leaded "
            "seams. No dry sanding without extraction; wash before eating, and leave "
            "the dusty clothes at work.",
            "Australian government page on lead in automotive paints",
            "dcceew.gov.au, lead in auto paint",
        ),
        (
            r"bare-shell survey|repair sections|skins repaired|fine panel work"
            r"|old paint|body lead|leaded|strip or blast",
        ),
        SHELL,
    ),
    Rule(
        Caution(
            "Dust, solvents, vibration",
            "Extract or wet the dust, air the room, gloves against solvents, ear and "
            "eye protection; count the minutes on a vibrating tool and share them out.",
            COMMON_PRACTICE,
        ),
        (
            r"\bfiller\b(?! hose)|\(weld\)|machine polish|degreas|blasted"
            r"|cavity wax|\bwaxed\b"
            r"|repair sections|skins repaired|structural repair",
        ),
    ),
)
