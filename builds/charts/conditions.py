"""The conditions a job can be in, and the name of the sign for each."""

from __future__ import annotations

SIGNS = {
    "waiting": "waiting",
    "clear": "clear",
    "under way": "under-way",
    "away": "away",
    "back, to check": "back",
    "part back": "part-back",
    "done": "done",
    "left out": "left-out",
}
# Where one piece is; what is away has the sign of a job that is away.
PIECE_SIGNS = {
    "on the shelf": "shelf",
    "checked in": "checked-in",
    "rejected": "rejected",
    "missing": "missing",
}
# Neither stands in a picture of what is still to do.
OFF_THE_CHART = ("done", "left out")
