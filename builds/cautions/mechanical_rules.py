"""Cautions of lifting, fuel, brakes, electrics and running engines."""

from __future__ import annotations

from builds.cautions.caution import COMMON_PRACTICE, Caution
from builds.cautions.rule import ANY_WORK, OWN_HANDS, Rule

MECHANICAL_RULES = (
    Rule(
        Caution(
            "Jacking and lifting",
            "Never under a car held by a jack alone: the right stands and pins, level "
            "floor, wheels chocked, proper lifting points, a lift that has had its "
            "examination. Look at the balance again once engine or axles are out.",
            "UK HSE under-vehicle pages and INDG434; the balance is common practice",
            "hse.gov.uk/mvr/mechanical-repair/under-vehicles.htm",
        ),
        (
            r"suspension|brakes off|engine and gearbox (in|out)\b|onto the spit"
            r"|on its wheels \(rolling\)|hard lines|exhaust (on|route|touches)"
            r"|driveshafts in"
            r"|tank, pump|\bbled\b|ride height|second-person|re-torque|propshaft"
            r"|wheel bearing|handbrake travel|clutch bites|sump|\bmated\b"
            r"|dry build: whole",
        ),
    ),
    Rule(
        Caution(
            "Petrol",
            "The vapour is heavier than air and runs into pits. Use a fuel retriever, "
            "outdoors or in strong draught, no spark or flame, never over a pit, never "
            "into an open can; an extinguisher and a way to cut fuel and power "
            "to hand.",
            "UK HSE motor vehicle repair, fire and explosion",
            "hse.gov.uk/mvr/topics/fire.htm",
        ),
        (r"\bfuel\b|petrol|\bdrain\b|first start|heat cycles",),
    ),
    Rule(
        Caution(
            "Brakes, steering, first drive",
            "Nobody drives until a second competent person has looked over brakes, "
            "steering, wheels and belts. Prove brakes on rollers or at walking pace "
            "first; look up the rules on driving to a booked inspection where you are.",
            "GOV.UK MOT inspection manual, section 1; rules differ by country",
            "gov.uk, MOT inspection manual: brakes",
        ),
        (
            r"\bbrakes?\b|calipers|handbrake travel|steering|\bbelts\b|belt anchor"
            r"|bedded|road test|shakedown|wheel alignment|road-legality inspection"
            r"|pedal box|wheel bearing|throttle cable",
        ),
        OWN_HANDS | {"outside"},
    ),
    Rule(
        Caution(
            "Batteries and live wiring",
            "Charging gives off gas that explodes: air, no sparks, eye protection, "
            "rings and watch off, insulated tools. Earth lead off first and on last. "
            "Fuse the new loom and measure it before the battery goes on.",
            "UK HSE leaflet INDG139; the last line is common practice",
            "hse.gov.uk, INDG139",
        ),
        (
            r"batter|lamps, engine bay connected|current draw|cranked|first start"
            r"|\blamp dead|sender reads",
        ),
    ),
    Rule(
        Caution(
            "High voltage",
            "Isolated, locked off and proved dead by trained people only, before "
            "anyone else touches the car.",
            COMMON_PRACTICE,
        ),
        (r"high[- ]voltage|\bhv\b|hybrid|traction battery|electric drive",),
        ANY_WORK,
    ),
    Rule(
        Caution(
            "Airbags and pretensioners",
            "They are explosive. Battery off and wait the maker's time, never put a "
            "meter on one, carry it facing away, keep it in a proper cabinet, no heat "
            "or welding near. A licence may be needed.",
            "UK HSE page on storing and handling airbags and seat belt pretensioners",
            "hse.gov.uk/mvr/topics/storing-handling-airbags-seat-belt.htm",
        ),
        (r"airbag|pretension|pyrotechnic",),
    ),
    Rule(
        Caution(
            "Air-conditioning gas",
            "It must not be let out. Recovery and charging are for certified people "
            "with approved machines.",
            "US EPA motor vehicle air conditioning pages; rules differ by country",
            "epa.gov/mvac",
        ),
        (r"a/c (gas|vacuum)|refrigerant|air[- ]con\w* (gas|charg|recover)",),
        ANY_WORK,
    ),
    Rule(
        Caution(
            "Old brake, clutch and gasket dust",
            "Take it to be asbestos. No air line and no dry brush: wet or filtered "
            "vacuum, bag it and get rid of it as asbestos waste.",
            "US EPA 2007 brake and clutch guidance; OSHA SHIB 07-26-2006; gaskets and "
            "underseal are common practice",
            "osha.gov, SHIB 07-26-2006",
        ),
        (
            r"brakes off|gasket|reseal|clutch, (flywheel|adaptor|bellhousing)|underseal"
            r"|asbestos|\blinings?\b|brake (shoe|dust)|engine and gearbox out",
        ),
    ),
    Rule(
        Caution(
            "Springs under load",
            "A clamped coil holds enough to kill. A sound compressor of the right "
            "kind, caged, no impact gun, nobody in line; torsion bars and gas "
            "struts too.",
            "trade safety articles on spring compressors; torsion bars and struts are "
            "common practice",
        ),
        (r"spring|suspension|axles, suspension|torsion bar|gas strut|ride height set",),
    ),
    Rule(
        Caution(
            "Exhaust gas indoors",
            "Tail-pipe extraction whenever an engine runs inside. An open door is not "
            "enough, and a cold catalyst does next to nothing.",
            "UK HSE motor vehicle repair, exhaust emissions",
            "hse.gov.uk/mvr/mechanical-repair/exhaust.htm",
        ),
        (
            r"baseline run|first start|heat cycles|rolling road|mapping|\bengine run"
            r"|shakedown|throttle cable",
        ),
        OWN_HANDS | {"outside"},
    ),
    Rule(
        Caution(
            "Plated high-tensile bolts",
            "Plating can make hard bolts brittle, and they snap later without warning. "
            "Keep steering, suspension, brake and belt bolts out of the zinc unless "
            "the maker allows it, and marked for baking if it does.",
            "ASTM B850 and F1941 as described by platers; from memory in part",
        ),
        (
            r"high-tensile|\bzinc\b|10\.9|subframes|hubs, discs|suspension and axles"
            r"|\bbelts\b|belt anchor",
        ),
        OWN_HANDS | {"outside"},
    ),
    Rule(
        Caution(
            "Tyres and split rims",
            "Old tyres and wheels in several pieces can burst as they are blown up: "
            "cage, long hose, keep your distance.",
            "UK HSE motor vehicle repair, introduction",
            "hse.gov.uk/mvr",
        ),
        (r"\btyres?\b|split rim|inflat|on its wheels \(rolling\)",),
    ),
)
