"""Everything that runs without hands: parts away, orders, choices, cure and dry."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.scheduling.calibration.hours import DAY, Opening
from tests.scheduling.calibration.ledger import SENT, Ledger, Progress
from tests.scheduling.calibration.truth import Truth

Row = dict[str, Any]

MINUTES = {"stand": 60.0, "decision": float(DAY)}


class Outside:
    """Sends jobs on their way when they are clear, and takes them back."""

    def __init__(
        self,
        ledger: Ledger,
        truth: Truth,
        shop: Opening,
        vendors: dict[str, Opening],
        first: date,
    ) -> None:
        self._ledger, self._truth, self._shop = ledger, truth, shop
        self._vendors = vendors
        rows = ledger.document["vendors"]
        self._rows = {one["id"]: one for one in rows}
        self._slots = {
            one["id"]: _slot_days(one["slots"], vendors[one["id"]], first)
            for one in rows
            if "slots" in one
        }
        self._taken: set[tuple[str, int]] = set()
        self._tins = {
            job: one["jobs"]
            for one in ledger.document["consignments"]
            for job in one["jobs"]
        }

    def settle(self, now: float, order: list[str]) -> bool:
        """Take back what is back and send what is clear; say if anything changed."""
        jobs = self._ledger.jobs
        back = [
            one
            for one in jobs.values()
            if one.state == "under way" and one.ends is not None and one.ends <= now
        ]
        for one in back:
            self._back(one)
        sent = [job for job in order if self._send(job, now)]
        return bool(back or sent)

    def _send(self, job: str, now: float) -> bool:
        one = self._ledger.jobs[job]
        if one.hands or one.state != "open":
            return False
        tin = self._tins.get(job, [job])
        ready = [self._ledger.ready_at(other) for other in tin]
        if any(moment is None or moment > now for moment in ready):
            return False
        if one.row["kind"] == "outside" and not self._slot_free(one, now):
            return False
        for other in tin:
            self._leave(self._ledger.jobs[other], now)
        ends = max(self._ledger.jobs[other].ends or now for other in tin)
        for other in tin:
            self._ledger.jobs[other].ends = ends
        return True

    def _slot_free(self, one: Progress, now: float) -> bool:
        vendor = one.row["vendor"]
        if vendor not in self._slots:
            return True
        day = int(now // DAY)
        open_now = self._vendors[vendor].open_until(now) is not None
        if not open_now or day not in self._slots[vendor]:
            return False
        if (vendor, day) in self._taken:
            return False
        self._taken.add((vendor, day))
        return True

    def _leave(self, one: Progress, now: float) -> None:
        kind = one.row["kind"]
        this = self._truth.rounds[one.row["id"]][one.turn]
        one.state = "under way"
        one.started = now
        if kind not in SENT:
            one.ends = now + this.length * MINUTES[kind]
            return
        one.sent = now
        clock = self._vendors.get(one.row.get("vendor", ""), self._shop)
        one.ends = clock.after_days(now, this.length)
        if this.quoted is not None:
            due = clock.day_after(now, this.quoted)
            diary = self._ledger.diary
            promise = {"date": diary.day(due * DAY), "given": diary.day(now)}
            one.promises.append(promise)

    def _back(self, one: Progress) -> None:
        moment, job = one.ends, one.row["id"]
        assert moment is not None  # it is away
        rounds = self._truth.rounds[job]
        this = rounds[one.turn]
        if this.quoted is not None:
            past = {"quoted_days": this.quoted, "actual_days": round(this.length, 3)}
            self._ledger.returns[one.row["vendor"]].append(past)
        one.turn += 1
        if one.row["kind"] in SENT and one.turn < len(rounds):
            self._leave(one, moment)  # refused: it goes back the same day
            return
        one.state, one.finished, one.ends = "done", moment, None


def _slot_days(rule: Row, opening: Opening, first: date) -> set[int]:
    begin = (date.fromisoformat(rule["from"]) - first).days
    days = [number for number, _ in opening.days if number >= begin]
    return set(days[:: rule["every_working_days"]])
