"""When work can happen."""

from __future__ import annotations

from django.db import models

from builds.models.keyed import Keyed


class WorkCalendar(Keyed):
    """A working week and its exceptions, written as in the plan file.

    `week`: {"mon": ["08:00-12:15"]}; `closed`: ["2027-03-26/2027-03-29"];
    `open`: {"2027-05-22": ["08:00-13:00"]}. The first by position is the default.
    """

    week = models.JSONField(default=dict, blank=True)
    holidays = models.CharField(max_length=100, default="", blank=True)
    closed = models.JSONField(default=list, blank=True)
    open = models.JSONField(default=dict, blank=True)
    elapsed = models.BooleanField(default=False)
    version = models.PositiveIntegerField(default=1)
    implied = models.BooleanField(
        default=False, help_text="Not in the plan file: what a plan without any has."
    )
