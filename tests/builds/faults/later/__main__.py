"""`python -m tests.builds.faults.later COMMAND`: a command of the version to come."""

from __future__ import annotations

import os
import sys

from django.conf import settings
from django.core.management import execute_from_command_line

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "builds.settings")
settings.INSTALLED_APPS.append("tests.builds.faults.later")
execute_from_command_line(["manage.py", *sys.argv[1:]])
