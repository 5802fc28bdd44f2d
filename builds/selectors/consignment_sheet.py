"""The sheet that goes along: every piece, room for two names, and a label for each."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urljoin

from django.urls import reverse

from builds.charts.labels_qr import Square, square_code
from builds.models import Consignment, Workshop
from builds.selectors.consignment import Load, loads_of


@dataclass(frozen=True, slots=True)
class Label:
    """What is tied to a piece; nothing on it names a customer."""

    name: str
    count: int
    car: str
    job: str
    code: Square


@dataclass(frozen=True, slots=True)
class Sheet:
    """The printed sheet."""

    row: Consignment
    now: datetime
    loads: tuple[Load, ...]
    labels: tuple[Label, ...]

    @property
    def pieces(self) -> int:
        """Give how many pieces travel."""
        return sum(one.job.pieces or 0 for one in self.loads)


def consignment_sheet(consignment: Consignment, *, site: str) -> Sheet:
    """Give the sheet; `site` is the address that the codes lead to."""
    loads = loads_of(consignment)
    labels = tuple(label for load in loads for label in _labels(load, site))
    return Sheet(consignment, Workshop.current().clock(), loads, labels)


def _labels(load: Load, site: str) -> list[Label]:
    """Give a label for each line; a bare count has one that leads to goods-in."""
    lines = [
        (one.name, one.count, reverse("piece", args=[one.key])) for one in load.pieces
    ]
    if not lines and load.job.pieces:
        where = reverse("goods_in_job", args=[load.job.key])
        lines = [("All of it", load.job.pieces, where)]
    return [
        Label(
            name=name,
            count=count,
            car=load.to_go.car,
            job=str(load.job),
            code=square_code(urljoin(site, path)),
        )
        for name, count, path in lines
    ]
