"""The morning sheet for a terminal: the same answer as the JSON, to be read."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Any

from scheduling.plan import Plan
from scheduling.solve import Answer

TOP = 5
WIDTH = 78


def morning_text(answer: Answer, plan: Plan) -> str:
    """Return the morning sheet as lines of text, ended by a newline."""
    found = answer.as_dict()
    titles = {job.id: job.title or job.id for job in plan.jobs}
    cars = {build.id: f"{build.id} {build.name}".strip() for build in plan.builds}
    people = {person.id: person.name or person.id for person in plan.people}
    parts = [
        _head(found),
        _shows(found, cars),
        _undated(found, cars),
        _blocking(found, titles),
        _moves(found, titles, cars),
        _ring(found, titles),
        _today(found, titles, people),
        _faults(found),
    ]
    return "\n".join(line for part in parts for line in part) + "\n"


def _rule(words: str) -> str:
    return f"\n{words}\n{'-' * len(words)}"


def _day(stamp: str | None) -> str:
    if not stamp:
        return "no date"
    moment = datetime.fromisoformat(stamp)
    return f"{moment:%a} {moment.day} {moment:%b %Y}"


def _time(stamp: str) -> str:
    return f"{_day(stamp)}, {stamp[-5:]}"


def _in_100(chance: float) -> str:
    return f"{chance * 100:.0f} in 100"


def _head(found: dict[str, Any]) -> Iterator[str]:
    yield f"Morning sheet, {_day(found['now'])}"
    plan = found["plan"]
    yield f"One plan for everybody: {plan['status']}."
    if not found["shows"] and not found["builds"]:
        yield f"All done in {found['duration_hours']:g} working hours."
        yield "Critical path: " + " → ".join(found["critical_path"])
    if found["other"]:
        points = found["other"]
        yield f"Even chance by {_time(points['p50'])}, P80 {_time(points['p80'])}."


def _shows(found: dict[str, Any], cars: dict[str, str]) -> Iterator[str]:
    for show in found["shows"].values():
        yield _rule(
            f"{show['name']}: move-in {_day(show['move_in'])}, "
            f"{show['days_to_go']:g} working days to go"
        )
        for build, entry in show["entries"].items():
            yield cars.get(build, build)
            for level, odds in entry["levels"].items():
                wanted = "  wanted" if level == entry["level"] else ""
                yield (
                    f"  {level:<14}{_in_100(odds['probability']):>11}"
                    f"   P80 {_day(odds['p80'])}{wanted}"
                )
            best = entry["best_level"]
            yield f"  At 80 in 100 you can promise: {best or 'none of these levels'}."
        if len(show["entries"]) > 1:
            yield f"All of them together: {_in_100(show['all_ready'])}."


def _undated(found: dict[str, Any], cars: dict[str, str]) -> Iterator[str]:
    dated = {build for show in found["shows"].values() for build in show["entries"]}
    rest = [
        (build, facts)
        for build, facts in found["builds"].items()
        if build not in dated and not facts["left_out"]
    ]
    if rest:
        yield _rule("No show")
    for build, facts in rest:
        level, points = list(facts["levels"].items())[-1]
        yield (
            f"{cars.get(build, build)}: {level} P50 {_day(points['p50'])}, P80 "
            + _day(points["p80"])
        )


def _blocking(found: dict[str, Any], titles: dict[str, str]) -> Iterator[str]:
    if found["blocking"]:
        yield _rule("What holds up most")
    for row in found["blocking"][:TOP]:
        jobs = "job" if row["holds"] == 1 else "jobs"
        yield f"{titles[row['job']]} holds up {row['holds']} {jobs}" + (
            f", {row['only_this']} of them alone." if row["only_this"] else "."
        )


def _moves(
    found: dict[str, Any], titles: dict[str, str], cars: dict[str, str]
) -> Iterator[str]:
    rows = [row for row in found["moves_show"] if row["gain_probability"] >= 0.005]
    if rows:
        yield _rule("What moves the date")
    for row in rows[:TOP]:
        show = found["shows"][row["show"]]["name"]
        car = cars.get(row["build"], row["build"])
        yield (
            f"{titles[row['job']]}: ended today, {car} "
            f"for {show} goes from {row['probability_now'] * 100:.0f} "
            f"to {row['probability_then'] * 100:.0f} in 100."
        )


def _ring(found: dict[str, Any], titles: dict[str, str]) -> Iterator[str]:
    if found["ring"]:
        yield _rule("Who to ring")
    for row in found["ring"]:
        yield f"{row['whom']}: {titles[row['job']]}. {row['why']}"


def _today(
    found: dict[str, Any], titles: dict[str, str], people: dict[str, str]
) -> Iterator[str]:
    if found["today"]:
        yield _rule("Today")
    for person, jobs in found["today"].items():
        words = "; ".join(titles[job] for job in jobs) or "nothing clear"
        yield f"{people[person]}: {words}"


def _faults(found: dict[str, Any]) -> Iterator[str]:
    if found["problems"]:
        yield _rule("To put right in the plan")
    for row in found["problems"]:
        yield f"{row['where']}: {row['what']}. {row['fix']}"
