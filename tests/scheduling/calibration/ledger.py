"""What the workshop has written down about every job, and the plan file it makes."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from tests.scheduling.calibration.hours import Diary

Row = dict[str, Any]

HANDS = ("bench", "check")
SENT = ("outside", "order")


@dataclass
class Progress:
    """How far one job has come. `left` and `ends` are the truth: not written down."""

    row: Row
    state: str = "open"
    started: float | None = None
    finished: float | None = None
    team: tuple[str, ...] = ()
    left: float = 0.0
    ends: float | None = None
    turn: int = 0
    sent: float | None = None
    promises: list[Row] = field(default_factory=list)

    @property
    def hands(self) -> bool:
        """Return whether people in house do it."""
        return self.row["kind"] in HANDS


class Ledger:
    """Every job's progress, and the returns of every vendor."""

    def __init__(self, document: Row, diary: Diary) -> None:
        self.document, self.diary = document, diary
        self.jobs = {row["id"]: Progress(row) for row in document["jobs"]}
        self.returns: dict[str, list[Row]] = {
            one["id"]: [] for one in document["vendors"]
        }

    def ready_at(self, job: str) -> float | None:
        """Return when nothing before a job is in its way; None if not known yet."""
        moment = 0.0
        for link in self.jobs[job].row["after"]:
            before = self.jobs[link if isinstance(link, str) else link["job"]]
            if before.finished is None:
                return None
            wait = 0 if isinstance(link, str) else link["wait_hours"]
            moment = max(moment, before.finished + 60.0 * wait)
        return moment

    def as_file(self, now: float) -> Row:
        """Return the plan file as it stands: no true length is in it."""
        vendors = [
            {
                **{key: value for key, value in one.items() if key != "true"},
                "history": one["history"] + self.returns[one["id"]],
            }
            for one in self.document["vendors"]
        ]
        jobs = [self._row(one) for one in self.jobs.values()]
        now_text = self.diary.text(now)
        return {**self.document, "now": now_text, "vendors": vendors, "jobs": jobs}

    def _row(self, one: Progress) -> Row:
        if one.started is None:
            return one.row
        row = {**one.row, "state": one.state, "started": self.diary.text(one.started)}
        if one.hands and one.team:
            row["person"] = one.team[0]
        if one.sent is not None:
            row["sent"] = self.diary.text(one.sent)[:10]
        if one.promises:
            row |= {"promised": one.promises[-1]["date"], "promises": one.promises}
        if one.finished is not None:
            row["finished"] = self.diary.text(one.finished)
        return row

    def reached(self, car: str, levels: list[str]) -> float | None:
        """Return when the last job of the given levels was finished; None if open."""
        moments = [
            one.finished
            for one in self.jobs.values()
            if one.row["build"] == car and one.row["level"] in levels
        ]
        if any(moment is None for moment in moments):
            return None
        return max(moment for moment in moments if moment is not None)
