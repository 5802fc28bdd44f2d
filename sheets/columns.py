"""What a column of a sheet can mean, and the headings people give it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple


class Column(NamedTuple):
    """A meaning: its name, the heading it is written with, other headings for it."""

    name: str
    heading: str
    others: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sort:
    """What the rows of a sheet stand for: one of jobs, people, vendors."""

    name: str
    heading: str
    needed: str  # the column without which a row says nothing
    columns: tuple[Column, ...]

    def heading_of(self, name: str) -> str:
        """Give the heading of one of its columns."""
        return next(one.heading for one in self.columns if one.name == name)


JOBS = Sort(
    "jobs",
    "Jobs",
    "title",
    (
        Column("id", "Id", ("no", "nr", "number", "job no", "job number", "ref")),
        Column("build", "Car", ("build", "vehicle", "project", "chassis")),
        Column("title", "Job", ("title", "task", "work", "description", "what")),
        Column("kind", "Kind", ("type", "sort", "kind of job")),
        Column("low", "Quicker", ("low", "shortest", "min", "best", "optimistic")),
        Column(
            "likely",
            "Likely",
            ("hours", "time", "length", "duration", "estimate", "est", "days"),
        ),
        Column("high", "Longer", ("high", "longest", "max", "worst", "pessimistic")),
        Column("fixed", "Exactly the likely time", ("fixed", "exact", "exactly")),
        Column(
            "after",
            "After",
            ("waits for", "depends on", "predecessors", "needs first", "before it"),
        ),
        Column("trade", "Trade", ("skill", "craft")),
        Column("trade_level", "At least", ("trade level", "skill level")),
        Column("people", "People together", ("people", "hands", "how many")),
        Column("person", "Who", ("person", "name", "assigned", "done by", "worker")),
        Column("places", "Places", ("place", "where", "bay", "location")),
        Column("level", "Needed to be", ("level", "readiness", "needed for")),
        Column("phase", "Phase", ("stage", "section")),
        Column("area", "Part of the car", ("area", "part", "system")),
        Column("vendor", "Vendor", ("supplier", "firm", "subcontractor", "sent to")),
        Column("slot", "Needs a slot", ("slot",)),
        Column("pieces", "Pieces", ("qty", "quantity", "number of pieces")),
        Column("process", "Process", ("treatment",)),
        Column("colour", "Colour", ("color", "shade")),
        Column("alloy", "Alloy or metal", ("alloy", "metal", "material")),
        Column("kilos", "Kilograms", ("kg", "weight", "weighs")),
        Column("visible", "Seen beside others", ("seen", "visible")),
        Column("value", "Worth", ("value",)),
        Column("commitment", "Cannot be undone", ("commitment", "no way back")),
        Column("unbroken", "Without a pause", ("unbroken",)),
        Column("safety", "Safety job", ("safety",)),
        Column("not_before", "Not before", ("earliest", "start after")),
        Column("needed_by", "Wanted by", ("due", "deadline", "needed by", "due date")),
        Column("rework_chance", "Not right, times in 100", ("rework",)),
        Column("found", "Found work", ("found", "extra", "customer said")),
        Column("snag", "Fault found in checking", ("snag", "fault")),
        Column("state", "How far", ("state", "status", "done", "progress")),
        Column("started", "Started", ("begun", "actual start")),
        Column("finished", "Finished", ("ended", "completed", "actual finish")),
        Column("remaining", "Left", ("remaining", "to go", "time left")),
        Column("sent", "Sent", ("ordered", "sent on", "out")),
        Column("promised", "Promised", ("promise", "due back", "eta")),
        Column("pieces_back", "Pieces back", ("back", "returned")),
        Column("pieces_noted", "Pieces on their note", ("delivery note",)),
        Column("holder", "Parts are with", ("holder", "kept by", "last seen")),
        Column("note", "Note", ("notes", "remark", "remarks", "comment", "comments")),
    ),
)
PEOPLE = Sort(
    "people",
    "People",
    "name",
    (
        Column("id", "Id", ("no", "number", "initials", "short name")),
        Column("name", "Name", ("person", "who", "employee", "full name")),
        Column("trades", "Trades", ("trade", "skills", "skill", "may do", "craft")),
        Column("calendar", "Hours", ("week", "working week", "calendar")),
        Column("away", "Away", ("holidays", "leave", "days away", "days off")),
        Column("left_out", "Left out", ("inactive", "gone")),
        Column("note", "Note", ("notes", "remark", "remarks", "comment", "comments")),
    ),
)
VENDORS = Sort(
    "vendors",
    "Vendors",
    "name",
    (
        Column("id", "Id", ("no", "number", "short name", "account")),
        Column("name", "Name", ("vendor", "firm", "company", "supplier")),
        Column("does", "Does", ("what they do", "trade", "work", "service")),
        Column("phone", "Telephone", ("phone", "tel", "mobile", "ring")),
        Column("calendar", "Hours", ("week", "working week", "calendar")),
        Column("minimum_charge", "Minimum charge", ("minimum", "min charge")),
        Column("slot_every", "A slot every so many days", ("slot every",)),
        Column("slot_from", "A day that is a slot", ("slot from", "first slot")),
        Column("reject_chance", "Not right, times in 100", ("rejects", "reject")),
        Column("closed", "Shut", ("closed", "closures", "days shut", "holidays")),
        Column("left_out", "Left out", ("inactive", "not used")),
        Column("note", "Note", ("notes", "remark", "remarks", "comment", "comments")),
    ),
)
SORTS = {sort.name: sort for sort in (JOBS, PEOPLE, VENDORS)}
