"""What moved against the plan people follow: which job, from when to when, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.urls import reverse

from builds.charts import wording
from builds.models import Job, Person, Workshop
from builds.selectors.answers import Facts, moment
from builds.selectors.bench import AT_VENDOR
from builds.selectors.morning_lines import car_of, title_of


@dataclass(frozen=True, slots=True)
class MovedJob:
    """One job that is elsewhere in time, or with somebody else."""

    title: str
    url: str
    car: str
    was: datetime | None
    now: datetime | None
    was_who: str
    who: str
    why: str

    @property
    def by(self) -> str:
        """Say by how many days on the calendar it moved."""
        if self.was is None or self.now is None:
            return "new in the plan" if self.was is None else "no longer in the plan"
        days = (self.now.date() - self.was.date()).days
        if not days:
            return "same day" if self.now != self.was else "same time"
        words = wording.counted(abs(days), "day,days")
        return f"{words} {'later' if days > 0 else 'sooner'}"

    @property
    def later(self) -> bool:
        """Say whether it comes on a later day."""
        return "later" in self.by

    @property
    def hands(self) -> str:
        """Say whose it is, and whose it was if that changed."""
        if self.was_who and self.who != self.was_who:
            return f"{self.who or 'nobody'}, was {self.was_who}"
        return self.who or "nobody in house"


@dataclass(frozen=True, slots=True)
class MovedPage:
    """Everything that moved, the soonest first, and whose order stands."""

    jobs: tuple[MovedJob, ...]
    kept: bool


def moved_rows(answer: Facts) -> Sequence[Facts]:
    """Give what the engine says has moved; nothing where it says nothing of it."""
    rows: Sequence[Facts] = answer.get("plan", {}).get("moved") or ()
    return rows


def moved_page(answer: Facts) -> MovedPage:
    """Give what moved in the newest answer."""
    rows = moved_rows(answer)
    keys = [row["job"] for row in rows]
    jobs = {
        job.key: job
        for job in Job.objects.filter(key__in=keys).select_related("build", "vendor")
    }
    names = {one.key: str(one) for one in Person.objects.all()}
    found = [_job(row, jobs[row["job"]], names) for row in rows if row["job"] in jobs]
    found.sort(key=lambda one: (str(one.now or one.was or "9"), one.title))
    return MovedPage(tuple(found), Workshop.current().keep_order)


def _job(row: Facts, job: Job, names: Mapping[str, str]) -> MovedJob:
    if job.vendor:
        names = {**names, job.vendor.key: str(job.vendor)}
    return MovedJob(
        title=title_of(job),
        url=reverse("job", args=[job.key]),
        car=car_of(job),
        was=moment(row.get("was")),
        now=moment(row.get("now")),
        was_who=_names(row.get("was_who"), names),
        who=_names(row.get("who"), names) or _vendor(job),
        why=str(row.get("why") or ""),
    )


def _vendor(job: Job) -> str:
    """Give the firm that does it, where nobody in house does."""
    return str(job.vendor) if job.vendor and job.kind in AT_VENDOR else ""


def _names(keys: str | Sequence[str] | None, names: Mapping[str, str]) -> str:
    listed = [keys] if isinstance(keys, str) else list(keys or ())
    return " and ".join(names.get(key, key) for key in listed)
