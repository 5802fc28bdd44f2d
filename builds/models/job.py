"""One piece of work."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from builds.models.keyed import Keyed
from builds.models.wall_clock import WallClockField


class Kind(models.TextChoices):
    """What sort of work a job is."""

    BENCH = "bench", "Bench"
    OUTSIDE = "outside", "Outside"
    ORDER = "order", "Order"
    DECISION = "decision", "Decision"
    STAND = "stand", "Stand"
    CHECK = "check", "Check"
    MARK = "mark", "Mark"


class State(models.TextChoices):
    """How far a job has got, as people say it; its condition is worked out."""

    OPEN = "open", "Open"
    UNDER_WAY = "under way", "Under way"
    DONE = "done", "Done"
    LEFT_OUT = "left out", "Left out"


class Found(models.TextChoices):
    """What the customer said to work nobody quoted."""

    ASKED = "asked", "Asked"
    YES = "yes", "Yes"
    NO = "no", "No"


class Job(Keyed):
    """A job with its estimate (in the unit of its kind) and how far it has got."""

    build = models.ForeignKey(
        "builds.Build",
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="jobs",
    )
    title = models.TextField(blank=True)
    kind = models.CharField(max_length=20, choices=Kind, default=Kind.BENCH)
    low = models.FloatField(null=True, blank=True)
    likely = models.FloatField(null=True, blank=True)
    high = models.FloatField(null=True, blank=True)
    fixed = models.BooleanField(default=False)
    # In the plan file no trade, no level and an empty name are different.
    trade = models.TextField(null=True, blank=True)  # noqa: DJ001
    trade_level = models.PositiveSmallIntegerField(null=True, blank=True)
    people = models.PositiveIntegerField(default=1)
    person = models.ForeignKey(
        "builds.Person",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="jobs",
    )
    level = models.TextField(null=True, blank=True)  # noqa: DJ001
    phase = models.TextField(blank=True)
    area = models.TextField(blank=True)
    vendor = models.ForeignKey(
        "builds.Vendor",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="jobs",
    )
    slot = models.BooleanField(default=True)
    commitment = models.BooleanField(default=False)
    unbroken = models.BooleanField(default=False)
    safety = models.BooleanField(default=False)
    state = models.CharField(max_length=20, choices=State, default=State.OPEN)
    started = WallClockField(null=True, blank=True)
    finished = WallClockField(null=True, blank=True)
    remaining = models.FloatField(null=True, blank=True)
    not_before = WallClockField(null=True, blank=True)
    needed_by = models.DateField(null=True, blank=True)
    sent = models.DateField(null=True, blank=True)
    promised = models.DateField(null=True, blank=True)
    pieces = models.PositiveIntegerField(null=True, blank=True)
    pieces_back = models.PositiveIntegerField(default=0)
    pieces_noted = models.PositiveIntegerField(null=True, blank=True)
    holder = models.TextField(blank=True)
    rework_chance = models.FloatField(default=0.0)
    found = models.CharField(max_length=10, choices=Found, default="", blank=True)
    snag = models.BooleanField(default=False)
    note = models.TextField(blank=True)
    process = models.TextField(blank=True)
    colour = models.TextField(blank=True)
    alloy = models.TextField(blank=True)
    kilos = models.FloatField(null=True, blank=True)
    visible = models.BooleanField(default=False)
    could_start = models.DateField(null=True, blank=True)
    acknowledged = models.DateField(null=True, blank=True)
    back_order = models.BooleanField(default=False)
    pieces_wrong = models.PositiveIntegerField(default=0)
    robbed_for = models.ForeignKey(
        "builds.Build",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="owed",
    )
    value = models.FloatField(null=True, blank=True)
    way = models.CharField(max_length=100, null=True, blank=True)  # noqa: DJ001
    version = models.PositiveIntegerField(default=1)
    places = models.ManyToManyField(
        "builds.Place", through="builds.PlaceUse", related_name="jobs"
    )

    class Meta(Keyed.Meta):
        constraints = (
            models.CheckConstraint(
                condition=Q(likely__isnull=False)
                | Q(low__isnull=True, high__isnull=True, fixed=False),
                name="an_estimate_has_a_likely_figure",
                violation_error_message="An estimate needs its likely figure.",
            ),
            models.CheckConstraint(
                condition=Q(low__isnull=True) | Q(fixed=True) | Q(low__lte=F("likely")),
                name="low_is_not_above_likely",
                violation_error_message="The low is above the likely figure.",
            ),
            models.CheckConstraint(
                condition=Q(high__isnull=True)
                | Q(fixed=True)
                | Q(high__gte=F("likely")),
                name="high_is_not_below_likely",
                violation_error_message="The high is below the likely figure.",
            ),
            models.CheckConstraint(
                condition=Q(trade_level__isnull=True) | Q(trade_level__range=(1, 3)),
                name="job_trade_level_is_one_to_three",
                violation_error_message="A trade level is 1, 2 or 3.",
            ),
            models.CheckConstraint(
                condition=Q(people__gte=1),
                name="a_job_takes_someone",
                violation_error_message="A job takes one person at least.",
            ),
            models.CheckConstraint(
                condition=Q(rework_chance__range=(0, 1)),
                name="rework_chance_is_a_chance",
                violation_error_message="A chance lies between 0 and 1.",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=Kind.values), name="kind_is_known"
            ),
            models.CheckConstraint(
                condition=Q(state__in=State.values), name="state_is_known"
            ),
            models.CheckConstraint(
                condition=Q(found__in=["", *Found.values]), name="found_is_known"
            ),
        )
