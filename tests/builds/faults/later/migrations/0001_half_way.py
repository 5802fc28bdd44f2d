"""Change rows and a table, and wait half way until the test says what now."""

from __future__ import annotations

import os
import time
from pathlib import Path

from django.db import migrations


def spoil(apps, editor) -> None:
    apps.get_model("builds", "Build").objects.update(name="spoilt by the upgrade")


def wait(apps, editor) -> None:
    room = Path(os.environ["HOLD"])
    (room / "half way").touch()
    while not (room / "go on").exists():
        time.sleep(0.05)


class Migration(migrations.Migration):
    dependencies = (("builds", "0001_initial"),)
    operations = (
        migrations.RunSQL("create table later (id integer)"),
        migrations.RunPython(spoil),
        migrations.RunPython(wait),
    )
