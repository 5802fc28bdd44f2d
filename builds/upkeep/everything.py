"""All that is known here, in forms that other programs read."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from pathlib import Path

from django.conf import settings

from builds.models import Event, Update
from builds.planning.exchange import export_plan

HEADS = ("at", "who", "deed", "car", "job", "what", "words", "before", "after")
CALM = "'"  # before what a spreadsheet would take for a formula
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\0")


def export_everything() -> bytes:
    """Write the plan file, the record, what customers were told, and all media."""
    packed = io.BytesIO()
    root = Path(settings.MEDIA_ROOT)
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as pack:
        pack.writestr("plan.json", export_plan())
        pack.writestr("record.csv", _table(HEADS, _deeds()))
        pack.writestr("told.csv", _table(("day", "car", "words"), _told()))
        for path in sorted(root.rglob("*")):
            if path.is_file():
                pack.write(path, f"media/{path.relative_to(root).as_posix()}")
    return packed.getvalue()


def _deeds() -> list[tuple[object, ...]]:
    events = Event.objects.select_related("by", "build", "job").order_by("pk")
    return [
        (
            event.at.isoformat(),
            event.by.username if event.by else "",
            event.verb,
            event.build.key if event.build else "",
            event.job.key if event.job else "",
            event.subject,
            event.words,
            json.dumps(event.before, ensure_ascii=False),
            json.dumps(event.after, ensure_ascii=False),
        )
        for event in events
    ]


def _told() -> list[tuple[object, ...]]:
    notes = Update.objects.select_related("build").order_by("day", "pk")
    return [(note.day.isoformat(), note.build.key, note.words) for note in notes]


def _table(heads: tuple[str, ...], rows: list[tuple[object, ...]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(heads)
    writer.writerows([[_calm(str(cell)) for cell in row] for row in rows])
    return out.getvalue()


def _calm(words: str) -> str:
    """Write words so that no spreadsheet works them out (ASVS 5.0, 1.2.10)."""
    return CALM + words if words.startswith(FORMULA) else words
