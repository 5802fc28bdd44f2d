"""Cautions to show beside a job; plain Python, no database."""

from builds.cautions.caution import PLAN_CAUTIONS, STANDING_NOTE, Caution
from builds.cautions.matching import cautions_for

__all__ = ["PLAN_CAUTIONS", "STANDING_NOTE", "Caution", "cautions_for"]
