"""What counts for a car and a show: work that goes on, shows to come, not changes."""

import scheduling
from tests.scheduling.test_places_by_night import WORKSHOP


def test_a_car_is_not_ready_while_what_another_began_with_goes_on() -> None:
    facts = WORKSHOP | {
        "vendors": [{"id": "trimmer"}],
        "builds": [{"id": "car"}],
        "jobs": [
            {"id": "seats", "build": "car", "kind": "outside", "vendor": "trimmer",
             "estimate": {"likely": 20, "fixed": True}},
            {"id": "frame", "build": "car", "trade": "weld",
             "estimate": {"likely": 2, "fixed": True},
             "after": [{"job": "seats", "link": "with"}]},
        ],
        "shows": [
            {"id": "show", "move_in": "2027-03-05T08:00", "entries": [{"build": "car"}]}
        ],
    }  # fmt: skip
    told = scheduling.answer(scheduling.read_plan(facts), samples=50).as_dict()
    level = told["shows"]["show"]["entries"]["car"]["levels"]["complete"]
    assert level["planned"] == told["jobs"]["seats"]["planned_finish"]
    assert level["probability"] == 0.0


def test_best_is_about_cars_not_about_what_changes() -> None:
    weld = {"id": "weld", "build": "car", "trade": "weld"}
    facts = WORKSHOP | {
        "builds": [{"id": "car"}],
        "jobs": [weld | {"estimate": {"likely": 2, "fixed": True}}],
    }
    told = {"jobs": {"weld": {"planned_start": "2027-03-03T08:00", "who": ["ana"]}}}
    plan = scheduling.read_plan(facts)
    shared = scheduling.answer(plan, samples=2, following=told).found.shared
    assert shared.cost[2] > 0
    assert shared.status == "proven best"


def test_a_show_that_is_over_asks_for_nothing() -> None:
    facts = WORKSHOP | {
        "levels": ["running", "complete"],
        "builds": [{"id": "car"}],
        "jobs": [
            {"id": "weld", "build": "car", "trade": "weld", "level": "running",
             "estimate": {"likely": 2, "fixed": True}},
        ],
        "shows": [
            {"id": one, "move_in": move_in,
             "entries": [{"build": "car", "level": "running"}]}
            for one, move_in in [("spring", "2027-02-05T08:00"),
                                 ("summer", "2027-06-05T08:00")]
        ],
    }  # fmt: skip
    told = scheduling.answer(scheduling.read_plan(facts), samples=20).as_dict()
    assert list(told["shows"]) == ["summer"]
    assert told["shows"]["summer"]["all_ready"] == 1.0
    assert told["plan"]["status"] == "proven best"
