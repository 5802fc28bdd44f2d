"""The demo workshop as one plan file: Quillbeck Motor House, Monday 11 January 2027."""

from __future__ import annotations

from typing import Any

from builds.demo import q109, q114, q116, q118, q121
from builds.demo.car import jobs_of
from builds.demo.outside import with_more
from builds.demo.people import calendars, people, places
from builds.demo.vendors import vendor_calendars, vendors

WORKSHOP = "Quillbeck Motor House"
# Not part of a plan file. The number is one that Ofcom keeps for fiction.
REACHED_AT = {"phone": "01632 960900", "address": "Tannery Yard", "town": "Ostermere"}
NOW = "2027-01-11T08:00"
CARS = (q114, q109, q121, q116, q118)


def shows() -> list[dict[str, Any]]:
    """Return the two dated shows; a car must be on site by the move-in."""
    return [
        {
            "id": "fennimore",
            "name": "Fennimore Hall Motor Gathering",
            "move_in": "2027-06-11T16:00",
            "entries": [
                {"build": "q114", "level": "complete"},
                {"build": "q109", "level": "complete"},
            ],
        },
        {
            "id": "saltmere",
            "name": "Saltmere Harbour Coachwork Weekend",
            "move_in": "2027-07-02T16:00",
            "entries": [{"build": "q109", "level": "complete"}],
        },
    ]


def consignments() -> list[dict[str, Any]]:
    """Return the batches being made up: each shares one minimum charge."""
    return [
        {
            "id": "black-batch",
            "name": "Black batch",
            "vendor": "sallowfield",
            "jobs": ["q114-x04", "q121-x01"],
        },
        {
            "id": "zinc-tin",
            "name": "Tin for zinc",
            "vendor": "brindle",
            "jobs": ["q109-x04", "q121-x02"],
        },
    ]


def demo_plan() -> dict[str, Any]:
    """Return the whole workshop as a plan file, version 1."""
    return {
        "format": "workshop-plan",
        "version": 1,
        "now": NOW,
        "timezone": "Europe/London",
        "reading": "one-in-ten",
        "seed": 7,
        "samples": 10_000,
        "calendars": calendars() | vendor_calendars(),
        "people": people(),
        "places": places([car.CAR.id for car in CARS]),
        "vendors": vendors(),
        "levels": ["on the stand", "running", "road-ready", "complete"],
        "builds": [dict(car.BUILD) for car in CARS],
        "shows": shows(),
        "jobs": with_more(job for car in CARS for job in jobs_of(car.CAR)),
        "consignments": consignments(),
    }
